"""`check` as JSON."""

import json

from fitcheck.reports.caution import CAUTION
from fitcheck.reports.check_json import check_json
from tests.reports.samples import LOOP, REPORT


def test_keys_and_their_order():
    """The report has the documented keys, in one order."""
    value = json.loads(check_json(REPORT))
    assert list(value) == ["build", "findings", "accepted", "unchecked", "checked", "unproven", "summary", "caution"]
    keys = ["rule", "level", "message", "at", "file", "line", "column", "evidence", "remedies"]
    assert [list(finding) for finding in value["findings"]] == [keys] * 3
    assert [list(finding) for finding in value["accepted"]] == [[*keys, "accepted"]]
    assert value["accepted"][0]["accepted"] == "clutch only"
    assert list(value["unchecked"][0].items()) == [
        ("rule", "air-trap"),
        ("at", ["a"]),
        ("missing", "lines.a.route"),
    ]
    assert value["summary"] == {"error": 2, "warning": 1, "note": 0}
    assert value["checked"] == {"thread-mismatch": 31, "seat-mismatch": 30}
    assert value["caution"] == CAUTION


def test_figures():
    """Floats have at most four decimals, and what has no end is null: the text is strict JSON."""
    first = json.loads(check_json(REPORT), parse_constant=lambda name: f"not JSON: {name}")["findings"][0]
    assert first["evidence"]["clearance_mm"] == [0.5412, 0.788]
    assert first["evidence"]["free_turns"] == [5.4, None]
    (remedy,) = first["remedies"]
    assert list(remedy) == ["kind", "act", "parts", "tags", "added_joints", "notes", "changes", "gone"]
    assert (remedy["kind"], remedy["parts"], remedy["added_joints"]) == ("adapters", ["adapter-a", "adapter-b"], 2)
    assert remedy["act"] == "fit adapter-a, then adapter-b (2 more joints)"
    assert remedy["changes"][0]["path"] == ["components", "adapter_1"]
    assert remedy["changes"][0]["value"] == {"part": "adapter-a"}
    assert remedy["changes"][2] == {"change": "append", "path": ["joints"], "value": ["adapter_1.b", "adapter_2.a"]}


def test_characters():
    """Letters stay letters; what could drive a terminal is escaped, and reads back as it was."""
    message = "\u00fc \x1b[2J \x9b \u202e \u2028 \U0001f697"
    text = check_json(REPORT._replace(findings=(LOOP._replace(message=message),)))
    assert "\u00fc" in text
    assert "\U0001f697" in text
    assert all(char == "\n" or char.isprintable() for char in text)
    assert json.loads(text)["findings"][0]["message"] == message


def test_same_answer_same_text():
    """Sets in evidence do not make the text depend on chance."""
    finding = LOOP._replace(evidence={"refs": frozenset("abcdef")})
    value = json.loads(check_json(REPORT._replace(findings=(finding,))))
    assert value["findings"][0]["evidence"]["refs"] == list("abcdef")
