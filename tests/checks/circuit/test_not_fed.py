"""`circuit-not-fed` and the gaps it speaks of."""

from tests.checks.circuit.cars import CAR, UNSTATED, context_of, findings, reached, spoilt, told, unchecked, without


def test_missing_line_names_both_sides() -> None:
    """A missing line is told at the caliper, with the open ends of both sides, where the circuit promises it."""
    context = context_of(without("front_left"))
    (found,) = findings(context)
    assert (found.rule, found.level) == ("circuit-not-fed", "error")
    assert found.message == "circuit front does not reach caliper_fl.inlet"
    assert found.at == ("caliper_fl.inlet", "tee_front.right")
    assert found.evidence == {
        "consumers": ("caliper_fl.inlet",),
        "circuit": "front",
        "outlet": "mc_front.outlet",
        "open_ends": ("caliper_fl.inlet", "tee_front.right"),
        "swapped": (),
        "unfed_side": ("caliper_fl.inlet",),
        "fed_side": ("tee_front.right",),
    }
    stated = next(i for i, line in enumerate(without("front_left").splitlines(), 1) if "  front: {from" in line)
    assert found.place.line == stated
    assert "caliper_fl.inlet" not in reached(context, "mc_front.outlet", "mc_rear.outlet", "mc_clutch.outlet")


def test_everything_behind_a_missing_line_is_one_finding() -> None:
    """Two calipers behind one missing line are one finding that names both."""
    assert told(context_of(without("front_middle"))) == [
        ("circuit-not-fed", "error", "circuit front does not reach caliper_fl.inlet and caliper_fr.inlet")
    ]


def test_without_stated_circuits_it_is_told_without_a_name() -> None:
    """A build that states no circuits is told which consumer no master cylinder feeds."""
    (found,) = findings(context_of(without("rear_middle", text=UNSTATED)))
    assert found.message == "caliper_rl.inlet and caliper_rr.inlet are fed by no master cylinder"
    assert found.at == ("caliper_rl.inlet", "caliper_rr.inlet", "tee_rear.left", "limiter.out")
    assert found.evidence["circuit"] is None


def test_many_consumers_are_counted_in_the_message_and_listed_in_full() -> None:
    """With more than three ends the message names two and counts the rest; the place names all."""
    tees = "".join(f"  tee_{i}: {{part: tee-m10x1-bubble}}\n" for i in range(3))
    slaves = "".join(f"  slave_{i}: {{part: slave-m10x1-bubble}}\n" for i in range(4))
    ends = ("tee_0.right", "tee_1.right", "tee_2.right", "tee_2.top")
    runs = [(f"tee_{i}.top", f"tee_{i + 1}.left") for i in range(2)]
    runs += [(end, f"slave_{i}.inlet") for i, end in enumerate(ends)]
    lines = "".join(f"  run_{i}: {{from: {a}, to: {b}, tube: tube-3-16-cuni}}\n" for i, (a, b) in enumerate(runs))
    (found,) = findings(context_of(f"build: 1\ncomponents:\n{tees}{slaves}lines:\n{lines}"))
    assert found.message == "slave_0.inlet, slave_1.inlet and 2 more are fed by no master cylinder"
    assert found.at == (*(f"slave_{i}.inlet" for i in range(4)), "tee_0.left")


def test_only_what_a_line_could_join_is_explained() -> None:
    """With one line missing, an open port that takes no line stays a dead end; the one that does goes with it."""
    text = without("front_left").replace("joints:\n  - [switch.port, tee_light.top]\n", "")
    context = context_of(text)
    assert told(context) == [
        ("circuit-not-fed", "error", "circuit front does not reach caliper_fl.inlet"),
        ("dead-end", "error", "tee_light.top is open and nothing is joined to switch"),
    ]
    assert findings(context)[0].at == ("caliper_fl.inlet", "tee_front.right")


def test_open_ends_are_not_explained_when_the_numbers_differ() -> None:
    """With one line missing and two ports open that would take it, neither is explained."""
    text = spoilt(("tee_light: {part: tee-m10x1-bubble-1-8-npt}", "tee_light: {part: tee-m10x1-bubble}"))
    text = without("front_left", "switch", text=text).replace("joints:\n  - [switch.port, tee_light.top]\n", "")
    assert told(context_of(text)) == [
        ("circuit-not-fed", "error", "circuit front does not reach caliper_fl.inlet"),
        ("dead-end", "error", "tee_front.right is open"),
        ("dead-end", "error", "tee_light.top is open"),
    ]


def test_far_end_is_on_the_stated_circuit() -> None:
    """A port open on another circuit is not the other side of a missing line, although the line would fit it."""
    spare = "  spare: {part: tee-m10x1-bubble}\n  slave: {"
    middle = "from: spare.right, to: tee_rear.left, tube: tube-3-16-cuni}\n"
    more = "  rear_more: {from: limiter.out, to: spare.left, tube: tube-3-16-cuni}\n  rear_left: {"
    changes = (("  slave: {", spare), ("from: limiter.out, to: tee_rear.left, tube: tube-3-16-cuni}\n", middle))
    plugged = (("  switch: {", "  stop: {part: plug-m10x1-bubble}\n  switch: {"), ("joints:\n", "joints:\n@"))
    text = spoilt(*changes, ("  rear_left: {", more), *plugged, text=without("front_left"))
    context = context_of(text.replace("@", "  - [stop.end, tee_front.right]\n"))
    assert told(context) == [
        ("circuit-not-fed", "error", "circuit front does not reach caliper_fl.inlet"),
        ("dead-end", "error", "spare.top is open"),
    ]


def test_unstated_far_end_is_on_the_only_circuit_that_has_one() -> None:
    """Where no circuit is stated and two of them have an open port for the line, neither port is explained."""
    context = context_of(without("front_left", "rear_right", "caliper_rr", text=UNSTATED))
    assert told(context) == [
        ("circuit-not-fed", "error", "caliper_fl.inlet is fed by no master cylinder"),
        ("dead-end", "error", "tee_front.right is open"),
        ("dead-end", "error", "tee_rear.top is open"),
    ]


def test_master_cylinder_that_nothing_is_joined_to_is_a_finding_beside_the_gap() -> None:
    """A part that nothing is joined to is told by itself, even if it is where the missing line would begin."""
    context = context_of(without("clutch_line", "feed_clutch").replace("reservoir-3-outlet", "reservoir-2-outlet"))
    assert told(context) == [
        ("circuit-not-fed", "error", "circuit clutch does not reach slave.inlet"),
        ("dead-end", "error", "nothing is joined to mc_clutch"),
    ]


def test_circuit_that_begins_at_no_outlet() -> None:
    """A stated circuit whose `from` makes no pressure is told where the file says so."""
    (found,) = findings(context_of(spoilt(("front: {from: mc_front.outlet", "front: {from: tee_light.left"))))
    assert (found.rule, found.level) == ("circuit-not-fed", "error")
    assert found.message == "circuit front begins at tee_light.left, which is no outlet"
    assert found.at == ("front", "tee_light.left")
    assert found.evidence == {"from": "tee_light.left"}


def test_end_that_is_no_consumer_can_be_promised_too() -> None:
    """A port named under `feeds` must be fed even if it is no caliper."""
    text = spoilt(
        ("rr.inlet]}", "rr.inlet, spare.a]}"), ("  slave: {", "  spare: {part: union-m10x1-bubble}\n  slave: {")
    )
    (found,) = findings(context_of(text))
    assert found.message == "circuit rear does not reach spare.a"
    assert found.at == ("spare.a", "spare.b")


def test_what_hangs_on_an_unknown_part_is_unchecked() -> None:
    """An unknown master cylinder is one finding of another rule; its calipers are listed as not checked."""
    context = context_of(CAR.replace("mc_front: {part: mc-m10x1-bubble}", "mc_front: {part: mc-nobody}"))
    assert told(context) == []
    answers = unchecked(context, "circuit-not-fed", "single-circuit")
    assert ("circuit-not-fed", ("caliper_fl.inlet", "caliper_fr.inlet"), "parts.mc-nobody") in answers
    assert ("circuit-not-fed", ("front",), "parts.mc-nobody") in answers
    assert ("single-circuit", ("caliper_fl.inlet",), "parts.mc-nobody") in answers


def test_pushrod_joined_to_an_outlet_does_not_hide_the_circuit() -> None:
    """A pedal rod brought to an outlet passes no fluid: what hangs on that outlet is still looked at."""
    text = without("front_left", text=spoilt(("  tank: {", "  pedals: {part: pedal-box-twin}\n  tank: {")))
    text = text.replace("joints:\n", "joints:\n  - [pedals.rod_1, mc_rear.outlet]\n")
    found = told(context_of(text), "circuit-not-fed")
    assert found == [("circuit-not-fed", "error", "circuit front does not reach caliper_fl.inlet")]


def test_swapped_feed_and_pressure_line_is_one_finding() -> None:
    """Feed hose on the outlet and line on the feed: one finding, which names the feed that pressure reaches."""
    text = spoilt(("from: tank.front", "from: @"), ("from: mc_front.outlet, to", "from: tank.front, to"))
    context = context_of(text.replace("@", "mc_front.outlet"))
    (found,) = findings(context)
    assert found.message == "circuit front does not reach caliper_fl.inlet and caliper_fr.inlet"
    assert found.at == ("caliper_fl.inlet", "caliper_fr.inlet", "mc_front.feed")
    assert found.evidence["swapped"] == ("mc_front.feed",)
    assert "mc_front.feed" in reached(context, "mc_front.outlet")
