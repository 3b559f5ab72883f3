"""The cutting list as text: for each part what to buy, each bar with its pieces in order, what is left, the proof."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from fitcheck.bom.cutting import USUAL_COIL_MM, CutPart, CuttingList
from fitcheck.bom.nesting.record import Bar, Coil, Cut, Nest
from fitcheck.reports.bom_words import decimal_text
from fitcheck.reports.plain import WIDTH, caution_lines, count_of, mm, number, paragraph, visible


def cut_text(cutting: CuttingList, *, width: int = WIDTH) -> str:
    """Return the cutting list for people, in lines of at most `width` columns."""
    kerf = f"each cut takes {mm(cutting.kerf_mm)}" if cutting.kerf_mm else "cuts take nothing away"
    lines = paragraph(f"{cutting.build}: cutting list, {count_of(len(cutting.parts), 'part')}; {kerf}", width)
    for part in cutting.parts:
        lines += ["", *paragraph(f"{part.part}: {part.description}", width, "", "  "), ""]
        lines += _part(part, width)
    if not cutting.parts:
        lines += ["", "Nothing in this build is cut to length."]
    return "\n".join([*lines, *caution_lines(width)])


def _part(part: CutPart, width: int) -> Iterator[str]:
    for sentence in _lengths(part):
        yield from paragraph(sentence, width, "  ", "    ")
    if part.nest is not None:
        yield from _plan(part, part.nest, width)
    for offer in part.ignored:
        yield from paragraph(f"offer not looked at: {offer.what}: {offer.reason}", width, "  ", "    ")
    if part.left_out and (part.nest or part.by_the_metre):
        yield ""
    yield from _left_out(part, width)


def short_lines(part: CutPart, width: int) -> Iterator[str]:
    """Yield the cutting list of a part in short: its bars, what stays whole, what is in no bar."""
    yield from paragraph(f"{part.part}: {part.description}", width, "  ", "    ")
    for place, bar in enumerate(part.nest.bars if part.nest is not None else (), 1):
        yield from _bar(place, bar, part, width)
    if part.nest is not None and part.nest.whole:
        yield from paragraph(_whole(part.nest), width, "  ", "    ")
    if part.by_the_metre:
        yield from paragraph(f"off a reel: {_cuts(part.by_the_metre)}", width, "  ", "    ")
    yield from _left_out(part, width)


def _left_out(part: CutPart, width: int) -> Iterator[str]:
    if part.left_out:
        yield from paragraph(f"LEFT OUT ({len(part.left_out)}): in no bar", width, "  ", "    ")
    for piece in part.left_out:
        yield from paragraph(f"{piece.what}: {piece.reason}", width, "    ", "      ")


def _plan(part: CutPart, plan: Nest, width: int) -> Iterator[str]:
    yield from paragraph(_buy(part, plan), width, "  ", "    ")
    for place, bar in enumerate(plan.bars, 1):
        yield from ("", *_bar(place, bar, part, width))
    if plan.whole:
        yield from ("", *paragraph(_whole(plan), width, "  ", "    "))
    yield from ("", *paragraph(proof_text(part, plan), width, "  ", "    "))


def _whole(plan: Nest) -> str:
    return f"left whole: {', '.join(f'{_what(bar)} of {mm(bar.mm)}' for bar in plan.whole)}"


def _lengths(part: CutPart) -> Iterator[str]:
    """Yield what it is cut from, where that has to be said."""
    if part.by_the_metre:
        total = mm(sum(cut.mm for cut in part.by_the_metre))
        yield f"nothing says in what lengths it is sold; off a reel it takes {total}: {_cuts(part.by_the_metre)}"
    if part.origin == "usual" and part.nest is not None:
        yield f"nothing is on offer: taken to come in coils of {mm(USUAL_COIL_MM)} (25 ft; common practice, no source)"
    if part.origin == "asked":
        yield f"lengths as asked for: {', '.join(mm(coil.mm) for coil in part.coils)}; no prices"


def _buy(part: CutPart, plan: Nest) -> str:
    packs = [
        f"{count} x {_pack(coil)}{_offer(coil, part)}"
        for coil, count in zip(part.coils, plan.bought, strict=True)
        if count
    ]
    pieces = count_of(sum(len(bar.cuts) for bar in plan.bars), "piece")
    if not packs:
        return f"{pieces}; nothing to buy: the offcuts on the shelf do"
    cost = f", {money_text(plan.cost, part.currency)}" if plan.cost is not None else ""
    return f"{pieces}; buy {', '.join(packs)}{cost}"


def _pack(coil: Coil) -> str:
    return mm(coil.mm) if coil.pack == 1 else f"pack of {coil.pack} of {mm(coil.mm)}"


def _offer(coil: Coil, part: CutPart) -> str:
    return f" ({coil.tag}, {money_text(coil.cost, part.currency)})" if coil.cost is not None else ""


def _bar(place: int, bar: Bar, part: CutPart, width: int) -> Iterator[str]:
    """Yield one bar: what it is, its pieces in the order of cutting, what is left."""
    coil = "" if bar.source.offcut else part.coils[bar.source.number].tag
    origin = f" from {coil}" if coil else ""
    yield from paragraph(f"{place}. {_what(bar)} of {mm(bar.mm)}{origin}, left {mm(bar.left_mm)}", width, "  ", "     ")
    yield from paragraph(f"cut {_cuts(bar.cuts)}", width, "     ", "       ")


def _cuts(cuts: Sequence[Cut]) -> str:
    return f"{', '.join(f'{cut.tag} {number(cut.mm, 1)}' for cut in cuts)} mm"


def _what(bar: Bar) -> str:
    return "offcut" if bar.source.offcut else "length"


def proof_text(part: CutPart, plan: Nest) -> str:
    """Return what is proven of a plan, and the gap where something is not."""
    proof = plan.proof
    spends = "costs less" if plan.cost is not None else "buys less"
    if plan.optimal:
        return f"proven: no plan {spends}, then cuts less off new lengths, then keeps a longer piece whole"
    if not plan.cost_proven:
        gap = float((plan.spent - proof.least) / plan.spent * 100)
        least = mm(float(proof.least)) if plan.cost is None else money_text(proof.least, part.currency)
        return f"not proven in the time given: no plan needs less than {least}; this one is within {gap:.1f} %"
    if proof.least_new_mm != plan.new_mm:
        least = mm(proof.least_new_mm) if proof.least_new_mm is not None else "an unknown length"
        open_ = f"how much has to come off new lengths (at least {least}, here {mm(plan.new_mm)})"
    else:
        most = f"at most {mm(proof.longest_left_mm)}, " if proof.longest_left_mm is not None else ""
        open_ = f"how long a piece can be kept whole ({most}here {mm(plan.longest_left_mm)})"
    return f"proven: no plan {spends}; not proven in the time given: {open_}"


def money_text(amount: Fraction | None, currency: str | None) -> str:
    """Return an exact amount of money: `12.50 GBP`."""
    return visible(f"{decimal_text(amount or Fraction(0), 4)} {currency or ''}".rstrip())
