"""The parts of a checklist, frozen, and their JSON form. Limits in inches or seconds, exact."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from fractions import Fraction
from functools import cached_property
from typing import Any

from core.quantity import fine_text, inch_fraction_text
from core.rules import PRACTICE

LIMIT_KINDS = ("at most", "at least", "between", "record")


@dataclass(frozen=True)
class Caution:
    """A hazard, told at the step where it bites, and where the warning comes from."""

    text: str
    source: str


@dataclass(frozen=True)
class Hold:
    """A point where work waits for a number.

    Attributes
    ----------
    unit : {"in", "s"}
        A length in inches or a time in seconds.
    limit_kind : {"at most", "at least", "between", "record"}
        "record" takes any number.
    limit : Fraction, str or None
        The limit, or the lower one of two. In the wording modules the name of a figure the
        plan fills in ("overlap"); None where the plan does not know it.
    ask : str
        The question put to the welder.
    high : Fraction, str or None
        The upper limit of "between".
    role : {"length", "wall", "diameter"}
        How `core.lengths.read_length` reads what is typed.
    """

    unit: str
    limit_kind: str
    limit: Fraction | str | None
    ask: str
    high: Fraction | str | None = None
    role: str = "length"

    @property
    def has_limit(self) -> bool:
        """Whether a value can be judged."""
        return self.limit_kind != "record" and self.limit is not None

    def met_by(self, value: Fraction) -> bool:
        """Return whether `value` keeps the limit; the limit itself does; always true without one.

        >>> Hold("in", "at most", Fraction(1, 32), "Gap?").met_by(Fraction(1, 32))
        True
        """
        if not self.has_limit:
            return True
        if self.limit_kind == "at most":
            return value <= self.limit
        if self.limit_kind == "at least":
            return value >= self.limit
        return self.limit <= value <= self.high

    def limit_text(self) -> str:
        """Return the limit as a person reads it; an upper limit rounds down, a lower one up.

        >>> Hold("in", "at most", Fraction(1, 32), "Gap?").limit_text()
        'at most 1/32 in (0.79 mm)'
        >>> Hold("s", "at least", Fraction(1800), "Minutes?").limit_text()
        'at least 30 min'
        """
        if not self.has_limit:
            return "any reading; no limit in this plan"
        if self.limit_kind == "between":
            return f"{self._one(self.limit, 'up')} to {self._one(self.high, 'down')}"
        return f"{self.limit_kind} {self._one(self.limit, 'down' if self.limit_kind == 'at most' else 'up')}"

    def _one(self, limit: Fraction, way: str) -> str:
        if self.unit == "s":
            return seconds_text(limit)
        inches = inch_fraction_text(limit) or fine_text(float(limit), False, way)
        return f"{inches} ({fine_text(float(limit), True, way)})"


@dataclass(frozen=True)
class Timer:
    """A wait the page can count down, in seconds, and what it is for."""

    seconds: int
    text: str


@dataclass(frozen=True)
class Step:
    """One action.

    Attributes
    ----------
    key : str
        Stable name, one in the whole checklist.
    text, why : str
        The action, and the reason if it is not plain.
    cautions : tuple of Caution
    hold : Hold or None
    timer : Timer or None
    skippable : bool
        Whether it may be skipped with a reason.
    basis : str
        The clause, or `common practice, no source`.
    """

    key: str
    text: str
    why: str = ""
    cautions: tuple[Caution, ...] = ()
    hold: Hold | None = None
    timer: Timer | None = None
    skippable: bool = True
    basis: str = PRACTICE


@dataclass(frozen=True)
class Group:
    """Five to nine steps that belong together; `any_order` frees their order."""

    key: str
    title: str
    steps: tuple[Step, ...]
    any_order: bool = False


@dataclass(frozen=True)
class Checklist:
    """A READ-DO checklist: read a line, do it, mark it."""

    key: str
    method: str
    version: str
    title: str
    groups: tuple[Group, ...]

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """All steps in order."""
        return tuple(step for group in self.groups for step in group.steps)

    @cached_property
    def places(self) -> dict[str, tuple[Step, Group, int]]:
        """By step key: the step, its group, and how many steps must be done or skipped before it."""
        found: dict[str, tuple[Step, Group, int]] = {}
        for group in self.groups:
            start = len(found)
            for offset, step in enumerate(group.steps):
                found[step.key] = (step, group, start if group.any_order else start + offset)
        return found

    def to_dict(self) -> dict[str, Any]:
        """Return the JSON form; limits are exact fractions as text, with a text to read beside them."""
        body = asdict(self)
        for group, raw in zip(self.groups, body["groups"], strict=True):
            for step, item in zip(group.steps, raw["steps"], strict=True):
                if step.hold is not None:
                    for name in ("limit", "high"):
                        value = getattr(step.hold, name)
                        item["hold"][name] = None if value is None else str(value)
                    item["hold"]["limit_text"] = step.hold.limit_text()
                item["cautions"] = list(item["cautions"])
            raw["steps"] = list(raw["steps"])
        body["groups"] = list(body["groups"])
        return body


def checklist_from_dict(body: dict[str, Any]) -> Checklist:
    """Return the checklist a record keeps, so that a job ends on the wording it began with.

    Parameters
    ----------
    body : dict
        What `Checklist.to_dict` gave.

    Returns
    -------
    Checklist

    Raises
    ------
    KeyError, TypeError
        For anything else: only this project's own records come here.

    Source: the inverse of `Checklist.to_dict`.

    >>> made = Checklist("a", "b", "b 1", "A list", (Group("g", "Look", (Step("look", "Look."),)),))
    >>> checklist_from_dict(made.to_dict()) == made
    True
    """

    def limit(text):
        return None if text is None else Fraction(text)

    def hold(raw):
        kept = {name: value for name, value in raw.items() if name != "limit_text"}
        return Hold(**{**kept, "limit": limit(raw["limit"]), "high": limit(raw["high"])})

    def step(raw):
        parts = {
            "cautions": tuple(Caution(**c) for c in raw["cautions"]),
            "hold": hold(raw["hold"]) if raw["hold"] else None,
            "timer": Timer(**raw["timer"]) if raw["timer"] else None,
        }
        return Step(**{**raw, **parts})

    groups = tuple(Group(**{**raw, "steps": tuple(map(step, raw["steps"]))}) for raw in body["groups"])
    return Checklist(**{**body, "groups": groups})


def seconds_text(seconds: Fraction | int) -> str:
    """Return a time as minutes and seconds.

    Parameters
    ----------
    seconds : Fraction or int
        Seconds, >= 0.

    Returns
    -------
    str

    Source: hand.

    >>> seconds_text(1800), seconds_text(95), seconds_text(40)
    ('30 min', '1 min 35 s', '40 s')
    """
    minutes, rest = divmod(Fraction(seconds), 60)
    parts = [f"{minutes} min"] if minutes else []
    parts += [f"{float(rest):g} s"] if rest or not minutes else []
    return " ".join(parts)
