"""Read one inner sleeve job from its JSON form. Lengths in inches once read, angles in degrees."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from core.lengths import Length
from core.problems import Problem, collect
from core.quantity import thousandths_text
from core.size_input import LONGEST_SLEEVE, WIDEST_GAP, open_job
from core.sleeve import EndCut
from core.tube import Tube
from core.units import MM_PER_INCH

MEMBERS = {"tube", "sleeve", "replacement", "mitre_deg", "gap", "length", "bead", "turned_od", "units"}
DEFAULT_GAP, DEFAULT_MITRE = "1/8 in", 60
TALLEST_BEAD, LARGEST_TURNED = 0.25, 6.0
EXAMPLE = (
    '{"tube": {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}, '
    '"sleeve": {"od": "1-3/8 in", "wall": ".120 in", "material": "dom-1020"}, '
    '"mitre_deg": 60, "gap": "1/8 in"}'
)


@dataclass(frozen=True)
class InnerJob:
    """What one inner sleeve is sized from.

    Attributes
    ----------
    tube : Tube
        The damaged tube.
    bought : Tube
        The inner tube as bought.
    sleeve : Tube
        The inner tube as it goes in: turned down if a turned OD was given.
    replacement : Tube
        The piece between the stubs; the tube itself unless given.
    replacement_given : bool
    cut : EndCut
        The tube's diagonal cut.
    gap : Length
        Weld gap along the axis, 0 to 12 in.
    length, bead, turned : Length or None
    metric : bool
    """

    tube: Tube
    bought: Tube
    sleeve: Tube
    replacement: Tube
    replacement_given: bool
    cut: EndCut
    gap: Length
    length: Length | None
    bead: Length | None
    turned: Length | None
    metric: bool


def read_inner_job(data: Any) -> InnerJob:
    """Read and check the JSON input of an inner sleeve.

    Parameters
    ----------
    data : mapping
        ``tube``, ``sleeve`` (the inner tube as bought); optional ``mitre_deg`` (default 60),
        ``gap`` (axial, default 1/8 in, 0 to 12 in), ``length`` (to be judged, up to 240 in),
        ``replacement`` (default the same as the tube), ``bead`` (height of the weld bead
        inside the tube, up to 1/4 in), ``turned_od`` (sleeve turned down to), ``units``.

    Returns
    -------
    InnerJob

    Raises
    ------
    Problem
        The first problem found, with all the others behind it.

    Source: AC 43.13-1B (Change 1, 2001) 4-95, from memory.

    >>> import json
    >>> read_inner_job(json.loads(EXAMPLE)).gap.typed
    '1/8 in'
    """
    reader = open_job(data, MEMBERS, f"for example {EXAMPLE}", "Send tube and sleeve.")
    problems, unit = reader.problems, reader.unit
    tube = reader.tube("tube")
    bought = reader.tube("sleeve")
    spare = reader.tube("replacement") if data.get("replacement") is not None else None
    cut = reader.end_cut("scarf", DEFAULT_MITRE if data.get("mitre_deg") is None else data["mitre_deg"])
    typed_gap = data.get("gap")
    gap = reader.length("gap", DEFAULT_GAP if typed_gap is None else typed_gap, unit, WIDEST_GAP, allow_zero=True)
    length = reader.optional("length", unit, LONGEST_SLEEVE, allow_zero=False)
    bead = reader.optional("bead", unit, TALLEST_BEAD, allow_zero=False)
    turned = reader.optional("turned_od", unit, LARGEST_TURNED, allow_zero=False)
    if tube and bought and (turned or bought.od).inches >= tube.od.inches:
        problems.append(
            Problem("bad-sleeve", "An inner sleeve must be smaller than the tube.", given=(turned or bought.od).typed,
                    allowed=f"an outside diameter under {tube.od.echo()}.",
                    next_step="Choose a smaller sleeve, or check which size is which.",
                    field="turned_od" if turned else "sleeve.od")
        )  # fmt: skip
    if turned and bought and not bought.od.inches - 2 * bought.wall.inches < turned.inches <= bought.od.inches:
        problems.append(
            Problem("bad-sleeve", "The sleeve cannot be turned to that diameter.", given=turned.typed,
                    allowed=f"over the sleeve's bore, and up to its outside diameter {bought.od.echo()}.",
                    next_step="Give the diameter after turning, not the depth of cut.", field="turned_od")
        )  # fmt: skip
    if bead and tube and all(part.seam in ("none", "removed") for part in (tube, spare or tube)):
        problems.append(
            Problem("bad-tube", "A bead height is given for a tube said to have no bead.", given=bead.typed,
                    allowed='no bead, or a tube whose seam is "bead".',
                    next_step="Feel inside the tube, then set the seam or leave the bead out.", field="bead")
        )  # fmt: skip
    collect(problems)
    metric = reader.is_metric(tube)
    return InnerJob(tube, bought, turned_down(bought, turned, metric), spare or tube, spare is not None, cut, gap, length, bead, turned, metric)


def turned_down(bought: Tube, turned: Length | None, metric: bool) -> Tube:
    """Return a tube turned down to an outside diameter, its bore as it was; itself for None.

    Parameters
    ----------
    bought : Tube
        The tube as bought.
    turned : Length or None
        Outside diameter after turning, inches: over the bore, up to the tube's own.
    metric : bool
        Whether the text of the wall that is left is in millimetres.

    Returns
    -------
    Tube
        Its wall is exact.

    Source: hand.

    >>> from core.lengths import read_length
    >>> from core.tube import read_tube
    >>> turned_down(read_tube({"od": "1.5", "wall": ".188", "material": "dom-1020"}), read_length("1.375 in"), False).wall.typed
    '0.1255 in'
    """
    if turned is None:
        return bought
    left = bought.wall.inches - (bought.od.inches - turned.inches) / 2
    return Tube(turned, exact_length(left, metric), bought.material, bought.seam)


def exact_length(inches: Fraction, metric: bool) -> Length:
    """Return a length worked out here, with a text as a person would type it.

    Parameters
    ----------
    inches : Fraction
        Exact, >= 0.
    metric : bool
        Whether the text is in millimetres.

    Returns
    -------
    Length
        The exact value with its text.

    Source: hand.

    >>> exact_length(Fraction(189, 2000), False).typed
    '0.0945 in'
    """
    if metric:
        return Length(inches, f"{float(inches * MM_PER_INCH):.2f} mm", "mm")
    return Length(inches, f"{thousandths_text(inches)} in", "in")
