"""Write static/js/core/tables.js, the phone's copy of the core's tables: `python -m tests.golden.tables`.

Nothing in that file is typed by hand; `tests/golden/test_tables.py` fails where it is stale.
"""

from __future__ import annotations

import json
import sys
import unicodedata
from dataclasses import asdict, is_dataclass
from fractions import Fraction
from pathlib import Path
from types import ModuleType
from typing import Any

from core import (
    assess,
    assess_input,
    card,
    choices,
    drill,
    fit,
    fit_measured,
    gauges,
    hole_plan,
    lengths,
    materials,
    rosette,
    rosette_search,
    rules,
    saw,
    size_input,
    size_options,
    sizing,
    sleeve,
    stock_rows,
    stock_sizes,
    tag,
    tolerances,
    tube,
    units,
)
from core import checklist as checklists
from core.checklists import common as shared
from core.checklists import wording
from core.methods import (
    inner_sleeve_input,
    larger_tube_input,
    patch_input,
    replacement,
    split_sleeve,
    split_sleeve_input,
    strength_block,
)

FILE = Path(__file__).resolve().parents[2] / "static" / "js" / "core" / "tables.js"
HEAD = "// Written by `python -m tests.golden.tables` from the core's own tables. Do not edit.\n\n"
# Stands for the blank's length in a text made here once.
BLANK = "{blank}"


def plain(value: Any) -> Any:
    """Return a table as JSON data: fractions as text, sets sorted, dataclasses and number-keyed tables as rows."""
    if is_dataclass(value):
        return plain(asdict(value))
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, dict):
        if all(isinstance(key, str) for key in value):
            return {key: plain(item) for key, item in value.items()}
        return [[plain(key), plain(item)] for key, item in value.items()]
    if isinstance(value, (set, frozenset)):
        return sorted(value)
    if isinstance(value, (list, tuple, range)):
        return [plain(item) for item in value]
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value


def names(module: ModuleType, *wanted: str) -> dict[str, Any]:
    """Return some of a module's tables by name."""
    return {name: plain(getattr(module, name)) for name in wanted}


def fraction_characters() -> str:
    """Return every character that Unicode spells as a fraction, such as ⅝."""
    return "".join(c for c in map(chr, range(sys.maxunicode)) if unicodedata.decomposition(c).startswith("<fraction>"))


def steps() -> tuple[dict[str, Any], list[dict[str, Any]]]:
    """Return each method's checklist by name, its steps by number, and every step once."""
    every: list[dict[str, Any]] = []

    def place(step) -> int:
        row = plain(step)
        if row not in every:
            every.append(row)
        return every.index(row)

    made = {
        method: {
            "version": module.VERSION, "title": module.TITLE,
            "second_sleeve": plain(getattr(module, "SECOND_SLEEVE", ())), "fishmouth": plain(getattr(module, "FISHMOUTH", ())),
            "groups": [{"key": g.key, "title": g.title, "any_order": g.any_order, "steps": [place(s) for s in g.steps]} for g in module.GROUPS],
        }
        for method, module in checklists.METHODS.items()
    }  # fmt: skip
    return made, every


def tables() -> dict[str, dict[str, Any]]:
    """Return every table the phone needs, by core module."""
    lists, every = steps()
    return {
        "units": names(units, "MM_PER_INCH", "INCHES_PER"),
        "gauges": names(gauges, "GAUGE_INCHES"),
        "lengths": {
            **names(lengths, "LONGEST_TEXT", "UNIT_NAMES", "FORMS"),
            "MARKS": {chr(mark): plain_mark for mark, plain_mark in lengths.MARKS.items()},
            "FRACTION_CHARACTERS": fraction_characters(),
        },
        "materials": names(materials, "MATERIALS"),
        "tolerances": names(tolerances, "DIAMETER_TABLE", "WALL_TABLE"),
        "tube": names(tube, "SMALLEST_OD", "LARGEST_OD", "THINNEST_WALL", "THICKEST_WALL", "SEAMS"),
        "rules": {
            "CLAUSES": {key: {**one.as_dict(), "label": one.label()} for key, one in rules.CLAUSES.items()},
            **names(rules, "PRACTICE", "DEFERENCE"),
        },
        "sleeve": names(sleeve, "ENDS", "STEEPEST_MITRE", "OVERLAP_DIAMETERS"),
        "rosette": names(rosette, "CELLS", "PARTS"),
        "rosetteSearch": names(rosette_search, "MOST_HOLES", "SPACING_DIAMETERS", "SPACING_SOURCE"),
        "fit": names(fit, "LARGEST_CLEARANCE"),
        "sizeInput": names(size_input, "MEMBERS", "EXAMPLE", "WIDEST_GAP", "LONGEST_SLEEVE", "WIDEST_KERF", "LONGEST_TRIM", "LONGEST_OPENING"),
        "sizing": {"METHODS": list(sizing.MODULES), **names(strength_block, "SPLICES")},
        "sizeOptions": {**names(size_options, "HOLES", "SAWN", "PLUGGED", "READINGS", "SWAPPED", "LONGEST_BLOCK", "WIDEST_HOLE", "LONGEST_DISTANCE", "MOST_SLEEVES"),
                        "NAMES": list(size_options.NAMES)},
        "fitMeasured": names(fit_measured, "MEMBERS", "EXAMPLE", "SLIDES", "MOST_HONED", "MOST_POLISHED", "MOST_READINGS", "ENOUGH_READINGS", "WIDEST_SPREAD", "FINEST"),
        "saw": {**names(saw, "STEEPEST_BLOCK", "USUAL_STOP", "USUAL_RUN", "WRAP"),
                "CUT_ORDER": {end: saw.cut_order(sleeve.EndCut(end)) for end in sleeve.ENDS},
                "BATCH": {end: saw.sleeve_batch(sleeve.EndCut(end), BLANK) for end in sleeve.ENDS}},
        "drill": names(drill, "SURFACE_SPEEDS", "PILOT_SMALL", "PILOT_LARGE", "PILOT_CHANGE", "CENTRE_BODY", "NO_40", "WORDS"),
        "holePlan": names(hole_plan, "MEASURED_FROM"),
        "card": names(card, "SPEED_SOURCE", "SLIT", "DEBURR", "WORDS", "STEPS", "ON_STUBS"),
        "replacement": names(replacement, "LARGEST_BUTT_GAP", "WELD_ROOM_WORDS"),
        "innerSleeveInput": names(inner_sleeve_input, "MEMBERS", "EXAMPLE", "DEFAULT_GAP", "DEFAULT_MITRE", "TALLEST_BEAD", "LARGEST_TURNED"),
        "largerTubeInput": names(larger_tube_input, "MEMBERS", "EXAMPLE", "WIDEST_OPENING", "LONGEST_STUB"),
        "splitSleeveInput": names(split_sleeve_input, "MEMBERS", "EXAMPLE", "ENDS", "LONGEST_DAMAGE"),
        "splitSleeve": names(split_sleeve, "DAMAGE", "STOP_DRILL"),
        "patchInput": names(patch_input, "MEMBERS", "EXAMPLE", "FOUND", "ASKED", "DAMAGE", "WIDEST_MARGIN"),
        "stockSizes": names(stock_sizes, "DOM_WALLS", "CHROMOLY_WALLS", "MORE_WALLS", "STEPS_OVER", "STEPS_AT_BORE", "STEPS_AT_PATCH"),
        "stockRows": names(stock_rows, "STANDING_ORDER"),
        "assessInput": names(assess_input, "MEMBERS", "DAMAGE_KINDS", "ANSWERS", "KNOWN_BY", "QUESTIONS", "LENGTHS", "LONGEST"),
        "assess": {
            **names(assess, "WELD_ROOM", "USUAL_SLEEVE_STEP", "LOOK_ELSEWHERE"),
            "METHODS": [{"key": m.key, "name": m.name, "clause": m.reference, "about": m.about, "damage": list(m.damage)} for m in assess.METHODS],
        },
        "choices": names(choices, "END_TEXT", "SEAM_TEXT"),
        "wording": names(wording, "AS_SIZED", "TEXTS", "FIGURES", "WORDS", "LONGEST_WORDS", "LARGEST_INCHES", "PREHEAT_WALL", "SHADES", "NO_PREHEAT"),
        "checklist": {**names(checklists, "ACTIONS", "MEMBERS", "LONGEST_WAIT", "LONGEST_NAME", "SHORTEST_REASON", "LONGEST_REASON"),
                      "CHROMOLY": shared.CHROMOLY.text, "METHODS": lists, "STEPS": every},
        "tag": names(tag, "ALPHABET", "ID_LENGTH", "WEIGHTS", "ID_COUNT", "LONGEST_TYPED", "HEAD", "DEMO", "KEYS", "ID_SHAPE", "LOOK_AGAIN"),
    }  # fmt: skip


def text() -> str:
    """Return the file as it should stand: one table a line, one or two rows a line where a table has many."""

    def written(value: Any) -> str:
        return json.dumps(value, ensure_ascii=False, separators=(",", ":"))

    def table(value: Any) -> str:
        whole = written(value)
        if len(whole) < 700 or not isinstance(value, (dict, list)):
            return whole
        rows = [f"{written(k)}:{written(v)}" for k, v in value.items()] if isinstance(value, dict) else [written(row) for row in value]
        if len(rows) > 100:  # no file grows past 400 lines
            rows = [",".join(rows[at : at + 2]) for at in range(0, len(rows), 2)]
        left, right = "{}" if isinstance(value, dict) else "[]"
        return left + "\n    " + ",\n    ".join(rows) + ",\n  " + right

    blocks = []
    for module, members in tables().items():
        lines = "".join(f"  {name}: {table(value)},\n" for name, value in members.items())
        blocks.append(f"export const {module} = {{\n{lines}}};\n")
    return HEAD + "\n".join(blocks)


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8")
    print(f"{FILE.name}: {FILE.stat().st_size} bytes")
