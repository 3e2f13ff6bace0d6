"""Stock that goes over the damaged tube: outer sleeve, larger tube, split sleeve."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from core.fit import clearance, fit_checks, nominal_clearance
from core.lengths import read_length
from core.methods.larger_tube_checks import fit_rules as larger_rules
from core.methods.larger_tube_checks import words as larger_words
from core.methods.larger_tube_input import WIDEST_OPENING
from core.methods.split_sleeve import fit_rules as split_rules
from core.methods.split_sleeve_input import LONGEST_DAMAGE
from core.rules import Check
from core.size_input import WIDEST_GAP
from core.sleeve import rule_length
from core.stock_rows import INSPECTOR, Ask, reason, standing, stock_row
from core.stock_sizes import usual_sizes
from core.tube import Tube


@dataclass(frozen=True)
class Over:
    """How tube that goes over the damaged tube is ranked.

    Attributes
    ----------
    between : str
        The member that tells what lies between the stub ends or the ends of the damage.
    most : float
        Its largest value, inches.
    not_given : str
        What ``needs`` leaves out while it is not given; "" where none given counts as zero.
    rules : callable
        Tube, stock and metric to checks.
    words : callable
        A text about a sleeve in the words of the method.
    """

    between: str
    most: float
    not_given: str
    rules: Callable[[Tube, Tube, bool], list[Check]]
    words: Callable[[str], str]
    pieces = 1
    end = None

    @property
    def lengths(self) -> dict[str, tuple[float, bool, str | None]]:
        """Members of the question: most, whether 0 is allowed, what none given counts as."""
        return {self.between: (self.most, self.between != "damage_length", None if self.not_given else "0 in")}

    def row(self, ask: Ask, stock: Tube) -> dict[str, Any]:
        """Return one tube judged."""
        checks = self.rules(ask.tube, stock, ask.metric)
        return stock_row(ask.tube, stock, clearance(ask.tube, stock), checks, standing(checks), reason(checks), ask.metric)

    def needs(self, ask: Ask, stock: Tube) -> float:
        """Return the length needed of a tube, inches."""
        return rule_length(ask.tube.D, stock.D, ask.inches(self.between), ask.cut) * ask.count

    def is_near(self, ask: Ask, stock: Tube) -> bool:
        """Whether a tube on the rack is worth a row."""
        return nominal_clearance(ask.tube, stock) >= -Fraction(1, 16) and stock.od.inches > ask.tube.od.inches

    def usual(self, ask: Ask) -> list[Tube]:
        """Return what could be bought."""
        return usual_sizes(ask.tube)

    def extras(self, ask: Ask, bought: list[dict[str, Any]]) -> dict[str, Any]:
        """Return what is said beside the rows."""
        note = self.words(nothing_usual(ask.tube, bought))
        if not self.not_given:
            return {"note": note}
        given = ask.lengths[self.between]
        what = {"damage_length": "length of the damage"}.get(self.between, self.between)
        return {"note": note, "needs_note": f"The length needed holds the {what}, {given.typed}." if given else self.not_given}


def nothing_usual(tube: Tube, bought: list[dict[str, Any]]) -> str:
    """Return the story of a tube that no common sleeve step fits by the letter (as .134 wall).

    Parameters
    ----------
    tube : Tube
        The damaged tube; inches.
    bought : list of dict
        Every usual size, judged (`core.stock_rows.stock_row`).

    Returns
    -------
    str
        "" where a usual size up to 1/4 in over the tube fits, and for a metric tube.

    Source: the rules of `core.fit`; what shops use instead common practice, no source.

    >>> from core.sleeve import EndCut
    >>> from core.tube import read_tube
    >>> def story(wall):
    ...     ask = Ask(read_tube({"od": "1-5/8", "wall": wall, "material": "dom-1020"}), EndCut("pointed"), {}, 1, False)
    ...     return nothing_usual(ask.tube, [OUTER.row(ask, stock) for stock in OUTER.usual(ask)])
    >>> story(".120"), story(".134")[:62]
    ('', 'No usual sleeve up to 1/4 in over this tube has both wall .134')
    """
    clean = {entry["size"]: entry for entry in bought if entry["clearance"]["nominal"]["in"] > 0 and all(c["verdict"] != "not met" for c in entry["checks"])}
    common = [s for s in clean if Fraction(read_length(clean[s]["od"]).inches) - tube.od.inches <= Fraction(1, 4)]
    if common or tube.od.is_metric:
        return ""
    thinner = [e for e in bought if e["standing"] == INSPECTOR and e["area_in2"] >= e["tube_area_in2"]]
    text = f"No usual sleeve up to 1/4 in over this tube has both wall {tube.wall.typed} or more and clearance 0 to 1/16 in."
    if clean:
        text += f" By the letter: {', '.join(list(clean)[:2])}."
    if thinner:
        best = min(thinner, key=lambda e: e["clearance"]["nominal"]["in"])
        text += (f" Shops use {best['size']} (common practice, no source): less wall, yet more area, {best['area_in2']:.3f} in² against "
                 f"{best['tube_area_in2']:.3f} in². The literal wall rule is not met: ask for the inspector's agreement.")  # fmt: skip
    return text


def _as_it_is(text: str) -> str:
    return text


OUTER = Over("gap", WIDEST_GAP, "", fit_checks, _as_it_is)
LARGER = Over("opening", WIDEST_OPENING, "The length needed leaves out the opening, stub end to stub end: it is not given yet.", larger_rules, larger_words)
SPLIT = Over("damage_length", LONGEST_DAMAGE, "The length needed leaves out the length of the damage along the tube: it is not given yet.", split_rules, _as_it_is)
