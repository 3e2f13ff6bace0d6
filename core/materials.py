"""Tube materials: class, how the tube is made, minimum strength in ksi and where the figure comes from."""

from __future__ import annotations

from dataclasses import dataclass

from core.problems import Problem

A513_S5 = "ASTM A513 supplementary S5 minimums (bind only if ordered to S5)"
SHEET = "project fact sheet, from memory; ask for the certificate"


@dataclass(frozen=True)
class Material:
    """One tube material.

    Attributes
    ----------
    key : str
        Name used in the JSON and the stock table.
    name : str
        Name a person reads.
    steel_class : str
        "low-carbon", "4130" or "unknown": a sleeve and its tube must share it.
    process : str
        "dom", "erw", "seamless" or "unknown": decides the seam question.
    yield_ksi, ultimate_ksi : float or None
        Minimum strength in ksi, None where nothing is known.
    near_weld_yield_ksi, near_weld_ultimate_ksi : float or None
        Row the steel beside a weld falls toward (the normalised or as-welded row).
    source : str
        Where the figures come from.
    note : str
        What to ask before trusting them.
    """

    key: str
    name: str
    steel_class: str
    process: str
    yield_ksi: float | None
    ultimate_ksi: float | None
    near_weld_yield_ksi: float | None
    near_weld_ultimate_ksi: float | None
    source: str
    note: str = ""


THREE_MEANINGS = (
    "\"4130 normalised\" has three meanings (A513 S5 50/70, A519 typical 60/90, aircraft "
    "specification 75/95 ksi): ask for the certificate."
)

MATERIALS: dict[str, Material] = {
    m.key: m
    for m in (
        Material("dom-1020", "1020 DOM", "low-carbon", "dom", 60, 70, 35, 50, A513_S5),
        Material("dom-1020-sr", "1020 DOM, stress relieved", "low-carbon", "dom", 55, 65, 35, 50, A513_S5),
        Material("dom-1026", "1026 DOM", "low-carbon", "dom", 70, 80, 35, 50, A513_S5,
                 "Beside a weld the 1020 normalised row is used; no 1026 normalised row is at hand."),
        Material("erw-1010", "1010 as-welded (ERW)", "low-carbon", "erw", 32, 45, 32, 45, A513_S5),
        Material("erw-1020", "1020 as-welded (ERW)", "low-carbon", "erw", 38, 52, 35, 50, A513_S5),
        Material("1020-n", "1020 normalised", "low-carbon", "unknown", 35, 50, 35, 50, A513_S5),
        Material("4130-n", "4130 normalised", "4130", "seamless", 50, 70, 50, 70, A513_S5, THREE_MEANINGS),
        Material("4130-n-aircraft", "4130 normalised, aircraft specification", "4130", "seamless",
                 75, 95, 50, 70, SHEET, THREE_MEANINGS),
        Material("unknown", "not known", "unknown", "unknown", None, None, None, None,
                 "no figure", "Find the certificate or the mark on the tube."),
    )
}  # fmt: skip


def material(key: object) -> Material:
    """Return the material named `key`.

    Parameters
    ----------
    key : str
        A key of MATERIALS.

    Returns
    -------
    Material
        Strengths in ksi.

    Raises
    ------
    Problem
        ``bad-material`` with the list of known keys.

    Source: each material names its own.

    >>> material("dom-1020").steel_class
    'low-carbon'
    """
    found = MATERIALS.get(key) if isinstance(key, str) else None
    if found is None:
        raise Problem(
            "bad-material", "That material is not in the list.", given=key,
            allowed=", ".join(MATERIALS) + ".",
            next_step="Choose one of these; choose unknown if nobody can tell.",
        )  # fmt: skip
    return found


def same_class(first: Material, second: Material) -> bool | None:
    """Return whether two materials share a class, None if either is not known.

    Parameters
    ----------
    first, second : Material

    Returns
    -------
    bool or None

    Source: AC 43.13-1B (Change 1, 2001) 4-92 and 4-97, "same material"; that steels of one class
    count as the same is common practice, no source.

    >>> same_class(material("dom-1020"), material("4130-n"))
    False
    """
    if "unknown" in (first.steel_class, second.steel_class):
        return None
    return first.steel_class == second.steel_class
