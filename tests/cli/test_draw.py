"""`fitcheck draw`: views, forms and themes, files written, requests that cannot be answered."""

from pathlib import Path
from xml.etree import ElementTree

import pymupdf
import pytest

from fitcheck.cli.main import main

BUILD = """\
build: 1
name: Wren
components:
  a: {part: union-3-16-inverted, at: [0, 0, 0]}
  b: {part: union-3-16-inverted, at: [150, 200, 0]}
lines:
  rise: {from: a.b, to: b.a, tube: tube-3-16-cuni, route: [[150, 0, 0]]}
variants:
  longer: {set: {lines.rise.tube: tube-1-4-cuni}}
"""


@pytest.fixture
def build(tmp_path: Path) -> str:
    """Return a build of one line between two unions, whose other ends are open."""
    (tmp_path / "build.yaml").write_text(BUILD)
    return str(tmp_path)


def run(capfdbinary: pytest.CaptureFixture[bytes], *words: str) -> tuple[int, bytes, str]:
    """Return exit code, standard output and standard error of one command line."""
    code = main(("draw", *words))
    out = capfdbinary.readouterr()
    return code, out.out, out.err.decode()


def test_the_circuit_is_drawn(build: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    """Without options the circuit comes out as SVG with its findings, and 1 says that there are errors."""
    code, out, _ = run(capfdbinary, build)
    root = ElementTree.fromstring(out)
    assert (code, root[0].text, out.endswith(b"</svg>\n")) == (1, "Wren: circuit", True)
    assert any(each.get("data-finding") == "1" for each in root.iter())


def test_findings_may_be_left_out(build: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    """`--no-findings` checks nothing and marks nothing."""
    code, out, _ = run(capfdbinary, build, "--no-findings")
    assert (code, b"data-finding" in out) == (0, False)


@pytest.mark.parametrize(
    ("view", "titles"),
    [
        ("circuit", ["Wren: circuit"]),
        ("plan", ["Wren: plan"]),
        ("side", ["Wren: side view"]),
        ("front", ["Wren: front view"]),
    ],
)
def test_each_view(build: str, capfdbinary: pytest.CaptureFixture[bytes], view: str, titles: list[str]) -> None:
    """Each view is a drawing with a title of its own."""
    _, out, _ = run(capfdbinary, build, "--view", view)
    assert [ElementTree.fromstring(out)[0].text] == titles


def test_all_views_on_one_sheet(build: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    """`--view all` has every view's heading, one under the other."""
    _, out, _ = run(capfdbinary, build, "--view", "all")
    told = "".join(ElementTree.fromstring(out).itertext())
    places = [told.index(words) for words in ("Wren: circuit", "Wren: plan", "Wren: side view", "Wren: front view")]
    assert places == sorted(places)


def test_variant_is_drawn(build: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    """`--variant` draws the build with that variant applied."""
    _, out, _ = run(capfdbinary, build, "--variant", "longer")
    assert b">1/4 in<" in out


def test_themes(build: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    """`auto` asks the reader, `light` and `dark` do not."""
    sheets = [run(capfdbinary, build, "--theme", theme)[1] for theme in ("auto", "light", "dark")]
    assert [b"prefers-color-scheme" in each for each in sheets] == [True, False, False]
    assert sheets[1] != sheets[2]


def test_pdf_is_written(build: str, capfdbinary: pytest.CaptureFixture[bytes], tmp_path: Path) -> None:
    """`--format pdf --output FILE` writes a PDF and says so on standard error; without a file the bytes are printed."""
    target = tmp_path / "wren.pdf"
    assert run(capfdbinary, build, "--format", "pdf", "--output", str(target)) == (1, b"", f"{target} written\n")
    assert target.read_bytes().startswith(b"%PDF")
    assert run(capfdbinary, build, "--format", "pdf")[1] == target.read_bytes()


def test_pdf_has_a_page_for_each_view(build: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    """All views as PDF are four pages."""
    _, out, _ = run(capfdbinary, build, "--view", "all", "--format", "pdf")
    pages = [page.get_text() for page in pymupdf.open(stream=out)]
    titles = ["Wren: circuit", "Wren: plan", "Wren: side view", "Wren: front view"]
    assert [title in page for title, page in zip(titles, pages, strict=True)] == [True] * 4


def test_the_build_is_not_written_over(build: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    """A file that the build is read from is refused as output."""
    target = f"{build}/build.yaml"
    code, _, said = run(capfdbinary, build, "--output", target)
    assert (code, said) == (2, f"fitcheck: --output: {target} is a file that the build is read from\n")
    assert Path(target).read_text() == BUILD
