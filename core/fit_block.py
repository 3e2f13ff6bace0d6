"""Fit of the two parts side by side: as drawn, at the table's worst, as measured, and what to do.

Clearances are on the diameter, in inches. Limit: AC 43.13-1B 4-97, 4-96 the same from memory.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any, ClassVar

from core.fit import LARGEST_CLEARANCE, limit_text
from core.fit_measured import (
    ENOUGH_READINGS,
    LIMIT,
    MOST_POLISHED,
    ROUNDING,
    SLIDES,
    Measured,
    MeasuredFit,
    measured_fit,
)
from core.methods.parts import Parts
from core.methods.split_sleeve import seam_gap
from core.quantity import down, fine_text, near, up
from core.rules import verdict
from core.size_options import swap_words

AGAIN = "Measure again at both ends, a quarter turn apart: four readings of each part tell more than two."


class InnerFit(MeasuredFit):
    """A sleeve inside the tube: its readings stand where the tube's do, and the tube's bore is the bore."""

    rule: ClassVar[str] = "inner-sleeve"

    def what_to_do(self) -> list[str]:
        """Return short lines with amounts: slide it in, polish or turn the sleeve, choose another.

        Source: polishing amount common practice, no source.
        """
        measured, metric = self.measured, self.measured.metric
        bead, short = float(measured.bead), SLIDES - self.least
        if self.greatest > LIMIT + ROUNDING:
            over = fine_text(self.greatest - LIMIT, metric, "up")
            lines = [f"Too loose by up to {over}. Choose a larger sleeve, or measure again at both ends.", self._another()]
        elif short <= ROUNDING:
            lines = ["It slides. Push it into the tube by hand, full length, before you weld."]
        else:
            lines = [f"Take the bead out of the tube, as far as the sleeve goes. That gives {fine_text(bead, metric, 'down')}."] if bead else []
            short -= bead
            lines += self._take_off(short) if short > ROUNDING else ["Then measure the bore again and slide the sleeve in."]
        if min(len(measured.tube_od), len(measured.bores())) < ENOUGH_READINGS:
            lines.append(AGAIN)
        return lines

    def _take_off(self, short: float) -> list[str]:
        measured, amount = self.measured, fine_text(short, self.measured.metric, "up")
        if self.greatest + short > LIMIT + ROUNDING:
            return [f"Too tight by {amount}, and too loose elsewhere once it slides. Choose another sleeve.", self._another()]
        if short <= MOST_POLISHED + ROUNDING:
            return [f"Polish scale and high spots off the sleeve, up to {amount} on the diameter.", "Measure again. Stop when it slides by hand."]
        left = measured.tube.t - short / 2 if measured.tube else 0.0
        wall = f" That leaves its wall {fine_text(left, measured.metric, 'down')}." if left > 0 else ""
        return [f"Turn the sleeve down {amount} on the diameter, full length.{wall}",
                "Type the turned diameter above: every rule is then judged again.", self._another()]  # fmt: skip

    def _another(self) -> str:
        measured, metric = self.measured, self.measured.metric
        low, high = max(measured.bores()) - LIMIT, min(measured.bores()) - float(measured.bead) - SLIDES
        if low > high:
            return "No round sleeve suits this bore: it is too oval, or the bead is too high. Measure again, or use another method."
        return f"A sleeve of {fine_text(low, metric, 'up')} to {fine_text(high, metric, 'down')} outside diameter suits this bore."


class LargerFit(MeasuredFit):
    """A larger tube over the stubs."""

    rule: ClassVar[str] = "larger-tube"

    def what_to_do(self) -> list[str]:
        """Return the lines of `MeasuredFit.what_to_do` in the words of a new tube."""
        return [line.replace("sleeve", "new tube").replace("over the tube", "over both stubs") for line in super().what_to_do()]


class HalvesFit(MeasuredFit):
    """Two halves clamped on the tube: nothing slides, so only the limit counts."""

    rule: ClassVar[str] = "larger-tube"

    def what_to_do(self) -> list[str]:
        """Return short lines with amounts: clamp and look at the seams, hone before slitting, choose another.

        Source: common practice, no source.
        """
        measured, metric = self.measured, self.measured.metric
        if self.greatest > LIMIT + ROUNDING:
            lines = [f"Too loose by up to {fine_text(self.greatest - LIMIT, metric, 'up')}. Choose another sleeve.", self._another()]
        elif self.least >= -ROUNDING:
            lines = ["Clamp both halves on the tube. Look for light under them, full length."]
        else:
            lines = [f"Too tight by {fine_text(-self.least, metric, 'up')}: the halves stand off the tube.",
                     "Hone the bore before you slit it, or choose another sleeve.", self._another()]  # fmt: skip
        if float(measured.bead):
            lines.append("Take the bead out of the sleeve, full length, before you slit it.")
        if min(len(measured.tube_od), len(measured.bores())) < ENOUGH_READINGS:
            lines.append(AGAIN)
        return lines


KINDS = {"outer-sleeve": MeasuredFit, "inner-sleeve": InnerFit, "larger-tube": LargerFit, "split-sleeve": HalvesFit}


def fit_of(parts: Parts, readings: Measured) -> MeasuredFit:
    """Return the measured fit of a splice, in the words of its method.

    Parameters
    ----------
    parts : Parts
    readings : Measured
        As `core.size_options.read_options` gives them; inches.

    Returns
    -------
    MeasuredFit
        ``least`` and ``greatest`` clearance on the diameter, inches.

    Source: `core.fit_measured`.

    >>> import json
    >>> from core.fit_measured import read_measured
    >>> from core.methods.parts import read_parts
    >>> from core.size_input import EXAMPLE
    >>> readings = read_measured({"tube_od": ["1.624 in", "1.626 in"], "sleeve_bore": ["1.633 in", "1.635 in"]})
    >>> fit = fit_of(read_parts("outer-sleeve", json.loads(EXAMPLE)), readings)
    >>> round(fit.least, 4), round(fit.greatest, 4)
    (0.007, 0.011)
    """
    plain = measured_fit(replace(readings, tube=parts.inner, sleeve=parts.outer, metric=parts.metric))
    return KINDS[parts.method](**vars(plain))


def fit_block(parts: Parts, measured: MeasuredFit | None) -> dict[str, Any]:
    """Return the clearances side by side as JSON-ready data.

    Parameters
    ----------
    parts : Parts
        Lengths in inches.
    measured : MeasuredFit or None
        From `fit_of`; None while nothing is measured.

    Returns
    -------
    dict
        ``between``, ``limit``, ``rows`` (least, greatest: ``drawn``, ``worst``, ``measured``, each a
        quantity or None), ``verdicts``, ``what_to_do``, and ``measured``: the form of
        `core.fit_measured.MeasuredFit.as_dict`, None without readings.

    Source: drawn and worst `core.fit.clearance`; measured `core.fit_measured`.

    >>> import json
    >>> from core.methods.parts import read_parts
    >>> from core.size_input import EXAMPLE
    >>> block = fit_block(read_parts("outer-sleeve", json.loads(EXAMPLE)), None)
    >>> block["rows"][0]["drawn"]["text"], block["verdicts"]
    ('0.010 in', {'drawn': 'met', 'worst': 'unknown', 'measured': None})
    """
    worst, bead, metric = parts.worst, parts.bead, parts.metric
    rows = [
        {"label": "Least", "drawn": near(worst.nominal - bead, metric), "worst": down(worst.lowest - bead, metric),
         "measured": down(measured.least, metric) if measured else None},
        {"label": "Greatest", "drawn": near(worst.nominal, metric), "worst": up(worst.highest, metric),
         "measured": up(measured.greatest, metric) if measured else None},
    ]  # fmt: skip
    between = "tube's bore less sleeve" if parts.method == "inner-sleeve" else f"{parts.part}'s bore less tube"
    on_paper = _within(worst.lowest - bead, worst.highest)
    return {
        "between": f"{between}, on the diameter",
        "limit": limit_text(metric),
        "rows": rows,
        "verdicts": {"drawn": verdict(_within(worst.nominal - bead, worst.nominal)), "worst": verdict(on_paper),
                     "measured": verdict(measured.outcome) if measured else None},
        "what_to_do": measured.what_to_do() if measured else _before_measuring(parts, on_paper),
        "measured": _as_dict(parts, measured) if measured else None,
    }  # fmt: skip


def _within(low: float, high: float) -> bool | None:
    # Tolerances are known to a thousandth; rounding error must not turn a limit into a miss.
    low, high, limit = round(low, 6), round(high, 6), float(LARGEST_CLEARANCE)
    if low >= 0 and high <= limit:
        return True
    return False if high < 0 or low > limit else None


def _before_measuring(parts: Parts, on_paper: bool | None) -> list[str]:
    metric, low, high = parts.metric, parts.worst.lowest - parts.bead, parts.worst.highest
    both = "Measure both parts at both ends, a quarter turn apart. Type the readings."
    if on_paper is False:
        return [f"It does not fit on paper. Choose another {parts.part}.", both]
    lines = []
    if low < SLIDES - ROUNDING and parts.method != "split-sleeve":
        work = "polish or turn the sleeve" if parts.method == "inner-sleeve" else "polish the tube or hone the bore"
        lines.append(f"At the tight end it lacks {fine_text(SLIDES - low, metric, 'up')} to slide. Be ready to {work}.")
    if round(high - float(LARGEST_CLEARANCE), 6) > 0:
        lines.append(f"At the loose end it is {fine_text(high - float(LARGEST_CLEARANCE), metric, 'up')} over the limit. Then choose another {parts.part}.")
    return [*lines, both]


def _as_dict(parts: Parts, measured: MeasuredFit) -> dict[str, Any]:
    made = measured.as_dict()
    # The rows beside it hold the worst case already, a turned sleeve's and a bead's among it.
    del made["side_by_side"]
    if parts.method == "split-sleeve" and parts.kerf is not None:
        least_bore, largest = min(measured.measured.bores()), max(float(od) for od in measured.measured.tube_od)
        made["numbers"].append({"label": "Gap at each seam, measured, most", "value": up(seam_gap(largest, least_bore, parts.kerf), parts.metric),
                                "note": "Halves clamped on the tube, by the smallest bore and the largest tube."})  # fmt: skip
    if parts.method == "inner-sleeve":
        for row in made["numbers"]:
            row["label"], row["note"] = swap_words(row["label"]), swap_words(row["note"])
        made["assumptions"] = [line if "taken to slide" in line else swap_words(line) for line in made["assumptions"]]
    if parts.method == "larger-tube":
        made["assumptions"] = [line.replace("sleeve", "new tube") for line in made["assumptions"]]
    if parts.method == "split-sleeve":
        made["assumptions"] = [line for line in made["assumptions"] if "slide" not in line]
    return made

