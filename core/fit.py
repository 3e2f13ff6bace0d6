"""Does a sleeve fit a tube: clearance as drawn and at its worst, wall, material, seam.

Lengths in inches; texts in inches or millimetres.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from core.materials import same_class
from core.quantity import decimal_text, fine_text
from core.rules import Check, clause, verdict
from core.tolerances import diameter_tolerance, wall_tolerance
from core.tube import Tube, size_text

LARGEST_CLEARANCE = Fraction(1, 16)


@dataclass(frozen=True)
class Clearance:
    """Diameter clearance between sleeve bore and tube, inches; negative is interference.

    Attributes
    ----------
    nominal : float
        Sleeve ID - tube OD from the sizes as given.
    worst_min, worst_max : float
        With the DOM diameter tolerances: OD +t/-0 on the tube, ID +0/-t on the sleeve.
    by_wall_min, by_wall_max : float or None
        The same for a sleeve ordered by OD and wall: the wall tolerance counts twice.
        None where the wall table does not reach.
    """

    nominal: float
    worst_min: float
    worst_max: float
    by_wall_min: float | None
    by_wall_max: float | None

    @property
    def lowest(self) -> float:
        """The smallest clearance either way of ordering can give."""
        return self.worst_min if self.by_wall_min is None else min(self.worst_min, self.by_wall_min)

    @property
    def highest(self) -> float:
        """The largest clearance either way of ordering can give."""
        return self.worst_max if self.by_wall_max is None else max(self.worst_max, self.by_wall_max)


def nominal_clearance(tube: Tube, sleeve: Tube) -> Fraction:
    """Return sleeve ID - tube OD exactly, inches.

    Source: arithmetic by hand: a 1.875 x .120 sleeve has .010 over a 1.625 tube.

    >>> from core.tube import read_tube
    >>> tube = read_tube({"od": "1-5/8", "wall": ".120", "material": "dom-1020"})
    >>> sleeve = read_tube({"od": "1-7/8", "wall": ".120", "material": "dom-1020"})
    >>> nominal_clearance(tube, sleeve)
    Fraction(1, 100)
    """
    return sleeve.od.inches - 2 * sleeve.wall.inches - tube.od.inches


def clearance(tube: Tube, sleeve: Tube) -> Clearance:
    """Return the clearance of a sleeve over a tube, as drawn and at the table's worst.

    c = (Ds - 2 ts) - D; worst by ID: -t(Ds) - t(D) and +0; worst by wall: OD +t/-0 and
    twice the wall tolerance.

    Parameters
    ----------
    tube, sleeve : Tube
        Outside diameters up to 5.3 in for the tolerances; past that they count as zero and
        the result says so through `tolerance_notes`.

    Source: ASTM A513 type 5 tables (`core.tolerances`).

    >>> from core.tube import read_tube
    >>> c = clearance(read_tube({"od": "1-5/8", "wall": ".120", "material": "dom-1020"}),
    ...               read_tube({"od": "1-7/8", "wall": ".120", "material": "dom-1020"}))
    >>> round(c.nominal, 4), round(c.worst_min, 4), round(c.by_wall_min, 4)
    (0.01, -0.001, 0.001)
    """
    nominal = float(nominal_clearance(tube, sleeve))
    tube_over = diameter_tolerance(tube.D) or 0.0
    sleeve_over = diameter_tolerance(sleeve.D) or 0.0
    wall = wall_tolerance(sleeve.D, sleeve.t)
    return Clearance(
        nominal=nominal,
        worst_min=nominal - sleeve_over - tube_over,
        worst_max=nominal,
        by_wall_min=None if wall is None else nominal - 2 * wall.plus - tube_over,
        by_wall_max=None if wall is None else nominal + sleeve_over + 2 * wall.minus,
    )


def tolerance_notes(tube: Tube, sleeve: Tube) -> list[str]:
    """Return the assumptions behind the worst-case clearance, one sentence each.

    Source: ASTM A513 type 5 tables (`core.tolerances`); that a used tube can be outside them, common practice, no source.

    >>> from core.tube import read_tube
    >>> tube = read_tube({"od": "1-5/8", "wall": ".120", "material": "dom-1020"})
    >>> sleeve = read_tube({"od": "1-7/8", "wall": ".120", "material": "dom-1020"})
    >>> len(tolerance_notes(tube, sleeve))
    1
    """
    notes = ["Worst case uses the DOM tolerances of ASTM A513 type 5. A used or bent tube can be outside them: measure both."]
    for what, part in (("tube", tube), ("sleeve", sleeve)):
        if part.material.process != "dom":
            notes.append(f"The {what} is {part.material.name}; its own tolerance table is not at hand, so the DOM table stands in.")
        if diameter_tolerance(part.D) is None:
            notes.append(f"The {what} is past the tolerance table; no tolerance is counted for it.")
    wall = wall_tolerance(sleeve.D, sleeve.t)
    if wall is None:
        notes.append("The sleeve's wall is past the wall tolerance table; only the diameter tolerance is counted.")
    elif not wall.listed:
        notes.append("The sleeve's wall is between two rows of the wall table; the thicker row is used.")
    return notes


def fit_checks(tube: Tube, sleeve: Tube, metric: bool = False) -> list[Check]:
    """Return the checks of a sleeve over a tube: clearance, worst case, wall, material, seam.

    Parameters
    ----------
    tube, sleeve : Tube
    metric : bool
        Whether the texts are in millimetres.

    Source: AC 43.13-1B 4-96 (from memory); worst case ASTM A513 type 5; seam common practice, no source.

    >>> from core.tube import read_tube
    >>> tube = read_tube({"od": "1-5/8", "wall": ".120", "material": "dom-1020"})
    >>> sleeve = read_tube({"od": "1-7/8", "wall": ".120", "material": "dom-1020"})
    >>> [(check.id, check.verdict) for check in fit_checks(tube, sleeve)][:2]
    [('clearance', 'met'), ('clearance_worst', 'unknown')]
    """
    rule = clause("outer-sleeve").label()
    return [
        _clearance_check(tube, sleeve, rule, metric),
        _worst_check(tube, sleeve, metric),
        _wall_check(tube, sleeve, rule),
        _material_check(tube, sleeve, rule),
        _seam_check(sleeve),
    ]


def _clearance_check(tube: Tube, sleeve: Tube, rule: str, metric: bool) -> Check:
    exact = nominal_clearance(tube, sleeve)
    met = 0 <= exact <= LARGEST_CLEARANCE
    if exact < 0:
        text = "The sleeve's bore is smaller than the tube. It will not go on. Choose a thinner wall or a larger sleeve."
    elif not met:
        text = "The sleeve is too loose on the tube. Choose a sleeve with a smaller bore."
    elif exact == 0:
        text = "Bore and tube are the same size on paper. Measure both; it may not slide."
    else:
        text = "The sleeve slides over the tube with room inside the limit. Measure both before cutting."
    return Check("clearance", rule, fine_text(float(exact), metric), f"{limit_text(metric)} on the diameter", verdict(met), text)


def _worst_check(tube: Tube, sleeve: Tube, metric: bool) -> Check:
    return worst_check(clearance(tube, sleeve), metric, "on", "this tube and this sleeve")


def limit_text(metric: bool) -> str:
    """Return the clearance limit 0 to 1/16 in as a person reads it, rounded down.

    Source: AC 43.13-1B (Change 1, 2001) 4-97; 4-96 the same, from memory.

    >>> limit_text(True)
    '0 to 1.58 mm'
    """
    return "0 to 1.58 mm" if metric else "0 to 1/16 in"


def worst_check(worst: Clearance, metric: bool, way: str, both: str) -> Check:
    """Return the verdict on the tightest and loosest fit the tolerances allow.

    Parameters
    ----------
    worst : Clearance
        Diameter clearance in inches.
    metric : bool
    way : str
        How the sleeve goes: "on" or "in".
    both : str
        What is to be measured.

    Source: ASTM A513 type 5 tables (`core.tolerances`).

    >>> worst_check(Clearance(0.01, -0.001, 0.01, None, None), False, "on", "both").verdict
    'unknown'
    """
    given = f"{fine_text(worst.lowest, metric, 'down')} to {fine_text(worst.highest, metric, 'up')}"
    # Tolerances are known to a thousandth; rounding error must not turn a limit into a miss.
    low, high = round(worst.lowest, 6), round(worst.highest, 6)
    if high < 0:
        outcome, text = False, f"It cannot go {way} at any tolerance. Choose another size."
    elif low > float(LARGEST_CLEARANCE):
        outcome, text = False, "It is too loose at any tolerance. Choose another size."
    elif low < 0:
        outcome, text = None, f"At the tight end of the tolerances it will not go {way}. Measure {both} before you cut."
    elif high > float(LARGEST_CLEARANCE):
        outcome, text = None, f"At the loose end of the tolerances it is over the limit. Measure {both} before you cut."
    else:
        outcome, text = True, "It fits at both ends of the tolerances."
    return Check("clearance_worst", clause("dom").label(), given, f"{limit_text(metric)} at both ends", verdict(outcome), text)


def _wall_check(tube: Tube, sleeve: Tube, rule: str) -> Check:
    met = sleeve.wall.inches >= tube.wall.inches
    text = "The sleeve's wall is at least the tube's." if met else wall_story(tube, sleeve)
    return Check("wall", rule, sleeve.wall.typed, f"at least {tube.wall.typed}", verdict(met), text)


def wall_story(tube: Tube, sleeve: Tube) -> str:
    """Return both halves of a thin-walled sleeve: the rule it misses, and the section it has.

    Source: wall rule AC 43.13-1B 4-96 (from memory); areas pi (D - t) t by geometry.

    >>> from core.tube import read_tube
    >>> tube = read_tube({"od": "1-5/8", "wall": ".120", "material": "dom-1020"})
    >>> sleeve = read_tube({"od": "1-7/8", "wall": ".095", "material": "dom-1020"})
    >>> wall_story(tube, sleeve)[:36]
    'Literal wall rule not met: the sleev'
    """
    more = "more" if sleeve.area > tube.area else "less"
    story = (
        f"Literal wall rule not met: the sleeve's wall is thinner than the tube's. Metal: the sleeve has {more} area than the tube, "
        f"{sleeve.area:.3f} in² ({size_text(sleeve)}) against {tube.area:.3f} in² ({size_text(tube)}). "
    )
    strength = (sleeve.material.yield_ksi, tube.material.yield_ksi)
    if None not in strength and strength[0] != strength[1]:
        story += f"Minimum yield of the steel: sleeve {decimal_text(strength[0], 1)} ksi, tube {decimal_text(strength[1], 1)} ksi. "
    return story + "Show this to the inspector and get their agreement before you cut."


def _material_check(tube: Tube, sleeve: Tube, rule: str) -> Check:
    outcome = same_class(tube.material, sleeve.material)
    if outcome:
        text = "Tube and sleeve are of the same class of steel."
    elif outcome is None:
        text = "The steel of one of them is not known. Find the certificate or the mark first."
    else:
        text = "Tube and sleeve are of different steels. The circular asks for the same material. Choose another sleeve."
    return Check("material", rule, f"{sleeve.material.name} on {tube.material.name}", "the same material", verdict(outcome), text)


def _seam_check(sleeve: Tube) -> Check:
    seam = sleeve.seam
    if seam == "unknown" and sleeve.material.process in ("dom", "seamless"):
        seam = "none"
    outcome = {"none": True, "removed": True, "bead": False, "unknown": None}[seam]
    text = {
        True: "No weld bead inside the sleeve.",
        False: "The bead inside the sleeve takes the room the tube needs. Choose seamless or DOM, or have the bead taken out full length.",
        None: "Look and feel inside the sleeve for a weld bead. Then set the seam.",
    }[outcome]
    given = {"none": "no bead", "removed": "bead removed", "bead": "bead inside", "unknown": "not looked at"}[seam]
    return Check("seam", clause("seam-practice").label(), given, "no bead inside the sleeve", verdict(outcome), text)
