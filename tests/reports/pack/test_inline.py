"""Drawings within a page: no prolog, no names of other places, ids of their own."""

from fitcheck.reports.pack.inline import inlined

SVG = (
    '<?xml version="1.0"?>\n<!DOCTYPE svg PUBLIC "x" "http://www.example/svg.dtd">\n'
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 1 1"'
    ' aria-labelledby="title desc"><metadata><a href="http://x"/></metadata><title id="title">t</title>'
    "<style>@media (prefers-color-scheme:dark){.s-ink{stroke:#fff}}</style>"
    '<defs><path id="m1"/></defs><use xlink:href="#m1"/><g clip-path="url(#m1)"/>'
    "<text>url(#m1) id=&quot;m1&quot; xmlns=&quot;x&quot;</text></svg>"
)


def test_a_drawing_is_taken_into_a_page() -> None:
    """Prolog, name spaces and metadata go; ids and what refers to them are renamed; words stay as they are."""
    assert inlined(SVG, "plan") == (
        '<svg viewBox="0 0 1 1" aria-labelledby="plan-title plan-desc"><title id="plan-title">t</title>'
        "<style>@media screen and (prefers-color-scheme:dark){.s-ink{stroke:#fff}}</style>"
        '<defs><path id="plan-m1"/></defs><use href="#plan-m1"/><g clip-path="url(#plan-m1)"/>'
        "<text>url(#m1) id=&quot;m1&quot; xmlns=&quot;x&quot;</text></svg>"
    )
