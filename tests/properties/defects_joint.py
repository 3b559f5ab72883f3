"""Joints that do not seal, and fixings that do not suit."""

from collections.abc import Callable
from typing import Any

from tests.properties.edited import Made, made
from tests.properties.editing import Edit, Stub
from tests.properties.generic_parts import (
    NUTTED,
    ROWS,
    Port,
    bolts,
    of_kind,
    passes,
    port,
    same_size,
    screws,
    takes_tube,
)

_CLOSING = ("plug", "cap", "pressure switch", "gauge")


def _closing() -> list[tuple[str, str, Port]]:
    return [(key, name, found) for key in of_kind(*_CLOSING) for name, found in ROWS[key]["ports"].items()]


def _swap(edit: Edit, stub: Stub, part_id: str, name: str) -> tuple[str, str]:
    """Fit another closing part at a stub; return both ends of the joint."""
    tag = stub.end.partition(".")[0]
    edit.plan["components"][tag]["part"] = part_id
    edit.plan["joints"][stub.index] = [f"{tag}.{name}", stub.port]
    return f"{tag}.{name}", stub.port


def other_thread(edit: Edit) -> Made:
    """A plug, cap, switch or gauge of another thread in a closed port."""
    stub = edit.stub()
    there = edit.port(stub.port)
    choices = [
        (key, name)
        for key, name, found in _closing()
        if found["gender"] != there["gender"] and found["thread"] != there["thread"]
    ]
    return made("thread-mismatch", *_swap(edit, stub, *edit.pick(choices)))


def bolt_of_another_thread(edit: Edit) -> Made | None:
    """A banjo bolt stated whose thread is not that of the port, though it goes through the eyes."""
    joint = _banjo(edit)
    if joint is None:
        return None
    thread = edit.port(joint["port"])["thread"]
    eye = edit.port(joint["eyes"][0])["eye"]
    fits = [key for key in of_kind("banjo bolt") if ROWS[key]["eyes"] >= len(joint["eyes"])]
    threads = {key: port(key, "bolt")["thread"] for key in fits}
    wrong = [key for key, other in threads.items() if other != thread and passes(other, eye)]
    if not wrong:
        return None
    joint["bolt"] = edit.pick(wrong)
    return made("thread-mismatch", joint["port"])


def _banjo(edit: Edit) -> dict[str, Any] | None:
    """Return a banjo joint as the file states it, made from a hose's end if there is none."""
    joints = [joint for joint in edit.plan["joints"] if isinstance(joint, dict) and "eyes" in joint]
    stated = {eye for joint in joints for eye in joint["eyes"]}
    for tag, hose in edit.plan["hoses"].items():
        if "to" in hose and "eye" in edit.port(f"{tag}.to") and f"{tag}.to" not in stated:
            joints.append({"port": hose["to"], "eyes": [f"{tag}.to"]})
    if not joints:
        return None
    joint = edit.pick(joints)
    if joint not in edit.plan["joints"]:
        edit.plan["joints"].append(joint)
    return joint


def same_side(edit: Edit) -> Made:
    """A closing part of the same gender as the port."""
    stub = edit.stub()
    gender = edit.port(stub.port)["gender"]
    choices = [(key, name) for key, name, found in _closing() if found["gender"] == gender]
    return made("gender-clash", *_swap(edit, stub, *edit.pick(choices)))


def adapter_turned_round(edit: Edit) -> Made | None:
    """An adapter of which the wrong end is brought to a port that it would fit with its other gender."""
    for joint in edit.plan["joints"]:
        refs = joint if isinstance(joint, list) else joint.get("ports", [])
        for own, there in (refs, refs[::-1]) if len(refs) == 2 else ():
            part_id = edit.part(own)
            for before, after in (("-male", "-female"), ("-female", "-male")):
                swapped = part_id[: -len(before)] + after if part_id.endswith(before) else ""
                if edit.kind(own.partition(".")[0]) == "adapter" and own.endswith(".b") and swapped in ROWS:
                    edit.plan["components"][own.partition(".")[0]]["part"] = swapped
                    return made("gender-clash", own, there)
    return None


def other_seat(edit: Edit) -> Made | None:
    """A closing part of the port's own thread that seals in another way."""

    def others(there: Port) -> list[tuple[str, str]]:
        return [
            (key, name)
            for key, name, found in _closing()
            if found["gender"] != there["gender"]
            and found["thread"] == there["thread"]
            and found["seat"] != there["seat"]
        ]

    if not edit.lines(4.75):
        return None
    stub = edit.stub(lambda there: bool(others(there)))
    return made("seat-mismatch", *_swap(edit, stub, *edit.pick(others(edit.port(stub.port)))))


def tube_where_none_goes(edit: Edit) -> Made | None:
    """A consumer at the end of a line whose inlet takes no flared tube."""
    found = _consumer(edit, lambda there: there["seat"] not in NUTTED)
    return None if found is None else made("seat-mismatch", *found)


def inlet_of_another_size(edit: Edit) -> Made | None:
    """A consumer at the end of a line that is made for another size of tube."""
    found = _consumer(edit, lambda there: takes_tube(there, there.get("tube", 0)))
    return None if found is None else made("tube-size-mismatch", *found)


def _consumer(edit: Edit, wanted: Callable[[Port], bool]) -> tuple[str, str] | None:
    """Change a consumer at the end of a line for another; return its inlet and the line's end."""
    places = [
        (entry[name], f"{tag}.{name}")
        for tag, entry in edit.plan["lines"].items()
        for name in ("from", "to")
        if entry[name].endswith(".inlet") and "ends" not in entry
    ]
    choices = [
        (inlet, end, key)
        for inlet, end in places
        for key in of_kind(edit.kind(inlet.partition(".")[0]))
        if wanted(port(key, "inlet"))
        and not same_size(port(key, "inlet").get("tube"), edit.size(end.partition(".")[0]))
    ]
    if not choices:
        return None
    inlet, end, key = edit.pick(choices)
    edit.plan["components"][inlet.partition(".")[0]]["part"] = key
    return inlet, end


def line_into_a_larger_fitting(edit: Edit) -> Made | None:
    """A line cut open with a reducer: the tube on one side of it is the wrong one."""
    line = edit.pick(edit.lines())
    size = edit.size(line)
    reducers = [
        (key, name, far)
        for key in of_kind("adapter", "union", "bulkhead union")
        for name, found in ROWS[key]["ports"].items()
        for far, there in ROWS[key]["ports"].items()
        if name != far
        and takes_tube(found, size)
        and takes_tube(there, there.get("tube") or 0)
        and not takes_tube(there, size)
    ]
    key, name, far = edit.pick(reducers)
    tag = edit.fit(key, like=edit.neighbour(line))
    after = edit.cut(line, f"{tag}.{name}", f"{tag}.{far}")
    return made("tube-size-mismatch", f"{after}.from", f"{tag}.{far}")


def reservoir_of_another_bore(edit: Edit) -> Made | None:
    """A reservoir whose barb is not the hose's."""
    tags = [tag for tag in edit.of_kind("reservoir") if edit.part(tag) == "reservoir-1-outlet"]
    if not tags:
        return None
    tag = edit.pick(tags)
    edit.plan["components"][tag]["part"] = edit.pick(["reservoir-1-outlet-10mm", "reservoir-1-outlet-6mm"])
    return made("tube-size-mismatch", f"{tag}.outlet")


def eye_too_small(edit: Edit) -> Made | None:
    """A caliper whose bolt does not go through the eye of its hose, or rattles in it."""
    joint = _banjo(edit)
    if joint is None:
        return None
    tag = joint["port"].partition(".")[0]
    large = edit.port(joint["port"])["thread"] == "7/16-20 UNF"
    if edit.kind(tag) != "caliper" or "bolt" in joint:
        return None
    edit.plan["components"][tag]["part"] = "caliper-m10x1-washer" if large else "caliper-7-16-20-washer"
    return made("tube-size-mismatch", joint["port"])


def _end_of(edit: Edit) -> tuple[str, str, Port]:
    """Return a line's tag, an end of it, and the port there."""
    tag, name = edit.pick(edit.lines()), edit.pick(["from", "to"])
    return tag, name, edit.port(edit.plan["lines"][tag][name])


def other_flare(edit: Edit) -> Made:
    """A flare stated that the port does not take."""
    tag, name, there = _end_of(edit)
    right = {"inverted-flare": "double-45", "bubble": "bubble", "cone-37": "single-37"}[there["seat"]]
    wrong = [flare for flare in ("double-45", "bubble", "single-37", "single-45") if flare != right]
    edit.plan["lines"][tag].setdefault("ends", {}).setdefault(name, {})["flare"] = edit.pick(wrong)
    return made("flare-mismatch", f"{tag}.{name}")


def other_nut(edit: Edit) -> Made:
    """A nut stated that differs from the port in thread, side, seat or size of tube."""
    tag, name, there = _end_of(edit)
    wrong = [key for key in of_kind("nut") if not screws(port(key, "nut"), there)]
    edit.plan["lines"][tag].setdefault("ends", {}).setdefault(name, {})["nut"] = edit.pick(wrong)
    return made("nut-mismatch", f"{tag}.{name}")


def other_sleeve(edit: Edit) -> Made | None:
    """A sleeve stated that is made for another size of tube."""
    tag, name, there = _end_of(edit)
    if there["seat"] != "cone-37":
        return None
    wrong = [key for key in of_kind("sleeve") if not same_size(port(key, "sleeve")["tube"], there["tube"])]
    edit.plan["lines"][tag].setdefault("ends", {}).setdefault(name, {})["sleeve"] = edit.pick(wrong)
    return made("nut-mismatch", f"{tag}.{name}")


def washers_miscounted(edit: Edit) -> Made | None:
    """A number of washers stated that is not one more than the eyes."""
    joint = _banjo(edit)
    if joint is None:
        return None
    right = len(joint["eyes"]) + 1
    joint["washers"] = edit.pick([number for number in range(6) if number != right])
    return made("fixing-missing", joint["port"])


def bolt_too_short(edit: Edit) -> Made | None:
    """A bolt for one eye stated where there are two."""
    joints = [joint for joint in edit.plan["joints"] if isinstance(joint, dict) and len(joint.get("eyes", ())) == 2]
    if not joints:
        return None
    joint = edit.pick(joints)
    thread = edit.port(joint["port"])["thread"]
    joint["bolt"] = next(key for key in bolts(thread, 1) if ROWS[key]["eyes"] == 1)
    return made("fixing-missing", joint["port"])


def two_tube_ends(edit: Edit) -> Made:
    """Two tubes brought together with no union between them."""
    line = edit.pick(edit.lines())
    after = edit.cut(line, "", "")
    edit.plan["lines"][line]["to"] = f"{after}.from"
    edit.plan["lines"][after]["from"] = f"{line}.to"
    return made("fixing-missing", f"{line}.to", f"{after}.from")


def nut_that_nobody_sells(edit: Edit) -> Made:
    """A port of a thread that no nut of the catalog has."""
    line = edit.pick(edit.lines())
    third = edit.open_tube_port(line)
    tag = third.partition(".")[0]
    stub = edit.close(third)
    edit.drop(stub.end.partition(".")[0])
    size, there = edit.size(line), edit.port(third)
    far = edit.fit("union-3-16-inverted", like=tag)
    odd = edit.own_port("union-3-16-inverted", "a", thread="M9x0.75", tube=f"{size} mm")
    odd = edit.own_port(odd, "b", thread="M10x1", tube="4.75 mm", seat="bubble")
    edit.plan["components"][far]["part"] = odd
    edit.plan["lines"][edit.tag("branch")] = {"from": third, "to": f"{far}.a", "tube": edit.plan["lines"][line]["tube"]}
    end = edit.fit("plug-m10x1-bubble", like=tag)
    edit.plan["joints"].append([f"{end}.end", f"{far}.b"])
    assert takes_tube(there, size)
    return made("fixing-missing", f"{far}.a")


def little_thread(edit: Edit) -> Made | None:
    """A plug with a long thread in a port with hardly any."""
    stub = edit.stub(lambda there: there["seat"] != "taper")
    if edit.port(stub.port)["seat"] == "taper":
        return None
    inner, outer = (stub.port, stub.end) if edit.port(stub.port)["gender"] == "internal" else (stub.end, stub.port)
    for ref, key in ((inner, "depth"), (outer, "length")):
        tag, _, name = ref.partition(".")
        edit.plan["components"][tag]["part"] = edit.own_port(edit.part(tag), name, **{key: "2 mm"})
    return made("short-engagement", stub.end, stub.port)
