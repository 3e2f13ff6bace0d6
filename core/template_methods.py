"""The wrap template of a sized repair by any method.

An inner sleeve's template marks the stub's diagonal cut, a larger tube's one of its two ends:
both print on few sheets however long the tube. A flat blank (for a DXF) shows the larger tube
whole. Lengths are millimetres, as in `core.template`.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from core.methods.common import blank as on_ruler
from core.methods.inner_sleeve import inner_overlap, inner_rule_length
from core.methods.inner_sleeve_input import read_inner_job
from core.methods.larger_tube_checks import words as larger_words
from core.methods.larger_tube_input import read_larger_job
from core.methods.outer_sleeve import made_length
from core.methods.patch import MARGIN_TEXT, flat_width
from core.methods.patch_input import read_patch_job
from core.methods.split_sleeve_input import read_split_job
from core.problems import Problem
from core.rosette import hole_sizes, stations
from core.size_input import SizeJob, read_size_job
from core.size_options import NAMES, read_options
from core.sizing import method_of
from core.template import (
    MM,
    PAPER_MM,
    TUBE_BAND,
    Hole,
    MarkedLine,
    Template,
    check_paper,
    sleeve_template,
    tube_cut_template,
)
from core.template_patch_text import patch_short_text, patch_text
from core.template_text import inner_text, larger_text, split_text

LONGEST_BAND = 12.0
BEHIND_HOLE = 0.5  # inches of paper behind a hole; common practice, no source


def method_template(data: Any, *, paper: float = PAPER_MM, flat: bool = False, demo: bool = False) -> Template:
    """Return the template of a sizing input.

    Parameters
    ----------
    data : mapping
        As `core.sizing.size` takes it: ``method`` and the members of that method.
    paper : float
        Thickness, 0 to 1 mm.
    flat : bool
        Whether it is the blank to cut flat, with no paper between, not a print to wrap.
    demo : bool
        Whether to print DEMO on it.

    Raises
    ------
    Problem
        The method's own; ``too-short`` where two end cuts meet; ``no-template`` for a patch
        without a margin.

    Source: `core.template`; geometry by hand.

    >>> import json
    >>> from core.methods.larger_tube_input import EXAMPLE
    >>> made = method_template({"method": "larger-tube", **json.loads(EXAMPLE)})
    >>> made.kind, len(made.holes)
    ('tube', 2)
    """
    name, rest = method_of(data)
    asked = {key: rest.pop(key) for key in NAMES if key in rest}
    options = read_options(name, {**asked, "units": rest.get("units")})
    # The template knows the usual places only: holes placed otherwise go by the card, not by its marks.
    hole = "none" if options.rosettes else options.hole or "circular"
    paper = 0.0 if flat else check_paper(paper)
    return MAKERS[name](rest, paper, flat, demo, hole)


def _outer(data: dict[str, Any], paper: float, flat: bool, demo: bool, hole: str) -> Template:
    return sleeve_template(read_size_job(data), hole=hole, paper=paper, demo=demo)


def _inner(data: dict[str, Any], paper: float, flat: bool, demo: bool, hole: str) -> Template:
    job = read_inner_job(data)
    D, gap = job.tube.D, float(job.gap)
    length = float(job.length) if job.length else on_ruler(inner_rule_length(D, gap, job.cut), job.metric)
    made = tube_cut_template(job.tube.od, job.cut, metric=job.metric, paper=paper, demo=demo)
    return replace(made, text=inner_text(job, inner_overlap(length, D, gap, job.cut), paper, demo))


def _larger(data: dict[str, Any], paper: float, flat: bool, demo: bool, hole: str) -> Template:
    read = read_larger_job(data)
    job = SizeJob(read.tube, read.sleeve, read.cut, read.opening, read.length, None, None, read.metric)
    whole = sleeve_template(job, hole=hole, paper=paper, demo=demo)
    if flat:
        return replace(whole, text=_larger_words(whole.text), short_text=_larger_words(whole.short_text))
    return _larger_end(job, paper, demo, hole)


def _larger_words(lines: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(larger_words(line).replace("never the tube", "never the stub") for line in lines)


def _larger_end(job: SizeJob, paper: float, demo: bool, hole: str) -> Template:
    length = made_length(job)
    sizes = {row.key: float(row.diameter) for row in hole_sizes(job.tube.od.inches, job.sleeve.od.inches, job.sleeve.wall.inches)}
    diameter = sizes.get(hole, 0.0)
    places = stations(length, job.Ds, job.g, job.cut) if diameter else []
    from_tip = places[0].from_tip if places else None
    behind = 0.0 if from_tip is None else from_tip + diameter / 2 + BEHIND_HOLE - job.cut.depth(job.Ds / 2)
    band = min(max(TUBE_BAND, behind), LONGEST_BAND)
    made = tube_cut_template(job.sleeve.od, job.cut, metric=job.metric, paper=paper, band=band, demo=demo)
    centres = [] if from_tip is None else [(line.s, line.high - from_tip * MM) for line in made.tip_lines]
    # On a very large tube the hole lies past any sensible paper: its distance is in the text.
    drawn = tuple(Hole(s, z, diameter * MM, "top") for s, z in centres if z > (diameter / 2) * MM)
    return replace(
        made, holes=drawn, text=larger_text(job, length, diameter, from_tip, paper, demo),
        short_text=tuple(line.replace("Tube", "New tube") for line in made.short_text),
    )  # fmt: skip


def _split(data: dict[str, Any], paper: float, flat: bool, demo: bool, hole: str) -> Template:
    job = read_split_job(data).sized
    made = sleeve_template(job, hole="none", paper=paper, demo=demo)
    # The join lies on the short side; half a turn from it the other edge is as short.
    half = len(made.top) // 2
    slits = tuple(MarkedLine("slit", (made.bottom[i], made.top[i])) for i in (0, half))
    # A quarter of the way round is narrow: the first line goes on two.
    short = tuple(part for line in made.short_text for part in (("Split sleeve", line.removeprefix("Sleeve ")) if line.startswith("Sleeve ") else (line,)))
    return replace(made, lines=slits, short_text=short, text=split_text(made.text, job.kerf, job.metric))


def _patch(data: dict[str, Any], paper: float, flat: bool, demo: bool, hole: str) -> Template:
    job = read_patch_job(data)
    if job.margin is None:
        raise Problem("no-template", "The outline of the patch is not known yet.", given="no margin", allowed="a patch whose reach past the damage is given.",
                      next_step=f"{MARGIN_TEXT} Type it as the margin.", field="margin")  # fmt: skip
    D, wall, margin = job.found.D, float(job.wall), float(job.margin)
    damage = (job.found.inches("around"), job.found.inches("damage_length"))
    around, length = (size + 2 * margin for size in damage)
    radius = (D + wall) / 2 * MM if flat else (D * MM + paper) / 2
    scale = radius / (D / 2)  # mm of paper or sheet for an inch along the tube's outside
    width, high = around * scale, length * MM / 2
    left, low = margin * scale, -damage[1] * MM / 2
    box = ((left, low), (width - left, low), (width - left, -low), (left, -low))
    return Template(
        "patch", ((0.0, high), (width, high)), ((0.0, -high), (width, -high)), (), (), 0.0, radius, paper, patch_short_text(job, demo),
        patch_text(job, length, around, flat_width(around, D, wall), None if flat else paper, demo), demo,
        (MarkedLine("damage", box, closed=True),),
    )  # fmt: skip


MAKERS = {"outer-sleeve": _outer, "inner-sleeve": _inner, "larger-tube": _larger, "split-sleeve": _split, "patch": _patch}
