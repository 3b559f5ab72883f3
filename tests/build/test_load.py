"""Reading a build: names that must be known, several errors at once, catalogs layered."""

from pathlib import Path

import pytest

from fitcheck.build.load import load, load_document
from fitcheck.sources import InputError, parse


def refused(text: str) -> list[str]:
    """Return the problems of a build text, one line each."""
    with pytest.raises(InputError) as caught:
        load_document(parse(text, "car.yaml"), Path())
    return str(caught.value).splitlines()


def test_several_errors_are_told_at_once_in_the_order_of_the_file() -> None:
    """Unknown key, missing key, bare number, wrong unit, unknown word and wrong shape: each with place and hint."""
    text = """\
build: 1
fluid: DOT 9
componants: {}
components:
  a: {prt: x}
  b: [x]
lines:
  c: {from: d, to: e.f, tube: t, length: 300}
  g: {from: h.i, to: j.k, tube: t, length: 3 bar, ends: {to: {flare: bubbel}}}
pedal: {balance: 1.5, ratio: five}
"""
    assert refused(text) == [
        "car.yaml:2:8: 'DOT 9' is no brake fluid; nearest is 'DOT 3'; known: DOT 3, DOT 4, DOT 5, DOT 5.1, "
        "ISO 4925 class 3, ISO 4925 class 4, ISO 4925 class 5-1, ISO 4925 class 6, ISO 4925 class 7, mineral oil",
        "car.yaml:3:1: unknown key 'componants' in a build; nearest is 'components'",
        "car.yaml:5:3: a component needs 'part'",
        "car.yaml:5:7: unknown key 'prt' in a component; nearest is 'part'",
        "car.yaml:6:3: expected a mapping, got a list",
        "car.yaml:8:13: expected a port as tag.port, such as caliper_fl.inlet, got 'd'",
        "car.yaml:8:42: a bare number where a length is needed: write '25 mm' or '1 in'",
        "car.yaml:9:44: '3 bar' is a pressure where a length is needed",
        "car.yaml:9:70: 'bubbel' is no flare; nearest is 'bubble'; known: double-45, bubble, single-37, single-45",
        "car.yaml:10:18: a share lies between 0 and 1, not 1.5",
        "car.yaml:10:30: expected a plain number such as 25 or 0.5, got 'five'",
    ]


def test_names_must_be_known_and_tags_used_once() -> None:
    """A tag in two sections, an unknown body and an unknown panel are refused where they stand."""
    text = """\
build: 1
bodies: {axle: {}}
panels: {wall: {hole: 12 mm}}
components:
  a: {part: x, on: axel}
  b: {part: x, on: chassis}
lines:
  a: {from: c.d, to: e.f, tube: t, route: [{at: [0, 0, 0], through: wal}]}
"""
    assert refused(text) == [
        "car.yaml:5:20: no body is called 'axel'; nearest is 'axle'",
        "car.yaml:8:3: the tag a is used already in components",
        "car.yaml:8:69: no panel is called 'wal'; nearest is 'wall'",
    ]


def test_a_folder_means_its_build_file_and_own_catalog_comes_first(tmp_path: Path) -> None:
    """A folder is read by its build.yaml; a part of the builder's hides the generic one of the same id."""
    (tmp_path / "build.yaml").write_text("build: 1\ncatalogs: [mine.yaml]\n", encoding="utf-8")
    mine = "catalog: 1\nparts:\n  tee-an3: {kind: tee, description: My own}\n"
    (tmp_path / "mine.yaml").write_text(mine, encoding="utf-8")
    build = load(tmp_path)
    own, generic = build.shelf.get("tee-an3"), build.shelf.get("tee-an4")
    assert own is not None
    assert own.description == "My own"
    assert generic is not None


def test_errors_of_a_catalog_name_the_catalog(tmp_path: Path) -> None:
    """A mistake in the builder's own catalog is told with that file's name and place."""
    (tmp_path / "build.yaml").write_text("build: 1\ncatalogs: [mine.yaml]\n", encoding="utf-8")
    mine = "catalog: 1\nparts:\n  a: {kind: tea}\n  b: {kind: tube, od: 5 mm}\n"
    (tmp_path / "mine.yaml").write_text(mine, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        load(tmp_path)
    first, second = caught.value.problems
    assert (first.file, first.line, first.column) == ((tmp_path / "mine.yaml").as_posix(), 3, 13)
    assert first.message.startswith("'tea' is no kind of part; nearest is 'tee'; known: pedal box, reservoir,")
    assert second.message == "a tube needs od and wall"
    assert second.line == 4


def test_places_are_kept(tmp_path: Path) -> None:
    """Anything in the build can be asked where it stands."""
    build = load_document(parse("build: 1\ncomponents:\n  a: {part: tee-an3}\n", "car.yaml"), tmp_path)
    assert tuple(build.place(("components", "a", "part"))) == ("car.yaml", 3, 13)
    assert tuple(build.place(("components", "a"), key=True)) == ("car.yaml", 3, 3)


def test_later_sections_are_looked_at_too(tmp_path: Path) -> None:
    """Offers and stock that are not there, a body nobody knows, a slip in a variant: told before they are used."""
    text = """\
build: 1
catalogs: [none.yaml]
offers: [gone.yaml]
stock: shelf.yaml
bodies: {chassis: {}}
heat: {pipe: {path: [[0, 0, 0]], on: engin}}
panels: {wall: {hole: -3 mm}}
"""
    (tmp_path / "build.yaml").write_text(text.replace("panels: {wall: {hole: -3 mm}}\n", ""), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        load(tmp_path)
    told = [(problem.line, problem.column, problem.message) for problem in caught.value.problems]
    folder = tmp_path.as_posix()
    assert told == [
        (2, 12, f"there is no file {folder}/none.yaml"),
        (3, 10, f"there is no file {folder}/gone.yaml"),
        (4, 8, f"there is no file {folder}/shelf.yaml"),
        (5, 10, "chassis always exists and never moves"),
        (6, 38, "no body is called 'engin'"),
    ]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("panels: {wall: {hole: -3 mm}}", "car.yaml:2:23: expected more than zero, got '-3 mm'"),
        ("panels: {wall: {thickness: 0 mm}}", "car.yaml:2:28: expected more than zero, got '0 mm'"),
        ("pedal: {force: -450 N}", "car.yaml:2:16: expected more than zero, got '-450 N'"),
        ("pedal: {ratio: -5}", "car.yaml:2:16: expected more than zero, got -5"),
        (
            "lines: {a: {from: b.c, to: d.e, tube: t, length: -1 mm}}",
            "car.yaml:2:50: expected more than zero, got '-1 mm'",
        ),
        ("heat: {a: {path: [[0, 0, 0]], radius: 0 mm}}", "car.yaml:2:39: expected more than zero, got '0 mm'"),
        ("accept: [{rule: a, at: b, why: ' '}]", "car.yaml:2:32: expected a reason in words"),
    ],
)
def test_what_cannot_be_is_refused(text: str, told: str) -> None:
    """Lengths, forces and ratios of nothing or less, and reasons without words, are refused where they stand."""
    assert refused("build: 1\n" + text + "\n") == [told]


def test_a_section_with_nothing_under_it_is_an_empty_one() -> None:
    """Who drops the last joint need not drop the heading."""
    build = load_document(parse("build: 1\njoints:\nlines:\nname:\n", "car.yaml"), Path())
    assert build.file.joints == []
    assert build.file.name == "unnamed"
