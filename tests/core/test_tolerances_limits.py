"""Every row of the DOM tolerance tables, and the sizes at, just under and just over each limit."""

from itertools import pairwise

import pytest

from core.tolerances import diameter_tolerance, wall_tolerance

# published: ASTM A513 type 5, diameter tolerances, as reprinted by a supplier of tube (OD +t/-0, ID +0/-t)
DIAMETERS = """
0.250 0.499 .004
0.500 1.699 .005
1.700 2.099 .006
2.100 2.499 .007
2.500 2.899 .008
2.900 3.299 .009
3.300 3.699 .010
3.700 4.099 .011
4.100 4.499 .012
4.500 4.899 .013
4.900 5.299 .014
"""
# published: ASTM A513 type 5, wall tolerances in thousandths, as reprinted by a second supplier:
# plus/minus for OD .375 to .875, over .875 to 1.875, over 1.875 to 3.750
WALLS = """
.035 2/2 2/2 2/2
.042 2/2 2/3 2/3
.049 2/2 2/3 2/3
.065 2/2 2/3 2/3
.072 2/2 2/3 3/3
.083 2/2 2/3 3/3
.095 2/2 2/3 3/3
.109 2/3 2/4 3/3
.120 3/3 2/4 3/3
.134 ... 2/4 3/3
"""
ENDS = ((0.375, 0.875), (0.876, 1.875), (1.876, 3.750))
DIAMETER_ROWS = [tuple(float(word) for word in line.split()) for line in DIAMETERS.split("\n") if line]
WALL_ROWS = [line.split() for line in WALLS.split("\n") if line]


@pytest.mark.parametrize(("low", "high", "tolerance"), DIAMETER_ROWS)
def test_every_row_of_the_diameter_table(low, high, tolerance):
    assert diameter_tolerance(low) == diameter_tolerance(high) == tolerance


def test_a_diameter_between_two_rows_goes_to_the_nearer_thousandth():
    # hand: 1.6994 reads 1.699 (row .500 to 1.699), 1.6996 reads 1.700 (row 1.700 to 2.099)
    assert (diameter_tolerance(1.6994), diameter_tolerance(1.6996)) == (0.005, 0.006)
    assert (diameter_tolerance(5.2994), diameter_tolerance(5.300)) == (0.014, None)  # published: the table ends at 5.299 here
    assert diameter_tolerance(0.001) == 0.004  # published: "up to 0.499"


@pytest.mark.parametrize("row", WALL_ROWS, ids=lambda row: row[0])
@pytest.mark.parametrize("column", [0, 1, 2])
def test_every_row_of_the_wall_table(row, column):
    wall = float(row[0])
    for od in ENDS[column]:
        found = wall_tolerance(od, wall)
        if row[1 + column] == "...":
            assert found is None
        else:
            assert f"{found.plus * 1000:g}/{found.minus * 1000:g}" == row[1 + column]
            assert found.listed is True


@pytest.mark.parametrize(("thinner", "thicker"), [(a[0], b[0]) for a, b in pairwise(WALL_ROWS)])
def test_a_wall_just_over_a_row_takes_the_next_one(thinner, thicker):
    # common practice, no source: a wall between two rows takes the thicker one, marked not listed
    over, under, row = (wall_tolerance(2.0, wall) for wall in (float(thinner) + 1e-5, float(thicker) - 1e-5, float(thicker)))
    assert (over.plus, over.minus, over.listed) == (under.plus, under.minus, under.listed) == (row.plus, row.minus, False)


def test_the_wall_table_ends_where_it_ends():
    # published: OD .375 to 3.750; walls .035 to .134 are the rows kept here
    assert wall_tolerance(0.375, 0.035) and wall_tolerance(3.750, 0.035)
    assert wall_tolerance(0.3749, 0.035) is None and wall_tolerance(3.7501, 0.035) is None
    assert wall_tolerance(2.0, 0.0349) is None and wall_tolerance(2.0, 0.1341) is None
    # hand: a ten-millionth over a row is rounding, the row still counts as listed
    assert wall_tolerance(2.0, 0.035 - 1e-7).listed and wall_tolerance(2.0, 0.134 + 1e-7).listed
