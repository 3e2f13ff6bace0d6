"""Stock a patch is cut from: tube one gauge thicker, its bore near the damaged tube's outside."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, ClassVar

from core.fit import LARGEST_CLEARANCE, clearance, nominal_clearance
from core.gauges import gauge_text
from core.methods.patch import MARGIN_TEXT, gauge_wanted, stock_rules
from core.methods.patch_input import WIDEST_MARGIN
from core.methods.split_sleeve_input import LONGEST_DAMAGE
from core.quantity import fine_text
from core.stock_rows import Ask, reason, standing, stock_row
from core.stock_sizes import sizes_for_patch
from core.tube import Tube

# Tube is formed round from about this far off; further off, sheet is less work. Common practice, no source.
FORMED_FROM = Fraction(3, 8)


class Patch:
    """How tube that a patch is cut from is ranked."""

    pieces = 1
    end = "square"
    lengths: ClassVar = {"damage_length": (LONGEST_DAMAGE, False, None), "margin": (WIDEST_MARGIN, False, None)}

    def row(self, ask: Ask, stock: Tube) -> dict[str, Any]:
        """Return one tube judged; its clearance is its bore less the damaged tube's diameter."""
        checks = stock_rules(ask.tube, stock.wall, stock.material)
        why = f"{reason(checks)} {forming(nominal_clearance(ask.tube, stock), ask.metric)}"
        return stock_row(ask.tube, stock, clearance(ask.tube, stock), checks, standing(checks), why, ask.metric)

    def needs(self, ask: Ask, stock: Tube) -> float | None:
        """Return the length needed of a tube, inches; None where the damage is not measured."""
        if not ask.lengths["damage_length"]:
            return None
        return (ask.inches("damage_length") + 2 * ask.inches("margin")) * ask.count

    def is_near(self, ask: Ask, stock: Tube) -> bool:
        """Whether a tube on the rack is worth a row."""
        return abs(nominal_clearance(ask.tube, stock)) <= FORMED_FROM

    def usual(self, ask: Ask) -> list[Tube]:
        """Return what could be bought."""
        wall = gauge_wanted(ask.tube.wall.inches)
        return [] if wall is None else sizes_for_patch(ask.tube, wall)

    def extras(self, ask: Ask, bought: list[dict[str, Any]]) -> dict[str, Any]:
        """Return what is said beside the rows: sheet is not ranked, and what the length leaves out."""
        wall = gauge_wanted(ask.tube.wall.inches)
        if wall is None:
            note = "The gauge table ends at 7 gauge (.180 in). Ask the inspector which wall to use. Nothing to buy can be named."
        else:
            note = f"A patch can be cut from sheet too: {gauge_text(wall)}, the tube's steel. The rack lists tube only, so sheet is not ranked."
            note += "" if bought else " No usual tube has this wall."
        if not ask.lengths["damage_length"]:
            needs = f"The length needed is not known: the damage is not measured along the tube. {MARGIN_TEXT}"
        elif not ask.lengths["margin"]:
            needs = f"The length needed is the damage alone. The patch is longer. {MARGIN_TEXT}"
        else:
            needs = f"The length needed is the damage, and {ask.lengths['margin'].typed} past it on each side."
        return {"note": note, "needs_note": needs}


def forming(room: Fraction, metric: bool) -> str:
    """Return how a patch cut from a tube is brought onto the damaged tube.

    Parameters
    ----------
    room : Fraction
        Bore of the stock less the damaged tube's outside diameter, inches.
    metric : bool

    Source: common practice, no source; up to 1/16 in counts as lying on the tube.

    >>> forming(Fraction(1, 8), False)
    'Its bore is 0.125 in larger than the tube: close the patch up onto it.'
    """
    size = fine_text(abs(float(room)), metric)
    if 0 <= room <= LARGEST_CLEARANCE:
        return "It lies on the tube almost as it is."
    if room > 0:
        return f"Its bore is {size} larger than the tube: close the patch up onto it."
    return f"Its bore is {size} smaller than the tube: open the patch out onto it."


PATCH = Patch()
