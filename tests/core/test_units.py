"""Unit factors against pint, gauges against the fact sheet."""

from fractions import Fraction
from itertools import pairwise

import pint
import pytest

from core.gauges import GAUGE_INCHES, gauge_for, next_thicker
from core.lengths import read_length
from core.units import INCHES_PER, KG_PER_POUND, MM_PER_INCH, MPA_PER_KSI

UNITS = pint.UnitRegistry(non_int_type=Fraction)
PINT_NAMES = {"in": "inch", "ft": "foot", "thou": "thou", "mm": "millimeter", "cm": "centimeter", "m": "meter"}


@pytest.mark.parametrize("unit", sorted(INCHES_PER))
def test_a_length_unit_is_what_the_reference_library_says(unit):
    assert INCHES_PER[unit] == UNITS.Quantity(Fraction(1), PINT_NAMES[unit]).to("inch").magnitude  # reference library: pint


def test_the_other_factors_are_what_the_reference_library_says():
    assert UNITS.Quantity(Fraction(1), "inch").to("millimeter").magnitude == MM_PER_INCH  # reference library: pint
    assert UNITS.Quantity(Fraction(1), "pound").to("kilogram").magnitude == KG_PER_POUND  # reference library: pint
    # reference library: pint; the project's figure is cut at 12 decimals
    assert float(UNITS.Quantity(Fraction(1), "ksi").to("megapascal").magnitude) == pytest.approx(float(MPA_PER_KSI), rel=1e-12)


# published: BWG walls as tabulated in ASTM A513 (20 to 9); 8 and 7 from the project fact sheet
BWG = {20: ".035", 19: ".042", 18: ".049", 17: ".058", 16: ".065", 15: ".072", 14: ".083", 13: ".095", 12: ".109", 11: ".120",
       10: ".134", 9: ".148", 8: ".165", 7: ".180"}  # fmt: skip


def test_the_gauges_are_tubing_gauges():
    assert {number: Fraction(wall) for number, wall in BWG.items()} == GAUGE_INCHES
    for number, wall in BWG.items():
        assert read_length(f"{number} ga", role="wall").inches == Fraction(wall)
        assert gauge_for(Fraction(wall)) == number
    assert gauge_for(Fraction("0.1345")) is None  # published: sheet gauge 10 is no tubing gauge


def test_the_next_gauge_is_one_step_thicker():
    walls = sorted(GAUGE_INCHES.values())
    for thin, thick in pairwise(walls):
        assert next_thicker(float(thin)) == thick
    assert next_thicker(0.180) is None
    assert next_thicker(0.100) == Fraction("0.109")  # hand: between two gauges
