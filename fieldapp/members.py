"""Read the text members of a request's object; no Flask here."""

from __future__ import annotations

import unicodedata
from typing import Any

from core.problems import Problem, collect
from core.tube import unknown_members

LONGEST_NAME, LONGEST_NOTE = 80, 2000


def only(data: dict[str, Any], *known: str) -> None:
    """Raise ``unknown-member`` for each member of `data` that is not known."""
    problems: list[Problem] = []
    unknown_members(data, set(known), problems)
    collect(problems)


def text(
    data: dict[str, Any], field: str, *, required: bool = True, longest: int = LONGEST_NAME, lines: bool = False
) -> str:
    """Return the text member `field`, trimmed, "" where it may be left out.

    Raises
    ------
    Problem
        ``missing`` or ``bad-text``.
    """
    value = data.get(field)
    if lines and isinstance(value, str):
        value = value.replace("\r\n", "\n")
    what = f"text of 1 to {longest} characters" + ("." if lines else " on one line.")
    if value is None or (isinstance(value, str) and not value.strip()):
        if required:
            raise Problem("missing", f"The {field} is missing.", given="" if value is None else value, allowed=what,
                          next_step=f"Give the {field}.", field=field)  # fmt: skip
        return ""
    keep = "\n\t" if lines else ""
    if not isinstance(value, str) or len(value) > longest or any(
        unicodedata.category(c) in ("Cc", "Cs", "Zl", "Zp") and c not in keep for c in value.strip()
    ):  # fmt: skip
        raise Problem("bad-text", f"The {field} cannot be kept as it is.", given=value, allowed=what,
                      next_step="Shorten it or type it again.", field=field)  # fmt: skip
    return value.strip()
