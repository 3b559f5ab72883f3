"""The panels of the pedal plots: pressure, travel, where the fluid goes, balance, circuits lost."""

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any, Final

from fitcheck.hydraulics.record import Answer, Cause, Take
from fitcheck.hydraulics.spread import total
from fitcheck.reports.pedal_panel import COLOURS, DASHES, Box, Panel, below, cut, foot, line, named, scales
from fitcheck.reports.pedal_words import CAUSES, Shown, gravity, share, volume

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

HATCHES: Final[Mapping[Cause, str]] = {
    "gap": "", "knock-back": "xx", "give": "//", "swelling": "..", "stretch": "++", "squeeze": "\\\\", "air": "oo",
    "cut-off": "--", "travel": "||",
}  # fmt: skip


class _Pressure(Panel):
    def fits(self, found: Answer) -> bool:
        return bool(found.curves)

    def describe(self, found: Answer) -> str:
        shown = Shown(found.units)
        ends = (f"{found.names[ref]} {shown.pressure(at[-1][1])}" for ref, at in found.curves.items())
        most = shown.force(next(iter(found.curves.values()))[-1][0])
        return f"pressure over the push on the brake pedal, at {most}: {', '.join(ends)}"

    def draw(self, figure: "Figure", box: Box, found: Answer) -> None:
        force, pressure, _ = scales(found)
        axes = figure.add_axes(box)
        for at, (ref, points) in enumerate(found.curves.items()):
            xs, ys = ([each[n] * scale.factor for each in points] for n, scale in ((0, force), (1, pressure)))
            line(axes, xs, ys, at, f"at {cut(found.names[ref])}")
        axes.set_ylim(bottom=0.0)
        foot(axes, found, force)
        named(axes, "Pressure at the outlets", f"push on the brake pedal [{force.unit}]", f"pressure [{pressure.unit}]")
        axes.legend(loc="upper left")


class _Travel(Panel):
    def fits(self, found: Answer) -> bool:
        return bool(found.curves)

    def describe(self, found: Answer) -> str:
        shown = Shown(found.units)
        points = next(iter(found.curves.values()))
        return f"travel of the brake pedal from {shown.length(points[0][2])} to {shown.length(points[-1][2])}"

    def draw(self, figure: "Figure", box: Box, found: Answer) -> None:
        force, _, length = scales(found)
        axes = figure.add_axes(box)
        points = next(iter(found.curves.values()))
        xs, ys = ([each[n] * scale.factor for each in points] for n, scale in ((0, force), (2, length)))
        line(axes, xs, ys, 2, "travel at the foot")
        at = next((one for one in found.travels if one.drives == "brake"), None)
        if at is not None:
            low, high = (abs(at.foot_mm - end) * length.factor for end in at.spread_mm)
            bar = ([at.foot_n * force.factor], [at.foot_mm * length.factor])
            axes.errorbar(*bar, [[low], [high]], capsize=4, color="black", label="all assumptions over their ranges")
            if at.floor_mm is not None:
                axes.axhline(at.floor_mm * length.factor, color=COLOURS[1], linestyle="--", label="the floor")
        axes.set_ylim(bottom=0.0)
        foot(axes, found, force)
        named(axes, "Travel at the foot", f"push on the brake pedal [{force.unit}]", f"travel [{length.unit}]")
        axes.legend(loc="best")


class _Stack(Panel):
    left = 0.22
    below_in = 0.4

    def fits(self, found: Answer) -> bool:
        return bool(found.strokes)

    def height_in(self, found: Answer) -> float:
        return 0.75 + 0.38 * len(found.strokes)

    def describe(self, found: Answer) -> str:
        told = []
        for stroke in found.strokes:
            causes = (f"{CAUSES[cause]} {volume(at.mm3)}" for cause, at in _by_cause(stroke.takes))
            told.append(f"{found.names[stroke.outlet]}: {', '.join(causes)}")
        return f"fluid taken, mm3: {'; '.join(told)}"

    def draw(self, figure: "Figure", box: Box, found: Answer) -> None:
        axes = figure.add_axes(box)
        colours = dict(zip(CAUSES, (*COLOURS[:-1], "#FFFFFF"), strict=True))
        labelled: dict[str, Any] = {}
        for row, stroke in enumerate(found.strokes):
            left = 0.0
            for cause, at in _by_cause(stroke.takes):
                style: Mapping[str, Any] = {"facecolor": colours[cause], "hatch": HATCHES[cause], "edgecolor": "black"}
                bar = axes.barh(row, at.mm3, left=left, height=0.55, linewidth=0.6, **style)
                left += at.mm3
                bound = " (upper bound)" if at.upper_bound else ""
                labelled.setdefault(f"{CAUSES[cause]}{bound}", bar)
            _, low, high, _ = total(stroke.takes)
            axes.errorbar([left], [row], xerr=[[left - low], [high - left]], capsize=4, color="black")
        axes.set_yticks(range(len(found.strokes)), [cut(found.names[one.outlet]) for one in found.strokes])
        axes.invert_yaxis()
        axes.set_xlim(left=0.0)
        named(axes, "Where the fluid goes (whiskers: all assumptions)", "fluid taken [mm3]", "")
        below(axes, self.height_in(found), list(labelled.values()), list(labelled))


class _Balance(Panel):
    def fits(self, found: Answer) -> bool:
        return found.balance is not None

    def height_in(self, found: Answer) -> float:
        return 2.2

    def describe(self, found: Answer) -> str:
        at = found.balance
        if at is None:
            return ""
        reach = f", {share(at.lowest)} to {share(at.highest)} over the bar" if at.lowest is not None else ""
        ideal = f"{share(at.ideal[0][1])} at rest to {share(at.ideal[-1][1])} at {gravity(at.ideal[-1][0])}"
        return f"front share of the brake force {share(at.share)}{reach}; ideal {ideal}"

    def draw(self, figure: "Figure", box: Box, found: Answer) -> None:
        at = found.balance
        if at is None:
            return
        axes = figure.add_axes(box)
        xs = [pair[0] for pair in at.ideal]
        if at.lowest is not None and at.highest is not None:
            band: Mapping[str, Any] = {
                "facecolor": "#56B4E940",
                "edgecolor": "#0072B2",
                "hatch": "//",
                "linewidth": 0.5,
            }
            low, high = 100.0 * at.lowest, 100.0 * at.highest
            axes.fill_between([xs[0], xs[-1]], low, high, label="the bar's whole adjustment", **band)
        line(axes, xs, [100.0 * pair[1] for pair in at.ideal], 2, "ideal: both axles slide together")
        axes.plot([xs[0], xs[-1]], [100.0 * at.share] * 2, color=COLOURS[1], linestyle="--", label="the brakes as set")
        if at.locks_at_g is not None:
            said = "both axles slide" if at.locks_first == "both" else f"the {at.locks_first} axle slides first"
            axes.axvline(at.locks_at_g, color="black", linestyle=":", label=f"{said}, {gravity(at.locks_at_g)}")
        axes.set_ylim(0.0, 100.0)
        axes.set_xlim(xs[0], xs[-1])
        named(axes, "Balance: above the ideal the front slides first", "deceleration [g]", "front share [%]")
        axes.legend(loc="lower left")


class _Failures(Panel):
    left = 0.22
    below_in = 0.25

    def fits(self, found: Answer) -> bool:
        return any(one.reached_g is not None for one in found.failures)

    def height_in(self, found: Answer) -> float:
        return 0.45 + 0.4 * (1 + len(found.failures))

    def describe(self, found: Answer) -> str:
        lost = (f"{found.names[one.lost]} lost {gravity(one.reached_g)}" for one in found.failures)
        return f"deceleration left: {', '.join(lost)}"

    def draw(self, figure: "Figure", box: Box, found: Answer) -> None:
        axes = figure.add_axes(box)
        bars = [("nothing lost", found.stop.reached_g if found.stop is not None else None, "", "#0072B2")]
        bars += [(f"{cut(found.names[one.lost])} lost", one.reached_g, "//", "#D55E00") for one in found.failures]
        for row, (_, reached, hatch, colour) in enumerate(bars):
            axes.barh(row, reached or 0.0, height=0.55, facecolor=colour, edgecolor="black", hatch=hatch, linewidth=0.6)
            patch: Mapping[str, Any] = {"facecolor": "white", "edgecolor": "none", "pad": 1.0}
            marks = [r.reached_g or 0.0 for r in found.failures[row - 1].against] if row else []
            beside = max(reached or 0.0, *marks, 0.0) + 0.015
            axes.text(beside, row, gravity(reached), va="center", bbox=patch, zorder=5)
        self._at_rule(axes, found)
        asked = dict.fromkeys((r.rule, r.required_g, r.at_foot_n) for one in found.failures for r in one.against)
        for at, (rule, required, push_n) in enumerate(asked):
            words = f"asked with one lost: {rule}, at {Shown(found.units).force(push_n)}"
            axes.axvline(required, color="black", linestyle=DASHES[1 + at % 3], label=words)
        axes.set_yticks(range(len(bars)), [bar[0] for bar in bars])
        axes.invert_yaxis()
        marked = (r.reached_g or 0.0 for one in found.failures for r in one.against)
        most = (*(bar[1] or 0.0 for bar in bars), *(required for _, required, _ in asked), *marked)
        axes.set_xlim(0.0, 1.15 * max(0.3, *most))
        push = next(one.foot_n for one in found.pushes if one.drives == "brake")
        named(axes, f"One circuit lost, at {Shown(found.units).force(push)}", "deceleration left [g]", "")
        if asked:
            below(axes, self.height_in(found), *axes.get_legend_handles_labels())

    def _at_rule(self, axes: "Axes", found: Answer) -> None:
        """Mark what is left at the push that a rule allows, which is what its line is to be compared with."""
        marks = dict.fromkeys(
            (row, asked.reached_g, asked.at_foot_n)
            for row, one in enumerate(found.failures, 1)
            for asked in one.against
            if asked.reached_g is not None
        )
        for push_n in dict.fromkeys(at for _, _, at in marks):
            points = [(reached, row) for row, reached, at in marks if at == push_n]
            across, rows = [point[0] for point in points], [point[1] for point in points]
            style: Mapping[str, Any] = {"color": "black", "markerfacecolor": "white", "linestyle": "none"}
            axes.plot(across, rows, marker="D", label=f"left at {Shown(found.units).force(push_n)}", **style)


PANELS: Final[tuple[Panel, ...]] = (_Pressure(), _Travel(), _Stack(), _Balance(), _Failures())
"""The panels in the order in which they are stacked."""


def _by_cause(takes: tuple[Take, ...]) -> Iterator[tuple[Cause, Take]]:
    """Yield what each cause takes over all parts, where that is anything, in one fixed order."""
    for cause in CAUSES:
        each = [take for take in takes if take.cause == cause]
        if each and sum(take.mm3 for take in each) > 0.0:
            value, low, high, bound = total(each)
            yield cause, Take("", cause, value, low, high, bound)
