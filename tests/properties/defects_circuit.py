"""Circuits that are open, starved, crossed, looped, or cannot be bled."""

from tests.properties.edited import Made, made
from tests.properties.editing import Edit, refs_of
from tests.properties.generic_parts import ROWS, closers, joiners, other, valves
from tests.properties.naive import BRAKES, CONSUMERS, look


def plug_left_out(edit: Edit) -> Made:
    """A port that was closed and is open."""
    stub = edit.stub()
    edit.drop(stub.end.partition(".")[0])
    return made("dead-end", stub.port)


def plug_not_screwed_in(edit: Edit) -> Made:
    """A plug, switch or gauge that the build has and no joint names."""
    stub = edit.stub()
    del edit.plan["joints"][stub.index]
    return made("dead-end", stub.port, stub.end)


def branch_to_nowhere(edit: Edit) -> Made:
    """A line that leads to a fitting with nothing beyond it."""
    line = edit.pick(edit.lines())
    third = edit.open_tube_port(line)
    part_id, own = edit.pick(joiners(edit.size(line)))
    far = edit.fit(part_id, like=third.partition(".")[0])
    tube = edit.plan["lines"][line]["tube"]
    edit.plan["lines"][edit.tag("branch")] = {"from": third, "to": f"{far}.{own}", "tube": tube}
    return made("dead-end", f"{far}.{other(part_id, own)}")


def second_joint(edit: Edit) -> Made:
    """A second plug in a port that is in use."""
    refs = [ref for joint in edit.plan["joints"] for ref in refs_of(joint)]
    refs += [entry[name] for entry in edit.plan["lines"].values() for name in ("from", "to")]
    usable = [ref for ref in refs if ref.partition(".")[0] in edit.plan["components"]]
    usable = [ref for ref in usable if closers(edit.part(ref), ref.partition(".")[2])]
    if not usable:
        usable = [edit.stub().port]
    port = edit.pick(usable)
    edit.close(port)
    return made("port-reused", port)


def plug_in_the_wrong_port(edit: Edit) -> Made:
    """A plug put where another thing is already; its own port is open."""
    stub = edit.stub()
    tag = stub.port.partition(".")[0]
    others = [
        name
        for name, found in ROWS[edit.part(tag)]["ports"].items()
        if f"{tag}.{name}" != stub.port and found == edit.port(stub.port)
    ]
    if not others:
        return second_joint(edit)
    edit.plan["joints"][stub.index] = [stub.end, f"{tag}.{edit.pick(others)}"]
    return made("port-reused", edit.plan["joints"][stub.index][1])


def line_left_out(edit: Edit) -> Made:
    """A line on the way to a brake or a clutch that is not there."""
    line = edit.pick(edit.lines())
    before = look(edit.plan).unfed
    del edit.plan["lines"][line]
    unfed = look(edit.plan).unfed - before
    return made("circuit-not-fed", *unfed)


def hose_left_out(edit: Edit) -> Made | None:
    """A brake hose that is not there, with all that the file says of it."""
    hoses = [tag for tag in edit.plan["hoses"] if edit.kind(tag) == "hose"]
    hoses = [tag for tag in hoses if not any(tag in ref for joint in edit.plan["joints"] for ref in refs_of(joint))]
    hoses = [tag for tag in hoses if "from" in edit.plan["hoses"][tag] and "to" in edit.plan["hoses"][tag]]
    if not hoses:
        return None
    before = look(edit.plan).unfed
    del edit.plan["hoses"][edit.pick(hoses)]
    return made("circuit-not-fed", *(look(edit.plan).unfed - before))


def circuit_begins_nowhere(edit: Edit) -> Made | None:
    """A stated circuit that begins where no pressure is made."""
    if "circuits" not in edit.plan:
        return None
    name = edit.pick(list(edit.plan["circuits"]))
    circuit = edit.plan["circuits"][name]
    circuit["from"] = edit.pick([circuit["feeds"][0], *(stub.port for stub in edit.stubs())])
    edit.plan.pop("accept", None)
    return made("circuit-not-fed", name)


def _brake_circuits(edit: Edit) -> dict[str, tuple[str, set[str]]]:
    """Return, for each outlet of a brake circuit, its name and all that shares fluid with it."""
    seen = look(edit.plan)
    found: dict[str, tuple[str, set[str]]] = {}
    for ref, outlets in seen.fed_by.items():
        if edit.kind(ref.partition(".")[0]) in BRAKES:
            (outlet,) = outlets
            found[outlet] = (outlet, seen.water_of(outlet))
    return found


def _state_circuits(edit: Edit) -> None:
    """Have the file state every circuit, if it does not."""
    if "circuits" in edit.plan:
        return
    feeds: dict[str, list[str]] = {}
    for ref, (outlet, *_) in look(edit.plan).fed_by.items():
        feeds.setdefault(outlet, []).append(ref)
    edit.plan["circuits"] = {
        f"circuit_{number}": {"from": outlet, "feeds": refs} for number, (outlet, refs) in enumerate(feeds.items())
    }
    edit.plan.pop("accept", None)


def lines_swapped(edit: Edit) -> Made | None:
    """Two lines of the two brake circuits that go where the other should."""
    _state_circuits(edit)
    (_, front), (_, rear) = _brake_circuits(edit).values()
    pairs = [
        (a, b)
        for a in edit.lines(4.75)
        for b in edit.lines(4.75)
        if f"{a}.from" in front and f"{b}.from" in rear and _bodies(edit, a) == _bodies(edit, b) == {None}
    ]
    if not pairs:
        return None
    a, b = edit.pick(pairs)
    ends = {tag: _downstream(edit, tag) for tag in (a, b)}
    there = {tag: edit.plan["lines"][tag][ends[tag]] for tag in (a, b)}
    edit.plan["lines"][a][ends[a]], edit.plan["lines"][b][ends[b]] = there[b], there[a]
    for tag in (a, b):
        edit.plan["lines"][tag].pop("ends", None)
    moved = {ref for name in edit.plan["circuits"].values() for ref in name["feeds"]}
    return made("circuits-crossed", *moved)


def _bodies(edit: Edit, line: str) -> set[str | None]:
    """Return the bodies that the components at a line's ends are on, None for the chassis."""
    tags = (edit.plan["lines"][line][name].partition(".")[0] for name in ("from", "to"))
    return {edit.body(tag) for tag in tags if tag in edit.plan["components"]}


def _downstream(edit: Edit, line: str) -> str:
    """Return which end of a line is the farther one from the outlet: the one that loses it without the line."""
    entry = edit.plan["lines"].pop(line)
    seen = look(edit.plan)
    edit.plan["lines"][line] = entry
    outlets = {ref for fed in seen.fed_by.values() for ref in fed} | set().union(*seen.joined_outlets, set())
    outlets |= {
        f"{tag}.{name}" for tag in edit.of_kind("master cylinder") for name in edit.row(edit.part(tag))["outlets"]
    }
    return "to" if seen.water_of(entry["from"]) & outlets else "from"


def circuits_joined(edit: Edit) -> Made | None:
    """A line from one brake circuit to the other."""
    (front, front_water), (rear, rear_water) = _brake_circuits(edit).values()
    ports = []
    for water in (front_water, rear_water):
        lines = [tag for tag in edit.lines(4.75) if f"{tag}.from" in water and _bodies(edit, tag) <= {None}]
        if not lines:
            return None
        ports.append(edit.open_tube_port(edit.pick(lines)))
    edit.plan["lines"][edit.tag("link")] = {"from": ports[0], "to": ports[1], "tube": "tube-3-16-cuni"}
    return made("circuits-crossed", front, rear)


def one_outlet_for_all(edit: Edit) -> Made | None:
    """The rear brakes hung on the front outlet; the rear outlet is plugged, or left open on a tandem."""
    edit.plan.pop("circuits", None)
    edit.plan.pop("accept", None)
    (front, front_water), (rear, _) = _brake_circuits(edit).values()
    trunk = next((tag for tag, e in edit.plan["lines"].items() if rear in (e["from"], e["to"])), None)
    branch = [tag for tag in edit.lines(4.75) if f"{tag}.from" in front_water and _bodies(edit, tag) <= {None}]
    if trunk is None or not branch:
        return None
    entry = edit.plan["lines"][trunk]
    name = "from" if entry["from"] == rear else "to"
    entry.pop("ends", None)
    entry[name] = edit.open_tube_port(edit.pick(branch))
    tandem = rear.partition(".")[0] == front.partition(".")[0]
    if not (tandem and edit.pick([False, True])):
        if not closers(edit.part(rear), rear.partition(".")[2]):
            return None
        edit.close(rear)
    return made("single-circuit", front)


def valve_turned_round(edit: Edit) -> Made | None:
    """A one-way valve that the pressure enters at its outlet."""
    there = edit.of_kind("proportioning valve", "residual valve")
    if there and edit.pick([False, True]):
        tag = edit.pick(there)
        edit.rename({f"{tag}.in": f"{tag}.out", f"{tag}.out": f"{tag}.in"})
        return made("one-way-reversed", f"{tag}.in", f"{tag}.out")
    line = edit.pick(edit.lines(4.75))
    back = _downstream(edit, line) == "to"
    tag = edit.fit(edit.pick(valves(4.75)), like=edit.neighbour(line))
    near, far = (f"{tag}.out", f"{tag}.in") if back else (f"{tag}.in", f"{tag}.out")
    edit.cut(line, near, far)
    return made("one-way-reversed", near, far)


def line_round_in_a_circle(edit: Edit) -> Made:
    """A second way between two places of one circuit."""
    first = edit.pick(edit.lines(4.75))
    a = edit.open_tube_port(first)
    water = look(edit.plan).water_of(f"{first}.from")
    same = [tag for tag in edit.lines(4.75) if f"{tag}.from" in water and _bodies(edit, tag) == _bodies(edit, first)]
    b = edit.open_tube_port(edit.pick(same))
    tag = edit.tag("round")
    edit.plan["lines"][tag] = {"from": a, "to": b, "tube": "tube-3-16-cuni"}
    return made("circuit-looped", tag)


def no_bleed_screw(edit: Edit) -> Made:
    """A consumer without bleed screw at the end of its road."""
    seen = [ref.partition(".")[0] for ref in look(edit.plan).fed_by]
    tag = edit.pick([tag for tag in seen if edit.kind(tag) in CONSUMERS and not _passed_on(edit, tag)])
    edit.plan["components"][tag]["part"] = edit.own(edit.part(tag), bleeder="none")
    return made("no-bleeder", tag)


def bleed_screw_below_its_port(edit: Edit) -> Made:
    """A consumer whose bleed screw stands lower than where its fluid comes in."""
    seen = [ref.partition(".")[0] for ref in look(edit.plan).fed_by]
    tag = edit.pick([tag for tag in seen if edit.kind(tag) in CONSUMERS])
    low = ["0 mm", "0 mm", edit.pick(["-1 mm", "-40 mm"])]
    edit.plan["components"][tag]["part"] = edit.own(edit.part(tag), bleeder="M8x1.25", bleeder_at=low)
    return made("no-bleeder", tag)


def _passed_on(edit: Edit, tag: str) -> bool:
    """Return whether a banjo bolt at this consumer holds two eyes."""
    eyes = [joint for joint in edit.plan["joints"] if isinstance(joint, dict) and "eyes" in joint]
    return any(joint["port"].startswith(f"{tag}.") and len(joint["eyes"]) > 1 for joint in eyes)


def hump_in_a_line(edit: Edit) -> Made:
    """A line that rises well above both its ends."""
    tag = edit.pick(edit.lines())
    line = edit.plan["lines"][tag]
    line.pop("length", None)
    for number, name in enumerate(("from", "to")):
        line.setdefault("ends", {}).setdefault(name, {})["at"] = [800 * number, 0, 300 - 10 * number]
    line["route"] = [[200, 0, 300], [400, 0, edit.pick([330, 400, 900])], [600, 0, 300]]
    return made("air-trap", tag)


def stub_above_the_outlet(edit: Edit) -> Made:
    """A plug, switch or gauge that stands higher than the outlets of its circuit."""
    stub = edit.stub()
    outlet = next(ref for ref in sorted(look(edit.plan).water_of(stub.port)) if _outlet(edit, ref))
    tag = stub.end.partition(".")[0]
    edit.plan["components"][outlet.partition(".")[0]]["at"] = [0, 0, 500]
    edit.plan["components"][tag]["at"] = [100, 0, edit.pick([501, 620, 1000])]
    return made("air-trap", tag)


def _outlet(edit: Edit, ref: str) -> bool:
    tag, _, name = ref.partition(".")
    return tag in edit.plan["components"] and name in edit.row(edit.part(tag)).get("outlets", [])


def feed_left_out(edit: Edit) -> Made:
    """A master cylinder whose feed hose is not there."""
    feeds = _feeds(edit)
    feed = edit.pick(sorted(feeds))
    del edit.plan["hoses"][feeds[feed]]
    return made("reservoir-missing", feed)


def _feeds(edit: Edit) -> dict[str, str]:
    """Return the hose at each feed of a master cylinder."""
    found: dict[str, str] = {}
    for tag, hose in edit.plan["hoses"].items():
        for name in ("from", "to"):
            ref = hose.get(name, "")
            if ref.partition(".")[2].startswith("feed") and ref.partition(".")[0] in edit.plan["components"]:
                found[ref] = tag
    return found


def little_fluid(edit: Edit) -> Made:
    """Reservoirs that hold less than the brakes take."""
    tanks = edit.of_kind("reservoir")
    for tag in tanks:
        edit.plan["components"][tag]["part"] = edit.own(edit.part(tag), reservoir_volume="900 cm3")
    for ref in look(edit.plan, edit.house).fed_by:
        tag = ref.partition(".")[0]
        edit.plan["components"][tag]["part"] = edit.own(edit.part(tag), displacement="20 cm3")
    feed = edit.pick([ref for ref in sorted(_feeds(edit)) if _feeds_brakes(edit, ref)])
    master = feed.partition(".")[0]
    serving: set[str] = set()
    for ref in (ref for ref in _feeds(edit) if ref.startswith(f"{master}.")):
        serving |= {end.partition(".")[0] for end in look(edit.plan, edit.house).water_of(ref)} & set(tanks)
    for tag in sorted(serving):
        small = edit.own(edit.part(tag))
        edit.house[f"{small}-small"] = edit.house[small] | {"reservoir_volume": "5 cm3"}
        edit.plan["components"][tag]["part"] = f"{small}-small"
    return made("reservoir-small", *serving)


def _feeds_brakes(edit: Edit, feed: str) -> bool:
    seen = look(edit.plan, edit.house)
    master = feed.partition(".")[0]
    return any(
        outlet.startswith(f"{master}.")
        for ref, outlets in seen.fed_by.items()
        for outlet in outlets
        if edit.kind(ref.partition(".")[0]) in BRAKES
    )
