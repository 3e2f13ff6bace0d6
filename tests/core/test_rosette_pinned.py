"""Pinned: the rosette sizes with their sources and texts."""

import math
from dataclasses import asdict
from fractions import Fraction as F

from core.rosette import edge_distance, hole_sizes, stations, tip_angles
from core.sleeve import EndCut
from tests.core.pinning import unlike


def sizes(*measures):
    return [{**asdict(size), "diameter": str(size.diameter)} for size in hole_sizes(*measures)]


ENDS = [EndCut("pointed", 60), EndCut("fishmouth", 50), EndCut("scarf", 40), EndCut("square", 0.0)]
CASES = {
    "1-5/8 in 1-7/8 x .120": lambda: sizes(F(13, 8), F(15, 8), F(120, 1000)),
    "2 in 2-1/4 x .120": lambda: sizes(F(2), F(9, 4), F(120, 1000)),
    "1-3/4 in, a quarter is just the plug": lambda: sizes(F(7, 4), F(2), F(120, 1000)),
    "places": lambda: {cut.end: [asdict(one) for one in stations(9.0, 1.875, 0.125, cut)] for cut in ENDS},
    "edge beside a tip line": lambda: {cut.end: edge_distance(2.0, math.radians(tip_angles(cut)[0] + 10), 9.0, 1.875, cut) for cut in ENDS},
}


def test_pinned():
    assert not unlike("rosette", CASES)
