"""Plan, side and front of random builds and of the demo mangled: always a drawing, every line drawn once or listed."""

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.build.assemble import assemble
from fitcheck.build.load import Build, load_document
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.reports.plan.scene import scene
from fitcheck.reports.plan.views import VIEWS
from fitcheck.sources import InputError, parse
from tests.properties.growing import Draw, Plan
from tests.properties.mangling import mangled_tree, plan_of
from tests.properties.strategies import builds, read, text_of
from tests.reports.plan.seen import root_of, tagged, told

DEMO = Path(__file__).parents[2] / "demo_vehicle"
PLACES = st.lists(st.integers(-3000, 3000), min_size=3, max_size=3)


def looked_at(build: Build, checked: bool = True) -> None:
    """Fail unless all views of a build are drawn, with each line, hose and component once, or listed below."""
    context = Context(assemble(build))
    report, found = check_context(context) if checked else None, scene(context.graph)
    listed = {each.tag for each in found.missing}
    for view in VIEWS:
        root = root_of(context, view, report)
        for kind, tags in (
            ("line", build.file.lines),
            ("hose", build.file.hoses),
            ("component", build.file.components),
        ):
            drawn = set(tagged(root, kind))
            assert drawn <= set(tags)
            assert set(tags) - drawn <= listed
        assert all(f"{each.tag}: " in told(root) for each in found.missing[:60])


@st.composite
def placed(draw: Draw) -> Plan:
    """Draw a random build, most of its components with a place."""
    plan = draw(builds())
    for component in plan["components"].values():
        if draw(st.integers(0, 9)):
            component["at"] = draw(PLACES)
    return plan


@given(plan=placed())
@settings(settings.get_profile("brief"), max_examples=30)
def test_random_builds_are_drawn(plan: Plan) -> None:
    """Wherever the parts of a build lie, all three views are drawn."""
    looked_at(read(plan))


def mangled(data: Any) -> None:
    """Look at the demo, mangled, unless it is refused. Whether rules stand that is `test_never_crashes`' to prove."""
    spoilt = mangled_tree(plan_of((DEMO / "build.yaml").read_text(encoding="utf-8")), data.draw)
    try:
        build = load_document(parse(spoilt, "build.yaml"), DEMO)
    except InputError:
        return
    looked_at(build, checked=False)


@given(data=st.data())
@settings(settings.get_profile("brief"), max_examples=15)
def test_mangled_demo_is_drawn(data: Any) -> None:
    """What is left of the demo after mistakes of any kind is drawn, or refused with its place."""
    mangled(data)


@pytest.mark.slow
@given(data=st.data())
@settings(settings.get_profile("long"), max_examples=300)
def test_mangled_demo_is_drawn_at_length(data: Any) -> None:
    """The same for hundreds of mistakes."""
    mangled(data)


def test_any_build_without_places_is_drawn() -> None:
    """The demo without a single coordinate is answered with what is missing."""
    plan = plan_of((DEMO / "build.yaml").read_text(encoding="utf-8"))
    for component in plan["components"].values():
        component.pop("at", None)
    for key in ("heat", "panels", "variants", "bodies"):
        plan.pop(key)
    for component in plan["components"].values():
        component.pop("on", None)
    for line in plan["lines"].values():
        line.pop("route", None)
        line.pop("ends", None)
    looked_at(load_document(parse(text_of(plan), "build.yaml"), DEMO))
