"""Read one patch job from its JSON form. Lengths in inches once read."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from core.assess_input import Findings, read_findings
from core.lengths import Length, read_length
from core.materials import Material, material
from core.problems import Problem, collect
from core.size_input import Reader, open_job
from core.tube import THICKEST_WALL, THINNEST_WALL, one_of, unknown_members

ASKED = ("middle_third", "sharp_corners", "can_reform")
FOUND = {"tube", "damage", "depth", "damage_length", "around", "units", *ASKED}
MEMBERS = {*FOUND, "patch", "over_joint", "margin"}
DAMAGE = ("dent", "hole")
WIDEST_MARGIN = 12.0
EXAMPLE = (
    '{"tube": {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}, '
    '"patch": {"wall": ".134 in", "material": "dom-1020"}, "damage": "dent", "depth": "1/8 in", '
    '"damage_length": "1 in", "around": "3/4 in", "middle_third": "no", "over_joint": "no", '
    '"sharp_corners": "no", "can_reform": "yes"}'
)


@dataclass(frozen=True)
class PatchJob:
    """What a patch is sized from.

    Attributes
    ----------
    found : Findings
        Tube, damage and answers; ``damage_length`` and ``around`` are always measured.
    wall : Length
        Wall of the patch, 0.020 to 0.750 in.
    material : Material
        Of the patch.
    over_joint : bool or None
        Whether the patch would cover a joint.
    margin : Length or None
        How far the patch reaches past the damage on every side, as the person gives it.
    """

    found: Findings
    wall: Length
    material: Material
    over_joint: bool | None
    margin: Length | None

    @property
    def metric(self) -> bool:
        """Whether texts are in millimetres."""
        return self.found.metric


def read_patch_job(data: Any) -> PatchJob:
    """Read and check the JSON input of a patch.

    Parameters
    ----------
    data : mapping
        ``tube``, ``patch`` (wall, material), ``damage`` (dent or hole), ``damage_length`` and
        ``around`` (along the surface), and optionally ``depth`` (of a dent), ``middle_third``,
        ``over_joint``, ``sharp_corners``, ``can_reform`` (yes, no or unknown), ``margin`` (over
        0 to 12 in), ``units`` ("in" or "mm").

    Returns
    -------
    PatchJob

    Raises
    ------
    Problem
        The first problem found, with all the others behind it.

    Source: AC 43.13-1B (Change 1, 2001) 4-94 for what is asked.

    >>> import json
    >>> read_patch_job(json.loads(EXAMPLE)).wall.typed
    '.134 in'
    """
    reader = open_job(data, MEMBERS, f"for example {EXAMPLE}", "Send tube, patch, damage, damage_length and around.")
    problems = reader.problems
    unit = data.get("units") if data.get("units") in ("in", "mm") else "in"
    found = _read_findings(data, problems)
    damage_is_known = isinstance(data.get("damage"), str)
    if damage_is_known:
        reader.read("damage", lambda v: one_of("kind of damage for a patch", v, DAMAGE))
    for name in ("damage_length", "around"):
        if found and not found.inches(name):
            problems.append(Problem("bad-length", "A patch cannot be sized without this length.", given=data.get(name) or "nothing",
                                    allowed="a length over 0.", next_step="Measure the damage and type it.", field=name))  # fmt: skip
    patch = reader.read("patch", lambda v: _read_patch(v, unit))
    over_joint = reader.read("over_joint", lambda v: one_of("answer", "unknown" if v in (None, "") else v, ("yes", "no", "unknown")))
    margin = reader.optional("margin", unit, WIDEST_MARGIN, allow_zero=False)
    collect(problems)
    job = PatchJob(found, *patch, {"yes": True, "no": False, "unknown": None}[over_joint], margin)
    _refuse_wrap(job)
    return job


def _read_findings(data: dict[str, Any], problems: list[Problem]) -> Findings | None:
    try:
        return read_findings({name: value for name, value in data.items() if name in FOUND})
    except Problem as problem:
        problems += [problem, *problem.others]
        problem.others = ()
        return None


def _read_patch(value: Any, unit: str) -> tuple[Length, Material]:
    if not isinstance(value, dict):
        raise Problem("bad-patch", "A patch needs its wall and material.", given=value,
                      allowed='an object such as {"wall": ".134 in", "material": "dom-1020"}.',
                      next_step="Give wall and material.")  # fmt: skip
    problems: list[Problem] = []
    unknown_members(value, {"wall", "material"}, problems)
    reader = Reader(value, problems)
    wall = reader.read("wall", lambda v: _read_wall(v, unit))
    steel = reader.read("material", material)
    collect(problems)
    return wall, steel


def _read_wall(text: Any, unit: str) -> Length:
    wall = read_length(text, role="wall", default_unit=unit)
    if not THINNEST_WALL <= float(wall) <= THICKEST_WALL:
        raise Problem("out-of-range", "That wall is outside what this handles.", given=wall.typed,
                      allowed=f"{THINNEST_WALL:g} in to {THICKEST_WALL:g} in ({THINNEST_WALL * 25.4:.4g} mm to {THICKEST_WALL * 25.4:.4g} mm).",
                      next_step="Check the number and its unit.")  # fmt: skip
    return wall


def _refuse_wrap(job: PatchJob) -> None:
    """Refuse a margin that closes the patch on itself around the tube."""
    around = job.found.inches("around")
    if job.margin and around + 2 * float(job.margin) >= math.pi * job.found.D:
        raise Problem("out-of-range", "With that margin the patch runs all the way around the tube.", given=job.margin.typed,
                      allowed="a patch narrower than the tube's circumference.",
                      next_step="Check the margin. To go all the way around, size a split sleeve.", field="margin")  # fmt: skip
