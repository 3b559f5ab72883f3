"""The hole schedule: what each hole has to be, what makes it, what is wrong, what is not known."""

import pytest

from fitcheck.making.holes import hole_schedule
from fitcheck.reports.hole_words import remark_text
from fitcheck.sources import InputError
from tests.making.benches import graph_of

CAR = """\
components:
  a: {{part: union-3-16-inverted, at: [0, 0, 0]}}
  b: {{part: union-3-16-inverted, at: [300, 200, 0]}}
  c: {{part: union-3-16-inverted}}
lines:
  run:
    from: a.b
    to: b.a
    tube: tube-3-16-cuni
    route: [[150, 0, 0], {{at: [150, 100, 0], through: wall}}, [150, 200, 0]]
  other: {{from: b.b, to: c.a, tube: tube-3-16-cuni, length: 700 mm}}
panels: {{wall: {{{wall}}}}}
{more}
"""
GROMMET = "hole: 12 mm, thickness: 1.5 mm, grommet: grommet-3-16, material: mild steel"


def schedule(wall: str = GROMMET, more: str = "", lines=None):
    """Return the schedule of a build with one panel."""
    return hole_schedule(graph_of(CAR.format(wall=wall, more=more)), lines)


def job_of(made, what: str = "panel"):
    """Return the one job of a kind."""
    (found,) = [job for job in made.jobs if job.what == what]
    return found


def wrongs(job):
    """Return what is wrong with a job, in words."""
    return [remark_text(remark, "mm") for remark in job.wrong]


def looks(job):
    """Return what to look at, in words."""
    return [remark_text(remark, "mm") for remark in job.look_at]


def test_a_grommet_in_a_panel():
    """A panel's hole is as its grommet needs, with place, line, drills, speeds, feed and grommet."""
    job = job_of(schedule())
    assert (job.mm, job.why.word, job.grommet, job.wrong, job.unknown) == (12.0, "needs", "grommet-3-16", (), ())
    assert [(spot.name, spot.at, spot.lines) for spot in job.spots] == [("wall", (150.0, 100.0, 0.0), ("run",))]
    assert [(step.drill.name, step.sheet_tool) for step in job.steps] == [("4 mm", False), ("12 mm", True)]
    assert [round(step.speed.used_rpm) for step in job.steps] == [1989, 663]
    assert [step.feed.mm if step.feed else None for step in job.steps] == [pytest.approx(0.2 * 4 / 6), None]
    assert job.source == "hole, outside diameter and grip: from memory; measure yours"


def test_a_hole_that_its_part_takes_is_made_as_stated():
    """A stated size within what the part takes stays; the schedule says what the part is made for."""
    job = job_of(schedule(GROMMET.replace("12 mm", "12.4 mm")))
    assert (job.mm, job.why.word, job.why.values["need"], job.wrong) == (12.4, "suits", 12.0, ())


def test_a_hole_that_disagrees_is_made_as_the_part_needs():
    """A stated size that the part does not take is told as wrong, and the drills are those for the part."""
    job = job_of(schedule(GROMMET.replace("12 mm", "18 mm")))
    assert job.mm == 12.0
    assert wrongs(job) == ["the build states 18 mm for wall, grommet-3-16 needs 12 mm"]


def test_a_panel_thicker_than_the_grip():
    """A sheet that the part cannot grip is told as wrong."""
    job = job_of(schedule(GROMMET.replace("1.5 mm", "2.5 mm")))
    assert wrongs(job) == ["wall is 2.5 mm thick, grommet-3-16 grips up to 1.6 mm"]


def test_a_bare_edge_is_wrong_and_the_grommet_is_named():
    """A hole that a line passes with nothing in it is told as wrong, with the grommet and the hole that it needs."""
    job = job_of(schedule("hole: 10 mm, thickness: 1.5 mm, material: 304"))
    assert (job.mm, job.grommet, job.hardens) == (10.0, None, True)
    assert wrongs(job) == ["run would pass a bare edge: grommet-3-16 in a hole of 12 mm guards it"]


def test_a_hole_that_the_tube_does_not_pass_has_no_diameter():
    """A stated hole smaller than the tube is wrong and gets no drill."""
    job = job_of(schedule("hole: 4 mm, thickness: 1.5 mm, material: 304"))
    assert (job.mm, job.steps) == (None, ())
    assert wrongs(job)[0] == "run is 4.76 mm thick and does not pass 4 mm"


def test_what_the_build_does_not_say():
    """Without size, metal and thickness there are no drills, and each missing field is named."""
    job = job_of(schedule("note: not measured yet"))
    assert (job.mm, job.steps, job.why.word) == (None, (), "nobody")
    assert job.unknown == ("panels.wall.hole", "panels.wall.thickness", "panels.wall.material")


def test_no_speed_without_the_metal():
    """A metal that is not stated, or not in the table, gets drills but no speed and no feed."""
    unsaid = job_of(schedule(GROMMET.replace(", material: mild steel", "")))
    assert [step.speed for step in unsaid.steps] == [None, None]
    assert unsaid.unknown == ("panels.wall.material",)
    odd = job_of(schedule(GROMMET.replace("mild steel", "unobtainium")))
    assert [step.feed for step in odd.steps] == [None, None]
    assert looks(odd) == [
        "No drilling speed is known for unobtainium; the table has mild steel, stainless steel, aluminium."
    ]


def test_a_grommet_that_no_catalog_has():
    """A grommet that is in no catalog is a missing field, and its hole is made as stated."""
    job = job_of(schedule(GROMMET.replace("grommet-3-16", "grommet-mine")))
    assert (job.mm, job.grommet, job.unknown) == (12.0, None, ("panels.wall.grommet",))


def test_the_machine():
    """The machine's nearest speed at or below is set; one that is always too fast is told."""
    tools = "tools: {drills: {kind: carbon steel, speeds: [900, 500, 1400]}}"
    made = schedule(GROMMET.replace("mild steel", "304"), tools)
    job = job_of(made)
    assert (made.tool, made.tool_assumed) == ("carbon steel", False)
    assert [round(step.speed.used_rpm) for step in job.steps] == [477, 159]
    assert [step.set_rpm for step in job.steps] == [500, 500]
    assert looks(job) == ["The machine's slowest speed, 500 rpm, is too fast for 12 mm: at most 225 rpm is printed."]


def test_hss_is_assumed_and_said():
    """Drills that nobody names are taken for HSS, and the schedule says so."""
    made = schedule()
    assert (made.tool, made.tool_assumed) == ("HSS", True)
    assert [remark_text(remark, "mm") for remark in made.remarks] == [
        "Drills are taken to be of HSS: state `tools.drills.kind`."
    ]


def test_sheet_thinner_than_the_point():
    """A twist drill whose point is longer than the sheet is thick needs wood behind the sheet."""
    job = job_of(schedule("hole: 9 mm, thickness: 1 mm, material: aluminium"))
    assert [step.drill.name for step in job.steps] == ["2.5 mm", "9 mm"]
    assert looks(job) == [
        "The sheet is thinner than the point of the 9 mm drill (2.7 mm, derived): clamp wood behind it."
    ]


def test_a_bulkhead_part_in_the_panel():
    """A bulkhead union in a panel gives the hole, without grommet and bare edge."""
    text = CAR.format(wall="hole: 14 mm, thickness: 1.6 mm, material: mild steel", more="")
    joiner = "  joiner: {part: bulkhead-union-3-16-inverted, at: [150, 100, 0]}\n"
    text = text.replace("components:\n", f"components:\n{joiner}")
    made = hole_schedule(graph_of(text))
    job = job_of(made)
    assert (job.mm, job.why.values["part"], job.wrong) == (14.0, "bulkhead-union-3-16-inverted", ())
    assert [job.what for job in made.jobs] == ["panel", "clip"]


def test_two_parts_in_one_hole():
    """More than one part in a hole is told as wrong."""
    more = "variants: {}"
    text = CAR.format(wall=GROMMET, more=more)
    text = text.replace(
        "components:\n", "components:\n  joiner: {part: bulkhead-union-3-16-inverted, at: [150, 100, 0]}\n"
    )
    job = job_of(hole_schedule(graph_of(text)))
    assert job.mm == 14.0
    assert "wall has several parts in it: joiner, wall" in wrongs(job)


def test_brackets_alike_are_one_job():
    """Bulkhead unions of one kind outside every panel are one job; a part without a hole in its catalog is its own."""
    parts = {"left": "bulkhead-union-3-16-inverted", "right": "bulkhead-union-3-16-inverted"}
    parts["odd"] = "bulkhead-union-m14x1-5-bubble"
    known, odd, screws = hole_schedule(graph_of(f"components: {_components(parts)}\n")).jobs
    assert ([spot.name for spot in known.spots], known.many, known.mm) == (["left", "right"], 2, 14.0)
    assert (odd.mm, odd.steps) == (None, ())
    assert odd.unknown[0] == "parts.bulkhead-union-m14x1-5-bubble.panel.hole"
    assert [spot.name for spot in screws.spots] == ["left", "right", "odd"]


def _components(parts: dict[str, str]) -> str:
    return "{" + ", ".join(f"{tag}: {{part: {part}}}" for tag, part in parts.items()) + "}"


def test_panels_alike_are_one_job():
    """Panels whose holes are made alike are one job, which names what is missing of each of them."""
    panels = "panels: {{p: {0}, q: {0}, r: {1}}}\n".format(
        "{hole: 12 mm, thickness: 1 mm, grommet: grommet-3-16}", "{hole: 12 mm, thickness: 2 mm, grommet: grommet-3-16}"
    )
    thin, thick = hole_schedule(graph_of(panels)).jobs
    assert ([spot.name for spot in thin.spots], thin.many) == (["p", "q"], 2)
    assert thin.unknown == ("panels.p.material", "panels.q.material")
    assert [spot.name for spot in thick.spots] == ["r"]


def test_clips_by_line():
    """Each line has as many clip holes as clips hold it; nobody says how, so tapped M5 is taken and said."""
    job = job_of(schedule(), "clip")
    assert [(spot.name, spot.many) for spot in job.spots] == [("run", 2), ("other", 3)]
    assert (job.many, job.mm, job.tap) == (5, 4.2, "M5x0.8")
    assert looks(job) == [
        "consumables.clips.fixed is not given. Taken to be screwed into holes tapped M5 (common practice, no source)."
    ]
    assert job.unknown == ("consumables.clips.fixed.material",)


@pytest.mark.parametrize(
    ("fixed", "mm", "tap", "drills"),
    [
        ("thread: M6", 5.0, "M6x1", ["5 mm"]),
        ("thread: 3/8-24", 8.4328, "3/8-24 UNF", ["2.5 mm", "letter Q (0.332 in)"]),
        ("screw: M5", 5.3, None, ["2.5 mm", "5.3 mm"]),
        ("hole: 6.5 mm", 6.5, None, ["2.5 mm", "6.5 mm"]),
    ],
)
def test_how_clips_are_fixed(fixed, mm, tap, drills):
    """A tapped hole has its tap drill, a screw its fine clearance hole, a push-in clip the hole that is stated."""
    more = f"consumables: {{clips: {{fixed: {{{fixed}, material: mild steel, thickness: 4 mm}}}}}}"
    job = job_of(schedule(more=more), "clip")
    assert (job.mm, job.tap) == (pytest.approx(mm), tap)
    assert [step.drill.name for step in job.steps] == drills
    assert all(step.speed is not None for step in job.steps)
    assert (looks(job), job.unknown) == ([], ())


def test_a_thread_in_thin_sheet():
    """Sheet that holds fewer than three turns of the thread is told as wrong."""
    more = "consumables: {clips: {fixed: {thread: M5, material: mild steel, thickness: 1.2 mm}}}"
    assert wrongs(job_of(schedule(more=more), "clip")) == [
        "1.2 mm of metal holds 1.5 turns of M5x0.8, fewer than 3 (common practice, no source): weld or rivet a nut in"
    ]


def test_sources_that_differ_on_a_tap_drill():
    """Where charts differ, the schedule says which drill is used and what the others print."""
    more = "consumables: {clips: {fixed: {thread: M8, material: mild steel, thickness: 8 mm}}}"
    assert looks(job_of(schedule(more=more), "clip")) == [
        "Sources differ on the tap drill: 6.8 mm is used, one tap and drill chart prints 6.7 mm.",
        "Sources differ on the tap drill: 6.8 mm is used, thread-cutting handbook for trainees prints 6.75 mm.",
    ]


@pytest.mark.parametrize(
    ("fixed", "field"),
    [("thread: G1/8", "tap drill of G1/8"), ("screw: M20", "clearance hole of M20x2.5")],
)
def test_a_hole_that_no_table_has(fixed, field):
    """A thread without tap drill or clearance hole gets no diameter, and what is missing is named."""
    job = job_of(schedule(more=f"consumables: {{clips: {{fixed: {{{fixed}}}}}}}"), "clip")
    assert (job.mm, job.steps) == (None, ())
    assert field in job.unknown


def test_a_clip_is_fixed_in_one_way():
    """A clip that is both screwed and pushed in is refused."""
    with pytest.raises(InputError, match="a clip is fixed in one way: give one of `thread`, `screw` and `hole`"):
        schedule(more="consumables: {clips: {fixed: {thread: M5, hole: 6 mm}}}")


def test_no_such_thread():
    """A screw's thread that does not exist is refused where it is written."""
    with pytest.raises(InputError, match=r"'M5x0\.9' is not a thread designation"):
        schedule(more="consumables: {clips: {fixed: {screw: M5x0.9}}}")


def test_a_clip_that_is_there_is_drilled_where_it_is():
    """A clip of the build's own near a line is one hole at its place; the line's other clips are counted beside it."""
    text = CAR.format(wall=GROMMET, more="").replace(
        "components:\n", "components:\n  held: {part: clip-3-16, at: [75, 0, 0]}\n"
    )
    job = job_of(hole_schedule(graph_of(text), ["run"]), "clip")
    assert [(spot.name, spot.many, spot.at) for spot in job.spots] == [
        ("run", 1, None),
        ("held", 1, (75.0, 0.0, 0.0)),
    ]


def test_some_lines_only():
    """Of one line there are only its panels, its clips and what it goes into."""
    made = schedule(lines=["other"])
    assert [job.what for job in made.jobs] == ["clip"]
    assert [spot.name for spot in made.jobs[0].spots] == ["other"]
    both = schedule(lines=["run"])
    assert [job.what for job in both.jobs] == ["panel", "clip"]


def test_a_line_without_a_length():
    """A line of which no length is known makes the number of clips a missing field."""
    text = CAR.format(wall=GROMMET, more="").replace(", length: 700 mm", "")
    job = job_of(hole_schedule(graph_of(text)), "clip")
    assert job.unknown == ("lines.other.length", "consumables.clips.fixed.material")


def test_parts_that_are_screwed_to_the_car():
    """What holds cylinders and tanks is in no catalog: they are named, never left out in silence."""
    made = hole_schedule(graph_of("components: {mc: {part: mc-3-8-24-inverted}, tee: {part: tee-3-16-inverted}}\n"))
    assert made.jobs == ()
    assert [remark_text(remark, "mm") for remark in made.remarks] == [
        "The holes that fix these to the car are in no catalog, drill to the part in hand: mc, tee."
    ]


def test_inches():
    """Who measures in inches gets inch drills, no smaller than the part needs."""
    text = "coordinates: in\ncomponents: {wall: {part: bulkhead-union-3-16-inverted}}\n"
    made = hole_schedule(graph_of(text))
    assert made.unit == "in"
    assert [step.drill.name for step in job_of(made, "bracket").steps] == ["5/32 in", "9/16 in"]
    assert [step.drill.name for step in job_of(made, "bracket screw").steps] == ["4.2 mm"]
