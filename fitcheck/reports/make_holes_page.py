"""The page of the holes to print: what holds for all of them, then each kind of hole with its drills to tick off."""

from collections.abc import Iterable, Iterator
from html import escape

from fitcheck.making.hole_sheet import DrillStep, HoleSchedule, Job
from fitcheck.reports.hole_words import (
    KEEP_CUTTING,
    MOST_FIELDS,
    finish,
    metal_text,
    notes,
    places,
    remark_text,
    speed_cells,
    title,
    tool_name,
    total,
)
from fitcheck.reports.plain import first_few, visible


def holes_told(holes: HoleSchedule) -> Iterator[str]:
    """Yield what stands on the page of the holes, as HTML."""
    yield f"<h1>Holes ({_safe(total(holes))})</h1><ul>"
    yield from _items(notes(holes))
    yield "</ul>"
    for place, job in enumerate(holes.jobs, 1):
        yield '<div style="break-inside:avoid">'
        yield from _job(job, place, holes.unit)
        yield "</div>"


def _job(job: Job, place: int, unit: str) -> Iterator[str]:
    yield f"<h2>{place}. {_safe(title(job, unit))}</h2>"
    yield f"<p>{_safe(places(job, unit))}</p>"
    why = f"{remark_text(job.why, unit)} ({job.source}). " if job.mm is not None else ""
    yield f"<p>{_safe(f'{why}In: {metal_text(job, unit)}.')}</p>"
    if job.steps:
        heads = ("", "Drill", "Turns a minute", "Printed", "Set", "Feed")
        cells = "".join(f"<th>{head}</th>" for head in heads)
        yield f'<table class="bends"><thead><tr>{cells}</tr></thead><tbody>'
        yield from (_row(step, number, unit) for number, step in enumerate(job.steps, 1))
        yield f"</tbody></table><p>Then: {_safe(finish(job))}.</p>"
    if job.hardens and job.steps:
        yield f"<p><b>{escape(KEEP_CUTTING)}.</b></p>"
    if job.wrong:
        yield '<div class="faults">Wrong:<ul>'
        yield from _items(remark_text(remark, unit) for remark in job.wrong)
        yield "</ul></div>"
    rest = [*(remark_text(remark, unit) for remark in job.look_at), *_unknown(job)]
    if rest:
        yield "<ul>"
        yield from _items(rest)
        yield "</ul>"


def _unknown(job: Job) -> Iterator[str]:
    if job.unknown:
        yield f"Not known: {first_few(job.unknown, MOST_FIELDS)}"


def _row(step: DrillStep, number: int, unit: str) -> str:
    cells = "".join(f"<td>{_safe(cell)}</td>" for cell in (tool_name(step), *speed_cells(step, unit)))
    return f'<tr><td class="n">{number}</td>{cells}</tr>'


def _items(sentences: Iterable[str]) -> Iterator[str]:
    return (f"<li>{_safe(words)}</li>" for words in sentences)


def _safe(words: str) -> str:
    return escape(visible(words))
