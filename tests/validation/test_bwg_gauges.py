"""Birmingham Wire Gauge, tubing walls. See README.md."""

from fractions import Fraction
from itertools import pairwise

import pytest

from core.gauges import GAUGE_INCHES, gauge_for, next_thicker
from core.lengths import read_length

# published: BWG in thousandths of an inch; 20 to 9 in a supplier's copy of the A513 wall table, 8 and 7 from memory
TABLE = "20 35, 19 42, 18 49, 17 58, 16 65, 15 72, 14 83, 13 95, 12 109, 11 120, 10 134, 9 148, 8 165, 7 180"
ROWS = [tuple(int(word) for word in row.split()) for row in TABLE.split(", ")]


@pytest.mark.parametrize(("gauge", "thousandths"), ROWS)
def test_each_gauge(gauge, thousandths):
    wall = Fraction(thousandths, 1000)
    assert read_length(f"{gauge} ga", role="wall").inches == wall
    assert gauge_for(wall) == gauge


def test_the_table_holds_nothing_else():
    assert len(GAUGE_INCHES) == len(ROWS)


@pytest.mark.parametrize(("thin", "thick"), list(pairwise(ROWS)))
def test_one_gauge_thicker_is_the_next_row(thin, thick):
    assert next_thicker(thin[1] / 1000) == Fraction(thick[1], 1000)


def test_tubing_is_not_sheet():
    # published: sheet gauge 10 is .1345 in, from memory; tubing means BWG, .134
    assert read_length("10 ga", role="wall").inches != Fraction(1345, 10000)
