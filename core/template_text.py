"""What a wrap template says: lines of at most 72 plain characters, one action a line.

Sizes are written anew from the exact value, never as typed: a printer's font without "⅝"
must not leave a gap in a diameter.
"""

from __future__ import annotations

from core.lengths import Length
from core.methods.inner_sleeve_input import InnerJob
from core.quantity import decimal_text, fine_text, inch_fraction_text
from core.rosette import Station
from core.size_input import SizeJob
from core.sleeve import EndCut

DEMO_LINE = "DEMO: not a real repair."
DEFER_LINE = "The rule book, the inspector and a qualified welder decide."
MEASURE_LINE = "Print at 100 %: measure the bar. If it is off, do not use this."


def length_text(inches: float, metric: bool) -> str:
    """Return a length as a shop fraction where it is one, else to a thousandth; or in mm.

    Parameters
    ----------
    inches : float
        Inches, >= 0.
    metric : bool
        Whether the text is in millimetres.

    Returns
    -------
    str
        With its unit.

    Source: common practice, no source.

    >>> length_text(1.625, False), length_text(8.123, False), length_text(1.625, True)
    ('1-5/8 in', '8.123 in', '41.28 mm')
    """
    if metric:
        return fine_text(inches, True)
    return inch_fraction_text(inches) or fine_text(inches, False)


def angle_text(cut: EndCut) -> str:
    """Return the end shape with its mitre from square and to the axis.

    Parameters
    ----------
    cut : EndCut
        Mitre in degrees from square.

    Returns
    -------
    str
        Both angles in degrees; "square" alone for a square end.

    Source: hand; the two angles make 90 degrees.

    >>> angle_text(EndCut("scarf", 60))
    'scarf, mitre 60° from square (30° to the axis)'
    """
    if cut.end == "square":
        return "square"
    return f"{cut.end}, mitre {decimal_text(cut.mitre_deg, 2)}° from square ({decimal_text(90 - cut.mitre_deg, 2)}° to the axis)"


def sleeve_short_text(job: SizeJob, length: float, demo: bool) -> tuple[str, ...]:
    """Return the few lines inside a sleeve template's outline.

    Parameters
    ----------
    job : SizeJob
    length : float
        Made length, inches.
    demo : bool

    Returns
    -------
    tuple of str

    Source: common practice, no source.

    >>> import json
    >>> from core.size_input import EXAMPLE, read_size_job
    >>> sleeve_short_text(read_size_job(json.loads(EXAMPLE)), 8.125, False)[-2:]
    ('8-1/8 in tip to tip', 'Printed side out')
    """
    metric, cut = job.metric, job.cut
    return (
        *(("DEMO",) if demo else ()),
        f"Sleeve {length_text(job.Ds, metric)} × {fine_text(job.sleeve.t, metric)}",
        f"for tube {length_text(job.D, metric)}",
        cut.end if cut.end == "square" else f"{cut.end}, mitre {decimal_text(cut.mitre_deg, 2)}°",
        f"{length_text(length, metric)} {'long' if cut.end == 'square' else 'tip to tip'}",
        "Printed side out",
    )


def sleeve_text(
    job: SizeJob, length: float, diameter: float, places: list[Station], paper: float, demo: bool
) -> tuple[str, ...]:
    """Return the lines beside a sleeve template.

    Parameters
    ----------
    job : SizeJob
    length : float
        Made length, inches.
    diameter : float
        Rosette hole, inches; 0 for none.
    places : list of Station
    paper : float
        Thickness, mm.
    demo : bool

    Returns
    -------
    tuple of str

    Source: common practice, no source.

    >>> import json
    >>> from core.size_input import EXAMPLE, read_size_job
    >>> sleeve_text(read_size_job(json.loads(EXAMPLE)), 8.125, 0.0, [], 0.1, False)[3]
    "Length 8-1/8 in, tip to tip on the sleeve's outside."
    """
    metric, cut = job.metric, job.cut
    lines = [
        "Sleeve wrap template", *([DEMO_LINE] if demo else []),
        f"Sleeve {length_text(job.Ds, metric)} × {fine_text(job.sleeve.t, metric)}, for tube {length_text(job.D, metric)}.",
        f"Both ends {angle_text(cut)}.",
        f"Length {length_text(length, metric)}, {'end to end' if cut.end == 'square' else 'tip to tip'} on the sleeve's outside.",
        {"pointed": "Sharp tips on the dashed lines, at both ends.",
         "fishmouth": "Round tips on the dashed lines, at both ends.",
         "scarf": "One tip at each end, on the line marked TIP there.",
         "square": "No tips. The holes are on the dashed lines."}[cut.end],
    ]  # fmt: skip
    if places:
        start = "end" if cut.end == "square" else "tip"
        lines += [f"Holes {length_text(diameter, metric)}, centres {fine_text(places[0].from_tip, metric)} from the {start}.",
                  "Drill the sleeve only, never the tube."]  # fmt: skip
    elif diameter:
        lines.append("No holes: the sleeve does not reach past the stub end.")
    join = {"scarf": "a quarter turn from both tips", "square": "anywhere"}.get(cut.end, "on the short side")
    return (*lines, "Wrap on the outside of the sleeve, printed side out.", *_paper_text(join, paper))


def tube_text(od: Length, cut: EndCut, metric: bool, paper: float, demo: bool) -> tuple[str, ...]:
    """Return the lines beside a tube cut template.

    Parameters
    ----------
    od : Length
        Outside diameter of the tube, inches.
    cut : EndCut
    metric : bool
    paper : float
        Thickness, mm.
    demo : bool

    Returns
    -------
    tuple of str

    Source: common practice, no source.

    >>> from core.lengths import read_length
    >>> tube_text(read_length("1-5/8 in"), EndCut("scarf", 60), False, 0.1, False)[1]
    'Tube 1-5/8 in outside diameter.'
    """
    return (
        "Tube cut template", *((DEMO_LINE,) if demo else ()),
        f"Tube {length_text(float(od), metric)} outside diameter.",
        f"Cut {angle_text(cut)}.",
        {"pointed": "Cut along the top edge. Sharp tips on the dashed lines.",
         "fishmouth": "Cut along the top edge. Round tips on the dashed lines.",
         "scarf": "Cut along the top edge. The tip is on the dashed line.",
         "square": "Cut along the top edge."}[cut.end],
        "The straight bottom edge is not a cut.",
        "The paper lies on the part you keep.",
        *(("Turn the paper end for end to mark the other stub.",) if cut.end == "scarf" else ()),
        "Wrap on the outside of the tube, printed side out.",
        *_paper_text("anywhere" if cut.end == "square" else "on the short side", paper),
    )  # fmt: skip


def tube_short_text(od: Length, cut: EndCut, metric: bool, demo: bool) -> tuple[str, ...]:
    """Return the few lines inside a tube cut template's outline.

    Parameters
    ----------
    od : Length
        Outside diameter of the tube, inches.
    cut : EndCut
    metric, demo : bool

    Returns
    -------
    tuple of str

    Source: common practice, no source.

    >>> from core.lengths import read_length
    >>> tube_short_text(read_length("1-5/8 in"), EndCut("scarf", 60), False, False)[:2]
    ('Tube 1-5/8 in', 'scarf, mitre 60°')
    """
    return (
        *(("DEMO",) if demo else ()),
        f"Tube {length_text(float(od), metric)}",
        cut.end if cut.end == "square" else f"{cut.end}, mitre {decimal_text(cut.mitre_deg, 2)}°",
        "Keep this side",
        "Printed side out",
    )


def inner_text(job: InnerJob, reach: float, paper: float, demo: bool) -> tuple[str, ...]:
    """Return the lines beside the template of an inner sleeve's stub cut.

    Parameters
    ----------
    job : InnerJob
    reach : float
        Overlap on each side, inches.
    paper : float
        Thickness, mm.
    demo : bool

    Returns
    -------
    tuple of str

    Source: common practice, no source.

    >>> import json
    >>> from core.methods.inner_sleeve_input import EXAMPLE, read_inner_job
    >>> inner_text(read_inner_job(json.loads(EXAMPLE)), 2.4375, 0.1, False)[4]
    'Leave a gap of 1/8 in along the axis.'
    """
    lines = tube_text(job.tube.od, job.cut, job.metric, paper, demo)
    holes = (f"Rosettes {fine_text(reach / 2, job.metric)} back from the cut's short side, two opposite sides.",) if reach > 0 else ()
    more = (f"Leave a gap of {length_text(float(job.gap), job.metric)} along the axis.", *holes, "The inner sleeve's own ends are square: no template.")
    place = lines.index("The straight bottom edge is not a cut.")
    return (*lines[:place], *more, *lines[place:])


def larger_text(job: SizeJob, length: float, diameter: float, from_tip: float | None, paper: float, demo: bool) -> tuple[str, ...]:
    """Return the lines beside the template of one end of a larger tube.

    Parameters
    ----------
    job : SizeJob
    length : float
        Made length, inches.
    diameter : float
        Rosette hole, inches.
    from_tip : float or None
        Tip to hole centre, inches; None where there is no hole.
    paper : float
        Thickness, mm.
    demo : bool

    Returns
    -------
    tuple of str

    Source: common practice, no source.

    >>> import json
    >>> from core.size_input import EXAMPLE, read_size_job
    >>> larger_text(read_size_job(json.loads(EXAMPLE)), 8.125, 0.46875, 2.553, 0.1, False)[6]
    'Holes 15/32 in, centres 2.553 in from the tip.'
    """
    metric, end = job.metric, job.cut.end
    start = "end" if end == "square" else "tip"
    holes = ("No holes: the new tube does not reach past the stub end.",)
    if from_tip is not None:
        holes = (f"Holes {length_text(diameter, metric)}, centres {fine_text(from_tip, metric)} from the {start}.",
                 "Drill the new tube only, never the stub.")  # fmt: skip
    return (
        "New tube end template", *((DEMO_LINE,) if demo else ()),
        f"New tube {length_text(job.Ds, metric)} × {fine_text(job.sleeve.t, metric)}, for tube {length_text(job.D, metric)}.",
        f"Both ends {angle_text(job.cut)}.",
        f"Length {length_text(length, metric)}, {'end to end' if end == 'square' else 'tip to tip'} on its outside. Measure it along the tube.",
        {"pointed": "Cut along the top edge. Sharp tips on the dashed lines.",
         "fishmouth": "Cut along the top edge. Round tips on the dashed lines.",
         "scarf": "Cut along the top edge. The tip is on the dashed line.",
         "square": "Cut along the top edge. The holes are on the dashed lines."}[end],
        {"scarf": "Other end: turn the paper end for end, its tip half a turn round."}.get(end, "Other end: turn the paper end for end, dashed lines in line."),
        *holes,
        "The stubs are cut square: they need no template.",
        "The straight bottom edge is not a cut.",
        "The paper lies on the part you keep.",
        "Wrap on the outside of the new tube, printed side out.",
        *_paper_text("anywhere" if end == "square" else "on the short side", paper),
    )  # fmt: skip


def split_text(lines: tuple[str, ...], kerf: Length | None, metric: bool) -> tuple[str, ...]:
    """Return a sleeve's lines with the slits of a split sleeve told.

    Parameters
    ----------
    lines : tuple of str
        From `sleeve_text`, without holes.
    kerf : Length or None
        Width of one slit, inches.
    metric : bool

    Returns
    -------
    tuple of str

    Source: common practice, no source.

    >>> from core.lengths import read_length
    >>> split_text(("Sleeve wrap template", "Wrap on the outside."), read_length("1/16 in"), False)[2]
    'Each slit takes 1/16 in: keep the saw on the line.'
    """
    place = next(i for i, line in enumerate(lines) if line.startswith("Wrap on"))
    saw = (f"Each slit takes {length_text(float(kerf), metric)}: keep the saw on the line.",) if kerf else ()
    slits = ("Slit on the two lines marked SLIT: the left edge and half way round.", *saw, "Mark the halves as a pair before you slit.")
    return ("Split sleeve wrap template", *lines[1:place], *slits, *lines[place:])


def _paper_text(join: str, paper: float) -> tuple[str, ...]:
    return (
        f"Paper join: {join}.",
        "Lay the left edge on the line of the glue flap.",
        f"Drawn for paper {decimal_text(paper, 3)} mm thick.",
        MEASURE_LINE,
        DEFER_LINE,
    )
