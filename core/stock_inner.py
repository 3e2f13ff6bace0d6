"""Stock that goes inside the damaged tube, as it is or turned down."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, ClassVar

from core.fit import LARGEST_CLEARANCE
from core.methods.inner_sleeve import SLEEVES, inner_clearance, inner_rule_length
from core.methods.inner_sleeve_checks import fit_rules
from core.methods.inner_sleeve_input import DEFAULT_GAP, TALLEST_BEAD, InnerJob, exact_length, turned_down
from core.methods.inner_sleeve_options import SLIDE, options
from core.size_input import WIDEST_GAP
from core.stock_rows import FITS, MEASURE, TURN, Ask, reason, standing, stock_row
from core.stock_sizes import sizes_at_bore
from core.tube import Tube

# A tube much larger than the bore is a lathe job nobody does; common practice, no source.
MOST_OVER_BORE = Fraction(1, 2)
LOOSEST_SHOWN = 2 * LARGEST_CLEARANCE


class Inner:
    """How tube that goes inside the damaged tube is ranked."""

    pieces = SLEEVES
    end = "scarf"
    lengths: ClassVar = {"gap": (WIDEST_GAP, True, DEFAULT_GAP), "bead": (TALLEST_BEAD, False, None)}

    def row(self, ask: Ask, stock: Tube) -> dict[str, Any]:
        """Return one tube judged; ``turned_od`` where it is judged as turned down to that."""
        if stock.od.inches > ask.bore and _wall_left(ask, stock) >= ask.tube.wall.inches:
            return self._judged(ask, stock, exact_length(ask.bore - SLIDE, ask.metric))
        return self._judged(ask, stock)

    def _judged(self, ask: Ask, stock: Tube, turned=None) -> dict[str, Any]:
        job = _job(ask, stock, turned)
        fit = inner_clearance(job, job.tube)
        checks = fit_rules(job, fit)
        stand, why = standing(checks, ("clearance", "bead")), reason(checks)
        if turned:
            stand = TURN if stand in (FITS, MEASURE) else stand
            way = f"Turn it down to {turned.typed}, {job.sleeve.wall.typed} of wall left. Check the wall all round: the bore may be off centre."
            why = way if stand == TURN and why == checks[0].text else f"{way} {why}"
        row = stock_row(ask.tube, stock, fit, checks, stand, why, ask.metric)
        return {**row, "turned_od": turned.typed} if turned else row

    def needs(self, ask: Ask, stock: Tube) -> float:
        """Return the length needed of a tube, inches."""
        return inner_rule_length(ask.tube.D, ask.inches("gap"), ask.cut) * ask.count

    def is_near(self, ask: Ask, stock: Tube) -> bool:
        """Whether a tube on the rack is worth a row."""
        room = ask.bore - stock.od.inches
        if -LARGEST_CLEARANCE <= room <= LOOSEST_SHOWN:
            return True
        return -MOST_OVER_BORE <= room < 0 and _wall_left(ask, stock) >= ask.tube.wall.inches

    def usual(self, ask: Ask) -> list[Tube]:
        """Return what could be bought."""
        return sizes_at_bore(ask.tube)

    def extras(self, ask: Ask, bought: list[dict[str, Any]]) -> dict[str, Any]:
        """Return what is said beside the rows: the bead, and every way to an inner tube."""
        job = _job(ask, ask.tube)
        ways = options(job)
        bead = next(check for check in fit_rules(job, inner_clearance(job, job.tube)) if check.id == "bead")
        said = [ways[0]["text"]] if ways[0]["size"] == "none" else []
        if bead.verdict != "met" and not ask.lengths["bead"]:
            said.insert(0, bead.text)
        pieces = f"{ask.count} sleeves, one for each cut" if ask.count > 1 else "one sleeve"
        return {"note": " ".join(said), "needs_note": f"The length needed is for {pieces}, with a gap of {ask.lengths['gap'].typed} along the axis.", "options": ways}


def _wall_left(ask: Ask, stock: Tube) -> Fraction:
    """Return the wall a tube keeps when turned down to slide in, inches."""
    return stock.wall.inches - (stock.od.inches - ask.bore + SLIDE) / 2


def _job(ask: Ask, stock: Tube, turned=None) -> InnerJob:
    return InnerJob(ask.tube, stock, turned_down(stock, turned, ask.metric), ask.tube, False, ask.cut, ask.lengths["gap"],
                    None, ask.lengths["bead"], turned, ask.metric)  # fmt: skip


INNER = Inner()
