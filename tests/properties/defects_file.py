"""Slips in the file itself."""

from typing import Any

from tests.properties.edited import Made, made
from tests.properties.editing import Edit, refs_of
from tests.properties.generic_parts import ROWS


def _slip(edit: Edit, word: str) -> str:
    """Return a word with a slip of the pen in it."""
    at = edit.pick(range(1, len(word)))
    return edit.pick([word[:at] + word[at + 1 :], word[:at] + "x" + word[at:], word + "-new", "nonesuch"])


def part_id_with_a_slip(edit: Edit) -> Made | None:
    """The id of a component, a hose or a tube that no catalog has."""
    section = edit.pick(["components", "lines", "hoses"])
    tag = edit.pick(list(edit.plan[section]))
    key = "tube" if section == "lines" else "part"
    entry = edit.plan[section][tag]
    entry[key] = _slip(edit, entry[key])
    return None if entry[key] in ROWS else made("part-unknown", tag)


def part_of_the_wrong_kind(edit: Edit) -> Made:
    """A part that exists and cannot stand there."""
    section = edit.pick(["components", "lines", "hoses"])
    tag = edit.pick(list(edit.plan[section]))
    wrong = {"components": "nut-3-8-24-inverted", "lines": "feed-hose-8mm", "hoses": "tube-3-16-cuni"}[section]
    edit.plan[section][tag]["tube" if section == "lines" else "part"] = wrong
    return made("part-unknown", tag)


def unknown_nut(edit: Edit) -> Made:
    """A stated nut or sleeve that no catalog has, or that is none."""
    tag, name = edit.pick(edit.lines()), edit.pick(["from", "to"])
    stated = edit.plan["lines"][tag].setdefault("ends", {}).setdefault(name, {})
    stated[edit.pick(["nut", "sleeve"])] = edit.pick(["nut-of-no-kind", "union-3-16-inverted"])
    return made("part-unknown", f"{tag}.{name}")


def reference_with_a_slip(edit: Edit) -> Made:
    """A line, hose or joint that names a port or a tag which is not there."""
    section = edit.pick(["lines", "hoses", "joints"])
    if section == "joints" and edit.plan.get("joints"):
        joint = edit.pick(edit.plan["joints"])
        holder = joint if isinstance(joint, list) else joint.get("ports", joint.get("eyes"))
        key = edit.pick(range(len(holder)))
    else:
        section = "lines" if section == "joints" else section
        holder = edit.plan[section][edit.pick(list(edit.plan[section]))]
        key = edit.pick([name for name in ("from", "to") if name in holder] or [""])
        if key == "":
            return reference_of_a_line(edit)
    return _spoil(edit, holder, key)


def reference_of_a_line(edit: Edit) -> Made:
    """A line that names a port or a tag which is not there."""
    return _spoil(edit, edit.plan["lines"][edit.pick(edit.lines())], edit.pick(["from", "to"]))


def _spoil(edit: Edit, holder: Any, key: Any) -> Made:
    tag, _, name = holder[key].partition(".")
    bad = edit.pick([f"{tag}.{name}x", f"{tag}.zzz", f"{tag}x.{name}", f"qqqqqqqqq.{name}"])
    known = {ref for joint in edit.plan["joints"] for ref in refs_of(joint)}
    bad = bad if bad not in known and bad.partition(".")[0] not in _tags(edit) - {tag} else f"qqqqqqqqq.{name}"
    holder[key] = bad
    return made("port-unknown", bad)


def _tags(edit: Edit) -> set[str]:
    return {tag for section in ("components", "lines", "hoses") for tag in edit.plan[section]}


def circuit_names_no_port(edit: Edit) -> Made | None:
    """A circuit that feeds a port which is not there."""
    if "circuits" not in edit.plan:
        return None
    circuit = edit.plan["circuits"][edit.pick(list(edit.plan["circuits"]))]
    bad = edit.pick(["caliper_99.inlet", "qqqq.zzz", "caliper_1.inlett"])
    circuit["feeds"] = [*circuit["feeds"], bad]
    return made("port-unknown", bad)


def acceptance_left_over(edit: Edit) -> Made:
    """An acceptance of something that is in order, or of a rule that is none."""
    rule = edit.pick(["dead-end", "seat-mismatch", "circuit-not-fed", "reservoir-missing", "seat-mismtach", "x"])
    at = edit.pick([*edit.plan["components"], *edit.plan["lines"], "mc_9", "front"])
    edit.plan["accept"] = [*edit.plan.get("accept", []), {"rule": rule, "at": at, "why": "looked at it"}]
    return made("acceptance-stale", at)
