"""Parts, tube and fluid that may not do this work, and rigid things between moving ones."""

from tests.properties.edited import Made, made
from tests.properties.editing import Edit

_INTO_NPT = {
    4.75: "adapter-3-8-24-inverted-female-1-8-npt-female",
    6.35: "adapter-7-16-24-inverted-female-1-8-npt-female",
    6.0: "adapter-m12x1-bubble-female-1-8-npt-female",
}
_COPPER = {4.75: "tube-3-16-copper", 6.35: "tube-1-4-copper", 6.0: "tube-6mm-copper"}
_WITH_RUBBER = (
    "reservoir",
    "master cylinder",
    "slave cylinder",
    "wheel cylinder",
    "caliper",
    "pressure switch",
    "proportioning valve",
    "residual valve",
)


def feed_hose_under_pressure(edit: Edit) -> Made:
    """A line mended with a piece of feed hose on two barbs."""
    line = edit.pick(edit.lines())
    size, like = edit.size(line), edit.neighbour(line)
    near, far = (edit.fit(_INTO_NPT[size], like=like) for _ in range(2))
    edit.cut(line, f"{near}.a", f"{far}.a")
    barbs = [edit.fit("adapter-1-8-npt-male-barb-8mm", like=like) for _ in range(2)]
    edit.plan["joints"] += [[f"{barbs[0]}.a", f"{near}.b"], [f"{barbs[1]}.a", f"{far}.b"]]
    hose = edit.tag("mend")
    edit.plan["hoses"][hose] = {"part": "feed-hose-8mm", "from": f"{barbs[0]}.b", "to": f"{barbs[1]}.b"}
    return made("unpressurised-part", hose)


def single_flare_joint(edit: Edit) -> Made:
    """A line cut open with a fitting that takes a single 45 degree flare on one side."""
    line = edit.pick(edit.lines(4.75))
    weak = edit.own_port("union-3-16-inverted", "b", gender="external", seat="cone-45", thread="5/16-28 UN")
    nut = edit.own_port("nut-3-8-24-inverted", "nut", gender="internal", seat="cone-45", thread="5/16-28 UN")
    tag = edit.fit(weak, like=edit.neighbour(line))
    after = edit.cut(line, f"{tag}.a", f"{tag}.b")
    edit.plan["lines"][after]["ends"] = {"from": {"flare": "single-45", "nut": nut}}
    return made("unpressurised-part", f"{tag}.b", f"{after}.from")


def copper_tube(edit: Edit) -> Made:
    """A line of plain copper."""
    line = edit.pick(edit.lines())
    edit.plan["lines"][line]["tube"] = _COPPER[edit.size(line)]
    return made("tube-material-refused", line)


def rubber_for_another_fluid(edit: Edit) -> Made:
    """A part whose rubber does not stand the fluid."""
    tag = edit.pick(edit.of_kind(*_WITH_RUBBER))
    edit.plan["components"][tag]["part"] = edit.own(edit.part(tag), fluid_families=["mineral"])
    return made("fluid-unsuitable", tag)


def clutch_cylinder_too_small(edit: Edit) -> Made | None:
    """A clutch whose master cylinder moves too little fluid; the build's own catalog has a larger one."""
    slaves = edit.of_kind("slave cylinder")
    if not slaves:
        return None
    master, slave = edit.of_kind("master cylinder")[-1], slaves[0]  # those of the brakes are fitted first
    part = edit.part(master)
    edit.own(part, bore="19 mm", stroke="36 mm")
    edit.plan["components"][master]["part"] = edit.own(f"own-{part}-small", bore="12.7 mm", stroke="12 mm")
    edit.plan["components"][slave]["part"] = edit.own(edit.part(slave), bore="22 mm")
    needs = {"needs_travel": "10 mm", "needs_force": "300 N"}
    edit.plan["clutch"] = {"force": "200 N", "ratio": 5, "travel": "150 mm", **needs}
    return made("stroke-short", slave)


def line_to_another_body(edit: Edit) -> Made | None:
    """A consumer at the end of a rigid line that moves against the line's other end."""
    places = [
        (entry[name].partition(".")[0], tag)
        for tag, entry in edit.plan["lines"].items()
        for name in ("from", "to")
        if entry[name].endswith(".inlet")
        and all(entry[end].partition(".")[0] in edit.plan["components"] for end in ("from", "to"))
    ]
    if not places:
        return None
    consumer, line = edit.pick(places)
    edit.plan.setdefault("bodies", {})["engine"] = {}
    edit.plan["components"][consumer]["on"] = "engine"
    return made("rigid-across-bodies", line)


def screwed_to_another_body(edit: Edit) -> Made:
    """A plug, switch or gauge said to be on another body than what it is screwed into."""
    stub = edit.stub()
    holder, closer = stub.port.partition(".")[0], stub.end.partition(".")[0]
    edit.plan.setdefault("bodies", {})["engine"] = {}
    edit.plan["components"][holder]["on"] = edit.body(holder) or "chassis"
    edit.plan["components"][closer]["on"] = "engine"
    return made("rigid-across-bodies", stub.end, stub.port)
