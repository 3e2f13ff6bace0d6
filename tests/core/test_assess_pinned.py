"""Pinned: every text of an assessment: rules met, not met and not yet known, questions, notes, refusals."""

from core.assess import METHODS, assess
from core.assess_input import LENGTHS, QUESTIONS
from tests.core.pinning import refusal, unlike

TUBE = {"od": "2 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}
LENGTH_MEMBERS = {"depth": ".1 in", "damage_length": "1 in", "around": "1 in", "room_left": "12 in", "room_right": "12 in"}
GOOD = {"tube": TUBE, "known_by": "certificate", "damage": "dent", "od_readings": ["2.010 in", "1.990 in"],
        **dict.fromkeys(QUESTIONS, "no"), "can_reform": "yes", **LENGTH_MEMBERS}  # fmt: skip
BAD = {**GOOD, "known_by": "assumption", "od_readings": [], **dict.fromkeys(QUESTIONS, "yes"), "can_reform": "no",
       "depth": ".3 in", "damage_length": "3 in", "around": "3 in", "room_left": "1 in", "room_right": "2 in"}  # fmt: skip
OPEN = {"tube": TUBE, "damage": "dent"}


def rows(found):
    """The parts of an assessment that are worded by what was found."""
    keys = ("key", "name", "about", "clause", "standing")
    return {"tube": found["tube"], "stops": found["stops"], "notes": found["notes"], "ask": found["measure_next"],
            "methods": [{**{key: method[key] for key in keys}, "checks": method["checks"]} for method in found["methods"]]}  # fmt: skip


def fixed(found):
    """The parts that are the same for every tube."""
    return {"look": found["look"], "sources": found["sources"], "deference": found["deference"], "keys": " ".join(found)}


CASES = {
    "all met": lambda: rows(assess(GOOD)),
    "none met": lambda: rows(assess(BAD)),
    "nothing known": lambda: rows(assess(OPEN)),
    "one side known, millimetres": lambda: rows(assess({**GOOD, "units": "mm", "damage": "cut-out", "room_left": "", "room_right": "300 mm"})),
    "the same for every tube": lambda: fixed(assess(GOOD)),
    "methods": lambda: [f"{method.key}: {', '.join(method.damage)}" for method in METHODS],
    "questions": lambda: {**QUESTIONS, **LENGTHS},
    "refused: member without a sheet": lambda: refusal(lambda: assess({**OPEN, "member": "main hoop"})),
}


def test_pinned():
    assert not unlike("assess", CASES)
