"""Hydraulics: from the foot to the tyre, as values without words.

`record` has the records; the rest of the package fills them. Quasi-static: pressure is the same everywhere in a
circuit but behind a metering valve, and nothing gets hot. What no field and no standard gives is an assumption, and
stands in the answer as one, with the range over which it may lie.
"""
