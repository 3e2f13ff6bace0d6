"""Split sleeve over a dent, bend or crack in a bay. AC 43.13-1B 4-92 (read)."""

from __future__ import annotations

from fractions import Fraction

from core.checklists import common as shared
from core.checklists.model import PRACTICE, Caution, Group, Hold, Step, Timer

METHOD = "split-sleeve"
VERSION = "split-sleeve 1"
TITLE = "Split sleeve reinforcement"
CLAUSE = "AC 43.13-1B 4-92"
ROD = Caution("Filling the dent with rod instead of a sleeve is not acceptable to the circular.", CLAUSE)

GROUPS = (
    shared.PREPARE_CAR,
    Group("judge", "Judge and measure", (
        shared.ASK_RULES,
        shared.LOOK_AWAY,
        shared.NOT_TREATED,
        shared.NO_OLD_WELD,
        shared.MATERIAL,
        Step("crack-ends", "Find both ends of every crack. Strong light and a lens.",
             why="A crack that runs into a joint is another repair."),
        shared.LINE_BEFORE,
    )),
    Group("make-sleeve", "Cut and make the sleeve", (
        Step("sleeve-stock", "Take the sleeve stock: {sleeve}. Same material. Wall no thinner.",
             why="Its inside is about the tube's outside.", basis=CLAUSE),
        Step("heat-number", "Write its heat number on the bar and on the offcut before you cut."),
        Step("blank", "Cut the sleeve blank to length: {blank_length}.", cautions=(shared.GRINDING,)),
        Step("end-shape", "Cut both ends 30° to the tube. Saw mitre from square: {mitre}.", basis=CLAUSE),
        Step("split", "Saw the sleeve in two along its length. Mark the halves.", basis=CLAUSE),
        Step("deburr", "Deburr every edge. Bevel the two long seams for weld.", basis=f"bevel: {PRACTICE}"),
    )),
    Group("prepare-tube", "Prepare the tube", (
        Step("brace", "Brace the frame across the damage.", why="Heat and straightening move the frame."),
        Step("straighten", "Straighten the tube. Look for new cracks.", cautions=(ROD,), basis=CLAUSE),
        shared.STRIP,
        shared.BRIGHT,
        Step("stop-drill", "Drill a No. 40 hole (0.098 in) at each end of every crack.",
             why="The hole stops the crack. No crack: skip and say so.",
             hold=Hold("in", "between", Fraction(98, 1000), "Size of the drill used (No. 40 is .098 in)", high=Fraction(1, 8),
                       role="diameter"),
             basis=f"{CLAUSE} for No. 40; the upper limit 1/8 in is {PRACTICE}"),
        shared.VENT,
        Step("mark-reach", "Mark the reach past the damage on both sides: {overlap}.", basis=CLAUSE),
    )),
    Group("fit-up", "Fit up", (
        Step("clamp-halves", "Clamp both halves round the tube over the damage."),
        Step("seat", "Check that the halves sit on the tube all round."),
        Step("seams", "Turn the seams where you can reach both."),
        Step("overlap", "Measure the reach past the damage on both sides, nearest metal.",
             hold=Hold("in", "at least", "overlap", "Shorter reach of the two sides"), basis=CLAUSE),
        shared.LINE_FIT,
    )),
    shared.get_ready("Tack the halves together and to the tube."),
    Group("weld", "Weld seams and ends", (
        Step("first-seam", "Weld one long seam.", basis=f"{CLAUSE}; order: {PRACTICE}"),
        Step("second-seam", "Weld the other long seam.", basis=f"{CLAUSE}; order: {PRACTICE}"),
        Step("first-end", "Weld one end all round.", basis=CLAUSE),
        Step("first-cool", "Stop. Let this end cool completely. Touch test: no warmth.",
             cautions=(shared.HOT_METAL, shared.CHROMOLY),
             timer=Timer(shared.COOL_SECONDS, "Reminder; the touch test decides"), skippable=False),
        Step("second-end", "Weld the other end all round.", basis=CLAUSE),
        Step("second-craters", "Fill the craters. Look for cracks while you can still reach."),
    )),
    shared.INSPECT,
    shared.FINISH,
)  # fmt: skip
