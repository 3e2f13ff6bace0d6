"""What the core answers to thousands of seeded questions, for the phone's mirror to answer the same.

A case is ``[function, arguments, answer]``; an answer is ``{"is": value}`` or ``{"problem": problem+json}``.
The expected values are the core's own (pinned here, checked against outside sources in tests/core and
tests/validation); what the vectors test is that the mirror is the same program.
"""

from __future__ import annotations

import json
import math
import os
import struct
from collections import Counter
from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import cache
from random import Random
from typing import Any
from unittest.mock import patch

from core import assess as assessing
from core import checklist as checklists
from core import choices, quantity, record, sizing, stock, tag
from core.lengths import read_length
from core.methods.strength_block import SPLICES
from core.problems import Problem, shorten
from core.size_input import EXAMPLE
from fieldapp import plan, services
from tests.golden import draw as drawn
from tests.golden.draw import as_sent, broken

SHEET_NOT_CHECKED = ["The shop's rule sheet was not looked at: it is on the laptop."]
Case = list[Any]


def answer(compute: Callable[..., Any], *given: Any) -> dict[str, Any]:
    """Return what `compute` makes of `given`, or its problem."""
    try:
        return {"is": compute(*given)}
    except Problem as problem:
        return {"problem": problem.as_dict()}


def provisional(compute: Callable[..., dict[str, Any]], *given: Any) -> dict[str, Any]:
    """Return the answer as the mirror gives it, marked provisional."""
    made = answer(compute, *given)
    return {"is": {**made["is"], "provisional": True}} if "is" in made else made


def size(data: Any) -> dict[str, Any]:
    """Return `core.sizing.size` without what is not mirrored, and the names of that."""
    name, _ = sizing.method_of(data)
    # No strength is worked out for nothing: 5,000 jobs take long enough.
    with patch.object(sizing, "SPLICES", ()):
        made = sizing.size({key: value for key, value in data.items() if key != "member"})
    missing = {"strength": name in SPLICES, "drawing": name == "outer-sleeve", "member": bool(data.get("member"))}
    return {**made, "not_computed": [what for what, is_missing in missing.items() if is_missing]}

# A third by default, so that a run of all tests stays short; PITSPLICE_VECTORS=1 asks them all.
SHARE = int(os.environ.get("PITSPLICE_VECTORS", "3"))


def length(text: Any, role: str, unit: str, allow_zero: bool) -> dict[str, Any]:
    """Return the JSON of GET /api/length."""
    found = read_length(text, role=role, default_unit=unit, allow_zero=allow_zero)
    return {"typed": found.typed, "in": float(found), "mm": float(found.mm), "echo": found.echo()}


def length_cases(draw: Random) -> Iterator[Case]:
    """Return every edge text in every role, and drawn ones."""
    options = [(role, unit, zero) for role in ("length", "wall", "diameter") for unit in ("in", "mm") for zero in (False, True)]
    asked = [(text, *one) for text in drawn.EDGE_LENGTHS for one in options]
    asked += [(drawn.length_text(draw), *draw.choice(options)) for _ in range(4000 // SHARE)]
    asked += [(value, "length", "in", False) for value in (None, True, 5, 1.5, [], ["1 in"], {"a": 1})]
    for text, role, unit, zero in asked:
        yield ["readLength", [text, {"role": role, "unit": unit, "allowZero": zero}], provisional(length, text, role, unit, zero)]


def number_cases(draw: Random) -> Iterator[Case]:
    """Return Python's own number texts and roundings, halves above all."""
    values = [0.0, -0.0, 0.125, 0.375, 2.5, 3.5, -2.5, 0.0005, 1.0005, 2.675, 1e-7, 123456.5, 1234565.0, 999999.5, 0.00012345, 1e22, 1e-300, 0.05, 1 / 3]
    values += [draw.randrange(-4000, 4000) / draw.choice([8, 16, 64, 1000, 2000, 7]) for _ in range(600 // SHARE)]
    for x in values:
        for places in (0, 1, 2, 3):
            yield ["fixed", [x, places], {"is": f"{x:.{places}f}"}]
        yield ["general", [x, 6], {"is": f"{x:g}".replace("-0", "0") if x == 0 else f"{x:g}"}]
        yield ["general", [x, 4], {"is": "0" if x == 0 else f"{x:.4g}"}]
        yield ["round", [x], {"is": round(x)}]
        yield ["roundPlaces", [x, 3], {"is": round(x, 3)}]
        # A half a last bit or two off stays the half.
        for off in (-3, 0, 3):
            half = (math.floor(x) + 0.5) * 0.001
            value = half + off * math.ulp(half)
            yield ["roundTo", [value, 0.001, "near"], {"is": quantity.round_to(value, 0.001, "near")}]
        if abs(x) < 1e6:
            yield ["inchFractionText", [x], {"is": quantity.inch_fraction_text(x)}]
            yield ["decimalText", [x, 2], {"is": quantity.decimal_text(x, 2)}]
            for way in ("up", "down", "near"):
                yield ["fineText", [x, False, way], {"is": quantity.fine_text(x, False, way)}]
                yield ["rulerText", [x, True, way], {"is": quantity.ruler_text(x, True, way)}]
    for _ in range(500):
        x, y = draw.uniform(-9, 9), draw.choice([0.0, 1e-9, draw.uniform(0, 9)])
        yield ["hypotBits", [x, y], {"is": struct.pack(">d", math.hypot(x, y)).hex()}]
    for n, d in [(1, 3), (10**40, 3), (1, 10**40), (2**53 + 1, 1), (2**54 + 2, 4), (-(10**30) - 1, 7**20), (1, 7**360), (2**70 + 1, 2**17)]:
        yield ["fraction", [str(n), str(d)], {"is": [float(Fraction(n, d)), str(Fraction(n, d)), str(round(Fraction(n, d))), str(Fraction(n, d).limit_denominator(10**6))]}]
    for value in [*drawn.ODD_NUMBER, *drawn.ODD_TEXT, None, True, [], [1, "a'b"], {"a": [None]}, "\x7f\x80\u2028\u00ad\U000e0001", "tab\t\\"]:
        yield ["shorten", [as_sent(value)], {"is": shorten(as_sent(value))}]
        yield ["shorten", [[as_sent(value)]], {"is": shorten([as_sent(value)])}]


def size_cases(draw: Random) -> Iterator[Case]:
    """Return jobs of each method, 1,050 of them whole: two in three as they come, one in three broken; and their summaries.

    Half of them ask for more: readings, rosettes, a hole, the saw, the batch.
    """
    for make in drawn.JOBS.values():
        for count in range(1050 // SHARE):
            job = make(draw)
            job = as_sent({**job, **drawn.beside(draw, job)} if count % 2 else job)
            if count % 3 == 2:
                job = as_sent(broken(draw, job))
            yield ["size", [job], provisional(size, job)]
            if count % 4 == 0:
                yield ["summary", [job], answer(sizing.summary, job)]
    for data in (None, 5, [], "x", {"method": "weld"}, {"method": None}, {"method": "constructor"}):
        yield ["size", [data], provisional(size, data)]


def assess_cases(draw: Random) -> Iterator[Case]:
    """Return findings, whole and broken; a member of the rule sheet counts as not checked."""
    for count in range(1200 // SHARE):
        data = as_sent(drawn.findings(draw))
        if count % 3 == 2:
            data = as_sent(broken(draw, data))
        yield ["assess", [data], provisional(assessing.assess, data)]
        if count % 20 == 0 and isinstance(data, dict):
            yield ["assess", [{**data, "member": " Main hoop "}], provisional(without_sheet, data)]
    whole = {"tube": {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}, "damage": "crack"}
    yield ["assess", [{**whole, "member": 5}], {"problem": Problem(
        "bad-member", "The member must be text.", given=5, allowed="a member of your rule sheet, or none.",
        next_step="Choose a member of the sheet, or leave it out.", field="member").as_dict()}]  # fmt: skip


def stock_cases(draw: Random) -> Iterator[Case]:
    """Return questions for stock of every method, whole and broken."""
    for count in range(1500 // SHARE):
        data = as_sent(drawn.rack(draw, [*drawn.JOBS][count % len(drawn.JOBS)]))
        if count % 3 == 2:
            data = as_sent(broken(draw, data))
        yield ["candidates", [data], provisional(stock.candidates, data)]
    # A tube no usual sleeve fits by the letter.
    for od in drawn.TUBES:
        for wall in (".134", ".156", ".188"):
            for method in drawn.JOBS:
                data = {"tube": {"od": od, "wall": wall, "material": "dom-1020"}, "method": method}
                yield ["candidates", [data], provisional(stock.candidates, data)]


def without_sheet(data: Any) -> dict[str, Any]:
    """Return an assessment as the mirror gives it for a member of a sheet it does not have."""
    return {**assessing.assess(data), "not_checked": SHEET_NOT_CHECKED}


def worded(method: Any, given: Any) -> dict[str, Any]:
    """Return a checklist's JSON form."""
    return checklists.checklist_for(method, given).to_dict()


def context(draw: Random) -> dict[str, Any]:
    """Return the figures of a plan, some of them missing."""
    od = draw.choice([1.625, 2.0, 1.5, 60 / 25.4, 1.66, 2.4])
    return as_sent(drawn.maybe(
        draw, 0.6, od=od, wall=draw.choice([0.12, 0.119999999, 0.095, 3 / 25.4, 0.18, 0.2]), rule_length=draw.choice([8.1226, 8.125, 206.3 / 25.4]),
        patch_wall=0.134, tube="1.625 x .120 1020 DOM", sleeve="1.875  x .120", blank_length="8-1/8 in", mitre="60°", hole_diameter="15/32 in", holes="two", material="1020 DOM",
        material_class=draw.choice(["low-carbon", "4130", "unknown"]), process=draw.choice(["gtaw", "gmaw", "smaw"]),
        end_shape=draw.choice(["fishmouth", "pointed", "scarf", "square"]), sleeves=draw.choice([1, 2]), metric=draw.choice([True, False]),
    ))  # fmt: skip


READINGS = ["1/32", "1/32 in", "0.03125", "3/64", "0.8 mm", "2-7/16 in", "2.4375", "2.437", "62 mm", "9 in", "0", "1/16", "0.0625", ".098", "0.1", "1/8", ".134", "10 ga", "5", "30 min",
            "1800 s", "29 min 59 s", "1 h", "0.5 min", "25 h", "1800", "1h30min", "12", "", " ", None, 5, True, "1,5", "abc", "10 in"]  # fmt: skip


def event(draw: Random, keys: list[str], at: int) -> dict[str, Any]:
    """Return one mark near the place where the list stands: usually right, now and then nonsense."""
    key = keys[min(max(at + draw.choice([0, 0, 0, 0, 0, -1, 1, -5, 3]), 0), len(keys) - 1)] if draw.random() < 0.96 else draw.choice(["nothing", None, 5, "constructor"])
    made = {"step": key, "action": draw.choice(["done"] * 8 + ["skip", "skip", "undo", "note", "weld", None]), "who": draw.choice(["Lee", " Lee  \u3000Ann ", "Ann"] * 5 + ["", None, 5, "x" * 81])}
    made |= drawn.maybe(draw, 0.6, value=draw.choice(READINGS))
    made |= drawn.maybe(draw, 0.3, reason=draw.choice(["no", "not needed here", "  tight sleeve ", "x" * 1001, 5, None]), when=draw.choice(["2026-11-25T13:00:00Z", 7]), default_unit=draw.choice(["in", "mm", "ft", ""]))
    if draw.random() < 0.02:
        made["more"] = odd_member = drawn.odd(draw)
        made["more"] = as_sent(odd_member)
    return made


def run(method: str, plan_context: dict[str, Any], events: list[Any]) -> list[Any]:
    """Return what each mark in turn gave, and where the list stands after them."""
    made = checklists.checklist_for(method, plan_context)
    kept: list[dict[str, Any]] = []
    told = []
    for one in events:
        result = answer(checklists.check_event, made, kept, one)
        told.append(result)
        if "is" in result:
            kept.append({**result["is"], "id": len(kept) + 1, "at": "2026-11-25T13:00:00Z"})
    return [told, checklists.state(made, kept)]


def good_events(made: checklists.Checklist) -> list[dict[str, Any]]:
    """Return a mark for every step, each hold met."""
    events = []
    for step in made.steps:
        mark = {"step": step.key, "action": "done", "who": "Lee"}
        if step.hold:
            limit = step.hold.limit if step.hold.has_limit else Fraction(9)
            mark["value"] = "31 min" if step.hold.unit == "s" else f"{limit.numerator}/{limit.denominator} in"
        events.append(mark)
    return events


def checklist_cases(draw: Random) -> Iterator[Case]:
    """Return wordings, and jobs marked from the first step on, right and wrong."""
    for method in checklists.METHODS:
        for count in range(60):
            given = context(draw)
            if count % 3 == 2:
                given = as_sent(broken(draw, given or {"od": 2}))
            yield ["checklistFor", [method, given], answer(worded, method, given)]
        for _ in range(24):
            given = context(draw)
            made = checklists.checklist_for(method, given)
            keys = [step.key for step in made.steps]
            right = good_events(made)
            done = draw.randrange(len(keys))
            events: list[Any] = right[:done] if draw.random() < 0.9 else []
            for place in range(25):
                events.append(event(draw, keys, done + place) if draw.random() < 0.5 else dict(right[min(done + place // 2, len(keys) - 1)]))
            events += right[done:] if draw.random() < 0.3 else [draw.choice([None, 5, [], "x"])]
            yield ["runChecklist", [method, given, events], {"is": run(method, given, events)}]
            yield ["readBack", [made.to_dict()], {"is": made.to_dict()}]
    for method in ("weld", None, "constructor", ["patch"]):
        yield ["checklistFor", [method, {}], answer(worded, method, {})]
    for count in range(200):
        name = draw.choice(list(drawn.JOBS))
        job = {"sections": {"choose": {"data": {"method": name, **drawn.maybe(draw, 0.5, sleeves=draw.choice([1, 2, 2, 3, None]))}}, "size": {"data": as_sent(drawn.JOBS[name](draw))}}}
        if count % 4 == 1:
            job["sections"].pop("size")
        if count % 20 == 3:
            job["sections"]["choose"] = draw.choice([{"data": {}}, {"data": {"method": 5}}, {"data": {"method": "constructor"}}, {}])
        yield ["checklistOf", [job], answer(lambda given: plan.checklist_of(given).to_dict(), job)]


def tag_cases(draw: Random) -> Iterator[Case]:
    """Return ids, misread ids and tags."""
    numbers = [0, 1, 30, 31, tag.ID_COUNT - 1, *(draw.randrange(tag.ID_COUNT) for _ in range(500))]
    texts: list[Any] = ["", None, 5, "x" * 2001, "7K3M-9QX3", "7k3m 9qx3", "http://10.0.0.2:8000/r/7K3M-9QX3/", "PITSPLICE 7K3M 9QX3", "PITSPLICE", "PITSPLICE 7K3M DEMO",
                        "O", "7K3M9QXI", "7K3M9QXß", "７Ｋ３Ｍ９ＱＸ３", "7K3M–9QX3", "7K3M\u00a09QX3", "#7K3M9QX3", "7K3M9QX3 TUBE", "7K3M9QX", "7K3M😀9QX3", "constructor"]  # fmt: skip
    for number in numbers:
        made = tag.make_id(number)
        yield ["makeId", [number], {"is": made}]
        wrong = list(made)
        wrong[draw.randrange(8)] = draw.choice(tag.ALPHABET + "01OIL-/ ")
        swapped = list(made)
        place = draw.randrange(7)
        swapped[place : place + 2] = reversed(swapped[place : place + 2])
        texts += [made, made.lower(), tag.id_text(made), "".join(wrong), "".join(swapped), made[: draw.randrange(8)]]
    for text in texts:
        yield ["readId", [text], answer(tag.read_id, text)]
    tags: list[Any] = ["", None, "PITSPLICE ", "PITSPLICE 7K3M-9QX3 TUBE:a TUBE:b", "PITSPLICE 7K3M-9QX3 NOT TUBE:a", "pitsplice 7k3m-9qx3 demo  len:8 in", "PITSPLICE 7K3M-9QX4", "x"]
    for number in numbers[:200]:
        essentials = tag.TagEssentials(tag.make_id(number), *(draw.choice(["", "1⅝ × .120, Niccolò's 1020 DOM", "1.875 x .120 LEN 5", "60", "8-1/8 in", "x" * 90]) for _ in range(7)))
        tags.append(tag.payload(essentials, draw.random() < 0.3))
    for text in tags:
        yield ["tagRead", [text], answer(_tag, text)]


def _tag(text: Any) -> dict[str, Any]:
    found = tag.read_payload(text)
    return {**found, "essentials": vars(found["essentials"])}


def record_cases(draw: Random) -> Iterator[Case]:
    """Return sealed records as the laptop sends them, whole and changed."""
    for count in range(60):
        result = size({**json.loads(EXAMPLE), "gap": f"{draw.uniform(0, 0.03):.4f} in", "mitre_deg": draw.randrange(30, 75)})
        body = {"id": "7K3M9QX3", "sealed_at": "t", "sealed_by": "Zoë 😀\u2028\x7f\x01\"\\", "result": result, "ｚ": [1.0, 1e-7, 2**60, 1e22, -0.0], "\U0001f600": None, "\uffff": True}
        kept = {"id": body["id"], "sealed_at": "t", "sealed_by": body["sealed_by"], "sha256": record.seal(body), "body": body}
        amendments, previous = [], kept["sha256"]
        for number in range(1, draw.randrange(1, 4)):
            item = {"number": number, "at": f"t{number}", "who": "Lee", "text": "Gap was 1/32 in."}
            amendments.append({**item, "previous_sha256": previous, "sha256": record.amend(previous, **item)})
            previous = amendments[-1]["sha256"]
        change = count % 6
        if change == 1:
            body["result"]["length"]["rule"]["in"] += 1e-12
        elif change == 2:
            kept["sealed_by"] = "Ann"
        elif change == 3 and amendments:
            amendments[0]["text"] = "Gap was 1/16 in."
        elif change == 4 and amendments:
            amendments.pop(0)
        elif change == 5:
            kept["body"] = {**body, "id": "7K3M9QX4"}
        text = json.dumps({**kept, "amendments": amendments}, ensure_ascii=bool(count % 2))
        yield ["verifyText", [text], {"is": record.verify(kept, amendments)}]


def cases() -> Iterator[Case]:
    """Return every case."""
    draw = Random(20261125)
    for group in (length_cases, number_cases, size_cases, assess_cases, stock_cases, checklist_cases, tag_cases, record_cases):
        yield from group(draw)
    yield ["choices", [], {"is": services.choices()}]
    assert choices.choices() == services.choices()


@cache
def text() -> str:
    """Return all cases as one JSON text, one a line."""
    return "[\n" + ",\n".join(json.dumps(case) for case in cases()) + "\n]\n"


def counts() -> dict[str, dict[str, int]]:
    """Return for each function how many answers and problems are expected."""
    made = Counter((name, next(iter(expected))) for name, _, expected in json.loads(text()))
    return {name: {kind: made[name, kind] for kind in ("is", "problem")} for name in dict.fromkeys(name for name, _ in made)}
