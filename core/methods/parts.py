"""What is sawn, drilled and slid together in one repair: the same few facts from every splice's job."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.fit import Clearance, clearance
from core.lengths import Length
from core.methods import inner_sleeve, outer_sleeve
from core.methods.common import blank
from core.methods.inner_sleeve_input import read_inner_job
from core.methods.larger_tube_input import read_larger_job
from core.methods.split_sleeve_input import read_split_job
from core.quantity import quantity, ruler_text
from core.size_input import read_size_job
from core.sleeve import EndCut, rule_length
from core.tube import Tube


@dataclass(frozen=True)
class Parts:
    """One splice as the fit, the holes and the saw see it; lengths in inches.

    Attributes
    ----------
    method : str
    tube, sleeve : Tube
        The damaged tube, and the sleeve or new tube as it goes on or in.
    outer, inner : Tube
        The same two by place. The outer one is drilled.
    cut : EndCut
        The slant that is sawn: the sleeve's ends, or the tube's for an inner sleeve.
    worst : Clearance
        On the diameter, as drawn and at the table's worst.
    made : float
        Length the sleeve is made to.
    typed : str or None
        That length as typed, for a sleeve already cut.
    gap : float
        Between the stub ends.
    reach : float
        Inner sleeve only: its end past the nearest end of the cut.
    bead : float
        Height of a weld bead inside the outer part, as given.
    kerf : float or None
    damage : str
        Split sleeve only: dent, crack or bend.
    metric : bool
    """

    method: str
    tube: Tube
    sleeve: Tube
    outer: Tube
    inner: Tube
    cut: EndCut
    worst: Clearance
    made: float
    typed: str | None
    gap: float
    metric: bool
    reach: float = 0.0
    bead: float = 0.0
    kerf: float | None = None
    damage: str = ""

    @property
    def blank(self) -> dict[str, Any]:
        """Length the sleeve is made to as a quantity: as typed, else up to the ruler."""
        return quantity(self.made, self.typed or ruler_text(self.made, self.metric, "up"))

    @property
    def part(self) -> str:
        """What the welder calls the part that is made."""
        return "new tube" if self.method == "larger-tube" else "sleeve"


def read_parts(method: str, data: dict[str, Any]) -> Parts | None:
    """Return the parts of a splice, None for a patch.

    Parameters
    ----------
    method : str
        Key of `core.sizing.MODULES`.
    data : dict
        What that method reads; lengths as text.

    Returns
    -------
    Parts or None
        Lengths in inches.

    Raises
    ------
    Problem
        As the method's own reader.

    Source: the method's own reader and lengths (`core.sleeve`, `core.methods`).

    >>> import json
    >>> from core.size_input import EXAMPLE
    >>> read_parts("outer-sleeve", json.loads(EXAMPLE)).blank["text"]
    '8-1/8 in'
    """
    reader = {"outer-sleeve": _outer, "inner-sleeve": _inner, "larger-tube": _larger, "split-sleeve": _split}.get(method)
    return reader(data) if reader else None


def _over(method: str, job: Any, made: float, length: Length | None, **more: Any) -> Parts:
    return Parts(method, job.tube, job.sleeve, job.sleeve, job.tube, job.cut, clearance(job.tube, job.sleeve), made,
                 length.typed if length else None, job.g, job.metric, **more)  # fmt: skip


def _outer(data: dict[str, Any]) -> Parts:
    job = read_size_job(data)
    return _over("outer-sleeve", job, outer_sleeve.made_length(job), job.length)


def _larger(data: dict[str, Any]) -> Parts:
    job = read_larger_job(data)
    made = float(job.length) if job.length else blank(rule_length(job.tube.D, job.sleeve.D, job.g, job.cut), job.metric)
    return _over("larger-tube", job, made, job.length)


def _split(data: dict[str, Any]) -> Parts:
    split = read_split_job(data)
    job = split.sized
    kerf = None if job.kerf is None else float(job.kerf)
    return _over("split-sleeve", job, outer_sleeve.made_length(job), job.length, kerf=kerf, damage=split.damage)


def _inner(data: dict[str, Any]) -> Parts:
    job = read_inner_job(data)
    made, gap = inner_sleeve.made_length(job), float(job.gap)
    return Parts("inner-sleeve", job.tube, job.sleeve, job.tube, job.sleeve, job.cut, inner_sleeve.inner_clearance(job, job.tube), made,
                 job.length.typed if job.length else None, gap, job.metric,
                 reach=inner_sleeve.inner_overlap(made, job.tube.D, gap, job.cut), bead=float(job.bead or 0))  # fmt: skip
