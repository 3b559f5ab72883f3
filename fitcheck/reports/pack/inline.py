"""Drawings as they stand within a page: without what only a file of its own has, and with ids that nothing else has."""

import re
from typing import Final

_BEFORE: Final = re.compile(r"\A.*?(?=<svg[ >])", re.DOTALL)
_META: Final = re.compile(r"<metadata>.*?</metadata>", re.DOTALL)
_SPACES: Final = re.compile(r' xmlns(?::\w+)?="[^"<]*"')
_ID: Final = re.compile(r'(<[^<>]* id=")([^"<>]+")')
_LINK: Final = re.compile(r'(url\(#|(?:xlink:)?href="#)([^)"<>]+)')
_LABELLED: Final = re.compile(r'aria-labelledby="([^"<>]*)"')
_DARK: Final = "@media (prefers-color-scheme:dark)"


def inlined(svg: str, name: str) -> str:
    """Return a drawing for within a page; `name` is put before its ids.

    Words of users are left as they are: in text of SVG each `<` is written as an entity, so that no tag is in them.
    """
    found = _META.sub("", _BEFORE.sub("", svg, count=1))
    end = found.index(">") + 1
    found = _SPACES.sub("", found[:end]) + found[end:]
    found = _ID.sub(rf"\g<1>{name}-\g<2>", found)
    found = _tags(found, name)
    return found.replace(_DARK, "@media screen and (prefers-color-scheme:dark)", 1)


_TAG: Final = re.compile(r"<[^<>]+>")


def _tags(svg: str, name: str) -> str:
    """Return a drawing with what its tags refer to renamed."""
    return _TAG.sub(lambda found: _renamed(found[0], name), svg)


def _renamed(tag: str, name: str) -> str:
    tag = _LINK.sub(lambda found: f"{found[1].removeprefix('xlink:')}{name}-{found[2]}", tag)
    return _LABELLED.sub(
        lambda found: f'aria-labelledby="{" ".join(f"{name}-{each}" for each in found[1].split())}"', tag
    )
