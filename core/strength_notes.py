"""What the strength comparison takes for granted, where its formulas come from, and what it warns of.

Each warning is one or two short lines that a welder or an inspector can act on.
Lengths in inches, stresses in ksi.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from core.materials import A513_S5, same_class
from core.quantity import decimal_text, fine_text
from core.section import NetSection, Section
from core.tube_strength import RUPTURE_FACTOR, wall_class
from core.welds import SMALLEST_LEG, Lean, PlugCredit

if TYPE_CHECKING:
    from core.strength import SpliceCase

THIN_MATERIAL = 0.125  # AWS D1.1 starts here
STEEPEST_FILLET, FLATTEST_FILLET = 60.0, 135.0  # usual limits of a fillet's face angle, AWS D1.1, from memory
# Ultimate beside a weld in aircraft 4130, ksi: MIL-HDBK-5, from memory.
TAPERED_ULTIMATE, OTHER_ULTIMATE, TAPER_DEG = 90.0, 80.0, 30.0

ASSUMPTIONS = (
    "This compares two tubes under the same formulas. It is no design and no release for use.",
    "Nominal sizes. Sound welds all the way around. No cracks, no dents, no misfit.",
    "Steady loads, one kind at a time. Fatigue, impact, buckling and local crushing are left out.",
    "The two ends are in series: each passes the whole load. One end is counted, never the sum.",
    "At one end the fillet and the counted rosettes share the load.",
    "Steel beside a weld has the normalised or as-welded strength, all the way around the section.",
    "Holes of one end sit at one station, evenly spaced, and carry the whole load past them. "
    "Weld metal in a hole adds no section.",
    "Rupture in bending uses the plastic modulus of the net section; in torsion the net area.",
    "Fillet: throat 0.707 leg, equal legs, never more leg than the outer wall, no increase for its direction. "
    "Steel at the fusion face may govern.",
    "Axial load uses the real weld line. Bending and torsion use the lower of the mitred end projected "
    "to a square ring and the real line spread over that ring.",
    "A rosette counts by its area at the inner tube or by the wall around it, whichever is lower.",
    "One or two rosettes count nothing in bending: they may lie on the bending axis.",
    "Moment passed by the tube bearing inside the sleeve counts nothing, so bending reads low.",
    "Weld metal in the gap between the stubs counts nothing.",
)

SOURCES = (
    "AISC 360 (building structures), chapters B4, D2, F8, H3, J2, J4: from memory; "
    "table J2.4 (smallest fillet) seen in a reprint.",
    "Weld treated as a line: textbook. Projection to a square ring: assumption made here.",
    "Wall around a rosette: assumption made here, close to the arc spot weld rule of AISI S100 (from memory).",
    "Filler strengths: AWS A5.18 and A5.28 classification, from memory.",
    "Tube strengths: see each material. Beside a weld: its normalised or as-welded row, common practice, no source.",
    "MIL-HDBK-5, ultimate beside a weld in aircraft 4130: from memory.",
)


def case_warnings(
    case: SpliceCase, parent: Section, sleeve: Section, net: NetSection, plug: PlugCredit | None, lean: Lean
) -> list[str]:
    """Return what a person must know before using the comparison, most telling first.

    Parameters
    ----------
    case : SpliceCase
    parent, sleeve : Section
    net : NetSection
        The drilled tube across its holes.
    plug : PlugCredit or None
        None where there are no rosettes.
    lean : Lean

    Returns
    -------
    list of str

    Notes
    -----
    Source: the clause or "from memory" named in each line.

    >>> from core.fillers import filler
    >>> from core.strength import SpliceCase, compare
    >>> from core.tube import read_tube
    >>> tube, sleeve = (read_tube({"od": od, "wall": ".120 in", "material": "unknown"}) for od in ("1-5/8 in", "1-7/8 in"))
    >>> made = compare(SpliceCase(tube, sleeve, "outer-sleeve", 7.8719, 60, 0.12, filler("er70s-2")))
    >>> made.as_dict()["warnings"][0]
    'A material is not known: strength is unknown, only the sections are compared. Find the certificate.'
    """
    return [
        *_steel(case),
        *_walls(case, parent, sleeve),
        *_rosettes(case, parent, sleeve, net, plug),
        *_fillet(case, lean),
        *_scope(case, parent, sleeve),
    ]


def _steel(case: SpliceCase) -> list[str]:
    lines, steels = [], (case.parent.material, case.sleeve.material)
    known = same_class(*steels)
    if known is False:
        lines.append(f"Steel mismatch: tube {steels[0].name}, sleeve {steels[1].name}. The rule asks for the same material.")
    elif known is None:
        lines.append("A material is not known: strength is unknown, only the sections are compared. Find the certificate.")
    notes = {steel.note for steel in steels if steel.note and steel.steel_class != "unknown"}
    lines += sorted(notes)
    if any(steel.source == A513_S5 for steel in steels):
        lines.append("ASTM A513 minimums bind only if the tube was ordered to supplementary S5. Ask for the certificate.")
    lines += _aircraft(case)
    beside = [s.near_weld_ultimate_ksi for s in steels if s.near_weld_ultimate_ksi is not None]
    if beside and case.filler.ultimate_ksi < min(beside):
        lines.append(f"{case.filler.name} is weaker than both tubes beside the weld.")
    if any(s.yield_ksi and s.near_weld_yield_ksi and s.near_weld_yield_ksi < s.yield_ksi for s in steels):
        lines.append("Welding softens this tube beside each weld. The tube's own end joints are softened the same way.")
    return lines


def _aircraft(case: SpliceCase) -> list[str]:
    if "4130-n-aircraft" not in (case.parent.material.key, case.sleeve.material.key):
        return []
    tapered = case.end_shape != "square" and 90 - case.mitre_deg <= TAPER_DEG
    ultimate = TAPERED_ULTIMATE if tapered else OTHER_ULTIMATE
    tube = case.parent if case.parent.material.key == "4130-n-aircraft" else case.sleeve
    return [
        f"Aircraft 4130: MIL-HDBK-5 (from memory) gives {ultimate:g} ksi ultimate beside a weld "
        f"({'taper 30° or less' if tapered else 'not a taper of 30° or less'}): "
        f"{decimal_text(RUPTURE_FACTOR['asd'] * ultimate * tube.area, 2)} kip axial rupture, ASD. "
        f"The comparison uses {tube.material.near_weld_ultimate_ksi:g} ksi."
    ]


def _walls(case: SpliceCase, parent: Section, sleeve: Section) -> list[str]:
    lines = []
    if case.sleeve.wall.inches < case.parent.wall.inches:
        more = "more" if sleeve.area > parent.area else "not more"
        lines.append(
            f"Literal wall rule not met: sleeve wall {fine_text(sleeve.t, False)}, tube wall {fine_text(parent.t, False)}. "
            f"Sleeve area {decimal_text(sleeve.area, 3)} in², tube {decimal_text(parent.area, 3)} in²: {more} area. "
            "Ask the inspector to agree first."
        )
    if case.outer.d < case.inner.D:
        over = fine_text(case.inner.D - case.outer.d, False)
        lines.append(f"The outer tube's bore is {over} smaller than the inner tube: it does not slide on.")
    return lines


def _rosettes(case, parent, sleeve, net, plug) -> list[str]:
    if plug is None:
        return []
    lines = [] if plug.area and case.rosette_diameter <= plug.maximum + 1e-9 else [plug.reason]
    drilled, name = (parent, "tube") if case.outer is case.parent else (sleeve, "sleeve")
    left = decimal_text(100 * net.area / drilled.area, 0)
    lines.append(f"Holes leave {left} % of the drilled {name}'s area at their station.")
    return lines


def _fillet(case: SpliceCase, lean: Lean) -> list[str]:
    lines = []
    if case.fillet_leg > case.outer.t + 1e-9:
        lines.append(f"The fillet leg is over the outer wall: it counts as {fine_text(case.outer.t, False)}.")
    if case.counted_leg < SMALLEST_LEG - 1e-9:
        lines.append(
            "The fillet leg counts as under 1/8 in, the least fillet of AISC 360 table J2.4. Thin sheet codes differ."
        )
    if lean.psi_high > 90:
        lines.append(
            f"The end face leans: {lean.psi_low:.0f}° to {lean.psi_high:.0f}° to the tube. At {lean.psi_high:.0f}° an "
            f"equal-leg fillet's throat is {decimal_text(lean.least_throat, 3)} leg; the mean is "
            f"{decimal_text(100 * lean.mean_share, 0)} % of a square face's. Advisory: it takes a larger leg there for the same throat."
        )
    if lean.psi_low < STEEPEST_FILLET or lean.psi_high > FLATTEST_FILLET:
        lines.append(
            "Part of the face angle is outside 60° to 135°, the usual range of a fillet weld (AWS D1.1, from memory). "
            "The root may not fuse where the face is steep."
        )
    square = math.pi * case.inner.D
    if case.weld_line < square * (1 - 1e-6):
        lines.append(f"The weld line is shorter than once around the tube ({fine_text(square, False)}).")
    return lines


def _scope(case: SpliceCase, parent: Section, sleeve: Section) -> list[str]:
    lines = []
    for section, tube, name in ((parent, case.parent, "tube"), (sleeve, case.sleeve, "sleeve")):
        strength = tube.material.yield_ksi
        if strength is not None and wall_class(section, strength) != "compact":
            lines.append(f"Thin wall: the {name} may buckle locally before it yields. Its elastic modulus is used.")
    if min(case.parent.t, case.sleeve.t) < THIN_MATERIAL:
        lines.append("AWS D1.1 starts at 1/8 in material. Thinner belongs to AWS D1.3 or D17.1.")
    lines.append("The weld formulas are AISC 360 for building structures. A race car is outside its scope.")
    lines.append("The rule book, local codes, the inspector and a qualified welder outrank this comparison.")
    return lines
