"""What was done is told once, and not by the address."""

from tests.service.page.conftest import Served

COOKIE = "fitcheck-said"


def test_told_once(served: Served) -> None:
    """After a change the page says what was written; loading it again does not say so again."""
    answer = served.post("/page/text", served.fields(text=served.build.read_text() + "# more\n"))
    assert "<b>Written:</b> edit build.yaml. build.yaml now says so." in answer.text
    assert str(answer.url) == "http://127.0.0.1:8750/?file=build.yaml#notice"
    assert COOKIE not in served.client.cookies
    assert "<b>Written" not in served.client.get(str(answer.url)).text


def test_each_way(served: Served) -> None:
    """Undoing and doing again are told in the same way, each by its own words."""
    served.post("/page/text", served.fields(text=served.build.read_text() + "# more\n"))
    assert "<b>Undone:</b> edit build.yaml. build.yaml now says so." in served.post("/page/undo", served.fields()).text
    assert "<b>Done again:</b> edit build.yaml." in served.post("/page/redo", served.fields()).text


def test_nothing_to_write(served: Served) -> None:
    """Saving what the file says already is told as such, not as the change before it."""
    served.post("/page/text", served.fields(text=served.build.read_text() + "# more\n"))
    answer = served.post("/page/text", served.fields(text=served.build.read_text()))
    assert "<b>Nothing to write:</b> the file says so already." in answer.text


def test_saved_twice(served: Served) -> None:
    """A second click on the same button is told what the first did: nobody else has changed the file."""
    fields = served.fields(text=served.build.read_text() + "# more\n")
    for _ in range(2):
        answer = served.post("/page/text", fields)
        assert (answer.status_code, "<b>Written:</b> edit build.yaml." in answer.text) == (200, True)
    served.post("/page/undo", served.fields())
    assert not served.build.read_text().endswith("# more\n")


def test_accepted_twice(served: Served) -> None:
    """So is a change that is accepted twice; another change of the same words is still a conflict."""
    served.client.get("/")
    was = served.fields()["was"]
    first = {**served.fields(), "was": was, "file": "", "tag": "tee_axle", "part": "tee-axle-bubble"}
    for _ in range(2):
        answer = served.post("/page/accept", first)
        assert answer.status_code == 200
        assert "<b>Written:</b> exchange tee_axle for tee-axle-bubble." in answer.text
    there = served.build.read_bytes()
    assert served.post("/page/accept", {**first, "part": "tee-m10x1-bubble"}).status_code == 409
    served.build.write_bytes(there + b"# theirs\n")
    assert served.post("/page/accept", first).status_code == 409
    assert served.build.read_bytes() == there + b"# theirs\n"


def test_parts_without_the_notice_leave_it(served: Served) -> None:
    """Parts of the page that do not show what was done do not use it up."""
    served.post("/page/text", served.fields(text=served.build.read_text() + "# more\n"), follow_redirects=False)
    assert "<b>Written" not in served.client.get("/", headers={"Fitcheck-Parts": "findings,bill"}).text
    assert "<b>Written:</b> edit build.yaml." in served.client.get("/", headers={"Fitcheck-Parts": "head,notice"}).text
    assert "<b>Written" not in served.client.get("/").text


def test_another_change_since(served: Served) -> None:
    """What is told is never the change of somebody else."""
    first = served.fields(text=served.build.read_text() + "# more\n")
    told = served.post("/page/text", first, follow_redirects=False).cookies[COOKIE]
    served.post("/page/text", served.fields(text=served.build.read_text() + "# even more\n"))
    served.client.cookies.set(COOKIE, told)
    assert "<b>Written.</b> Another change was made since." in served.client.get("/").text


def test_no_other_cookie_is_told(served: Served) -> None:
    """What is no cookie of ours is not told."""
    for value in ("done", "done.x", "said.0", '"><script>'):
        served.client.cookies.set(COOKIE, value)
        assert '<div id="notice" role="status" tabindex="-1">\n</div>' in served.client.get("/").text
    served.client.cookies.clear()
