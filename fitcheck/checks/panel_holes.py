"""What is in each panel hole, as rules ask for it."""

from fitcheck.build.panel_holes import THERE_MM, Hole
from fitcheck.build.panel_holes import holes as holes_of
from fitcheck.checks.context import Context

__all__ = ["THERE_MM", "Hole", "holes"]


def holes(context: Context) -> list[Hole]:
    """Return every panel hole of the build with what is in it; see `fitcheck.build.panel_holes`."""
    return holes_of(context.graph)
