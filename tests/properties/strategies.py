"""Random builds with nothing wrong in them, from the generic catalog alone, and how to read and check one.

A build is a plain dict, as YAML would give it. `builds()` draws one; `text_of`, `read` and `serious` take it
from there. `strategies`, `defects` and `naive` are what later properties start from.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import yaml
from hypothesis import strategies as st

from fitcheck.build.load import Build, load_document
from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.run import check
from fitcheck.sources import parse
from tests.properties.generic_parts import (
    ROWS,
    consumers,
    holders,
    hose_targets,
    hoses_to,
    joiners,
    of_kind,
    other,
    port,
    screws,
    takes_tube,
    tees,
    valves,
)
from tests.properties.growing import Car, Plan

SMALL = 4.75
"""The size nearly all brake tube has, 3/16 in or 4.75 mm."""
Leaf = Callable[[Car, str, float, str | None], list[str]]
"""Something at the end of the road: takes a port for tube, the size and the body; returns the inlets fed."""


class _Dumper(getattr(yaml, "CSafeDumper", yaml.SafeDumper)):
    """Writes what occurs twice twice: aliases are not taken in a build."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


def text_of(plan: Plan) -> str:
    """Return a build as the YAML text of its file."""
    text: str = yaml.dump(plan, Dumper=_Dumper, sort_keys=False, allow_unicode=True)
    return text


def read(plan: Plan, folder: Path = Path()) -> Build:
    """Return a build read from its text, its catalogs from a folder."""
    return load_document(parse(text_of(plan), "build.yaml"), folder)


def report_of(plan: Plan, folder: Path = Path()) -> Report:
    """Return what `check` says of a build."""
    return check(read(plan, folder))


def serious(report: Report) -> list[Finding]:
    """Return the findings that a builder must act on: errors and warnings."""
    return [finding for finding in report.findings if finding.level != "note"]


@st.composite
def builds(draw: Any) -> Plan:
    """Draw a valid build: two brake circuits, often a clutch, some with what they intend and accept."""
    car = Car(draw)
    _name(car)
    outlets, feeds = _masters(car)
    clutch = car.chance()
    fed = {name: _circuit(car, outlet, _brakes(car)) for name, outlet in outlets.items()}
    if clutch:
        size = car.pick([SMALL, 6.35, 6.0])
        master = car.fit(car.pick(_masters_for(size)))
        _pedal(car, [master], "pedal-box-single")
        fed["clutch"] = _circuit(car, f"{master}.outlet", [_fixed("slave cylinder")], size)
        outlets = outlets | {"clutch": f"{master}.outlet"}
        feeds.append(f"{master}.feed")
    _reservoirs(car, feeds)
    if car.chance():
        car.plan["circuits"] = {name: {"from": ref, "feeds": fed[name]} for name, ref in outlets.items()}
        if car.chance(4):
            car.plan["circuits"]["front"]["fluid"] = car.plan["fluid"]
    if clutch and car.chance():
        at = car.pick([outlets["clutch"], master, *(["clutch"] if "circuits" in car.plan else [])])
        car.plan["accept"] = [{"rule": "single-circuit", "at": at, "why": "a clutch has one circuit"}]
    if car.plan["hoses"] and car.chance(3):
        car.plan["pedal"] = {"force": "450 N", "ratio": 5, "balance": 0.5}
    return {key: value for key, value in car.plan.items() if value or key == "build"}


def _name(car: Car) -> None:
    car.plan["name"] = car.pick(["Wren", "Dipper", "Snow Bunting", "Ortolan ü"])
    car.plan["fluid"] = car.pick(["DOT 4", "DOT 3", "DOT 5.1", "DOT 5"])
    car.plan["bodies"] = {}


def _masters_for(size: float) -> list[str]:
    wanted = (key for key in of_kind("master cylinder") if "outlet" in ROWS[key]["ports"])
    return [key for key in wanted if size == SMALL or takes_tube(port(key, "outlet"), size)]


def _small_masters() -> list[str]:
    probe = Car(lambda strategy: None)
    return [key for key in _masters_for(SMALL) if probe.can_step(key, "outlet", SMALL)]


def _masters(car: Car) -> tuple[dict[str, str], list[str]]:
    """Fit the brake master cylinders; return their outlets by circuit and their feeds."""
    if car.chance(3):
        tag = car.fit(car.pick([key for key in of_kind("master cylinder") if "tandem" in key]))
        _pedal(car, [tag], "pedal-box-single")
        return {"front": f"{tag}.primary", "rear": f"{tag}.secondary"}, [f"{tag}.feed_primary", f"{tag}.feed_secondary"]
    tags = [car.fit(car.pick(_small_masters())) for _ in range(2)]
    _pedal(car, tags, "pedal-box-twin")
    return {"front": f"{tags[0]}.outlet", "rear": f"{tags[1]}.outlet"}, [f"{tag}.feed" for tag in tags]


def _pedal(car: Car, masters: list[str], box: str) -> None:
    if car.chance(3):
        return
    tag = car.fit(box)
    for number, master in enumerate(masters, 1):
        car.screw(f"{tag}.rod_{number}", f"{master}.pushrod")


def _brakes(car: Car) -> list[Leaf]:
    """Return the brakes of one axle: both wheels by hose, or a live axle with one hose, or cylinders on the frame."""
    form = car.pick(["wheels", "axle", "fixed", "one"])
    if form == "axle":
        return [_axle]
    if form == "fixed":
        return [_fixed("wheel cylinder"), _fixed("caliper")]
    return [_by_hose] * (2 if form == "wheels" else 1)


def _circuit(car: Car, outlet: str, leaves: list[Leaf], size: float = SMALL) -> list[str]:
    """Grow everything that one outlet feeds; return the inlets of its consumers."""
    return _grow(car, outlet, size, leaves, None, 3)


def _grow(car: Car, ref: str, size: float, leaves: list[Leaf], body: str | None, room: int) -> list[str]:
    """Go on from a port until every leaf hangs on it; `room` is how many fittings may still come between."""
    ref = car.step(ref, size, body)
    if len(leaves) == 1 and (room <= 0 or car.chance()):
        return leaves[0](car, ref, size, body)
    if len(leaves) > 1 and (room <= 0 or car.chance()):
        return _split(car, ref, size, leaves, body, room - 1)
    form = car.pick(["joiner", "tee", "valve"])
    if form == "valve" and (found := valves(size)):
        tag = car.fit(car.pick(found), body)
        car.line(ref, f"{tag}.in", size)
        return _grow(car, f"{tag}.out", size, leaves, body, room - 1)
    if form == "tee":
        return _spare(car, ref, size, leaves, body, room - 1)
    part_id, own = car.pick(joiners(size))
    tag = car.fit(part_id, body)
    car.line(ref, f"{tag}.{own}", size)
    return _grow(car, f"{tag}.{other(part_id, own)}", size, leaves, body, room - 1)


def _third(part_id: str, *names: str) -> str:
    (found,) = (key for key in ROWS[part_id]["ports"] if key not in names)
    return found


def _split(car: Car, ref: str, size: float, leaves: list[Leaf], body: str | None, room: int) -> list[str]:
    """Part the road at a tee, some leaves on either side."""
    fitting = [tee for tee in tees(size) if car.can_step(tee[0], _third(*tee), size)]
    part_id, own, out = car.pick(fitting)
    tag = car.fit(part_id, body)
    car.line(ref, f"{tag}.{own}", size)
    half = len(leaves) // 2
    first = _grow(car, f"{tag}.{out}", size, leaves[:half], body, room)
    return first + _grow(car, f"{tag}.{_third(part_id, own, out)}", size, leaves[half:], body, room)


def _spare(car: Car, ref: str, size: float, leaves: list[Leaf], body: str | None, room: int) -> list[str]:
    """Go through a tee whose third port is closed by a plug, a switch or a gauge."""
    part_id, own, out = car.pick([tee for tee in tees(size) if car.can_close(tee[0], _third(*tee))])
    tag = car.fit(part_id, body)
    car.line(ref, f"{tag}.{own}", size)
    car.close(f"{tag}.{_third(part_id, own, out)}", body)
    return _grow(car, f"{tag}.{out}", size, leaves, body, room)


def _fixed(kind: str) -> Leaf:
    """Return a leaf that is a consumer on the same body, at the end of a line."""

    def leaf(car: Car, ref: str, size: float, body: str | None) -> list[str]:
        tag = car.fit(car.pick(consumers(kind, size)), body)
        car.line(ref, f"{tag}.inlet", size)
        return [f"{tag}.inlet"]

    return leaf


def _body(car: Car, word: str) -> str:
    body = car.tag(word)
    car.plan["bodies"][body] = {"poses": {"bump": {"shift": [0, 0, 60]}}} if car.chance() else {}
    return body


def _near(car: Car, ref: str, hose: str, size: float) -> None:
    """Bring the near end of a hose to a port: straight, by a line, or by way of a part that holds it."""
    part_id = car.part(hose)
    end = port(part_id, "from")
    if screws(car.port(ref), end):
        car.plan["hoses"][hose]["from"] = ref
    elif takes_tube(end, size):
        car.line(ref, f"{hose}.from", size)
    else:
        holder, own = car.pick(holders(part_id, size))
        tag = car.fit(holder)
        car.line(ref, f"{tag}.{other(holder, own)}", size)
        car.plan["hoses"][hose]["from"] = f"{tag}.{own}"


def _far(car: Car, hose: str, target: str) -> None:
    """Bring the far end of a hose to a port: said with the hose, or as a joint."""
    if "eye" in car.port(f"{hose}.to") and car.chance():
        car.bolt(target, [f"{hose}.to"])
    else:
        car.plan["hoses"][hose]["to"] = target


def _by_hose(car: Car, ref: str, size: float, body: str | None) -> list[str]:
    """Hang a caliper or a wheel cylinder on a body of its own by a hose, sometimes by way of an adapter."""
    part_id = car.pick(hoses_to("caliper", "wheel cylinder", "adapter"))
    hose = car.hose(part_id, None, None)
    _near(car, ref, hose, size)
    own_body = _body(car, "upright")
    direct = hose_targets(part_id, "caliper", "wheel cylinder")
    stepped = [
        (key, own)
        for key, own in hose_targets(part_id, "adapter")
        if any(screws(port(brake, "inlet"), port(key, other(key, own))) for brake in of_kind("caliper"))
    ]
    if direct and not (stepped and car.chance(4)):
        brake, own = car.pick(direct)
        tag = car.fit(brake, own_body)
        if "eye" in port(part_id, "to") and car.chance(4):
            return [f"{tag}.inlet", *_second(car, hose, f"{tag}.inlet", own_body)]
        _far(car, hose, f"{tag}.inlet")
        return [f"{tag}.inlet"]
    adapter, own = car.pick(stepped)
    into = port(adapter, other(adapter, own))
    brake = car.pick([key for key in of_kind("caliper") if screws(port(key, "inlet"), into)])
    tag, between = car.fit(brake, own_body), car.fit(adapter, None if car.chance() else own_body)
    car.plan["components"][between].pop("on", None)
    car.screw(f"{between}.{other(adapter, own)}", f"{tag}.inlet")
    _far(car, hose, f"{between}.{own}")
    return [f"{tag}.inlet"]


def _second(car: Car, hose: str, inlet: str, body: str) -> list[str]:
    """Clamp a second banjo eye under the same bolt; its hose goes on to another caliper."""
    eye = port(car.part(hose), "to")["eye"]
    choices = [
        (key, brake)
        for key in of_kind("hose")
        if ROWS[key]["ports"]["to"].get("eye") == eye
        for brake in of_kind("caliper")
        if screws(port(key, "from"), port(brake, "inlet"))
    ]
    part_id, brake = car.pick(choices)
    tag = car.fit(brake, body)
    link = car.hose(part_id, f"{tag}.inlet", None)
    car.bolt(inlet, [f"{hose}.to", f"{link}.to"])
    return [f"{tag}.inlet"]


def _axle(car: Car, ref: str, size: float, body: str | None) -> list[str]:
    """Hang a tee on a live axle by one hose; lines on the axle lead to two wheel cylinders."""
    choices = [
        (key, tee, own)
        for key in hoses_to("tee")
        for tee, own in hose_targets(key, "tee")
        if all(takes_tube(found, size) for name, found in ROWS[tee]["ports"].items() if name != own)
    ]
    part_id, tee, own = car.pick(choices)
    hose = car.hose(part_id, None, None)
    _near(car, ref, hose, size)
    axle = _body(car, "axle")
    tag = car.fit(tee, axle)
    _far(car, hose, f"{tag}.{own}")
    sides = [f"{tag}.{name}" for name in ROWS[tee]["ports"] if name != own]
    leaf = _fixed(car.pick(["wheel cylinder", "caliper"]))
    return [ref for side in sides for ref in _grow(car, side, size, [leaf], axle, 1)]


def _reservoirs(car: Car, feeds: list[str]) -> None:
    """Give every master cylinder its fluid: reservoirs of its own, or one with an outlet for each."""
    hoses = ["feed-hose-8mm", "feed-hose-5-16"]
    if car.chance(3):
        names = ["front", "rear", "clutch"][: len(feeds)]
        tag = car.fit(f"reservoir-{len(feeds)}-outlet" + ("-shared" if len(feeds) == 2 and car.chance() else ""))
        for name, feed in zip(names, feeds, strict=True):
            car.feed_hose(car.pick(hoses), f"{tag}.{name}", feed)
        return
    if car.chance(4):
        tee = car.fit("tee-barb-8mm")
        car.feed_hose(car.pick(hoses), f"{tee}.left", feeds[0])
        car.feed_hose(car.pick(hoses), f"{tee}.right", feeds[1])
        feeds = [f"{tee}.top", *feeds[2:]]
    for feed in feeds:
        form = car.pick(["8mm", "10mm", "6mm", "an4", "an6"])
        tag = car.fit("reservoir-1-outlet" if form == "8mm" else f"reservoir-1-outlet-{form}")
        outlet = f"{tag}.outlet"
        if form in ("an4", "an6"):
            barb = car.fit(f"adapter-{form}-female-barb-8mm")
            car.screw(f"{barb}.a", outlet)
            outlet = f"{barb}.b"
        elif form != "8mm":
            step = car.fit(f"adapter-barb-8mm-barb-{form}")
            car.feed_hose(f"feed-hose-{form}", outlet, f"{step}.b")
            outlet = f"{step}.a"
        car.feed_hose(car.pick(hoses), outlet, feed)
