"""Whatever a build file holds, it ends in a report or in a refusal that names a place in the file."""

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.bom.take_off import take_off
from fitcheck.build.assemble import assemble
from fitcheck.build.load import load_document
from fitcheck.checks.context import Context
from fitcheck.checks.register import pages
from fitcheck.checks.run import check_context
from fitcheck.remedies.choose import with_remedies
from fitcheck.reports.bom_text import bom_text
from fitcheck.reports.check_json import check_json
from fitcheck.reports.check_text import check_text
from fitcheck.reports.sarif import sarif
from fitcheck.sources import InputError, Problem, parse
from tests.properties.growing import Draw
from tests.properties.mangling import mangled_text, mangled_tree, plan_of
from tests.properties.strategies import builds, text_of

DEMO = Path(__file__).parents[2] / "demo_vehicle"


def answered(text: str, folder: Path, name: str, variant: str | None = None) -> None:
    """Fail unless the text is answered: by a report that can be printed, or by problems with their places."""
    try:
        context = Context(assemble(load_document(parse(text, name), folder, variant)))
        report = with_remedies(context, check_context(context))
        json.loads(check_json(report))
        json.loads(sarif(report, pages()))
        assert check_text(report)
        assert bom_text(take_off(context.graph))
    except InputError as refusal:
        problems = refusal.problems
    else:
        problems = (Problem(name, 1, 1, "none"),)
    assert problems
    for problem in problems:
        assert within(problem, text if problem.file == name else _read(problem.file)), problem
        assert problem.message


def _read(name: str) -> str:
    return Path(name).read_text(encoding="utf-8", errors="replace") if Path(name).is_file() else ""


def within(problem: Problem, text: str) -> bool:
    """Return whether a problem's place, counted from 1, lies in a text or right behind its end."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return 1 <= problem.line <= len(lines) and 1 <= problem.column <= len(lines[problem.line - 1]) + 1


@st.composite
def spoilt_demo(draw: Draw) -> tuple[str, str | None]:
    """Draw the demo's build file, mangled, and whether its variant is asked for."""
    text = (DEMO / "build.yaml").read_text(encoding="utf-8")
    as_tree = draw(st.booleans())
    spoilt = mangled_tree(plan_of(text), draw) if as_tree else mangled_text(text, draw)
    return spoilt, draw(st.sampled_from([None, "as_corrected", "no such"]))


@st.composite
def spoilt_build(draw: Draw) -> str:
    """Draw a random build's file, mangled."""
    plan = draw(builds())
    return mangled_tree(plan, draw) if draw(st.booleans()) else mangled_text(text_of(plan), draw)


def demo(data: Any) -> None:
    """Answer one mangled demo."""
    text, variant = data.draw(spoilt_demo())
    answered(text, DEMO, "build.yaml", variant)


def catalog(data: Any, folder: Path) -> None:
    """Answer the demo with a mangled catalog."""
    text = (DEMO / "house_parts.yaml").read_text(encoding="utf-8")
    spoilt = mangled_tree(plan_of(text), data.draw) if data.draw(st.booleans()) else mangled_text(text, data.draw)
    (folder / "house_parts.yaml").write_bytes(spoilt.encode("utf-8", "surrogatepass"))
    answered((DEMO / "build.yaml").read_text(encoding="utf-8"), folder, "build.yaml")


@given(st.data())
@settings(settings.get_profile("brief"), max_examples=60)
def test_mangled_demo_is_answered(data: Any) -> None:
    """The demo's file with values, keys, lines and letters changed never ends in anything but an answer."""
    demo(data)


@given(spoilt_build())
@settings(settings.get_profile("brief"), max_examples=60)
def test_mangled_build_is_answered(text: str) -> None:
    """A random build's file with values, keys, lines and letters changed never ends in anything but an answer."""
    answered(text, Path(), "build.yaml")


def test_mangled_catalog_is_answered(tmp_path: Path) -> None:
    """The demo with its catalog mangled never ends in anything but an answer, with places in either file."""

    @given(st.data())
    @settings(settings.get_profile("brief"), max_examples=40)
    def run(data: Any) -> None:
        catalog(data, tmp_path)

    run()


@given(st.text(max_size=200))
@settings(settings.get_profile("brief"), max_examples=60)
def test_any_text_is_answered(text: str) -> None:
    """Text that was never a build is answered."""
    answered(text, Path(), "build.yaml")


@pytest.mark.slow
@given(st.data())
@settings(settings.get_profile("long"), max_examples=500)
def test_mangled_demo_is_answered_at_length(data: Any) -> None:
    """Five hundred mangled demos are answered."""
    demo(data)


@pytest.mark.slow
@given(spoilt_build())
@settings(settings.get_profile("long"), max_examples=500)
def test_mangled_build_is_answered_at_length(text: str) -> None:
    """Five hundred mangled random builds are answered."""
    answered(text, Path(), "build.yaml")


@pytest.mark.slow
def test_mangled_catalog_is_answered_at_length(tmp_path: Path) -> None:
    """A thousand mangled catalogs are answered."""

    @given(st.data())
    @settings(settings.get_profile("long"))
    def run(data: Any) -> None:
        catalog(data, tmp_path)

    run()
