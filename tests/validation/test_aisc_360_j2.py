"""AISC 360 (2016) section J2: fillets and plugs. From memory; the plug rule also seen quoted. See README.md."""

import math
from fractions import Fraction

import pytest

from core.fillers import filler
from core.rosette import plug_minimum
from core.welds import fillet_force, plug_credit, plug_force

ROD = filler("er70s-2")  # 70 ksi, from memory: AWS A5.18


@pytest.mark.parametrize(
    ("wall", "least"),
    # hand: t + 5/16 in sixteenths, up to the next odd one: .4325 is 6.92 -> 7; .375 exactly 6 -> 7; .4375 exactly 7
    [(Fraction(120, 1000), Fraction(7, 16)), (Fraction(1, 16), Fraction(7, 16)), (Fraction(1, 8), Fraction(7, 16)), (Fraction(126, 1000), Fraction(9, 16))],
)  # fmt: skip
def test_j2_3b_least_plug(wall, least):
    assert plug_minimum(wall) == least


@pytest.mark.parametrize(
    ("diameter", "counts"),
    # hand: a quarter of a 1.625 tube is 13/32 = .40625, under 7/16; a quarter of a 1.875 sleeve 15/32, over it
    [(13 / 32, False), (7 / 16, True), (15 / 32, True)],
)  # fmt: skip
def test_j2_3b_the_shop_s_13_32_is_under_it(diameter, counts):
    assert (plug_credit(0.120, diameter).area > 0) is counts


def test_j2_4_fillet_on_the_throat():
    # hand: 0.30 x 70 x 0.707 x 0.120 = 1.7816 kip/in; LRFD 0.75 x 0.60 x 70 x 0.707 x 0.120 = 2.6725
    assert fillet_force(ROD, 0.120, None, "asd") == pytest.approx(1.7816, abs=5e-4)
    assert fillet_force(ROD, 0.120, None, "lrfd") == pytest.approx(2.6725, abs=5e-4)


def test_j2_3a_plug_on_its_faying_area():
    # hand: 0.30 x 70 x pi (7/16)^2 / 4 = 3.157 kip
    credit = plug_credit(0.120, 7 / 16)
    assert credit.area == pytest.approx(math.pi * 0.4375**2 / 4, rel=1e-12)
    assert plug_force(ROD, credit, 0.120, None, "asd") == pytest.approx(3.157, abs=5e-4)
