"""What the methods share: blank, holes, echo, numbers, warnings, texts, and the tag and checklist words.

Lengths in inches, angles in degrees.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Any

from core.quantity import down, fine_text, near, quantity, round_to, up
from core.rosette import hole_sizes
from core.rules import Check, clause, verdict
from core.sleeve import OVERLAP_DIAMETERS, EndCut
from core.tube import Tube, plain_size
from core.units import MM_PER_INCH

RULER_INCHES, RULER_MM = 1 / 16, 1.0


def blank(exact: float, metric: bool) -> float:
    """Return a needed length rounded up to the shop's ruler, inches.

    Parameters
    ----------
    exact : float
        Needed length, inches, >= 0.
    metric : bool
        1 mm ruler if true, else 1/16 in.

    Returns
    -------
    float
        Inches, at least `exact`.

    Source: hand.

    >>> blank(7.8145, False), round(blank(7.8145, True) * 25.4, 6)
    (7.875, 199.0)
    """
    if metric:
        return round_to(exact * float(MM_PER_INCH), RULER_MM, "up") / float(MM_PER_INCH)
    return round_to(exact, RULER_INCHES, "up")


def number(label: str, value: dict[str, Any] | str, note: str = "") -> dict[str, Any]:
    """Return one row of ``numbers``: what a person reads first.

    Parameters
    ----------
    label : str
        What it is.
    value : dict or str
        A `core.quantity.quantity` (inches and millimetres inside), or text.
    note : str
        How to read it.

    Returns
    -------
    dict
        ``label``, ``value``, ``note``.

    Source: the project's own form; nothing is computed.

    >>> number("Angle", "30°")
    {'label': 'Angle', 'value': '30°', 'note': ''}
    """
    return {"label": label, "value": value, "note": note}


def tube_echo(part: Tube, metric: bool) -> dict[str, Any]:
    """Return a tube as it was read, with its inside diameter and metal area.

    inside = D - 2 t, area = pi (D - t) t

    Parameters
    ----------
    part : Tube
        Outside diameter 0.25 to 6 in.
    metric : bool
        Whether texts are in millimetres.

    Returns
    -------
    dict
        ``od``, ``wall``, ``inside``, ``material``, ``material_name``, ``seam``, ``area_in2``
        (square inches).

    Source: hand.

    >>> from core.tube import read_tube
    >>> echo = tube_echo(read_tube({"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020"}), False)
    >>> echo["inside"]["text"], round(echo["area_in2"], 4)
    ('1.385 in', 0.5674)
    """
    return {"od": part.od.echo(), "wall": part.wall.echo(), "inside": near(part.d, metric),
            "material": part.material.key, "material_name": part.material.name, "seam": part.seam,
            "area_in2": part.area}  # fmt: skip


def clearance_block(fit: Any, metric: bool, less: float = 0.0) -> dict[str, Any]:
    """Return a `core.fit.Clearance` as quantities, each less `less` inches of diameter.

    Parameters
    ----------
    fit : Clearance
        Diameter differences, inches.
    metric : bool
        Whether texts are in millimetres.
    less : float
        What else takes room on the diameter, such as a weld bead, inches, >= 0.

    Returns
    -------
    dict
        ``nominal``, ``worst_min``, ``worst_max``, ``by_wall_min``, ``by_wall_max``. Lowest values
        are rounded down, highest up; None where no tolerance is known.

    Source: ASTM A513 type 5 tables (`core.tolerances`), by way of `core.fit.clearance`.

    >>> from core.fit import Clearance
    >>> block = clearance_block(Clearance(0.010, -0.001, 0.011, None, None), False, 0.002)
    >>> block["nominal"]["text"], block["worst_min"]["text"], block["by_wall_min"]
    ('0.008 in', '-0.003 in', None)
    """
    def lowest(value):
        return None if value is None else down(value - less, metric)

    def highest(value):
        return None if value is None else up(value - less, metric)

    return {"nominal": near(fit.nominal - less, metric), "worst_min": lowest(fit.worst_min), "worst_max": highest(fit.worst_max),
            "by_wall_min": lowest(fit.by_wall_min), "by_wall_max": highest(fit.by_wall_max)}  # fmt: skip


def angle_check(cut: EndCut, rule: str) -> Check:
    """Return the check of a mitred cut against the 30 degrees to the axis of the figures.

    Parameters
    ----------
    cut : EndCut
        Mitre over 0 and up to 75 degrees from square.
    rule : str
        Clause as printed beside the verdict.

    Returns
    -------
    Check
        Met at 30 degrees to the axis, else "unknown": the figures draw no other angle.

    Source: AC 43.13-1B (Change 1, 2001) 4-92; figures 4-37 to 4-40 from memory.

    >>> [angle_check(EndCut("scarf", mitre), "4-92").verdict for mitre in (60, 45)]
    ['met', 'unknown']
    """
    angle = 90 - cut.mitre_deg
    met = True if abs(angle - 30) < 1e-9 else None
    text = "The angle the circular's figures draw." if met else "The circular's figures draw 30° to the axis. Ask the inspector about this angle."
    return Check("end_angle", rule, f"{angle:g}° to the axis", "30° to the axis", verdict(met), text)


def holes(inner_od: Fraction, drilled: Tube, metric: bool) -> list[dict[str, Any]]:
    """Return the rosette diameters by source, as JSON-ready rows.

    Parameters
    ----------
    inner_od : Fraction
        OD of the tube inside, inches, > 0.
    drilled : Tube
        The outer part, which is drilled.
    metric : bool
        Whether texts are in millimetres.

    Returns
    -------
    list of dict
        ``key``, ``source``, ``text``, ``diameter``, the circular's first.

    Source: `core.rosette.hole_sizes`.

    >>> from core.tube import read_tube
    >>> sleeve = read_tube({"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020"})
    >>> [(row["key"], row["diameter"]["text"]) for row in holes(Fraction(13, 8), sleeve, False)]
    [('circular', '15/32 in'), ('shop', '13/32 in'), ('structural', '7/16 in')]
    """
    return [{"key": hole.key, "source": hole.source, "text": hole.text,
             "diameter": quantity(float(hole.diameter), fine_text(float(hole.diameter), True) if metric else f"{hole.diameter} in")}
            for hole in hole_sizes(inner_od, drilled.od.inches, drilled.wall.inches)]  # fmt: skip


def ranked(checks: Iterable[Check], notes: Iterable[tuple[int, str]]) -> list[dict[str, Any]]:
    """Return warnings, the ones that can hurt someone first: missed checks 1, unknown ones 3.

    Parameters
    ----------
    checks : iterable of Check
        Those that are met give no warning.
    notes : iterable of (int, str)
        Further warnings, each with its rank, 1 first.

    Returns
    -------
    list of dict
        ``rank`` and ``text``, by rank; the order given within a rank.

    Source: common practice, no source.

    >>> ranked([Check("wall", "4-96", ".083 in", "at least .120 in", "not met", "Too thin.")], [(3, "b"), (1, "a")])[0]
    {'rank': 1, 'text': 'Too thin.'}
    """
    words = {"not met": 1, "unknown": 3}
    found = [(words[check.verdict], check.text) for check in checks if check.verdict in words]
    return [{"rank": rank, "text": text} for rank, text in sorted([*found, *notes], key=lambda item: item[0])]


def material_notes(**parts: Tube) -> list[tuple[int, str]]:
    """Return what to ask about the steel of each named part, rank 3; an underscore in a name is a space.

    Parameters
    ----------
    **parts : Tube
        By the name a person knows the part by.

    Returns
    -------
    list of (int, str)
        For `ranked`; none for a steel with nothing to ask.

    Source: the notes of `core.materials`.

    >>> from core.tube import read_tube
    >>> material_notes(Old_tube=read_tube({"od": "1 in", "wall": ".120 in", "material": "dom-1020"}))
    []
    >>> [rank for rank, text in material_notes(Old_tube=read_tube({"od": "1 in", "wall": ".120 in", "material": "unknown"}))]
    [3]
    """
    return [(3, f"{name.replace('_', ' ')}: {part.material.note}") for name, part in parts.items() if part.material.note]


def overlap_text(given: float, needed: float, metric: bool) -> str:
    """Return an overlap for reading: rounded down, but just enough reads as what is needed.

    Parameters
    ----------
    given, needed : float
        Inches.
    metric : bool
        Whether the text is in millimetres.

    Returns
    -------
    str
        To .001 in or .01 mm.

    Source: common practice, no source.

    >>> overlap_text(2.4375, 2.4375, False), overlap_text(2.4374, 2.4375, False)
    ('2.438 in', '2.437 in')
    """
    just_enough = abs(given - needed) < 1e-9
    return fine_text(given, metric, "up" if just_enough else "down")


def share_text(diameters: float, places: int) -> str:
    """Return an overlap in tube diameters; one that falls short never reads as 1.5.

    Parameters
    ----------
    diameters : float
        Overlap / D.
    places : int
        Decimal places, >= 1.

    Returns
    -------
    str
        The number alone.

    Source: AC 43.13-1B (Change 1, 2001) 4-97, 1.5 D; rounding common practice, no source.

    >>> share_text(1.4999, 3), share_text(1.5, 3), share_text(1.366, 3)
    ('1.499', '1.500', '1.366')
    """
    text = f"{round_to(diameters, 10**-places, 'near'):.{places}f}"
    if diameters < OVERLAP_DIAMETERS <= float(text):
        text = f"{round_to(diameters, 10**-places, 'down'):.{places}f}"
    return text


def splice_summary(
    method: str, clause_key: str, tube: Tube, sleeve: Tube, cut: EndCut, lengths: dict[str, Any], metric: bool, **more: Any
) -> dict[str, Any]:
    """Return the tag's essentials and the checklist's figures of a splice.

    Parameters
    ----------
    method, clause_key : str
        As the tag says it ("outer sleeve"), and the key of its rule.
    tube, sleeve : Tube
    cut : EndCut
        Mitre over 0 and up to 75 degrees from square.
    lengths : dict
        The result's ``length``: ``rule``, ``blank`` and, for a sleeve already cut, ``given``.
    metric : bool
    **more
        Further members of `core.checklist.checklist_for`'s context.

    Returns
    -------
    dict
        ``tag`` (text) and ``context`` (``od``, ``wall``, ``rule_length`` in inches).

    Source: the clause named by `clause_key`; nothing is computed.

    >>> from core.quantity import quantity
    >>> from core.tube import read_tube
    >>> tube, sleeve = (read_tube({"od": od, "wall": ".120 in", "material": "dom-1020"}) for od in ("1-5/8 in", "1-7/8 in"))
    >>> lengths = {"rule": quantity(8.123, "8-1/8 in"), "blank": quantity(8.125, "8-1/8 in")}
    >>> tag = splice_summary("outer sleeve", "outer-sleeve", tube, sleeve, EndCut("pointed", 60), lengths, False)["tag"]
    >>> tag["sleeve"], tag["end"], tag["mitre_deg"], tag["length"]
    ('1.875 x .120 1020 DOM', 'pointed', '60', '8-1/8 in')
    """
    length = lengths.get("given", lengths["blank"])["text"]
    angle, steel = f"{cut.mitre_deg:g}", tube.material.steel_class
    sizes = {"tube": plain_size(tube), "sleeve": plain_size(sleeve), "material": sleeve.material.name}
    return {
        "tag": {**sizes, "end": cut.end, "mitre_deg": angle, "length": length, "method": method, "clause": clause(clause_key).label()},
        "context": {
            **sizes, "blank_length": length, "mitre": "square" if cut.end == "square" else f"{angle}°", "od": tube.D, "wall": tube.t,
            "rule_length": lengths["rule"]["in"], "metric": metric, **more, **({"material_class": steel} if steel != "unknown" else {}),
        },
    }  # fmt: skip
