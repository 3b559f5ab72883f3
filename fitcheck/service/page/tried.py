"""A change seen before it is made: another part, a remedy, a text; what comes and goes with it."""

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from fitcheck.changes import Append, Change, ConflictError, Drop, Put
from fitcheck.checks.findings import Finding
from fitcheck.errors import FitcheckError
from fitcheck.files import Texts
from fitcheck.naming import hint
from fitcheck.reports.check_text import headline
from fitcheck.reports.plain_json import compact_text
from fitcheck.service.answers.source import Answer, AskedError, Options, Source
from fitcheck.service.folder import digest
from fitcheck.service.page.keys import key_of
from fitcheck.service.page.known import Looked, looked
from fitcheck.service.page.told import finding_value, gap_values
from fitcheck.service.problems import places
from fitcheck.trees import InputError


def changed_file(source: Source, options: Options) -> Answer:
    """Return the text of a file with a change in it, comments kept: what is written if the change is accepted."""
    file, text = _new_text(source, options)
    return Answer(compact_text({"file": file, "text": text}))


def tried(source: Source, options: Options) -> Answer:
    """Return what a change brings: findings gone and new, the bill, and the drawing with it in; `same` if nothing."""
    file, text = _new_text(source, options)
    try:
        before: Looked | None = looked(source, options)
    except InputError:
        before = None
    try:
        after = _after(source, options, file, text)
    except InputError as error:
        return Answer(compact_text({"file": file, "problems": places(error.problems)}))
    value = {"file": file, "problems": [], "headline": headline(after.report)}
    if digest(text.encode()) == options["hashes"].get(file):
        return Answer(compact_text({**value, "same": True}))
    value |= {
        "drawing": after.drawing(options["view"]),
        **(_difference(before, after) if before is not None else {}),
    }
    return Answer(compact_text(value))


def pedals(source: Source, options: Options) -> Answer:
    """Return what a change brings at the pedals, as HTML; nothing if that cannot be said."""
    from fitcheck.hydraulics.answer import has_pedal
    from fitcheck.hydraulics.change import changed
    from fitcheck.reports.pedal_change import pedal_lines

    try:
        builds = looked(source, options), _after(source, options, *_new_text(source, options))
    except InputError:
        return Answer("", media="text/html")
    if not any(has_pedal(each.context.file) for each in builds):
        return Answer("", media="text/html")
    found = changed(*(each.pedal for each in builds))
    return Answer("".join(_html(list(pedal_lines(found, _WIDE)))), media="text/html")


def _after(source: Source, options: Options, file: str, text: str) -> Looked:
    """Return the build with a text in it, to be known by the key that it has once it is written."""
    data = text.encode()
    key = key_of({**options["hashes"], file: digest(data)})
    return looked(source._replace(keeper=Texts({file: data}, source.keeper)), {"key": key})


def _difference(before: Looked, after: Looked) -> dict[str, Any]:
    from fitcheck.bom.change import compare
    from fitcheck.reports.swap_text import Difference, change_lines, difference

    found = difference(before.report, after.report)
    change = compare(before.bom, after.bom)
    nothing = Difference((), (), 0, (), ())
    return {
        "gone": [_finding(each, before) for each in found.gone],
        "new": [_finding(each, after) for each in found.new],
        "stay": found.stay,
        "unchecked_new": gap_values(found.unchecked_new),
        "unchecked_gone": gap_values(found.unchecked_gone),
        "bill": "".join(_html(list(change_lines(nothing, change, _WIDE))[2:])),
    }


_WIDE = 1_000_000


def _html(lines: list[str]) -> Iterator[str]:
    """Return lines of a text report as HTML."""
    from fitcheck.reports.pack.told import told

    return told(line if line.startswith(" ") else line.capitalize() for line in lines)


def _finding(finding: Finding, found: Looked) -> dict[str, Any]:
    findings = found.report.findings
    number = next((place for place, each in enumerate(findings, 1) if each is finding), 0)
    return finding_value(number, finding, found)


def _new_text(source: Source, options: Options) -> tuple[str, str]:
    """Return the file that a change is of, and its text with the change in it.

    Raises:
        AskedError: the change cannot be made.
    """
    path = source.path or ""
    if options.get("text") is not None:
        return options["file"], options["text"]
    if options.get("swaps"):
        return path, _swapped(source, options)
    try:
        return path, _changed(source, options["changes"])
    except InputError as error:
        raise AskedError(f"this change cannot be made: {error.problems[0]}") from None


def _swapped(source: Source, options: Options) -> str:
    from fitcheck.build.variants import swap_path, swapped_document

    swaps: Mapping[str, str] = options["swaps"]
    graph = looked(source, options).context.graph
    for tag, part in swaps.items():
        if tag not in graph.fitted:
            raise AskedError(f"nothing here has the tag {tag!r}{hint(tag, graph.fitted)}")
        if part not in graph.build.shelf:
            raise AskedError(f"no catalog has a part {part!r}{hint(part, graph.build.shelf.ids())}")
    if source.variant is None:
        return swapped_document(source.document(), swaps).text
    document = graph.build.document
    return _changed_text(source, [Put(swap_path(document, tag), part) for tag, part in swaps.items()])


def _changed_text(source: Source, changes: Sequence[Change]) -> str:
    """Return the build file with changes in it: of a variant they are written into the variant's block."""
    from fitcheck.build.variant_edits import changed_variant
    from fitcheck.changes import changed_document

    document = source.document()
    if source.variant is None:
        return changed_document(document, changes).text
    return changed_variant(document, source.variant, changes).text


def _changed(source: Source, said: str) -> str:
    try:
        return _changed_text(source, [_change(each) for each in json.loads(said)])
    except ConflictError as error:
        raise AskedError(str(error)) from None
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        if isinstance(error, FitcheckError):
            raise
        raise AskedError("expected the changes of a remedy, as this page writes them") from None


def _change(said: Mapping[str, Any]) -> Change:
    path = tuple(said["path"])
    if not path or not all(isinstance(step, (str, int)) and not isinstance(step, bool) for step in path):
        raise ValueError("path")
    if said["change"] == "drop":
        return Drop(path)
    if not _is_plain(said["value"]):
        raise ValueError("value")
    kinds: dict[str, type[Put | Append]] = {"put": Put, "append": Append}
    return kinds[said["change"]](path, said["value"])


def _is_plain(value: Any) -> bool:
    if isinstance(value, dict):
        return all(isinstance(key, str) and _is_plain(inner) for key, inner in value.items())
    return isinstance(value, str) or (isinstance(value, list) and all(map(_is_plain, value)))
