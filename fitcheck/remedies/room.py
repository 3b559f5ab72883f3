"""What is around a line: whether it could run otherwise without coming near to what is hot, or to other lines."""

from collections.abc import Mapping
from functools import cached_property

from fitcheck.build.boxes import Box, boxed
from fitcheck.build.clearances import Solid, gaps_between
from fitcheck.build.curves import Curve
from fitcheck.checks.context import Context
from fitcheck.checks.line_solids import heat_solids, line_solids
from fitcheck.checks.place import lines_touching, near_heat
from fitcheck.checks.place.lines_touching import APART_MM, without_ends


class Room:
    """The lines and hot things of one build, drawn once."""

    def __init__(self, context: Context) -> None:
        self.context = context
        self._boxes: dict[str, Box] = {}

    @cached_property
    def lines(self) -> Mapping[str, Solid]:
        """Every line whose centre-line is known, by tag."""
        drawn = [(run, run.curve) for run in self.context.runs.values() if run.curve]
        return {solid.name: solid for solid in line_solids(self.context, drawn)}

    @cached_property
    def heat(self) -> Mapping[str, Solid]:
        """Everything hot or moving, by name."""
        return {solid.name: solid for solid in heat_solids(self.context.file)}

    @cached_property
    def _inner(self) -> Mapping[str, Solid]:
        drawn = ((tag, solid._replace(curve=without_ends(solid.curve))) for tag, solid in self.lines.items())
        return {tag: solid for tag, solid in drawn if solid.curve}

    def clear_of(self, tag: str, curve: Curve, rule: str, other: str) -> bool:
        """Return whether a line that ran along `curve` would keep away, as a rule asks, from one line or hot thing."""
        line = self.lines[tag]._replace(curve=curve)
        if rule == near_heat.RULE:
            return not gaps_between([line], [self.heat[other]], [near_heat.clearance(self.context, other)[0]])
        there = self._inner.get(other)
        inner = line._replace(curve=without_ends(curve))
        return there is None or not inner.curve or not gaps_between([inner], [there], [APART_MM])

    def near(self, tag: str, curve: Curve) -> frozenset[tuple[str, str]]:
        """Return the hot things and lines that a line would come too near to along `curve`, each with its rule."""
        line = self.lines[tag]._replace(curve=curve)
        wanted = [near_heat.clearance(self.context, name)[0] for name in self.heat]
        found = {(near_heat.RULE, gap.second) for gap in gaps_between([line], list(self.heat.values()), wanted)}
        inner = line._replace(curve=without_ends(curve))
        if inner.curve:
            here = _box(inner)
            others = [
                solid for solid in self._inner.values() if solid.name != tag and self._may_meet(inner, here, solid)
            ]
            gaps = gaps_between([inner], others, [APART_MM] * len(others))
            found |= {(lines_touching.RULE, gap.second) for gap in gaps}
        return frozenset(found)

    def _may_meet(self, line: Solid, here: Box, other: Solid) -> bool:
        """Return whether two lines may come near, the one in the box `here`; those of two bodies always may."""
        if line.body != other.body:
            return True
        if other.name not in self._boxes:
            self._boxes[other.name] = _box(other)
        there = self._boxes[other.name]
        return all(low <= high for low, high in zip((*here[:3], *there[:3]), (*there[3:], *here[3:]), strict=True))


def _box(solid: Solid) -> Box:
    """Return one box round a line and what it keeps from others."""
    boxes = [each.box for each in boxed(solid.curve, 0, solid.radius_mm + APART_MM)]
    low, high = (tuple(zip(*(box[at : at + 3] for box in boxes), strict=True)) for at in (0, 3))
    return min(low[0]), min(low[1]), min(low[2]), max(high[0]), max(high[1]), max(high[2])
