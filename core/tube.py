"""A round tube: outside diameter, wall, material, seam. Lengths in inches."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.lengths import Length, read_length
from core.materials import Material, material
from core.problems import Problem, collect
from core.quantity import decimal_text

SMALLEST_OD, LARGEST_OD = 0.25, 6.0
THINNEST_WALL, THICKEST_WALL = 0.020, 0.750
SEAMS = ("none", "bead", "removed", "unknown")


@dataclass(frozen=True)
class Tube:
    """A round tube; lengths in inches.

    Attributes
    ----------
    od : Length
        Outside diameter, 0.25 to 6 in.
    wall : Length
        Wall thickness, 0.020 to 0.750 in and under half the outside diameter.
    material : Material
    seam : str
        Inside weld seam: "none", "bead" (felt or seen), "removed" or "unknown".
    """

    od: Length
    wall: Length
    material: Material
    seam: str = "unknown"

    @property
    def D(self) -> float:
        """Outside diameter in inches."""
        return float(self.od)

    @property
    def t(self) -> float:
        """Wall in inches."""
        return float(self.wall)

    @property
    def d(self) -> float:
        """Inside diameter in inches, D - 2t, from the exact typed values."""
        return float(self.od.inches - 2 * self.wall.inches)

    @property
    def area(self) -> float:
        """Metal area of the cross-section in square inches, pi (D - t) t."""
        return math.pi * (self.D - self.t) * self.t

    def name(self) -> str:
        """Return the tube as a person writes it: "1.625 × .120 1020 DOM"."""
        return f"{size_text(self)} {self.material.name}"


def size_text(tube: Tube) -> str:
    """Return outside diameter and wall as written in the trade, in the unit typed.

    Parameters
    ----------
    tube : Tube

    Returns
    -------
    str

    Source: common practice, no source.

    >>> size_text(read_tube({"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020"}))
    '1-5/8 in × .120 in'
    """
    return f"{tube.od.typed} × {tube.wall.typed}"


def plain_size(tube: Tube) -> str:
    """Return a tube for a tag, in decimals.

    Parameters
    ----------
    tube : Tube

    Returns
    -------
    str
        Inches without a unit, or millimetres with it.

    Source: common practice, no source.

    >>> plain_size(read_tube({"od": "1-5/8", "wall": "11 ga", "material": "dom-1020"}))
    '1.625 x .120 1020 DOM'
    """
    if tube.od.is_metric:
        return f"{decimal_text(tube.od.mm, 2)} x {decimal_text(tube.wall.mm, 2)} mm {tube.material.name}"
    wall = f"{float(tube.wall):.3f}".lstrip("0")
    return f"{decimal_text(tube.od.inches, 4)} x {wall} {tube.material.name}"


def read_tube(data: object, *, default_unit: str = "in") -> Tube:
    """Read a tube from its JSON form.

    Parameters
    ----------
    data : mapping
        ``od`` (0.25 to 6 in) and ``wall`` (0.020 to 0.750 in, under half the OD) as text lengths,
        ``material`` (key), ``seam`` (optional).
    default_unit : {"in", "mm"}

    Returns
    -------
    Tube

    Raises
    ------
    Problem
        One for each bad member, collected.

    Source: the ranges are this program's; common practice, no source.

    >>> read_tube({"od": "41.3", "wall": "3", "material": "dom-1020"}, default_unit="mm").name()
    '41.3 × 3 1020 DOM'
    """
    if not isinstance(data, dict):
        raise Problem(
            "bad-tube", "A tube needs its outside diameter, wall and material.", given=data,
            allowed='an object such as {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020"}.',
            next_step="Give od, wall and material.",
        )  # fmt: skip
    problems: list[Problem] = []
    unknown_members(data, {"od", "wall", "material", "seam"}, problems)

    def part(name, read):
        try:
            return read(data.get(name))
        except Problem as problem:
            problems.append(problem.at(name))
            return None

    od = part("od", lambda v: read_length(v, role="diameter", default_unit=default_unit))
    wall = part("wall", lambda v: read_length(v, role="wall", default_unit=default_unit))
    steel = part("material", material)
    seam = part("seam", lambda v: one_of("seam", "unknown" if v is None else v, SEAMS))
    if od is not None:
        _within(od, SMALLEST_OD, LARGEST_OD, "od", "outside diameter", problems)
    if wall is not None:
        _within(wall, THINNEST_WALL, THICKEST_WALL, "wall", "wall", problems)
    if od is not None and wall is not None and not problems and 2 * wall.inches >= od.inches:
        problems.append(
            Problem("bad-tube", "The wall leaves no hole in the tube.", given=wall.typed,
                    allowed=f"a wall under half of the outside diameter, {od.echo()}.",
                    next_step="Measure the wall again, away from the seam.", field="wall")
        )  # fmt: skip
    collect(problems)
    return Tube(od, wall, steel, seam)


def one_of(what: str, value: object, allowed: tuple[str, ...]) -> str:
    """Return `value` if it is one of the words in `allowed`.

    Parameters
    ----------
    what : str
        What is chosen, for the message.
    value : object
    allowed : tuple of str

    Returns
    -------
    str

    Raises
    ------
    Problem
        ``bad-choice`` with the words.

    Source: the project's own form.

    >>> one_of("seam", "bead", SEAMS)
    'bead'
    """
    if not isinstance(value, str) or value not in allowed:
        raise Problem(
            "bad-choice", f"That {what} is not known here.", given=value,
            allowed=", ".join(allowed) + ".", next_step="Choose one of these words.",
        )  # fmt: skip
    return value


def unknown_members(data: dict, known: set[str], problems: list[Problem]) -> None:
    """Add a problem for each member of `data` that is not in `known`: a typo is never ignored.

    Parameters
    ----------
    data : dict
    known : set of str
    problems : list of Problem
        Gets an ``unknown-member`` for each.

    Source: the project's own form.

    >>> problems = []
    >>> unknown_members({"od": "1 in", "wal": ".120 in"}, {"od", "wall"}, problems)
    >>> [(problem.kind, problem.field) for problem in problems]
    [('unknown-member', 'wal')]
    """
    for name in data:
        if name not in known:
            problems.append(
                Problem("unknown-member", "That member is not known here.", given=name,
                        allowed=", ".join(sorted(known)) + ".", next_step="Check the spelling or leave it out.",
                        field=str(name)[:40])
            )  # fmt: skip


def _within(value: Length, low: float, high: float, field: str, what: str, problems: list[Problem]) -> None:
    if not low <= float(value) <= high:
        problems.append(
            Problem("out-of-range", f"That {what} is outside what this handles.", given=value.typed,
                    allowed=f"{low:g} in to {high:g} in ({low * 25.4:.4g} mm to {high * 25.4:.4g} mm).",
                    next_step="Check the number and its unit.", field=field)
        )  # fmt: skip
