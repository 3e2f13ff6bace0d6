"""Lengths of an inner sleeve and its diagonal cut.

The stub is cut on one slant, so the cut takes D T of the tube's length (T = tan m). The gap is
counted along the axis. The sleeve's ends are square. With the sleeve's middle at the middle of
the gap, each end of the sleeve lies L/2 out and the nearest end of the cut lies (D T + g)/2 out.
Lengths in inches, mitre in degrees.

Source: AC 43.13-1B (Change 1, 2001) 4-95, from memory.
"""

from __future__ import annotations

import math

from core.sleeve import EndCut, required_overlap


def inner_rule_length(D: float, gap: float, cut: EndCut) -> float:
    """Return the shortest inner sleeve that reaches 1.5 D past the nearest end of each cut.

    L = 3 D + D T + g

    Parameters
    ----------
    D : float
        Outside diameter of the damaged tube, inches, > 0.
    gap : float
        Weld gap along the axis, inches, >= 0.
    cut : EndCut
        The tube's diagonal cut: a scarf, mitre over 0 and up to 75 degrees.

    Returns
    -------
    float
        Length between the sleeve's square ends, inches.

    Source: AC 43.13-1B (Change 1, 2001) 4-95, from memory; geometry by hand.

    >>> round(inner_rule_length(1.625, 0.125, EndCut("scarf", 60)), 4)
    7.8146
    """
    return 2 * required_overlap(D) + cut.depth(D / 2) + gap


def inner_overlap(length: float, D: float, gap: float, cut: EndCut) -> float:
    """Return how far each sleeve end reaches past the nearest end of its diagonal cut, inches.

    overlap = (L - D T - g) / 2

    Measured on the tube's outside, the sleeve centred on the gap.

    Parameters
    ----------
    length : float
        L, between the sleeve's square ends, inches, > 0.
    D, gap : float
        Outside diameter of the damaged tube, and gap along the axis, inches.
    cut : EndCut
        The tube's diagonal cut: a scarf, mitre over 0 and up to 75 degrees.

    Returns
    -------
    float
        Inches; negative when the sleeve does not get past the cut.

    Source: geometry by hand, checked in tests by sampling the cut planes.

    >>> round(inner_overlap(7.875, 1.625, 0.125, EndCut("scarf", 60)), 4)
    2.4677
    """
    return (length - cut.depth(D / 2) - gap) / 2


def gap_across(gap: float, cut: EndCut) -> float:
    """Return the gap measured square across the slant, g cos m, inches.

    Parameters
    ----------
    gap : float
        Along the axis, inches, >= 0.
    cut : EndCut
        Mitre over 0 and up to 75 degrees from square.

    Returns
    -------
    float
        Inches.

    Source: geometry by hand.

    >>> round(gap_across(0.125, EndCut("scarf", 60)), 6)
    0.0625
    """
    return gap * math.cos(math.radians(cut.mitre_deg))
