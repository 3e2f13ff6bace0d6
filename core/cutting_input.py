"""Pieces and bars of a cutting job: what is accepted, and how it becomes whole units.

Lengths in inches. Source: bookkeeping of this program; the geometry is in `core.cutting`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from core.cutting_patterns import Item, Job, Stock
from core.lengths import Length, read_length
from core.problems import Problem, collect
from core.tube import one_of, unknown_members

Inches = float | int | Fraction | Length
ENDS = ("square", "scarf")
MOST_KINDS, MOST_PIECES, LONGEST_BAR, STEEPEST_MITRE = 60, 5000, 1000.0, 75.0
# A length with a denominator up to this is taken as exact: 1/128 in and 1/100 mm marks and
# four decimals are below it. Others go to the 1/1000 in grid, the way that never cuts short.
EXACT_DENOMINATOR, FINEST_UNIT, GRID = 20_000, 1_000_000, 1000


@dataclass(frozen=True)
class Piece:
    """A sleeve or blank to cut.

    Attributes
    ----------
    key : str
        The name written on the piece.
    length : float, Fraction or Length
        Inches, > the kerf. A scarf's is its overall length, tip to tip.
    count : int
        1 to 5000.
    mitre_deg : float
        Saw's mitre angle from square, degrees: 0 for a square blank, over 0 to 75 for a scarf.
    end : {"square", "scarf"}
        A scarf has two parallel mitred ends, so neighbours share one cut.
    """

    key: str
    length: Inches
    count: int = 1
    mitre_deg: float = 0.0
    end: str = "square"


@dataclass(frozen=True)
class Bar:
    """A bar on hand or to buy.

    Attributes
    ----------
    key : str
        The shop's name for it.
    length : float, Fraction or Length
        Usable length in inches, up to 1000, ends already square.
    count : int or None
        How many there are; None is as many as wanted (new bars only).
    is_remnant : bool
        A remnant is used before a new bar.
    cost : float
        Of one new bar, >= 0, any currency: decides between plans with as many new bars.
    """

    key: str
    length: Inches
    count: int | None = None
    is_remnant: bool = False
    cost: float = 0.0


def bad(title: str, given: object, allowed: str, next_step: str, field: str, kind: str = "bad-cutting") -> Problem:
    """Return the problem of a cutting job, by default of kind ``bad-cutting``.

    Parameters
    ----------
    title, given, allowed, next_step, field, kind
        As `core.problems.Problem`.

    Returns
    -------
    Problem

    >>> bad("The kerf is not a length.", -1, "0 or more inches.", "Measure it.", "kerf").kind
    'bad-cutting'
    """
    return Problem(kind, title, given=given, allowed=allowed, next_step=next_step, field=field)


def exact(value: Inches) -> Fraction:
    """Return inches as a fraction: the marked one if a float is within 1e-12 of it.

    >>> exact(0.1), exact(41.3 / 25.4)
    (Fraction(1, 10), Fraction(413, 254))
    """
    if isinstance(value, Length):
        return value.inches
    plain = Fraction(value)
    marked = plain.limit_denominator(EXACT_DENOMINATOR)
    return marked if isinstance(value, float) and abs(marked - plain) < 1e-12 * max(1, value) else plain


def is_length(value: object, allow_zero: bool = False) -> bool:
    """Return whether it is a finite length, positive or, if allowed, zero, up to 1000 in.

    >>> is_length(8.5), is_length(0), is_length(float("nan"))
    (True, False, False)
    """
    if isinstance(value, Length):
        value = value.inches
    if isinstance(value, bool) or not isinstance(value, int | float | Fraction) or not math.isfinite(value):
        return False
    return value <= LONGEST_BAR and (value > 0 or (allow_zero and value == 0))


def check(
    pieces: Sequence[Piece], bars: Sequence[Bar], kerf: Inches, min_remnant: Inches, sleeve_od: Inches | None
) -> None:
    """Raise every problem of a cutting job together: kinds ``bad-cutting`` and ``piece-too-long``.

    >>> check([Piece("A", 8.5, 2)], [Bar("short", 4.0)], 0.125, 0, None)
    Traceback (most recent call last):
    core.problems.Problem: pieces.0.length: Piece A is longer than every bar. ...
    """
    problems: list[Problem] = []
    span = f"inches over 0, up to {LONGEST_BAR:g}."
    for name, value in (("kerf", kerf), ("min_remnant", min_remnant)):
        if not is_length(value, allow_zero=True):
            problems.append(bad(f"The {name.replace('_', ' ')} is not a length.", value, f"0 or {span}", "Measure it.", name))
    wants_od = any(piece.end == "scarf" for piece in pieces)
    if (wants_od or sleeve_od is not None) and not is_length(sleeve_od):
        problems.append(bad("Mitred pieces need the outside diameter of the sleeve.", sleeve_od, span,
                            "Give the sleeve's outside diameter.", "sleeve_od"))  # fmt: skip
    for name, group, kinds in (("pieces", pieces, "kind of piece"), ("bars", bars, "bar")):
        if not 1 <= len(group) <= MOST_KINDS:
            problems.append(bad(f"The job needs at least one {kinds}.", len(group), f"1 to {MOST_KINDS} kinds.",
                                "Add one, or split the job.", name))  # fmt: skip
        keys = [thing.key for thing in group]
        for at, key in enumerate(keys):
            if not isinstance(key, str) or not key.strip() or key in keys[:at]:
                problems.append(bad("Each name is text and is used once.", key, "a name no other line has.",
                                    "Give it a name of its own.", f"{name}.{at}.key"))  # fmt: skip
            if not is_length(group[at].length):
                problems.append(bad("That is not a length.", group[at].length, span, "Measure it again.", f"{name}.{at}.length"))
    for at, piece in enumerate(pieces):
        _check_piece(piece, f"pieces.{at}", problems)
    for at, bar in enumerate(bars):
        _check_bar(bar, f"bars.{at}", problems)
    collect(problems)
    if sum(piece.count for piece in pieces) > MOST_PIECES:
        problems.append(bad("That is too many pieces for one job.", sum(piece.count for piece in pieces),
                            f"{MOST_PIECES} in all.", "Split the job.", "pieces"))  # fmt: skip
    _check_fit(pieces, bars, exact(kerf), None if sleeve_od is None else exact(sleeve_od), problems)
    collect(problems)


def _whole(value: object, least: int = 1) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and least <= value <= MOST_PIECES


def _check_piece(piece: Piece, field: str, problems: list[Problem]) -> None:
    counts = f"a whole number, 1 to {MOST_PIECES}."
    if not _whole(piece.count):
        problems.append(bad("That is not a number of pieces.", piece.count, counts, "Count the pieces again.", f"{field}.count"))
    if piece.end not in ENDS:
        problems.append(bad("That end is not one this cuts.", piece.end, "square, scarf.", "Choose one of these.", f"{field}.end"))
        return
    mitre = piece.mitre_deg
    is_angle = isinstance(mitre, int | float) and not isinstance(mitre, bool) and math.isfinite(mitre)
    if piece.end == "square" and not (is_angle and mitre == 0):
        problems.append(bad("A square blank has no mitre.", mitre, "0 degrees.", "Set it to 0, or make the end a scarf.",
                            f"{field}.mitre_deg"))  # fmt: skip
    if piece.end == "scarf" and not (is_angle and 0 < mitre <= STEEPEST_MITRE):
        problems.append(bad("That is no mitre for a scarf.", mitre, f"over 0, up to {STEEPEST_MITRE:g} degrees from square.",
                            "Read the saw's scale; 30° to the tube's axis is a 60° mitre.", f"{field}.mitre_deg"))  # fmt: skip


def _check_bar(bar: Bar, field: str, problems: list[Problem]) -> None:
    if not (bar.count is None and not bar.is_remnant) and not _whole(bar.count):
        problems.append(bad("That is not a number of bars.", bar.count,
                            f"a whole number, 1 to {MOST_PIECES}; or none for a new bar to buy as needed.",
                            "Count the bars on hand.", f"{field}.count"))  # fmt: skip
    cost = bar.cost
    if isinstance(cost, bool) or not isinstance(cost, int | float | Fraction) or not 0 <= cost < 1e6:
        problems.append(bad("That is not a cost.", cost, "a number from 0, under 1000000.", "Type what one bar costs.", f"{field}.cost"))


def _check_fit(
    pieces: Sequence[Piece], bars: Sequence[Bar], kerf: Fraction, sleeve_od: Fraction | None, problems: list[Problem]
) -> None:
    longest = max(bars, key=lambda bar: exact(bar.length))
    for at, piece in enumerate(pieces):
        length, field = exact(piece.length), f"pieces.{at}.length"
        if length <= kerf:
            problems.append(bad(f"Piece {piece.key} is no longer than the kerf.", f"{float(length):g} in",
                                f"more than the kerf, {float(kerf):g} in.", "Check the piece and the kerf.", field))  # fmt: skip
        if length > exact(longest.length):
            problems.append(bad(f"Piece {piece.key} is longer than every bar.", f"{float(length):g} in",
                                f"up to the longest bar, {longest.key}, {float(exact(longest.length)):g} in.",
                                "Add a longer bar, or make the piece shorter.", field, "piece-too-long"))  # fmt: skip
        if piece.end == "scarf":
            wedge = float(sleeve_od) * math.tan(math.radians(piece.mitre_deg))
            if float(length) - wedge <= float(kerf):
                problems.append(bad(f"The mitres of piece {piece.key} leave no tube between them.", f"{float(length):g} in",
                                    f"more than one mitre and the kerf, {wedge + float(kerf):.3f} in.",
                                    "A scarf's length is overall, tip to tip.", field))  # fmt: skip
    if sleeve_od is not None and kerf > sleeve_od:
        problems.append(bad("The kerf is wider than the tube.", f"{float(kerf):g} in", f"up to {float(sleeve_od):g} in.",
                            "Measure the blade's cut.", "kerf"))  # fmt: skip


@dataclass(frozen=True)
class Scale:
    """How inches became units: `unit` units to the inch, and what had to be rounded."""

    unit: int
    rounded: tuple[str, ...]

    def inches(self, units: int) -> float:
        """Return units as inches."""
        return units / self.unit


def to_units(
    pieces: Sequence[Piece], bars: Sequence[Bar], kerf: Inches, min_remnant: Inches, sleeve_od: Inches | None
) -> tuple[Job, Scale]:
    """Return a checked cutting job in whole units, needs rounded up and bars rounded down.

    A length on a mark (denominator up to 20000) stays exact while all of them share a unit of
    at least 1/1000000 in; any other goes to 1/1000 in.

    >>> job, scale = to_units([Piece("A", 8.5, 2)], [Bar("20 ft", 240.0)], 0.125, 0, None)
    >>> scale.unit, job.items[0].use  # by hand: (8.5 + 0.125) x 8
    (8, 69)
    """
    unit, rounded = 1, []
    named = [("the kerf", kerf), ("the least remnant", min_remnant)]
    named += [(f"piece {p.key}", p.length) for p in pieces if p.end == "square"] + [(f"bar {b.key}", b.length) for b in bars]
    for name, value in named:
        bottom = exact(value).denominator
        shared = math.lcm(unit, bottom)
        if bottom <= EXACT_DENOMINATOR and shared <= FINEST_UNIT:
            unit = shared
        else:
            rounded.append(name)
    scarfs = [p for p in pieces if p.end == "scarf"]
    if rounded or scarfs:
        rounded += [f"piece {p.key}" for p in scarfs]
        unit = math.lcm(unit, GRID)

    def up(value: Fraction) -> int:
        return math.ceil(value * unit)

    cut = up(exact(kerf))
    angles = sorted({p.mitre_deg for p in scarfs})
    setups, items = [0], []
    shares = {}
    for angle in angles:
        wedge, slant = mitre_use(kerf, sleeve_od, angle)
        setups.append(up(wedge) + cut - up(slant))
        shares[angle] = (len(setups) - 1, wedge, up(slant))
    for p in pieces:
        if p.end == "square":
            items.append(Item(up(exact(p.length)) + cut, up(exact(p.length)), 0, p.count))
        else:
            group, wedge, slant = shares[p.mitre_deg]
            metal = up(exact(p.length) - wedge)
            items.append(Item(metal + slant, metal, group, p.count))
    stocks = []
    for b in bars:
        length = math.floor(exact(b.length) * unit)
        stocks.append(Stock(length + cut, length, b.count, not b.is_remnant, float(b.cost)))
    return Job(tuple(items), tuple(setups), tuple(stocks), cut, up(exact(min_remnant))), Scale(unit, tuple(rounded))


def mitre_use(kerf: Inches, sleeve_od: Inches, mitre_deg: float) -> tuple[Fraction, Fraction]:
    """Return what a mitre spans along the bar and what its kerf eats: Ds tan m and k / cos m.

    Both in inches, to 1e-9. At 60° the kerf is exactly 2 k.

    >>> [round(float(x), 4) for x in mitre_use(0.125, 1.875, 60)]
    [3.2476, 0.25]
    """
    angle = math.radians(mitre_deg)
    slant = Fraction(1 / math.cos(angle)).limit_denominator(10**9)
    return exact(sleeve_od) * Fraction(math.tan(angle)).limit_denominator(10**9), exact(kerf) * slant


def read_cutting(data: object, *, default_unit: str = "in") -> dict[str, Any]:
    """Read a cutting job from its JSON form; returns the keyword arguments of `plan_cuts`.

    Members: ``pieces`` (key, length, count, end, mitre_deg), ``bars`` (key, length, count,
    is_remnant, cost), ``kerf``, ``min_remnant`` (optional, 0), ``sleeve_od`` (for mitres).
    Lengths are text. Raises every `Problem` together.

    >>> job = read_cutting({"kerf": "1/8 in", "pieces": [{"key": "A", "length": "8-1/2 in", "count": 2}],
    ...                     "bars": [{"key": "20 ft", "length": "20 ft"}]})
    >>> float(job["pieces"][0].length), float(job["bars"][0].length)
    (8.5, 240.0)
    """
    problems: list[Problem] = []
    if not isinstance(data, dict):
        raise bad("A cutting job needs pieces, bars and the kerf.", data, "an object with pieces, bars, kerf.",
                  "Give all three.", "")  # fmt: skip
    unknown_members(data, {"pieces", "bars", "kerf", "min_remnant", "sleeve_od"}, problems)

    def length(value: object, field: str, role: str = "length", allow_zero: bool = False) -> Length | None:
        try:
            return read_length(value, role=role, default_unit=default_unit, allow_zero=allow_zero)
        except Problem as problem:
            problems.append(problem.at(field))
            return None

    def lines(name: str, made: type, members: set[str]) -> list[Any]:
        rows = data.get(name)
        if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
            problems.append(bad(f"The {name} are not a list.", rows, "a list of objects.", f"List the {name}.", name))
            return []
        found = []
        for at, row in enumerate(rows):
            wrong: list[Problem] = []
            unknown_members(row, members, wrong)
            problems.extend(problem.at(f"{name}.{at}") for problem in wrong)
            rest = {k: v for k, v in row.items() if k in members - {"key", "length"}}
            if "end" in rest:
                try:
                    one_of("end", rest["end"], ENDS)
                except Problem as problem:
                    problems.append(problem.at(f"{name}.{at}.end"))
            if not isinstance(rest.get("is_remnant", False), bool):
                problems.append(bad("Remnant is yes or no.", rest["is_remnant"], "true or false.", "Say which.", f"{name}.{at}.is_remnant"))
            found.append(made(key=row.get("key"), length=length(row.get("length"), f"{name}.{at}.length"), **rest))
        return found

    job = {
        "pieces": lines("pieces", Piece, {"key", "length", "count", "end", "mitre_deg"}),
        "bars": lines("bars", Bar, {"key", "length", "count", "is_remnant", "cost"}),
        "kerf": length(data.get("kerf"), "kerf", allow_zero=True),
        "min_remnant": length(data["min_remnant"], "min_remnant", allow_zero=True) if "min_remnant" in data else 0,
        "sleeve_od": length(data["sleeve_od"], "sleeve_od", "diameter") if "sleeve_od" in data else None,
    }
    collect(problems)
    return job
