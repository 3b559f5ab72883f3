"""The one base class of everything that `fitcheck` raises on purpose."""


class FitcheckError(Exception):
    """Input that cannot be used. Findings about usable input are returned, never raised."""
