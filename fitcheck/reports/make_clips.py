"""The clips of a line in words."""

from fitcheck.making.sheet import SheetClip, SheetClips
from fitcheck.measures import tape


def clips_text(clips: SheetClips | None, unit: str) -> str | None:
    """Return how many clips a line has and where, from end A; None if nothing is said of them."""
    if clips is None:
        return None
    if not clips.clips:
        return "Clips: none, its fittings hold it."
    source = "consumables.clips.spacing" if clips.stated else "common practice, no source"
    why = f"one for each {tape(clips.spacing_mm, unit)}: {source}"
    *most, last = (_place(clip, unit) for clip in clips.clips)
    places = f"{', '.join(most)} and {last}" if most else last
    unsure = any(not clip.straight for clip in clips.clips)
    star = " * Move it to the nearest straight, clear of bends, nut and panels." if unsure else ""
    return f"Clips: {len(clips.clips)}, at {places} from end A ({why}).{star}"


def _place(clip: SheetClip, unit: str) -> str:
    held = f" ({clip.tag})" if clip.tag is not None else ""
    return f"{tape(clip.mm, unit)}{held}{'' if clip.straight else '*'}"
