"""One row of ranked stock: a tube, the rules it is held to, and what they come to."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from core.fit import Clearance
from core.lengths import Length
from core.quantity import fine_text, quantity
from core.rules import Check
from core.sleeve import EndCut
from core.tube import Tube, size_text

FITS, MEASURE, TURN, INSPECTOR, DOES_NOT = "fits", "measure first", "turn it down first", "ask the inspector", "does not fit"
STANDING_ORDER = {FITS: 0, MEASURE: 1, TURN: 2, INSPECTOR: 3, DOES_NOT: 4}


@dataclass(frozen=True)
class Ask:
    """What stock is ranked for.

    Attributes
    ----------
    tube : Tube
        The damaged tube.
    cut : EndCut
    lengths : dict
        The lengths the method reads, by member; None where not given.
    count : int
        Pieces needed.
    metric : bool
    """

    tube: Tube
    cut: EndCut
    lengths: dict[str, Length | None]
    count: int
    metric: bool

    def inches(self, name: str) -> float:
        """Return a length of the job in inches, 0 where not given."""
        return float(self.lengths[name] or 0)

    @property
    def bore(self) -> Fraction:
        """Inside diameter of the damaged tube, inches."""
        return self.tube.od.inches - 2 * self.tube.wall.inches


def standing(checks: list[Check], stops: tuple[str, ...] = ("clearance",)) -> str:
    """Return what the checks of one tube come to.

    "fits" (every rule met), "measure first" (something unknown), "ask the inspector" (it can be
    used, but a rule is not met) or "does not fit": one of the rules in `stops` is not met.

    Parameters
    ----------
    checks : list of Check
        Lengths in their texts are inches or mm, as the job's.
    stops : tuple of str
        Starts of the ids of rules that rule a tube out.

    Returns
    -------
    str
        One of `STANDING_ORDER`.

    Source: common practice, no source.

    >>> from core.fit import fit_checks
    >>> from core.tube import read_tube
    >>> tube, stock = (read_tube({"od": od, "wall": ".120 in", "material": "dom-1020"}) for od in ("1-5/8 in", "1-7/8 in"))
    >>> standing(fit_checks(tube, stock)), standing(fit_checks(tube, tube))
    ('measure first', 'does not fit')
    """
    missed = [check.id for check in checks if check.verdict == "not met"]
    if any(name.startswith(stops) for name in missed):
        return DOES_NOT
    if missed:
        return INSPECTOR
    return MEASURE if any(check.verdict == "unknown" for check in checks) else FITS


def reason(checks: list[Check]) -> str:
    """Return the text of the check that decides: first missed, else first unknown, else first.

    Parameters
    ----------
    checks : list of Check
        At least one; lengths in their texts are inches or mm, as the job's.

    Returns
    -------
    str
        One line.

    Source: common practice, no source.

    >>> from core.fit import fit_checks
    >>> from core.tube import read_tube
    >>> tube, stock = (read_tube({"od": od, "wall": ".120 in", "material": "dom-1020"}) for od in ("1-5/8 in", "1-7/8 in"))
    >>> reason(fit_checks(tube, stock))
    'At the tight end of the tolerances it will not go on. Measure this tube and this sleeve before you cut.'
    """
    for word in ("not met", "unknown"):
        for check in checks:
            if check.verdict == word:
                return check.text
    return checks[0].text


def stock_row(tube: Tube, stock: Tube, fit: Clearance, checks: list[Check], stand: str, why: str, metric: bool) -> dict[str, Any]:
    """Return one row, JSON-ready.

    Parameters
    ----------
    tube, stock : Tube
        The damaged tube; the tube on the rack or in the list.
    fit : Clearance
        Between the two, on the diameter, inches.
    checks : list of Check
    stand, why : str
        From `standing` and `reason`.
    metric : bool
        Whether the texts are in millimetres.

    Returns
    -------
    dict
        ``size``, ``od``, ``wall``, ``material``, ``material_name``, ``seam``, ``standing``, ``why``,
        ``clearance`` (nominal, lowest, highest), ``area_in2`` and ``tube_area_in2`` in square inches,
        ``checks``.

    Source: `core.fit`; the caller's checks carry their own.

    >>> from core.fit import clearance
    >>> from core.fit import fit_checks
    >>> from core.tube import read_tube
    >>> tube, stock = (read_tube({"od": od, "wall": ".120 in", "material": "dom-1020"}) for od in ("1-5/8 in", "1-7/8 in"))
    >>> checks = fit_checks(tube, stock)
    >>> row = stock_row(tube, stock, clearance(tube, stock), checks, standing(checks), reason(checks), False)
    >>> row["size"], row["clearance"]["nominal"]["text"]
    ('1-7/8 in × .120 in', '0.010 in')
    """
    return {
        "size": size_text(stock), "od": stock.od.typed, "wall": stock.wall.typed, "material": stock.material.key,
        "material_name": stock.material.name, "seam": stock.seam, "standing": stand, "why": why,
        "clearance": {"nominal": quantity(fit.nominal, fine_text(fit.nominal, metric)),
                      "lowest": quantity(fit.lowest, fine_text(fit.lowest, metric, "down")),
                      "highest": quantity(fit.highest, fine_text(fit.highest, metric, "up"))},
        "area_in2": stock.area, "tube_area_in2": tube.area,
        "checks": [check.as_dict() for check in checks],
    }  # fmt: skip
