"""What a patch template says: lines of at most 72 plain characters. Lengths in inches, paper in mm."""

from __future__ import annotations

from core.methods.patch_input import PatchJob
from core.quantity import decimal_text, fine_text
from core.template_text import DEFER_LINE, DEMO_LINE, MEASURE_LINE, length_text


def patch_text(job: PatchJob, length: float, around: float, flat: float, paper: float | None, demo: bool) -> tuple[str, ...]:
    """Return the lines beside a patch template.

    Parameters
    ----------
    job : PatchJob
        With its margin.
    length, around, flat : float
        Of the patch: along the tube, along the tube's outside, and as flat sheet, inches.
    paper : float or None
        Thickness, mm; None for the flat blank.
    demo : bool

    Returns
    -------
    tuple of str

    Source: common practice, no source.

    >>> import json
    >>> from core.methods.patch_input import EXAMPLE, read_patch_job
    >>> job = read_patch_job({**json.loads(EXAMPLE), "margin": "1/2 in"})
    >>> patch_text(job, 2.0, 1.75, 1.894, None, False)[3]
    'Flat sheet: 2.000 in by 1.894 in, the width at the middle of its wall.'
    """
    metric = job.metric
    wrap = () if paper is None else ("Wrap on the outside of the tube, printed side out.", f"Drawn for paper {decimal_text(paper, 3)} mm thick.", MEASURE_LINE)
    return (
        "Patch template, formed" if wrap else "Patch blank, flat", *((DEMO_LINE,) if demo else ()),
        f"Patch wall {fine_text(float(job.wall), metric)}, {job.material.name}, for tube {length_text(job.found.D, metric)}.",
        f"Formed: {fine_text(length, metric)} along the tube, {fine_text(around, metric)} around its outside.",
        f"Flat sheet: {fine_text(length, metric)} by {fine_text(flat, metric)}, the width at the middle of its wall.",
        f"It reaches {length_text(float(job.margin), metric)} past the damage, as you gave it.",
        "Compare that with the circular's figure 4-36, or ask the inspector.",
        "The dashed box is the damage.",
        "Round the corners.",
        *wrap,
        DEFER_LINE,
    )  # fmt: skip


def patch_short_text(job: PatchJob, demo: bool) -> tuple[str, ...]:
    """Return the few lines inside a patch template's outline.

    Parameters
    ----------
    job : PatchJob
        Wall and tube in inches.
    demo : bool

    Returns
    -------
    tuple of str

    Source: common practice, no source.

    >>> import json
    >>> from core.methods.patch_input import EXAMPLE, read_patch_job
    >>> job = read_patch_job({**json.loads(EXAMPLE), "margin": "1/2 in"})
    >>> patch_short_text(job, False)
    ('Patch 0.134 in', 'tube 1-5/8 in')
    """
    return (*(("DEMO",) if demo else ()), f"Patch {fine_text(float(job.wall), job.metric)}", f"tube {length_text(job.found.D, job.metric)}")
