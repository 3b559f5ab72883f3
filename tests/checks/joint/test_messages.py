"""Every way a joint can be wrong: the rule that speaks, its whole message, and the evidence behind it."""

from pathlib import Path

import pytest

from fitcheck.build.load import load
from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.run import check

HOUSE = """\
catalog: 1
parts:
  block:                            # one port of every kind, no passage between them
    kind: union
    ports:
      m10: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      m10_flat: {thread: M10x1, gender: internal, seat: washer-face}
      stud: {thread: M10x1, gender: external, seat: washer-face}
      unf: {thread: 3/8-24 UNF, gender: internal, seat: inverted-flare, tube: 3/16 in}
      cone: {thread: 3/8-24 UNF, gender: external, seat: cone-37, tube: 3/16 in}
      nose: {thread: 3/8-24 UNF, gender: external, seat: inverted-flare, tube: 3/16 in}
      odd: {thread: M18x1.5, gender: internal, seat: bubble, tube: 4.75 mm}
      taper: {thread: 1/8-27 NPT, gender: internal, seat: taper}
      barb: {gender: external, seat: push-on, hose: 8 mm}
      bare: {thread: M10x1}
      seatless: {thread: M10x1, gender: internal}
      rod: {thread: 5/16-24 UNF, gender: external, reach: 30 mm}
      pushrod: {thread: 5/16-24 UNF, gender: internal, reach: 38 mm}
      flange: {pattern: two 8 mm at 57 mm}
      flange_2: {pattern: two 8 mm at 50 mm}
    passages: []
  unj:
    kind: union
    ports: {cone: {thread: 3/8-24 UNJF, gender: external, seat: cone-37, tube: 3/16 in}}
  threadless:
    kind: union
    ports: {x: {gender: internal, seat: bubble, tube: 4.75 mm}}
  half-a-nut: {kind: nut, ports: {nut: {thread: M10x1, gender: external}}}
  thick: {kind: tube, od: 3/16 in, wall: 0.035 in, material: steel}
  eye-small: {kind: hose, ports: {from: {seat: washer-face, eye: 8 mm}, to: {seat: washer-face, eye: 10 mm}}}
"""


def report_of(body: str, folder: Path) -> Report:
    """Return the report of a build with these sections."""
    (folder / "house.yaml").write_text(HOUSE, encoding="utf-8")
    text = f"build: 1\ncatalogs: [house.yaml]\n{body}"
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    return check(load(folder))


JOINT_RULES = (
    *("thread-mismatch", "gender-clash", "nut-mismatch", "seat-mismatch", "flare-mismatch", "tube-size-mismatch"),
    *("fixing-missing", "short-engagement"),
)


def spoken(body: str, folder: Path) -> list[Finding]:
    """Return what joint rules find."""
    return [finding for finding in report_of(body, folder).findings if finding.rule in JOINT_RULES]


PAIRS = [
    ("block.m10, plug-3-8-24-inverted", "thread-mismatch",
     "o.end (3/8-24 UNF) runs in loose and strips in b.m10 (M10x1)"),
    ("block.unf, plug-m10x1-bubble", "thread-mismatch", "o.end (M10x1) will not start in b.unf (3/8-24 UNF)"),
    ("block.unf, plug-m10x1-25-washer", "thread-mismatch", "o.end (M10x1.25) will not start in b.unf (3/8-24 UNF)"),
    ("block.taper, plug-g1-8", "thread-mismatch", "o.end (G1/8) starts, then binds in b.taper (1/8-27 NPT)"),
    ("block.cone, plug-3-8-24-inverted", "gender-clash", "b.cone and o.end are both external"),
    ("block.m10, plug-m10x1-inverted", "seat-mismatch", "inverted-flare of o.end against bubble of b.m10"),
    ("block.m10_flat, plug-m10x1-bubble", "seat-mismatch", "bubble of o.end against washer-face of b.m10_flat"),
    ("block.odd, plug-m18x1-5-bubble-for-10", "tube-size-mismatch", "tube 10 mm at o.end, 4.75 mm at b.odd"),
]  # fmt: skip


@pytest.mark.parametrize(("ends", "rule", "message"), PAIRS)
def test_two_ports(ends: str, rule: str, message: str, tmp_path: Path) -> None:
    """Two ports that do not join give one finding of the rule that speaks, with both names and designations."""
    (own, other) = ends.split(", ")
    port = own.partition(".")[2]
    body = f"components: {{b: {{part: block}}, o: {{part: {other}}}}}\njoints: [[b.{port}, o.end]]\n"
    (finding,) = spoken(body, tmp_path)
    assert (finding.rule, finding.message, finding.level) == (rule, message, "error")
    assert set(finding.at) == {f"b.{port}", "o.end"}


def test_a_joint_with_two_faults_is_one_finding(tmp_path: Path) -> None:
    """Threads speak before seats, and the seats that differ too are evidence of the same finding."""
    body = "components: {b: {part: block}, o: {part: plug-3-8-24-inverted}}\njoints: [[b.m10, o.end]]\n"
    (finding,) = spoken(body, tmp_path)
    assert finding.evidence["verdict"] == "runs-in-loose"
    assert [fault["rule"] for fault in finding.evidence["also"]] == ["seat-mismatch"]
    low, high = finding.evidence["overlap_percent"]
    assert (round(low), round(high)) == (15, 54)  # the same pair as in the table of derived predictions


LINES = [
    ("m10", "tube-3-16-cuni", "{flare: double-45}", "flare-mismatch",
     "double-45 flare stated for r.from; the bubble port takes bubble"),
    ("m10", "tube-3-16-cuni", "{nut: nut-3-8-24-inverted}", "nut-mismatch",
     "nut nut-3-8-24-inverted (3/8-24 UNF) runs in loose and strips in b.m10 (M10x1)"),
    ("m10", "tube-3-16-cuni", "{nut: nut-m10x1-inverted}", "nut-mismatch",
     "nut nut-m10x1-inverted is made for inverted-flare, b.m10 for bubble"),
    ("cone", "tube-3-16-steel", "{nut: nut-3-8-24-inverted}", "nut-mismatch",
     "nut nut-3-8-24-inverted and b.cone are both external"),
    ("cone", "tube-3-16-steel", "{sleeve: sleeve-an4}", "nut-mismatch", "sleeve sleeve-an4 is not made for r.from"),
    ("unf", "tube-1-4-cuni", "{}", "tube-size-mismatch", "1/4 in tube of r.from against b.unf, made for 3/16 in"),
    ("unf", "thick", "{}", "flare-mismatch", "wall 0.89 mm of r is too thick for a double-45 flare"),
    ("nose", "tube-3-16-cuni", "{}", "gender-clash", "b.nose is external, and so is the nut of r.from"),
    ("odd", "tube-3-16-cuni", "{}", "fixing-missing",
     "no catalog has what b.odd needs: M18x1.5 external nut, bubble, for 3/16 in tube"),
    ("taper", "tube-3-16-cuni", "{}", "seat-mismatch", "a flared tube, r.from, cannot seal in the taper port b.taper"),
    ("rod", "tube-3-16-cuni", "{}", "seat-mismatch", "tube end r.from at b.rod, which carries force"),
]  # fmt: skip


@pytest.mark.parametrize(("port", "tube", "stated", "rule", "message"), LINES)
def test_tube_end(port: str, tube: str, stated: str, rule: str, message: str, tmp_path: Path) -> None:
    """A tube's end that does not suit its port gives one finding, placed at the line's end."""
    body = (
        f"components: {{b: {{part: block}}, u: {{part: union-{'1-4' if '1-4' in tube else '3-16'}-inverted}}}}\n"
        f"lines: {{r: {{from: b.{port}, to: u.a, tube: {tube}, ends: {{from: {stated}}}}}}}\n"
    )
    found = [finding for finding in spoken(body, tmp_path) if "r.from" in finding.at]
    assert [(finding.rule, finding.message) for finding in found] == [(rule, message)]
    assert found[0].at == ("r.from", f"b.{port}")


EYES = [
    ("from", "washers: 1", "tube-size-mismatch", "eye of h.from, 8 mm, is too small for a M10x1 bolt"),
    ("to", "washers: 1", "fixing-missing", "b.m10_flat needs 2 washers, 1 stated"),
    ("to", "washers: 3", "fixing-missing", "b.m10_flat needs 2 washers, 3 stated"),
    ("to", "bolt: banjo-bolt-3-8-24", "thread-mismatch",
     "bolt banjo-bolt-3-8-24 (3/8-24 UNF) runs in loose and strips in b.m10_flat (M10x1)"),
]  # fmt: skip


@pytest.mark.parametrize(("end", "stated", "rule", "message"), EYES)
def test_banjo(end: str, stated: str, rule: str, message: str, tmp_path: Path) -> None:
    """Eye, bolt and washers of a banjo joint are judged, the worst fault speaks."""
    body = (
        "components: {b: {part: block}}\nhoses: {h: {part: eye-small}}\n"
        f"joints: [{{port: b.m10_flat, eyes: [h.{end}], {stated}}}]\n"
    )
    (finding,) = spoken(body, tmp_path)
    assert (finding.rule, finding.message) == (rule, message)


def test_an_eye_needs_a_flat_land(tmp_path: Path) -> None:
    """A banjo on a bubble port is a seat that differs, whatever its bolt."""
    body = "components: {b: {part: block}}\nhoses: {h: {part: eye-small, to: b.m10}}\n"
    (finding,) = spoken(body, tmp_path)
    assert (finding.rule, finding.message) == ("seat-mismatch", "washer-face of h.to against bubble of b.m10")


def test_two_tube_ends_need_a_union(tmp_path: Path) -> None:
    """Tube to tube is no joint."""
    body = (
        "components: {a: {part: union-3-16-inverted}, b: {part: union-3-16-inverted}}\nlines:\n"
        "  r: {from: a.a, to: s.from, tube: tube-3-16-cuni}\n  s: {from: r.to, to: b.a, tube: tube-3-16-cuni}\n"
    )
    (finding,) = spoken(body, tmp_path)
    assert (finding.rule, finding.message) == ("fixing-missing", "two tube ends meet without a union: r.to and s.from")


MECHANICAL = [
    ("rod, pushrod", "short-engagement", "the rod reaches 30 mm of the 38 mm needed"),
    ("flange, flange_2", "seat-mismatch",
     "mounting two 8 mm at 57 mm of b.flange against two 8 mm at 50 mm of c.flange_2"),
    ("rod, m10", "seat-mismatch", "b.rod carries force, c.m10 fluid"),
]  # fmt: skip


@pytest.mark.parametrize(("ports", "rule", "message"), MECHANICAL)
def test_mechanical_joint(ports: str, rule: str, message: str, tmp_path: Path) -> None:
    """Rods and mountings are joints too: thread, pattern and reach."""
    first, second = ports.split(", ")
    body = f"components: {{b: {{part: block}}, c: {{part: block}}}}\njoints: [[b.{first}, c.{second}]]\n"
    (finding,) = spoken(body, tmp_path)
    assert (finding.rule, finding.message) == (rule, message)


@pytest.mark.parametrize(
    ("port", "missing"),
    [("bare", ("gender-clash", "parts.block.ports.bare.gender")),
     ("seatless", ("seat-mismatch", "parts.block.ports.seatless.seat"))],
)  # fmt: skip
def test_what_the_catalog_does_not_say_is_listed(port: str, missing: tuple[str, str], tmp_path: Path) -> None:
    """A joint that lacks a figure is not passed: the rule and the field it misses are named."""
    body = f"components: {{b: {{part: block}}, o: {{part: plug-m10x1-bubble}}}}\njoints: [[b.{port}, o.end]]\n"
    report = report_of(body, tmp_path)
    assert missing in [(item.rule, item.missing) for item in report.unchecked]
    assert [finding for finding in report.findings if finding.rule in JOINT_RULES] == []


def test_joints_of_an_unknown_part_are_listed(tmp_path: Path) -> None:
    """A joint with a part that no catalog has is not checked, and says which part."""
    body = "components: {b: {part: nosuch}, o: {part: plug-m10x1-bubble}}\njoints: [[b.x, o.end]]\n"
    report = report_of(body, tmp_path)
    assert ("thread-mismatch", "parts.nosuch") in [(item.rule, item.missing) for item in report.unchecked]
    assert [finding.rule for finding in report.findings] == ["part-unknown"]


def test_a_line_that_fits_neither_port_is_one_finding(tmp_path: Path) -> None:
    """The wrong tube is one slip, so it is told once, at the line, with both ports."""
    body = (
        "components: {a: {part: union-3-16-inverted}, b: {part: union-3-16-inverted}}\n"
        "lines: {r: {from: a.a, to: b.a, tube: tube-1-4-cuni}}\n"
    )
    (finding,) = spoken(body, tmp_path)
    assert (finding.rule, finding.message) == ("tube-size-mismatch", "1/4 in tube of r fits neither a.a nor b.a")
    assert finding.at == ("r.from", "a.a", "r.to", "b.a")


EXTRA = [
    ("components: {b: {part: block}, u: {part: union-3-16-inverted}}\n"
     "lines: {r: {from: b.m10, to: u.a, tube: tube-3-16-cuni, ends: {from: {sleeve: sleeve-an3}}}}\n",
     ("nut-mismatch", "sleeve sleeve-an3 stated for r.from; a bubble joint takes none")),
    ("components: {b: {part: unj}, u: {part: union-3-16-inverted}}\n"
     "lines: {r: {from: b.cone, to: u.a, tube: tube-3-16-cuni}}\n",
     ("nut-mismatch", "b.cone (3/8-24 UNJF) may bind at the root in nut nut-an3 (3/8-24 UNF)")),
]  # fmt: skip


@pytest.mark.parametrize(("body", "said"), EXTRA)
def test_fixings_out_of_the_ordinary(body: str, said: tuple[str, str], tmp_path: Path) -> None:
    """A sleeve where none belongs is told; a rounded-root port gets the nut that shops have, and whether it binds."""
    found = [(finding.rule, finding.message) for finding in spoken(body, tmp_path) if "r.from" in finding.at]
    assert found == [said]


def test_a_port_without_thread_is_listed_not_blamed(tmp_path: Path) -> None:
    """A tube port whose thread the catalog leaves out is not told to lack a nut."""
    body = (
        "components: {b: {part: threadless}, u: {part: union-3-16-inverted}}\n"
        "lines: {r: {from: b.x, to: u.a, tube: tube-3-16-cuni}}\n"
    )
    report = report_of(body, tmp_path)
    assert ("nut-mismatch", "parts.threadless.ports.x.thread") in [(one.rule, one.missing) for one in report.unchecked]
    assert [found.message for found in report.findings if found.rule in JOINT_RULES] == []


def test_a_stated_nut_with_gaps_is_listed(tmp_path: Path) -> None:
    """A nut of the builder's own without seat or tube is not passed as looked at."""
    body = (
        "components: {b: {part: block}, u: {part: union-3-16-inverted}}\n"
        "lines: {r: {from: b.m10, to: u.a, tube: tube-3-16-cuni, ends: {from: {nut: half-a-nut}}}}\n"
    )
    missing = {one.missing for one in report_of(body, tmp_path).unchecked if one.rule == "nut-mismatch"}
    assert missing == {"parts.half-a-nut.ports.nut.seat", "parts.half-a-nut.ports.nut.tube"}


BOLTS = [
    ("4 mm", "12 mm", "at most 2 mm of thread engaged, ", None),
    ("20 mm", "3 mm", "at most 3 mm of thread engaged, ", None),
    ("20 mm", "14 mm", None, "the thickness of the eyes on the bolt"),
]


@pytest.mark.parametrize(("length", "depth", "message", "missing"), BOLTS)
def test_a_banjo_bolt_has_to_hold_too(
    length: str, depth: str, message: str | None, missing: str | None, tmp_path: Path
) -> None:
    """A bolt that washers alone leave too short is found; one that may hold is listed for its eyes' thickness."""
    flat = "thread: M10x1, seat: washer-face"
    own = (
        f"  my-bolt: {{kind: banjo bolt, ports: {{bolt: {{{flat}, gender: external, length: {length}}}}}}}\n"
        f"  my-port: {{kind: union, passages: [], ports: {{p: {{{flat}, gender: internal, depth: {depth}}}}}}}\n"
    )
    (tmp_path / "own.yaml").write_text(f"catalog: 1\nparts:\n{own}", encoding="utf-8")
    body = (
        "components: {b: {part: my-port}}\nhoses: {h: {part: eye-small}}\n"
        "joints: [{port: b.p, eyes: [h.to], bolt: my-bolt}]\n"
    )
    (tmp_path / "house.yaml").write_text(HOUSE, encoding="utf-8")
    (tmp_path / "build.yaml").write_text(f"build: 1\ncatalogs: [house.yaml, own.yaml]\n{body}", encoding="utf-8")
    report = check(load(tmp_path))
    found = [finding.message for finding in report.findings if finding.rule == "short-engagement"]
    listed = [one.missing for one in report.unchecked if one.rule == "short-engagement"]
    assert [text.startswith(message) for text in found] == ([True] if message else [])
    assert (missing in listed) is bool(missing)
