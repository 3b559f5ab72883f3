"""The Language Server Protocol over standard input and output: what the other modules answer, in its words.

Checks are made one after the other in another process. Of several states of a file only the newest is checked, and the
answer about a state that is no longer the newest is thrown away.
"""

import asyncio
from bisect import bisect_right
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Final, Protocol, TypeVar

from lsprotocol import types as lsp
from pygls import uris
from pygls.lsp.server import LanguageServer
from pygls.workspace import TextDocument

from fitcheck.service.editor.actions import Action
from fitcheck.service.editor.complete import Choice, Sort
from fitcheck.service.editor.desk import Desk
from fitcheck.service.editor.diagnose import Diagnosis, Said, Severity, Span
from fitcheck.service.editor.texts import Open, line_starts
from fitcheck.service.editor.worker import Question, TooLongError, Worker, WorkerError

T = TypeVar("T")
_PAUSE_S: Final = 0.08
"""How long typing has to pause before a file is checked."""
_SEVERITIES: Final[dict[Severity, lsp.DiagnosticSeverity]] = {
    "error": lsp.DiagnosticSeverity.Error,
    "warning": lsp.DiagnosticSeverity.Warning,
    "note": lsp.DiagnosticSeverity.Information,
    "hint": lsp.DiagnosticSeverity.Hint,
}
_SORTS: Final[dict[Sort, lsp.CompletionItemKind]] = {
    "key": lsp.CompletionItemKind.Property,
    "part": lsp.CompletionItemKind.Class,
    "end": lsp.CompletionItemKind.Field,
    "tag": lsp.CompletionItemKind.Variable,
    "word": lsp.CompletionItemKind.EnumMember,
}


class Editor(LanguageServer):
    """One editor: its open files, what is shown in them, and the process that checks."""

    def __init__(self, version: str, worker: Worker) -> None:
        super().__init__("fitcheck", version)
        self.desk = Desk()
        self.worker = worker
        self.waiting: dict[Path, None] = {}
        self.shown: dict[Path, dict[Path, tuple[Said, ...]]] = {}
        self.named: dict[Path, frozenset[Path]] = {}
        self.checking: asyncio.Task[None] | None = None

    def texts(self) -> dict[Path, str]:
        """Return the text of every open file of the disk."""
        return {path: document.source for document in self._documents() if (path := path_of(document.uri)) is not None}

    def _documents(self) -> list[TextDocument]:
        return list(self.workspace.text_documents.values())

    async def apart(self, work: Callable[[], T]) -> T:
        """Return what `work` returns, done in a thread, so that the editor is listened to meanwhile."""
        return await asyncio.get_running_loop().run_in_executor(self.thread_pool, work)

    def changed(self, path: Path) -> None:
        """Have a file checked, and every open build that names it."""
        affected = [path, *(build for build, named in self.named.items() if path in named)]
        self.waiting.update(dict.fromkeys(affected))
        if self.checking is None or self.checking.done():
            self.checking = asyncio.get_running_loop().create_task(self._check_all())

    async def _check_all(self) -> None:
        while self.waiting:
            await asyncio.sleep(_PAUSE_S)
            path = next(iter(self.waiting))
            del self.waiting[path]
            texts = self.texts()
            if path not in texts:
                continue
            try:
                found: Diagnosis = await self.apart(lambda: self.worker.ask(Question(texts, path)))  # noqa: B023  # asked at once
            except (TooLongError, WorkerError) as error:
                found = Diagnosis(None, {path: (Said(Span(path, 0, 1), "warning", str(error)),)})
            if path not in self.waiting and self.texts().get(path) == texts[path]:
                self.named[path] = found.named
                self._show(path, found.said)

    def _show(self, owner: Path, said: dict[Path, tuple[Said, ...]]) -> None:
        """Show what was found by looking at one file, with what others say of the same files."""
        before = self.shown.get(owner, {})
        self.shown[owner] = said
        files = Open(self.texts())
        for file in {**before, **said}:
            together = dict.fromkeys(one for each in self.shown.values() for one in each.get(file, ()))
            shown = [self._diagnostic(one, files) for one in together]
            uri = self.uri_of(file)
            version = next((each.version for each in self._documents() if each.uri == uri), None)
            self.text_document_publish_diagnostics(lsp.PublishDiagnosticsParams(uri, shown, version))

    def _diagnostic(self, said: Said, files: Open) -> lsp.Diagnostic:
        related = [
            lsp.DiagnosticRelatedInformation(lsp.Location(self.uri_of(span.file), self.range_of(span, files)), words)
            for span, words in said.related
        ]
        return lsp.Diagnostic(
            range=self.range_of(said.span, files),
            message=said.message,
            severity=_SEVERITIES[said.severity],
            code=said.rule or None,
            source="fitcheck",
            related_information=related or None,
        )

    def range_of(self, span: Span, files: Open | None = None) -> lsp.Range:
        """Return a stretch of a file in the units that the editor counts in."""
        text = (files or Open(self.texts())).text(span.file)
        count = self.workspace.position_codec.client_num_units
        starts = line_starts(text)

        def position(offset: int) -> lsp.Position:
            line = max(bisect_right(starts, min(offset, len(text))) - 1, 0)
            return lsp.Position(line, count(text[starts[line] : offset]))

        return lsp.Range(position(span.start), position(span.end))

    def uri_of(self, path: Path) -> str:
        """Return the name of a file as the editor says it, if it is open."""
        known = (document.uri for document in self._documents() if path_of(document.uri) == path)
        return next(known, "") or uris.from_fs_path(str(path)) or ""

    def closed(self, path: Path) -> None:
        """Forget a file that was closed, and show no more in it."""
        self.desk.forget(path)
        self.waiting.pop(path, None)
        self.named.pop(path, None)
        self._show(path, {})
        self.shown.pop(path, None)


def path_of(uri: str) -> Path | None:
    """Return the file that a URI names; None if it is not on the disk."""
    name = uris.to_fs_path(uri)
    return Path(name) if name else None


def make_server(version: str, worker: Worker) -> Editor:
    """Return a server with all that it answers."""
    server = Editor(version, worker)
    _on_texts(server)
    _on_questions(server)
    return server


def _on_texts(server: Editor) -> None:
    def changed(uri: str) -> None:
        path = path_of(uri)
        if path is not None:
            server.changed(path)

    @server.feature(lsp.TEXT_DOCUMENT_DID_OPEN)
    async def did_open(params: lsp.DidOpenTextDocumentParams) -> None:
        changed(params.text_document.uri)

    @server.feature(lsp.TEXT_DOCUMENT_DID_CHANGE)
    async def did_change(params: lsp.DidChangeTextDocumentParams) -> None:
        changed(params.text_document.uri)

    @server.feature(lsp.TEXT_DOCUMENT_DID_SAVE)
    async def did_save(params: lsp.DidSaveTextDocumentParams) -> None:
        changed(params.text_document.uri)

    @server.feature(lsp.WORKSPACE_DID_CHANGE_WATCHED_FILES)
    async def did_change_files(params: lsp.DidChangeWatchedFilesParams) -> None:
        for change in params.changes:
            changed(change.uri)

    @server.feature(lsp.TEXT_DOCUMENT_DID_CLOSE)
    async def did_close(params: lsp.DidCloseTextDocumentParams) -> None:
        path = path_of(params.text_document.uri)
        if path is not None:
            server.closed(path)


def _on_questions(server: Editor) -> None:
    @server.feature(lsp.TEXT_DOCUMENT_COMPLETION, lsp.CompletionOptions(trigger_characters=[".", " ", "{", "["]))
    async def completion(params: lsp.CompletionParams) -> lsp.CompletionList:
        path, offset = _asked(server, params)
        if path is None:
            return lsp.CompletionList(False, [])
        texts = server.texts()
        cursor, found = await server.apart(lambda: server.desk.complete(texts, path, offset))
        where = server.range_of(Span(path, cursor.start, cursor.end))
        items = [_item(choice, number, where) for number, choice in enumerate(found.found)]
        return lsp.CompletionList(found.more, items)

    @server.feature(lsp.TEXT_DOCUMENT_HOVER)
    async def hover(params: lsp.HoverParams) -> lsp.Hover | None:
        path, offset = _asked(server, params)
        texts = server.texts()
        found = await server.apart(lambda: server.desk.hover(texts, path, offset)) if path is not None else None
        if found is None or path is None:
            return None
        word, said = found
        text = lsp.MarkupContent(lsp.MarkupKind.PlainText, said)
        return lsp.Hover(text, server.range_of(Span(path, word.start, word.end)))

    @server.feature(lsp.TEXT_DOCUMENT_DEFINITION)
    async def definition(params: lsp.DefinitionParams) -> lsp.Location | None:
        path, offset = _asked(server, params)
        texts = server.texts()
        spot = await server.apart(lambda: server.desk.definition(texts, path, offset)) if path is not None else None
        if spot is None:
            return None
        return lsp.Location(server.uri_of(spot.file), server.range_of(Span(spot.file, spot.offset, spot.offset)))

    @server.feature(
        lsp.TEXT_DOCUMENT_CODE_ACTION, lsp.CodeActionOptions(code_action_kinds=[lsp.CodeActionKind.QuickFix])
    )
    async def code_action(params: lsp.CodeActionParams) -> list[lsp.CodeAction]:
        return await _code_actions(server, params)


class _Asks(Protocol):
    """A question about a place in a file."""

    text_document: lsp.TextDocumentIdentifier
    position: lsp.Position


def _asked(server: Editor, params: _Asks) -> tuple[Path | None, int]:
    """Return the file that a question is about, and the offset into its text; no file if it is not open."""
    document = server.workspace.get_text_document(params.text_document.uri)
    path = path_of(document.uri)
    if path not in server.texts():
        return None, 0
    return path, document.offset_at_position(params.position)


def _item(choice: Choice, number: int, where: lsp.Range) -> lsp.CompletionItem:
    return lsp.CompletionItem(
        label=choice.text.rstrip("{[ :") or choice.text,
        kind=_SORTS[choice.sort],
        detail=choice.detail or None,
        documentation=choice.about or None,
        sort_text=f"{number:04}",
        filter_text=choice.text,
        text_edit=lsp.TextEdit(where, choice.text),
    )


async def _code_actions(server: Editor, params: lsp.CodeActionParams) -> list[lsp.CodeAction]:
    document = server.workspace.get_text_document(params.text_document.uri)
    path, texts = path_of(document.uri), server.texts()
    ours = [one for one in params.context.diagnostics if one.source == "fitcheck" and one.code]
    if path is None or path not in texts or not ours:
        return []
    lines = (params.range.start.line + 1, params.range.end.line + 1)
    try:
        found: Iterable[Action] = await server.apart(lambda: server.worker.ask(Question(texts, path, lines)))
    except (TooLongError, WorkerError):
        return []
    if server.texts().get(path) != texts[path]:
        return []  # the edits are of a text that is no longer there
    return [_code_action(server, document, path, action, ours) for action in found]


def _code_action(
    server: Editor, document: TextDocument, path: Path, action: Action, shown: list[lsp.Diagnostic]
) -> lsp.CodeAction:
    edits = [lsp.TextEdit(server.range_of(Span(path, edit.start, edit.end)), edit.text) for edit in action.edits]
    cured = [one for one in shown if one.code == action.rule and one.message.startswith(action.message)]
    which = lsp.OptionalVersionedTextDocumentIdentifier(document.uri, document.version)
    return lsp.CodeAction(
        title=f"{action.rule}: {action.title}",
        kind=lsp.CodeActionKind.QuickFix,
        diagnostics=cured or None,
        is_preferred=action.first,
        edit=lsp.WorkspaceEdit(document_changes=[lsp.TextDocumentEdit(which, list(edits))]),
    )
