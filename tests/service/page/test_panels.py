"""The panels of figures: the pedal told as the command line tells it, its plots, the purchase as the API plans it."""

import re
import time
from html import unescape
from typing import Any

import pytest

from fitcheck.cli.main import main
from tests.service.answer_schemas import DEMO
from tests.service.page.conftest import Served

PATIENCE_S = 20.0
SMALL = "build: 1\nname: Small\ncomponents:\n  mc: {part: mc-3-8-24-inverted}\n"


def _part(served: Served, address: str, part: str) -> str:
    answer = served.client.get(address, headers={"Fitcheck-Parts": part})
    assert answer.status_code == 200
    return answer.text


def _after(said: list[str], first: str) -> set[str]:
    """Return what comes after the first time that something was said."""
    return set(said[said.index(first) :]) if first in said else set()


def _words(html: str) -> list[str]:
    return unescape(re.sub(r"<[^>]*>", " ", html)).split()


def test_pedal_tells_all_that_the_command_tells(served: Served, capsys: pytest.CaptureFixture[str]) -> None:
    """No word of `fitcheck pedal` is lacking in the panel, and its tables are tables."""
    main(["pedal", str(DEMO)])
    told = [word for word in capsys.readouterr().out.split("Brakes hurt")[0].split() if set(word) != {"-"}]
    html = _part(served, "/", "pedal")
    assert set(told) - set(_words(html)) <= {"LIMITS:"}
    assert "<th>circuit</th><th>outlet</th>" in html
    assert "<summary><h3>FLUID TAKEN FROM front (mc_front.outlet)" in html


def test_pedal_names_what_is_missing(served: Served) -> None:
    """A build that says nothing of a pedal is told so, with the fields that would unlock more, as the command does."""
    served.build.write_text(SMALL)
    html = _part(served, "/", "pedal")
    assert "The build says nothing of a pedal: what its parts alone say is computed." in html
    assert "NOT COMPUTED (4): what is missing" in html
    assert "parts.mc-3-8-24-inverted.stroke: for mc" in html
    plots = _part(served, "/?plots=1", "pedal")
    assert "othing to draw: what is missing is parts.mc-3-8-24-inverted.bore" in plots


def test_plots_only_when_asked(served: Served) -> None:
    """A page has a link to the plots, and draws them when it is followed: without a style, which its policy refuses."""
    page = served.client.get("/").text
    link = re.search(r'href="(/\?plots=1#pedal)"', page)
    assert link is not None
    assert "Pressure at the outlets" not in page
    html = _part(served, "/?plots=1", "pedal")
    assert html.count("<svg") == 2
    assert "Pressure at the outlets" in html
    assert "<title" in html
    assert " style=" not in html
    assert "<style" not in html
    assert 'stroke-dasharray="' in html


def test_purchase_is_what_the_api_plans(served: Served) -> None:
    """Orders, sums, missing parts and days of the panel are those of the API's answer to the same question."""
    html = _part(served, "/?aim=cheapest", "purchase")
    plan = served.client.post("/api/served/order", json={}).json()
    words = " ".join(_words(html))
    assert f"{len(plan['orders'])} orders, {plan['cost']}" in words
    for order in plan["orders"]:
        assert order["total"] in words
        for line in order["lines"]:
            assert line["part"] in words
    for circuit in plan["ready"]:
        assert f"{circuit['circuit']} {circuit['day']}" in words


def test_purchase_for_other_ends(served: Served) -> None:
    """It is planned by a day, as soon as can be, for the cured build, or told what waiting saves."""
    assert ": 2020-01-01 is past on" in _part(served, "/?aim=cheapest&by=2020-01-01", "purchase")
    assert "<th>all here on</th>" in _part(served, "/?aim=trade-off", "purchase")
    assert "do not order before they are put right" in _part(served, "/?aim=soonest", "purchase")
    assert "do not order before they are put right" not in _part(served, "/?aim=soonest&cured=1", "purchase")
    assert "Nothing is planned yet." in _part(served, "/?aim=nonsense", "purchase")


def test_purchase_without_offers(served: Served) -> None:
    """A build that names no offers says what would let it plan; nothing is asked of the planner."""
    served.build.write_text(SMALL)
    for address in ("/", "/?aim=cheapest"):
        html = _part(served, address, "purchase")
        assert "The build names no offers, so nothing can be planned" in html
        assert "<form" not in html


def test_accepting_asks_nothing_that_was_prepared(served: Served, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is shown once a change is accepted was asked while it was looked at: the build is not checked again."""
    bench = served.client.app.state.bench  # type: ignore[attr-defined]
    answered: list[str] = []
    ask = bench.ask

    async def noted(said: dict[str, Any], gone: Any = None, *, few: bool = False) -> Any:
        told = await ask(said, gone, few=few)
        answered.append(said["ask"])
        return told

    monkeypatch.setattr(bench, "ask", noted)
    page = served.client.get("/?at=tee_axle&tag=tee_axle&part=tee-axle-bubble").text
    form = re.search(r'action="/page/accept"(.*?)</form>', page, re.DOTALL)
    assert form is not None
    end = time.monotonic() + PATIENCE_S
    while not {"page/core", "page/drawing", "page/about"} <= _after(answered, "page/changed"):
        assert time.monotonic() < end
        time.sleep(0.05)
    answered.clear()
    fields = {name: unescape(value) for name, value in re.findall(r'name="(\w+)" value="([^"]*)"', form[1])}
    parts = {"Fitcheck-Parts": "head,notice,drawing,findings,panel,editor,quick"}
    answer = served.post("/page/accept", fields, headers=parts)
    assert "tee-axle-bubble" in served.build.read_text()
    assert "Written" in answer.text
    assert answered == []
