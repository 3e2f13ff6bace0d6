"""Problems that the store and the views raise; no Flask here."""

from __future__ import annotations

from typing import Any

from core.problems import Problem


class Refused(Problem):
    """A problem with members of its own, such as the ``current`` value a save collided with."""

    def __init__(self, kind: str, title: str, *, extra: dict[str, Any], **rest: Any) -> None:
        super().__init__(kind, title, **rest)
        self.extra = extra

    def as_dict(self) -> dict[str, Any]:
        """Return the problem+json object with the extra members."""
        return {**super().as_dict(), **self.extra}


def not_found(kind: str, title: str, given: object, allowed: str, next_step: str) -> Problem:
    """Return a 404 problem."""
    return Problem(kind, title, given=given, allowed=allowed, next_step=next_step, status=404)
