"""The verdict on a pair of threads, from its figures alone, and the reason in words."""

from fitcheck.standards.threads.geometry import TOUCH_MM, Pair, known

DROP_PERCENT = 10.0
"""With less overlap than this at the tight extreme the crests only skate on each other (derived)."""

STRIP_PERCENT = 50.0
"""Below this share of the basic height a thread does not hold (derived, FED-STD-H28/2B para 60)."""

_SAME_BASIC_MM = 0.05


def judge(pair: Pair) -> tuple[str, str]:
    """Return the verdict on a pair and the reason in figures."""
    if pair.overlap_percent[1] < DROP_PERCENT:
        most = max(0.0, pair.overlap_percent[1])
        return "drops-through", f"slides in: at most {most:.0f} % of the thread height touches"
    if pair.clearance[1] < 0.0 and pair.turns[1] < 1.0:
        least, most = -pair.clearance[1], -pair.clearance[0]
        reason = f"the external thread is {least:.2f} to {most:.2f} mm too large at the pitch line"
        return "will-not-start", reason
    if pair.same_pitch and pair.same_flank:
        sound = _judge_parallel(pair) if not pair.taper else _judge_taper(pair)
        if sound:
            return sound
    if pair.turns[1] < 1.0:
        return "will-not-start", f"{_unlike(pair)}: binds within {pair.turns[1]:.1f} turn"
    if pair.turns[1] * pair.nut.thread_pitch_mm >= pair.home:
        return "runs-in-loose", _loose_reason(pair)
    return "starts-then-binds", f"{_unlike(pair)}: binds after {_span(pair.turns)} turns{_gauge_plane(pair)}"


def _judge_parallel(pair: Pair) -> tuple[str, str] | None:
    """Judge two parallel threads of one pitch and angle; None if they are not of one basic size."""
    if abs(pair.bolt.basic_pitch_mm - pair.nut.basic_pitch_mm) > _SAME_BASIC_MM:
        return None
    fillet, hole = pair.bolt.fillet_mm, known(pair.nut.minor_mm[0])
    if fillet is not None and hole < fillet - TOUCH_MM:
        reason = f"the rounded root of the external thread can touch a hole under {fillet:.3f} mm; this one may be"
        return "may-bind", f"{reason} {hole:.3f} mm{_band_share(pair, fillet)}"
    if pair.clearance[0] < -TOUCH_MM:
        return (
            "may-bind",
            f"the limits of size overlap by up to {-pair.clearance[0]:.3f} mm at the pitch line",
        )
    least, most = max(0.0, pair.clearance[0]), pair.clearance[1]
    return "mates", f"one basic size, with {least:.3f} to {most:.3f} mm of clearance at the pitch line"


def _band_share(pair: Pair, fillet: float) -> str:
    low, high = known(pair.nut.minor_mm[0]), known(pair.nut.minor_mm[1])
    share = (min(fillet, high) - low) / (high - low)
    return f", as may any in the lower {100.0 * share:.0f} % of its limits" if share < 1.0 else ", as all within limits"


def binding_band(pair: Pair) -> tuple[float, float] | None:
    """Return the part of the hole's limits [mm] that a controlled root can touch, None if none.

    7/16-20 UNJF in UNF: 9.728 to 9.876 mm, that is 0.3830 to 0.3888 in of 0.383 to 0.395. Source: derived.
    """
    fillet, (low, high) = pair.bolt.fillet_mm, pair.nut.minor_mm
    if fillet is None or known(low) >= fillet - TOUCH_MM:
        return None
    return known(low), min(fillet, known(high))


def _judge_taper(pair: Pair) -> tuple[str, str] | None:
    """Judge a taper external thread in its own pitch and angle; None if it wedges in the wrong place."""
    bolt, nut = pair.bolt, pair.nut
    if not bolt.taper:
        return None
    wedge = (nut.basic_pitch_mm - bolt.basic_pitch_mm) / bolt.taper + bolt.gauge_mm
    if not 0.5 * bolt.gauge_mm <= wedge <= bolt.useful_mm:
        return None
    return "mates", f"one pitch and flank angle, hand tight after {_span(pair.turns)} turns"


def _unlike(pair: Pair) -> str:
    """Say what makes the flanks bind."""
    facts = []
    if not pair.same_pitch:
        facts.append(f"the pitches differ by {abs(pair.pitch_difference):.3f} mm")
    if not pair.same_flank:
        facts.append(f"the flank angles are {pair.bolt.flank_deg:.0f} and {pair.nut.flank_deg:.0f} degrees")
    if bool(pair.bolt.taper) != bool(pair.nut.taper):
        facts.append("one thread is taper")
    return ", ".join(facts) or "the diameters differ"


def _loose_reason(pair: Pair) -> str:
    least, most = pair.overlap_percent
    if least < STRIP_PERCENT:
        span = f"{least:.0f} to {most:.0f}" if least > 0.0 else f"at most {most:.0f}"
        return f"goes home with {span} % of the thread height and strips when tightened"
    return f"goes home although {_unlike(pair)}: few flanks carry or seal{_gauge_plane(pair)}"


def _gauge_plane(pair: Pair) -> str:
    """Say where a taper external thread would wedge by diameters alone, if that is not near its gauge plane."""
    if not pair.bolt.taper:
        return ""
    past = (pair.nut.basic_pitch_mm - pair.bolt.basic_pitch_mm) / pair.bolt.taper
    if abs(past) < pair.bolt.thread_pitch_mm:
        return ""
    return f"; its gauge plane lies {abs(past):.1f} mm {'too deep' if past > 0.0 else 'outside'}"


def _span(turns: tuple[float, float]) -> str:
    """Return `1.1 to 1.9`, or `at most 1.6` when the flanks may bind at once."""
    if turns[0] < 0.05:
        return f"at most {turns[1]:.1f}"
    return f"{turns[0]:.1f} to {turns[1]:.1f}"
