"""Checklists for the welder: choose the wording, check one mark at a time, tell where the job stands.

Nothing is stored here. A job's events are a list; `state` folds it, `check_event` judges
one more. Both give the same answer for the same list on the phone and on the laptop.
Lengths in inches, times in seconds.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from typing import Any

from core.checklists import common, inner_sleeve, larger_tube, outer_sleeve, patch, split_sleeve
from core.checklists.model import (
    Caution,
    Checklist,
    Group,
    Hold,
    Step,
    Timer,
    checklist_from_dict,
    seconds_text,
)
from core.checklists.wording import read_context
from core.lengths import read_length
from core.problems import Problem, collect
from core.tube import one_of, unknown_members

__all__ = [
    "ACTIONS", "METHODS", "Caution", "Checklist", "Group", "Hold", "Step", "Timer",
    "check_event", "checklist_for", "checklist_from_dict", "read_seconds", "state",
]  # fmt: skip

METHODS = {module.METHOD: module for module in (outer_sleeve, inner_sleeve, larger_tube, split_sleeve, patch)}
ACTIONS = ("done", "skip", "undo", "note")
MEMBERS = {"step", "action", "value", "reason", "who", "when", "default_unit"}
# A slip such as 1800 min for 1800 s must not pass as a fire watch.
LONGEST_WAIT = 24 * 3600
LONGEST_NAME, SHORTEST_REASON, LONGEST_REASON = 80, 3, 1000
TIME = re.compile(r"(?:(\d+)\s*h(?:ours?)?)?\s*(?:(\d+(?:\.\d+)?)\s*min(?:utes?)?)?\s*(?:(\d+(?:\.\d+)?)\s*s(?:ec)?)?",
                  re.ASCII)  # fmt: skip


def checklist_for(method: str, context: dict[str, Any]) -> Checklist:
    """Return the checklist of a repair method, worded with the plan's sizes.

    Parameters
    ----------
    method : {"outer-sleeve", "inner-sleeve", "larger-tube", "split-sleeve", "patch"}
    context : dict
        Sizes and words of the plan, all optional: see `core.checklists.wording.read_context`.

    Returns
    -------
    Checklist

    Raises
    ------
    Problem
        ``bad-choice`` for an unknown method; those of `read_context`.

    Notes
    -----
    Source: each step names its own in ``basis``.

    >>> made = checklist_for("outer-sleeve", {"blank_length": "8-1/2 in"})
    >>> made.version, [s.text for s in made.steps if s.key == "blank"]
    ('outer-sleeve 1', ['Cut the sleeve blank to length: 8-1/2 in.'])
    """
    module = METHODS[one_of("repair method", method, tuple(METHODS))]
    words, figures = read_context(context)
    left_out: frozenset[str] = frozenset()
    if context.get("sleeves") == 1:
        left_out |= getattr(module, "SECOND_SLEEVE", frozenset())
    if context.get("end_shape") not in (None, "fishmouth"):
        left_out |= getattr(module, "FISHMOUTH", frozenset())
    unneeded = common.CHROMOLY if context.get("material_class") == "low-carbon" else None
    groups = tuple(
        replace(group, steps=tuple(_worded(step, words, figures, unneeded)
                                   for step in group.steps if step.key not in left_out))
        for group in module.GROUPS
    )  # fmt: skip
    return Checklist(module.METHOD, module.METHOD, module.VERSION, module.TITLE, groups)


def _worded(step: Step, words: dict[str, str], figures: dict[str, Fraction | None], unneeded: Caution | None) -> Step:
    hold = step.hold
    if hold is not None:
        limit, high = (figures[x] if isinstance(x, str) else x for x in (hold.limit, hold.high))
        hold = replace(hold, limit=limit, high=high)
    cautions = tuple(caution for caution in step.cautions if caution is not unneeded)
    return replace(step, text=step.text.format_map(words), cautions=cautions, hold=hold)


def state(checklist: Checklist, events: list[dict[str, Any]]) -> dict[str, Any]:
    """Return where a job stands.

    Parameters
    ----------
    checklist : Checklist
    events : list of dict
        In the order they were accepted.

    Returns
    -------
    dict
        ``steps`` by key: state (open, done, skipped), by, when, value, value_inches or
        value_seconds, verdict, reason, notes, look_again. ``next``: key of the step to do,
        None at the end. ``next_group``. ``counts``: total, done, skipped, open. ``finished``.
        ``missing``: open keys. ``look_again``: steps marked before an earlier one was
        reopened, until they are marked again or get a note. ``refused``: index, kind and
        title of events that do not fit; they change nothing.

    Notes
    -----
    Source: READ-DO order, common practice, no source.

    >>> now = state(checklist_for("outer-sleeve", {}), [])
    >>> now["next"], now["finished"], now["counts"]["done"]
    ('stands', False, 0)
    """
    steps, refused = _fold(checklist, events)
    missing = [key for key, at in steps.items() if at["state"] == "open"]
    counts = {name: sum(at["state"] == name for at in steps.values()) for name in ("done", "skipped", "open")}
    nearest = missing[0] if missing else None
    return {
        "checklist": checklist.key,
        "version": checklist.version,
        "steps": steps,
        "next": nearest,
        "next_group": checklist.places[nearest][1].key if nearest else None,
        "counts": {"total": len(steps), **counts},
        "finished": not missing,
        "missing": missing,
        "look_again": [key for key, at in steps.items() if at["look_again"]],
        "refused": refused,
    }


def check_event(checklist: Checklist, events: list[dict[str, Any]], event: dict[str, Any]) -> dict[str, Any]:
    """Return one event as it is to be kept, or refuse it.

    Parameters
    ----------
    checklist : Checklist
    events : list of dict
        Accepted before.
    event : dict
        ``step``, ``action`` (done, skip, undo, note), ``who`` (1 to 80 characters); ``value``
        (a length or time as typed) for a measured hold; ``reason`` (3 to 1,000 characters) to
        skip, free otherwise; ``when`` (text, kept); ``default_unit`` (in, mm) of a bare number.

    Returns
    -------
    dict
        The event, tidied; with a value also ``value_inches`` or ``value_seconds`` (exact
        fraction as text), ``verdict`` and ``met``.

    Raises
    ------
    Problem
        ``unknown-step``, ``bad-choice``, ``no-name``, ``out-of-order``, ``already-marked``,
        ``not-marked``, ``no-reason``, ``not-skippable``, ``no-value``, ``value-not-asked``,
        ``hold-not-met``, ``bad-event``, and those of `read_length`. After ``hold-not-met``
        send the same event with action "note": it is kept with its verdict.

    Notes
    -----
    Source: READ-DO order, common practice, no source. Limits: the step's ``basis``.

    >>> made = checklist_for("outer-sleeve", {})
    >>> check_event(made, [], {"step": "gap", "action": "note", "who": "Lee", "value": "3/64"})["verdict"]
    '3/64 in = 0.0469 in = 1.19 mm; limit at most 1/32 in (0.79 mm): not met'
    """
    if not isinstance(event, dict):
        raise _bad(event, "An entry must be an object.", "an object with step, action and who.")
    problems: list[Problem] = []
    unknown_members(event, MEMBERS, problems)
    collect(problems)
    steps, _ = _fold(checklist, events)
    return _judge(checklist, steps, event)


def read_seconds(text: object) -> Fraction:
    """Return the seconds in a time typed with its unit.

    Parameters
    ----------
    text : str
        Hours, minutes, seconds with their unit: "30 min", "1 h 5 min", "1800 s".

    Raises
    ------
    Problem
        ``bad-time``; a number alone is refused, it could be minutes or seconds; so is over 24 h.

    Notes
    -----
    Source: common practice, no source.

    >>> read_seconds("1 h 5 min")
    Fraction(3900, 1)
    """
    clean = text.strip().lower() if isinstance(text, str) else ""
    found = TIME.fullmatch(clean) if 0 < len(clean) <= 40 else None
    if not found or not any(found.groups()):
        raise Problem("bad-time", "That is not a time this reads.", given=text,
                      allowed="minutes or seconds with their unit, such as 30 min or 1800 s.",
                      next_step="Type the number and its unit.", field="value")  # fmt: skip
    hours, minutes, seconds = (Fraction(part or 0) for part in found.groups())
    total = hours * 3600 + minutes * 60 + seconds
    if total > LONGEST_WAIT:
        raise Problem("bad-time", "That is longer than a day.", given=text, allowed="up to 24 h.",
                      next_step="Check the unit: s, min or h.", field="value")  # fmt: skip
    return total


def _fold(checklist: Checklist, events: list[dict[str, Any]]) -> tuple[dict[str, dict[str, Any]], list[dict]]:
    steps: dict[str, dict[str, Any]] = {step.key: _open() for step in checklist.steps}
    refused = []
    for index, event in enumerate(events):
        try:
            _apply(steps, _judge(checklist, steps, event))
        except Problem as problem:
            refused.append({"index": index, "kind": problem.kind, "title": problem.title})
    return steps, refused


def _open() -> dict[str, Any]:
    return {"state": "open", "by": None, "when": None, "value": None, "reason": None, "look_again": False, "notes": []}


def _apply(steps: dict[str, dict[str, Any]], event: dict[str, Any]) -> None:
    at, action = steps[event["step"]], event["action"]
    kept = {k: v for k, v in event.items() if k not in ("step", "action", "who", "default_unit")}
    if action == "note":
        at["notes"].append({"by": event["who"], **kept})
        at["look_again"] = False
        return
    notes = at["notes"]
    at.clear()
    at.update(_open())
    at["notes"] = notes
    if action == "undo":
        # What was measured after this step may no longer hold: ask people to look, decide nothing.
        keys = list(steps)
        for key in keys[keys.index(event["step"]) + 1 :]:
            steps[key]["look_again"] = steps[key]["state"] != "open"
        notes.append({"by": event["who"], "reopened": True, **kept})
        return
    at.update({"state": "done" if action == "done" else "skipped", "by": event["who"], **kept})


def _judge(checklist: Checklist, steps: dict[str, dict[str, Any]], event: Any) -> dict[str, Any]:
    if not isinstance(event, dict):
        raise _bad(event, "An entry must be an object.", "an object with step, action and who.")
    key = event.get("step")
    if not isinstance(key, str) or key not in checklist.places:
        raise Problem("unknown-step", "That step is not in this checklist.", given=key,
                      allowed=f"a step of {checklist.version}.",
                      next_step="Load the job again: its checklist may be another one.", field="step")  # fmt: skip
    step = checklist.places[key][0]
    action = one_of("mark", event.get("action"), ACTIONS)
    clean = {"step": step.key, "action": action, "who": _who(event.get("who"))}
    for name in ("when", "reason"):
        if event.get(name) is not None:
            clean[name] = _kept_text(name, event[name])
    if action in ("done", "skip"):
        _in_turn(checklist, steps, step)
    if action == "undo" and steps[step.key]["state"] == "open":
        raise Problem("not-marked", "That step is open already.", given=step.key,
                      allowed="a step that is done or skipped.", next_step="Go on with the open step.",
                      field="step")  # fmt: skip
    if action == "skip":
        _may_skip(step, clean.get("reason", ""))
    if action == "note" and not clean.get("reason") and event.get("value") is None:
        raise _bad("", "A note needs some text or a reading.", "text in reason, or a value.", "reason")
    if action in ("done", "note"):
        clean |= _reading(step, action, event)
    return clean


def _in_turn(checklist: Checklist, steps: dict[str, dict[str, Any]], step: Step) -> None:
    if steps[step.key]["state"] != "open":
        raise Problem("already-marked", f"That step is {steps[step.key]['state']} already.", given=step.text,
                      allowed="an open step.", next_step="Undo it first, if it has to be done again.",
                      field="step", status=409)  # fmt: skip
    earlier = checklist.steps[: checklist.places[step.key][2]]
    first = next((other for other in earlier if steps[other.key]["state"] == "open"), None)
    if first is not None:
        raise Problem("out-of-order", f"Another step comes first: {first.text}", given=step.text,
                      allowed="the next open step; every step before it done, or skipped with a reason.",
                      next_step=f"Do this now: {first.text}", field="step", status=409)  # fmt: skip


def _may_skip(step: Step, reason: str) -> None:
    if not step.skippable:
        raise Problem("not-skippable", "This step cannot be skipped.", given=step.text, allowed="done.",
                      next_step="Do it before you go on. If you cannot, stop and tell the crew chief.",
                      field="step")  # fmt: skip
    if len(reason) < SHORTEST_REASON:
        raise Problem("no-reason", "A skipped step needs a reason.", given=reason,
                      allowed=f"{SHORTEST_REASON} to {LONGEST_REASON} characters.",
                      next_step="Say why, for the person who reads the record.", field="reason")  # fmt: skip


def _reading(step: Step, action: str, event: dict[str, Any]) -> dict[str, Any]:
    """Return what a typed value adds to the event; nothing where none was asked."""
    typed, hold = event.get("value"), step.hold
    missing = typed is None or (isinstance(typed, str) and not typed.strip())
    if hold is None:
        if missing:
            return {}
        raise Problem("value-not-asked", "This step takes no number.", given=typed, allowed="no value.",
                      next_step="Write it as a note in words.", field="value")  # fmt: skip
    if missing:
        if action == "note":
            return {}
        raise Problem("no-value", f"This step needs a reading. {hold.ask}?", given="", allowed=hold.limit_text() + ".",
                      next_step="Measure it and type what you read.", field="value")  # fmt: skip
    if hold.unit == "s":
        value = read_seconds(typed)
        told = {"value": typed.strip(), "value_seconds": str(value)}
        echo = seconds_text(value)
    else:
        unit = one_of("unit", event.get("default_unit") or "in", ("in", "mm"))
        try:
            length = read_length(typed, role=hold.role, default_unit=unit, allow_zero=True)
        except Problem as problem:
            raise problem.at("value") from None
        value, echo = length.inches, length.echo()
        told = {"value": length.typed, "value_inches": str(value), "default_unit": unit}
    met = hold.met_by(value)
    if not met and action == "done":
        raise Problem("hold-not-met", f"Do not weld yet. {hold.ask}: {echo}." if hold.unit == "in" else
                      f"Not yet. {hold.ask}: {echo}.", given=typed, allowed=hold.limit_text() + ".",
                      next_step=_remedy(hold), field="value")  # fmt: skip
    if not hold.has_limit:
        return {**told, "verdict": f"{echo}; recorded, {hold.limit_text()}", "met": None}
    return {**told, "verdict": f"{echo}; limit {hold.limit_text()}: {'met' if met else 'not met'}", "met": met}


def _remedy(hold: Hold) -> str:
    if hold.unit == "s":
        return "Keep watching until the time is up, then type it again."
    return ("Put it right, measure again, type the new reading. If it cannot be put right, ask the inspector; "
            "if the inspector agrees to it as it is, skip this step with that as the reason.")  # fmt: skip


def _who(name: object) -> str:
    clean = " ".join(name.split()) if isinstance(name, str) else ""
    if not 0 < len(clean) <= LONGEST_NAME:
        raise Problem("no-name", "Who did it?", given="" if name is None else name,
                      allowed=f"a name of 1 to {LONGEST_NAME} characters.",
                      next_step="Type your name or initials.", field="who")  # fmt: skip
    return clean


def _kept_text(name: str, value: object) -> str:
    if not isinstance(value, str) or len(value) > LONGEST_REASON:
        raise _bad(value, f"That {name} cannot be kept.", f"text of up to {LONGEST_REASON} characters.", name)
    return value.strip()


def _bad(given: object, title: str, allowed: str, field: str = "") -> Problem:
    return Problem("bad-event", title, given=given, allowed=allowed, next_step="Send it again in that form.",
                   field=field)  # fmt: skip
