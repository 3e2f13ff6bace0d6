"""ASTM A513 type 5 (DOM) tolerances and S5 strengths, as in suppliers' reprints. See README.md."""

import pytest

from core.materials import MATERIALS
from core.tolerances import diameter_tolerance, wall_tolerance


# published: diameter table, first and last size of each row, OD +t/-0 and ID +0/-t
@pytest.mark.parametrize(
    ("low", "high", "tolerance"),
    [(0.500, 1.699, 0.005), (1.700, 2.099, 0.006), (2.100, 2.499, 0.007), (2.500, 2.899, 0.008)],
)  # fmt: skip
def test_diameter_rows(low, high, tolerance):
    assert diameter_tolerance(low) == diameter_tolerance(high) == tolerance
    assert diameter_tolerance(round(low - 0.001, 3)) == pytest.approx(tolerance - 0.001)  # hand: each row is .001 wider than the last


# published: wall table, columns OD .375 to .875, over .875 to 1.875, over 1.875 to 3.750; (plus, minus)
@pytest.mark.parametrize(
    ("od", "wall", "plus", "minus"),
    [(0.750, 0.035, 0.002, 0.002), (0.750, 0.109, 0.002, 0.003), (0.875, 0.120, 0.003, 0.003),
     (0.876, 0.120, 0.002, 0.004), (1.500, 0.065, 0.002, 0.003), (1.625, 0.095, 0.002, 0.003), (1.875, 0.120, 0.002, 0.004), (1.875, 0.134, 0.002, 0.004),
     (1.876, 0.120, 0.003, 0.003), (2.000, 0.065, 0.002, 0.003), (2.500, 0.083, 0.003, 0.003), (3.750, 0.134, 0.003, 0.003)],
)  # fmt: skip
def test_wall_rows(od, wall, plus, minus):
    found = wall_tolerance(od, wall)
    assert (found.plus, found.minus, found.listed) == (plus, minus, True)


@pytest.mark.parametrize(
    ("key", "yields", "ultimate"),
    # published: A513 S5 minimums, ksi
    [("erw-1010", 32, 45), ("erw-1020", 38, 52), ("1020-n", 35, 50), ("dom-1020", 60, 70), ("dom-1020-sr", 55, 65),
     ("dom-1026", 70, 80), ("4130-n", 50, 70)],
)  # fmt: skip
def test_minimum_strengths(key, yields, ultimate):
    assert (MATERIALS[key].yield_ksi, MATERIALS[key].ultimate_ksi) == (yields, ultimate)


def test_the_aircraft_row_is_not_in_this_standard():
    aircraft = MATERIALS["4130-n-aircraft"]
    assert (aircraft.yield_ksi, aircraft.ultimate_ksi) == (75, 95)  # from memory: aircraft specification, wall up to .187 in
    assert "from memory" in aircraft.source
