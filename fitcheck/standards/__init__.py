"""What the world has agreed on: threads and how they meet, seats, flares, tube, hose, fluid, torque.

Tables are YAML data with source, edition and unit; formulas are small functions. Knows nothing of builds.
"""
