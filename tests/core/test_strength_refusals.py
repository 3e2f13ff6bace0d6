"""What a splice case refuses: each bad value with its field, what is allowed and the next step."""

import math
from dataclasses import replace

import pytest

from core.fillers import filler
from core.problems import Problem
from core.strength import SpliceCase
from core.tube import read_tube


def tube(od, wall):
    return read_tube({"od": od, "wall": wall, "material": "dom-1020"})


GOOD = SpliceCase(
    tube("1-5/8 in", ".120 in"), tube("1-7/8 in", ".120 in"), "outer-sleeve", 7.87, 60, 0.120, filler("er70s-2"), 2, 0.4375
)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"method": "glue"}, "method"),
        ({"end_shape": "round"}, "end_shape"),
        ({"sleeve": tube("1-1/2 in", ".120 in")}, "sleeve"),
        ({"method": "inner-sleeve"}, "sleeve"),
        ({"mitre_deg": 76}, "mitre_deg"),
        ({"mitre_deg": math.nan}, "mitre_deg"),
        ({"mitre_deg": True}, "mitre_deg"),
        ({"end_shape": "square"}, "mitre_deg"),
        ({"fillet_leg": 0}, "fillet_leg"),
        ({"fillet_leg": 0.51}, "fillet_leg"),
        ({"fillet_leg": "1/8"}, "fillet_leg"),
        ({"rosettes": -1}, "rosettes"),
        ({"rosettes": 1.5}, "rosettes"),
        ({"rosettes": 10**400}, "rosettes"),
        ({"rosette_diameter": None}, "rosette_diameter"),
        ({"rosette_diameter": 2.5}, "rosette_diameter"),
        ({"weld_line": 0}, "weld_line"),
        ({"weld_line": math.inf}, "weld_line"),
        # hand: pi x 1.875 / cos 60 = 11.781
        ({"weld_line": 11.79}, "weld_line"),
    ],
)
def test_bad_input_is_refused_with_its_field_and_the_next_step(change, field):
    with pytest.raises(Problem) as caught:
        replace(GOOD, **change)
    assert (caught.value.kind, caught.value.field) == ("bad-splice", field)
    assert caught.value.given and caught.value.allowed and caught.value.next_step


def test_several_bad_values_come_together():
    with pytest.raises(Problem) as caught:
        replace(GOOD, fillet_leg=-1, rosettes=99)
    assert [caught.value.field, *(p.field for p in caught.value.others)] == ["fillet_leg", "rosettes"]


def test_holes_that_eat_the_sleeve_are_refused():
    with pytest.raises(Problem, match="more than half"):
        replace(GOOD, rosettes=8)
