"""Read one split-sleeve job from its JSON form."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.assess_input import DAMAGE_KINDS
from core.problems import Problem, collect
from core.size_input import LONGEST_SLEEVE, WIDEST_KERF, Reader, SizeJob, refuse_small_sleeve
from core.sleeve import EndCut, read_end_cut
from core.tube import one_of, read_tube, unknown_members

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

    Raises
    ------
    Problem
        The first problem found, with all the others behind it.

    >>> import json
    >>> read_split_job(json.loads(EXAMPLE)).sized.g
    1.0
    """
    if not isinstance(data, dict):
        raise Problem("bad-body", "The job must be one JSON object.", given=data, allowed=f"for example {EXAMPLE}",
                      next_step="Send tube, sleeve, damage, damage_length, end and mitre_deg.", status=400)  # fmt: skip
    problems: list[Problem] = []
    unknown_members(data, MEMBERS, problems)
    reader = Reader(data, problems)
    units = reader.read("units", lambda v: None if v is None else one_of("unit system", v, ("in", "mm")))
    unit = units or "in"
    tube = reader.read("tube", lambda v: read_tube(v, default_unit=unit))
    sleeve = reader.read("sleeve", lambda v: read_tube(v, default_unit=unit))
    damage = reader.read("damage", lambda v: one_of("kind of damage", v, DAMAGE_KINDS))
    length_of_damage = reader.length("damage_length", data.get("damage_length"), unit, LONGEST_DAMAGE, allow_zero=False)
    cut = _read_cut(data, reader, problems)
    length = reader.optional("length", unit, LONGEST_SLEEVE, allow_zero=False)
    kerf = reader.optional("kerf", unit, WIDEST_KERF, allow_zero=True)
    refuse_small_sleeve(tube, sleeve, problems)
    collect(problems)
    metric = units == "mm" if units else tube.od.is_metric
    return SplitJob(SizeJob(tube, sleeve, cut, length_of_damage, length, None, kerf, metric), damage)


def _read_cut(data: dict[str, Any], reader: Reader, problems: list[Problem]) -> EndCut | None:
    end = reader.read("end", lambda v: one_of("end shape", v, ENDS))
    if end is None:
        return None
    try:
        return read_end_cut(end, data.get("mitre_deg"))
    except Problem as problem:
        problems.append(problem)
        return None
