"""Variants and swaps: what they change, where errors are told, and that the document stays as it was."""

from pathlib import Path

import pytest

from fitcheck.build.load import Build, load_document
from fitcheck.sources import InputError, parse

CAR = """\
build: 1
components:
  near: {part: union-3-16-inverted}
  far: {part: union-3-16-inverted}
  stop: {part: plug-3-8-24-inverted}
joints:
  - [stop.end, near.a]
  - {ports: [far.b, spare.end], washers: 1}
lines:
  run: {from: near.b, to: far.a, tube: tube-3-16-cuni, route: [[0, 0, 0], [1, 2, 3]]}
hoses:
  old: {part: feed-hose-8mm}
variants:
  what_if:
    VARIANT
"""


def varied(change: str) -> Build:
    """Return the car with a variant of these keys applied."""
    text = CAR.replace("VARIANT", change.replace("\n", "\n    "))
    return load_document(parse(text, "car.yaml"), Path(), "what_if")


def refused(change: str) -> str:
    """Return what is said when a variant cannot be applied."""
    with pytest.raises(InputError) as caught:
        varied(change)
    return str(caught.value)


def test_swap_fits_another_part_at_the_same_place() -> None:
    """A swapped component keeps everything but its part; a line is swapped by its tube."""
    build = varied("swap: {far: tee-3-16-inverted, run: tube-3-16-steel}")
    assert build.file.components["far"].part == "tee-3-16-inverted"
    assert build.file.lines["run"].tube == "tube-3-16-steel"
    assert build.file.components["near"].part == "union-3-16-inverted"


def test_set_reaches_into_sections_lists_and_what_is_not_there_yet() -> None:
    """`set` changes a value, an entry of a list, and makes the mappings that its path needs below an entry."""
    build = varied("set:\n  lines.run.ends.from.flare: bubble\n  joints.1.washers: 2\n  lines.run.route.1: [9, 9, 9]")
    line = build.file.lines["run"]
    assert line.ends is not None
    assert line.ends.from_ is not None
    assert line.ends.from_.flare == "bubble"
    assert line.route is not None
    assert line.route[1] == (9.0, 9.0, 9.0)
    assert build.file.joints[1].washers == 2  # type: ignore[union-attr]


def test_values_of_a_variant_have_their_own_place() -> None:
    """What a variant sets stands where the variant says it, so an error in it names that line."""
    assert refused("set: {lines.run.length: 12}") == (
        "car.yaml:15:29: a bare number where a length is needed: write '25 mm' or '1 in'"
    )


def test_add_puts_entries_on_top() -> None:
    """`add` adds to mappings and lists, and makes sections that are not there."""
    build = varied(
        "add:\n  components: {other: {part: plug-1-8-npt}}\n  joints: [[a.b, c.d]]\n  heat: {pipe: {path: [[0, 0, 0]]}}"
    )
    assert list(build.file.components) == ["near", "far", "stop", "other"]
    assert build.file.joints[-1] == ["a.b", "c.d"]
    assert list(build.file.heat) == ["pipe"]


def test_drop_takes_the_joints_of_a_component_along() -> None:
    """A dropped component takes the joints that name it with it; a dropped hose is gone."""
    build = varied("drop: [components.stop, hoses.old]")
    assert "stop" not in build.file.components
    assert len(build.file.joints) == 1
    assert build.file.hoses == {}


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ("swap: {fur: x}", "car.yaml:15:17: nothing here has the tag 'fur'; nearest is 'far'"),
        ("set: {lines.rum.tube: x}", "car.yaml:15:27: 'lines.rum' is not in this build; nearest is 'run'"),
        ("set: {tube: x}", "car.yaml:15:17: expected a dotted path such as lines.feed.tube, got 'tube'"),
        ("drop: [hoses.new]", "car.yaml:15:12: 'hoses.new' is not in this build"),
        ("set: {joints.7.washers: 1}", "car.yaml:15:29: 'joints.7' is not in this build; that list has entries 0 to 1"),
        ("add: {components: {far: {part: x}}}", "car.yaml:15:29: components has 'far' already; use `set`"),
        ("add: {joints: {a: b}}", "car.yaml:15:19: cannot be added to joints"),
        ("remove: [a]", "car.yaml:15:5: unknown key 'remove' in a variant; known: note, swap, set, add, drop"),
    ],
)
def test_what_a_variant_cannot_do_is_told_with_its_place(change: str, told: str) -> None:
    """Each wrong entry of a variant is refused at its own line and column."""
    assert refused(change) == told


def test_the_document_is_never_changed() -> None:
    """Applying a variant leaves the tree that was read as it was."""
    document = parse(CAR.replace("VARIANT", "swap: {far: tee-3-16-inverted}"), "car.yaml")
    before = load_document(document, Path()).file
    load_document(document, Path(), "what_if")
    load_document(document, Path(), None, {"far": "tee-3-16-inverted"})
    assert load_document(document, Path()).file == before
