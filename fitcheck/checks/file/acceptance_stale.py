"""`acceptance-stale`: an acceptance that no longer meets a finding.

What it finds
-------------
An entry under `accept` whose rule does not exist, or whose rule has nothing to say at that place any more. An
acceptance of something that could not be looked at is listed as not checked instead.

Why it matters
--------------
An acceptance left over from an earlier state of the car would silence the next fault at the same place.

Example
-------
Fails::

    build: 1
    components:
      joiner: {part: union-3-16-inverted}
      stop_a: {part: plug-3-8-24-inverted}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, joiner.b]
    accept:
      - {rule: dead-end, at: joiner.b, why: the gauge comes later}

Passes::

    build: 1
    components:
      joiner: {part: union-3-16-inverted}
      stop_a: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
    accept:
      - {rule: dead-end, at: joiner.b, why: the gauge comes later}

Source
------
The build file's own format; no trade fact is used.
"""

from collections.abc import Iterator

from fitcheck.build.refs import tag_of
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked, met_by
from fitcheck.naming import hint

RULE = "acceptance-stale"


def find(context: Context) -> Iterator[Said]:
    """Yield every acceptance that none of the findings so far answers to."""
    if not context.file.accept:
        return
    from fitcheck.checks.register import NOT_YET, names  # the register lists this rule: imported when run

    found = {key for finding in context.found for key in met_by(finding)}
    open_questions = {key: item.missing for item in context.unchecked for key in met_by(item)}
    known = names()
    for index, entry in enumerate(context.file.accept):
        yield Looked()
        key = (entry.rule, entry.at)
        path = ("accept", index)
        evidence = {"rule": entry.rule, "at": entry.at, "why": entry.why}
        if entry.rule in NOT_YET:
            yield Unchecked(RULE, (entry.at,), f"{entry.rule}, which is not in this version")
        elif entry.rule not in known:
            message = f"no rule is called {entry.rule!r}{hint(entry.rule, known)}"
            yield context.finding(RULE, "warning", message, (entry.at,), (*path, "rule"), evidence)
        elif key not in found and (missing := open_questions.get(key) or _unknown_part(context, entry.at)):
            yield Unchecked(RULE, (entry.at,), missing)
        elif key not in found:
            message = f"{entry.rule} has nothing to say at {entry.at} any more"
            yield context.finding(RULE, "warning", message, (entry.at,), path, evidence)


def _unknown_part(context: Context, at: str) -> str | None:
    """Return the part id that no catalog has of the thing, or of the circuit's beginning, at `at`; else None."""
    circuit = context.file.circuits.get(at)
    item = context.graph.fitted.get(tag_of(circuit.from_ if circuit is not None else at))
    return f"parts.{item.part_id}" if item is not None and item.part is None else None
