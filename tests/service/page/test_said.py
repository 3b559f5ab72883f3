"""What the page says of a build where little or nothing was looked at, of levels, and of figures."""

import re

import pytest

from fitcheck.service.page.about import _flat
from tests.benchmarks.cars import fleet
from tests.service.page.conftest import Served


def test_nothing_is_no_pass(served: Served) -> None:
    """A build without parts has not passed: nothing was there to check, and no table is empty."""
    served.build.write_text("build: 1\nname: Wren\n")
    page = served.client.get("/").text
    assert '<a href="#unchecked" class="count warning">nothing was checked: the build has no parts</a>' in page
    assert "<p>Nothing was checked: the build has no parts.</p>" in page
    assert "Every rule had all that it needs." not in page
    joints = page.split('<section id="joints"')[1].split("</section>")[0]
    assert "<table" not in joints
    assert "<p>Nothing is joined to anything.</p>" in joints
    assert "<p>The build has no parts.</p>" in joints


def test_nothing_to_change(served: Served) -> None:
    """A change that the file has already, as after going back, is told as such; there is nothing to accept or draw."""
    address = "/?at=tee_axle&tag=tee_axle&part=tee-axle"
    already = served.client.get(f"{address}-double").text
    assert '<p class="box">build.yaml says so already: there is nothing to write.</p>' in already
    assert 'id="accept"' not in already
    assert 'class="drawing would"' not in already
    assert 'id="accept"' in served.client.get(f"{address}-bubble").text
    text = served.post("/page/text", served.fields(text=served.build.read_text(), do="see")).text
    assert '<p class="box">build.yaml says so already: there is nothing to write.</p>' in text


def test_level_of_what_names_a_joint(served: Served) -> None:
    """A joint that a note names is not shown as an error; one that an error names is."""
    served.build.write_text(fleet(10, placed=True))
    page = served.client.get("/").text
    joints = page.split('<section id="joints"')[1].split("</section>")[0]
    found = {number: level for level, number in re.findall(r'class="finding (\w+)" data-finding="(\d+)"', page)}
    rows = re.findall(r'<td class="named (\w+)">(.*?)</td>', joints)
    assert {level for level, _ in rows} >= {"note"}
    for level, words in rows:
        named = {found[number] for number in re.findall(r">(\d+)</a>", words)}
        assert level == next(each for each in ("error", "warning", "note") if each in named)


@pytest.mark.parametrize(
    ("evidence", "rows"),
    [
        ({"held_mpa": 0.0, "usual_mpa": [0.0345, 0.0827]}, [["held", "0 MPa"], ["usual", "0.0345, 0.0827 MPa"]]),
        ({"overlap_percent": [15.4, 54.35]}, [["overlap", "15.4, 54.35 %"]]),
        ({"ends": {"tube_mm": 4.75}}, [["ends: tube", "4.75 mm"]]),
        ({"joints": [{"apart_mm": 3.0, "at": ["a", "b"]}]}, [["joints 1: apart", "3 mm"], ["joints 1: at", "a, b"]]),
        ({"free_turns": 3, "mm": 2, "n": 4}, [["free turns", "3"], ["mm", "2"], ["n", "4"]]),
        ({"source_mm": "a table"}, [["source mm", "a table"]]),
    ],
)
def test_evidence_has_its_units(evidence: dict[str, object], rows: list[list[str]]) -> None:
    """A figure of the evidence has its unit behind it, not in its name."""
    assert list(_flat(evidence)) == rows
