"""What may stand beside the members of any method: readings, rosettes, the saw, the batch, the rule sheet's member."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from core.fit_measured import Measured, read_measured
from core.lengths import Length, read_length
from core.problems import Problem, collect
from core.rosette_search import MOST_HOLES
from core.saw import USUAL_STOP
from core.size_input import Reader
from core.sleeve import STEEPEST_MITRE
from core.tube import one_of, unknown_members

NAMES = ("method", "strength", "measured", "rosettes", "saw_limit", "block_distance", "hole", "count", "member")
HOLES = ("circular", "shop", "structural")
SAWN = ("outer-sleeve", "inner-sleeve", "larger-tube", "split-sleeve")
PLUGGED = ("outer-sleeve", "inner-sleeve", "larger-tube")
READINGS = {"tube_od", "sleeve_bore", "sleeve_od", "sleeve_wall", "bead"}
# An inner sleeve swaps the two: the tube has the bore.
SWAPPED = {"sleeve_od": "tube_od", "tube_bore": "sleeve_bore", "tube_od": "sleeve_od", "tube_wall": "sleeve_wall", "bead": "bead"}
LONGEST_BLOCK, WIDEST_HOLE, LONGEST_DISTANCE, MOST_SLEEVES = 48.0, 2.0, 6.0, 99


@dataclass(frozen=True)
class Rosettes:
    """Rosettes asked for: holes on each tip line, their diameter and least distance, None for the usual."""

    per_tip: int
    diameter: Length | None
    distance: Length | None


@dataclass(frozen=True)
class SizeOptions:
    """What was asked beside the sizes.

    Attributes
    ----------
    measured : Measured or None
        For an inner sleeve the sleeve stands as the tube and the tube as the sleeve.
    rosettes : Rosettes or None
    saw_stop : float
        Where the saw's swing stops, degrees from square.
    saw_given : bool
    block_distance : Length or None
    hole : str or None
        "circular", "shop" or "structural"; None where it was left open.
    count : int or None
        Sleeves to make.
    """

    measured: Measured | None = None
    rosettes: Rosettes | None = None
    saw_stop: float = USUAL_STOP
    saw_given: bool = False
    block_distance: Length | None = None
    hole: str | None = None
    count: int | None = None

    @property
    def own_diameter(self) -> Fraction | None:
        """Diameter of the rosette holes as typed, inches; None for one of the usual sizes."""
        return self.rosettes.diameter.inches if self.rosettes and self.rosettes.diameter else None


def read_options(method: str, data: dict[str, Any]) -> SizeOptions:
    """Read what may stand beside the members of a method.

    Parameters
    ----------
    method : str
        Key of `core.sizing.MODULES`.
    data : dict
        ``measured`` (readings: ``tube_od``, ``sleeve_bore``, or ``sleeve_od`` with
        ``sleeve_wall``, and ``bead``; for an inner sleeve ``sleeve_od``, ``tube_bore``, or
        ``tube_od`` with ``tube_wall``, and ``bead``), ``rosettes`` (``per_tip`` 1 to 3,
        ``diameter`` up to 2 in, ``distance`` up to 6 in), ``saw_limit`` (degrees, 0 to 75),
        ``block_distance`` (up to 48 in), ``hole`` ("circular", "shop", "structural"),
        ``count`` (1 to 99). Other members are not looked at.

    Returns
    -------
    SizeOptions
        Lengths in inches with their typed text.

    Raises
    ------
    Problem
        The first problem found, with all the others behind it.

    Source: common practice, no source (the usual saw stop; all ranges are this program's own).

    >>> read_options("outer-sleeve", {"saw_limit": 60, "rosettes": {"per_tip": 2}}).rosettes.per_tip
    2
    """
    problems: list[Problem] = []
    reader = Reader(data, problems)
    unit = data.get("units") if data.get("units") in ("in", "mm") else "in"
    _refuse_others(method, data, problems)
    hole = reader.read("hole", lambda v: None if v is None else one_of("hole size", v, HOLES))
    stop = reader.read("saw_limit", _saw_stop)
    count = reader.read("count", lambda v: None if v is None else _whole(v, MOST_SLEEVES, "sleeves"))
    run = reader.optional("block_distance", unit, LONGEST_BLOCK, allow_zero=False)
    rosettes = reader.read("rosettes", lambda v: None if v is None else _rosettes(v, unit))
    measured = reader.read("measured", lambda v: None if v is None else _measured(v, unit, method))
    collect(problems)
    return SizeOptions(measured, rosettes, stop, data.get("saw_limit") is not None, run, hole, count)


def _refuse_others(method: str, data: dict[str, Any], problems: list[Problem]) -> None:
    """Refuse what a method has no use for: an answer must not look as if it had been counted."""
    why = {"patch": "A patch has no such part.", "split-sleeve": "A split sleeve is held by its seams and ends. It has no rosette holes here."}
    for name, methods in (("measured", SAWN), ("saw_limit", SAWN), ("block_distance", SAWN), ("count", SAWN), ("rosettes", PLUGGED), ("hole", PLUGGED)):
        if data.get(name) is not None and method not in methods:
            problems.append(Problem("bad-choice", why[method], given=name, allowed=f"{name} with {', '.join(methods)}.",
                                    next_step="Leave it out, or choose another method.", field=name))  # fmt: skip


def _saw_stop(value: Any) -> float:
    if value is None:
        return USUAL_STOP
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value <= STEEPEST_MITRE:
        raise Problem("bad-angle", "That is not where a saw's swing stops.", given=value,
                      allowed=f"a number of degrees from a square cut, 0 to {STEEPEST_MITRE:g}.",
                      next_step="Read the last mark on the saw's scale; most stop at 45 or 60.")  # fmt: skip
    return float(value)


def _whole(value: Any, most: int, what: str) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= most:
        raise Problem("out-of-range", f"That number of {what} is not handled.", given=value, allowed=f"a whole number, 1 to {most}.",
                      next_step="Check the number.")  # fmt: skip
    return value


def _object(value: Any, members: set[str], what: str) -> list[Problem]:
    if not isinstance(value, dict):
        raise Problem("bad-body", f"The {what} must be one object.", given=value, allowed=f"an object with {', '.join(sorted(members))}.",
                      next_step=f"Leave the {what} out, or send an object.")  # fmt: skip
    problems: list[Problem] = []
    unknown_members(value, members, problems)
    return problems


def _rosettes(value: Any, unit: str) -> Rosettes:
    problems = _object(value, {"per_tip", "diameter", "distance"}, "rosettes")
    reader = Reader(value, problems)
    per_tip = reader.read("per_tip", lambda v: 1 if v is None else _whole(v, MOST_HOLES, "holes on a tip line"))
    diameter = reader.read("diameter", lambda v: None if v is None else _hole(v, unit))
    distance = reader.optional("distance", unit, LONGEST_DISTANCE, allow_zero=False)
    collect(problems)
    return Rosettes(per_tip, diameter, distance)


def _hole(text: Any, unit: str) -> Length:
    hole = read_length(text, role="diameter", default_unit=unit)
    if not 1 / 16 <= float(hole) <= WIDEST_HOLE:
        raise Problem("out-of-range", "That is no size for a rosette hole.", given=hole.typed, allowed=f"1/16 in to {WIDEST_HOLE:g} in.",
                      next_step="Check the number and its unit.")  # fmt: skip
    return hole


def _measured(value: Any, unit: str, method: str) -> Measured | None:
    swapped = method == "inner-sleeve"
    collect(_object(value, set(SWAPPED) if swapped else READINGS, "readings"))
    if method not in SAWN:
        return None
    renamed = {SWAPPED[name]: one for name, one in value.items()} if swapped else value
    try:
        return read_measured({**renamed, "units": unit})
    except Problem as problem:
        if swapped:
            back = {there: here for here, there in SWAPPED.items()}
            for one in (problem, *problem.others):
                one.field, one.title = back.get(one.field, one.field), swap_words(one.title)
                one.allowed, one.next_step = swap_words(one.allowed), swap_words(one.next_step)
        raise


def swap_words(text: str) -> str:
    """Return a text with tube and sleeve in each other's place, as an inner sleeve needs it.

    Parameters
    ----------
    text : str
        Any text; lengths in it, inches or mm, stay as they are.

    Returns
    -------
    str
        The same text, the two words exchanged.

    Source: none needed; wording only.

    >>> swap_words("Tube in the sleeve")
    'Sleeve in the tube'
    """
    for one, other in (("tube", "sleeve"), ("Tube", "Sleeve")):
        text = text.replace(one, "\0").replace(other, one).replace("\0", other)
    return text
