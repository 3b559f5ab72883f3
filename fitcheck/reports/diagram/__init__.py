"""The circuit diagram: gathered from the graph, laid out in layers from pedal to wheels, drawn as SVG."""
