"""Larger-diameter replacement tube. AC 43.13-1B 4-97 (read)."""

from __future__ import annotations

from fractions import Fraction

from core.checklists import common as shared
from core.checklists.model import Group, Hold, Step, Timer

METHOD = "larger-tube"
VERSION = "larger-tube 1"
TITLE = "Larger-diameter replacement tube"
CLAUSE = "AC 43.13-1B 4-97"

GROUPS = (
    shared.PREPARE_CAR,
    Group("judge", "Judge and measure", (
        shared.ASK_RULES,
        shared.LOOK_AWAY,
        shared.NOT_TREATED,
        shared.NO_OLD_WELD,
        shared.MATERIAL,
        Step("no-bracket", "Check for clusters and brackets that need the old diameter. If found, stop.",
             basis=CLAUSE),
        shared.LINE_BEFORE,
    )),
    Group("make-tube", "Cut and make the replacement", (
        Step("sleeve-stock", "Take the replacement stock: {sleeve}. Same material. Wall no thinner.",
             why="A thinner wall needs the inspector's agreement on the record."),
        Step("heat-number", "Write its heat number on the bar and on the offcut before you cut."),
        Step("clearance", "Measure the new tube inside and the old outside. Take one from the other.",
             hold=Hold("in", "at most", Fraction(1, 16), "New inside minus old outside, diameters"), basis=CLAUSE),
        Step("blank", "Cut the replacement to length: {blank_length}.", cautions=(shared.GRINDING,)),
        Step("end-shape", "Cut both ends. Shape: {end_shape}. Saw mitre from square: {mitre}.",
             why="A fishmouth wherever it can be had.", basis=CLAUSE),
        Step("crotch", "File each fishmouth crotch to a radius with a small round file.",
             why="A sharp crotch starts a crack.", basis=CLAUSE),
        Step("deburr", "Deburr inside and outside. It must slide on the stubs."),
    )),
    Group("prepare-tube", "Prepare the stubs", (
        Step("brace", "Brace the frame across the damage before you cut.", why="A cut tube lets the frame move."),
        Step("cut-out", "Cut the damage out, square to the tube, past every crack.", cautions=(shared.GRINDING,),
             basis=CLAUSE),
        Step("short-stub", "Measure the short stub from its joint to the cut.",
             hold=Hold("in", "at least", "short_stub", "Length of the short stub"), basis=f"{CLAUSE} (2.5 D)"),
        Step("long-stub", "Measure the long stub from its joint to the cut.",
             hold=Hold("in", "at least", "long_stub", "Length of the long stub"), basis=f"{CLAUSE} (4.5 D)"),
        Step("square-ends", "File the stub ends square. Deburr inside and outside.", basis=CLAUSE),
        shared.STRIP,
        shared.BRIGHT,
        shared.VENT,
        Step("mark-reach", "Mark the reach on each stub, back from its cut: {overlap}.", basis=CLAUSE),
    )),
    Group("fit-up", "Fit up", (
        Step("slide-on", "Slide the replacement all the way onto the long stub.",
             basis="AC 43.13-1B 4-97 (from memory)"),
        Step("bear", "Set the stubs in line. Slide the replacement back over the short stub.",
             basis="AC 43.13-1B 4-97 (from memory)"),
        Step("overlap", "Measure the reach past each cut, nearest metal.",
             why="Nearest metal is the crotch of a fishmouth.",
             hold=Hold("in", "at least", "overlap", "Shorter reach of the two ends"), basis=CLAUSE),
        Step("centre", "Turn the replacement until its tips are on the drawing's line."),
        shared.LINE_FIT,
    )),
    shared.get_ready("Tack each end in two places."),
    Group("weld", "Weld, one end at a time", (
        Step("first-end", "Weld one end all round.", basis=CLAUSE),
        Step("first-craters", "Fill the crater. Look for cracks while you can still reach."),
        Step("first-cool", "Stop. Let this end cool completely. Touch test: no warmth.",
             why="Heat at both ends at once pulls the frame.", cautions=(shared.HOT_METAL, shared.CHROMOLY),
             timer=Timer(shared.COOL_SECONDS, "Reminder; the touch test decides"), skippable=False, basis=CLAUSE),
        Step("second-end", "Weld the other end all round.", basis=CLAUSE),
        Step("second-craters", "Fill the crater. Look for cracks while you can still reach."),
    )),
    shared.INSPECT,
    shared.FINISH,
)  # fmt: skip

FISHMOUTH = frozenset({"crotch"})
