"""Parts of the catalogs, and the rules."""

from collections.abc import Sequence

from fitcheck.naming import hint
from fitcheck.service.answers.said import length
from fitcheck.service.answers.source import Answer, AskedError, MissingError, Options, Source
from fitcheck.trees import short


def search(source: Source, options: Options) -> Answer:
    """Return the parts that every word fits."""
    from fitcheck.catalog.part import KINDS
    from fitcheck.catalog.search import Index, Query
    from fitcheck.reports.parts_text import Search, search_json
    from fitcheck.standards.seats import SEAT_NAMES
    from fitcheck.standards.threads import parse

    words, thread, tube = options["words"], options["thread"], options["tube"]
    query = Query.of(
        words,
        kind=_known("kind", "kind of part", options["kind"], KINDS),
        seat=_known("seat", "seat", options["seat"], SEAT_NAMES),
        thread=parse(thread) if thread is not None else None,
        tube=length("tube", tube) if tube is not None else None,
    )
    if query.empty:
        raise AskedError("say what to look for: a word or two such as tee 3/16, or kind, thread, seat, tube")
    index = Index(source.build().shelf)
    found = index.search(query)
    answer = Search(tuple(words), len(index.entries), found, options["most"], None if found else index.miss(query))
    return Answer(search_json(answer), 0 if found else 1)


def show(source: Source, options: Options) -> Answer:
    """Return everything about one part."""
    from fitcheck.reports.parts_text import no_part_text, part_json

    shelf = source.build().shelf
    part = shelf.get(options["part"])
    if part is None:
        raise MissingError(no_part_text(shelf, options["part"]))
    return Answer(part_json(shelf, part))


def _known(field: str, what: str, value: str | None, known: Sequence[str]) -> str | None:
    if value is None or value in known:
        return value
    raise AskedError(f"{field}: {short(value)} is no {what}{hint(value, known)}; known: {', '.join(known)}")


def rules(source: Source, options: Options) -> Answer:
    """Return every rule and its page, or the page of one."""
    import json

    from fitcheck.checks.register import page, pages
    from fitcheck.reports.rules_text import rules_json

    name = options["name"]
    chosen = [page(name)] if name is not None else list(pages())
    return Answer(json.dumps(rules_json(chosen), ensure_ascii=False))
