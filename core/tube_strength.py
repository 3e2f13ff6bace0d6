"""What a round tube carries at one place: in axial load, bending and torsion, ASD and LRFD.

AISC 360 formulas for building structures, used here only to compare two tubes.
Forces are kip, moments kip-in, stresses ksi.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.section import NetSection, Section

LOADS = ("axial", "bending", "torsion")
CODES = ("asd", "lrfd")
STEEL_MODULUS = 29000.0  # ksi, AISC 360, from memory
YIELD_FACTOR = {"asd": 1 / 1.67, "lrfd": 0.90}
RUPTURE_FACTOR = {"asd": 1 / 2.00, "lrfd": 0.75}
SHEAR = 0.60
COMPACT, SLENDER = 0.07, 0.31  # D/t limits over E/Fy, AISC 360 table B4.1b, from memory


@dataclass(frozen=True)
class Capacity:
    """A capacity (kip, or kip-in) and the limit that sets it; value None where not known."""

    value: float | None
    limit: str


UNKNOWN = Capacity(None, "unknown: the material's strength is not known")


def wall_class(section: Section, yield_ksi: float) -> str:
    """Return "compact", "noncompact" or "slender" for a round tube in bending.

    D/t against 0.07 E/Fy and 0.31 E/Fy.

    Parameters
    ----------
    section : Section
    yield_ksi : float
        Fy, ksi, over 0.

    Returns
    -------
    str

    Notes
    -----
    Source: AISC 360 table B4.1b, from memory.

    >>> from core.section import round_section
    >>> wall_class(round_section(1.625, 0.120), 60), wall_class(round_section(2.5, 0.035), 60)
    ('compact', 'noncompact')
    """
    slenderness, unit = section.D / section.t, STEEL_MODULUS / yield_ksi
    if slenderness <= COMPACT * unit:
        return "compact"
    return "noncompact" if slenderness <= SLENDER * unit else "slender"


def tube_capacity(
    section: Section, net: NetSection, yield_ksi: float | None, ultimate_ksi: float | None, load: str, code: str
) -> Capacity:
    """Return what the tube carries: the lower of yield (whole section) and rupture (net section).

    Axial Fy A and Fu A_net; bending Fy Z (Fy S unless compact) and Fu Z_net; torsion
    0.60 Fy J/(D/2) and 0.60 Fu J/(D/2) A_net/A. Yield times 1/1.67 (ASD) or 0.90 (LRFD),
    rupture times 1/2.00 or 0.75.

    Parameters
    ----------
    section : Section
    net : NetSection
        The section across the holes, or the whole one again.
    yield_ksi, ultimate_ksi : float or None
        Strength at this place, ksi.
    load : {"axial", "bending", "torsion"}
    code : {"asd", "lrfd"}

    Returns
    -------
    Capacity
        kip for axial load, kip-in for bending and torsion.

    Notes
    -----
    Source: AISC 360 D2, F8, H3.1, from memory. J/(D/2) is under the code's thin-wall value.
    Rupture in bending and torsion on the net section: assumption made here.

    >>> from core.section import net_section, round_section
    >>> tube = round_section(1.625, 0.120)
    >>> tube_capacity(tube, net_section(tube, 0, 0), 35, 50, "axial", "asd").limit
    'yield'
    """
    if yield_ksi is None or ultimate_ksi is None:
        return UNKNOWN
    if load == "axial":
        whole, torn = section.area, net.area
    elif load == "bending":
        whole = section.Z if wall_class(section, yield_ksi) == "compact" else section.S
        torn = net.Z
    else:
        whole = SHEAR * 2 * section.J / section.D
        torn = whole * net.area / section.area
    by_yield = YIELD_FACTOR[code] * yield_ksi * whole
    by_rupture = RUPTURE_FACTOR[code] * ultimate_ksi * torn
    if by_yield <= by_rupture:
        return Capacity(by_yield, "yield")
    return Capacity(by_rupture, "rupture on the net section" if net.area < section.area else "rupture")
