"""Threads: their limits of size, how two meet, and which one a measured fitting can be."""

from typing import Final

from fitcheck.service.answers.said import length
from fitcheck.service.answers.source import Answer, AskedError, Options, Source

_MOST_MM: Final = 100.0
"""Longer than any thread of a hydraulic fitting."""


def thread(source: Source, options: Options) -> Answer:
    """Return the limits of size of a thread, or what happens when one is screwed into another."""
    from fitcheck.reports.thread_text import thread_json
    from fitcheck.standards.threads import fit, limits, parse
    from fitcheck.standards.threads.fit import ENGAGEMENT_MM

    first = limits(parse(options["thread"]))
    asked = options["engagement"]
    if options["into"] is None:
        for field in ("reverse", "explain", "engagement"):
            if options[field]:
                raise AskedError(f"{field}: needs two threads: say what the first is screwed into")
        return Answer(thread_json(first))
    into = limits(parse(options["into"]))
    engagement = length("engagement", asked, _MOST_MM) if asked is not None else ENGAGEMENT_MM
    met = fit(first.thread, into.thread, engagement)
    back = fit(into.thread, first.thread, engagement) if options["reverse"] else None
    good = all(way.verdict in ("mates", "may-bind") for way in (met, back) if way)
    return Answer(thread_json(first, into, met, reverse=back, explain=options["explain"]), 0 if good else 1)


def identify(source: Source, options: Options) -> Answer:
    """Return which threads a reading can be of, and how to tell look-alikes apart."""
    from fitcheck.reports.identify_text import identify_json
    from fitcheck.standards.threads.identify import identify as identified
    from fitcheck.standards.threads.reading import reading
    from fitcheck.standards.threads.tell_apart import confusions

    od, bore = options["od"], options["bore"]
    if od is not None and bore is not None:
        raise AskedError("one thread at a time: od of an external, bore of an internal one")
    crest = bore if bore is not None else od
    if crest is None:
        raise AskedError("expected od of an external thread or bore of an internal one")
    found = identified(reading(crest, options["pitch"], internal=bore is not None, tube=options["tube"]))
    return Answer(identify_json(found, confusions(found)), 0 if found.candidates else 1)
