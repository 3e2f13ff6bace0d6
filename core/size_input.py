"""Read one sizing job from its JSON form. Lengths in inches once read, angles in degrees."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from core.lengths import Length, read_length
from core.problems import Problem, collect
from core.sleeve import EndCut, read_end_cut
from core.tube import Tube, one_of, read_tube, unknown_members

MEMBERS = {"tube", "sleeve", "end", "mitre_deg", "gap", "length", "units", "trim", "kerf", "opening", "replacement"}
EXAMPLE = (
    '{"tube": {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}, '
    '"sleeve": {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020"}, '
    '"end": "pointed", "mitre_deg": 60, "gap": "0 in"}'
)
WIDEST_GAP, LONGEST_SLEEVE, WIDEST_KERF, LONGEST_TRIM = 12.0, 240.0, 0.5, 6.0
LONGEST_OPENING = 240.0


@dataclass(frozen=True)
class SizeJob:
    """What one sleeve is sized from; lengths keep the text they were typed as.

    Attributes
    ----------
    tube, sleeve : Tube
    cut : EndCut
    gap : Length
        Distance between the stub ends, 0 to 12 in.
    length : Length or None
        A sleeve already cut, to be judged.
    trim : Length or None
        Extra on each end to true up after the saw, 0 to 6 in.
    kerf : Length or None
        Width of the saw cut, 0 to 1/2 in.
    metric : bool
        Whether texts are in millimetres and blanks go by a 1 mm ruler.
    opening : Length or None
        A replaced section: stub end to stub end, over 0 to 240 in.
    replacement : Length or None
        Length of the replacement piece as cut, over 0 to 240 in.
    """

    tube: Tube
    sleeve: Tube
    cut: EndCut
    gap: Length
    length: Length | None
    trim: Length | None
    kerf: Length | None
    metric: bool
    opening: Length | None = None
    replacement: Length | None = None

    @property
    def g(self) -> float:
        """Gap between the stub ends, inches."""
        return float(self.gap)

    @property
    def D(self) -> float:
        """Tube outside diameter, inches."""
        return self.tube.D

    @property
    def Ds(self) -> float:
        """Sleeve outside diameter, inches."""
        return self.sleeve.D


def read_size_job(data: Any) -> SizeJob:
    """Read and check the JSON input of a sizing job.

    Parameters
    ----------
    data : mapping
        ``tube``, ``sleeve``, ``end``, ``mitre_deg`` (over 0 to 75, not for square), ``gap``
        (default 0, to 12 in), and optionally ``length`` (to 240 in), ``units`` ("in" or "mm"),
        ``trim`` (0 to 6 in), ``kerf`` (0 to 1/2 in), ``opening``, ``replacement`` (to 240 in).

    Returns
    -------
    SizeJob

    Raises
    ------
    Problem
        The first problem found, with all the others behind it.

    Source: AC 43.13-1B (Change 1, 2001) 4-96, from memory, for what is asked; the ranges are this program's.

    >>> import json
    >>> read_size_job(json.loads(EXAMPLE)).gap.typed
    '0 in'
    """
    reader = open_job(data, MEMBERS, f"for example {EXAMPLE}", "Send tube, sleeve, end, mitre_deg and gap.")
    problems, unit = reader.problems, reader.unit
    tube = reader.tube("tube")
    sleeve = reader.tube("sleeve")
    cut = reader.end_cut(data.get("end"), data.get("mitre_deg"))
    gap = reader.length("gap", data.get("gap", f"0 {unit}"), unit, WIDEST_GAP, allow_zero=True)
    length = reader.optional("length", unit, LONGEST_SLEEVE, allow_zero=False)
    trim = reader.optional("trim", unit, LONGEST_TRIM, allow_zero=True)
    kerf = reader.optional("kerf", unit, WIDEST_KERF, allow_zero=True)
    opening = reader.optional("opening", unit, LONGEST_OPENING, allow_zero=False)
    replacement = reader.optional("replacement", unit, LONGEST_OPENING, allow_zero=False)
    refuse_small_sleeve(tube, sleeve, problems)
    collect(problems)
    metric = reader.is_metric(tube)
    return SizeJob(tube, sleeve, cut, gap, length, trim, kerf, metric, opening, replacement)


def refuse_small_sleeve(tube: Tube | None, sleeve: Tube | None, problems: list[Problem]) -> None:
    """Add a problem if a sleeve that goes over a tube is no larger than it.

    Parameters
    ----------
    tube, sleeve : Tube or None
        None where it could not be read.
    problems : list of Problem
        Gets a ``bad-sleeve``.

    Source: hand; it must go over.

    >>> problems = []
    >>> tube = read_tube({"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020"})
    >>> refuse_small_sleeve(tube, tube, problems)
    >>> problems[0].kind
    'bad-sleeve'
    """
    if tube and sleeve and sleeve.od.inches <= tube.od.inches:
        problems.append(
            Problem("bad-sleeve", "An outer sleeve must be larger than the tube.", given=sleeve.od.typed,
                    allowed=f"an outside diameter over {tube.od.echo()}.",
                    next_step="Choose a larger sleeve, or check which size is which.", field="sleeve.od")
        )  # fmt: skip


def open_job(data: Any, members: set[str], allowed: str, send: str, what: str = "job") -> Reader:
    """Return a reader over the JSON object of a job, its unknown members already noted.

    Parameters
    ----------
    data : object
        What was sent.
    members : set of str
        The names this job takes.
    allowed, send, what : str
        For the problem of a body that is no object: what would do, what to send, its name.

    Returns
    -------
    Reader

    Raises
    ------
    Problem
        ``bad-body`` (400).

    Source: the project's own form.

    >>> open_job({"gapp": "0 in"}, {"gap"}, "an object.", "Send gap.").problems[0].kind
    'unknown-member'
    """
    if not isinstance(data, dict):
        raise Problem("bad-body", f"The {what} must be one JSON object.", given=data, allowed=allowed, next_step=send, status=400)
    problems: list[Problem] = []
    unknown_members(data, members, problems)
    return Reader(data, problems)


class Reader:
    """Reads members of one object and keeps every problem under its field name."""

    def __init__(self, data: dict[str, Any], problems: list[Problem]) -> None:
        self.data, self.problems = data, problems

    @cached_property
    def units(self) -> str | None:
        """The unit system that was asked for, "in" or "mm"; None where the job leaves it open."""
        return self.read("units", lambda v: None if v is None else one_of("unit system", v, ("in", "mm")))

    @property
    def unit(self) -> str:
        """The unit of a length without one."""
        return self.units or "in"

    def is_metric(self, tube: Tube) -> bool:
        """Return whether answers are in millimetres: as asked, else as the tube was typed."""
        return self.units == "mm" if self.units else tube.od.is_metric

    def tube(self, field: str) -> Tube | None:
        """Return a tube, None after keeping its problems."""
        return self.read(field, lambda v: read_tube(v, default_unit=self.unit))

    def end_cut(self, end: Any, mitre_deg: Any) -> EndCut | None:
        """Return how the ends are cut, None after keeping the problem, which names its own member."""
        try:
            return read_end_cut(end, mitre_deg)
        except Problem as problem:
            self.problems.append(problem)
            return None

    def read(self, field: str, reader):
        """Return what `reader` makes of a member, None after keeping its problems."""
        try:
            return reader(self.data.get(field))
        except Problem as problem:
            for one in (problem, *problem.others):
                self.problems.append(one.at(field))
            problem.others = ()
            return None

    def length(self, field: str, text: Any, unit: str, most: float, *, allow_zero: bool) -> Length | None:
        """Return a length of at most `most` inches, None after keeping its problem."""

        def reader(_):
            value = read_length(text, default_unit=unit, allow_zero=allow_zero)
            if float(value) > most:
                raise Problem("out-of-range", "That length is more than this handles.", given=value.typed,
                              allowed=f"up to {most:g} in ({most * 25.4:g} mm).",
                              next_step="Check the number and its unit.")  # fmt: skip
            return value

        return self.read(field, reader)

    def optional(self, field: str, unit: str, most: float, *, allow_zero: bool) -> Length | None:
        """Return a length that may be left out, None where it is or after keeping its problem."""
        text = self.data.get(field)
        return None if text is None else self.length(field, text, unit, most, allow_zero=allow_zero)
