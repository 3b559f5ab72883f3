"""`check` as SARIF 2.1.0."""

import json
from functools import lru_cache
from pathlib import Path

import pytest
from jsonschema import Draft4Validator

from fitcheck.build.load import Place
from fitcheck.checks.findings import Unchecked
from fitcheck.reports.sarif import relative_uri, sarif
from tests.reports.samples import EMPTY, LOOP, PAGES, REPORT

SCHEMA = Path(__file__).parents[1] / "data" / "sarif-schema-2.1.0.json"


@lru_cache(maxsize=1)
def _validator():
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    Draft4Validator.check_schema(schema)
    return Draft4Validator(schema, format_checker=Draft4Validator.FORMAT_CHECKER)


def _faults(text):
    return [error.message for error in _validator().iter_errors(json.loads(text))]


@pytest.mark.parametrize("report", [REPORT, EMPTY], ids=["full", "empty"])
def test_valid_by_the_standard(report):
    """The log is valid by the schema of the OASIS standard."""
    assert _faults(sarif(report, PAGES, "0.1.0")) == []


def test_the_schema_refuses():
    """The schema that the test above relies on does refuse a log with a wrong level."""
    assert _faults(sarif(REPORT, PAGES).replace('"level": "error"', '"level": "fatal"')) != []


def test_results():
    """Each finding is a result that points at its rule, its place in the file and the ends it is about."""
    run = json.loads(sarif(REPORT, PAGES))["runs"][0]
    rules = run["tool"]["driver"]["rules"]
    assert [rules[result["ruleIndex"]]["id"] for result in run["results"]] == [
        result["ruleId"] for result in run["results"]
    ]
    assert [result["level"] for result in run["results"]] == ["error", "error", "warning", "note"]
    location = run["results"][0]["locations"][0]
    assert location["physicalLocation"] == {
        "artifactLocation": {"uri": "build.yaml"},
        "region": {"startLine": 12, "startColumn": 5},
    }
    assert location["logicalLocations"][0] == {"name": "end", "fullyQualifiedName": "tail.end"}
    assert run["results"][1]["properties"]["evidence"]["seats"] == ["bubble", "inverted-flare"]


def test_rule_table():
    """The rule table has each page: one line, what it finds, and the whole text as help."""
    rule = json.loads(sarif(REPORT, PAGES))["runs"][0]["tool"]["driver"]["rules"][0]
    assert rule["id"] == "thread-mismatch"
    assert rule["shortDescription"]["text"] == "about thread-mismatch"
    assert rule["fullDescription"]["text"] == "What thread-mismatch finds."
    assert rule["help"]["text"] == PAGES[0].text


def test_acceptance_is_a_suppression():
    """Only the accepted finding is suppressed, with its reason."""
    results = json.loads(sarif(REPORT, PAGES))["runs"][0]["results"]
    wanted = {"kind": "inSource", "status": "accepted", "justification": "clutch only"}
    assert [result.get("suppressions") for result in results] == [None, None, None, [wanted]]


def test_unchecked_is_told():
    """What was not checked is a notification for each rule and missing field."""
    report = REPORT._replace(unchecked=tuple(Unchecked("seat-mismatch", (f"t{i}",), "fluid") for i in range(9)))
    (invocation,) = json.loads(sarif(report, PAGES))["runs"][0]["invocations"]
    (told,) = invocation["toolExecutionNotifications"]
    assert told["message"]["text"] == "seat-mismatch was not checked at t0, t1, t2 and 6 more: fluid"
    assert told["associatedRule"] == {"id": "seat-mismatch", "index": 1}
    assert invocation["exitCode"] == 1


def test_moved_finding_keeps_its_fingerprint():
    """A finding on another line is the same finding; another message is another one."""
    moved = LOOP._replace(place=Place("build.yaml", 99, 1))
    other = LOOP._replace(message="another")
    text = sarif(REPORT._replace(findings=(LOOP, moved, other)), PAGES)
    first, second, third, _ = (
        result["partialFingerprints"]["ruleAtMessage/v1"] for result in json.loads(text)["runs"][0]["results"]
    )
    assert first == second != third


@pytest.mark.parametrize(
    ("name", "uri"),
    [
        ("my car/50%.yaml", "my%20car/50%25.yaml"),
        ("caf\u00e9.yaml", "caf%C3%A9.yaml"),
        ("a\\b#c?.yaml", "a/b%23c%3F.yaml"),
        ("c:build.yaml", "c%3Abuild.yaml"),
    ],
)
def test_file_names(name, uri):
    """A file's name is a valid relative URI reference, whatever is in it."""
    assert relative_uri(name) == uri
    finding = LOOP._replace(place=Place(name, 1, 1))
    assert _faults(sarif(REPORT._replace(findings=(finding,)), PAGES)) == []
