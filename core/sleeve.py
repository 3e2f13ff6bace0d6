"""Sleeve geometry: end profiles, rule length, overlap on each surface, weld line.

The end of a sleeve on radius r, at angle a around the tube, lies along the tube at

    square 0 · scarf r T cos a · pointed -r T |cos a| · fishmouth +r T |cos a|

from the end's reference plane; T = tan m, m the saw's mitre angle from a square cut
(a 60 degree mitre lies 30 degrees to the axis). Pointed is two mirrored mitres that leave
sharp tips and smooth valleys; fishmouth is a V notch with rounded tips and a sharp crotch.

Source of the overlap: AC 43.13-1B (Change 1, 2001) 4-97, "1-1/2 tube diameters" from the
end of the cut; 4-96 the same, from memory. Profiles: a plane cutting a cylinder, derived in
DEVELOPERS.md. Lengths in inches, mitre in degrees.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.problems import Problem
from core.tube import one_of

ENDS = ("pointed", "fishmouth", "scarf", "square")
STEEPEST_MITRE = 75.0
OVERLAP_DIAMETERS = 1.5


@dataclass(frozen=True)
class EndCut:
    """How both ends of a sleeve are cut.

    Attributes
    ----------
    end : str
        "pointed", "fishmouth", "scarf" or "square".
    mitre_deg : float
        Saw angle from a square cut, 0 < m <= 75; ignored for a square end.
    """

    end: str
    mitre_deg: float = 60.0

    @property
    def slope(self) -> float:
        """T = tan m; 0 for a square end."""
        return 0.0 if self.end == "square" else math.tan(math.radians(self.mitre_deg))

    def profile(self, radius: float, angle: float) -> float:
        """Return the axial place of the end on a surface, from the end's reference plane.

        Parameters
        ----------
        radius : float
            Radius of the surface, inches, > 0.
        angle : float
            Angle around the tube, radians.

        Source: plane cutting a cylinder (hand derivation in DEVELOPERS.md).

        >>> EndCut("pointed", 45).profile(1.0, 0.0)
        -0.9999999999999999
        """
        reach = radius * self.slope * math.cos(angle)
        return {"square": 0.0, "scarf": reach, "pointed": -abs(reach), "fishmouth": abs(reach)}[self.end]

    def tip_reach(self, radius: float) -> float:
        """Return how far the tips stand outside the reference plane on a surface, inches."""
        return radius * self.slope if self.end in ("scarf", "fishmouth") else 0.0

    def valley_reach(self, radius: float) -> float:
        """Return how far the nearest metal lies inside the reference plane on a surface, inches."""
        return radius * self.slope if self.end in ("scarf", "pointed") else 0.0

    def depth(self, radius: float) -> float:
        """Return the axial depth of the cut on a surface, tip to valley, inches.

        >>> round(EndCut("scarf", 60).depth(0.9375), 4)
        3.2476
        """
        return self.tip_reach(radius) + self.valley_reach(radius)


def read_end_cut(end: object, mitre_deg: object) -> EndCut:
    """Read the end shape and the saw's mitre angle.

    Raises
    ------
    Problem
        ``bad-choice`` for the shape; ``bad-angle`` for an angle outside 0 < m <= 75.

    >>> read_end_cut("pointed", 60)
    EndCut(end='pointed', mitre_deg=60.0)
    """
    try:
        shape = one_of("end shape", end, ENDS)
    except Problem as problem:
        raise problem.at("end") from None
    if shape == "square":
        return EndCut(shape, 0.0)
    is_number = isinstance(mitre_deg, int | float) and not isinstance(mitre_deg, bool)
    if not is_number or not 0 < mitre_deg <= STEEPEST_MITRE:
        raise Problem(
            "bad-angle", "The mitre angle cannot be cut.", given="nothing" if mitre_deg is None else mitre_deg,
            allowed=f"a number of degrees from a square cut, over 0 and up to {STEEPEST_MITRE:g}.",
            next_step="Give the saw's angle from square; 60 is the circular's 30 degrees to the axis.",
            field="mitre_deg",
        )  # fmt: skip
    return EndCut(shape, float(mitre_deg))


def required_overlap(D: float) -> float:
    """Return the overlap the circular asks for on each side, 1.5 D.

    Parameters
    ----------
    D : float
        Outside diameter of the damaged tube, inches.

    Source: AC 43.13-1B (Change 1, 2001) 4-92 and 4-97; 4-96 from memory.

    >>> required_overlap(1.625)
    2.4375
    """
    return OVERLAP_DIAMETERS * D


def rule_length(D: float, Ds: float, gap: float, cut: EndCut) -> float:
    """Return the shortest sleeve that keeps its nearest metal 1.5 D past each stub end.

    L = 3 D + g + 2 (tip reach + valley reach) on the sleeve's outside: pointed and
    fishmouth 3 D + g + Ds T, scarf 3 D + g + 2 Ds T, square 3 D + g.

    Parameters
    ----------
    D, Ds : float
        Outside diameters of tube and sleeve, inches.
    gap : float
        Distance between the two stub ends, inches, >= 0.
    cut : EndCut

    Returns
    -------
    float
        Overall length tip to tip on the sleeve's outside, inches.

    Source: AC 43.13-1B (Change 1, 2001) 4-97; geometry by hand.

    >>> round(rule_length(1.625, 1.875, 0, EndCut("pointed")), 3)
    8.123
    """
    return 2 * required_overlap(D) + gap + 2 * cut.depth(Ds / 2)


def shorthand_length(D: float, cut: EndCut) -> float:
    """Return the length shops use by habit, with the tube's D where the cut runs on Ds.

    L = 3 D + D T (pointed, fishmouth), 3 D + 2 D T (scarf), 3 D (square); no gap.

    Source: common practice, no source. It is short for a sleeve larger than the tube.

    >>> round(shorthand_length(1.625, EndCut("pointed")), 4)
    7.6896
    """
    return 2 * required_overlap(D) + 2 * cut.depth(D / 2)


def overlap(length: float, surface_radius: float, Ds: float, gap: float, cut: EndCut) -> float:
    """Return the axial distance from a stub end to the nearest sleeve metal on one surface.

    overlap = L/2 - (tip reach on the outside) - g/2 - (valley reach on the surface)

    Parameters
    ----------
    length : float
        Overall sleeve length, tip to tip on its outside, centred on the cut, inches.
    surface_radius : float
        Ds/2 for the outside, ds/2 for the inside, D/2 for the weld-root line.
    Ds, gap : float
        Sleeve outside diameter and distance between the stub ends, inches.
    cut : EndCut

    Returns
    -------
    float
        Inches; negative when the sleeve does not reach past the stub end there.

    Source: geometry by hand, checked in tests by sampling the profile.

    >>> round(overlap(7.6875, 0.8125, 1.875, 0, EndCut("pointed")) / 1.625, 4)
    1.4994
    """
    return length / 2 - cut.tip_reach(Ds / 2) - gap / 2 - cut.valley_reach(surface_radius)


def weld_line(D: float, cut: EndCut) -> float:
    """Return the length of one end's weld around the tube's outside.

    S = 4 r sec m E(sin^2 m), E the complete elliptic integral of the second kind with
    parameter k^2; every mitred end cuts the same length, a square end pi D.

    Parameters
    ----------
    D : float
        Tube outside diameter, inches.
    cut : EndCut

    Source: arc length of a plane section of a cylinder (an ellipse); checked against
    scipy.integrate.quad and scipy.special.ellipe.

    >>> round(weld_line(1.625, EndCut("pointed", 60)), 6)
    7.871864
    """
    if cut.end == "square":
        return math.pi * D
    m = math.radians(cut.mitre_deg)
    return 2 * D / math.cos(m) * complete_elliptic_e(math.sin(m) ** 2)


def complete_elliptic_e(parameter: float) -> float:
    """Return the complete elliptic integral of the second kind E(k^2), 0 <= k^2 < 1.

    Arithmetic-geometric mean; relative error under 1e-14 in the range. Written here because
    loading a numerical library would double the start-up time; tests compare with scipy.

    Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 17.6.

    >>> complete_elliptic_e(0.0) == math.pi / 2
    True
    """
    a, b, c = 1.0, math.sqrt(1 - parameter), math.sqrt(parameter)
    total, weight = parameter / 2, 0.5
    while c > 1e-9:  # the next correction is c^4, far under the rounding error
        a, b, c = (a + b) / 2, math.sqrt(a * b), (a - b) / 2
        weight *= 2
        total += weight * c * c
    return math.pi / (2 * a) * (1 - total)


def mitre_kerf(kerf: float, mitre_deg: float) -> float:
    """Return what a mitre cut eats along the bar, k / cos m.

    Source: hand; a blade of width k crossing the axis at angle m from square.

    >>> round(mitre_kerf(0.0625, 60), 6)
    0.125
    """
    return kerf / math.cos(math.radians(mitre_deg))
