"""Finding the verb and running it. Only the chosen verb's parser and imports are loaded."""

import sys
from collections.abc import Sequence
from typing import Final

VERBS: Final = {
    "check": "what is wrong, what was not checked",
    "bom": "the bill of materials",
    "order": "the shopping list: what to buy where, when each circuit can be finished",
    "cut": "the cutting list: which tube from which coil or offcut",
    "make": "bench sheets: what to cut, slide on, flare and bend, in order of doing",
    "draw": "the circuit as a diagram; the car from above, from the side and from ahead",
    "bleed": "how to fill, in which order to bleed, how to test for leaks; to print and sign",
    "pack": "everything in one HTML file and one PDF: drawings, findings, shopping list, sheets",
    "pedal": "pressure, stroke, travel and balance, from the foot to the caliper",
    "swap": "the same build with parts exchanged: what changes",
    "cure": "the best remedies applied together and checked again",
    "bridge": "the adapters that join two ends, best first",
    "thread": "limits of size of a thread; what happens when A is screwed into B",
    "identify": "which threads a measured fitting can be, and its look-alikes",
    "parts": "finds parts in the catalogs; everything about one; takes price lists in",
    "watch": "checks again whenever a file of the build is saved",
    "lsp": "findings, completion and remedies in an editor",
    "serve": "the same answers for other programs: an HTTP API on this machine",
    "rules": "every rule and its page",
    "schema": "writes the JSON Schemas of the files that users write",
}

HELP: Final = """\
usage: fitcheck VERB [BUILD] [options]

Checks the brake and clutch plumbing of a hand-built car, described in one text file.
BUILD is a file, or a folder that holds build.yaml (default: this folder).

{verbs}

fitcheck VERB --help explains one verb; fitcheck rules NAME explains one rule.
Exit code: 0 well, 1 not (errors stand, nothing fits, nothing found), 2 could not be read or asked wrongly.

Brakes hurt people when they fail. The answer rests on the data given; it replaces neither a
pressure test nor a licensed engineer nor your local code.
"""


def run() -> None:
    """Run the program and leave with its exit code: the console script's entry point.

    A run is short and frees nothing big, so nothing is collected on the way, and at the end the process is left
    without taking every module apart: together that is a fifth of the time. Files are closed where they are written.
    """
    import gc
    import os

    gc.disable()
    if sys.stdout is None:  # closed by whoever started us: there is nowhere to answer to
        os._exit(2)
    try:
        code = main(sys.argv[1:])
        sys.stdout.flush()
    except BrokenPipeError:  # whoever reads has seen enough
        code = 2
    except OSError as error:  # a full disk must not look like a good answer
        print(f"fitcheck: the answer could not be written: {error.strerror}", file=sys.stderr)
        code = 2
    sys.stderr.flush()
    os._exit(code)


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
    except SystemExit as stop:  # argparse leaves this way, after its help or its error
        return stop.code if isinstance(stop.code, int) else 2
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    run()
