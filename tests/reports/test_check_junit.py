"""`check` as JUnit XML."""

import re
from datetime import UTC, datetime
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.checks.findings import Unchecked
from fitcheck.reports.check_junit import check_junit, problems_junit
from fitcheck.trees import Problem
from tests.reports.samples import CAUTION_LINES, EMPTY, LOOP, REPORT, SEATS, THREADS

WHEN = datetime(2026, 3, 1, 9, 30, tzinfo=UTC)

# Written down from the schema of the Ant JUnit and JUnitReport tasks, JUnit.xsd (2011, as revised): for each element
# the attributes that it must have and may have with the form of their values, and its children in their order.
TOKEN, NUMBER, TEXT = r"\S(.*\S)?", r"\d+", r"(?s).*"
SCHEMA: dict[str, tuple[dict[str, str], dict[str, str], str]] = {
    "testsuites": ({}, {}, "(testsuite )*"),
    "testsuite": (
        {
            "name": TOKEN,
            "timestamp": r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d",
            "hostname": TOKEN,
            "tests": NUMBER,
            "failures": NUMBER,
            "errors": NUMBER,
            "time": r"\d+(\.\d+)?",
            "package": TOKEN,
            "id": NUMBER,
        },
        {"skipped": NUMBER},
        "properties (testcase )*system-out system-err ",
    ),
    "properties": ({}, {}, "(property )*"),
    "property": ({"name": TOKEN, "value": TEXT}, {}, ""),
    "testcase": (
        {"name": TOKEN, "classname": TOKEN, "time": r"\d+(\.\d+)?"},
        {},
        "(skipped |error |failure )?",
    ),
    "failure": ({"type": TEXT}, {"message": TEXT}, ""),
    "error": ({"type": TEXT}, {"message": TEXT}, ""),
    "skipped": ({}, {"message": TEXT}, ""),
    "system-out": ({}, {}, ""),
    "system-err": ({}, {}, ""),
}


def faults(text: str) -> list[str]:
    """Return where a document is not what the schema asks for, and where its counts are wrong."""
    found = []
    root = ElementTree.fromstring(text)
    for element in root.iter():
        must, may, children = SCHEMA[element.tag]
        found += [f"{element.tag} lacks {name}" for name in must if name not in element.attrib]
        for name, value in element.attrib.items():
            form = (must | may).get(name)
            if form is None or not re.fullmatch(form, value):
                found.append(f"{element.tag} {name}={value!r}")
        inside = "".join(f"{child.tag} " for child in element)
        if not re.fullmatch(children, inside):
            found.append(f"{element.tag} holds {inside!r}")
    for suite in root.iter("testsuite"):
        counts = {"tests": "testcase", "failures": ".//failure", "errors": ".//error", "skipped": ".//skipped"}
        found += [
            f"{name} is wrong" for name, path in counts.items() if int(suite.get(name, -1)) != len(suite.findall(path))
        ]
        names = [(case.get("classname"), case.get("name")) for case in suite.iter("testcase")]
        found += ["two cases of one name"] * (len(set(names)) < len(names))
    return found


def cases(text: str) -> dict[str | None, ElementTree.Element]:
    """Return the test cases of a document by name."""
    return {case.get("name"): case for case in ElementTree.fromstring(text).iter("testcase")}


@pytest.mark.parametrize("report", [REPORT, EMPTY], ids=["full", "empty"])
def test_valid_by_the_schema(report):
    """The document has the elements, attributes and order of the schema, and its counts are right."""
    assert faults(check_junit(report, WHEN, 1.25)) == []


def test_the_schema_refuses():
    """The check that the test above relies on sees a missing attribute, a wrong order and a wrong count."""
    text = check_junit(REPORT, WHEN)
    assert faults(text.replace(' hostname="localhost"', "")) == ["testsuite lacks hostname"]
    assert faults(text.replace("<system-err></system-err>", "")) != []
    assert faults(text.replace('failures="2"', 'failures="3"')) == ["failures is wrong"]


def test_whole_failure():
    """An error is a failure of its own with place, evidence and remedy; its rule is no case that passes."""
    failure = cases(check_junit(REPORT, WHEN))["thread-mismatch at tail.end, tee.left"].find("failure")
    assert failure is not None
    assert failure.attrib == {"message": THREADS.message, "type": "thread-mismatch"}
    assert failure.text == (
        "build.yaml:12:5: error: 3/8-24 UNF of tail.end runs in loose and strips in M10x1 of tee.left\n"
        "runs in loose: goes home with 15 to 54 % of the thread height and strips when tightened\n"
        "clearance 0.54 to 0.79 mm, overlap 15 to 54 %\n"
        "remedy: fit adapter-a, then adapter-b (2 more joints)"
    )
    assert "thread-mismatch" not in cases(check_junit(REPORT, WHEN))


def test_a_rule_without_errors_passes():
    """A rule that looked at something and found no error is a case with nothing in it, in its family."""
    report = EMPTY._replace(checked={"seat-mismatch": 30})
    (case,) = cases(check_junit(report, WHEN)).values()
    assert (case.get("classname"), case.get("name"), len(case)) == ("fitcheck.joint", "seat-mismatch", 0)


def test_unchecked_is_skipped_with_the_missing_field():
    """What was not checked is a skipped case for each rule and field; its text has every place."""
    found = cases(check_junit(REPORT, WHEN))
    skipped = found["air-trap not checked: lines.a.route"].find("skipped")
    assert skipped is not None
    assert (skipped.get("message"), skipped.text) == ("not checked at a: lines.a.route", "a")
    assert sum(case.find("skipped") is not None for case in found.values()) == 5


def test_warnings_and_acceptances_are_told():
    """Warnings and accepted findings stand in `system-out`, the caution last; they fail nothing."""
    suite = ElementTree.fromstring(check_junit(REPORT._replace(findings=(LOOP,)), WHEN)).find("testsuite")
    assert suite is not None
    assert suite.get("failures") == "0"
    assert suite.findtext("system-out") == (
        "warning circuit-looped\n"
        "    build.yaml:40:3: tee, b and 9 more form a circle\n"
        "      p0.a > p1.a > p2.a > p3.a > (3 more) > p7.a > p8.a > p9.a > p10.a\n"
        "note single-circuit\n"
        "    build.yaml:50:3: clutch has one circuit\n"
        "    accepted because: clutch only\n" + CAUTION_LINES
    )


def test_two_findings_of_one_place_have_two_names():
    """Servers follow a case by its name, so the second of equal ones has a number."""
    found = cases(check_junit(REPORT._replace(findings=(SEATS, SEATS)), WHEN))
    assert "seat-mismatch at feed.from, mc.out (2)" in found


def test_unreadable_file():
    """Each problem is a case in error with its place, and nothing passes."""
    text = problems_junit([Problem("a.yaml", 3, 7, "expected a value here")], WHEN)
    assert faults(text) == []
    (case,) = cases(text).values()
    assert case.get("name") == "a.yaml:3:7: expected a value here"
    assert [child.tag for child in case] == ["error"]


@settings(derandomize=True)
@given(st.text(min_size=1))
def test_hostile_text_is_text(text):
    """Whatever a message, a place or a name holds: the document stays well formed and of the same elements."""
    hostile = f"a{text}]]></failure><x>&\x00\x1b[31m\ufffe\ud800"
    finding = SEATS._replace(message=hostile, at=(hostile,))
    report = REPORT._replace(build=hostile, findings=(finding,), unchecked=(Unchecked("x", (hostile,), hostile),))
    document = check_junit(report, WHEN)
    assert faults(document) == []
    assert document.encode("utf-8").decode() == document
