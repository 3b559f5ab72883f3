"""One joint that the file states more than once."""

from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load_document
from fitcheck.sources import InputError, parse

_CAR = """
build: 1
components:
  caliper: {{part: caliper-m10x1-washer}}
hoses:
  hose: {{part: hose-braided-350-an3-banjo-10mm, to: caliper.inlet}}
joints:
  - {first}
  - {second}
"""
PLAIN = "[hose.to, caliper.inlet]"
STATED = "{port: caliper.inlet, eyes: [hose.to], bolt: banjo-bolt-m10x1, washers: 2}"


@pytest.mark.parametrize(("first", "second"), [(PLAIN, STATED), (STATED, PLAIN), (STATED, STATED)])
def test_what_is_stated_counts_wherever_it_stands(first: str, second: str) -> None:
    """A joint said three times is one, and the bolt and washers that one of the three states are kept."""
    text = _CAR.format(first=first, second=second)
    (joint,) = assemble(load_document(parse(text, "build.yaml"), Path())).joints
    assert (joint.refs, joint.bolt, joint.washers) == (("caliper.inlet", "hose.to"), "banjo-bolt-m10x1", 2)


def test_two_bolts_for_one_joint_are_refused() -> None:
    """Fixings stated twice that differ cannot both be fitted: the second is refused, with the line of the first."""
    other = "{port: caliper.inlet, eyes: [hose.to], bolt: banjo-bolt-m10x1-25}"
    with pytest.raises(InputError) as caught:
        load_document(parse(_CAR.format(first=STATED, second=other), "build.yaml"), Path())
    assert str(caught.value) == (
        "build.yaml:9:5: the joint of caliper.inlet and hose.to is stated on line 8 already, with other fixings"
    )
