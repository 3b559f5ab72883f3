"""`fitcheck watch`: checks again whenever the build file, or a file that it names, is saved."""

import argparse
import gc
import shutil
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from time import sleep
from typing import TYPE_CHECKING, Final, TypedDict

from fitcheck.build.files import Hashes, files_of
from fitcheck.build.load import Build, build_path, load
from fitcheck.cli.check import checked
from fitcheck.cli.common import RequestError, build_arguments, coloured
from fitcheck.errors import FitcheckError
from fitcheck.trees import InputError, Problem

if TYPE_CHECKING:
    from fitcheck.bom.record import Bom
    from fitcheck.build.graph import PortGraph
    from fitcheck.checks.findings import Report
    from fitcheck.reports.watch_text import Answer

INTERVAL: Final = "0.3 s"
"""How often files are looked at if the command line does not say."""
_SETTLES: Final = 10
"""How often a file that is still being written is looked at again before what is there is checked."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    build_arguments(parser, ("text",))
    parser.add_argument("--interval", metavar="TIME", default=INTERVAL, help=f"between looks (default: {INTERVAL})")
    parser.add_argument("--once", action="store_true", help="end after the first answer")


def run(args: argparse.Namespace) -> int:
    """Answer at once and after every save until interrupted; return the exit code of the last check."""
    gc.enable()  # unlike other verbs this one runs on
    seconds = _seconds(args.interval)
    place = build_path(Path(args.build))
    if not place.exists():
        raise InputError((Problem(place.as_posix(), 1, 1, "there is no such file"),))
    watch = Watch(place, args.variant, _show)
    watch.look()
    try:
        while not args.once:
            sleep(seconds)
            watch.look_again(lambda: sleep(seconds))
    except KeyboardInterrupt:
        pass
    return watch.code


def _show(text: str) -> None:
    print(text, flush=True)


def _terminal() -> "Terminal":
    return {"width": min(shutil.get_terminal_size((80, 24)).columns, 110), "colour": coloured()}


def _seconds(text: str) -> float:
    from fitcheck.quantities import QuantityError, parse

    try:
        found = float(parse(text, "time"))
    except QuantityError as error:
        raise RequestError(f"--interval: {error}") from None
    if not 0.01 <= found <= 3600:
        raise RequestError(f"--interval: expected 0.01 s to 1 h, got {text}")
    return found


class Terminal(TypedDict):
    """How wide a line may be, and whether colours are shown."""

    width: int
    colour: bool


class Watch:
    """A build that is looked at again and again. `code` is the exit code of the last check, 0 before the first."""

    def __init__(self, place: Path, variant: str | None, show: Callable[[str], None]) -> None:
        self.place = place
        self.variant = variant
        self.show = show
        self.code = 0
        self.hashes = Hashes()
        self.files: tuple[Path, ...] = (place,)
        self.seen: dict[Path, str | None] = {}
        self.report: Report | None = None
        self.bom: Bom | None = None

    def look(self) -> None:
        """Check and show the whole answer."""
        from fitcheck.reports.watch_text import first_text

        self._note()
        answer, self.report, self.bom = self._answer()
        self.show(first_text(answer, **_terminal()))

    def look_again(self, wait: Callable[[], None]) -> None:
        """Check and show the answer if any file's content is another; `wait` is called while it goes on changing."""
        if self._now() == self.seen:
            return
        self._settle(wait)
        changed = self._changed(self._now())
        if not changed:
            return
        self._note()
        from fitcheck.reports.watch_text import next_text

        answer, report, bom = self._answer()
        self.show(next_text(answer, self.report, map(str, changed), datetime.now(), **_terminal()))
        if report is not None:
            self.report, self.bom = report, bom

    def _now(self) -> dict[Path, str | None]:
        return self.hashes.of(self.files)

    def _settle(self, wait: Callable[[], None]) -> None:
        """Wait until nothing changes any more: editors write in pieces, or put a file in the place of another."""
        last = None
        for _ in range(_SETTLES):
            now = self._now()
            if now == last and (None not in now.values() or None in self.seen.values()):
                return
            last = now
            wait()

    def _changed(self, now: dict[Path, str | None]) -> list[Path]:
        return [path for path in now if now[path] != self.seen.get(path)]

    def _note(self) -> None:
        """Note what is in the files before they are read for the check: what changes meanwhile is seen next time."""
        self.files = files_of(self.place, self.files)
        self.seen = self._now()

    def _answer(self) -> tuple["Answer", "Report | None", "Bom | None"]:
        from fitcheck.bom.change import compare
        from fitcheck.reports.watch_text import Answer

        try:
            build = load(self.place, self.variant)
            context, report = checked(build)
        except FitcheckError as error:
            self.code = 2
            alone = (Problem(self.place.as_posix(), 1, 1, str(error)),)
            return Answer(None, error.problems if isinstance(error, InputError) else alone), None, None
        self.code = 1 if report.failed else 0
        bom, problems = _bill(build, context.graph)
        bill = compare(self.bom, bom) if self.bom is not None and bom is not None else None
        return Answer(report, problems, bill), report, bom


def _bill(build: Build, graph: "PortGraph") -> "tuple[Bom | None, tuple[Problem, ...]]":
    """Return the bill of materials if it is quickly made, and what is wrong with offers and stock."""
    from fitcheck.bom.take_off import take_off
    from fitcheck.remedies.proof import MOST_BILLED

    problems: list[Problem] = []
    for read in (build.offers, build.stock):
        try:
            read()
        except InputError as error:
            problems += error.problems
    if problems or len(graph.ends) > MOST_BILLED:
        return None, tuple(problems)
    return take_off(graph), ()
