"""Welded patch over a small dent or hole. AC 43.13-1B 4-94 (read; middle third and joints from memory)."""

from __future__ import annotations

from core.checklists import common as shared
from core.checklists.model import PRACTICE, Group, Hold, Step, Timer

METHOD = "patch"
VERSION = "patch 1"
TITLE = "Welded patch"
CLAUSE = "AC 43.13-1B 4-94"

GROUPS = (
    shared.PREPARE_CAR,
    Group("judge", "Judge and measure", (
        shared.ASK_RULES,
        shared.LOOK_AWAY,
        shared.NOT_TREATED,
        shared.NO_OLD_WELD,
        shared.MATERIAL,
        shared.LINE_BEFORE,
    )),
    Group("damage", "Measure the damage", (
        Step("no-crack", "Look for cracks and sharp corners in the dent. If found, stop: no patch.",
             skippable=False, basis=CLAUSE),
        Step("middle-third", "Check that no part of the patch falls in the middle third of the tube.",
             skippable=False, basis="AC 43.13-1B 4-94 (from memory)"),
        Step("no-joint", "Check that the patch does not cover a joint.", skippable=False,
             basis="AC 43.13-1B 4-94 (from memory)"),
        Step("damage-length", "Measure the damage along the tube.",
             hold=Hold("in", "at most", "od", "Length of the dent or hole"), basis=CLAUSE),
        Step("damage-round", "Measure the damage round the tube with a tape.",
             hold=Hold("in", "at most", "quarter_round", "Width of the dent or hole round the tube"), basis=CLAUSE),
        Step("damage-depth", "Measure the depth of the dent. For a clean hole type 0.",
             hold=Hold("in", "at most", "tenth_od", "Depth of the dent"), basis=CLAUSE),
    )),
    Group("make-patch", "Make the patch", (
        Step("patch-stock", "Take the patch stock: {sleeve}. Same material as the tube.", basis=CLAUSE),
        Step("heat-number", "Write its heat number on the stock and on the offcut before you cut."),
        Step("patch-wall", "Measure the wall of the patch. It must be one gauge thicker than the tube.",
             hold=Hold("in", "at least", "patch_wall", "Wall of the patch", role="wall"), basis=CLAUSE),
        Step("cut-patch", "Cut the patch to the drawing: {blank_length}.", cautions=(shared.GRINDING,)),
        Step("form-patch", "Form the patch until it lies on the tube all round."),
        Step("deburr", "Deburr the edges. Round the corners."),
    )),
    Group("prepare-tube", "Prepare the tube", (
        Step("brace", "Brace the frame across the damage.", why="Heat moves the frame."),
        Step("reform", "Work the dent back to shape. If it cracks, stop: no patch.", basis=CLAUSE),
        shared.STRIP,
        shared.BRIGHT,
        shared.VENT,
        shared.LINE_FIT,
    )),
    shared.get_ready("Tack the patch at its four corners."),
    Group("weld", "Weld the patch", (
        Step("lie", "Check that the patch still lies on the tube all round."),
        Step("first-end", "Weld one half of the edge.", basis=f"order: {PRACTICE}"),
        Step("first-cool", "Stop. Let it cool completely. Touch test: no warmth.",
             cautions=(shared.HOT_METAL, shared.CHROMOLY),
             timer=Timer(shared.COOL_SECONDS, "Reminder; the touch test decides"), skippable=False),
        Step("second-end", "Weld the other half. Close the weld all round.", basis=CLAUSE),
        Step("second-craters", "Fill the craters. Look for cracks while you can still reach."),
    )),
    shared.INSPECT,
    shared.FINISH,
)  # fmt: skip
