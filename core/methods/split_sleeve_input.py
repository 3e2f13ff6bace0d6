"""Read one split-sleeve job from its JSON form. Lengths in inches once read, angles in degrees."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.assess_input import DAMAGE_KINDS
from core.problems import collect
from core.size_input import LONGEST_SLEEVE, WIDEST_KERF, Reader, SizeJob, open_job, refuse_small_sleeve
from core.sleeve import EndCut
from core.tube import one_of

MEMBERS = {"tube", "sleeve", "damage", "damage_length", "end", "mitre_deg", "length", "kerf", "units"}
ENDS = ("scarf", "fishmouth", "pointed")
LONGEST_DAMAGE = 48.0
EXAMPLE = (
    '{"tube": {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}, '
    '"sleeve": {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020"}, "damage": "crack", '
    '"damage_length": "1 in", "end": "scarf", "mitre_deg": 60, "kerf": "1/16 in"}'
)


@dataclass(frozen=True)
class SplitJob:
    """What a split sleeve is sized from: a sleeve job whose gap is the damage, and its kind."""

    sized: SizeJob
    damage: str


def read_split_job(data: Any) -> SplitJob:
    """Read and check the JSON input of a split sleeve.

    Parameters
    ----------
    data : mapping
        ``tube``, ``sleeve``, ``damage``, ``damage_length`` (over 0 to 48 in), ``end``,
        ``mitre_deg``, and optionally ``length`` (a sleeve already cut), ``kerf`` (width of one
        slit, 0 to 1/2 in), ``units`` ("in" or "mm").

    Returns
    -------
    SplitJob

    Raises
    ------
    Problem
        The first problem found, with all the others behind it.

    Source: AC 43.13-1B (Change 1, 2001) 4-92 for what is asked.

    >>> import json
    >>> read_split_job(json.loads(EXAMPLE)).sized.g
    1.0
    """
    reader = open_job(data, MEMBERS, f"for example {EXAMPLE}", "Send tube, sleeve, damage, damage_length, end and mitre_deg.")
    problems, unit = reader.problems, reader.unit
    tube = reader.tube("tube")
    sleeve = reader.tube("sleeve")
    damage = reader.read("damage", lambda v: one_of("kind of damage", v, DAMAGE_KINDS))
    length_of_damage = reader.length("damage_length", data.get("damage_length"), unit, LONGEST_DAMAGE, allow_zero=False)
    cut = _read_cut(data, reader)
    length = reader.optional("length", unit, LONGEST_SLEEVE, allow_zero=False)
    kerf = reader.optional("kerf", unit, WIDEST_KERF, allow_zero=True)
    refuse_small_sleeve(tube, sleeve, problems)
    collect(problems)
    metric = reader.is_metric(tube)
    return SplitJob(SizeJob(tube, sleeve, cut, length_of_damage, length, None, kerf, metric), damage)


def _read_cut(data: dict[str, Any], reader: Reader) -> EndCut | None:
    end = reader.read("end", lambda v: one_of("end shape", v, ENDS))
    return None if end is None else reader.end_cut(end, data.get("mitre_deg"))
