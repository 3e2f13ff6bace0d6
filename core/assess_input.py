"""Read what was measured and seen at the damage. Lengths in inches once read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.lengths import Length, read_length
from core.problems import Problem, collect
from core.size_input import open_job
from core.tube import Tube, one_of

DAMAGE_KINDS = ("cut-out", "dent", "crack", "hole", "bend")
ANSWERS = ("yes", "no", "unknown")
KNOWN_BY = ("certificate", "mark", "assumption")
# Yes/no facts, each with the question a person is asked when nobody knows.
QUESTIONS: dict[str, str] = {
    "heat_treated": "Does this member's strength come from heat treatment?",
    "brazed": "Is there brazing where the weld would go?",
    "crack_into_joint": "Does a crack run into a joint?",
    "old_weld": "Would the new weld lie on an old weld?",
    "near_cluster": "Is the cut close to a cluster of joints?",
    "needs_same_od": "Does a bracket or clamp need the tube's own outside diameter here?",
    "middle_third": "Would any part of a patch lie in the middle third of the tube?",
    "sharp_corners": "Does the dent have a crack, a scrape or a sharp corner?",
    "can_reform": "Can the dent be pushed back into shape without cracking?",
    "inside_bead": "Is there a weld bead inside the tube?",
}
LENGTHS: dict[str, str] = {
    "depth": "How deep is the damage?",
    "damage_length": "How long is the damage along the tube?",
    "around": "How far around the tube does the damage go, along its surface?",
    "room_left": "How far from the damage to the nearest joint, bend, tab or old weld on the left?",
    "room_right": "How far from the damage to the nearest joint, bend, tab or old weld on the right?",
}
MEMBERS = {"tube", "damage", "known_by", "od_readings", "units", "member", *QUESTIONS, *LENGTHS}
LONGEST = 480.0


@dataclass(frozen=True)
class Findings:
    """What is known about one damaged tube; None where nobody measured or looked.

    Attributes
    ----------
    tube : Tube
    damage : str
        One of DAMAGE_KINDS.
    known_by : str
        How the material is known: certificate, mark or assumption.
    readings : tuple of Length
        Outside diameters around the tube.
    answers : dict of str to bool or None
        Keys of QUESTIONS.
    lengths : dict of str to Length or None
        Keys of LENGTHS.
    metric : bool
    member : str
        Member of the shop's rule sheet, empty for none.
    """

    tube: Tube
    damage: str
    known_by: str
    readings: tuple[Length, ...]
    answers: dict[str, bool | None]
    lengths: dict[str, Length | None]
    metric: bool
    member: str = ""

    @property
    def D(self) -> float:
        """Tube outside diameter, inches."""
        return self.tube.D

    def inches(self, name: str) -> float | None:
        """Return a measured length in inches, None if it was not measured."""
        value = self.lengths[name]
        return None if value is None else float(value)

    def ovality(self) -> float | None:
        """Return largest - smallest outside diameter reading, inches, None under two readings.

        Source: common practice, no source.
        """
        values = [float(reading) for reading in self.readings]
        return max(values) - min(values) if len(values) > 1 else None


def read_findings(data: Any) -> Findings:
    """Read and check the JSON input of an assessment.

    Parameters
    ----------
    data : mapping
        ``tube``, ``damage``, and optionally ``known_by``, ``od_readings`` (list of up to 12), the
        yes/no/unknown answers of QUESTIONS, the lengths of LENGTHS (0 to 480 in) and ``member``.
        Empty text and absent members count as not measured.

    Returns
    -------
    Findings

    Raises
    ------
    Problem
        The first problem found, with all the others behind it.

    Source: AC 43.13-1B (Change 1, 2001) 4-85 to 4-97 for what is asked, as tagged in `core.rules`.

    >>> tube = {"od": "2 in", "wall": ".120 in", "material": "dom-1020"}
    >>> found = read_findings({"tube": tube, "damage": "dent", "depth": "1/8 in", "brazed": "no"})
    >>> found.inches("depth"), found.inches("around"), found.answers["brazed"]
    (0.125, None, False)
    """
    reader = open_job(data, MEMBERS, "an object with tube and damage.", "Send tube and damage.", "findings")
    read, unit = reader.read, reader.unit
    tube = reader.tube("tube")
    damage = read("damage", lambda v: one_of("kind of damage", v, DAMAGE_KINDS))
    known_by = read("known_by", lambda v: one_of("way to know the material", "assumption" if v is None else v, KNOWN_BY))
    readings = read("od_readings", lambda v: _readings(v, unit))
    answers = {name: read(name, _answer) for name in QUESTIONS}
    lengths = {name: read(name, lambda v: _length(v, unit)) for name in LENGTHS}
    member = read("member", _member)
    collect(reader.problems)
    return Findings(tube, damage, known_by, readings, answers, lengths, reader.is_metric(tube), member)


def _member(value: Any) -> str:
    if value is None:
        return ""
    if not isinstance(value, str):
        raise Problem("bad-member", "The member must be text.", given=value, allowed="a member of your rule sheet, or none.",
                      next_step="Choose a member of the sheet, or leave it out.")  # fmt: skip
    return value.strip()


def _answer(value: Any) -> bool | None:
    word = one_of("answer", "unknown" if value in (None, "") else value, ANSWERS)
    return {"yes": True, "no": False, "unknown": None}[word]


def _length(value: Any, unit: str) -> Length | None:
    if value is None or value == "":
        return None
    length = read_length(value, default_unit=unit, allow_zero=True)
    if float(length) > LONGEST:
        raise Problem("out-of-range", "That length is more than this handles.", given=length.typed,
                      allowed=f"up to {LONGEST:g} in ({LONGEST * 25.4:g} mm).", next_step="Check the number and its unit.")  # fmt: skip
    return length


def _readings(value: Any, unit: str) -> tuple[Length, ...]:
    if value is None:
        return ()
    if not isinstance(value, list) or len(value) > 12:
        raise Problem("bad-readings", "The readings must be a list of lengths.", given=value,
                      allowed="up to 12 text lengths.", next_step='Send for example ["1.625 in", "1.620 in"].')  # fmt: skip
    return tuple(read_length(text, role="diameter", default_unit=unit) for text in value if text != "")
