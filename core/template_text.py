"""What a wrap template says: lines of at most 72 plain characters, one action a line.

Sizes are written anew from the exact value, never as typed: a printer's font without "⅝"
must not leave a gap in a diameter.
"""

from __future__ import annotations

from core.lengths import Length
from core.quantity import decimal_text, fine_text, inch_fraction_text
from core.rosette import Station
from core.size_input import SizeJob
from core.sleeve import EndCut

DEMO_LINE = "DEMO: not a real repair."
DEFER_LINE = "The rule book, the inspector and a qualified welder decide."
MEASURE_LINE = "Print at 100 %: measure the bar. If it is off, do not use this."


def length_text(inches: float, metric: bool) -> str:
    """Return a length as a shop fraction where it is one, else to a thousandth; or in mm.

    >>> length_text(1.625, False), length_text(8.123, False), length_text(1.625, True)
    ('1-5/8 in', '8.123 in', '41.28 mm')
    """
    if metric:
        return fine_text(inches, True)
    return inch_fraction_text(inches) or fine_text(inches, False)


def angle_text(cut: EndCut) -> str:
    """Return the end shape with its mitre from square and to the axis.

    >>> angle_text(EndCut("scarf", 60))
    'scarf, mitre 60° from square (30° to the axis)'
    """
    if cut.end == "square":
        return "square"
    return f"{cut.end}, mitre {decimal_text(cut.mitre_deg, 2)}° from square ({decimal_text(90 - cut.mitre_deg, 2)}° to the axis)"


def sleeve_short_text(job: SizeJob, length: float, demo: bool) -> tuple[str, ...]:
    """Return the few lines inside a sleeve template's outline."""
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
    """Return the lines beside a tube cut template."""
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
    """Return the few lines inside a tube cut template's outline."""
    return (
        *(("DEMO",) if demo else ()),
        f"Tube {length_text(float(od), metric)}",
        cut.end if cut.end == "square" else f"{cut.end}, mitre {decimal_text(cut.mitre_deg, 2)}°",
        "Keep this side",
        "Printed side out",
    )


def _paper_text(join: str, paper: float) -> tuple[str, ...]:
    return (
        f"Paper join: {join}.",
        "Lay the left edge on the line of the glue flap.",
        f"Drawn for paper {decimal_text(paper, 3)} mm thick.",
        MEASURE_LINE,
        DEFER_LINE,
    )
