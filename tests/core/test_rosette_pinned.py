"""Pinned: the rosette sizes with their sources and texts."""

from dataclasses import asdict
from fractions import Fraction as F

from core.rosette import hole_sizes
from tests.core.pinning import unlike


def sizes(*measures):
    return [{**asdict(size), "diameter": str(size.diameter)} for size in hole_sizes(*measures)]


CASES = {
    "1-5/8 in 1-7/8 x .120": lambda: sizes(F(13, 8), F(15, 8), F(120, 1000)),
    "2 in 2-1/4 x .120": lambda: sizes(F(2), F(9, 4), F(120, 1000)),
    "1-3/4 in, a quarter is just the plug": lambda: sizes(F(7, 4), F(2), F(120, 1000)),
}


def test_pinned():
    assert not unlike("rosette", CASES)
