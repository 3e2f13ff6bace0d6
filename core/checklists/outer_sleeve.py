"""Outer sleeve splice, from the car on stands to the tag. AC 43.13-1B 4-96 (from memory)."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from core.checklists import common as shared
from core.checklists.model import Caution, Group, Hold, Step, Timer

METHOD = "outer-sleeve"
VERSION = "outer-sleeve 1"
TITLE = "Outer sleeve splice"
CLAUSE = "AC 43.13-1B 4-96 (from memory)"
ROSETTE = "AC 43.13-1B 4-85 (from memory)"
LAST_RESORT = Caution(
    "The circular keeps the outer sleeve for places where other repairs do not suit: it takes most welding.", CLAUSE
)

GROUPS = (
    shared.PREPARE_CAR,
    Group("judge", "Judge and measure", (
        replace(shared.ASK_RULES, cautions=(LAST_RESORT,)),
        shared.LOOK_AWAY,
        shared.NOT_TREATED,
        shared.NO_OLD_WELD,
        shared.MATERIAL,
        Step("room", "Check the room, clear of joints and tabs. Length each sleeve needs: {rule_length}.", basis=CLAUSE),
        shared.LINE_BEFORE,
    )),
    Group("make-sleeve", "Cut and make the sleeve", (
        Step("sleeve-stock", "Take the sleeve stock: {sleeve}. Same material. Wall no thinner.",
             why="A thinner wall needs the inspector's agreement on the record.", basis=CLAUSE),
        Step("heat-number", "Write its heat number on the bar and on the offcut before you cut."),
        Step("clearance", "Measure the sleeve inside and the tube outside. Take one from the other.",
             why="A sleeve that is loose leaves the weld a gap to bridge.",
             hold=Hold("in", "at most", Fraction(1, 16), "Sleeve inside minus tube outside, diameters"), basis=CLAUSE),
        Step("blank", "Cut the sleeve blank to length: {blank_length}.", cautions=(shared.GRINDING,)),
        Step("end-shape", "Cut both ends. Shape: {end_shape}. Saw mitre from square: {mitre}.",
             why="A fishmouth wherever it can be had.", basis=CLAUSE),
        Step("crotch", "File each fishmouth crotch to a radius with a small round file.",
             why="A sharp crotch starts a crack.", basis="AC 43.13-1B 4-97"),
        Step("sleeve-length", "Measure the finished sleeve tip to tip along its outside.",
             why="Short on this line, the reach past the cut is short.",
             hold=Hold("in", "at least", "rule_length", "Longest line on the outside of the shorter sleeve"),
             basis=CLAUSE),
        Step("rosettes", "Drill the rosette holes in the sleeve only: {hole_diameter}. Pilot first.",
             why="A pilot keeps the hole round. Tight sleeves may go without.", basis=ROSETTE),
        Step("deburr", "Deburr holes and ends, inside too. The sleeve must slide on the tube."),
    )),
    Group("prepare-tube", "Prepare the tube", (
        Step("brace", "Brace the frame across the damage before you cut.", why="A cut tube lets the frame move."),
        Step("cut-out", "Cut the damage out, square to the tube, past every crack.", cautions=(shared.GRINDING,),
             basis=CLAUSE),
        Step("square-ends", "File the stub ends square. Deburr inside and outside.", basis=CLAUSE),
        Step("replacement", "Cut the replacement: {tube}. Same material and diameter, wall no thinner.",
             basis=CLAUSE),
        shared.STRIP,
        shared.BRIGHT,
        shared.VENT,
        Step("mark-reach", "Mark the reach on each stub, back from its cut: {overlap}.", why="The sleeve's nearest metal passes it.",
             basis=CLAUSE),
    )),
    Group("fit-up", "Fit up", (
        Step("slide-on", "Slide the sleeves on, clear of the cuts."),
        Step("bear", "Set the tube ends in line, touching all round.", why="The replacement bears on the stubs.",
             basis=CLAUSE),
        Step("gap", "Measure the gap at every cut. Add them up.", why="The tube ends carry load, not only the weld.",
             hold=Hold("in", "at most", Fraction(1, 32), "Total gap"), basis=CLAUSE),
        Step("centre", "Slide each sleeve over its cut, tips on the drawing's line."),
        Step("overlap", "Measure the reach past the cut at every sleeve end, nearest metal.",
             why="Nearest metal is the crotch of a fishmouth, the valley of a pointed end.",
             hold=Hold("in", "at least", "overlap", "Shortest reach of all the ends"), basis=CLAUSE),
        shared.LINE_FIT,
    )),
    shared.get_ready("Tack each sleeve in two places.", CLAUSE),
    Group("weld", "Weld, one sleeve at a time", (
        Step("first-rosettes", "Fill the rosettes of the first sleeve.",
             why="No order is published for rosettes.", basis="order: common practice, no source"),
        Step("first-end", "Weld one end of the first sleeve all round.", basis=CLAUSE),
        Step("first-other-end", "Weld the other end of the same sleeve all round.", basis=CLAUSE),
        Step("first-craters", "Fill the craters. Look for cracks while you can still reach."),
        Step("first-cool", "Stop. Let this sleeve cool completely. Touch test: no warmth.",
             why="Heat from both sleeves at once pulls the frame.", cautions=(shared.HOT_METAL, shared.CHROMOLY),
             timer=Timer(shared.COOL_SECONDS, "Reminder; the touch test decides"), skippable=False, basis=CLAUSE),
        Step("second-rosettes", "Fill the rosettes of the second sleeve.", basis="order: common practice, no source"),
        Step("second-end", "Weld one end of the second sleeve all round.", basis=CLAUSE),
        Step("second-other-end", "Weld the other end of the second sleeve all round.", basis=CLAUSE),
    )),
    shared.INSPECT,
    shared.FINISH,
)  # fmt: skip

# Steps that fall away when the plan has one sleeve, or an end without a crotch.
SECOND_SLEEVE = frozenset({"replacement", "second-rosettes", "second-end", "second-other-end"})
FISHMOUTH = frozenset({"crotch"})
