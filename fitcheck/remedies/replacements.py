"""What could stand in place of a component, line or hose: parts of the same kind, best first."""

from collections.abc import Callable, Iterable, Iterator
from datetime import date
from typing import Any, Final, NamedTuple
from weakref import WeakKeyDictionary

from fitcheck.bom.lengths import line_length
from fitcheck.bom.prices import priced
from fitcheck.bom.record import Row
from fitcheck.build.fixings import Fixings
from fitcheck.build.graph import Fitted, PortGraph
from fitcheck.catalog.money import Money
from fitcheck.catalog.part import KINDS, LOOSE, Part
from fitcheck.checks.context import Context
from fitcheck.checks.joint_facts import JointFacts
from fitcheck.remedies.exchange import Exchange, Tried
from fitcheck.remedies.part_figures import FITTINGS, Differs, differences
from fitcheck.remedies.port_match import Match, best_match, may_take

Pricing = Callable[[Part], Money | None]
"""Tells what a part costs where the present one stands; None where no offer says."""
_HOSES: Final = ("hose", "feed hose")


class JointFit(NamedTuple):
    """One joint of the tag with the present part and with the new one. `refs` are its ends as the file has them."""

    refs: tuple[str, ...]
    now: JointFacts
    then: JointFacts


class Refit(NamedTuple):
    """One joint that seals with the new part, but with another flare, nut or other fixing than now."""

    refs: tuple[str, ...]
    now: Fixings
    then: Fixings


class Replacement(NamedTuple):
    """A part that could take the place of the present one, and what that would mean.

    `fits` of `joints` joints have no fault at level error with it. `misfits` are the others; `lost_ports` are ports in
    use that it has not, `spare_ports` ports of it that would be left open: all this would have to change as well.
    `refits` seal, but with other fixings; `doubts` seal, but a rule warns, or could not judge them before either.
    `differs` says what else it does otherwise: field, now, then, with None where the catalog does not say; `matters`
    is False if nothing of that keeps it from doing the same work. `renamed` are the ports that the file has to call
    otherwise, old name and new. `cost` is what it costs here, `cost_now` what the present part costs.
    """

    part: Part
    fits: int
    joints: int
    misfits: tuple[JointFit, ...] = ()
    lost_ports: tuple[str, ...] = ()
    differs: tuple[tuple[str, object, object], ...] = ()
    renamed: tuple[tuple[str, str], ...] = ()
    spare_ports: tuple[str, ...] = ()
    refits: tuple[Refit, ...] = ()
    doubts: tuple[JointFit, ...] = ()
    matters: bool = False
    cost: Money | None = None
    cost_now: Money | None = None

    @property
    def wrong(self) -> int:
        """How many things would have to change besides the part."""
        return len(self.misfits) + len(self.lost_ports) + len(self.spare_ports)

    @property
    def spoilt(self) -> int:
        """How many of the misfits are not there with the present part, word for word."""
        return sum((fit.now.rule, fit.now.message) != (fit.then.rule, fit.then.message) for fit in self.misfits)

    @property
    def rank(self) -> tuple[Any, ...]:
        """What replacements are sorted by, best first."""
        dearer = _dearer(self.cost_now, self.cost)
        work = (self.matters, len(self.differs), _off(self.differs))
        trouble = (len(self.refits), len(self.doubts), len(self.renamed))
        return self.wrong, self.spoilt, *work, *trouble, dearer is None, dearer or 0, self.part.id


def replacements(
    context: Context, tag: str, *, all_kinds: bool = False, pricing: Pricing | None = None
) -> tuple[Replacement, ...]:
    """Return the parts that could stand in place of what has the tag, best first; never the part itself.

    Only parts of the same kind, unless `all_kinds`; unions, bulkhead unions, adapters and elbows with two ports count
    as one kind. Fewest things that would have to change as well come first, then what does the same work, then fewest
    differences, then the nearest figures, then fewest other fixings, doubts and new port names, then the least rise in
    cost where `pricing` knows both, then the id.

    Raises:
        KeyError: nothing in the build has the tag.
    """
    search = _Search(context, tag, pricing)
    found = (search.replacement(part) for part in candidates(context, tag, all_kinds=all_kinds))
    return tuple(sorted(found, key=lambda each: each.rank))


def like_for_like(
    context: Context, tag: str, apart_from: tuple[str, ...] = (), where: Callable[[Part], bool] | None = None
) -> Iterator[Replacement]:
    """Yield the parts that do the same work in the same place, best first: every joint seals, and nothing is lost.

    Bore, stroke and displacement are equal where both are known, a hose's length is within a tenth, a tube's outside
    diameter is the same, no rating is lower where both are known, bleed screw and fluids stay. Nothing is yielded
    where the present part is unknown: what it does cannot be told then. Ports may have other names: see `renamed`.
    Fields in `apart_from` may differ as they like: the length of a hose that is too short. Parts that are not wanted,
    as `where` says, are not tried.

    Raises:
        KeyError: nothing in the build has the tag.
    """
    old = context.graph.fitted[tag].part
    if old is None:
        return
    alike = [part for part in _alike(context, tag, old, apart_from) if where is None or where(part)]
    if not alike:
        return
    search = _Search(context, tag, None)
    sound = (part for part in alike if search.sound(part))
    yield from sorted((search.replacement(part) for part in sound), key=lambda each: each.rank)


def _alike(context: Context, tag: str, old: Part, apart_from: tuple[str, ...]) -> tuple[Part, ...]:
    """Return the parts that do the work of the present one; asked once for all that are the same part."""
    kept = _ALIKE.setdefault(context.graph, {})
    key = (context.graph.fitted[tag].section, old.id, apart_from)
    if key not in kept:
        build = context.graph.build
        kept[key] = tuple(
            part
            for part in candidates(context, tag)
            if not any(each.matters and each.field not in apart_from for each in differences(build, old, part))
        )
    return kept[key]


_ALIKE: WeakKeyDictionary[PortGraph, dict[tuple[str, str, tuple[str, ...]], tuple[Part, ...]]] = WeakKeyDictionary()


def candidates(context: Context, tag: str, *, all_kinds: bool = False) -> tuple[Part, ...]:
    """Return the parts that can be tried in place of what has the tag, by kind, catalog and id."""
    item, shelf = context.graph.fitted[tag], context.graph.build.shelf
    found = (part for kind in _kinds(item, all_kinds) for part in shelf.of_kind(kind))
    two = item.part is not None and item.part.kind in FITTINGS and not all_kinds
    return tuple(part for part in found if part.id != item.part_id and (not two or len(part.fluid_ports()) == 2))


def _kinds(item: Fitted, all_kinds: bool) -> tuple[str, ...]:
    if item.section == "lines":
        return ("tube",)
    if item.part is None or all_kinds:
        fitted = tuple(kind for kind in KINDS if kind not in LOOSE and kind not in _HOSES)
        return _HOSES if item.section == "hoses" else fitted
    if item.part.kind in FITTINGS and len(item.part.fluid_ports()) == 2:
        return FITTINGS
    return (item.part.kind,)


class _Search:
    """Tries parts in one place; parts of one form are tried once."""

    def __init__(self, context: Context, tag: str, pricing: Pricing | None) -> None:
        self.build = context.graph.build
        self.exchange = Exchange(context, tag)
        self.old = self.exchange.item.part
        self.pricing = pricing
        self.cost_now = pricing(self.old) if pricing is not None and self.old is not None else None
        self._matches: dict[Any, Match] = {}

    def match(self, part: Part) -> Match:
        """Return the best way in which `part` can take the place."""
        form = (tuple(part.ports.values()), part.passages, part.outlets, part.feeds, part.one_way)
        key = (*form, part.material, part.max_pressure, part.od, part.wall)
        found = self._matches.get(key)
        if found is None:
            found = self._matches[key] = best_match(self.exchange, part)
        return found

    def sound(self, part: Part) -> bool:
        """Return whether nothing besides the part would have to change, fixings apart, and nothing is left unjudged."""
        if self.exchange.unjudged or not may_take(self.exchange, part):
            return False
        match = self.match(part)
        return not match.wrong and match.same_ways and match.same_direction

    def replacement(self, part: Part) -> Replacement:
        """Return what it would mean to fit `part`."""
        exchange, match = self.exchange, self.match(part)
        unlike = [
            *(differences(self.build, self.old, part) if self.old is not None else ()),
            *self._inside(part, match),
        ]
        return Replacement(
            part,
            fits=sum(each.sound for each in match.tried),
            joints=len(exchange.joints),
            misfits=tuple(self._fit(each, part, match) for each in match.tried if not each.sound),
            lost_ports=match.lost,
            differs=tuple((each.field, each.now, each.then) for each in unlike),
            renamed=tuple((name, new) for name, new in match.names.items() if name != new),
            spare_ports=match.spare,
            refits=tuple(self._refit(each, part, match) for each in match.tried if each.refit),
            doubts=tuple(self._fit(each, part, match) for each in match.tried if each.doubtful),
            matters=any(each.matters for each in unlike),
            cost=self.pricing(part) if self.pricing is not None else None,
            cost_now=self.cost_now,
        )

    def _inside(self, part: Part, match: Match) -> Iterator[Differs]:
        if self.old is None:
            return
        if not match.same_ways:
            yield Differs("passages", self.old.passages, part.passages, True)
        if not match.same_direction:
            yield Differs("one_way", self.old.one_way, part.one_way, True)

    def _fit(self, tried: Tried, part: Part, match: Match) -> JointFit:
        now = self.exchange.now[tried.number][0]
        return JointFit(now.joint.refs, now, self.exchange.facts(tried.number, part, match.names))

    def _refit(self, tried: Tried, part: Part, match: Match) -> Refit:
        facts, needs = self.exchange.now[tried.number]
        return Refit(facts.joint.refs, needs, self.exchange.fixings(tried.number, part, match.names))


def _off(differs: Iterable[tuple[str, object, object]]) -> float:
    """Return by how much the figures differ that are known of both, as shares of the present ones."""
    pairs = ((now, then) for _, now, then in differs if isinstance(now, float) and isinstance(then, float) and now)
    return round(sum(abs(then - now) / now for now, then in pairs), 3)


def _dearer(now: Money | None, then: Money | None) -> Any:
    """Return by how much more the new part costs, None if that cannot be told."""
    if now is None or then is None or now.currency != then.currency:
        return None
    return then.amount - now.amount


def pricing(context: Context, tag: str, on: date | None = None) -> Pricing | None:
    """Return what tells the cost of a part where the present one stands; None if the build names no offers.

    Tube and hose sold by length cost what the present length of the line or hose costs.

    Raises:
        InputError: an offer file cannot be read.
    """
    graph = context.graph
    if not graph.build.file.offers:
        return None
    offers, shelf, item = graph.build.offers(), graph.build.shelf, graph.fitted[tag]
    length = _length(context, item)

    def cost(part: Part) -> Money | None:
        cut = item.section == "lines" or (item.section == "hoses" and part.length is None)
        row = Row(part.id, part.kind, part.description, length if cut else 1, "mm" if cut else "each", (tag,))
        return next(priced((row,), offers, shelf, on)).cost

    return cost


def _length(context: Context, item: Fitted) -> float | None:
    """Return how long a line or hose is cut now [mm], None if that is not known."""
    if item.section == "hoses":
        stated = context.graph.build.file.hoses[item.tag].length
        return float(stated) if stated is not None else None
    if item.section != "lines":
        return None
    joints = (joint for joint in context.graph.joints if joint.kind == "tube")
    flares = {joint.refs[1]: context.fixings(joint).flare for joint in joints if joint.ends[1].tag == item.tag}
    return line_length(context.graph, item, flares).mm


def unjudged(context: Context, tag: str) -> tuple[tuple[str, ...], ...]:
    """Return the joints of the tag that can be judged with no part, because what they lead to is not known."""
    return Exchange(context, tag).unjudged
