"""The page where a token is asked for."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from fitcheck.service.app import create_app
from fitcheck.service.page.doors import COOKIE, key_of, opens, seal_of
from fitcheck.service.settings import Settings
from tests.service.page.conftest import FROM_HERE

TOKEN = "correct horse battery".replace(" ", "-")
AT = "http://127.0.0.1:8750"


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    """Return a client of a server that asks for a token."""
    (tmp_path / "build.yaml").write_text("build: 1\nname: Wren\n")
    with TestClient(create_app(Settings(folder=str(tmp_path), token=TOKEN, benches=1)), base_url=AT) as found:
        yield found


def test_way_in(client: TestClient) -> None:
    """Without the token the page leads to where it is entered; with it the browser gets a cookie, and not the token."""
    first = client.get("/", follow_redirects=False)
    assert (first.status_code, first.headers["location"]) == (303, "/enter")
    wrong = client.post("/enter", data={"token": "wrong"}, headers=FROM_HERE)
    assert (wrong.status_code, "That is not the token." in wrong.text) == (401, True)
    right = client.post("/enter", data={"token": TOKEN}, headers=FROM_HERE, follow_redirects=False)
    assert (right.status_code, right.headers["location"]) == (303, "/")
    cookie = right.headers["set-cookie"]
    assert cookie == f"{COOKIE}={key_of(TOKEN)}; HttpOnly; Path=/; SameSite=strict"
    assert TOKEN not in cookie
    assert "<h1>Wren</h1>" in client.get("/").text


def test_way_in_to_what_was_asked_for(client: TestClient) -> None:
    """Who comes by a link to some part of the build sees that part once the token is entered, and no other site."""
    door = client.get("/?at=mc_front&view=plan")
    assert str(door.url) == f"{AT}/enter?to=at%3Dmc_front%26view%3Dplan"
    assert '<input type="hidden" name="to" value="at=mc_front&amp;view=plan">' in door.text
    wrong = client.post("/enter", data={"token": "wrong", "to": 'at="><script>'}, headers=FROM_HERE)
    assert 'value="at=&#34;&gt;&lt;script&gt;"' in wrong.text
    for to, where in (
        ("at=mc_front&view=plan", "/?at=mc_front&view=plan"),
        ("//evil.example/", "/?//evil.example/"),
        ("a\r\nX-Y: z", "/?a%0D%0AX-Y:%20z"),
    ):
        answer = client.post("/enter", data={"token": TOKEN, "to": to}, headers=FROM_HERE, follow_redirects=False)
        assert (answer.status_code, answer.headers["location"]) == (303, where)


def test_cookie_is_for_the_page_alone(client: TestClient) -> None:
    """The API wants the token itself, and other addresses of the page are closed to strangers."""
    for path in ("/page/state", "/api/served", "/api/openapi.json"):
        assert client.get(path).status_code == 401
    assert client.post("/page/text", data={"seal": seal_of(TOKEN)}, headers=FROM_HERE).status_code == 401
    client.cookies.set(COOKIE, key_of(TOKEN))
    assert client.get("/page/state").status_code == 200
    assert client.get("/api/served").status_code == 401


def test_forms_need_the_seal_of_the_token(client: TestClient) -> None:
    """A form that has the cookie but another seal is refused."""
    client.cookies.set(COOKIE, key_of(TOKEN))
    page = client.get("/").text
    assert seal_of(TOKEN) in page
    assert seal_of("") not in page
    answer = client.post("/page/undo", data={"seal": seal_of("")}, headers=FROM_HERE)
    assert (answer.status_code, answer.json()["type"]) == (403, "urn:fitcheck:problem:origin")


@pytest.mark.parametrize("cookies", [None, "", "a=b", f"{COOKIE}=", f"{COOKIE}={TOKEN}", f"{COOKIE}=\xe9", "\x00;=;;"])
def test_no_other_cookie_opens(cookies: str | None) -> None:
    """Nothing opens but what was made from the token."""
    assert not opens(TOKEN, "/", cookies)


def test_what_opens() -> None:
    """The right cookie opens the page and no path of the API; the way in needs none."""
    cookie = f"a=b; {COOKIE}={key_of(TOKEN)}"
    assert [opens(TOKEN, path, cookie) for path in ("/", "/page/text", "/api/check", "/api")] == [
        True,
        True,
        False,
        False,
    ]
    assert opens(TOKEN, "/enter", None)
