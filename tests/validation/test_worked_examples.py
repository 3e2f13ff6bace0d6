"""One full job for each method on a 1-5/8 x .120 in tube of 1020 DOM, worked out by hand line by line.

A line is a place in the result of `core.sizing.size`, the arithmetic, and what the arithmetic comes to on
paper. The test checks the paper against the arithmetic and the core against both. Every number here is
labelled hand: sums of sizes, of the rule's figures and of one root, with the paragraph it follows from
beside it. Paragraphs are of AC 43.13-1B (Change 1, 2001), chapter 4 section 5; 4-92, 4-94 and 4-97 read in
a public copy, 4-85, 4-95 and 4-96 from memory. See README.md.
"""

import math
import re
from pathlib import Path

import pytest

from core.sizing import size

STEEL = {"wall": ".120 in", "material": "dom-1020", "seam": "none"}
TUBE, SLEEVE, INNER = ({**STEEL, "od": od} for od in ("1-5/8 in", "1-7/8 in", "1-3/8 in"))
T = 3**0.5  # hand: tan 60 degrees = root 3 = 1.7320508; the figures draw 30 degrees to the axis, saw 60 from square
PI = math.pi

# Once around the tube where a 60 degree plane cuts it: an ellipse with the half axes 1.625/2 = .8125 and,
# as cos 60 = 1/2, .8125 x 2 = 1.625. hand: h = ((1.625 - .8125)/(1.625 + .8125))^2 = (1/3)^2 = 1/9;
# 2.4375 pi (1 + 3h/(10 + root(4 - 3h))), Ramanujan's second formula = 7.6576321 x 1.0279763 = 7.8718642
WELD = PI * 2.4375 * (1 + (1 / 3) / (10 + (11 / 3) ** 0.5))

# What a splice carries in axial load, kip, ASD, by AISC 360 from memory. hand: metal area
# pi (D - t) t; tube pi 1.505 x .120 = .5673716, 1-7/8 sleeve pi 1.755 x .120 = .6616194, 1-3/8 pi 1.255 x .120 = .4731239
TUBE_AREA, SLEEVE_AREA, INNER_AREA = PI * 1.505 * 0.12, PI * 1.755 * 0.12, PI * 1.255 * 0.12
# Fillet, one inch: weld metal .5 x .60 x 70 x .707 x .120 = 1.7816400; steel at its face .5 x .60 x 50 x .120 = 1.8 is more.
FILLET = 0.5 * 0.6 * 70 * 0.707 * 0.12
# Rosette 15/32: metal .5 x .60 x 70 x pi (15/32)^2 / 4 = 3.6240; wall .5 x .60 x 50 x pi (15/32) x .120 = 2.6507188 is less.
ROSETTE = 0.5 * 0.6 * 50 * PI * (15 / 32) * 0.12

TUBE_LOADS = [
    # Away from welds, 70 ksi: rupture 70 A / 2 = 19.8580 is under yield 60 A / 1.67 = 20.3846.
    ("strength.loads.axial.asd.parts.parent.value", 0.5 * 70 * TUBE_AREA, 19.8580072),
    # Beside the weld, normalised 35/50 ksi: yield 35 A / 1.67 = 11.8910 is under rupture 50 A / 2 = 14.1843.
    ("strength.loads.axial.asd.parts.parent-near-weld.value", 35 * TUBE_AREA / 1.67, 11.8910223),
]
OVER_THE_TUBE = [
    # 4-96 from memory, 4-97 read: up to 1/16 in on the diameter. 1.875 - 2 x .120 - 1.625 = 1.635 - 1.625
    ("clearance.nominal", 1.875 - 0.24 - 1.625, 0.0100000),
    # ASTM A513 type 5, bought by ID: tube up to .005 over, bore up to .006 under. .010 - .005 - .006
    ("clearance.worst_min", 0.010 - 0.005 - 0.006, -0.0010000),
    ("clearance.worst_max", 0.010, 0.0100000),
    # Bought by wall: .010 - 2 x .002 - .005 and .010 + .006 + 2 x .004
    ("clearance.by_wall_min", 0.010 - 2 * 0.002 - 0.005, 0.0010000),
    ("clearance.by_wall_max", 0.010 + 0.006 + 2 * 0.004, 0.0240000),
    # 4-85, from memory: about a quarter of the drilled tube. 1.875/4 = .46875 = 15/32 as it stands
    ("rosette.sizes.0.diameter", 1.875 / 4, 0.4687500),
    # common practice, no source: a quarter of the inner tube. 1.625/4 = .40625 = 13/32 as it stands
    ("rosette.sizes.1.diameter", 1.625 / 4, 0.4062500),
    # AISC 360 J2.3b, from memory: .120 + .3125 = .4325 = 6.92 sixteenths; the next odd one is 7
    ("rosette.sizes.2.diameter", 7 / 16, 0.4375000),
    ("weld_line", WELD, 7.8718642),
    *TUBE_LOADS,
    # One end, fillet and two rosettes: 7.8718642 x 1.7816400 + 2 x 2.6507188 = 14.0248281 + 5.3014376
    ("strength.loads.axial.asd.parts.end-weld.value", WELD * FILLET + 2 * ROSETTE, 19.3262657),
    # The drilled sleeve beside its weld: net area .6616194 - 2 x .46875 x .120 = .5491194, 50 ksi / 2
    ("strength.loads.axial.asd.parts.sleeve-near-weld.value", 0.5 * 50 * (SLEEVE_AREA - 2 * 0.46875 * 0.12), 13.7279853),
    # The lowest of the chain is the tube beside its weld: 11.8910223 / 19.8580072 = (35/1.67) / (70/2)
    ("strength.loads.axial.asd.ratio", (35 / 1.67) / 35, 0.5988024),
]

OUTER = {"method": "outer-sleeve", "tube": TUBE, "sleeve": SLEEVE, "end": "pointed", "mitre_deg": 60, "gap": "0 in", "kerf": "1/16 in"}
OUTER_LINES = [
    # 4-96, from memory: nearest end of the sleeve 1.5 D past the cut. 1.5 x 1.625
    ("overlap.required", 1.5 * 1.625, 2.4375000),
    # Pointed: the valley lies half the sleeve's OD x T behind the tips. .9375 x 1.7320508
    ("length.cut_depth", 0.9375 * T, 1.6237976),
    # Both sides: reach and cut depth. 2 x 2.4375 + 2 x 1.6237976 = 4.8750000 + 3.2475953
    ("length.rule", 2 * 2.4375 + 2 * 0.9375 * T, 8.1225953),
    # Shop shorthand, common practice, no source: D where Ds belongs. 4.875 + 1.625 x 1.7320508 = 4.875 + 2.8145826
    ("length.shorthand", 3 * 1.625 + 1.625 * T, 7.6895826),
    # ... which reaches, on the sleeve's outside, 7.6895826/2 - 1.6237976 = 3.8447913 - 1.6237976: short of 2.4375
    ("length.shorthand_overlap.sleeve_outside", (4.875 + 1.625 * T) / 2 - 0.9375 * T, 2.2209936),
    # Next 1/16 over 8.1225953: 129.96 sixteenths, so 130
    ("length.blank", 130 / 16, 8.1250000),
    ("length.bar_use", 8.125 + 1 / 16, 8.1875000),
    # On the bore the valley is 1.635/2 x T = 1.4159515 deep, on the tube's outside .8125 x T = 1.4072913:
    # half the rule length less that. 4.0612976 - 1.4159515 and 4.0612976 - 1.4072913
    ("overlap.sleeve_inside", 2.4375 + 0.9375 * T - 0.8175 * T, 2.6453461),
    ("overlap.weld_root", 2.4375 + 0.9375 * T - 0.8125 * T, 2.6540064),
    ("overlap.sleeve_outside", 2.4375, 2.4375000),
    *OVER_THE_TUBE,
    # Bending, ASD: one end's fillet as a square ring, two rosettes count nothing. 1.7816400 x pi .8125^2 = 1.7816400 x 2.0739420
    ("strength.loads.bending.asd.parts.end-weld.value", FILLET * PI * 0.8125**2, 3.6950181),
]

SECTION = {**OUTER, "gap": "1/32 in", "opening": "12 in", "replacement": "11-31/32 in"}
SECTION_LINES = [
    # 4-96, from memory: total gap up to 1/32 in. 12 - 11.96875
    ("replacement.total_gap", 12 - (11 + 31 / 32), 0.0312500),
    ("replacement.least", 12 - 1 / 32, 11.9687500),
    ("replacement.most", 12, 12.0000000),
    # The whole gap may gather at one joint: 4.875 + 1/32 + 3.2475953
    ("length.rule", 4.875 + 1 / 32 + 1.875 * T, 8.1538453),
    # Next 1/16: 130.46 sixteenths, so 131; with the kerf 8.1875 + .0625
    ("length.blank", 131 / 16, 8.1875000),
    ("length.bar_use", 131 / 16 + 1 / 16, 8.2500000),
    # The middle of each sleeve sits on its joint: half of 8.1875 to its tip
    ("replacement.sleeve_reach", 8.1875 / 2, 4.0937500),
    # Tip to tip on the piece: 11.96875 - 2 x 4.09375
    ("replacement.between_sleeves", 11 + 31 / 32 - 8.1875, 3.7812500),
    # 1/4 in to weld at each tip, common practice, no source: 8.1875 + .25 + .25
    ("replacement.least_for_two", 8.1875 + 0.5, 8.6875000),
    ("replacement.least_opening", 8.1875 + 0.5, 8.6875000),
    ("overlap.sleeve_outside", 2.4375, 2.4375000),
    *OVER_THE_TUBE,
]

INSIDE = {"method": "inner-sleeve", "tube": TUBE, "sleeve": INNER, "mitre_deg": 60, "gap": "1/8 in"}
INSIDE_LINES = [
    # 4-95, from memory: sleeve end 1.5 D past the nearest end of the diagonal cut. 1.5 x 1.625
    ("overlap.required", 1.5 * 1.625, 2.4375000),
    # One slant over the whole tube: 1.625 x 1.7320508
    ("stub_cut.depth", 1.625 * T, 2.8145826),
    # 1/8 in along the axis (4-95) is, square across the slant, 1/8 x cos 60
    ("stub_cut.gap_across", 0.125 / 2, 0.0625000),
    # Two reaches, the slant and the gap: 4.8750000 + 2.8145826 + .1250000
    ("length.rule", 2 * 2.4375 + 1.625 * T + 0.125, 7.8145826),
    # Next 1/16: 125.03 sixteenths, so 126
    ("length.blank", 126 / 16, 7.8750000),
    # Bore less sleeve: 1.625 - .240 - 1.375 (4-95: up to 1/16)
    ("clearance.nominal", 1.625 - 0.24 - 1.375, 0.0100000),
    # ASTM A513 type 5, both under 1.700 OD: .005 each. By ID .010 - .005 - .005; by wall .010 - 2 x .002 - .005 and .010 + .005 + 2 x .004
    ("clearance.worst_min", 0.010 - 0.005 - 0.005, 0.0000000),
    ("clearance.worst_max", 0.010, 0.0100000),
    ("clearance.by_wall_min", 0.010 - 2 * 0.002 - 0.005, 0.0010000),
    ("clearance.by_wall_max", 0.010 + 0.005 + 2 * 0.004, 0.0230000),
    ("wall_left", 0.120, 0.1200000),
    # The tube is drilled. 4-85: 1.625/4; shop: 1.375/4 = .34375 = 11/32; structural: .4325, the next odd sixteenth
    ("rosette.sizes.0.diameter", 1.625 / 4, 0.4062500),
    ("rosette.sizes.1.diameter", 1.375 / 4, 0.3437500),
    ("rosette.sizes.2.diameter", 7 / 16, 0.4375000),
    # Half of what the blank reaches: (7.875 - 2.8145826 - .125)/2 = 2.4677087, half of it
    ("rosette.from_cut", (7.875 - 1.625 * T - 0.125) / 4, 1.2338544),
    # ... less half of the largest hole, 7/32
    ("rosette.edge_room", (7.875 - 1.625 * T - 0.125) / 4 - 7 / 32, 1.0151044),
    ("weld_line", WELD, 7.8718642),
    TUBE_LOADS[0],
    # Beside the weld the tube is drilled: rupture of the net area, 50 x (.5673718 - 2 x .40625 x .120) / 2, is under yield 11.8910
    ("strength.loads.axial.asd.parts.parent-near-weld.value", 0.5 * 50 * (TUBE_AREA - 2 * 0.40625 * 0.12), 11.7467908),
    # Fillet of one end: 7.8718642 x 1.7816400. Two rosettes of 13/32, under the structural 7/16, count nothing
    ("strength.loads.axial.asd.parts.end-weld.value", WELD * FILLET, 14.0248281),
    # The thinner ring inside is the lowest: 35 x .4731239 / 1.67, against 19.8580072
    ("strength.loads.axial.asd.parts.sleeve-near-weld.value", 35 * INNER_AREA / 1.67, 9.9157694),
    ("strength.loads.axial.asd.ratio", 35 * INNER_AREA / 1.67 / (35 * TUBE_AREA), 0.4993336),
]

LARGER = {"method": "larger-tube", "tube": TUBE, "sleeve": SLEEVE, "end": "fishmouth", "mitre_deg": 60, "opening": "6 in",
          "stub_short": "5 in", "stub_long": "9 in"}  # fmt: skip
LARGER_LINES = [
    # 4-97, read: ends 1.5 D from the cut, short stub 2.5 D, long stub 4.5 D
    ("overlap.required", 1.5 * 1.625, 2.4375000),
    ("stubs.short_least", 2.5 * 1.625, 4.0625000),
    ("stubs.long_least", 4.5 * 1.625, 7.3125000),
    # Fishmouth: the crotch is nearest, the tips stand .9375 x 1.7320508 further out
    ("length.cut_depth", 0.9375 * T, 1.6237976),
    # Opening, two reaches, two tips: 6 + 4.8750000 + 3.2475953
    ("length.rule", 6 + 2 * 2.4375 + 2 * 0.9375 * T, 14.1225953),
    # Next 1/16: 225.96 sixteenths, so 226
    ("length.blank", 226 / 16, 14.1250000),
    # Pushed onto the long stub until its other end is level with the short stub's end: 14.125 - 6
    ("travel", 14.125 - 6, 8.1250000),
    # Centred, tips included: 8.125 / 2
    ("cover", (14.125 - 6) / 2, 4.0625000),
    # The two planes meet on the axis, so the crotch lies at the same place on every surface
    ("overlap.sleeve_outside", 2.4375, 2.4375000),
    ("overlap.sleeve_inside", 2.4375, 2.4375000),
    ("overlap.weld_root", 2.4375, 2.4375000),
    *OVER_THE_TUBE,
]

SPLIT = {"method": "split-sleeve", "tube": TUBE, "sleeve": SLEEVE, "damage": "crack", "damage_length": "1 in", "end": "scarf",
         "mitre_deg": 60, "kerf": "1/16 in"}  # fmt: skip
SPLIT_LINES = [
    # 4-92, read: 1.5 D past the damage at the near point, ends 30 degrees to the axis
    ("overlap.required", 1.5 * 1.625, 2.4375000),
    # One slant over the whole sleeve: 1.875 x 1.7320508
    ("length.cut_depth", 1.875 * T, 3.2475953),
    # Crack, two reaches, two slants: 1 + 4.8750000 + 6.4951905
    ("length.rule", 1 + 4.875 + 2 * 1.875 * T, 12.3701905),
    # Next 1/16: 197.92 sixteenths, so 198; with one saw cut 12.375 + .0625
    ("length.blank", 198 / 16, 12.3750000),
    ("length.bar_use", 198 / 16 + 1 / 16, 12.4375000),
    # Two slits take 2 x .0625 out of the bore's circumference, that over pi out of its diameter: .125 / 3.1415927
    ("slit.bore_lost", 0.125 / PI, 0.0397887),
    # 1.635 - .0397887, under the tube's 1.625: the halves do not close on the tube
    ("slit.closed_bore", 1.635 - 0.125 / PI, 1.5952113),
    # On the tube: (pi 1.625 - (pi 1.635 - .125))/2 = .0625 - pi .010/2 = .0625 - .0157080 at each seam
    ("slit.seam_gap", 0.0625 - PI * 0.01 / 2, 0.0467920),
    # Bore that would just close: 1.625 + .0397887
    ("slit.least_bore", 1.625 + 0.125 / PI, 1.6647887),
    # Long seams, half a turn apart: what one loses to the slants the other keeps. 2 x 12.375 - 2 x 3.2475953
    ("weld.seams_least", 2 * 12.375 - 2 * 1.875 * T, 18.2548095),
    ("weld.seams_most", 2 * 12.375 - 2 * 1.875 * T, 18.2548095),
    ("weld.each_end", WELD, 7.8718642),
    # 4-92: both seams and both ends. 18.2548095 + 2 x 7.8718642
    ("weld.total_most", 2 * 12.375 - 2 * 1.875 * T + 2 * WELD, 33.9985378),
    ("overlap.sleeve_outside", 2.4375, 2.4375000),
    # Half the rule length 6.1850953, less the tip 1.6237976, the half crack .5 and the valley 1.4159515 or 1.4072913
    ("overlap.sleeve_inside", 2.4375 + 0.9375 * T - 0.8175 * T, 2.6453461),
    ("overlap.weld_root", 2.4375 + 0.9375 * T - 0.8125 * T, 2.6540064),
]

PATCH = {"method": "patch", "tube": TUBE, "patch": {"wall": ".134 in", "material": "dom-1020"}, "damage": "dent", "depth": "1/8 in",
         "damage_length": "1 in", "around": "3/4 in", "margin": "1/2 in",
         "middle_third": "no", "over_joint": "no", "sharp_corners": "no", "can_reform": "yes"}  # fmt: skip
PATCH_LINES = [
    # 4-94, read: dent up to D/10 deep, D long, a quarter of the way around. 1.625/10, 1.625, pi 1.625/4
    ("limits.depth", 1.625 / 10, 0.1625000),
    ("limits.length", 1.625, 1.6250000),
    ("limits.around", PI * 1.625 / 4, 1.2762720),
    # 4-94: one gauge thicker. .120 is 11 gauge (BWG), 10 gauge is .134
    ("wall.next_gauge", 0.134, 0.1340000),
    # The damage alone: 1 by 3/4, flat 3/4 x (1 + .134/1.625) = .75 x 1.0824615
    ("outline.least.length", 1, 1.0000000),
    ("outline.least.around", 0.75, 0.7500000),
    ("outline.least.flat_width", 0.75 * (1 + 0.134 / 1.625), 0.8118462),
    # With the person's own 1/2 in on every side: 1 + 1, .75 + 1, flat 1.75 x 1.0824615
    ("outline.patch.length", 1 + 2 * 0.5, 2.0000000),
    ("outline.patch.around", 0.75 + 2 * 0.5, 1.7500000),
    ("outline.patch.flat_width", 1.75 * (1 + 0.134 / 1.625), 1.8943077),
    # 1.75 of pi 1.625 = 5.1050881 once around: 360 x .3427954
    ("outline.patch.angle_deg", 360 * 1.75 / (PI * 1.625), 123.4062943),
    ("length.blank", 2, 2.0000000),
]

EXAMPLES = {
    "outer-sleeve": (OUTER, OUTER_LINES, "8-1/8 in"), "two-outer-sleeves": (SECTION, SECTION_LINES, "8-3/16 in"),
    "inner-sleeve": (INSIDE, INSIDE_LINES, "7-7/8 in"), "larger-tube": (LARGER, LARGER_LINES, "14-1/8 in"),
    "split-sleeve": (SPLIT, SPLIT_LINES, "12-3/8 in"), "patch": (PATCH, PATCH_LINES, "2 in"),
}  # fmt: skip
LINES = [(name, *line) for name, (_, lines, _) in EXAMPLES.items() for line in lines]


def place(found, path):
    for part in path.split("."):
        found = found[int(part) if isinstance(found, list) else part]
    return found["in"] if isinstance(found, dict) else found


@pytest.fixture(scope="module")
def sized():
    return {name: size(job) for name, (job, _, _) in EXAMPLES.items()}


@pytest.mark.parametrize(("name", "path", "arithmetic", "paper"), LINES, ids=[f"{line[0]}:{line[1]}" for line in LINES])
def test_a_line_of_the_arithmetic(sized, name, path, arithmetic, paper):
    assert arithmetic == pytest.approx(paper, abs=5.1e-8)
    assert place(sized[name], path) == pytest.approx(arithmetic, abs=2e-8)


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_is_read_off_the_ruler_and_that_no_rule_is_missed(sized, name):
    assert sized[name]["length"]["blank"]["text"] == EXAMPLES[name][2]  # hand: the sixteenths counted above
    assert [check["id"] for check in sized[name]["checks"] if check["verdict"] == "not met"] == []


@pytest.mark.parametrize(
    ("name", "path", "reach"),
    [
        # hand: half the blank less the valley and half the gap, opening or crack; for every one 2.4375 are needed.
        ("outer-sleeve", "overlap.sleeve_outside", 8.125 / 2 - 0.9375 * T),  # 4.0625000 - 1.6237976 = 2.4387024
        ("two-outer-sleeves", "overlap.sleeve_outside", 8.1875 / 2 - 0.9375 * T - 1 / 64),  # 4.0937500 - 1.6237976 - .0156250 = 2.4543274
        ("inner-sleeve", "overlap.given", (7.875 - 1.625 * T - 0.125) / 2),  # (7.875 - 2.8145826 - .125)/2 = 2.4677087
        ("larger-tube", "overlap.sleeve_outside", (14.125 - 6) / 2 - 0.9375 * T),  # 4.0625000 - 1.6237976 = 2.4387024
        ("split-sleeve", "overlap.sleeve_outside", (12.375 - 1) / 2 - 1.875 * T),  # 5.6875000 - 3.2475953 = 2.4399047
    ],
)  # fmt: skip
def test_the_blank_as_cut_keeps_the_reach_the_rule_asks_for(name, path, reach):
    made = size({**EXAMPLES[name][0], "length": EXAMPLES[name][2]})
    assert place(made, path) == pytest.approx(reach, abs=1e-9)
    assert reach >= 2.4375


@pytest.mark.parametrize(
    ("name", "length", "gap", "edge"),
    [
        # hand: metal's end b radians from the tip, on the outside. Pointed falls off by .9375 T |sin b|, fishmouth by .9375 T (1 - |cos b|).
        ("outer-sleeve", 8.125, 0.0, lambda b: 0.9375 * T * abs(math.sin(b))),
        ("two-outer-sleeves", 8.1875, 1 / 32, lambda b: 0.9375 * T * abs(math.sin(b))),
        ("larger-tube", 14.125, 6.0, lambda b: 0.9375 * T * (1 - abs(math.cos(b)))),
    ],
)  # fmt: skip
def test_each_hole_is_as_far_from_the_edge_as_from_the_stub_end(sized, name, length, gap, edge):
    # common practice, no source: on the line of each tip, in the middle of what is there.
    hole = sized[name]["rosette"]["stations"][0]
    x, room = hole["from_middle"]["in"], hole["edge_room"]["in"]
    to_edge = min(math.hypot(length / 2 - edge(b / 5000) - x, 0.9375 * b / 5000) for b in range(-15000, 15001))
    assert to_edge == pytest.approx(x - gap / 2, abs=1e-6)
    assert hole["from_tip"]["in"] == pytest.approx(length / 2 - x, abs=1e-9)
    assert room == pytest.approx(x - gap / 2 - 15 / 64, abs=1e-9)  # hand: less half of the largest hole, 15/32
    assert sized[name]["rosette"]["per_end"] == 2


def test_the_short_form_for_contributors_says_the_same():
    text = (Path(__file__).resolve().parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
    section = text.partition("\n## Worked examples\n")[2].partition("\n## ")[0]
    said = re.findall(r"= (\d+\.\d{4})\b", section)
    assert len(said) > 15
    assert set(said) <= {f"{paper:.4f}" for *_, paper in LINES}
