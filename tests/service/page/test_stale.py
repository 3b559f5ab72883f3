"""Links to findings: a finding is named by what it is, and a link says which state of the build it is of."""

import html
import re

from fitcheck.checks.findings import Finding, Place
from fitcheck.service.page.keys import names_of
from tests.service.page.conftest import Served

HERE = "<b>The build has changed</b> since this link was made. This is the finding as it is now."
GONE = "<b>This is not there now.</b> The link is of another state of the build"


def _links(served: Served) -> dict[str, str]:
    """Return where each finding of the list leads, by its words."""
    page = served.client.get("/").text
    found = re.findall(r'<h3><a href="([^"]*)"><span class="mark \w+">\d+</span> ([^<]*)</a>', page)
    return {html.unescape(words): html.unescape(href) for href, words in found}


def _title(page: str) -> str:
    found = re.search(r'<h2 id="panel-title" tabindex="-1">([^<]*)</h2>', page)
    assert found is not None
    return html.unescape(found[1])


def test_same_state(served: Served) -> None:
    """A link shows its finding, with its number, and says nothing of changes."""
    for number, (words, href) in enumerate(_links(served).items(), 1):
        page = served.client.get(href).text
        assert _title(page) == f"{number}: {words}"
        assert HERE not in page


def test_number_changed(served: Served) -> None:
    """A finding that has another number since is shown as the one it is, with a word that the build has changed."""
    words, href = list(_links(served).items())[-1]
    old = len(_links(served))
    served.build.write_text(served.build.read_text().replace("washers: 1}", "washers: 2}"))
    page = served.client.get(href).text
    assert _title(page) == f"{old - 1}: {words}"
    assert HERE in page
    on = re.search(r'<a class="button" href="([^"]*)">Go on from here</a>', page)
    assert on is not None
    assert HERE not in served.client.get(html.unescape(on[1])).text


def test_finding_gone(served: Served) -> None:
    """A finding that is not there any more is not replaced by another one."""
    words, href = next(each for each in _links(served).items() if "needs 2 washers" in each[0])
    served.build.write_text(served.build.read_text().replace("washers: 1}", "washers: 2}"))
    page = served.client.get(href).text
    assert _title(page) == "Looked at"
    assert GONE in page
    assert '<a class="button" href="/#findings">See the findings as they are now</a>' in page
    assert words not in page


def test_bare_number(served: Served) -> None:
    """A number alone names no finding: it would be another one tomorrow."""
    page = served.client.get("/?at=finding+1").text
    assert "The build has no finding of this name now: 1." in page


def test_names() -> None:
    """Names rest on rule and subject only, and tell several of one subject apart."""

    def finding(rule: str, message: str, *at: str) -> Finding:
        return Finding(rule=rule, level="error", message=message, at=at, place=Place("b.yaml", 1, 1), evidence={})

    names = names_of([finding("r", "one", "a.x"), finding("r", "two", "a.x"), finding("r", "one", "b.x")])
    again = names_of([finding("r", "changed words", "b.x"), finding("q", "one", "a.x")])
    assert names[1] == f"{names[0]} 2"
    assert again[0] == names[2]
    assert len({*names, *again}) == 4
