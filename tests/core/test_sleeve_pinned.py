"""Pinned: how a wrong end cut is refused."""

from core.sleeve import read_end_cut
from tests.core.pinning import refusal, unlike

CASES = {
    "no mitre": lambda: refusal(lambda: read_end_cut("pointed", None)),
    "mitre too steep": lambda: refusal(lambda: read_end_cut("scarf", 80)),
    "shape not known": lambda: refusal(lambda: read_end_cut("birdsmouth", 60)),
}


def test_pinned():
    assert not unlike("sleeve", CASES)
