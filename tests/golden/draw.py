"""Seeded inputs for the mirror's vectors: what a person types, jobs near the real ones, and broken ones."""

from __future__ import annotations

import copy
from random import Random
from typing import Any

from core.assess_input import DAMAGE_KINDS, QUESTIONS
from core.materials import MATERIALS

UNITS = ["in", "inch", "inches", '"', "''", "ft", "feet", "foot", "'", "mm", "millimetres", "cm", "m", "meter", "thou", "ga", "gauge", "bwg",
         "in.", "mm.", "IN", "Mm", "mil", "mils", "yd", "furlong", "constructor", "toString", "″", "”", "′", "’", "㎜", "㎝", "ｍｍ", "ſ", ""]  # fmt: skip
JOINS = ["-", " ", " - ", "- ", "  ", "\t", "–", "−", " ", "\u2009", "\x1f"]
VULGAR = "¼½¾⅐⅛⅜⅝⅞⅓⅔↉⅟"
EDGE_LENGTHS = [
    "", " ", "NaN", "inf", "-0", "0", "0 in", "0.", ".", ".0", "1.", ".5", "1e9 in", "1e-9", "٣ in", "１-５/８ in", "²", "⅝", "1⅞″", "1 ⅞ in", "1/0", "0/0 in",
    "1 8/5", "1 8/8 in", "1.5/8", "1,625", "1,625.5 in", "1.625 furlong", "9" * 39, "9" * 37 + " m", "1/" + "9" * 36, "0." + "0" * 35 + "1", "9" * 41, "x" * 200,
    "-1 in", "(-1 in)", "( -1", "134", "20", "19", "7", "21", "10 ga", "99 ga", "10.0 ga", "1/2 ga", "41.3 mm", "240 in", "0.0001 in", "3' 2\"", "3' 2-1/2", "2 ft 3 in",
    "2ft3", "2 ft 12 in", "2 ft 13.5 in", "2 ft 3 mm", "2 ft 3 ft", "2 ft", "2 ft .5", "2' 1/2\"", "0 ft 0 in", "5'", "5''", "5' '", "1\u200b in", "\u0000", "1\n5/8 in",
    "1 in\n", "\x1c1 in\x1d", "\ufeff1 in", "\u00a01 in\u3000", "1\u00a05/8 in", "1\u30005/8\u3000in", "＜svg＞", "<b>", "Ⅷ in", "1İn", "1 ıN", "1K", "5÷8 in", "5⁄8 in", "1-5∕8",
    "0.015625 in", "0.0000005 in", "1/64000000 in", "1/128 in", "0.00005 in", "0.12345 in", "0.99995 in", "25.4 mm", "1.005 mm", "2.675 cm", "0.1 thou", "1/3 in", "😀", "😀" * 40,
    "😀" * 41, "1.0.0", "1 2 3", "1--5/8", "1-5/8-in", "1.5-in", "1 - 5 / 8 - in", "007", "00 in", "1in2", "in", "'", "1 in.", "1 in..", "1..", "thousandths 3", "3 thousandths",
]  # fmt: skip
TUBES = ["1", "1-1/8", "1-1/4", "1-3/8", "1-1/2", "1-5/8", "1-3/4", "1-7/8", "2", "2-1/8", "2-1/4", "2-1/2", "3", "4-1/2", "5.3", "5.5", "1.660", "1.315", "0.75", "0.5"]
WALLS = [".035", ".049", ".058", ".065", ".083", ".095", ".109", ".120", ".134", ".156", ".188", ".250", ".1195", ".1205", "11 ga", "10 ga", "13 ga", "2.4 mm", "3 mm", "3.05 mm"]
ODD_TEXT = ["", " ", "0", "1/0", "1,625", "⅝", "9" * 41, "-1 in", "134", "10 ga", "41.3 mm", "240 in", "0.0001 in", "6 in", "0.25 in", "3' 2\"", "\u0000", "<b>", "it's", 'it\'s "so"',
            "constructor", "toString", "unknown", "bead", "none", "removed", "4130-n", "erw-1010", "scarf", "square", "fishmouth", "pointed", "mm", "in", "dent", "hole", "yes", "no",
            "x" * 130, "😀" * 119, "😀" * 125, "a\nb", "é\u00a0ü"]  # fmt: skip
ODD_NUMBER = [0, 1, -1, 2, 3, 20, 21, 60, 75, 75.0001, 1e-300, 1e-9, 1e300, -1e300, 2**50, 89.999, 0.5, 22.03125, 1e-5, 0.0001, 1e16, 1e21, 1.5e22, 123456.5, -0.25, 100000.5]


def as_sent(value: Any) -> Any:
    """Return JSON data as a page would send it: JavaScript has no 60.0 and no -0.

    Whole floats past 1e21 stay: both languages write them with an exponent.
    """
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e21:
        return int(value)
    if isinstance(value, dict):
        return {key: as_sent(item) for key, item in value.items()}
    if isinstance(value, list):
        return [as_sent(item) for item in value]
    return value


def odd(draw: Random, depth: int = 2) -> Any:
    """Return a JSON value that hardly belongs where it is put."""
    kind = draw.randrange(8 if depth else 6)
    if kind < 3:
        return draw.choice(ODD_TEXT)
    if kind < 5:
        return draw.choice(ODD_NUMBER)
    if kind == 5:
        return draw.choice([None, True, False])
    if kind == 6:
        return [odd(draw, depth - 1) for _ in range(draw.randrange(3))]
    # A name such as "7" would change its place in a JavaScript object.
    return {name: odd(draw, depth - 1) for name in draw.sample([t for t in ODD_TEXT if not t.isdigit()], draw.randrange(3))}


def places(value: Any, path: tuple = ()) -> list[tuple]:
    """Return the path of every member and element of a JSON value."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path] * bool(path) + [place for key, item in inner for place in places(item, (*path, key))]


def broken(draw: Random, body: dict[str, Any]) -> Any:
    """Return a copy of `body` with one to three places replaced, added or taken away; now and then no object at all."""
    if draw.random() < 0.01:
        return odd(draw)
    made = copy.deepcopy(body)
    for _ in range(draw.choice([1, 1, 1, 2, 3])):
        *above, last = draw.choice(places(made))
        holder = made
        for key in above:
            holder = holder[key]
        what = draw.randrange(4)
        if what == 0:
            del holder[last]
        elif what == 1 and isinstance(holder, dict):
            holder[draw.choice(["more", "constructor", "wal", "Od", "x" * 50])] = odd(draw)
        else:
            holder[last] = odd(draw)
        if not made:
            break
    return made


def length_text(draw: Random) -> str:
    """Return a length as somebody might type it, often right."""
    form = draw.randrange(9)
    whole, top, bottom = draw.randrange(30), draw.randrange(1, 70), draw.choice([2, 4, 8, 16, 32, 64, 3, 5, 7, 1000, 0, 1])
    if form == 0:
        number = str(draw.choice([whole, draw.randrange(300), f"{whole:03d}"]))
    elif form == 1:
        number = f"{whole}{draw.choice(JOINS)}{top}/{bottom}"
    elif form == 2:
        number = f"{top}{draw.choice(['/', ' / ', '⁄', '÷'])}{bottom}"
    elif form == 3:
        number = f"{whole}{draw.choice(['', ' '])}{draw.choice(VULGAR)}"
    elif form in (4, 5):
        number = f"{draw.choice(['', whole])}.{draw.randrange(10 ** draw.randrange(1, 7))}"
    elif form == 6:
        number = f"{whole}{draw.choice([' ft ', chr(39), ' foot', 'ft', '′ ', ' feet - '])}{draw.randrange(14)}{draw.choice(['', ' 1/2', '-3/8', '.25', '½'])}"
    elif form == 7:
        number = f"{whole}.{draw.choice(['', 5, 25, 125, '0625', '03125', '015625', '0078125'])}"
    else:
        number = f"{top / bottom if bottom else top:.{draw.randrange(1, 12)}f}"
    text = f"{number}{draw.choice(['', ' ', '-', '  '])}{draw.choice(UNITS[:18] if draw.random() < 0.8 else UNITS)}"
    if draw.random() < 0.1:
        at = draw.randrange(len(text) + 1)
        text = text[:at] + draw.choice([",", "-", " ", ".", "/", "x", "１", "😀", "\u00a0", "\u200a", "(", "⅝"]) + text[at:]
    return text


def inches(draw: Random, low: float, high: float) -> str:
    """Return a length between two limits in inches, as a ruler, a calliper or a metric tape reads it."""
    value = draw.uniform(low, high)
    form = draw.randrange(5)
    if form == 0:
        return f"{round(value * 16) / 16} in"
    if form == 1:
        whole, part = divmod(round(value * 32), 32)
        return f"{whole}-{part}/32 in" if part else f"{whole}"
    if form == 2:
        return f"{value * 25.4:.1f} mm"
    return f"{value:.{draw.choice([1, 3, 4])}f}"


def tube(draw: Random, od: str = "", larger: bool | None = None) -> dict[str, str]:
    """Return a tube; with an `od`, one that goes over (larger) or into it."""
    if od:
        step = draw.choice([1 / 8, 1 / 4, 1 / 4, 1 / 4, 0.26, 3 / 8, 1 / 2, 0.2, 0.24, 0.31])
        size = draw.choice([f"{float(eval_inches(od)) + (step if larger else -step):.4f}", f"{(float(eval_inches(od)) + (step if larger else -step)) * 25.4:.2f} mm"])
    else:
        size = draw.choice(TUBES) + draw.choice([" in", ""]) if draw.random() < 0.8 else f"{draw.uniform(20, 90):.1f} mm"
    made = {"od": size, "wall": draw.choice(WALLS), "material": draw.choice([*list(MATERIALS), "dom-1020", "dom-1020", "dom-1020"])}
    if draw.random() < 0.6:
        made["seam"] = draw.choice(["none", "bead", "removed", "unknown"])
    return made


def eval_inches(text: str) -> float:
    """Return a drawn outside diameter in inches."""
    from core.lengths import read_length

    return float(read_length(text))


def maybe(draw: Random, chance: float = 0.4, **members: Any) -> dict[str, Any]:
    """Return each member or leave it out."""
    return {name: value for name, value in members.items() if draw.random() < chance}


def mitre(draw: Random) -> float:
    """Return a saw angle, usually the circular's 60."""
    return draw.choice([60, 60, 60, 45, 30, 75, 67.5, 62.25, 22.03125, 0.5, round(draw.uniform(1, 75), 3), draw.uniform(1, 75)])


def outer(draw: Random) -> dict[str, Any]:
    """Return an outer-sleeve job."""
    part = tube(draw)
    near = eval_inches(part["od"])
    opening = draw.uniform(2, 30)
    return {
        "tube": part, "sleeve": tube(draw, part["od"], True), "end": draw.choice(["pointed", "fishmouth", "scarf", "square"]), "mitre_deg": mitre(draw),
        **maybe(draw, 0.7, gap=draw.choice(["0 in", "1/32 in", "0.03125", "1/16 in", "0.8 mm", inches(draw, 0, 0.2)])),
        **maybe(draw, length=inches(draw, 3 * near, 3 * near + 6), trim=draw.choice(["0", "1/16 in", "1 mm"]), kerf=draw.choice(["1/16 in", "0.0625", "2 mm", "0"])),
        **maybe(draw, 0.3, opening=f"{opening:.3f} in", replacement=f"{opening - draw.choice([-0.01, 0, 0.01, 0.03125, 0.05]):.4f}"),
        **maybe(draw, 0.4, units=draw.choice(["in", "mm"])), **maybe(draw, 0.3, method="outer-sleeve"),
    }  # fmt: skip


def inner(draw: Random) -> dict[str, Any]:
    """Return an inner-sleeve job."""
    part = tube(draw)
    near = eval_inches(part["od"])
    return {
        "method": "inner-sleeve", "tube": part, "sleeve": tube(draw, part["od"], False),
        **maybe(draw, mitre_deg=mitre(draw), gap=draw.choice(["1/8 in", "3 mm", "0", "0.1", "5/32 in", inches(draw, 0, 0.3)]),
                length=inches(draw, 3 * near, 6 * near), replacement={**part, "wall": draw.choice(WALLS)}),
        **maybe(draw, 0.2, bead=draw.choice(["1/32 in", "0.5 mm", "0.2"]), turned_od=f"{near - draw.uniform(0.2, 0.4):.3f}"),
        **maybe(draw, 0.4, units=draw.choice(["in", "mm"])),
    }  # fmt: skip


def larger(draw: Random) -> dict[str, Any]:
    """Return a larger-tube job."""
    part = tube(draw)
    near = eval_inches(part["od"])
    return {
        "method": "larger-tube", "tube": part, "sleeve": tube(draw, part["od"], True), "end": draw.choice(["pointed", "fishmouth", "scarf", "square"]),
        "opening": inches(draw, 0, 30),
        **maybe(draw, 0.7, mitre_deg=mitre(draw), stub_short=inches(draw, near, 5 * near), stub_long=inches(draw, 3 * near, 10 * near)),
        **maybe(draw, length=inches(draw, 3 * near, 40), units=draw.choice(["in", "mm"])),
    }  # fmt: skip


def split(draw: Random) -> dict[str, Any]:
    """Return a split-sleeve job."""
    part = tube(draw)
    near = eval_inches(part["od"])
    return {
        "method": "split-sleeve", "tube": part, "sleeve": tube(draw, part["od"], True), "damage": draw.choice(DAMAGE_KINDS),
        "damage_length": inches(draw, 0.1, 6), "end": draw.choice(["scarf", "scarf", "fishmouth", "pointed", "square"]), "mitre_deg": mitre(draw),
        **maybe(draw, length=inches(draw, 3 * near, 3 * near + 9), kerf=draw.choice(["1/16 in", "0", "0.005", "2 mm", "1/8"]), units=draw.choice(["in", "mm"])),
    }  # fmt: skip


def answers(draw: Random, *names: str) -> dict[str, str]:
    """Return some yes/no/unknown answers."""
    return maybe(draw, 0.8, **{name: draw.choice(["yes", "no", "no", "no", "unknown", ""]) for name in names})


def patch(draw: Random) -> dict[str, Any]:
    """Return a patch job."""
    part = tube(draw)
    near = eval_inches(part["od"])
    return {
        "method": "patch", "tube": part, "patch": {"wall": draw.choice(WALLS), "material": draw.choice(list(MATERIALS))}, "damage": draw.choice(["dent", "hole", "dent", "hole", "crack"]),
        "damage_length": inches(draw, 0.1, 1.2 * near), "around": inches(draw, 0.1, near),
        **maybe(draw, depth=inches(draw, 0, near / 6), margin=draw.choice(["1/2 in", "10 mm", "3", inches(draw, 0.1, 2)]), units=draw.choice(["in", "mm"])),
        **answers(draw, "middle_third", "sharp_corners", "can_reform", "over_joint"),
    }  # fmt: skip


def findings(draw: Random) -> dict[str, Any]:
    """Return what was measured and seen at a damage."""
    part = tube(draw)
    near = eval_inches(part["od"])
    return {
        "tube": part, "damage": draw.choice(DAMAGE_KINDS),
        **maybe(draw, known_by=draw.choice(["certificate", "mark", "assumption"]), units=draw.choice(["in", "mm"]),
                od_readings=[f"{near + draw.uniform(-0.02, 0.02):.3f}" for _ in range(draw.randrange(4))]),
        **maybe(draw, 0.6, depth=inches(draw, 0, near / 5), damage_length=inches(draw, 0, 1.5 * near), around=inches(draw, 0, near),
                room_left=inches(draw, 0, 6 * near), room_right=inches(draw, 0, 6 * near)),
        **answers(draw, *QUESTIONS),
    }  # fmt: skip


def readings(draw: Random, middle: float, spread: float) -> list[str]:
    """Return two to five readings of one diameter, now and then one, or one that is far off."""
    form = draw.choice(["{:.3f} in", "{:.4f} in", "{:.3f} in", "mm"])
    values = [middle + draw.uniform(-spread, spread) for _ in range(draw.choice([1, 2, 2, 3, 4, 4, 4, 5]))]
    if draw.random() < 0.04:
        values[-1] *= draw.choice([0.9, 1.2, 5])
    return [f"{value * 25.4:.2f} mm" if form == "mm" else form.format(value) for value in values]


def beside(draw: Random, job: dict[str, Any]) -> dict[str, Any]:
    """Return what may stand beside the members of a sizing job: readings, rosettes, a hole, the saw, the batch."""
    method = job.get("method", "outer-sleeve")
    out = eval_inches(job["tube"]["od"]) - (0.24 if method == "inner-sleeve" else 0)
    spread = draw.choice([0.0, 0.0005, 0.002, 0.01])
    bore = out + draw.choice([-0.02, -0.001, 0, 0.001, 0.003, 0.006, 0.01, 0.02, 0.03, 0.05, 0.0625, 0.08]) + 2 * spread
    tube_od, sleeve_bore, sleeve_od, wall = ("sleeve_od", "tube_bore", "tube_od", "tube_wall") if method == "inner-sleeve" else ("tube_od", "sleeve_bore", "sleeve_od", "sleeve_wall")
    measured: dict[str, Any] = {tube_od: readings(draw, out, spread)}
    if draw.random() < 0.75:
        measured[sleeve_bore] = readings(draw, bore, spread)
    if sleeve_bore not in measured or draw.random() < 0.1:
        measured |= {sleeve_od: readings(draw, bore + 0.24, spread), wall: "0.120 in"}
    measured |= maybe(draw, 0.3, bead=draw.choice(["0", "", "0.010 in", "1/32 in", "0.5 mm", "0.002 in", "0.3 in"]))
    rosettes = maybe(draw, 0.6, per_tip=draw.choice([1, 2, 2, 3, 3, 4]), diameter=draw.choice(["7/16 in", "1/4 in", "0.3 in", "11 mm", "5/8 in", "1/8 in", "2.5 in"]),
                     distance=draw.choice(["1/2 in", "0.4 in", "12 mm", "0.1 in", "1 in"]))  # fmt: skip
    made = maybe(draw, 0.4, saw_limit=draw.choice([45, 60, 45, 50, 0, 30, 62.25, 75, 59.5, 80]), block_distance=draw.choice(["12 in", "10", "300 mm", "7-3/8 in", "11.5 in", "50 in"]),
                 count=draw.choice([1, 2, 4, 12, 99, 100]), hole=draw.choice(["circular", "shop", "structural"]), member="Main hoop", strength={"rosette": "shop"})  # fmt: skip
    made |= maybe(draw, 0.5, measured=measured, rosettes=rosettes)
    if draw.random() < 0.9:
        # Mostly what the method has a use for.
        unfit = {"patch": {"measured", "rosettes", "saw_limit", "block_distance", "count", "hole"}, "split-sleeve": {"rosettes", "hole"}}.get(method, set())
        made = {name: value for name, value in made.items() if name not in unfit}
    return made


def rack(draw: Random, method: str = "outer-sleeve") -> dict[str, Any]:
    """Return a question for stock of a method."""
    part = tube(draw)
    near = eval_inches(part["od"])

    def fitting() -> dict[str, str]:
        if method == "patch":
            return {**tube(draw), "od": f"{near + draw.choice([0.2, 0.25, 0.27, 0.3, 0.36, 0.5, 0]):.3f} in"}
        return tube(draw, part["od"], method != "inner-sleeve")

    def item(number: int) -> dict[str, Any]:
        row = {"id": number, **(fitting() if draw.random() < 0.8 else tube(draw)), "on_hand": inches(draw, 0, 40)}
        return {**row, **maybe(draw, 0.3, heat_number="H 12", certificate="C-7", location="Rack 2", note="")}

    lengths = {"outer-sleeve": {"gap": ["0", "1/32 in", "1 mm"]}, "inner-sleeve": {"gap": ["1/8 in", "3 mm", "0"], "bead": ["1/32 in", "0.5 mm", "0.3"]},
               "larger-tube": {"opening": ["6 in", "250 mm", "0"]}, "split-sleeve": {"damage_length": ["1 in", "30 mm", "0"]},
               "patch": {"damage_length": ["1 in", "30 mm", "0"], "margin": ["1/2 in", "10 mm"]}}[method]  # fmt: skip
    return {
        "tube": part,
        **maybe(draw, 0.9 if method != "outer-sleeve" else 0.2, method=method),
        **maybe(draw, 0.6, end=draw.choice(["pointed", "fishmouth", "scarf", "square"]), mitre_deg=mitre(draw), sleeves=draw.randrange(1, 4)),
        **maybe(draw, 0.6, **{name: draw.choice(texts) for name, texts in lengths.items()}),
        **maybe(draw, 0.8, items=[item(n) for n in range(draw.randrange(6))]), **maybe(draw, 0.3, units=draw.choice(["in", "mm"])),
    }  # fmt: skip


JOBS = {"outer-sleeve": outer, "inner-sleeve": inner, "larger-tube": larger, "split-sleeve": split, "patch": patch}
