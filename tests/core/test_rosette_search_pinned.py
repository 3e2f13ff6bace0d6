"""Pinned: places of several rosettes on one tip line, what the welder is told, and what is refused."""

import math

from core.rosette_search import place
from core.sleeve import EndCut
from tests.core.pinning import refusal, unlike

POINTED, SQUARE = EndCut("pointed"), EndCut("square", 0.0)


def refused(**change):
    usual = {"count": 1, "diameter": 0.5, "length": 8.0, "Ds": 2.0, "ts": 0.1, "gap": 0.0, "cut": POINTED}
    return refusal(lambda: place(**{**usual, **change}))


CASES = {
    "two on a pointed end": lambda: place(2, 0.46875, 10.0, 1.875, 0.120, 0.0, POINTED).as_dict(),
    "one, millimetres": lambda: place(1, 0.46875, 10.0, 1.875, 0.120, 0.125, POINTED).as_dict(True),
    "three asked, two fit": lambda: place(3, 0.5, 7.0, 2.0, 0.1, 0.25, SQUARE).as_dict(),
    "three asked, millimetres": lambda: place(3, 0.5, 7.0, 2.0, 0.1, 0.25, SQUARE).text(True),
    "two asked, one fits": lambda: place(2, 0.5, 4.0, 2.0, 0.1, 0.0, SQUARE).text(),
    "two asked, close together": lambda: place(2, 0.5, 2.4, 2.0, 0.1, 0.0, SQUARE).text(),
    "two asked, none fits": lambda: place(2, 0.5, 1.0, 2.0, 0.1, 0.4, SQUARE).as_dict(),
    "given distance": lambda: place(1, 0.5, 3.0, 2.0, 0.1, 0.0, SQUARE, 0.75).as_dict(),
    "scarf": lambda: place(3, 0.375, 16.0, 1.75, 0.095, 0.0, EndCut("scarf", 45)).as_dict(),
    "refused: count": lambda: refused(count=4),
    "refused: half a hole": lambda: refused(count=1.5),
    "refused: diameter": lambda: refused(diameter=0.0),
    "refused: length": lambda: refused(length=-1.0),
    "refused: sleeve": lambda: refused(Ds=math.inf),
    "refused: wall": lambda: refused(ts=math.nan),
    "refused: distance": lambda: refused(distance=0.0),
}


def test_pinned():
    assert not unlike("rosette_search", CASES)
