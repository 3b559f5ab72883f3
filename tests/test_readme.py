"""README is a contract: every command in it prints what it shows, and every verb, option and key it needs is there."""

import argparse
import re
from importlib import import_module

import pytest

from fitcheck.build.load import load_document
from fitcheck.checks.run import check
from fitcheck.cli.main import VERBS
from fitcheck.sources import parse
from tests.readme_blocks import ROOT, Block, answer, blocks, cut, faults, fresh, read_mark

README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = blocks(README)


@pytest.mark.parametrize("block", BLOCKS, ids=[block.arguments for block in BLOCKS])
def test_command_prints_what_readme_shows(block: Block) -> None:
    """Each command shown in README ends as its mark says and prints exactly the lines that are shown under it."""
    given = answer(block.arguments)
    assert faults(block, given) == []
    assert cut(given.text, read_mark(block.mark)) == block.shown


def test_readme_can_be_read() -> None:
    """README is no longer than a reader stands, and each block in it is found by the tests."""
    assert len(README.splitlines()) <= 800
    assert README.count("```console\n") == len(BLOCKS)


def test_lines_are_wrapped_alike() -> None:
    """No line of prose is longer than 120 characters; answers, tables and marks are as they are."""
    prose = re.sub(r"^```.*?^```$", "", README, flags=re.DOTALL | re.MULTILINE).splitlines()
    assert [line for line in prose if len(line) > 120 and not line.startswith(("| ", "<!-- "))] == []


def test_no_command_of_readme_is_asked_wrongly() -> None:
    """No block shows how a verb should have been asked: that is what a slip in README itself would print."""
    assert "\nusage: " not in README


def test_readme_shows_every_verb() -> None:
    """Every verb stands in README's table, and all are shown at work but `schema`, and those that talk to programs."""
    assert all(f"`fitcheck {verb} " in README for verb in VERBS)
    shown = {block.arguments.split()[0] for block in BLOCKS}
    assert shown >= set(VERBS) - {"schema", "lsp", "serve"}


def options_of(parser: argparse.ArgumentParser) -> set[str]:
    """Return the options of a parser and of the sub-verbs below it; `--help` is every verb's."""
    found: set[str] = set()
    for action in parser._actions:
        found |= set(action.option_strings)
        if isinstance(action, argparse._SubParsersAction):
            found |= {option for below in action.choices.values() for option in options_of(below)}
    return found - {"-h", "--help"}


@pytest.mark.parametrize("verb", VERBS)
def test_every_option_is_in_readme(verb: str) -> None:
    """Every option of every verb is named in that verb's row."""
    parser = argparse.ArgumentParser()
    import_module(f"fitcheck.cli.{verb}").add_arguments(parser)
    row = next(line for line in README.splitlines() if line.startswith(f"| `fitcheck {verb} "))
    assert [option for option in sorted(options_of(parser)) if not re.search(rf"`{option}[` ]", row)] == []


def test_options_of_sub_verbs_are_seen() -> None:
    """The options that only a sub-verb has are among those that README must name."""
    parser = argparse.ArgumentParser()
    import_module("fitcheck.cli.parts").add_arguments(parser)
    assert options_of(parser) >= {"--kind", "--most", "--build"}


def test_sample_build_is_sound() -> None:
    """The file README shows first can be copied as it stands and has no error and no warning."""
    text = re.search(r"```yaml\n(.*?)```", README, re.DOTALL)
    assert text is not None
    report = check(load_document(parse(text[1], "build.yaml"), ROOT))
    assert [(found.rule, found.message) for found in report.findings if found.level != "note"] == []


if __name__ == "__main__":  # puts the present answers into README: python -m tests.test_readme
    (ROOT / "README.md").write_text(fresh(README), encoding="utf-8")
