"""The answer of `fitcheck pedal` for people: from the foot to pressure, wheels, stop, balance, and what follows it."""

from collections.abc import Iterator

from fitcheck.hydraulics.record import Answer, Balance, Push, Stop
from fitcheck.reports.pedal_concerns import concerns
from fitcheck.reports.pedal_failures import clutch_lines, failure_lines, service_lines
from fitcheck.reports.pedal_figures import figure_lines, gap_lines
from fitcheck.reports.pedal_volume import travel_lines, volume_lines
from fitcheck.reports.pedal_words import LIMITS, UNKNOWN, Shown, gravity, heading, share, table
from fitcheck.reports.plain import WIDTH, caution_lines, paragraph

_SECTION = {"brake": "brake pedal", "clutch": "clutch pedal"}


def pedal_text(found: Answer, *, width: int = WIDTH) -> str:
    """Return the answer in lines of at most `width` columns."""
    shown = Shown(found.units)
    lines = paragraph(title(found), width)
    lines += _concerns(found, width)
    lines += _pressures(found, shown, width)
    lines += _corners(found, shown, width)
    lines += _stop(found, shown, width)
    lines += _balance(found, shown, width)
    lines += volume_lines(found, shown, width)
    lines += travel_lines(found, shown, width)
    lines += failure_lines(found, shown, width)
    lines += service_lines(found, shown, width)
    lines += clutch_lines(found, shown, width)
    lines += figure_lines(found, width)
    lines += gap_lines(found, width)
    lines += ["", *paragraph(f"LIMITS: {LIMITS}", width)]
    return "\n".join([*lines, *caution_lines(width)])


def title(found: Answer) -> str:
    """Return the heading: `Dunlin: pedal to caliper, 400 N on the brake pedal, 120 N on the clutch pedal`."""
    shown = Shown(found.units)
    pressed = [f"{shown.force(push.foot_n)} on the {_SECTION[push.drives]}" for push in found.pushes]
    return f"{found.build}: pedal to caliper, {', '.join(pressed) or 'no pedal that is known to press anything'}"


def _concerns(found: Answer, width: int) -> Iterator[str]:
    told = concerns(found)
    if not told:
        return
    yield from heading(f"LOOK AT ({len(told)})", width)
    for each in told:
        yield from paragraph(f"{each.level}: {each.words}", width, "  ", "    ")


def _pressures(found: Answer, shown: Shown, width: int) -> Iterator[str]:
    if not found.pushes:
        return
    yield from heading("PRESSURE", width)
    weak = {ref: mpa for push in found.weakest for ref, mpa in push.pressures_mpa.items()}
    rows = [row for push in found.pushes for row in _pressed(found, push, weak, shown)]
    headers = ["circuit", "outlet", "share", "piston", "pressure", *(["at least"] if weak else [])]
    yield from table(headers, [row[: len(headers)] for row in rows], width, "l")
    for push in found.pushes:
        ratio = f", ratio {found.ratio:g}" if found.ratio is not None and push.drives == "brake" else ""
        words = f"{shown.force(push.foot_n)} on the {_SECTION[push.drives]}{ratio}: {shown.force(push.rod_n)} on rods"
        yield from paragraph(words, width, "  ", "    ")
    if weak:
        yield from paragraph("at least: if the pedal's friction is the most that is assumed", width, "  ", "    ")
    valves = dict.fromkeys(name for one in found.outlets for each in one.metered.values() for name in each)
    if valves:
        yield from paragraph(f"behind {', '.join(valves)} less: see AT THE WHEELS", width, "  ", "    ")


def _pressed(found: Answer, push: Push, weak: dict[str, float], shown: Shown) -> Iterator[list[str]]:
    for outlet in found.outlets:
        if outlet.drives != push.drives:
            continue
        pressure = push.pressures_mpa.get(outlet.ref)
        least = shown.pressure(weak[outlet.ref]) if outlet.ref in weak else ""
        forces = shown.force(push.forces_n.get(outlet.tag))
        name = " and ".join(outlet.circuits) or "no name"
        yield [name, outlet.ref, share(outlet.share), forces, shown.pressure(pressure), least]


def _corners(found: Answer, shown: Shown, width: int) -> Iterator[str]:
    if not found.corners:
        return
    yield from heading("AT THE WHEELS", width)
    limits = any(one.limit_n is not None for one in found.corners)
    headers = ["brake", "axle", "pressure", "clamp", "torque", "tread", *(["holds"] if limits else [])]
    rows = [
        [
            one.tag,
            one.axle or UNKNOWN,
            shown.pressure(one.pressure_mpa),
            shown.force(one.clamp_n),
            shown.torque(one.torque_nmm),
            shown.force(one.force_n),
            *([shown.force(one.limit_n)] if limits else []),
        ]
        for one in found.corners
    ]
    yield from table(headers, rows, width, "l")
    words = "clamp: push on one pad or shoe; tread: asked of the tyre"
    words += "; holds: the most that the tyre holds at this stop" if limits else ""
    yield from paragraph(words, width, "  ", "    ")
    for one in found.outlets:
        held = [tag for tag, mpa in one.residual_mpa.items() if mpa]
        words = f"a residual valve holds {shown.pressure(max(one.residual_mpa.values(), default=0.0))} at rest at"
        yield from paragraph(f"{words} {', '.join(held)}", width, "  ", "    ") if held else ()


def _stop(found: Answer, shown: Shown, width: int) -> Iterator[str]:
    if found.stop is None:
        return
    yield from heading("STOP", width)
    yield from paragraph(_stopped(found.stop), width, "  ", "    ")
    if any(reserve is not None and reserve < 0.0 for reserve in _reserves(found)):
        words = "as if pedal and pistons had way enough, which they have not: see LOOK AT"
        yield from paragraph(words, width, "  ", "    ")
    weak = found.weakest_stop
    if weak is not None:
        words = f"with the most friction that is assumed in the pedal: {_stopped(weak)}"
        yield from paragraph(words, width, "  ", "    ")
    feet = [f"{wanted:g} g takes {shown.force(foot)}" for wanted, foot in found.feet if foot is not None]
    never = [f"{wanted:g} g" for wanted, foot in found.feet if foot is None]
    if never:
        feet.append(f"no push reaches {' or '.join(never)}")
    yield from paragraph(f"push on the brake pedal: {'; '.join(feet)}", width, "  ", "    ")


def _reserves(found: Answer) -> Iterator[float | None]:
    """Yield the share of its way that is left to the brake pedal and to each of its pistons."""
    braking = {outlet.ref for outlet in found.outlets if outlet.drives == "brake"}
    yield from (stroke.reserve for stroke in found.strokes if stroke.outlet in braking)
    yield from (travel.reserve for travel in found.travels if travel.drives == "brake")


def _stopped(stop: Stop) -> str:
    if stop.locks is None:
        return f"{gravity(stop.reached_g)}; no wheel slides"
    axle = "the wheels of both axles" if stop.locks == "both" else f"the {stop.locks} wheels"
    return f"{gravity(stop.reached_g)} of {gravity(stop.asked_g)} asked for: {axle} slide"


def _balance(found: Answer, shown: Shown, width: int) -> Iterator[str]:
    at = found.balance
    if at is None:
        return
    yield from heading("BALANCE", width)
    for words in _balanced(at, shown):
        yield from paragraph(words, width, "  ", "    ")
    yield ""
    shares = [pair for pair in at.ideal if abs(pair[0] * 5.0 - round(pair[0] * 5.0)) < 1e-6 or pair == at.ideal[-1]]
    rows = [[gravity(z), share(ideal), _slides(ideal, at.share)] for z, ideal in shares]
    yield from table(["deceleration", "ideal front share", "would slide first"], rows, width, "rl")


def _balanced(at: Balance, shown: Shown) -> Iterator[str]:
    reach = ""
    if at.lowest is not None and at.highest is not None:
        reach = f", {share(at.lowest)} to {share(at.highest)} over the whole adjustment of the bar"
    yield f"front share of the brake force: {share(at.share)}{reach}"
    if at.locks_first is None:
        yield "no wheel slides however hard the foot pushes"
    else:
        axle = "both axles together" if at.locks_first == "both" else f"the {at.locks_first} axle"
        yield f"first to slide as the foot pushes harder: {axle}, at {gravity(at.locks_at_g)}"
    if at.right_balance is not None:
        pivot = f", its pivot {shown.length(at.right_front_mm)} from the front rod" if at.right_front_mm else ""
        bar = {True: ": within its reach", False: ": OUT OF ITS REACH", None: ""}[at.reachable]
        yield f"both slide together with {share(at.right_balance)} of the push to the front{pivot}{bar}"
    else:
        yield "no setting of a bar makes both slide together: there is no bar, or it cannot"


def _slides(ideal: float, have: float) -> str:
    if abs(ideal - have) < 5e-4:
        return "both"
    return "front" if have > ideal else "rear"
