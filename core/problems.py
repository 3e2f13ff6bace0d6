"""Errors a person can act on: what was given, what is allowed, what to do next."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any


class Problem(ValueError):
    """Input that cannot be used.

    Parameters
    ----------
    kind : str
        Short slug, stable, listed in DEVELOPERS.md ("bad-length").
    title : str
        One plain sentence for a person.
    given : object
        What came in, as text.
    allowed : str
        What would be accepted.
    next_step : str
        What the person should do now.
    field : str
        Dotted path of the input ("tube.wall"), empty if it is about the whole.
    status : int
        HTTP status the problem is served with (400 to 499).
    others : sequence of Problem
        Further problems found in the same input.
    """

    def __init__(
        self,
        kind: str,
        title: str,
        *,
        given: object = "",
        allowed: str = "",
        next_step: str = "",
        field: str = "",
        status: int = 422,
        others: Sequence[Problem] = (),
    ) -> None:
        super().__init__(title)
        self.kind = kind
        self.title = title
        self.given = shorten(given)
        self.allowed = allowed
        self.next_step = next_step
        self.field = field
        self.status = status
        self.others = tuple(others)

    def at(self, field: str) -> Problem:
        """Return the same problem, told about the input at `field`."""
        self.field = f"{field}.{self.field}" if self.field else field
        return self

    def __str__(self) -> str:
        where = f"{self.field}: " if self.field else ""
        return f"{where}{self.title} Given: {self.given!r}. Allowed: {self.allowed} Next: {self.next_step}"

    def as_dict(self) -> dict[str, Any]:
        """Return the problem+json object (RFC 9457) with the members of this project."""
        body: dict[str, Any] = {
            "type": f"urn:pitsplice:problem:{self.kind}",
            "title": self.title,
            "status": self.status,
            "given": self.given,
            "allowed": self.allowed,
            "next": self.next_step,
        }
        if self.field:
            body["field"] = self.field
        if self.others:
            body["others"] = [other.as_dict() for other in self.others]
        return body


def shorten(given: object, limit: int = 120) -> str:
    """Return `given` as text of at most `limit` characters, for an error message.

    Parameters
    ----------
    given : object
    limit : int
        Characters, > 0.

    Returns
    -------
    str

    Source: the project's own form.

    >>> shorten(1.5), shorten("abcdef", 4)
    ('1.5', 'abc…')
    """
    text = given if isinstance(given, str) else repr(given)
    return text if len(text) <= limit else text[: limit - 1] + "…"


def collect(problems: Sequence[Problem]) -> None:
    """Raise the first of `problems`, carrying the others; do nothing if there are none.

    Parameters
    ----------
    problems : sequence of Problem

    Raises
    ------
    Problem
        The first one, the rest in ``others``.

    Source: the project's own form.

    >>> collect([])
    >>> try:
    ...     collect([Problem("a", "One."), Problem("b", "Two.")])
    ... except Problem as problem:
    ...     problem.kind, [other.kind for other in problem.others]
    ('a', ['b'])
    """
    if not problems:
        return
    first, *others = problems
    first.others = tuple(others)
    raise first
