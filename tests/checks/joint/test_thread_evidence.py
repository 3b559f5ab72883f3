"""What a finding on two threads carries: every figure of the fit, over the length that the catalog gives."""

import json
from pathlib import Path

import pytest

from fitcheck.build.load import load
from fitcheck.checks.findings import Finding
from fitcheck.checks.joint_facts import fit_evidence, thread_fault
from fitcheck.checks.run import check
from fitcheck.reports.plain_json import plain
from fitcheck.standards.threads import fit, parse

HOUSE = """\
catalog: 1
parts:
  block:
    kind: union
    ports:
      deep: {thread: M10x1.25, gender: internal, seat: bubble, tube: 4.75 mm, depth: 9 mm}
      shallow: {thread: M10x1.25, gender: internal, seat: bubble, tube: 4.75 mm, depth: 2 mm}
      fine: {thread: 3/8-24 UNF, gender: internal, seat: inverted-flare, tube: 3/16 in}
      m10: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
    passages: []
  plug: {kind: plug, ports: {end: {thread: 3/8-24 UNF, gender: external, seat: bubble, tube: 4.75 mm, length: 9 mm}}}
  rounded: {kind: plug, ports: {end: {thread: 3/8-24 UNJF, gender: external, seat: inverted-flare, tube: 3/16 in}}}
"""


def threads_found(joints: dict[str, str], folder: Path) -> list[Finding]:
    """Return the thread findings of a build in which each port of the block is closed by a part."""
    tags = {f"p{place}": (port, part) for place, (port, part) in enumerate(joints.items())}
    parts = ", ".join(f"{tag}: {{part: {part}}}" for tag, (_, part) in tags.items())
    pairs = "".join(f"  - [{tag}.end, b.{port}]\n" for tag, (port, _) in tags.items())
    (folder / "house.yaml").write_text(HOUSE, encoding="utf-8")
    text = f"build: 1\ncatalogs: [house.yaml]\ncomponents: {{b: {{part: block}}, {parts}}}\njoints:\n{pairs}"
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    return [finding for finding in check(load(folder)).findings if finding.rule == "thread-mismatch"]


def test_evidence_is_every_figure_of_the_fit_as_json_has_it() -> None:
    """Evidence is plain values: what JSON says of the fit, both designations, and whether it is dangerous."""
    external, internal = parse("3/8-24"), parse("M10x1")
    found = fit(external, internal)
    evidence = fit_evidence(external, internal, found)
    assert evidence == {
        "external": "3/8-24 UNF",
        "internal": "M10x1",
        **found.to_json(),
        "dangerous": True,
    }
    assert json.loads(json.dumps(evidence, allow_nan=False)) == plain(evidence)


def test_endless_turns_are_null_in_evidence() -> None:
    """A pair that never binds has no number of turns that JSON cannot hold."""
    external, internal = parse("M10x1"), parse("M11x1")
    assert fit_evidence(external, internal, fit(external, internal))["free_turns"] == [None, None]


def test_length_of_engagement_is_the_joints(tmp_path: Path) -> None:
    """3/8-24 binds in M10x1.25 after two turns, but goes home in a port that is only two turns deep."""
    found = threads_found({"deep": "plug", "shallow": "plug"}, tmp_path)
    by_port = {finding.evidence["engagement_mm"]: finding for finding in found}
    assert by_port[9.0].message == "p0.end (3/8-24 UNF) starts, then binds in b.deep (M10x1.25)"
    assert by_port[2.0].message == "p1.end (3/8-24 UNF) runs in loose and strips in b.shallow (M10x1.25)"
    assert all(finding.evidence["dangerous"] for finding in found)


def test_what_goes_together_is_told_before_what_cannot_start(tmp_path: Path) -> None:
    """Of two errors the pair that goes together comes first, wherever it stands; what may bind is a warning, last."""
    found = threads_found({"fine": "rounded", "deep": "plug-m10x1-bubble", "m10": "plug"}, tmp_path)
    assert [(finding.level, finding.evidence["verdict"]) for finding in found] == [
        ("error", "runs-in-loose"),
        ("error", "will-not-start"),
        ("warning", "may-bind"),
    ]
    assert found[2].message == "p0.end (3/8-24 UNJF) may bind at the root in b.fine (3/8-24 UNF)"
    assert found[2].evidence["binding_band_mm"] == [8.382, 8.494]


@pytest.mark.parametrize(
    ("external", "internal", "words"),
    [("3/8-24 UNJF", "3/8-24 UNF", "may bind at the root in"), ("G1/8", "Rp1/8", "may bind in")],
)
def test_may_bind_says_where(external: str, internal: str, words: str) -> None:
    """Only a rounded root binds at the root; limits that overlap at the pitch line just may bind."""
    fault = thread_fault(parse(external), parse(internal), "a", "b")
    assert fault is not None
    assert (fault.message, fault.level) == (f"a ({external}) {words} b ({internal})", "warning")
