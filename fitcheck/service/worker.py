"""A process that answers: one question at a time from standard input, the answer to standard output.

Each message is a head of 4 bytes, the length of what follows, most significant byte first, and JSON. An answer is two
of them: what the answer is, and its body. A question that takes too long ends with its process: see `bench`.
"""

import gc
import json
import os
import struct
import sys
from functools import partial
from pathlib import Path
from typing import Any, BinaryIO, Final, NamedTuple

from fitcheck.checks.register import UnknownRuleError
from fitcheck.errors import FitcheckError
from fitcheck.files import SUFFIXES, Fence, Keeper, Texts
from fitcheck.service.answers.kept import Kept
from fitcheck.service.answers.source import MissingError, Shelves, Source
from fitcheck.service.problems import KINDS, MEDIA_TYPE, places, problem_json
from fitcheck.service.questions import answer_of
from fitcheck.trees import InputError

HEAD: Final = struct.Struct(">I")
READY: Final = b"ready\n"
_TIDY: Final = 25
"""Answers after which the memory is gone through: doing so after each would take a third of the time."""
_LARGE: Final = 1024 * 1024
"""Bytes of an answer after which that is done at once."""
_WARM: Final = "build: 1\ncomponents:\n  mc: {part: mc-3-8-24-inverted}\n"


class Reply(NamedTuple):
    """An answer to a request: status, exit code of the command line, kind of problem if any, body, media type."""

    status: int
    code: int | None
    kind: str
    body: bytes
    media: str = MEDIA_TYPE


def source_of(said: dict[str, Any], shelves: Shelves) -> Source:
    """Return where the build of a question comes from: posted texts, or a folder."""
    texts = {name: text.encode() for name, text in said.get("texts", {}).items()}
    beneath: Keeper | None = Fence(Path(said["folder"]), SUFFIXES) if said.get("folder") is not None else None
    return Source(Texts(texts, beneath), said.get("path"), said.get("variant"), shelves)


def reply_to(said: dict[str, Any], shelves: Shelves) -> Reply:
    """Return the answer to a question; what is wrong with it is an answer too."""
    try:
        found = answer_of(said["ask"])(source_of(said, shelves), said["options"])
    except InputError as error:
        count = len(error.problems)
        detail = str(error.problems[0]) if count == 1 else f"{count} problems, the first: {error.problems[0]}"
        return _refused("input", detail, problems=places(error.problems))
    except (UnknownRuleError, MissingError) as error:
        return _refused("not-found", str(error))
    except FitcheckError as error:
        return _refused("request", str(error))
    except MemoryError:
        return _refused("too-long", "the answer needs more memory than one request may take")
    except RecursionError:
        return _refused("request", "the files are nested too deeply")
    except Exception:
        import traceback

        traceback.print_exc()
        return _refused("fault", "the answer could not be worked out; the server's log says more")
    return Reply(200, found.code, "", found.text.encode(), found.media)


def _refused(kind: str, detail: str, **more: Any) -> Reply:
    return Reply(KINDS[kind].status, None, kind, problem_json(kind, detail, **more))


def serve(asked: BinaryIO, answers: BinaryIO) -> None:
    """Answer questions until there are no more."""
    shelves, kept = Shelves(), Kept[Reply](lambda reply: len(reply.body))
    reply_to({"ask": "check", "texts": {"b": _WARM}, "path": "b", "options": {"remedies": "first"}}, shelves)
    gc.collect()
    gc.freeze()  # what every answer needs is never garbage
    gc.disable()
    answers.write(READY)
    answers.flush()
    count = 0
    while head := asked.read(HEAD.size):
        message = asked.read(HEAD.unpack(head)[0])
        said = json.loads(message)
        reply = kept.reply(message, said, partial(reply_to, said, shelves))
        about = json.dumps([reply.status, reply.code, reply.media]).encode()
        answers.write(b"".join((HEAD.pack(len(about)), about, HEAD.pack(len(reply.body)), reply.body)))
        answers.flush()
        count += 1
        if count % _TIDY == 0 or len(reply.body) > _LARGE:
            gc.collect()


def limit_memory(size: int) -> None:
    """Let this process take at most `size` bytes of addresses, where the system can say so."""
    try:
        import resource
    except ImportError:
        return
    hard = resource.getrlimit(resource.RLIMIT_AS)[1]
    resource.setrlimit(resource.RLIMIT_AS, (size if hard == resource.RLIM_INFINITY else min(size, hard), hard))


def main() -> None:
    """Answer on the standard streams; whatever else is printed goes to standard error."""
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    limit_memory(int(sys.argv[1]))
    serve(sys.stdin.buffer, answers)


if __name__ == "__main__":
    main()
