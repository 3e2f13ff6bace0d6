"""Wrap templates: the developed outline of a cut tube, to print at 1:1 and wrap around it.

    s = R a,  R = (D + paper) / 2,  z = the end's place along the tube on the outside D/2

Only s grows with the paper: the middle of the paper lies half its thickness off the tube.
z is the same on tube and paper and is never scaled. Everything here is in **millimetres**,
s to the right from the paper's left edge, z up from the sleeve's middle (from the straight
edge on a tube cut template).

The paper's join lies where the part is shortest. A pointed sleeve is shortest between its
tips, a fishmouth in its crotch. A scarf sleeve has parallel cuts, so every line along it is
equally long: the join goes a quarter turn from both tips.
Source: plane cutting a cylinder, unrolled, by hand; paper up to 1 mm, common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from core.lengths import Length, read_length
from core.methods.outer_sleeve import made_length
from core.problems import Problem
from core.quantity import fine_text
from core.rosette import hole_sizes, stations, tip_angles
from core.size_input import SizeJob
from core.sleeve import EndCut
from core.template_text import sleeve_short_text, sleeve_text, tube_short_text, tube_text
from core.tube import one_of
from core.units import MM_PER_INCH

MM = float(MM_PER_INCH)
PAPER_MM = 0.1  # office paper of 80 g/m2; common practice, no source
THICKEST_PAPER_MM = 1.0
CHORD_MM = 0.01
CHECK_BARS = ((100.0, "100 mm"), (4 * MM, "4 in"))
FLAP_MM = 8.0
TUBE_BAND = 2.0  # inches of paper behind a stub's cut, enough to lie true; common practice, no source
SEAM_DEG = {"pointed": 0.0, "fishmouth": 90.0, "scarf": 90.0, "square": 90.0}
HOLES = ("circular", "shop", "structural", "none")

Point = tuple[float, float]


@dataclass(frozen=True)
class Hole:
    """Centre and diameter of a rosette hole on the paper, mm; `end` is "top" or "bottom"."""

    s: float
    z: float
    diameter: float
    end: str


@dataclass(frozen=True)
class TipLine:
    """A line along the tube, mm; `tips` names the ends ("top", "bottom") with a tip on it."""

    s: float
    low: float
    high: float
    tips: tuple[str, ...]


@dataclass(frozen=True)
class MarkedLine:
    """A line to mark that is not cut along on the paper, mm; `kind` is "slit" or "damage"."""

    kind: str
    points: tuple[Point, ...]
    closed: bool = False


@dataclass(frozen=True)
class Template:
    """The developed outline of one part at 1:1, with what is marked on it; millimetres.

    Attributes
    ----------
    kind : str
        "sleeve" (both ends), "tube" (one end over a straight edge) or "patch" (not all the way around).
    top, bottom : tuple of (s, z)
        The two edges from s = 0 to s = pi (D + paper); each chord is within 0.01 mm of its curve.
    tip_lines : tuple of TipLine
    holes : tuple of Hole
    seam_deg : float
        Angle of the paper's join, in the frame of `EndCut.profile`.
    radius : float
        Radius the paper is unrolled from, (D + paper) / 2.
    paper : float
        Paper thickness, 0 to 1 mm.
    short_text : tuple of str
        Lines to print inside the outline, so that a cut-out template still says what it is.
    text : tuple of str
        Lines to print beside it.
    demo : bool
    lines : tuple of MarkedLine
    """

    kind: str
    top: tuple[Point, ...]
    bottom: tuple[Point, ...]
    tip_lines: tuple[TipLine, ...]
    holes: tuple[Hole, ...]
    seam_deg: float
    radius: float
    paper: float
    short_text: tuple[str, ...]
    text: tuple[str, ...]
    demo: bool = False
    lines: tuple[MarkedLine, ...] = ()

    @property
    def around(self) -> float:
        """Width of the paper around the tube, mm: pi (D + paper) unless it is a patch's."""
        return self.top[-1][0]

    @property
    def wraps(self) -> bool:
        """Whether the paper goes all the way around and is glued to itself."""
        return self.kind != "patch"

    @property
    def low(self) -> float:
        """Lowest z of the outline, mm."""
        return min(z for _, z in self.bottom)

    @property
    def high(self) -> float:
        """Highest z of the outline, mm."""
        return max(z for _, z in self.top)

    @property
    def blank(self) -> tuple[Point, ...]:
        """The closed outline of the part itself, without the glue flap."""
        return (*self.top, *reversed(self.bottom))

    @property
    def flap(self) -> tuple[Point, ...]:
        """The glue flap's four corners, down the right edge; it goes under the left edge. A patch has none."""
        if not self.wraps:
            return ()
        s, high = self.top[-1]
        low = self.bottom[-1][1]
        width = min(FLAP_MM, s / 4)
        start, slant = min(1.0, (high - low) / 8), min(5.0, (high - low) / 4)
        return ((s, high - start), (s + width, high - slant), (s + width, low + slant), (s, low + start))

    @property
    def outline(self) -> tuple[Point, ...]:
        """The closed line to cut the paper along, glue flap included."""
        return (*self.top, *self.flap, *reversed(self.bottom))


def read_paper(text: object) -> float:
    """Read a paper thickness and return it in millimetres; a number without a unit is mm.

    Raises
    ------
    Problem
        ``bad-length``, ``ask-length``, or ``out-of-range`` over 1 mm.

    >>> read_paper("0.1"), read_paper("4 thou")
    (0.1, 0.1016)
    """
    try:
        return check_paper(float(read_length(text, default_unit="mm", allow_zero=True).mm))
    except Problem as problem:
        raise (problem if problem.field else problem.at("paper")) from None


def sleeve_template(job: SizeJob, *, hole: str = "circular", paper: float = PAPER_MM, demo: bool = False) -> Template:
    """Return the wrap template of a sleeve: both ends, tip lines and rosette holes.

    top z(a) = L/2 - tip reach + profile(Ds/2, a); bottom z(a) = -top z(a), for a scarf
    -top z(a + half a turn): its cuts are parallel, so its tips lie on opposite sides.

    Parameters
    ----------
    job : SizeJob
        The length is the one given, else the blank of `core.methods.outer_sleeve`.
    hole : str
        "circular", "shop", "structural" (see `core.rosette.hole_sizes`) or "none".
    paper : float
        Thickness, 0 to 1 mm.
    demo : bool
        Whether to print DEMO on it.

    Raises
    ------
    Problem
        ``bad-choice`` (hole), ``out-of-range`` (paper), ``too-short``: the two ends meet.

    Source: plane cutting a cylinder, unrolled; geometry by hand.

    >>> from core.size_input import read_size_job
    >>> steel = {"wall": ".120 in", "material": "dom-1020"}
    >>> job = read_size_job({"tube": {"od": "1-5/8 in", **steel}, "sleeve": {"od": "1-7/8 in", **steel},
    ...                      "end": "pointed", "mitre_deg": 60, "gap": "0 in", "length": "8-1/2 in"})
    >>> made = sleeve_template(job)
    >>> round(made.high - made.low, 1), len(made.holes)  # by hand: 8.5 in x 25.4
    (215.9, 4)
    """
    paper = check_paper(paper)
    try:
        one_of("hole size", hole, HOLES)
    except Problem as problem:
        raise problem.at("hole") from None
    cut, radius, length = job.cut, job.Ds / 2, made_length(job)
    reference = length / 2 - cut.tip_reach(radius)
    turn = math.pi if cut.end == "scarf" else 0.0

    def top(angle: float) -> float:
        return reference + cut.profile(radius, angle)

    def bottom(angle: float) -> float:
        return -top(angle + turn)

    seam = SEAM_DEG[cut.end]
    if top(math.radians(seam)) - bottom(math.radians(seam)) <= 0:
        least = length - (top(math.radians(seam)) - bottom(math.radians(seam)))
        raise Problem("too-short", "The two end cuts meet: no sleeve is left on its short side.",
                      given=fine_text(length, job.metric), allowed=f"a sleeve over {fine_text(least, job.metric, 'up')}.",
                      next_step="Make the sleeve longer, or use a smaller mitre angle.", field="length")  # fmt: skip
    sheet = _Sheet(job.Ds, paper, seam)
    diameter = 0.0
    if hole != "none":
        sizes = hole_sizes(job.tube.od.inches, job.sleeve.od.inches, job.sleeve.wall.inches)
        diameter = float(next(size.diameter for size in sizes if size.key == hole))
    places = stations(length, job.Ds, job.g, cut) if diameter else []
    holes = [Hole(sheet.s(place.angle_deg), place.from_middle * MM, diameter * MM, "top") for place in places]
    holes += [Hole(sheet.s(place.angle_deg + math.degrees(turn)), -place.from_middle * MM, diameter * MM, "bottom")
              for place in places]  # fmt: skip
    return Template(
        "sleeve", sheet.edge(top, cut, radius), sheet.edge(bottom, cut, radius), sheet.tip_lines(top, bottom, cut, turn),
        tuple(holes), seam, sheet.radius, paper,
        sleeve_short_text(job, length, demo), sleeve_text(job, length, diameter, places, paper, demo), demo,
    )  # fmt: skip


def tube_cut_template(
    od: Length, cut: EndCut, *, metric: bool = False, paper: float = PAPER_MM, band: float = TUBE_BAND, demo: bool = False
) -> Template:
    """Return the wrap template of one cut on a tube, as the diagonal stub end of an inner sleeve.

    z(a) = band + valley reach + profile(D/2, a) above a straight lower edge at z = 0.

    Parameters
    ----------
    od : Length
        Outside diameter of the tube to cut.
    cut : EndCut
    metric : bool
        Whether texts are in millimetres.
    paper : float
        Thickness, 0 to 1 mm.
    band : float
        Paper below the nearest metal of the cut, 1/4 to 12 in.
    demo : bool

    Raises
    ------
    Problem
        ``out-of-range`` for the paper or the band.

    Source: as `sleeve_template`.

    >>> from core.lengths import read_length
    >>> made = tube_cut_template(read_length("2 in"), EndCut("scarf", 45), band=1.0)
    >>> round(made.high - made.low, 1)  # by hand: (1 + 2 tan 45) x 25.4
    76.2
    """
    paper = check_paper(paper)
    if not 0.25 <= band <= 12:
        raise Problem("out-of-range", "That band cannot be printed.", given=f"{band:g} in", allowed="1/4 in to 12 in.",
                      next_step="Use 2 in.", field="band")  # fmt: skip
    diameter = float(od)
    radius = diameter / 2

    def top(angle: float) -> float:
        return band + cut.valley_reach(radius) + cut.profile(radius, angle)

    def bottom(_: float) -> float:
        return 0.0

    seam = 180.0 if cut.end == "scarf" else SEAM_DEG[cut.end]
    sheet = _Sheet(diameter, paper, seam)
    lines = tuple(replace(line, tips=tuple(end for end in line.tips if end == "top"))
                  for line in sheet.tip_lines(top, bottom, cut, 0.0))  # fmt: skip
    return Template("tube", sheet.edge(top, cut, radius), sheet.edge(bottom, EndCut("square", 0.0), radius), lines, (),
                    seam, sheet.radius, paper, tube_short_text(od, cut, metric, demo),
                    tube_text(od, cut, metric, paper, demo), demo)  # fmt: skip


def segments(radius: float, cut: EndCut) -> int:
    """Return how many chords each quarter turn takes to stay within 0.01 mm of the curve.

    n = ceil((pi/2) / sqrt(8 e / (r T))): a chord over angle h is off by at most h^2 r T / 8.

    Parameters
    ----------
    radius : float
        Outside radius of the part, inches.
    cut : EndCut

    Source: error of linear interpolation (any numerical analysis text); tests measure it.

    >>> segments(0.9375, EndCut("pointed", 60)), segments(0.9375, EndCut("square"))
    (36, 1)
    """
    reach = radius * MM * cut.slope
    return max(1, math.ceil(math.pi / 2 / math.sqrt(8 * CHORD_MM / reach))) if reach else 1


class _Sheet:
    """Where angles fall on the unrolled paper: s = 0 at the seam."""

    def __init__(self, diameter: float, paper: float, seam_deg: float) -> None:
        self.radius = (diameter * MM + paper) / 2
        self.seam_deg = seam_deg

    def s(self, angle_deg: float) -> float:
        return self.radius * math.radians((angle_deg - self.seam_deg) % 360)

    def edge(self, place: Callable[[float], float], cut: EndCut, radius: float) -> tuple[Point, ...]:
        """Sample an edge; quarter turns from the seam hit every kink, tip and valley exactly."""
        count = 4 * segments(radius, cut)
        turns = [2 * math.pi * i / count for i in range(count + 1)]
        return tuple((self.radius * t, place(math.radians(self.seam_deg) + t) * MM) for t in turns)

    def tip_lines(self, top, bottom, cut: EndCut, turn: float) -> tuple[TipLine, ...]:
        here = {angle: ["top"] for angle in tip_angles(cut)}
        for angle in tip_angles(cut):
            here.setdefault((angle + math.degrees(turn)) % 360, []).append("bottom")
        lines = []
        for angle, tips in here.items():
            a = math.radians(angle)
            named = () if cut.end == "square" else tuple(tips)
            lines.append(TipLine(self.s(angle), bottom(a) * MM, top(a) * MM, named))
        return tuple(sorted(lines, key=lambda line: line.s))


def check_paper(paper: float) -> float:
    """Return a paper thickness in mm, refused outside 0 to 1 mm.

    Raises
    ------
    Problem
        ``out-of-range``.

    >>> check_paper(0.1)
    0.1
    """
    if not 0 <= paper <= THICKEST_PAPER_MM:
        raise Problem("out-of-range", "That paper thickness cannot be used.", given=f"{paper:g} mm",
                      allowed=f"0 to {THICKEST_PAPER_MM:g} mm.",
                      next_step=f"Use {PAPER_MM:g} mm for office paper.", field="paper")  # fmt: skip
    return paper
