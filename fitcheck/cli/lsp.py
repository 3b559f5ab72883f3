"""`fitcheck lsp`: findings, completion and remedies in an editor, by the Language Server Protocol."""

import argparse
import gc
import os
import sys

from fitcheck.cli.common import RequestError


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments: there are none but those by which editors say how they will talk."""
    parser.add_argument("--stdio", action="store_true", help="talk over standard input and output (always so)")


def run(args: argparse.Namespace) -> int:
    """Answer an editor until it says that it is done.

    Raises:
        RequestError: what speaks the protocol is not installed.
    """
    try:
        from fitcheck.service.editor.server import make_server
    except ModuleNotFoundError as error:
        if (error.name or "").partition(".")[0] not in ("pygls", "lsprotocol"):
            raise
        raise RequestError('this verb needs the extra lsp: pip install "fitcheck[lsp]"') from None
    from fitcheck.service.editor.worker import Worker

    gc.enable()  # unlike other verbs this one runs on
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # whatever prints must not print into what the editor reads
    worker = Worker()
    try:
        make_server(_version(), worker).start_io(sys.stdin.buffer, answers)
    finally:
        worker.close()
    return 0


def _version() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("fitcheck")
    except PackageNotFoundError:
        return "0"
