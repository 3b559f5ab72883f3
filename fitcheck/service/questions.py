"""The questions: what each is called, what it takes, which function answers it."""

from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any, Final, Literal, NamedTuple

from fitcheck.service import asked
from fitcheck.service.answers.source import JSON, SVG, Answer, Source

Build = Literal["needed", "possible", "none"]


class Question(NamedTuple):
    """One question.

    `path` is below `/api/`; `build` says whether it is of a build; `answer` is who answers it, below `answers`; `media`
    is the type of the answer.
    """

    path: str
    options: type[asked.Options]
    build: Build
    answer: str
    about: str
    media: str = JSON

    @property
    def name(self) -> str:
        """The path as one word: what the answer's schema is called."""
        return self.path.replace("/", "_")


_ALL: Final = (
    Question("check", asked.CheckOptions, "needed", "checks.check", "What is wrong, what was not checked"),
    Question("bom", asked.BomOptions, "needed", "checks.bom", "The bill of materials"),
    Question("cure", asked.CureOptions, "needed", "checks.cure", "The best remedies applied together"),
    Question("swap", asked.SwapOptions, "needed", "exchange.swap", "What an exchange of parts changes"),
    Question(
        "replacements",
        asked.ReplacementsOptions,
        "needed",
        "exchange.replacements",
        "What could replace a part, best first",
    ),
    Question("bridge", asked.BridgeOptions, "possible", "exchange.bridge", "The adapters that join two ends"),
    Question("order", asked.OrderOptions, "needed", "purchase.order", "What to buy where, and when it is here"),
    Question("make", asked.MakeOptions, "needed", "sheets.make", "Bench sheets: cut, flare, bend, drill"),
    Question("draw", asked.DrawOptions, "needed", "drawings.draw", "The circuit or the car, drawn", SVG),
    Question("pedal", asked.PedalOptions, "needed", "pedals.pedal", "Pressure, stroke, travel and balance"),
    Question("bleed", asked.BleedOptions, "needed", "pedals.bleed", "How to fill, bleed and test for leaks"),
    Question("parts/search", asked.SearchOptions, "possible", "parts.search", "Parts that every word fits"),
    Question("parts/show", asked.PartOptions, "possible", "parts.show", "Everything about one part"),
    Question("thread", asked.ThreadOptions, "none", "threads.thread", "Limits of a thread; how two meet"),
    Question("identify", asked.IdentifyOptions, "none", "threads.identify", "Which threads a reading can be of"),
)
QUESTIONS: Final[Mapping[str, Question]] = {question.path: question for question in _ALL}
RULES: Final = Question("rules", asked.Options, "none", "parts.rules", "Every rule and its page")
PAGE: Final[Mapping[str, str]] = {
    "page/core": "page.told.core",
    "page/drawing": "page.told.drawing",
    "page/remedies": "page.told.remedies",
    "page/bill": "page.told.bill",
    "page/sheets": "page.told.sheets",
    "page/pedal": "page.panels.pedal",
    "page/plots": "page.panels.plots",
    "page/purchase": "page.panels.purchase",
    "page/look": "page.told.look",
    "page/about": "page.about.about",
    "page/tried": "page.tried.tried",
    "page/tried_pedals": "page.tried.pedals",
    "page/changed": "page.tried.changed_file",
}
"""What the page asks, and who answers: of no use to other programs, so nothing of it is in the API."""


def answer_of(path: str) -> Callable[[Source, Mapping[str, Any]], Answer]:
    """Return the function that answers a question, by its path."""
    where = PAGE[path] if path in PAGE else f"answers.{(RULES if path == RULES.path else QUESTIONS[path]).answer}"
    module, _, name = where.rpartition(".")
    found: Callable[[Source, Mapping[str, Any]], Answer] = getattr(import_module(f"fitcheck.service.{module}"), name)
    return found
