"""What holds for all parts that can be bought for one another."""

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from fitcheck.catalog.part import Part
from fitcheck.catalog.substitutes import ROUNDING, has_bleeder, refusal
from tests.catalog.substitute_parts import part

# what each field may be, well apart from one another: sizes nearer than a rounding are one size
_CHANGES: dict[str, dict[str, list[object]]] = {
    "tee": {
        "left__seat": ["inverted-flare", "bubble", None],
        "left__tube": [4.7625, 4.75, 6.35, None],
        "left__depth": [11.0, 9.0, None],
        "max_pressure": [14.0, 20.0, 20.01, None],
        "fluid_families": [["glycol"], ["glycol", "silicone"], ["mineral"], None],
    },
    "brake": {
        "bleeder": ["M8x1.25", "M10x1", "none", None],
        "bore": [38.0, 38.01, 44.0, None],
        "volume": [9_000.0, 12_000.0, None],
        "max_pressure": [14.0, 20.0, None],
    },
    "pipe": {
        "od": [4.7625, 4.75, 6.35],
        "material": ["steel", "copper-nickel", "Cu-Ni"],
        "bend_radius": [10.0, 12.0, 20.0, None],
    },
}


@st.composite
def alike(draw: st.DrawFn) -> tuple[Part, Part, Part]:
    """Draw three parts of one kind that differ here and there."""
    name = draw(st.sampled_from(sorted(_CHANGES)))
    fields = {field: st.sampled_from(values) for field, values in _CHANGES[name].items()}
    first, second, third = (
        part(name, f"part-{n}", **draw(st.fixed_dictionaries({}, optional=fields))) for n in range(3)
    )
    return first, second, third


_BRIEF = settings(
    derandomize=True,
    database=None,
    deadline=None,
    max_examples=500,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow],
)


@_BRIEF
@given(alike())
def test_what_holds_for_all_parts(parts: tuple[Part, Part, Part]) -> None:
    """Each part does for itself; what does for what does, does; and no limit is ever lower, nor unknown where known."""
    for wanted in parts:
        assert refusal(wanted, wanted) is None
    for wanted, other in ((a, b) for a in parts for b in parts if refusal(a, b) is None):
        for last in parts:
            if refusal(other, last) is None:
                assert refusal(wanted, last) is None, (wanted, other, last)
        _never_worse(wanted, other)


def _never_worse(wanted: Part, other: Part) -> None:
    for field in ("max_pressure", "reservoir_volume", "volume"):
        least = getattr(wanted, field)
        assert least is None or getattr(other, field) >= least * (1 - ROUNDING)
    assert wanted.fluid_families is None or set(other.fluid_families or ()) >= set(wanted.fluid_families)
    assert has_bleeder(wanted) is not True or has_bleeder(other)
    assert wanted.bend_radius is None or (other.bend_radius or 1e9) <= wanted.bend_radius * (1 + ROUNDING)


def test_the_properties_see_many_parts_that_do() -> None:
    """Of the parts that the properties draw enough stand in for one another to prove something."""
    seen = {True: 0, False: 0}

    @_BRIEF
    @given(alike())
    def count(parts: tuple[Part, Part, Part]) -> None:
        seen[refusal(parts[0], parts[1]) is None and refusal(parts[1], parts[2]) is None] += 1

    count()
    assert seen[True] > 40
