"""A client that speaks the Language Server Protocol to a real `fitcheck lsp`, message by message."""

import json
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from queue import Queue
from threading import Thread
from typing import IO, Any

SECONDS = 60.0
"""How long an answer is waited for before a test gives up: far longer than any takes."""


def read_message(pipe: IO[bytes]) -> dict[str, Any] | None:
    """Return the next message of a stream, None at its end. Anything that is no message is an error."""
    length = None
    while (line := pipe.readline()) not in (b"\r\n", b""):
        name, _, value = line.partition(b":")
        assert name in (b"Content-Length", b"Content-Type"), line
        length = int(value) if name == b"Content-Length" else length
    if length is None:
        return None
    message: dict[str, Any] = json.loads(pipe.read(length))
    return message


class Client:
    """One editor. Positions are line and character from 0, characters counted in `units`."""

    def __init__(self, process: "subprocess.Popen[bytes]") -> None:
        self.process = process
        self.number = 0
        self.answers: Queue[dict[str, Any] | None] = Queue()
        self.notes: list[dict[str, Any]] = []
        Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        assert self.process.stdout is not None
        while True:
            message = read_message(self.process.stdout)
            self.answers.put(message)
            if message is None:
                return

    def send(self, method: str, params: Any, number: int | None = None) -> None:
        """Send a notification, or with a number a request."""
        message = {"jsonrpc": "2.0", "method": method, "params": params}
        data = json.dumps(message if number is None else message | {"id": number}).encode()
        assert self.process.stdin is not None
        self.process.stdin.write(b"Content-Length: %d\r\n\r\n%s" % (len(data), data))
        self.process.stdin.flush()

    def ask(self, method: str, params: Any) -> Any:
        """Return the result of a request; what is notified meanwhile is kept."""
        self.number += 1
        self.send(method, params, self.number)
        while True:
            message = self.answers.get(timeout=SECONDS)
            assert message is not None, "the server has ended"
            if message.get("id") == self.number and "method" not in message:
                assert "error" not in message, message
                return message["result"]
            self.notes.append(message)

    def diagnostics(self, path: Path, version: int | None = None) -> list[dict[str, Any]]:
        """Wait for what is shown in a file, of this version of it if one is given, and return it."""
        while True:
            note = self.notes.pop(0) if self.notes else self.answers.get(timeout=SECONDS)
            assert note is not None, "the server has ended"
            params = note.get("params", {})
            if note.get("method") != "textDocument/publishDiagnostics" or params["uri"] != path.as_uri():
                continue
            if version is None or params.get("version") == version:
                found: list[dict[str, Any]] = params["diagnostics"]
                return found

    def open(self, path: Path, text: str) -> None:
        """Open a file with a text that need not be that of the disk."""
        item = {"uri": path.as_uri(), "languageId": "yaml", "version": 1, "text": text}
        self.send("textDocument/didOpen", {"textDocument": item})

    def change(self, path: Path, version: int, text: str) -> None:
        """Replace the whole text of an open file."""
        document = {"uri": path.as_uri(), "version": version}
        self.send("textDocument/didChange", {"textDocument": document, "contentChanges": [{"text": text}]})

    def at(self, method: str, path: Path, line: int, character: int) -> Any:
        """Return the answer to a question about a place."""
        place = {"textDocument": {"uri": path.as_uri()}, "position": {"line": line, "character": character}}
        return self.ask(f"textDocument/{method}", place)


@contextmanager
def client(folder: Path) -> Iterator[Client]:
    """Give a client of a server of its own, which has to end by itself and well when it is told to."""
    command = [sys.executable, "-m", "fitcheck", "lsp"]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as process:
        try:
            editor = Client(process)
            editor.ask("initialize", {"processId": None, "rootUri": folder.as_uri(), "capabilities": {}})
            editor.send("initialized", {})
            yield editor
            assert editor.ask("shutdown", None) is None
            editor.send("exit", None)
            assert process.wait(timeout=SECONDS) == 0
        finally:
            process.kill()


def marked(text: str) -> tuple[str, int, int]:
    """Return a text without its mark `|`, and the line and character where that stood."""
    before, _, after = text.partition("|")
    return before + after, before.count("\n"), len(before) - before.rfind("\n") - 1


def applied(text: str, edits: list[dict[str, Any]]) -> str:
    """Return a text with edits of the protocol made in it, each about the text as it was."""
    lines = text.splitlines(keepends=True)
    starts = [sum(map(len, lines[:number])) for number in range(len(lines) + 1)]

    def offset(position: dict[str, int]) -> int:
        return starts[position["line"]] + position["character"]

    for edit in sorted(edits, key=lambda one: offset(one["range"]["start"]), reverse=True):
        start, end = (offset(edit["range"][name]) for name in ("start", "end"))
        text = text[:start] + edit["newText"] + text[end:]
    return text
