"""What the user of a build measures in, and figures written so: where pressure and stroke look for it."""

from fitcheck.build.units import units_of
from fitcheck.measures import Units, force_text, length_text, pressure_text

__all__ = ["Units", "force_text", "length_text", "pressure_text", "units_of"]
