"""What the welds at one end of a sleeve carry: the end fillet and the plug (rosette) welds.

The formulas are those of AISC 360 chapter J2 for building structures, used here only to
compare. Forces are kip, lengths inches, stresses ksi.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from core import rosette
from core.fillers import Filler
from core.problems import Problem
from core.quantity import decimal_text, fine_text, inch_fraction_text

FILLET_THROAT = 0.707  # throat over leg of an equal-leg fillet between square faces
SHEAR = 0.60  # weld metal and wall in shear, share of the ultimate
# Nominal to allowable (ASD, 1/2.00) and to design (LRFD) strength, welds and rupture.
WELD_FACTOR = {"asd": 0.50, "lrfd": 0.75}
SMALLEST_LEG = 0.125  # AISC 360 table J2.4, thinner part up to 1/4 in (seen in a reprint)
END_SHAPES = ("square", "scarf", "pointed", "fishmouth")
LEAN_STEPS = 180  # the mean throat is good to 1 part in 10,000


@dataclass(frozen=True)
class PlugCredit:
    """How one plug weld counts.

    Attributes
    ----------
    minimum, maximum : float
        Least and greatest diameter for the drilled wall, in.
    area : float
        Faying area credited to each plug, in^2; 0 if it gets none.
    reason : str
        Why, for a person.
    """

    minimum: float
    maximum: float
    area: float
    reason: str

    @property
    def diameter(self) -> float:
        """Diameter that counts, in."""
        return math.sqrt(4 * self.area / math.pi)


@dataclass(frozen=True)
class Lean:
    """How far the sleeve's end face leans against the tube, and what that does to the throat.

    Attributes
    ----------
    psi_low, psi_high : float
        Smallest and largest angle between the end face and the tube's surface, degrees.
    least_throat : float
        Throat over leg at the largest angle.
    mean_share : float
        Mean throat along the weld line as a share of the square-face throat.
    """

    psi_low: float
    psi_high: float
    least_throat: float
    mean_share: float


def plug_minimum(wall: float) -> float:
    """Return the least plug weld hole diameter for the drilled wall.

    t + 5/16 in, rounded up to the next odd 1/16 in.

    Parameters
    ----------
    wall : float
        Wall of the drilled (outer) tube, inches, over 0.

    Returns
    -------
    float
        Inches.

    Notes
    -----
    Source: AISC 360 J2.3b, from memory.

    >>> plug_minimum(0.120)
    0.4375
    """
    return float(rosette.plug_minimum(Fraction(wall).limit_denominator(10**6)))


def plug_credit(wall: float, diameter: float) -> PlugCredit:
    """Return how much of a plug weld counts.

    Area pi d^2 / 4 in the faying plane from the least diameter up. Under it: nothing. Over
    the greatest diameter (the larger of least + 1/8 in and 2-1/4 t) only that much counts.

    Parameters
    ----------
    wall : float
        Wall of the drilled tube, inches, over 0.
    diameter : float
        Hole diameter, inches, over 0.

    Returns
    -------
    PlugCredit

    Notes
    -----
    Source: AISC 360 J2.3a and J2.3b, from memory; no credit for an undersized plug is this
    project's rule.

    >>> plug_credit(0.120, 13 / 32).reason
    'A 13/32 in plug is under the 7/16 in minimum for a 0.120 in wall (t + 5/16 in, up to the next odd 1/16 in): no credit.'
    """
    least = plug_minimum(wall)
    most = max(least + 1 / 8, 2.25 * wall)
    size = _size(diameter)
    if diameter < least - 1e-9:
        return PlugCredit(least, most, 0.0,
                          f"A {size} plug is under the {_size(least)} minimum for a {fine_text(wall, False)} wall "
                          "(t + 5/16 in, up to the next odd 1/16 in): no credit.")  # fmt: skip
    if diameter > most + 1e-9:
        return PlugCredit(least, most, math.pi * most**2 / 4,
                          f"A {size} plug is over the {_size(most)} maximum: it counts as that size.")  # fmt: skip
    return PlugCredit(least, most, math.pi * diameter**2 / 4, f"A {size} plug counts by its area at the tube.")


def face_lean(end_shape: str, mitre_deg: float) -> Lean:
    """Return how the end face leans around the tube.

    cos(psi) = s sin(m) c: c is |cos a| for pointed (s = -1) and fishmouth (s = +1), cos a for
    a scarf (s = +1), with the angle a around the tube. Throat of an equal-leg fillet:
    leg cos(psi/2). The mean is taken along the weld line, ds = r sqrt(1 + tan^2 m sin^2 a) da.

    Parameters
    ----------
    end_shape : {"square", "scarf", "pointed", "fishmouth"}
    mitre_deg : float
        Saw angle from square, degrees, 0 to under 90.

    Returns
    -------
    Lean

    Raises
    ------
    Problem
        ``bad-splice`` for an end shape that is not known.

    Notes
    -----
    Source: plane geometry; the throat of a leaning fillet: textbook geometry, advisory here.

    >>> lean = face_lean("pointed", 60)
    >>> round(lean.psi_low), round(lean.psi_high), round(lean.least_throat, 3)
    (90, 150, 0.259)
    """
    if end_shape not in END_SHAPES:
        raise Problem(
            "bad-splice", "That end shape is not known.", given=end_shape,
            allowed=", ".join(END_SHAPES) + ".", next_step="Choose one of these.", field="end_shape",
        )  # fmt: skip
    m = 0.0 if end_shape == "square" else math.radians(mitre_deg)
    low = 90 - math.degrees(m) * (end_shape in ("scarf", "fishmouth"))
    high = 90 + math.degrees(m) * (end_shape in ("scarf", "pointed"))
    sums = [0.0, 0.0]
    for step in range(LEAN_STEPS):
        around = (step + 0.5) * 2 * math.pi / LEAN_STEPS
        c = math.cos(around) if end_shape == "scarf" else abs(math.cos(around))
        toward = -c if end_shape == "pointed" else c
        psi = math.acos(math.sin(m) * toward)
        ds = math.hypot(1.0, math.tan(m) * math.sin(around))
        sums[0] += math.cos(psi / 2) * ds
        sums[1] += ds
    return Lean(low, high, math.cos(math.radians(high) / 2), sums[0] / sums[1] / math.cos(math.pi / 4))


def fillet_force(filler: Filler, leg: float, wall_ultimate: float | None, method: str) -> float:
    """Return what one inch of the end fillet carries, kip/in.

    The lower of weld metal, 0.60 FEXX 0.707 leg, and steel at the fusion face, 0.60 Fu leg,
    times 0.50 (ASD: 0.30 FEXX on the throat) or 0.75 (LRFD).

    Parameters
    ----------
    filler : Filler
    leg : float
        Fillet leg, inches, over 0.
    wall_ultimate : float or None
        Lower ultimate of the two tubes beside the weld, ksi; None leaves the face out.
    method : {"asd", "lrfd"}

    Returns
    -------
    float

    Notes
    -----
    Source: AISC 360 table J2.5 and J4.2, from memory. No directional increase is taken.

    >>> from core.fillers import filler
    >>> round(fillet_force(filler("er70s-2"), 0.120, 50, "asd"), 4)
    1.7816
    """
    metal = SHEAR * filler.ultimate_ksi * FILLET_THROAT * leg
    face = math.inf if wall_ultimate is None else SHEAR * wall_ultimate * leg
    return WELD_FACTOR[method] * min(metal, face)


def plug_force(filler: Filler, credit: PlugCredit, thinner_wall: float, wall_ultimate: float | None, method: str) -> float:
    """Return what one plug weld carries in shear, kip.

    The lower of weld metal, 0.60 FEXX pi d^2 / 4, and the wall around it, 0.60 Fu pi d t,
    times 0.50 (ASD) or 0.75 (LRFD).

    Parameters
    ----------
    filler : Filler
    credit : PlugCredit
    thinner_wall : float
        Thinner wall of the two tubes, inches.
    wall_ultimate : float or None
        Lower ultimate of the two tubes beside the weld, ksi; None leaves the wall out.
    method : {"asd", "lrfd"}

    Returns
    -------
    float

    Notes
    -----
    Source: AISC 360 table J2.5 and J4.2, from memory; the perimeter rule for the wall is this
    project's, a little under the sheet-tearing rule for arc spot welds (AISI S100, from memory).

    >>> from core.fillers import filler
    >>> round(plug_force(filler("er70s-2"), plug_credit(0.120, 0.4375), 0.120, None, "asd"), 3)
    3.157
    """
    metal = SHEAR * filler.ultimate_ksi * credit.area
    wall = math.inf if wall_ultimate is None else SHEAR * wall_ultimate * math.pi * credit.diameter * thinner_wall
    return WELD_FACTOR[method] * min(metal, wall)


def ring_lever(load: str, radius: float, weld_line: float) -> float:
    """Return what the weld line of one end is worth for a load, per kip/in of weld.

    Axial: the real line L, in. Bending: the lower of pi r^2 (square ring) and L r / 2, in^2.
    Torsion: the lower of 2 pi r^2 and L r, in^2.

    Parameters
    ----------
    load : {"axial", "bending", "torsion"}
    radius : float
        Outside radius of the inner tube, inches.
    weld_line : float
        Length of the weld around the tube, inches.

    Returns
    -------
    float

    Notes
    -----
    Source: the weld treated as a line, textbook (circle: pi d^2 / 4 and pi d^2 / 2 per unit
    throat). A mitred end is projected to the square ring: assumption.

    >>> round(ring_lever("bending", 0.8125, 7.871864), 4)
    2.0739
    """
    if load == "axial":
        return weld_line
    ring = min(2 * math.pi * radius, weld_line) * radius
    return ring if load == "torsion" else ring / 2


def plug_lever(load: str, radius: float, count: int) -> float:
    """Return what `count` plugs of one end are worth for a load, per kip on one plug.

    Axial n; torsion n r; bending n r / 2 for three or more evenly spaced, nothing for one
    or two, which may lie on the axis that the tube bends about.

    Parameters
    ----------
    load : {"axial", "bending", "torsion"}
    radius : float
        Outside radius of the inner tube, inches.
    count : int
        Plugs at one end, 0 or more.

    Returns
    -------
    float

    Notes
    -----
    Source: elastic weld group, textbook.

    >>> plug_lever("bending", 0.8125, 2), plug_lever("axial", 0.8125, 2)
    (0.0, 2.0)
    """
    if load == "axial":
        return float(count)
    if load == "torsion":
        return count * radius
    return count * radius / 2 if count >= 3 else 0.0


def _size(inches: float) -> str:
    return inch_fraction_text(inches) or f"{decimal_text(inches, 4)} in"
