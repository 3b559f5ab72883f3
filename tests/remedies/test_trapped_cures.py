"""Lines that can be put together in no order: one end is formed in the car, or the hole drilled out."""

from pathlib import Path

from tests.remedies.placed import cost, healed, placed, proposed

LINE = "route: [{at: [100, 0, 0], through: wall}, [400, 0, 0]], ends: {from: {formed: true}, to: {formed: true}}"
WALL = "panels: {wall: {hole: 9 mm, thickness: 1.2 mm}}\naccept: [{rule: panel-unguarded, at: wall, why: example}]\n"


def test_one_end_is_formed_later_or_the_hole_drilled_out(tmp_path: Path) -> None:
    """Either end may be left until the tube has passed; or the hole lets a nut of 12.8 mm through."""
    assert proposed(placed(LINE, WALL), "fixing-trapped", tmp_path) == [
        "form run.from when the tube is in its place",
        "form run.to when the tube is in its place",
        "drill wall out to 13 mm",
    ]


def test_the_end_to_form_is_no_longer_stated_as_formed(tmp_path: Path) -> None:
    """The file says no more that the end is formed; 3 mm of tube go into its flare, at 10 GBP a metre."""
    text = placed(LINE, WALL)
    assert cost(text, "fixing-trapped", tmp_path) == "0.03 GBP more than before"
    done = healed(text, "fixing-trapped", tmp_path)
    assert "ends: {to: {formed: true}}" in done.text
    notes = done.applied[0].proven.remedy.notes
    assert notes == ("whether run is long enough if run.from is cut off and formed anew",)


def test_what_else_the_end_states_stays(tmp_path: Path) -> None:
    """Of an end with a stated place only `formed` is taken out."""
    text = placed(LINE.replace("from: {formed: true}", "from: {at: [0, 0, 0], formed: true}"), WALL)
    done = healed(text, "fixing-trapped", tmp_path)
    assert "ends: {from: {at: [0, 0, 0]}, to: {formed: true}}" in done.text
