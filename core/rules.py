"""The repair rules as data: document, edition, clause, wording and how it was read."""

from __future__ import annotations

from dataclasses import dataclass

CIRCULAR = "FAA AC 43.13-1B, chapter 4 section 5"
EDITION = "Change 1, 2001"
READ, MEMORY, PRACTICE = "read in a public copy", "from memory", "common practice, no source"


@dataclass(frozen=True)
class Clause:
    """One rule: its key, document, edition, clause number, what it says, how it was read."""

    key: str
    document: str
    edition: str
    clause: str
    says: str
    basis: str

    def label(self) -> str:
        """Return the short reference printed beside a verdict."""
        if not self.clause:
            return self.basis
        short = self.document.split(",")[0].removeprefix("FAA ")
        return f"{short} {self.clause}" + (f" ({self.basis})" if self.basis == MEMORY else "")

    def as_dict(self) -> dict[str, str]:
        """Return the JSON form listed under ``sources``."""
        return {"key": self.key, "document": self.document, "edition": self.edition,
                "clause": self.clause, "says": self.says, "basis": self.basis}  # fmt: skip


def _circular(key: str, clause: str, says: str, basis: str) -> Clause:
    return Clause(key, CIRCULAR, EDITION, clause, says, basis)


CLAUSES: dict[str, Clause] = {c.key: c for c in (
    _circular("metal", "4-77 to 4-82", "Bright metal first; never grind a weld smooth for looks; never weld over brazing or an old weld.", MEMORY),
    _circular("rosette", "4-85", "Drill the outer tube only; hole about 1/4 of the drilled tube's diameter; may be left out with tight sleeves; no count given.", MEMORY),
    _circular("heat-treated", "4-86", "Do not splice a member whose strength came from heat treatment without re-treating it.", MEMORY),
    _circular("secondary", "4-91", "Look for secondary damage away from the hit; welded tubing may be spliced anywhere along the tube unless noted; fit and alignment first.", MEMORY),
    _circular("split-sleeve", "4-92", "Dent, bend or crack in a bay: straighten, stop-drill crack ends No. 40, split sleeve of the same material and at least the wall, ends cut 30 degrees to the axis, at least 1.5 D past the damage; filling with rod is not acceptable.", READ),
    _circular("bolted", "4-93", "No bolted sleeves on welded tube without specific authorisation.", READ),
    _circular("patch", "4-94", "Dent up to D/10 deep, 1/4 of the circumference, D long, no cracks or sharp corners, re-formable; hole up to D long and 1/4 of the circumference; patch of the same material, one gauge thicker.", READ),
    _circular("patch-place", "4-94", "No part of a patch in the middle third of the tube, nor over a joint.", MEMORY),
    _circular("inner-sleeve", "4-95", "Diagonal cut with a 1/8 in gap; replacement of the same material, OD and at least the wall; sleeve of the same material and at least the wall, diameter difference up to 1/16 in, end at least 1.5 D past the nearest end of the cut; weld through the gap.", MEMORY),
    _circular("outer-sleeve", "4-96", "Only where other methods do not suit: square cuts, replacement bears on the stubs, total gap up to 1/32 in; sleeve of the same material and at least the wall, ID up to 1/16 in over the tube; diagonal or fishmouth ends at least 1.5 D from the cut, fishmouth wherever possible; tack in two places; weld one sleeve, let it cool, then the other.", MEMORY),
    _circular("larger-tube", "4-97", "Not near clusters or where brackets need the original OD; square stubs, short 2.5 D, long 4.5 D at least; diameter difference up to 1/16 in; ends diagonal or fishmouth, at least 1.5 D from the cut; file the crotch radius out; weld one end, cool completely, weld the other.", READ),
    Clause("dom", "ASTM A513 type 5", "as reprinted by tube suppliers", "diameter and wall tolerances", "OD +t/-0 and ID +0/-t by size; wall by gauge.", READ),
    Clause("seam-practice", "", "", "", "An inside weld bead takes the room the other tube needs.", PRACTICE),
    Clause("shorthand", "", "", "", "Shops put the tube's diameter where the cut runs on the sleeve's: 3 D + D T.", PRACTICE),
    Clause("rosette-practice", "", "", "", "Four holes a pointed sleeve, each on the line of a tip.", PRACTICE),
    Clause("plug", "AISC 360", "2016", "J2.3b", "Plug diameter at least thickness + 5/16 in, rounded up to the next odd 1/16 in.", MEMORY),
)}  # fmt: skip


def clause(key: str) -> Clause:
    """Return the rule named `key`.

    Parameters
    ----------
    key : str
        A key of CLAUSES.

    Returns
    -------
    Clause

    Raises
    ------
    KeyError
        A fault in the caller, not in what a person typed.

    Source: each clause names its own.

    >>> clause("outer-sleeve").label()
    'AC 43.13-1B 4-96 (from memory)'
    """
    return CLAUSES[key]


@dataclass(frozen=True)
class Check:
    """One rule applied: what was given, the limit, and whether it is met.

    Attributes
    ----------
    id : str
    clause : str
        Reference of the rule (`Clause.label`).
    given, limit : str
        As a person reads them.
    verdict : str
        "met", "not met" or "unknown".
    text : str
        One plain sentence: what it means and what to do.
    """

    id: str
    clause: str
    given: str
    limit: str
    verdict: str
    text: str

    def as_dict(self) -> dict[str, str]:
        """Return the JSON form."""
        return {"id": self.id, "clause": self.clause, "given": self.given, "limit": self.limit,
                "verdict": self.verdict, "text": self.text}  # fmt: skip


def verdict(outcome: bool | None) -> str:
    """Return the word for an outcome.

    Parameters
    ----------
    outcome : bool or None

    Returns
    -------
    str
        True "met", False "not met", None "unknown".

    Source: the project's own form.

    >>> verdict(True), verdict(False), verdict(None)
    ('met', 'not met', 'unknown')
    """
    return {True: "met", False: "not met", None: "unknown"}[outcome]


DEFERENCE = (
    "Not a verdict on the car. The rule book, local codes, the inspector and a qualified "
    "welder decide."
)
