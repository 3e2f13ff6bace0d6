"""Tubing wall gauges: Birmingham Wire Gauge (BWG), in inches.

Sheet gauge differs (sheet 10 is 0.1345 in); a tube's gauge is BWG.
Source: ASTM A513 lists walls with their BWG number; values as tabulated there
(BWG 20 to 9 checked against a supplier's copy of the A513 type 5 wall table; 8 and 7
from the project's fact sheet).
"""

from fractions import Fraction

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
