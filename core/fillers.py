"""Filler rods: classification strength of the deposited metal."""

from __future__ import annotations

from dataclasses import dataclass

from core.problems import Problem

FROM_MEMORY = "AWS A5.18 and A5.28 classification minimums, from memory; read the box or the certificate"


@dataclass(frozen=True)
class Filler:
    """One filler metal.

    Attributes
    ----------
    key, name : str
        Name used in the JSON, and the one a person reads.
    yield_ksi, ultimate_ksi : float
        Minimum strength of the deposited metal, ksi. The ultimate is FEXX of the weld formulas.
    source : str
        Where the figures come from.
    """

    key: str
    name: str
    yield_ksi: float
    ultimate_ksi: float
    source: str = FROM_MEMORY


FILLERS: dict[str, Filler] = {
    f.key: f
    for f in (
        Filler("er70s-2", "ER70S-2", 58, 70),
        Filler("er80s-d2", "ER80S-D2", 68, 80),
    )
}


def filler(key: object) -> Filler:
    """Return the filler named `key`.

    Parameters
    ----------
    key : str
        A key of `FILLERS`.

    Returns
    -------
    Filler

    Raises
    ------
    Problem
        ``bad-filler`` with the list of known keys.

    Notes
    -----
    Source: AWS A5.18 and A5.28, from memory.

    >>> filler("er70s-2").ultimate_ksi
    70
    """
    found = FILLERS.get(key) if isinstance(key, str) else None
    if found is None:
        raise Problem(
            "bad-filler", "That filler is not in the list.", given=key,
            allowed=", ".join(FILLERS) + ".",
            next_step="Choose one of these; ask the welder which rod the procedure names.",
        )  # fmt: skip
    return found
