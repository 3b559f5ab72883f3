"""Builds that were read a moment ago: the parts of one page are answered from one reading."""

from collections import OrderedDict
from typing import Final, NamedTuple

from fitcheck.build.assemble import assemble
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.checks.run import check_context
from fitcheck.service.answers.source import Options, Source

_MOST: Final = 4
_known: "OrderedDict[str, Looked]" = OrderedDict()


class Looked(NamedTuple):
    """A build and what the rules say of it, remedies not looked for."""

    context: Context
    report: Report


def looked(source: Source, options: Options) -> Looked:
    """Return a build and its report; `options["key"]` is the same only for the same texts.

    Raises:
        InputError: a file cannot be read or is not what it must be; every problem has its place.
    """
    key: str = options["key"]
    found = _known.get(key)
    if found is None:
        found = _known[key] = check(source)
    _known.move_to_end(key)
    while len(_known) > _MOST:
        _known.popitem(last=False)
    return found


def check(source: Source) -> Looked:
    """Return a build and its report, read afresh."""
    context = Context(assemble(source.build()))
    return Looked(context, check_context(context))
