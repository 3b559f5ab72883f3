"""The hole schedule as text: each kind of hole, where it is, its drills in order, what is wrong, what is not known."""

from collections.abc import Iterable, Iterator

from fitcheck.making.hole_sheet import HoleSchedule, Job
from fitcheck.reports.hole_words import (
    KEEP_CUTTING,
    MOST_FIELDS,
    finish,
    metal_text,
    notes,
    places,
    remark_text,
    step_words,
    title,
    total,
)
from fitcheck.reports.plain import WIDTH, caution_lines, first_few, paragraph


def holes_text(holes: HoleSchedule, *, width: int = WIDTH) -> str:
    """Return the hole schedule for people, in lines of at most `width` columns."""
    head = paragraph(f"{holes.build}: hole schedule", width)
    return "\n".join([*head, "", *hole_lines(holes, width), *caution_lines(width)])


def hole_lines(holes: HoleSchedule, width: int = WIDTH) -> Iterator[str]:
    """Yield the section of a report that holds the holes."""
    yield from paragraph(f"HOLES ({total(holes)})", width)
    for words in notes(holes):
        yield from paragraph(words, width, "  ", "  ")
    for place, job in enumerate(holes.jobs, 1):
        yield ""
        yield from _job(job, place, holes.unit, width)


def _job(job: Job, place: int, unit: str, width: int) -> Iterator[str]:
    yield from paragraph(f"{place}. {title(job, unit)}", width, "  ", "     ")
    for words in details(job, unit):
        yield from paragraph(words, width, "     ", "       ")


def details(job: Job, unit: str) -> Iterator[str]:
    """Yield what a schedule says of one kind of hole, after its title."""
    yield f"where: {places(job, unit)}"
    if job.mm is not None:
        yield f"why: {remark_text(job.why, unit)}; source: {job.source}"
    yield f"in: {metal_text(job, unit)}"
    yield from (f"- {step_words(step, unit)}" for step in job.steps)
    if job.steps:
        yield f"- {finish(job)}"
    if job.hardens and job.steps:
        yield KEEP_CUTTING
    yield from _each("WRONG: ", (remark_text(remark, unit) for remark in job.wrong))
    yield from _each("look at: ", (remark_text(remark, unit) for remark in job.look_at))
    if job.unknown:
        yield f"not known: {first_few(job.unknown, MOST_FIELDS)}"


def _each(lead: str, sentences: Iterable[str]) -> Iterator[str]:
    return (f"{lead}{words}" for words in sentences)
