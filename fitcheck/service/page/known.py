"""Builds that were read a moment ago: the parts of one page are answered from one reading."""

from collections import OrderedDict
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Final

from fitcheck.build.assemble import assemble
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.checks.run import check_context
from fitcheck.service.answers.source import Options, Source
from fitcheck.service.page.drawn import Links, drawn
from fitcheck.service.page.keys import names_of

if TYPE_CHECKING:
    from fitcheck.bom.record import Bom
    from fitcheck.hydraulics.record import Answer

_MOST: Final = 6
_known: "OrderedDict[str, Looked]" = OrderedDict()


class Looked:
    """A build and what is said of it; each thing is worked out once, and only if it is asked for."""

    def __init__(self, source: Source, key: str) -> None:
        self.path = source.path or ""
        self.key = key
        self.variant = source.variant or ""
        self.context = Context(assemble(source.build()))
        self._drawings: dict[str, str] = {}

    @cached_property
    def report(self) -> Report:
        """What the rules say."""
        return check_context(self.context)

    @cached_property
    def names(self) -> tuple[str, ...]:
        """What tells each finding of the report from others, in their order."""
        return names_of(self.report.findings)

    @cached_property
    def bom(self) -> "Bom":
        """The bill of materials, at today's prices."""
        from fitcheck.bom.take_off import take_off

        return take_off(self.context.graph, on=date.today())

    @cached_property
    def pedal(self) -> "Answer":
        """Pressure, stroke, travel and balance."""
        from fitcheck.hydraulics.answer import answer

        return answer(self.context.graph, circuits=self.context.circuits)

    def drawing(self, view: str) -> str:
        """Return a drawing for within the page."""
        if view not in self._drawings:
            links = Links(view, self.variant, self.key, self.names)
            self._drawings[view] = drawn(self.context, self.report, links)
        return self._drawings[view]


def looked(source: Source, options: Options) -> Looked:
    """Return a build, or the variant that is asked for, that is known by `options["key"]`, or read it.

    A key is the same only for the same texts.

    Raises:
        InputError: a file cannot be read or is not what it must be; every problem has its place.
    """
    key: str = options["key"]
    day = f"{date.today().isoformat()} {key} {source.variant or ''}"
    found = _known.get(day)
    if found is None:
        found = _known[day] = Looked(source, key)
    _known.move_to_end(day)
    while len(_known) > _MOST:
        _known.popitem(last=False)
    return found
