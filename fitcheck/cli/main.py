"""Finding the verb and running it. Only the chosen verb's parser and imports are loaded."""

import sys
from collections.abc import Sequence
from typing import Final

VERBS: Final = {
    "check": "what is wrong, what was not checked",
    "bom": "the bill of materials",
    "swap": "the same build with parts exchanged: what changes",
    "thread": "limits of size of a thread; what happens when A is screwed into B",
    "rules": "every rule and its page",
    "schema": "writes the JSON Schemas of the files that users write",
}

HELP: Final = """\
usage: fitcheck VERB [BUILD] [options]

Checks the brake and clutch plumbing of a hand-built car, described in one text file.
BUILD is a file, or a folder that holds build.yaml (default: this folder).

{verbs}

fitcheck VERB --help explains one verb; fitcheck rules NAME explains one rule.
Exit code: 0 nothing at level error, 1 findings at level error, 2 could not be read or asked wrongly.

Brakes hurt people when they fail. The answer rests on the data given; it replaces neither a
pressure test nor a licensed engineer nor your local code.
"""


def run() -> None:
    """Run the program and leave with its exit code: the console script's entry point."""
    import gc

    gc.disable()  # a short run that frees nothing big: collecting costs a tenth of the time
    sys.exit(main(sys.argv[1:]))


def main(argv: Sequence[str]) -> int:
    """Answer one command line and return its exit code."""
    if not argv or argv[0] in ("-h", "--help", "help"):
        print(_help(), end="")
        return 0 if argv else 2
    if argv[0] == "--version":
        from importlib.metadata import version

        print(f"fitcheck {version('fitcheck')}")
        return 0
    if argv[0] not in VERBS:
        from fitcheck.naming import hint

        print(f"fitcheck: no verb is called {argv[0]!r}{hint(argv[0], VERBS)}", file=sys.stderr)
        print(f"known: {', '.join(VERBS)}", file=sys.stderr)
        return 2
    return _answer(argv[0], argv[1:])


def _help() -> str:
    width = max(map(len, VERBS))
    return HELP.format(verbs="\n".join(f"  {verb:<{width}}  {about}" for verb, about in VERBS.items()))


def _answer(verb: str, rest: Sequence[str]) -> int:
    from fitcheck.cli.common import answer

    try:
        return answer(verb, VERBS[verb], rest)
    except BrokenPipeError:
        import os

        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 2
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    run()
