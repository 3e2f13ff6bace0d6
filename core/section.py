"""Section properties of a round tube, whole and at a row of drilled holes.

Lengths are inches, areas square inches. The formulas are the usual ones for a hollow
circle; `tests/validation/` checks them against an outside finite-element library.
Source: textbook geometry of the circle, from memory.
"""

from __future__ import annotations

import math
from dataclasses import asdict, dataclass
from typing import Any

from core.problems import Problem
from core.quantity import decimal_text
from core.tube import Tube
from core.units import KG_PER_POUND, MM_PER_INCH

STEEL_DENSITY = 0.2836  # lb/in^3, carbon and low-alloy steel, from memory; equals 7850 kg/m^3


@dataclass(frozen=True)
class Section:
    """Properties of a round tube's cross-section, in inches.

    Attributes
    ----------
    D, t : float
        Outside diameter and wall, in.
    area : float
        Metal area, in^2.
    I : float
        Second moment of area about any diameter, in^4.
    S : float
        Elastic section modulus, in^3.
    Z : float
        Plastic section modulus, in^3.
    J : float
        Torsion constant (polar second moment), in^4.
    r : float
        Radius of gyration, in.
    mass : float
        Mass of one inch of tube at `STEEL_DENSITY`, lb.
    """

    D: float
    t: float
    area: float
    I: float  # noqa: E741  (the trade's symbol)
    S: float
    Z: float
    J: float
    r: float
    mass: float

    @property
    def mean_radius(self) -> float:
        """Radius of the middle of the wall, in."""
        return (self.D - self.t) / 2

    def as_dict(self) -> dict[str, Any]:
        """Return the JSON form: unrounded, units in the names, area and mass also metric."""
        mm = float(MM_PER_INCH)
        return {
            "outside_diameter_in": self.D, "wall_in": self.t,
            "area_in2": self.area, "area_mm2": self.area * mm**2,
            "second_moment_in4": self.I, "elastic_modulus_in3": self.S, "plastic_modulus_in3": self.Z,
            "torsion_constant_in4": self.J, "radius_of_gyration_in": self.r,
            "mass_lb_per_ft": self.mass * 12, "mass_kg_per_m": self.mass * float(KG_PER_POUND) / mm * 1000,
            "text": f"{decimal_text(self.area, 3)} in² ({decimal_text(self.area * mm**2, 0)} mm²), "
                    f"{decimal_text(self.mass * 12, 3)} lb/ft",
        }  # fmt: skip


@dataclass(frozen=True)
class NetSection:
    """What is left of a tube's section across a row of holes: area in^2, plastic modulus in^3."""

    area: float
    Z: float

    def as_dict(self) -> dict[str, float]:
        """Return the JSON form, unrounded."""
        return asdict(self)


def round_section(outside_diameter: float, wall: float) -> Section:
    """Return the section properties of a round tube.

    With d = D - 2t: A = pi (D - t) t; I = A (D^2 + d^2) / 16; S = 2 I / D;
    Z = (D^3 - d^3) / 6; J = 2 I; r = sqrt(D^2 + d^2) / 4; mass = 0.2836 A.

    Parameters
    ----------
    outside_diameter : float
        D, inches, over 0.
    wall : float
        t, inches, over 0 and under D / 2.

    Returns
    -------
    Section

    Raises
    ------
    Problem
        ``bad-section`` for a wall that is not between 0 and half the diameter.

    Notes
    -----
    Source: textbook formulas for a hollow circle. Density: from memory (7850 kg/m^3).

    >>> tube = round_section(1.625, 0.120)
    >>> round(tube.area, 4), round(tube.I, 4), round(tube.S, 4), round(tube.Z, 4)
    (0.5674, 0.1617, 0.199, 0.2724)
    """
    if not (math.isfinite(outside_diameter) and 0 < 2 * wall < outside_diameter):
        raise Problem(
            "bad-section", "These sizes make no tube.", given=f"outside diameter {outside_diameter} in, wall {wall} in",
            allowed="a wall over 0 and under half of the outside diameter.",
            next_step="Measure the diameter and the wall again.",
        )  # fmt: skip
    D, t = outside_diameter, wall
    d = D - 2 * t
    area = math.pi * (D - t) * t
    # A (D² + d²) / 16 keeps its digits for a thin wall; D⁴ − d⁴ does not.
    I = area * (D**2 + d**2) / 16  # noqa: E741
    return Section(
        D=D, t=t, area=area, I=I, S=2 * I / D, Z=(D**3 - d**3) / 6, J=2 * I,
        r=math.hypot(D, d) / 4, mass=STEEL_DENSITY * area,
    )  # fmt: skip


def tube_section(tube: Tube) -> Section:
    """Return the section properties of `tube`, as `round_section`.

    >>> from core.tube import read_tube
    >>> tube = read_tube({"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020"})
    >>> round(tube_section(tube).area, 3)
    0.662
    """
    return round_section(tube.D, tube.t)


def net_section(section: Section, holes: int, diameter: float) -> NetSection:
    """Return the section across a row of holes, the tube turned the worst way.

    A_net = A - n d t. Z_net = Z - d t r_m k, with k the largest sum of |cos| that n evenly
    spaced holes reach: 2 / sin(pi/n) for even n, 1 / sin(pi/2n) for odd n. An odd row moves
    the plastic neutral axis, which takes off d^2 t / 8 more.

    Parameters
    ----------
    section : Section
    holes : int
        Holes at one station, evenly spaced around the tube, 0 or more.
    diameter : float
        Hole diameter d, inches; n d at most half of the way around the tube.

    Returns
    -------
    NetSection

    Raises
    ------
    Problem
        ``bad-section`` where the holes take more than half of the way around.

    Notes
    -----
    Source of A_net without the weld metal in the holes: AISC 360 B4.3b, from memory.
    Z_net: derived here, holes taken as strips d wide at the middle of the wall.

    >>> net = net_section(round_section(1.875, 0.120), 2, 0.4375)
    >>> round(net.area, 4), round(net.Z, 4)
    (0.5566, 0.278)
    """
    if holes == 0:
        return NetSection(section.area, section.Z)
    if holes * diameter > math.pi * section.D / 2:
        raise Problem(
            "bad-section", "The holes take more than half of the way around the tube.",
            given=f"{holes} holes of {diameter:g} in on a {section.D:g} in tube",
            allowed=f"{math.pi * section.D / 2:.3f} in for all holes of a row together.",
            next_step="Use fewer or smaller holes.",
        )  # fmt: skip
    strip = diameter * section.t
    if holes % 2:
        reach, shift = 1 / math.sin(math.pi / (2 * holes)), diameter**2 * section.t / 8
    else:
        reach, shift = 2 / math.sin(math.pi / holes), 0.0
    return NetSection(
        area=section.area - holes * strip,
        Z=max(0.0, section.Z - strip * section.mean_radius * reach - shift),
    )
