"""Read one larger-tube job from its JSON form. Lengths in inches once read, angles in degrees."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.lengths import Length
from core.problems import Problem, collect
from core.size_input import LONGEST_SLEEVE, open_job
from core.sleeve import EndCut
from core.tube import Tube

MEMBERS = {"tube", "sleeve", "end", "mitre_deg", "opening", "stub_short", "stub_long", "length", "units"}
WIDEST_OPENING = LONGEST_STUB = 240.0
EXAMPLE = (
    '{"tube": {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}, '
    '"sleeve": {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020"}, '
    '"end": "fishmouth", "mitre_deg": 60, "opening": "6 in", "stub_short": "5 in", "stub_long": "9 in"}'
)


@dataclass(frozen=True)
class LargerJob:
    """What one larger replacement tube is sized from.

    Attributes
    ----------
    tube : Tube
        The damaged tube: its stubs stay.
    sleeve : Tube
        The larger replacement tube.
    cut : EndCut
        Both ends of the replacement.
    opening : Length
        Distance between the square stub ends, 0 to 240 in.
    stub_short, stub_long : Length or None
        Bare length of each stub from its end to the nearest joint, bend or tab.
    length : Length or None
        A replacement already cut, to be judged.
    metric : bool
    """

    tube: Tube
    sleeve: Tube
    cut: EndCut
    opening: Length
    stub_short: Length | None
    stub_long: Length | None
    length: Length | None
    metric: bool

    @property
    def g(self) -> float:
        """Opening between the stub ends, inches: the gap of `core.sleeve`."""
        return float(self.opening)


def read_larger_job(data: Any) -> LargerJob:
    """Read and check the JSON input of a larger replacement tube.

    Parameters
    ----------
    data : mapping
        ``tube``, ``sleeve`` (the larger tube), ``end``, ``mitre_deg`` (default 60, not for
        square), ``opening`` (0 to 240 in); optional ``stub_short``, ``stub_long`` (up to
        240 in), ``length`` (to be judged, up to 240 in), ``units``.

    Returns
    -------
    LargerJob

    Raises
    ------
    Problem
        The first problem found, with all the others behind it.

    Source: AC 43.13-1B (Change 1, 2001) 4-97.

    >>> import json
    >>> read_larger_job(json.loads(EXAMPLE)).opening.typed
    '6 in'
    """
    reader = open_job(data, MEMBERS, f"for example {EXAMPLE}", "Send tube, sleeve, end and opening.")
    problems, unit = reader.problems, reader.unit
    tube = reader.tube("tube")
    sleeve = reader.tube("sleeve")
    cut = reader.end_cut(data.get("end"), 60 if data.get("mitre_deg") is None else data["mitre_deg"])
    opening = reader.length("opening", data.get("opening"), unit, WIDEST_OPENING, allow_zero=True)
    short = reader.optional("stub_short", unit, LONGEST_STUB, allow_zero=False)
    long = reader.optional("stub_long", unit, LONGEST_STUB, allow_zero=False)
    length = reader.optional("length", unit, LONGEST_SLEEVE, allow_zero=False)
    if tube and sleeve and sleeve.od.inches <= tube.od.inches:
        problems.append(
            Problem("bad-sleeve", "The replacement must be larger than the tube.", given=sleeve.od.typed,
                    allowed=f"an outside diameter over {tube.od.echo()}.",
                    next_step="Choose a larger tube, or check which size is which.", field="sleeve.od")
        )  # fmt: skip
    if short and long and short.inches > long.inches:
        problems.append(
            Problem("out-of-range", "The short stub is longer than the long stub.", given=short.typed,
                    allowed=f"up to the long stub, {long.echo()}.",
                    next_step="Swap the two, or measure them again.", field="stub_short")
        )  # fmt: skip
    collect(problems)
    metric = reader.is_metric(tube)
    return LargerJob(tube, sleeve, cut, opening, short, long, length, metric)
