"""What a browser posts: the fields of a form, from this page only."""

from typing import Final
from urllib.parse import parse_qsl

from fastapi import Request

from fitcheck.service.page.doors import same, seal_of
from fitcheck.service.problems import RefusedError

_KIND: Final = "application/x-www-form-urlencoded"
_MOST_FIELDS: Final = 40


async def fields_of(request: Request, token: str | None) -> dict[str, str]:
    """Return the fields of a form that this page sent; without a `token`, also of one that has no seal yet.

    Raises:
        RefusedError: it is no form, or not one of this page.
    """
    _own(request)
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if kind != _KIND:
        raise RefusedError("media-type", f"expected the header Content-Type: {_KIND}")
    try:
        text = (await request.body()).decode("ascii")
        found = dict(parse_qsl(text, keep_blank_values=True, errors="strict", max_num_fields=_MOST_FIELDS))
    except ValueError:
        raise RefusedError("body", "expected the fields of a form, as UTF-8") from None
    if token is not None and not same(found.get("seal", ""), seal_of(token)):
        raise RefusedError("origin", "the form is not one of this page, or an old one: load the page again")
    return found


def _own(request: Request) -> None:
    """Raise RefusedError unless the browser says that this page sends it; the guard has looked whether that is true."""
    headers = request.headers
    if "origin" not in headers and headers.get("sec-fetch-site") != "same-origin":
        raise RefusedError("origin", "expected the header Origin, which browsers send with what they post")
