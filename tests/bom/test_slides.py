"""What rides on a line is bought with it."""

from fitcheck.bom.take_off import take_off
from tests.making.benches import one_line


def test_what_slides_onto_a_line_is_on_the_bill() -> None:
    """Each thing counts once for each time it is listed, for its line; one that no catalog has is a row of its own."""
    rows = take_off(one_line("[[150, 0, 0]]", line=", slides: [grommet-1-4, no-such-guard, grommet-1-4]")).rows
    found = {row.part: (row.quantity, row.places, row.unknown) for row in rows}
    assert found["grommet-1-4"] == (2, ("run",), False)
    assert found["no-such-guard"] == (1, ("run",), True)
