"""Pinned: the whole comparison as sent to a page, and what a case refuses."""

from dataclasses import replace

from core.fillers import filler
from core.strength import SpliceCase, capacity_text, compare
from core.tube import read_tube
from tests.core.pinning import refusal, unlike


def tube(od, wall, material="dom-1020"):
    return read_tube({"od": od, "wall": wall, "material": material})


GOOD = SpliceCase(tube("1-5/8 in", ".120 in"), tube("1-7/8 in", ".120 in"), "outer-sleeve", 7.87, 60, 0.120, filler("er70s-2"), 2, 0.4375)
INNER = SpliceCase(tube("1-5/8 in", ".095 in", "4130-n"), tube("1-3/8 in", ".095 in", "4130-n"), "inner-sleeve", 5.0, 0, 0.125,
                   filler("er80s-d2"), end_shape="square")  # fmt: skip


def refused(**change):
    return refusal(lambda: replace(GOOD, **change))


CASES = {
    "outer sleeve": lambda: compare(GOOD),
    "inner sleeve, no rosettes": lambda: compare(INNER),
    "undersized rosettes": lambda: compare(replace(GOOD, rosette_diameter=0.40625)).as_dict()["rosettes"],
    "steel not known": lambda: compare(replace(GOOD, sleeve=tube("1-7/8 in", ".120 in", "unknown"))).as_dict()["loads"],
    "capacities": lambda: [capacity_text(value, load) for value in (1.239, None) for load in ("axial", "bending", "torsion")],
    "refused: method": lambda: refused(method="glue", end_shape="round"),
    "refused: sleeve": lambda: refused(sleeve=tube("1-1/2 in", ".120 in")),
    "refused: numbers": lambda: refused(mitre_deg=76, fillet_leg=0, rosettes=13, rosette_diameter=2.5),
    "refused: square with a mitre": lambda: refused(end_shape="square"),
    "refused: parts of rosettes": lambda: refused(rosettes=1.5, rosette_diameter=None),
    "refused: weld line": lambda: refused(weld_line=12.0),
    "refused: no weld": lambda: refused(weld_line=0),
    "refused: holes": lambda: refused(rosettes=8),
}


def test_pinned():
    assert not unlike("strength", CASES)
