"""Compare a welded sleeve splice with the tube it repairs: axial load, bending, torsion.

A comparison only. It says how the splice stands beside the whole tube under the same
formulas, never that a splice will do: the rule book, the inspector and a qualified welder
decide that. Lengths in inches, strengths in ksi, forces in kip.
Source: AISC 360 for the formulas, from memory; texts, common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from core.fillers import Filler
from core.problems import Problem, collect
from core.quantity import decimal_text, inch_fraction_text, round_to
from core.section import NetSection, Section, net_section, tube_section
from core.strength_notes import ASSUMPTIONS, SOURCES, case_warnings
from core.tube import Tube
from core.tube_strength import CODES, LOADS, UNKNOWN, Capacity, tube_capacity
from core.units import MM_PER_INCH, MPA_PER_KSI
from core.welds import (
    END_SHAPES,
    Lean,
    PlugCredit,
    face_lean,
    fillet_force,
    plug_credit,
    plug_force,
    plug_lever,
    ring_lever,
)  # fmt: skip

METHODS = ("outer-sleeve", "inner-sleeve", "larger-tube")
STEEPEST_MITRE = 75.0
LARGEST_LEG, LARGEST_ROSETTE, MOST_ROSETTES = 0.5, 2.0, 12
KN_PER_KIP = float(MPA_PER_KSI * MM_PER_INCH**2) / 1000
PART_NAMES = {
    "parent": "tube away from welds",
    "parent-near-weld": "tube beside its weld",
    "end-weld": "welds of one end",
    "sleeve-near-weld": "sleeve beside its weld",
    "sleeve": "sleeve away from welds",
}


@dataclass(frozen=True)
class SpliceCase:
    """One splice to compare; lengths in inches.

    Attributes
    ----------
    parent, sleeve : Tube
        The damaged tube, and the sleeve (or the larger replacement tube).
    method : {"outer-sleeve", "inner-sleeve", "larger-tube"}
        Decides which tube is outside: the outer one is drilled, and its end is welded.
    weld_line : float
        Length of the end weld around the inner tube at one end, in.
    mitre_deg : float
        Saw angle of the outer tube's end from square, 0 to 75 degrees.
    fillet_leg : float
        Leg of the end fillet, over 0 to 0.5 in.
    filler : Filler
    rosettes : int
        Plug welds at one end, 0 to 12, evenly spaced around one station.
    rosette_diameter : float or None
        Drilled diameter, over 0 to 2 in; None only with no rosettes.
    end_shape : {"pointed", "fishmouth", "scarf", "square"}

    Raises
    ------
    Problem
        ``bad-splice`` for a value outside these ranges or tubes that cannot go together.
    """

    parent: Tube
    sleeve: Tube
    method: str
    weld_line: float
    mitre_deg: float
    fillet_leg: float
    filler: Filler
    rosettes: int = 0
    rosette_diameter: float | None = None
    end_shape: str = "pointed"

    def __post_init__(self) -> None:
        problems: list[Problem] = []
        _one_of(self.method, METHODS, "method", problems)
        _one_of(self.end_shape, END_SHAPES, "end_shape", problems)
        collect(problems)
        if self.outer.D <= self.inner.D:
            problems.append(Problem(
                "bad-splice", "The outer tube is not larger than the inner one.",
                given=f"outer {self.outer.od.typed}, inner {self.inner.od.typed} ({self.method})",
                allowed="an outer tube that goes over the inner tube.",
                next_step="Choose another sleeve or another method.", field="sleeve"))  # fmt: skip
        _within(self.mitre_deg, 0, STEEPEST_MITRE, "mitre_deg", "degrees from square", problems, zero=True)
        if self.end_shape == "square" and self.mitre_deg != 0:
            problems.append(Problem(
                "bad-splice", "A square end has no mitre.", given=f"{self.mitre_deg} degrees",
                allowed="0 for a square end.", next_step="Set the mitre to 0 or choose another end shape.",
                field="mitre_deg"))  # fmt: skip
        _within(self.fillet_leg, 0, LARGEST_LEG, "fillet_leg", "in", problems)
        _within(self.rosettes, 0, MOST_ROSETTES, "rosettes", "at one end", problems, zero=True, whole=True)
        if self.rosettes or self.rosette_diameter is not None:
            _within(self.rosette_diameter, 0, LARGEST_ROSETTE, "rosette_diameter", "in", problems)
        collect(problems)
        # No plane cut around the outer tube is longer than its circle stretched by the mitre.
        longest = math.pi * self.outer.D / math.cos(math.radians(self.mitre_deg))
        _within(self.weld_line, 0, longest * (1 + 1e-9), "weld_line", "in", problems)
        collect(problems)
        net_section(tube_section(self.outer), self.rosettes, self.rosette_diameter or 0.0)

    @property
    def outer(self) -> Tube:
        """The tube outside: it is drilled and its end is welded down."""
        return self.parent if self.method == "inner-sleeve" else self.sleeve

    @property
    def inner(self) -> Tube:
        """The tube inside: the fillet and the plugs land on it."""
        return self.sleeve if self.method == "inner-sleeve" else self.parent

    @property
    def counted_leg(self) -> float:
        """The fillet leg that counts, in: never more than the outer tube's wall."""
        return min(self.fillet_leg, self.outer.t)


@dataclass(frozen=True)
class LoadComparison:
    """One load under one code: the parts of the chain, the lowest, and the ratio."""

    load: str
    code: str
    parts: dict[str, Capacity]
    governing: str | None
    splice: float | None
    ratio: float | None
    ratio_near_weld: float | None

    @property
    def text(self) -> str:
        """The result in one line."""
        head = f"{self.load.capitalize()}, {self.code.upper()}: "
        if self.ratio is None:
            return head + "unknown, because a material's strength is not known. See the section ratios."
        return (
            f"{head}the splice carries {ratio_text(self.ratio)} of the tube away from welds, "
            f"{ratio_text(self.ratio_near_weld)} of the tube beside a weld; "
            f"lowest: {PART_NAMES[self.governing]} ({self.parts[self.governing].limit})."
        )

    def as_dict(self) -> dict[str, Any]:
        """Return the JSON form, unrounded, with texts."""
        return {
            "parts": {
                key: {"name": PART_NAMES[key], "value": part.value, "limit": part.limit,
                      "text": capacity_text(part.value, self.load)}
                for key, part in self.parts.items()
            },
            "governing": self.governing, "splice": self.splice, "ratio": self.ratio,
            "ratio_near_weld": self.ratio_near_weld, "text": self.text,
        }  # fmt: skip


@dataclass(frozen=True)
class StrengthComparison:
    """The whole comparison; see `as_dict` for what a page shows."""

    case: SpliceCase
    parent: Section
    sleeve: Section
    net: NetSection
    plug: PlugCredit | None
    lean: Lean
    results: tuple[LoadComparison, ...]
    assumptions: list[str]
    sources: list[str]
    warnings: list[str]

    def result(self, load: str, code: str) -> LoadComparison:
        """Return the comparison for `load` ("axial", "bending", "torsion") and `code` ("asd", "lrfd")."""
        return next(r for r in self.results if (r.load, r.code) == (load, code))

    @property
    def section_ratios(self) -> dict[str, float]:
        """Sleeve over tube by section alone, strength left out."""
        return {
            "area": self.sleeve.area / self.parent.area,
            "second_moment": self.sleeve.I / self.parent.I,
            "elastic_modulus": self.sleeve.S / self.parent.S,
            "plastic_modulus": self.sleeve.Z / self.parent.Z,
            "torsion_constant": self.sleeve.J / self.parent.J,
        }

    def as_dict(self) -> dict[str, Any]:
        """Return the JSON form: ratios and capacities unrounded, each with its text."""
        case = self.case
        return {
            "method": case.method,
            "filler": case.filler.name,
            "drilled": "parent" if case.outer is case.parent else "sleeve",
            "section": {
                "parent": self.parent.as_dict(), "sleeve": self.sleeve.as_dict(), "drilled_net": self.net.as_dict(),
                "ratios": {key: {"value": v, "text": ratio_text(v)} for key, v in self.section_ratios.items()},
            },
            "fillet": {
                "leg_in": case.fillet_leg, "counted_leg_in": case.counted_leg, "weld_line_in": case.weld_line,
                "square_ring_in": math.pi * case.inner.D, "face_angle_low_deg": self.lean.psi_low,
                "face_angle_high_deg": self.lean.psi_high, "least_throat_in": self.lean.least_throat * case.counted_leg,
                "mean_throat_share": self.lean.mean_share,
            },
            "rosettes": {
                "per_end": case.rosettes, "diameter_in": case.rosette_diameter,
                "minimum_in": self.plug.minimum if self.plug else None,
                "minimum_text": inch_fraction_text(self.plug.minimum) if self.plug else "",
                "counted": bool(self.plug and self.plug.area),
                "reason": self.plug.reason if self.plug else "No rosettes: nothing to count.",
            },
            "loads": {
                load: {"unit": "kip" if load == "axial" else "kip-in",
                       **{code: self.result(load, code).as_dict() for code in CODES}}
                for load in LOADS
            },
            "assumptions": list(self.assumptions), "sources": list(self.sources), "warnings": list(self.warnings),
        }  # fmt: skip


def compare(case: SpliceCase) -> StrengthComparison:
    """Compare the splice with the tube, for three loads, in ASD and LRFD.

    Splice = lowest of: tube beside its weld, welds of one end, sleeve beside its weld,
    sleeve away from welds. Ratio = splice / tube away from welds. The two ends are in
    series: each end must pass the whole load, so one end is counted once.

    Parameters
    ----------
    case : SpliceCase

    Returns
    -------
    StrengthComparison
        Ratios None ("unknown") where a tube's strength is not known.

    Raises
    ------
    Problem
        ``bad-splice`` and ``bad-section``, when the case is made.

    Notes
    -----
    Source: AISC 360 for the formulas, from memory; the near-weld strengths are
    `core.materials`. See `core.strength_notes`.

    >>> from core.fillers import filler
    >>> from core.tube import read_tube
    >>> tube = read_tube({"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020"})
    >>> sleeve = read_tube({"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020"})
    >>> result = compare(SpliceCase(tube, sleeve, "outer-sleeve", 7.871864, 60, 0.120, filler("er70s-2"), 2, 0.4375))
    >>> result.result("axial", "asd").text
    'Axial, ASD: the splice carries 0.59 of the tube away from welds, 1.00 of the tube beside a weld; lowest: tube beside its weld (yield).'
    """
    parent, sleeve = tube_section(case.parent), tube_section(case.sleeve)
    drilled = parent if case.outer is case.parent else sleeve
    net = net_section(drilled, case.rosettes, case.rosette_diameter or 0.0)
    plug = plug_credit(case.outer.t, case.rosette_diameter) if case.rosettes else None
    lean = face_lean(case.end_shape, case.mitre_deg)
    results = tuple(_compare_load(case, parent, sleeve, net, plug, load, code) for load in LOADS for code in CODES)
    return StrengthComparison(
        case, parent, sleeve, net, plug, lean, results,
        list(ASSUMPTIONS), list(SOURCES), case_warnings(case, parent, sleeve, net, plug, lean),
    )  # fmt: skip


def _compare_load(case, parent, sleeve, net, plug, load, code) -> LoadComparison:
    def tube(section: Section, owner: Tube, beside_weld: bool) -> Capacity:
        steel = owner.material
        # Away from welds the tube has no holes either; beside the weld the drilled one has.
        at = net if beside_weld and owner is case.outer else NetSection(section.area, section.Z)
        if beside_weld:
            return tube_capacity(section, at, steel.near_weld_yield_ksi, steel.near_weld_ultimate_ksi, load, code)
        return tube_capacity(section, at, steel.yield_ksi, steel.ultimate_ksi, load, code)

    parts = {
        "parent": tube(parent, case.parent, False),
        "parent-near-weld": tube(parent, case.parent, True),
        "end-weld": _end_weld(case, plug, load, code),
        "sleeve-near-weld": tube(sleeve, case.sleeve, True),
        "sleeve": tube(sleeve, case.sleeve, False),
    }
    chain = [key for key in parts if key != "parent"]
    if any(part.value is None for part in parts.values()):
        return LoadComparison(load, code, parts, None, None, None, None)
    governing = min(chain, key=lambda key: parts[key].value)
    lowest = parts[governing].value
    undrilled = tube_capacity(
        parent, NetSection(parent.area, parent.Z), case.parent.material.near_weld_yield_ksi,
        case.parent.material.near_weld_ultimate_ksi, load, code,
    )  # fmt: skip
    return LoadComparison(
        load, code, parts, governing, lowest, lowest / parts["parent"].value, lowest / undrilled.value
    )


def _end_weld(case: SpliceCase, plug: PlugCredit | None, load: str, code: str) -> Capacity:
    """Return what the fillet and the counted plugs of one end carry together."""
    ultimates = [t.material.near_weld_ultimate_ksi for t in (case.parent, case.sleeve)]
    if None in ultimates:
        return UNKNOWN
    weakest, radius = min(ultimates), case.inner.D / 2
    fillet = fillet_force(case.filler, case.counted_leg, weakest, code) * ring_lever(load, radius, case.weld_line)
    if plug is None or plug.area == 0:
        return Capacity(fillet, "end fillet alone")
    each = plug_force(case.filler, plug, min(case.parent.t, case.sleeve.t), weakest, code)
    plugs = each * plug_lever(load, radius, case.rosettes)
    return Capacity(fillet + plugs, "end fillet and rosettes" if plugs else "end fillet alone")


def ratio_text(ratio: float) -> str:
    """Return a ratio to two places, rounded down.

    >>> ratio_text(0.599), ratio_text(1.0)
    ('0.59', '1.00')
    """
    return f"{round_to(ratio, 0.01, 'down'):.2f}"


def capacity_text(value: float | None, load: str) -> str:
    """Return a capacity in kip and kN, or kip-in and kN·m, rounded down; "unknown" for None.

    >>> capacity_text(11.8915, "axial"), capacity_text(None, "bending")
    ('11.89 kip (52.89 kN)', 'unknown')
    """
    if value is None:
        return "unknown"
    metric = value * KN_PER_KIP * (1 if load == "axial" else float(MM_PER_INCH) / 1000)
    units = ("kip", "kN") if load == "axial" else ("kip-in", "kN·m")
    figures = [decimal_text(round_to(v, 0.01, "down"), 2) for v in (value, metric)]
    return f"{figures[0]} {units[0]} ({figures[1]} {units[1]})"


def _one_of(value: object, allowed: tuple[str, ...], field: str, problems: list[Problem]) -> None:
    if value not in allowed:
        problems.append(Problem("bad-splice", "That choice is not known.", given=value, allowed=", ".join(allowed) + ".",
                                next_step="Choose one of these.", field=field))  # fmt: skip


def _within(value, low, high, field, unit, problems, *, zero=False, whole=False) -> None:
    number = isinstance(value, int if whole else (int, float)) and not isinstance(value, bool)
    if number and (low <= value if zero else low < value) and value <= high:
        return
    span = f"{low:g} to {high:.4g}" if zero else f"over {low:g}, up to {high:.4g}"
    kind = "a whole number, " if whole else ""
    problems.append(Problem("bad-splice", "That value cannot be used for a splice.", given=value,
                            allowed=f"{kind}{span} {unit}.", next_step="Check the number and its unit.",
                            field=field))  # fmt: skip
