"""Pinned: the texts of fit and of the assumptions behind it, in inches and millimetres."""

from dataclasses import asdict

from core.fit import clearance, fit_checks, tolerance_notes
from core.tube import read_tube
from tests.core.pinning import unlike


def tube(od, wall, material="dom-1020", seam="none"):
    return read_tube({"od": od, "wall": wall, "material": material, "seam": seam})


def whole(inner, outer, metric=False):
    return {"clearance": asdict(clearance(inner, outer)), "checks": fit_checks(inner, outer, metric), "notes": tolerance_notes(inner, outer)}


TUBE = tube("1-5/8 in", ".120 in")
CASES = {
    "slides": lambda: whole(TUBE, tube("1-7/8 in", ".120 in")),
    "slides, millimetres": lambda: whole(tube("40 mm", "2 mm"), tube("46 mm", "2.5 mm"), True),
    "fits at both ends": lambda: whole(tube("1-5/8 in", ".083 in"), tube("1-7/8 in", ".109 in")),
    "loose end over": lambda: whole(tube("1-5/8 in", ".083 in"), tube("1-7/8 in", ".095 in")),
    "too loose": lambda: whole(TUBE, tube("2 in", ".120 in", "4130-n", "bead")),
    "too small": lambda: whole(TUBE, tube("1-3/4 in", ".120 in", "erw-1010", "unknown")),
    "the same size": lambda: whole(TUBE, tube("1-7/8 in", "1/8 in", "unknown", "removed")),
    "thin wall of another steel": lambda: whole(tube("1-5/8 in", ".134 in", "erw-1010"), tube("1-7/8 in", ".120 in")),
    "thin wall of unknown steel": lambda: whole(tube("1-5/8 in", ".134 in", "unknown"), tube("1-3/4 in", ".058 in", "erw-1010")),
    "thin wall of the same steel": lambda: whole(TUBE, tube("1-7/8 in", ".100 in", "dom-1020", "unknown")),
    "past the tables": lambda: whole(tube("5.5 in", ".2 in"), tube("6 in", ".2 in", "4130-n", "unknown")),
}


def test_pinned():
    assert not unlike("fit", CASES)
