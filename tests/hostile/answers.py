"""Every answer that the command line gives about one build, in every form, each with what it said besides."""

import io
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from fitcheck.cli.main import main
from tests.hostile.texts import quoted

SAMPLE = Path(__file__).parent / "sample"
FILES = {"build": "build.yaml", "catalog": "parts.yaml", "offers": "offers.yaml", "stock": "stock.yaml"}
QUICK: tuple[tuple[str, str], ...] = (
    ("check {b}", "text"),
    ("check {b} --remedies --unchecked", "text"),
    ("check {b} --format json", "json"),
    ("check {b} --format sarif", "json"),
    ("check {b} --format junit", "junit"),
    ("bom {b}", "text"),
    ("bom {b} --format json", "json"),
    ("bom {b} --format csv", "csv"),
    ("order {b}", "text"),
    ("order {b} --trade-off", "text"),
    ("order {b} --format json", "json"),
    ("order {b} --format csv", "csv"),
    ("order {b} --format mail", "text"),
    ("order {b} --format xlsx --output {o}", "xlsx"),
    ("cut {b}", "text"),
    ("cut {b} --format json", "json"),
    ("make {b}", "text"),
    ("make {b} --format json", "json"),
    ("make {b} --format csv", "csv"),
    ("make {b} --format svg", "svg"),
    ("make {b} --format html", "html"),
    ("make {b} --format dxf", "dxf"),
    ("make {b} --holes", "text"),
    ("make {b} --holes --format json", "json"),
    ("make {b} --holes --format csv", "csv"),
    ("make {b} --holes --format html", "html"),
    ("draw {b} --view all", "svg"),
    ("bleed {b}", "text"),
    ("bleed {b} --format json", "json"),
    ("bleed {b} --format html", "html"),
    ("pedal {b}", "text"),
    ("pedal {b} --format json", "json"),
    ("swap {b} tee_a", "text"),
    ("swap {b} tee_a=tee-3-16-inverted", "text"),
    ("swap {b} tee_a=tee-3-16-inverted --format json", "json"),
    ("bridge mc_front.outlet cal_fl.inlet --build {b} --explain", "text"),
    ("parts search tee --build {b} --most 9", "text"),
    ("parts search tee --build {b} --most 9 --format json", "json"),
    ("parts show tee-odd --build {b}", "text"),
    ("parts show hose-odd --build {b}", "text"),
    ("parts show tee-odd --build {b} --format json", "json"),
    ("watch {b} --once", "text"),
)
"""Commands, and the form of what they answer. `{b}` is the folder of the build, `{o}` a file to write to."""
SLOW: tuple[tuple[str, str], ...] = (
    ("cure {b}", "text"),
    ("cure {b} --format json", "json"),
    ("pedal {b} --format svg", "svg"),
    ("pedal {b} --against other", "text"),
    ("draw {b} --view all --format pdf --output {o}", "pdf"),
    ("pack {b} --only html --on 2026-12-01 --out {d}", "html"),
    ("pack {b} --only pdf --on 2026-12-01 --out {d}", "pdf"),
)


class Answer(NamedTuple):
    """What a command answered. `said` is what it told on standard error."""

    command: str
    form: str
    code: int
    content: bytes
    said: str

    @property
    def text(self) -> str:
        """The answer as text; that it is UTF-8 is part of what is asked of it."""
        return self.content.decode("utf-8")


def sample() -> dict[str, Any]:
    """Return the trees of the sample's files, by kind; all that is no collection is text."""
    return {
        kind: yaml.load((SAMPLE / name).read_text(encoding="utf-8"), yaml.BaseLoader) for kind, name in FILES.items()
    }


def write(folder: Path, files: dict[str, Any]) -> Path:
    """Write the sample with these trees in place of its own, and return its folder."""
    folder.mkdir(exist_ok=True)
    for kind, name in FILES.items():
        (folder / name).write_bytes((written(files[kind]) + "\n").encode("utf-8", "surrogatepass"))
    (folder / "rows.csv").write_bytes((SAMPLE / "rows.csv").read_bytes())
    return folder


def written(tree: Any, depth: int = 0) -> str:
    """Return a tree as YAML, each entry on a line of its own."""
    lead = "\n" + " " * depth
    if isinstance(tree, dict):
        return "{" + ",".join(f"{lead} {quoted(key)}: {written(value, depth + 1)}" for key, value in tree.items()) + "}"
    if isinstance(tree, list):
        return "[" + ", ".join(written(value, depth + 1) for value in tree) + "]"
    return quoted(tree)


def answers(folder: Path, commands: Sequence[tuple[str, str]], names: dict[str, str] | None = None) -> Iterator[Answer]:
    """Yield what each command answers about the build in a folder; `names` are other names for the sample's."""
    output, packed = folder / "answer.out", folder / "packed"
    for command, form in commands:
        words = [_word(word, names or {}) for word in command.split()]
        if any(word != own and word.startswith("-") for word, own in zip(words, command.split(), strict=True)):
            continue  # a command line takes it for an option
        words = [word.format(b=folder, o=output, d=packed) for word in words]
        code, content, said = run(words)
        if code != 2 and "{o}" in command:
            content = output.read_bytes()
            output.unlink()
        if code != 2 and "{d}" in command:
            content = (packed / f"pack.{form}").read_bytes()
        yield Answer(command, form, code, content, said)


def _word(word: str, names: dict[str, str]) -> str:
    for between in "=.":
        if between in word:
            return between.join(names.get(part, part) for part in word.split(between))
    return names.get(word, word)


def run(words: Sequence[str]) -> tuple[int, bytes, str]:
    """Return the exit code of a command, its answer and what it said; an exception goes on to whoever asked."""
    with _streams() as (out, err):
        code = main(words)
        out.flush()
        err.flush()
        return code, out.buffer.getvalue(), err.buffer.getvalue().decode("utf-8")  # type: ignore[attr-defined]


@contextmanager
def _streams() -> Iterator[tuple[io.TextIOWrapper, io.TextIOWrapper]]:
    before = sys.stdout, sys.stderr
    made = tuple(io.TextIOWrapper(io.BytesIO(), encoding="utf-8", newline="\n") for _ in range(2))
    sys.stdout, sys.stderr = made
    try:
        yield made[0], made[1]
    finally:
        sys.stdout, sys.stderr = before
