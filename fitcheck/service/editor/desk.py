"""What is open in an editor, and the quick answers about it; none of them waits for a check."""

from collections.abc import Iterable, Mapping
from pathlib import Path
from threading import Lock
from typing import Final, NamedTuple

from fitcheck.catalog.shelf import Shelf
from fitcheck.service.editor.complete import Choices, choices
from fitcheck.service.editor.cursor import Cursor, cursor_at
from fitcheck.service.editor.hover import Spot, Word, definition, hover, price_of, word_at
from fitcheck.service.editor.names import Names
from fitcheck.service.editor.texts import Kind, Open, Shelves, kind_of, kind_of_text
from fitcheck.sources import parse
from fitcheck.trees import Document, InputError

_NOTHING: Final = Document("", "", None, (0, 0, 0, ""))


class _Seen(NamedTuple):
    """A file as it could last be read."""

    kind: Kind | None
    document: Document


class Desk:
    """Answers about open files. What cannot be read at this moment is answered from the last moment when it could."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._shelves = Shelves()
        self._seen: dict[Path, _Seen] = {}

    def complete(self, texts: Mapping[Path, str], path: Path, offset: int) -> tuple[Cursor, Choices]:
        """Return where the cursor is and what may stand there."""
        text = texts[path]
        with self._lock:
            cursor = cursor_at(text, offset)
            seen = self._read(path, text, offset)
            if seen.kind is None:
                return cursor, Choices(())
            return cursor, choices(seen.kind, cursor, self._names(texts, path, seen))

    def hover(self, texts: Mapping[Path, str], path: Path, offset: int) -> tuple[Word, str] | None:
        """Return the word under the cursor and what it means; None if nothing is known of it."""
        with self._lock:
            word = word_at(texts[path], offset)
            seen = self._read(path, texts[path], offset)
            if word is None or seen.kind is None:
                return None
            price = price_of(seen.document, Open(texts), path)
            said = hover(seen.kind, word, self._names(texts, path, seen), price)
            return (word, said) if said else None

    def definition(self, texts: Mapping[Path, str], path: Path, offset: int) -> Spot | None:
        """Return where the word under the cursor is stated; None if that is unknown."""
        with self._lock:
            word = word_at(texts[path], offset)
            seen = self._read(path, texts[path], offset)
            if word is None or seen.kind is None:
                return None
            return definition(seen.kind, word, self._names(texts, path, seen), Open(texts), path, seen.document)

    def forget(self, path: Path) -> None:
        """Forget a file that was closed."""
        with self._lock:
            self._seen.pop(path, None)

    def _names(self, texts: Mapping[Path, str], path: Path, seen: _Seen) -> Names:
        if seen.kind != "build":
            return Names(seen.document.root, Shelf.generic())
        return Names(seen.document.root, self._shelves.known(Open(texts), path, seen.document))

    def _read(self, path: Path, text: str, offset: int) -> _Seen:
        """Return a file as it is, else as it is without the line of the cursor, else as it was."""
        for candidate in _candidates(text, offset):
            try:
                document = parse(candidate, path.as_posix())
            except InputError:
                continue
            self._seen[path] = _Seen(kind_of(document.root), document)
            return self._seen[path]
        return self._seen.get(path) or _Seen(kind_of_text(text), _NOTHING)


def _candidates(text: str, offset: int) -> Iterable[str]:
    yield text
    start = text.rfind("\n", 0, offset) + 1
    end = text.find("\n", offset)
    end = len(text) if end < 0 else end
    yield text[:start] + " " * (end - start) + text[end:]
