"""Which repair methods the circular leaves open for a damaged tube, and why not the others.

Lengths in inches.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from core.assess_input import LENGTHS, QUESTIONS, Findings, read_findings
from core.quantity import fine_text
from core.rules import DEFERENCE, Check, clause, verdict
from core.shop_rules import RuleSheet, member_checks
from core.sleeve import EndCut

# Room past the sleeve for the weld and the torch's first inch; a usual size until measured.
WELD_ROOM = 0.25
USUAL_SLEEVE_STEP = 0.25
SPLICES = ("outer-sleeve", "inner-sleeve", "larger-tube")


@dataclass(frozen=True)
class Method:
    """One way to repair: its name, its clause, what it is for, and its rules in order."""

    key: str
    name: str
    clause_key: str
    about: str
    damage: tuple[str, ...]
    rules: tuple[Callable[[Findings, Method], Check], ...]

    @property
    def reference(self) -> str:
        """The clause as printed beside a verdict."""
        return clause(self.clause_key).label()


def _yes_no(name: str, wanted: bool, clause_key: str, met: str, not_met: str):
    """Return a rule on a yes/no fact."""
    words = {True: "yes", False: "no", None: "not looked at"}

    def rule(found: Findings, method: Method) -> Check:
        answer = found.answers[name]
        outcome = None if answer is None else answer is wanted
        text = {True: met, False: not_met, None: f"Look first. {QUESTIONS[name]}"}[outcome]
        return Check(name, clause(clause_key).label(), words[answer], words[wanted], verdict(outcome), text)

    return rule


def _at_most(name: str, limit: Callable[[Findings], float], words: str, not_met: str):
    """Return a rule on a measured length with an upper limit, limit included."""

    def rule(found: Findings, method: Method) -> Check:
        value, most = found.inches(name), limit(found)
        outcome = None if value is None else value <= most + 1e-9
        text = {True: "Inside the limit.", False: not_met, None: f"Measure first. {LENGTHS[name]}"}[outcome]
        given = "not measured" if value is None else found.lengths[name].typed
        return Check(name, method.reference, given, f"at most {fine_text(most, found.metric, 'down')} ({words})", verdict(outcome), text)

    return rule


def _room(side: str, need: Callable[[Findings], float], words: str):
    """Return a rule on the room to the nearest joint, bend, tab or old weld on one side."""
    name = f"room_{side}"

    def rule(found: Findings, method: Method) -> Check:
        value, least = found.inches(name), need(found)
        outcome = None if value is None else value >= least - 1e-9
        text = {True: "There is room on this side.", False: f"No room on the {side} for this method.", None: f"Measure first. {LENGTHS[name]}"}[outcome]
        given = "not measured" if value is None else found.lengths[name].typed
        return Check(name, method.reference, given, f"at least {fine_text(least, found.metric, 'up')} ({words})", verdict(outcome), text)

    return rule


def _damage_kind(found: Findings, method: Method) -> Check:
    met = found.damage in method.damage
    text = "The method is for this kind of damage." if met else f"The method is for {_or(method.damage)}, not for a {found.damage}."
    return Check("damage", method.reference, found.damage, _or(method.damage), verdict(met), text)


def _or(words: Iterable[str]) -> str:
    *first, last = words
    return f"{', '.join(first)} or {last}" if first else last


def splice_room(found: Findings) -> float:
    """Return the room a tube slid over the stub needs on each side of the cut, inches.

    room = 1.5 D + (D + 1/4) T / 2 + 1/4: the reach past the cut, half the run of a 60 degree pointed
    or fishmouth end on a sleeve 1/4 in larger than the tube, and 1/4 in for the weld at its tip.

    Parameters
    ----------
    found : Findings
        Tube outside diameter 0.25 to 6 in.

    Returns
    -------
    float
        Inches, from the stub's end to the nearest joint, bend, tab or old weld.

    Source: AC 43.13-1B 4-96 (from memory) for 1.5 D, 4-92 and 4-97 the same; weld room common practice, no source.

    >>> round(splice_room(read_findings({"tube": {"od": "2 in", "wall": ".120 in", "material": "dom-1020"}, "damage": "hole"})), 4)
    5.1986
    """
    return 1.5 * found.D + EndCut("pointed", 60).depth((found.D + USUAL_SLEEVE_STEP) / 2) + WELD_ROOM


def _inner_room(found: Findings) -> float:
    """Return 1.5 D past the end of the cut plus the diagonal's run, inches; nothing is welded at the hidden end.

    Source: AC 43.13-1B 4-95 (from memory).
    """
    return 1.5 * found.D + found.D * math.tan(math.radians(60))


def _stub_rule(which: str, diameters: float, pick: Callable[[float, float], float]):
    def rule(found: Findings, method: Method) -> Check:
        left, right = found.inches("room_left"), found.inches("room_right")
        least = diameters * found.D
        value = None if left is None or right is None else pick(left, right)
        outcome = None if value is None else value >= least - 1e-9
        text = {True: f"The {which} stub is long enough.", False: f"The {which} stub is too short for this method.",
                None: "Measure the room on both sides first."}[outcome]  # fmt: skip
        given = "not measured" if value is None else fine_text(value, found.metric, "down")
        return Check(f"{which}_stub", method.reference, given,
                     f"at least {fine_text(least, found.metric, 'up')} ({diameters:g} D)", verdict(outcome), text)  # fmt: skip

    return rule


_NOT_ON_OLD = _yes_no("old_weld", False, "metal", "The weld lies on clean tube.", "Never weld over an old weld. Move the cut.")
_SIDES = ("left", "right")

METHODS: tuple[Method, ...] = (
    Method("inner-sleeve", "Inner sleeve", "inner-sleeve", "Cut the damage out on a diagonal, slide a smaller tube inside, weld through the gap.",
           ("cut-out", "dent", "crack", "hole", "bend"),
           (_damage_kind, _NOT_ON_OLD,
            _yes_no("inside_bead", False, "seam-practice", "The bore is clear.", "The bead inside blocks an inner sleeve."),
            *(_room(s, _inner_room, "1.5 D and the diagonal cut") for s in _SIDES))),
    Method("larger-tube", "Larger replacement tube", "larger-tube", "Cut the damage out square, slide a larger tube over both stubs. The least cutting and welding.",
           ("cut-out", "dent", "crack", "hole", "bend"),
           (_damage_kind, _NOT_ON_OLD,
            _yes_no("near_cluster", False, "larger-tube", "The cut is clear of a cluster.", "Too near a cluster of joints for this method."),
            _yes_no("needs_same_od", False, "larger-tube", "Nothing here needs the old diameter.", "A bracket needs the old diameter. Use another method."),
            _stub_rule("short", 2.5, min), _stub_rule("long", 4.5, max),
            # On tubes under about 3.5 in the end cut and the weld want more than the 2.5 D stub gives.
            *(_room(s, splice_room, "1.5 D, the cut end and the weld") for s in _SIDES))),
    Method("split-sleeve", "Split sleeve over the damage", "split-sleeve", "Straighten, stop-drill cracks, weld two half sleeves over the damage.",
           ("dent", "crack", "bend"),
           (_damage_kind, _NOT_ON_OLD, *(_room(s, splice_room, "1.5 D, the cut end and the weld") for s in _SIDES))),
    Method("patch", "Welded patch", "patch", "Re-form the dent, weld a patch one gauge thicker over a small dent or hole.",
           ("dent", "hole"),
           (_damage_kind,
            _at_most("damage_length", lambda f: f.D, "D", "Too long for a patch."),
            _at_most("around", lambda f: math.pi * f.D / 4, "1/4 of the way around", "Too far around the tube for a patch."),
            _yes_no("middle_third", False, "patch-place", "The patch stays out of the middle third.", "No patch in the middle third of the tube."))),
    Method("outer-sleeve", "Outer sleeve", "outer-sleeve", "Cut the damage out square, fit a replacement piece, slide sleeves over the joints. The most welding.",
           ("cut-out", "dent", "crack", "hole", "bend"),
           (_damage_kind, _NOT_ON_OLD, *(_room(s, splice_room, "half the sleeve and the weld") for s in _SIDES))),
)  # fmt: skip

_DENT_RULES = (
    _at_most("depth", lambda f: f.D / 10, "D/10", "Too deep for a patch."),
    _yes_no("sharp_corners", False, "patch", "The dent is smooth.", "A dent with a crack, scrape or sharp corner takes no patch."),
    _yes_no("can_reform", True, "patch", "The dent can be re-formed.", "A dent that cannot be re-formed takes no patch."),
)
_STOPS = (
    _yes_no("heat_treated", False, "heat-treated", "Not a heat-treated member.", "Heat-treated member: do not splice. Replace it, or have it re-treated by those who can."),
    _yes_no("brazed", False, "metal", "No brazing under the weld.", "Never weld over brazing. Replace the member or move the cut."),
    _yes_no("crack_into_joint", False, "secondary", "No crack runs into a joint.", "A crack runs into a joint: a splice does not mend the joint. Replace the member or rebuild the joint."),
)  # fmt: skip
LOOK_ELSEWHERE = (
    "Sight along each member next to the hit. Look for a bow.",
    "Look at every joint at both ends of the bent member for cracks, flaking paint and rust lines.",
    "Measure the diagonals of the bay. Unequal diagonals mean the frame moved.",
    "Look at mounts and tabs on the far side of the car.",
    "Get the fit and alignment right before anything is welded.",
)


def assess(data: Any, sheet: RuleSheet | None = None) -> dict[str, Any]:
    """Return which methods are open, each rule with clause, measured value and limit.

    Parameters
    ----------
    data : mapping
        See `core.assess_input.read_findings`.
    sheet : RuleSheet, optional
        The shop's own rules (`core.shop_rules`), for findings that name a ``member``.

    Returns
    -------
    dict
        ``methods`` (key, name, about, clause, standing "open", "closed" or "measure first",
        checks), ``stops``, ``measure_next`` (questions in order), ``look`` (secondary damage),
        ``notes``, ``sources``, ``deference``; with a ``member``, ``shop_rules``: the sheet's checks.
        The sheet's verdicts stand beside the circular's and close no method.

    Raises
    ------
    Problem
        For input that cannot be used; ``bad-member`` for a member that is on no sheet.

    Source: AC 43.13-1B (Change 1, 2001) 4-85 to 4-97 as tagged in `core.rules`.

    >>> found = assess({"tube": {"od": "2 in", "wall": ".120 in", "material": "dom-1020"}, "damage": "hole", "heat_treated": "yes"})
    >>> [method["key"] for method in found["methods"] if method["standing"] == "open"]
    ['replace']
    """
    found = read_findings(data)
    shop = _shop_rules(found, sheet)
    stops = [rule(found, METHODS[-1]) for rule in _STOPS]
    methods = [_method(found, method, stops) for method in METHODS]
    methods.append(_replace(stops, methods))
    used = ("heat-treated", "metal", "secondary", "split-sleeve", "bolted", "patch", "patch-place", "inner-sleeve", "outer-sleeve", "larger-tube")
    return {
        "tube": {"od": found.tube.od.echo(), "wall": found.tube.wall.echo(), "material": found.tube.material.name},
        "stops": [check.as_dict() for check in stops],
        "methods": methods,
        "measure_next": _questions(found, stops, methods),
        "look": list(LOOK_ELSEWHERE),
        "notes": _notes(found),
        "sources": [clause(key).as_dict() for key in used],
        "deference": DEFERENCE,
        **shop,
    }


def _shop_rules(found: Findings, sheet: RuleSheet | None) -> dict[str, Any]:
    if not found.member:
        return {}
    return {"shop_rules": [check.as_dict() for check in member_checks(sheet, found.member, found.tube)]}


def _method(found: Findings, method: Method, stops: list[Check]) -> dict[str, Any]:
    rules = method.rules + (_DENT_RULES if method.key == "patch" and found.damage == "dent" else ())
    checks = [rule(found, method) for rule in rules]
    return {"key": method.key, "name": method.name, "about": method.about, "clause": method.reference,
            "standing": _standing([*stops, *checks]), "checks": [check.as_dict() for check in checks]}  # fmt: skip


def _standing(checks: list[Check]) -> str:
    verdicts = {check.verdict for check in checks}
    return "closed" if "not met" in verdicts else "measure first" if "unknown" in verdicts else "open"


def _replace(stops: list[Check], methods: list[dict[str, Any]]) -> dict[str, Any]:
    """Return the last resort: replace the whole member. It is always open."""
    forced = any(check.verdict == "not met" for check in stops) or all(m["standing"] == "closed" for m in methods)
    text = "Nothing else is left for this tube." if forced else "Always possible. More work, and no splice to explain later."
    check = Check("always", clause("heat-treated").label(), "this member", "any member", "met", text)
    return {"key": "replace", "name": "Replace the member", "about": "Cut the whole tube out at its joints and fit a new one.",
            "clause": clause("heat-treated").label(), "standing": "open", "checks": [check.as_dict()]}  # fmt: skip


def _questions(found: Findings, stops: list[Check], methods: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return each unknown once, stops first, with the methods that wait for it."""
    asked: dict[str, dict[str, Any]] = {}
    words = {**QUESTIONS, **LENGTHS}
    rows = [(check.as_dict(), "all") for check in stops]
    rows += [(check, m["name"]) for m in methods if m["standing"] != "closed" for check in m["checks"]]
    for check, waiting in rows:
        if check["verdict"] != "unknown":
            continue
        fields = [name for name in ("room_left", "room_right") if found.lengths[name] is None] if check["id"].endswith("_stub") else [check["id"]]
        for field in fields:
            entry = asked.setdefault(field, {"field": field, "question": words[field], "for": []})
            if waiting not in entry["for"]:
                entry["for"].append(waiting)
    return list(asked.values())


def _notes(found: Findings) -> list[str]:
    notes = ["Bolted sleeves are not for welded tube without specific authorisation (AC 43.13-1B 4-93).",
             "Filling a dent or crack with rod is not a repair (AC 43.13-1B 4-92).",
             f"Room is worked out with a sleeve {fine_text(USUAL_SLEEVE_STEP, found.metric)} larger than the tube, 60° mitre; the real sleeve is checked when sized."]  # fmt: skip
    if found.known_by == "assumption":
        notes.insert(0, "The material is an assumption. Find the certificate or the mark before you weld.")
    ovality = found.ovality()
    if ovality is not None:
        notes.insert(0, f"Outside diameter varies by {fine_text(ovality, found.metric, 'up')} around the tube. The sleeve must go over the largest reading.")
    else:
        notes.insert(0, "Measure the outside diameter at least twice, a quarter turn apart.")
    return notes
