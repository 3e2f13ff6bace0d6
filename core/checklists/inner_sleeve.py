"""Inner sleeve splice. AC 43.13-1B 4-95 (gap and diameter difference read, the rest from memory)."""

from __future__ import annotations

from fractions import Fraction

from core.checklists import common as shared
from core.checklists.model import PRACTICE, Group, Hold, Step, Timer

METHOD = "inner-sleeve"
VERSION = "inner-sleeve 1"
TITLE = "Inner sleeve splice"
CLAUSE = "AC 43.13-1B 4-95 (from memory)"
READ = "AC 43.13-1B 4-95"

GROUPS = (
    shared.PREPARE_CAR,
    Group("judge", "Judge and measure", (
        shared.ASK_RULES,
        shared.LOOK_AWAY,
        shared.NOT_TREATED,
        shared.NO_OLD_WELD,
        shared.MATERIAL,
        Step("seam", "Feel inside the tube for a weld bead. A bead stops an inner sleeve.",
             why="Electric-welded tube often has one."),
        shared.LINE_BEFORE,
    )),
    Group("make-sleeve", "Cut and make the sleeve", (
        Step("sleeve-stock", "Take the sleeve stock: {sleeve}. Same material. Wall no thinner.",
             why="A thinner wall needs the inspector's agreement on the record.", basis=CLAUSE),
        Step("heat-number", "Write its heat number on the bar and on the offcut before you cut."),
        Step("clearance", "Measure the tube inside and the sleeve outside. Take one from the other.",
             hold=Hold("in", "at most", Fraction(1, 16), "Tube inside minus sleeve outside, diameters"), basis=READ),
        Step("blank", "Cut the sleeve to length: {blank_length}.", cautions=(shared.GRINDING,)),
        Step("deburr", "Deburr the ends. The sleeve must slide in the tube."),
        Step("mark-middle", "Scribe a line round the middle of each sleeve."),
    )),
    Group("prepare-tube", "Prepare the tube", (
        Step("brace", "Brace the frame across the damage before you cut.", why="A cut tube lets the frame move."),
        Step("cut-out", "Cut the damage out on the slant, 30° to the tube, past every crack.",
             cautions=(shared.GRINDING,), basis=CLAUSE),
        Step("replacement", "Cut the replacement on the same slant: {tube}. Leave 1/8 in at each cut.",
             why="Same material and diameter, wall no thinner.", basis=READ),
        Step("square-ends", "Deburr the cut ends inside and outside."),
        shared.STRIP,
        shared.BRIGHT,
        shared.VENT,
    )),
    Group("fit-up", "Fit up", (
        Step("slide-in", "Slide the sleeves all the way into the replacement."),
        Step("bear", "Set the replacement in line between the stubs.", basis=CLAUSE),
        Step("centre", "Draw each sleeve out until its middle line shows in the cut."),
        Step("gap", "Measure the gap at each cut.", why="The weld goes through the gap into the sleeve.",
             hold=Hold("in", "between", Fraction(3, 32), "Gap furthest from 1/8 in", high=Fraction(5, 32)),
             basis=f"{READ} for 1/8 in; 1/32 in each way is {PRACTICE}"),
        Step("overlap", "Measure the reach of each sleeve past the nearest end of its slanted cut.",
             hold=Hold("in", "at least", "overlap", "Shortest reach of all the ends"), basis=CLAUSE),
        shared.LINE_FIT,
    )),
    shared.get_ready("Tack each cut in two places, or more if it moves."),
    Group("weld", "Weld, one cut at a time", (
        Step("first-gap", "Weld the first gap all round, down into the sleeve.", basis=CLAUSE),
        Step("first-craters", "Fill the crater. Look for cracks while you can still reach."),
        Step("first-cool", "Stop. Let this weld cool completely. Touch test: no warmth.",
             cautions=(shared.HOT_METAL, shared.CHROMOLY),
             timer=Timer(shared.COOL_SECONDS, "Reminder; the touch test decides"), skippable=False),
        Step("second-gap", "Weld the second gap all round, down into the sleeve.", basis=CLAUSE),
        Step("second-craters", "Fill the crater. Look for cracks while you can still reach."),
    )),
    shared.INSPECT,
    shared.FINISH,
)  # fmt: skip
