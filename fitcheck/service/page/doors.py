"""Who may use the page where a token is asked for: a browser cannot send it by itself, so it is entered once.

What the browser keeps is not the token but something made from it that is good for the page alone. Forms bring a seal
made in the same way: another site that could make a browser send the cookie could still not know the seal.
"""

import hmac
from hashlib import sha256
from http.cookies import CookieError, SimpleCookie
from typing import Final

COOKIE: Final = "fitcheck-page"
ENTER: Final = "/enter"


def key_of(token: str) -> str:
    """Return what stands for the token in a browser's cookie."""
    return _made(token, "the page of fitcheck")


def seal_of(token: str) -> str:
    """Return what every form of the page brings; the same for all where no token is asked for."""
    return _made(token, "a form of fitcheck")


def opens(token: str, path: str, cookies: str | None) -> bool:
    """Return whether a request may go on without the token: to the way in, or with the cookie; never to the API."""
    if path.startswith("/api"):
        return False
    if path == ENTER or path.startswith("/page/static/"):
        return True
    try:
        found = SimpleCookie(cookies or "").get(COOKIE)
    except CookieError:
        return False
    return found is not None and hmac.compare_digest(found.value.encode(), key_of(token).encode())


def same(one: str, other: str) -> bool:
    """Return whether two secrets are the same, in a time that tells nothing of them."""
    return hmac.compare_digest(one.encode("utf-8", "replace"), other.encode("utf-8", "replace"))


def _made(token: str, what: str) -> str:
    return hmac.new(token.encode(), what.encode(), sha256).hexdigest()
