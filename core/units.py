"""Exact unit factors. One inch is exactly 25.4 mm (international inch, 1959).

`tests/core/test_units.py` checks every factor against pint's own table.
"""

from fractions import Fraction

MM_PER_INCH = Fraction(127, 5)
INCHES_PER: dict[str, Fraction] = {
    "in": Fraction(1),
    "ft": Fraction(12),
    "thou": Fraction(1, 1000),
    "mm": 1 / MM_PER_INCH,
    "cm": 10 / MM_PER_INCH,
    "m": 1000 / MM_PER_INCH,
}
KG_PER_POUND = Fraction(45359237, 100000000)
MPA_PER_KSI = Fraction(6894757293168, 1000000000000)
