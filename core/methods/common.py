"""What the inner sleeve and the larger tube share: blank, holes, numbers, warnings, checks."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Any

from core.methods.outer_sleeve import RULER_INCHES, RULER_MM
from core.quantity import down, fine_text, near, quantity, round_to, up
from core.rosette import hole_sizes
from core.rules import Check, clause, verdict
from core.sleeve import EndCut
from core.tube import Tube
from core.units import MM_PER_INCH

BODY_STATUS = 400


def blank(exact: float, metric: bool) -> float:
    """Return a needed length rounded up to the shop's ruler, inches.

    Parameters
    ----------
    exact : float
        Needed length, inches, >= 0.
    metric : bool
        1 mm ruler if true, else 1/16 in.

    Source: hand.

    >>> blank(7.8145, False), round(blank(7.8145, True) * 25.4, 6)
    (7.875, 199.0)
    """
    if metric:
        return round_to(exact * float(MM_PER_INCH), RULER_MM, "up") / float(MM_PER_INCH)
    return round_to(exact, RULER_INCHES, "up")


def number(label: str, value: dict[str, Any] | str, note: str = "") -> dict[str, Any]:
    """Return one row of ``numbers``: what a person reads first.

    >>> number("Angle", "30°")
    {'label': 'Angle', 'value': '30°', 'note': ''}
    """
    return {"label": label, "value": value, "note": note}


def tube_echo(part: Tube, metric: bool) -> dict[str, Any]:
    """Return a tube as it was read, with its inside diameter and metal area."""
    return {"od": part.od.echo(), "wall": part.wall.echo(), "inside": near(part.d, metric),
            "material": part.material.key, "material_name": part.material.name, "seam": part.seam,
            "area_in2": part.area}  # fmt: skip


def clearance_block(fit: Any, metric: bool, less: float = 0.0) -> dict[str, Any]:
    """Return a `core.fit.Clearance` as quantities, each less `less` inches of diameter."""
    def lowest(value):
        return None if value is None else down(value - less, metric)

    def highest(value):
        return None if value is None else up(value - less, metric)

    return {"nominal": near(fit.nominal - less, metric), "worst_min": lowest(fit.worst_min), "worst_max": highest(fit.worst_max),
            "by_wall_min": lowest(fit.by_wall_min), "by_wall_max": highest(fit.by_wall_max)}  # fmt: skip


def range_check(low: float, high: float, largest: Fraction, metric: bool) -> Check:
    """Return the verdict on the tightest and loosest fit the tolerances allow.

    Parameters
    ----------
    low, high : float
        Smallest and largest diameter clearance, inches.
    largest : Fraction
        Limit on the diameter, inches.

    Source: ASTM A513 type 5 tables (`core.tolerances`).
    """
    # Tolerances are known to a thousandth; rounding error must not turn a limit into a miss.
    low, high = round(low, 6), round(high, 6)
    if high < 0:
        outcome, text = False, "It cannot go in at any tolerance. Choose another size."
    elif low > float(largest):
        outcome, text = False, "It is too loose at any tolerance. Choose another size."
    elif low < 0:
        outcome, text = None, "At the tight end of the tolerances it will not go in. Measure both tubes before you cut."
    elif high > float(largest):
        outcome, text = None, "At the loose end of the tolerances it is over the limit. Measure both tubes before you cut."
    else:
        outcome, text = True, "It fits at both ends of the tolerances."
    given = f"{fine_text(low, metric, 'down')} to {fine_text(high, metric, 'up')}"
    return Check("clearance_worst", clause("dom").label(), given, f"{limit_text(metric)} at both ends", verdict(outcome), text)


def limit_text(metric: bool) -> str:
    """Return the clearance limit 0 to 1/16 in as a person reads it, rounded down.

    >>> limit_text(True)
    '0 to 1.58 mm'
    """
    return "0 to 1.58 mm" if metric else "0 to 1/16 in"


def angle_check(cut: EndCut, rule: str) -> Check:
    """Return the check of a mitred cut against the 30 degrees to the axis of the figures."""
    angle = 90 - cut.mitre_deg
    met = True if abs(angle - 30) < 1e-9 else None
    text = "The angle the circular's figures draw." if met else "The circular's figures draw 30° to the axis. Ask the inspector about this angle."
    return Check("end_angle", rule, f"{angle:g}° to the axis", "30° to the axis", verdict(met), text)


def holes(inner_od: Fraction, drilled: Tube, metric: bool) -> list[dict[str, Any]]:
    """Return the rosette diameters by source, as JSON-ready rows.

    Parameters
    ----------
    inner_od : Fraction
        OD of the tube inside, inches.
    drilled : Tube
        The outer part, which is drilled.

    Source: `core.rosette.hole_sizes`.
    """
    return [{"key": hole.key, "source": hole.source, "text": hole.text,
             "diameter": quantity(float(hole.diameter), fine_text(float(hole.diameter), True) if metric else f"{hole.diameter} in")}
            for hole in hole_sizes(inner_od, drilled.od.inches, drilled.wall.inches)]  # fmt: skip


def ranked(checks: Iterable[Check], notes: Iterable[tuple[int, str]]) -> list[dict[str, Any]]:
    """Return warnings, the ones that can hurt someone first: missed checks 1, unknown ones 3.

    >>> ranked([], [(3, "b"), (1, "a")])[0]
    {'rank': 1, 'text': 'a'}
    """
    words = {"not met": 1, "unknown": 3}
    found = [(words[check.verdict], check.text) for check in checks if check.verdict in words]
    return [{"rank": rank, "text": text} for rank, text in sorted([*found, *notes], key=lambda item: item[0])]
