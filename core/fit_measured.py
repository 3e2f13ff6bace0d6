"""Measured fit: what this tube and this sleeve leave between them, beside the table's worst case.

Diameters and lengths in inches.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar

from core.fit import LARGEST_CLEARANCE, clearance, limit_text
from core.lengths import Length, read_length
from core.problems import Problem, collect
from core.quantity import down, fine_text, near, up
from core.rules import DEFERENCE, Check, clause, verdict
from core.size_input import open_job
from core.tube import LARGEST_OD, SMALLEST_OD, THICKEST_WALL, THINNEST_WALL, Tube

MEMBERS = {"tube", "sleeve", "tube_od", "sleeve_bore", "sleeve_od", "sleeve_wall", "bead", "units"}
EXAMPLE = '{"tube_od": ["1.625 in", "1.628 in"], "sleeve_bore": ["1.634 in", "1.636 in"], "bead": "0 in"}'
# Inches on the diameter; common practice, no source.
SLIDES, MOST_HONED, MOST_POLISHED = 0.003, 0.010, 0.002
MOST_READINGS, ENOUGH_READINGS, WIDEST_SPREAD = 12, 4, 0.05
LIMIT = float(LARGEST_CLEARANCE)
ROUNDING = 1e-9
FINEST = 0.001  # a bore is told and measured to a thousandth


@dataclass(frozen=True)
class Measured:
    """Readings of one tube and one sleeve; lengths in inches, as floats or `Length`.

    Attributes
    ----------
    tube_od : tuple
        Outside diameters of the tube, two or more.
    sleeve_bore : tuple
        Inside diameters of the sleeve, two or more, or empty.
    sleeve_od : tuple
        Outside diameters of the sleeve, used with `sleeve_wall` where no bore was measured.
    sleeve_wall : float, Length or None
    bead : float or Length
        Height of the weld bead inside the sleeve, 0 where there is none.
    tube, sleeve : Tube or None
        The sizes as ordered, for the worst case beside the measured one.
    metric : bool
    """

    tube_od: tuple[float | Length, ...]
    sleeve_bore: tuple[float | Length, ...] = ()
    sleeve_od: tuple[float | Length, ...] = ()
    sleeve_wall: float | Length | None = None
    bead: float | Length = 0.0
    tube: Tube | None = None
    sleeve: Tube | None = None
    metric: bool = False

    def bores(self) -> tuple[float, ...]:
        """Return the bores in inches: as measured, else sleeve OD - 2 wall."""
        if self.sleeve_bore:
            return tuple(float(bore) for bore in self.sleeve_bore)
        return tuple(float(od) - 2 * float(self.sleeve_wall) for od in self.sleeve_od)


@dataclass(frozen=True)
class MeasuredFit:
    """Measured clearance on the diameter, inches; negative is interference.

    Attributes
    ----------
    measured : Measured
    least : float
        Smallest bore - bead - largest tube OD.
    greatest : float
        Largest bore - smallest tube OD. A bead does not make a
        loose sleeve tighter, so it earns nothing here.
    tube_ovality, bore_ovality : float
        Largest - smallest reading.
    """

    measured: Measured
    least: float
    greatest: float
    tube_ovality: float
    bore_ovality: float

    # The rule the clearance is held to; another way of fitting names its own.
    rule: ClassVar[str] = "outer-sleeve"

    @property
    def outcome(self) -> bool | None:
        """True inside 0 to 1/16 in at every pair of readings, False outside at every pair, else None."""
        if self.least >= -ROUNDING and self.greatest <= LIMIT + ROUNDING:
            return True
        if self.greatest < -ROUNDING or self.least > LIMIT + ROUNDING or self._bead_blocks:
            return False
        return None

    @property
    def _bead_blocks(self) -> bool:
        """Whether the bead keeps the tube out however it is turned."""
        return self.greatest - float(self.measured.bead) < -ROUNDING

    def check(self) -> Check:
        """Return the measured clearance against 0 to 1/16 in."""
        metric = self.measured.metric
        given = f"{fine_text(self.least, metric, 'down')} to {fine_text(self.greatest, metric, 'up')}"
        text = {
            True: "The measured parts are inside the limit at every pair of readings.",
            False: "The measured parts are outside the limit.",
            None: "Some pairs of readings are inside the limit and some are not.",
        }[self.outcome]
        return Check("clearance_measured", clause(self.rule).label(), given, f"{limit_text(metric)} on the diameter, measured",
                     verdict(self.outcome), f"{text} {self.what_to_do()[0]}")  # fmt: skip

    def what_to_do(self) -> list[str]:
        """Return short lines with amounts: slide it on, hone, polish, choose another, measure again.

        Source: honing and polishing amounts common practice, no source.
        """
        measured, metric = self.measured, self.measured.metric
        bead = float(measured.bead)
        if self.least > LIMIT + ROUNDING or self.greatest > LIMIT + ROUNDING:
            lines = self._too_loose()
        elif self.least >= SLIDES - ROUNDING:
            lines = ["It slides. Push it over the tube by hand, full length, before you weld."]
        else:
            lines = self._too_tight()
        if bead > 0 and self.least >= SLIDES - ROUNDING:
            lines.append(f"The bead is {fine_text(bead, metric)} high. Look for higher spots along the full length.")
        if min(len(measured.tube_od), len(self.measured.bores())) < ENOUGH_READINGS:
            lines.append("Measure again at both ends, a quarter turn apart: four readings of each part tell more than two.")
        return lines

    def _too_loose(self) -> list[str]:
        metric, lines = self.measured.metric, []
        over = fine_text(self.greatest - LIMIT, metric, "up")
        if self.least > LIMIT + ROUNDING:
            lines.append(f"Too loose by up to {over}. Choose another sleeve.")
        else:
            lines.append(f"Too loose by {over} at the loosest pair of readings. Measure again at both ends.")
            if self.least < SLIDES - ROUNDING:
                lines.append("It is tight and loose on one tube. Round the tube or the sleeve up, or cut back to round tube.")
        lines.append(self._another())
        return lines

    def _too_tight(self) -> list[str]:
        measured, metric = self.measured, self.measured.metric
        bead, lines, short = float(measured.bead), [], SLIDES - self.least
        if bead > 0:
            lines.append(f"Take the bead out, full length. That gives {fine_text(bead, metric, 'down')}.")
            short -= bead
        if short <= ROUNDING:
            return [*lines, "Then measure the bore again and slide the sleeve over the tube."]
        amount = fine_text(short, metric, "up")
        if short > MOST_HONED + ROUNDING:
            most = fine_text(MOST_HONED, metric, "down")
            return [*lines, f"Too tight by {amount}. Honing takes up to {most}. Choose another sleeve.", self._another()]
        if self.greatest + short > LIMIT + ROUNDING:
            return [*lines, f"Too tight by {amount}, and too loose elsewhere once honed. Choose another sleeve.", self._another()]
        if self.least < -ROUNDING and self.greatest >= 0:
            lines.append("Turn the sleeve on the tube first: the ovals may line up.")
        if short <= MOST_POLISHED + ROUNDING:
            lines.append(f"Polish scale and high spots off the tube, up to {amount} on the diameter.")
        lines.append(f"Hone {amount} off the bore, on the diameter.")
        if measured.tube and measured.sleeve and measured.sleeve.t - short / 2 < measured.tube.t - ROUNDING:
            lines.append(f"Honing leaves the sleeve's wall {fine_text(measured.sleeve.t - short / 2, metric, 'down')}, under the "
                         f"tube's {fine_text(measured.tube.t, metric)}. Ask the inspector first.")  # fmt: skip
        return [*lines, "Measure again after each pass. Stop when it slides by hand."]

    def _another(self) -> str:
        measured, metric = self.measured, self.measured.metric
        ods = [float(od) for od in measured.tube_od]
        low, high = max(ods) + SLIDES, min(ods) + LIMIT
        if high - low < FINEST - ROUNDING:  # or the two ends, rounded inward, would cross
            return "No round bore suits this tube: it is too oval. Round it up or cut back to round tube, then measure again."
        return f"A bore of {fine_text(low, metric, 'up')} to {fine_text(high, metric, 'down')}, free of any bead, suits this tube."

    def as_dict(self) -> dict[str, Any]:
        """Return the JSON form: quantities, check, what to do, and the worst case beside it."""
        measured, metric = self.measured, self.measured.metric
        numbers = [
            _line("Least clearance, measured", down(self.least, metric), "smallest bore - bead - largest tube"),
            _line("Greatest clearance, measured", up(self.greatest, metric), "largest bore - smallest tube"),
            _line("Tube out of round", up(self.tube_ovality, metric), "largest - smallest reading"),
            _line("Bore out of round", up(self.bore_ovality, metric), "largest - smallest reading"),
        ]
        return {
            "numbers": numbers,
            "least": down(self.least, metric),
            "greatest": up(self.greatest, metric),
            "tube_ovality": up(self.tube_ovality, metric),
            "bore_ovality": up(self.bore_ovality, metric),
            "bead": near(float(measured.bead), metric),
            "side_by_side": self._side_by_side(),
            "checks": [self.check().as_dict()],
            "what_to_do": self.what_to_do(),
            "assumptions": self._assumptions(),
            "sources": [clause(key).as_dict() for key in (self.rule, "dom", "seam-practice")],
            "warnings": [{"rank": 1, "text": self.check().text}] if self.outcome is False else [],
            "deference": DEFERENCE,
        }

    def _side_by_side(self) -> list[dict[str, Any]]:
        """Return rows of measured and worst-case clearance; empty without the sizes as ordered."""
        measured, metric = self.measured, self.measured.metric
        if not (measured.tube and measured.sleeve):
            return []
        worst = clearance(measured.tube, measured.sleeve)
        return [
            {"label": "least", "measured": down(self.least, metric), "worst_case": down(worst.lowest, metric)},
            {"label": "greatest", "measured": up(self.greatest, metric), "worst_case": up(worst.highest, metric)},
        ]

    def _assumptions(self) -> list[str]:
        measured = self.measured
        notes = ["Largest and smallest readings are taken to meet at the same place; the parts may do better.",
                 "A bead inside costs its height once: the tube rests against the far side.",
                 f"A sleeve is taken to slide from {fine_text(SLIDES, measured.metric)} on the diameter up (common practice, no source)."]  # fmt: skip
        if not measured.sleeve_bore:
            notes.append("No bore was measured; it is taken as the sleeve's outside less twice its wall.")
        elif measured.sleeve_od or measured.sleeve_wall is not None:
            notes.append("The bore was measured, so the sleeve's outside and wall are not used.")
        if self.tube_ovality == 0 or self.bore_ovality == 0:
            notes.append("All readings of one part are the same. Check that they were taken a quarter turn apart.")
        return notes


def measured_fit(measured: Measured) -> MeasuredFit:
    """Return the measured clearance of one sleeve over one tube.

    least = min(bore) - f - max(D); greatest = max(bore) - min(D); ovality = max - min

    Parameters
    ----------
    measured : Measured
        Two or more readings of each part, inches.

    Raises
    ------
    Problem
        ``bad-readings`` for too few readings or readings that cannot be of one part.

    Source: geometry by hand (a bump f in a bore leaves room for a round d - f); limit
    AC 43.13-1B 4-96, from memory.

    >>> fit = measured_fit(Measured((1.625, 1.628), (1.634, 1.636)))
    >>> round(fit.least, 4), round(fit.greatest, 4)
    (0.006, 0.011)
    """
    problems: list[Problem] = []
    ods = [float(od) for od in measured.tube_od]
    _belong_together(ods, "tube_od", "tube's outside", problems)
    field = "sleeve_bore" if measured.sleeve_bore or not measured.sleeve_od else "sleeve_od"
    if field == "sleeve_od" and measured.sleeve_wall is None:
        problems.append(Problem("bad-readings", "The sleeve's outside says nothing about its bore without a wall.", given="no wall",
                                allowed="sleeve bores, or sleeve outside diameters with the wall.",
                                next_step="Measure the bore, or measure the wall.", field="sleeve_wall"))  # fmt: skip
    else:
        _belong_together([float(value) for value in getattr(measured, field)], field, "sleeve", problems)
    collect(problems)
    bores, bead = measured.bores(), float(measured.bead)
    if min(bores) <= 0 or not 0 <= bead < min(bores):
        raise Problem("bad-readings", "The wall or the bead leaves no hole in the sleeve.", given=f"bore {min(bores):.3f} in, bead {bead:.3f} in",
                      allowed="a bore over zero and a bead lower than it.", next_step="Measure the wall and the bead again.",
                      field="bead" if min(bores) > 0 else "sleeve_wall")  # fmt: skip
    return MeasuredFit(measured, min(bores) - bead - max(ods), max(bores) - min(ods), max(ods) - min(ods), max(bores) - min(bores))


def _belong_together(values: list[float], field: str, what: str, problems: list[Problem]) -> None:
    if len(values) < 2:
        problems.append(Problem("bad-readings", f"Too few readings of the {what}.", given=f"{len(values)}", allowed="two or more.",
                                next_step="Measure again a quarter turn around.", field=field))  # fmt: skip
    elif max(values) - min(values) > WIDEST_SPREAD * max(values) + ROUNDING:
        problems.append(Problem("bad-readings", f"These readings of the {what} are too far apart to be one part.",
                                given=f"{min(values):.3f} in and {max(values):.3f} in", allowed=f"within {WIDEST_SPREAD:.0%} of each other.",
                                next_step="Measure the odd one again, away from the damage.", field=field))  # fmt: skip


def read_measured(data: Any) -> Measured:
    """Read and check the JSON input of a measured fit.

    Parameters
    ----------
    data : mapping
        ``tube_od`` and ``sleeve_bore`` (lists of text lengths, 0.125 to 6 in), or ``sleeve_od``
        with ``sleeve_wall`` (0.020 to 0.750 in); optionally ``bead`` (0 to 1/4 in), ``tube`` and
        ``sleeve`` (the sizes as ordered), ``units`` ("in" or "mm").

    Returns
    -------
    Measured

    Raises
    ------
    Problem
        The first problem found, with all the others behind it.

    Source: common practice, no source (two readings a quarter turn apart).

    >>> import json
    >>> read_measured(json.loads(EXAMPLE)).tube_od[1].typed
    '1.628 in'
    """
    reader = open_job(data, MEMBERS, f"for example {EXAMPLE}", "Send tube_od and sleeve_bore.", "readings")
    unit = reader.unit
    tube, sleeve = (reader.tube(name) if data.get(name) is not None else None for name in ("tube", "sleeve"))
    ods = reader.read("tube_od", lambda v: _readings(v, unit))
    bores = reader.read("sleeve_bore", lambda v: _readings(v, unit))
    outsides = reader.read("sleeve_od", lambda v: _readings(v, unit))
    wall = reader.read("sleeve_wall", lambda v: _wall(v, unit))
    bead = reader.length("bead", data.get("bead") or f"0 {unit}", unit, 0.25, allow_zero=True)
    collect(reader.problems)
    metric = reader.units == "mm" if reader.units else bool(ods) and ods[0].is_metric
    measured = Measured(ods, bores, outsides, wall, bead, tube, sleeve, metric)
    measured_fit(measured)  # readings that cannot be of one part are refused here, with the rest of the input
    return measured


def _wall(value: Any, unit: str) -> Length | None:
    if value is None or value == "":
        return None
    return _in_range(read_length(value, role="wall", default_unit=unit), THINNEST_WALL, THICKEST_WALL)


def _readings(value: Any, unit: str) -> tuple[Length, ...]:
    if value is None:
        return ()
    if not isinstance(value, list) or len(value) > MOST_READINGS:
        raise Problem("bad-readings", "The readings must be a list of lengths.", given=value,
                      allowed=f"up to {MOST_READINGS} text lengths.", next_step='Send for example ["1.625 in", "1.620 in"].')  # fmt: skip
    return tuple(_in_range(read_length(text, role="diameter", default_unit=unit), SMALLEST_OD / 2, LARGEST_OD) for text in value if text != "")


def _in_range(length: Length, low: float, high: float) -> Length:
    if not low <= float(length) <= high:
        raise Problem("out-of-range", "That reading is outside what this handles.", given=length.typed,
                      allowed=f"{low:g} in to {high:g} in ({low * 25.4:.4g} mm to {high * 25.4:.4g} mm).",
                      next_step="Check the number and its unit.")  # fmt: skip
    return length


def _line(label: str, value: dict[str, Any], note: str) -> dict[str, Any]:
    return {"label": label, "value": value, "note": note}
