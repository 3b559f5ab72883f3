"""Bench sheets."""

from fitcheck.build.assemble import assemble
from fitcheck.naming import hint
from fitcheck.service.answers.source import Answer, AskedError, Options, Source


def make(source: Source, options: Options) -> Answer:
    """Return what to cut, slide on, flare, mark and bend, in order of doing; or what to drill."""
    from fitcheck.making.holes import hole_schedule
    from fitcheck.making.make import sheets
    from fitcheck.reports.make_holes_data import holes_json
    from fitcheck.reports.make_json import make_json

    build = source.build()
    known = (*build.file.lines, *build.file.hoses)
    for tag in options["lines"]:
        if tag not in known:
            raise AskedError(f"lines: no line or hose is called {tag!r}{hint(tag, known)}")
    graph, tags = assemble(build), tuple(dict.fromkeys(options["lines"])) or None
    holes = hole_schedule(graph, tags)
    if options["holes"]:
        return Answer(holes_json(holes), 1 if any(job.wrong or job.mm is None for job in holes.jobs) else 0)
    made = sheets(graph, tags)
    bad = any(sheet.faults for sheet in made.sheets) or any(hose.faults for hose in made.hoses)
    return Answer(make_json(made, holes), 1 if bad else 0)
