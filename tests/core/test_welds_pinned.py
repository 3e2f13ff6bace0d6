"""Pinned: why a plug counts or not, the lean of each end, and an end that is not known."""

from dataclasses import asdict

from core.welds import face_lean, plug_credit
from tests.core.pinning import refusal, unlike

CASES = {
    "plug too small": lambda: asdict(plug_credit(0.120, 13 / 32)),
    "plug at the least": lambda: asdict(plug_credit(0.120, 7 / 16)),
    "plug off the ruler": lambda: asdict(plug_credit(0.120, 0.45)),
    "plug off the ruler, five places": lambda: plug_credit(0.120, 0.45126).reason,
    "plug at the most": lambda: asdict(plug_credit(0.120, 9 / 16)),
    "plug too large": lambda: asdict(plug_credit(0.120, 0.75)),
    "plug in a thick wall": lambda: asdict(plug_credit(0.500, 1.25)),
    "pointed": lambda: asdict(face_lean("pointed", 60)),
    "fishmouth": lambda: asdict(face_lean("fishmouth", 45)),
    "scarf": lambda: asdict(face_lean("scarf", 30)),
    "square": lambda: asdict(face_lean("square", 0)),
    "refused: shape": lambda: refusal(lambda: face_lean("round", 30)),
}


def test_pinned():
    assert not unlike("welds", CASES)
