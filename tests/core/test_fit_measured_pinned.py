"""Pinned: what a measured fit says and what it refuses."""

from core.fit_measured import Measured, measured_fit, read_measured
from tests.core.pinning import refusal, unlike

TUBE = {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020"}
SLEEVE = {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020"}
FOUR = (1.5, 1.501, 1.5, 1.501)


def fit(ods, bores, **more):
    return measured_fit(Measured(ods, bores, **more))


def advice(ods, bores, **more):
    one = fit(ods, bores, **more)
    return {"check": one.check(), "do": one.what_to_do()}


def refused(data):
    return refusal(lambda: read_measured(data))


CASES = {
    "whole": lambda: measured_fit(read_measured({"tube": TUBE, "sleeve": SLEEVE, "tube_od": ["1.625 in", "1.628 in"], "sleeve_bore": ["1.634 in", "1.636 in"], "bead": ".002 in"})),
    "whole, millimetres": lambda: measured_fit(read_measured({"tube_od": ["40", "40"], "sleeve_od": ["46", "46.1"], "sleeve_wall": "2.5", "units": "mm"})),
    "beside the worst case, millimetres": lambda: measured_fit(read_measured({"tube": TUBE, "sleeve": SLEEVE, "tube_od": ["41.3", "41.31"], "sleeve_bore": ["41.5", "41.55"], "units": "mm"}))._side_by_side(),
    "bore and outside": lambda: fit((1.5, 1.501), (1.4, 1.4), sleeve_od=(1.8, 1.8)),
    "bore and wall": lambda: fit(FOUR, (1.6, 1.601, 1.6, 1.602), sleeve_wall=0.1)._assumptions(),
    "no bore": lambda: measured_fit(Measured((1.5, 1.501), sleeve_od=(1.75, 1.751), sleeve_wall=0.12))._assumptions(),
    "slides": lambda: advice(FOUR, (1.506, 1.507) * 2),
    "slides, three readings": lambda: advice(FOUR[:3], (1.506, 1.507) * 2),
    "slides over a bead": lambda: advice(FOUR, (1.52, 1.521) * 2, bead=0.01),
    "polish": lambda: advice(FOUR, (1.502, 1.503) * 2),
    "hone": lambda: advice(FOUR, (1.4995, 1.502) * 2),
    "hone, ovals": lambda: advice((1.5, 1.504) * 2, (1.502, 1.505) * 2),
    "cannot be honed": lambda: advice(FOUR, (1.48, 1.481) * 2),
    "bead out, slides": lambda: advice(FOUR, (1.51, 1.511) * 2, bead=0.06),
    "bead out, hone": lambda: advice(FOUR, (1.501, 1.502) * 2, bead=0.06),
    "bead out, cannot be honed": lambda: advice(FOUR, (1.48, 1.481) * 2, bead=0.06),
    "loose once honed": lambda: advice(FOUR, (1.5, 1.562) * 2),
    "too loose": lambda: advice(FOUR, (1.57, 1.58) * 2),
    "too loose at one pair": lambda: advice(FOUR, (1.51, 1.57) * 2),
    "tight and loose": lambda: advice((1.5, 1.506) * 2, (1.504, 1.57) * 2),
    "too oval": lambda: advice((1.5, 1.56) * 2, (1.6, 1.6) * 2),
    "millimetres": lambda: advice(FOUR, (1.57, 1.58) * 2, metric=True),
    "millimetres, tight": lambda: advice(FOUR, (1.48, 1.481) * 2, metric=True),
    "bead out, to the thousandth below": lambda: advice(FOUR, (1.51, 1.511) * 2, bead=0.0606),
    "millimetres, bead out": lambda: advice(FOUR, (1.51, 1.511) * 2, bead=0.0606, metric=True),
    "millimetres, slides over a bead": lambda: advice(FOUR, (1.52, 1.521) * 2, bead=0.01, metric=True),
    "refused: no list": lambda: refused({"tube_od": "1.5", "sleeve_bore": ["1.63", "1.63"]}),
    "refused: too many": lambda: refused({"tube_od": ["1.5"] * 13, "sleeve_bore": ["1.63", "1.63"]}),
    "refused: too few": lambda: refused({"tube_od": ["1.5"], "sleeve_bore": []}),
    "refused: too far apart": lambda: refused({"tube_od": ["1.265", "1.625"], "sleeve_bore": ["1.63", "1.63"]}),
    "refused: no wall": lambda: refused({"tube_od": ["1.5", "1.5"], "sleeve_od": ["1.75", "1.75"]}),
    "refused: out of range": lambda: refused({"tube_od": ["15", "1.5"], "sleeve_bore": ["1.63", "1.63"]}),
    "refused: wall out of range": lambda: refused({"tube_od": ["1.5", "1.5"], "sleeve_od": ["1.75", "1.75"], "sleeve_wall": "2 in"}),
    "refused: bead fills the bore": lambda: refused({"tube_od": [".2", ".2"], "sleeve_bore": [".2", ".2"], "bead": ".2"}),
    "refused: wall fills the bore": lambda: refused({"tube_od": ["1", "1"], "sleeve_od": ["1", "1"], "sleeve_wall": ".6"}),
    "refused: unknown member": lambda: refused({"tube_od": ["1.5", "1.5"], "sleeve_bore": ["1.63", "1.63"], "colour": 1}),
    "refused: no object": lambda: refused([]),
}  # fmt: skip


def test_pinned():
    assert not unlike("fit_measured", CASES)
