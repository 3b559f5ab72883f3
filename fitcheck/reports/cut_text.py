"""The cutting list as text: for each part what to buy, each bar with its pieces in order, what is left, the proof."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from fitcheck.bom.cutting import USUAL_COIL_MM, CutPart, CuttingList
from fitcheck.bom.nesting.record import Bar, Coil, Cut, Nest
from fitcheck.measures import bare_length, cut_length, exact, no_longer
from fitcheck.reports.bom_words import decimal_text
from fitcheck.reports.plain import WIDTH, caution_lines, count_of, paragraph, visible


def cut_text(cutting: CuttingList, *, width: int = WIDTH) -> str:
    """Return the cutting list for people, in lines of at most `width` columns."""
    takes = kerf_text(cutting.kerf_mm, cutting.told_in)
    kerf = f"each cut takes {takes}" if cutting.kerf_mm else "cuts take nothing away"
    lines = paragraph(f"{cutting.build}: cutting list, {count_of(len(cutting.parts), 'part')}; {kerf}", width)
    for part in cutting.parts:
        lines += ["", *paragraph(f"{part.part}: {part.description}", width, "", "  "), ""]
        lines += _part(part, width)
    if not cutting.parts:
        lines += ["", "Nothing in this build is cut to length."]
    return "\n".join([*lines, *caution_lines(width)])


def kerf_text(mm: float, unit: str) -> str:
    """Return what a cut takes away: `0.8 mm`, `0.0313 in`."""
    return exact(mm, unit) if unit == "in" else cut_length(mm, unit)


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
        yield from paragraph(_whole(part, part.nest), width, "  ", "    ")
    if part.by_the_metre:
        yield from paragraph(f"off a reel: {_cuts(part.by_the_metre, part)}", width, "  ", "    ")
    yield from _left_out(part, width)


def _left_out(part: CutPart, width: int) -> Iterator[str]:
    if part.left_out:
        yield from paragraph(f"LEFT OUT ({len(part.left_out)}): in no bar", width, "  ", "    ")
    for piece in part.left_out:
        yield from paragraph(f"{piece.what}: {piece.reason}", width, "    ", "      ")


def _plan(part: CutPart, plan: Nest, width: int) -> Iterator[str]:
    if not plan.bars:
        yield from paragraph("nothing can be cut: every piece of known length is too long", width, "  ", "    ")
        return
    yield from paragraph(_buy(part, plan), width, "  ", "    ")
    for place, bar in enumerate(plan.bars, 1):
        yield from ("", *_bar(place, bar, part, width))
    if plan.whole:
        yield from ("", *paragraph(_whole(part, plan), width, "  ", "    "))
    yield from ("", *paragraph(proof_text(part, plan), width, "  ", "    "))


def _whole(part: CutPart, plan: Nest) -> str:
    return f"left whole: {', '.join(f'{_what(bar)} of {no_longer(bar.mm, part.told_in)}' for bar in plan.whole)}"


def _lengths(part: CutPart) -> Iterator[str]:
    """Yield what it is cut from, where that has to be said."""
    if part.by_the_metre:
        total = cut_length(sum(cut.mm for cut in part.by_the_metre), part.told_in)
        yield f"nothing says in what lengths it is sold; off a reel it takes {total}: {_cuts(part.by_the_metre, part)}"
    if part.origin == "usual" and part.nest is not None:
        usual = no_longer(USUAL_COIL_MM, part.told_in)
        yield f"nothing is on offer: taken to come in coils of {usual} (25 ft; common practice, no source)"
    if part.origin == "asked":
        yield f"lengths as asked for: {', '.join(no_longer(coil.mm, part.told_in) for coil in part.coils)}; no prices"


def _buy(part: CutPart, plan: Nest) -> str:
    packs = [
        f"{count} x {_pack(coil, part)}{_offer(coil, part)}"
        for coil, count in zip(part.coils, plan.bought, strict=True)
        if count
    ]
    pieces = count_of(sum(len(bar.cuts) for bar in plan.bars), "piece")
    if not packs:
        return f"{pieces}; nothing to buy: the offcuts on the shelf do"
    cost = f", {money_text(plan.cost, part.currency)}" if plan.cost is not None else ""
    return f"{pieces}; buy {', '.join(packs)}{cost}"


def _pack(coil: Coil, part: CutPart) -> str:
    length = no_longer(coil.mm, part.told_in)
    return length if coil.pack == 1 else f"pack of {coil.pack} of {length}"


def _offer(coil: Coil, part: CutPart) -> str:
    return f" ({coil.tag}, {money_text(coil.cost, part.currency)})" if coil.cost is not None else ""


def _bar(place: int, bar: Bar, part: CutPart, width: int) -> Iterator[str]:
    """Yield one bar: what it is, its pieces in the order of cutting, what is left."""
    coil = "" if bar.source.offcut else part.coils[bar.source.number].tag
    origin = f" from {coil}" if coil else ""
    whole, left = no_longer(bar.mm, part.told_in), cut_length(bar.left_mm, part.told_in)
    yield from paragraph(f"{place}. {_what(bar)} of {whole}{origin}, left {left}", width, "  ", "     ")
    yield from paragraph(f"cut {_cuts(bar.cuts, part)}", width, "     ", "       ")


def _cuts(cuts: Sequence[Cut], part: CutPart) -> str:
    return f"{', '.join(f'{cut.tag} {bare_length(cut.mm, part.told_in)}' for cut in cuts)} {part.told_in}"


def _what(bar: Bar) -> str:
    return "offcut" if bar.source.offcut else "length"


def proof_text(part: CutPart, plan: Nest) -> str:
    """Return what is proven of a plan, and the gap where something is not."""
    proof, unit = plan.proof, part.told_in
    spends = "costs less" if plan.cost is not None else "buys less"
    if plan.optimal:
        return f"proven: no plan {spends}, then cuts less off new lengths, then keeps a longer piece whole"
    if not plan.cost_proven:
        gap = float((plan.spent - proof.least) / plan.spent * 100)
        least = cut_length(float(proof.least), unit) if plan.cost is None else money_text(proof.least, part.currency)
        return f"not proven in the time given: no plan needs less than {least}; this one is within {gap:.1f} %"
    if proof.least_new_mm != plan.new_mm:
        least = cut_length(proof.least_new_mm, unit) if proof.least_new_mm is not None else "an unknown length"
        open_ = f"how much has to come off new lengths (at least {least}, here {cut_length(plan.new_mm, unit)})"
    else:
        most = f"at most {cut_length(proof.longest_left_mm, unit)}, " if proof.longest_left_mm is not None else ""
        open_ = f"how long a piece can be kept whole ({most}here {cut_length(plan.longest_left_mm, unit)})"
    return f"proven: no plan {spends}; not proven in the time given: {open_}"


def money_text(amount: Fraction | None, currency: str | None) -> str:
    """Return an exact amount of money: `12.50 GBP`."""
    return visible(f"{decimal_text(amount or Fraction(0), 4)} {currency or ''}".rstrip())
