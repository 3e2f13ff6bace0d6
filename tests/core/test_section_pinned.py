"""Pinned: the JSON form of a section, and sizes that make none."""

import math

from core.section import net_section, round_section
from tests.core.pinning import refusal, unlike

CASES = {
    "1-5/8 x .120": lambda: round_section(1.625, 0.120).as_dict(),
    "1-7/8 x .120 with four holes": lambda: net_section(round_section(1.875, 0.120), 4, 0.4375).as_dict(),
    "refused: wall over half": lambda: refusal(lambda: round_section(1.0, 0.6)),
    "refused: no number": lambda: refusal(lambda: round_section(math.inf, 0.1)),
    "refused: too many holes": lambda: refusal(lambda: net_section(round_section(1.875, 0.120), 8, 0.4375)),
}


def test_pinned():
    assert not unlike("section", CASES)
