"""Tubing wall gauges: Birmingham Wire Gauge (BWG), in inches.

Sheet gauge differs (sheet 10 is 0.1345 in); a tube's gauge is BWG.
Source: ASTM A513 lists walls with their BWG number; values as tabulated there
(BWG 20 to 9 checked against a supplier's copy of the A513 type 5 wall table; 8 and 7
from the project's fact sheet).
"""

from fractions import Fraction

from core.quantity import decimal_text, thousandths_text

GAUGE_INCHES: dict[int, Fraction] = {
    number: Fraction(thousandths, 1000)
    for number, thousandths in {
        20: 35, 19: 42, 18: 49, 17: 58, 16: 65, 15: 72, 14: 83,
        13: 95, 12: 109, 11: 120, 10: 134, 9: 148, 8: 165, 7: 180,
    }.items()
}  # fmt: skip


def gauge_for(wall: Fraction) -> int | None:
    """Return the BWG number whose wall is exactly `wall` inches, or None.

    >>> gauge_for(Fraction(120, 1000))
    11
    """
    return next((number for number, inches in GAUGE_INCHES.items() if inches == wall), None)


def next_thicker(wall: float) -> Fraction | None:
    """Return the gauge wall one step thicker than `wall` inches, or None past 7 gauge.

    Source: AC 43.13-1B 4-94 asks for a patch "one gauge thicker".

    >>> next_thicker(0.120)
    Fraction(67, 500)
    """
    thicker = sorted(value for value in GAUGE_INCHES.values() if float(value) > wall + 1e-9)
    return thicker[0] if thicker else None


def gauge_text(wall: Fraction) -> str:
    """Return a gauge of the table with its wall in both units.

    Parameters
    ----------
    wall : Fraction
        A wall of `GAUGE_INCHES`, inches, .035 to .180.

    Returns
    -------
    str
        Inches to a thousandth, millimetres to two places.

    Source: `GAUGE_INCHES`; 25.4 mm to the inch.

    >>> gauge_text(Fraction(134, 1000))
    '10 ga (0.134 in, 3.4 mm)'
    """
    return f"{gauge_for(wall)} ga ({thousandths_text(wall)} in, {decimal_text(wall * 254 / 10, 2)} mm)"
