"""Variants on the page: chosen by a link, shown in every part, changed in their own block."""

import html
import re
from typing import Any

import pytest

from fitcheck.build.load import load
from tests.service.page.conftest import Served

NAME = "as_corrected"
SWAP = {"tag": "tee_axle", "part": "tee-axle-double"}


def _accepted(served: Served, **change: str) -> Any:
    was = served.fields()["was"]
    fields = {**served.fields(), "file": "", "was": was, "variant": NAME, **change}
    return served.post("/page/accept", fields)


def test_choice(served: Served) -> None:
    """The base build and each variant are links, and the one that is shown is marked, with its note."""
    base, chosen = served.client.get("/").text, served.client.get(f"/?variant={NAME}").text
    for page in (base, chosen):
        links = re.findall(r'<li><a href="([^"]*)" data-only="variant"( aria-current="true")?>([^<]*)</a></li>', page)
        names = list(load(served.build).file.variants)
        assert [(href, words) for href, _, words in links] == [
            ("/#main", "As built"),
            *((f"/?variant={name}#main", name) for name in names),
        ]
        assert [words for _, current, words in links if current] == ["As built" if page is base else NAME]
    assert "All that is shown is of the variant as_corrected: Every mistake of this build put right." in chosen


def test_everything_is_of_it(served: Served) -> None:
    """Findings, drawing, bill, sheets and what is looked at are of the variant that is chosen."""
    base, chosen = (served.client.get(f"/?at=tee_axle{more}").text for more in ("", f"&variant={NAME}"))
    assert "10 errors" in base
    assert "nothing found in what was checked" in chosen or "error" not in chosen.split("counts")[1].split("</p>")[0]
    for page, part in ((base, "tee-axle-double"), (chosen, "tee-axle-bubble")):
        assert f"<p><b>{part}</b>: tee" in page
        assert f'<td><a href="/?{"variant=" + NAME + "&amp;" if page is chosen else ""}at=tee_axle#panel">' in page
        bill = page.split('<section id="bill"')[1].split("</section>")[0]
        assert (part in bill) is True
    drawing = chosen.split('<section id="drawing"')[1].split("</section>")[0]
    assert "tee-axle-bubble" in drawing
    assert f"&amp;variant={NAME}&amp;at=" in drawing


def test_swap_goes_into_its_block(served: Served) -> None:
    """A swap that is accepted in a variant is written into the variant; the build as it is stays."""
    before = served.build.read_text()
    seen = served.client.get("/", params={"variant": NAME, **SWAP}).text
    assert "exchange tee_axle for tee-axle-double, in the variant as_corrected" in seen
    assert "Accept: write it into build.yaml, variant as_corrected" in seen
    answer = _accepted(served, **SWAP)
    assert "<b>Written:</b> exchange tee_axle for tee-axle-double, in the variant as_corrected." in answer.text
    assert str(answer.url) == f"http://127.0.0.1:8750/?variant={NAME}#notice"
    after = served.build.read_text()
    assert after == before.replace("      tee_axle: tee-axle-bubble\n", "      tee_axle: tee-axle-double\n")
    served.post("/page/undo", served.fields())
    assert served.build.read_text() == before


def test_remedy_goes_into_its_block(served: Served) -> None:
    """A remedy of a finding that a variant has is written into the variant, and puts the finding right there."""
    served.build.write_text(served.build.read_text().replace("joints.4.washers: 2", "joints.4.washers: 1"))
    before = served.build.read_text()
    page = served.client.get(f"/?variant={NAME}").text
    link = re.search(r'<b>Remedy:</b> <a href="([^"]*)">fit 2 washers', page)
    assert link is not None
    panel = served.client.get(html.unescape(link[1])).text
    changes = re.search(r'name="changes" value="([^"]*)"', panel)
    assert changes is not None
    _accepted(served, changes=html.unescape(changes[1]), act="fit 2 washers")
    assert served.build.read_text() == before.replace("joints.4.washers: 1", "joints.4.washers: 2")
    assert '">fit 2 washers</a>' not in served.client.get(f"/?variant={NAME}").text


def test_what_a_block_cannot_say(served: Served) -> None:
    """A change that a variant has no words for is refused with the reason and the way to the build itself."""
    before = served.build.read_bytes()
    answer = _accepted(served, changes='[{"change": "drop", "path": ["joints", 0]}]', act="take a joint out")
    assert answer.status_code == 422
    why = "The variant as_corrected has no way to say this: change the build itself, or the file as text."
    assert f"<b>Nothing was written.</b> {why}" in answer.text
    assert '<a href="/#main" data-only="variant">Show the build itself</a>, where it can be written.' in answer.text
    assert 'id="accept"' not in answer.text
    assert served.build.read_bytes() == before


def test_text_is_edited_as_ever(served: Served) -> None:
    """The file is saved as it was typed while a variant is shown, and looked at as that variant."""
    text = served.build.read_text().replace("      tee_axle: tee-axle-bubble\n", "      tee_axle: tee-axle-double\n")
    told = served.post("/page/look", served.fields(text=text, variant=NAME)).json()
    assert [each["level"] for each in told["marks"]].count("error") == 1
    answer = served.post("/page/text", served.fields(text=text, variant=NAME))
    assert str(answer.url) == f"http://127.0.0.1:8750/?variant={NAME}&file=build.yaml#notice"
    assert served.build.read_text() == text


@pytest.mark.parametrize("name", ["nobody", '"><script>'])
def test_no_such_variant(served: Served, name: str) -> None:
    """A variant that is not there, or not any more, is told, with the way to the build itself."""
    page = served.client.get("/", params={"variant": name}).text
    shown = html.escape(name).replace("&quot;", "&#34;")
    told = f"the build has no variant {shown}: show the build itself"
    assert f'<a class="count error" href="/#main" data-only="variant">{told}</a>' in page
    assert f"<p>No drawing: the build has no variant {shown}. The errors stand beside the file.</p>" in page
    assert "cannot be read" not in page.split('<section id="editor"')[0]
    assert "<script>" not in page.split("</head>")[1]


def test_build_without_variants(served: Served) -> None:
    """A build that has no variants has no choice of them."""
    text = served.build.read_text()
    served.build.write_text(text[: text.index("variants:\n")])
    assert load(served.build).file.variants == {}
    assert 'class="variants"' not in served.client.get("/").text
