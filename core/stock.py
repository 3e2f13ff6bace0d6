"""Rank sleeve stock for a tube: what is on the rack first, then sizes that could be bought."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from core.fit import clearance, fit_checks, nominal_clearance
from core.lengths import Length, read_length
from core.materials import MATERIALS
from core.problems import Problem, collect
from core.quantity import fine_text, inch_fraction_text, quantity, ruler_text
from core.rules import DEFERENCE
from core.size_input import WIDEST_GAP
from core.sleeve import read_end_cut, rule_length
from core.tube import Tube, one_of, read_tube, size_text, unknown_members

# Starter sizes; availability varies (from memory, project fact sheet).
DOM_WALLS = (65, 83, 95, 120, 134, 188, 250)
CHROMOLY_WALLS = (35, 49, 58, 65, 83, 95, 120)
# Sizes a sleeve is looked for above the tube's own, in eighths of an inch.
STEPS = range(1, 6)
STANDING_ORDER = {"fits": 0, "measure first": 1, "ask the inspector": 2, "does not fit": 3}


def candidates(data: Any) -> dict[str, Any]:
    """Return ranked sleeve candidates for a tube.

    Parameters
    ----------
    data : mapping
        ``tube``; ``end``, ``mitre_deg`` and ``gap`` (for the length each needs; default
        pointed, 60, 0); ``items``: rows of ``{"id", "od", "wall", "material", "seam",
        "on_hand", ...}`` with text lengths; ``sleeves``: how many are needed, 1 to 20;
        ``units``.

    Returns
    -------
    dict
        ``on_hand`` and ``could_buy``: rows best first, each with clearance, checks, the
        length it needs, ``standing`` and ``why``; ``note`` when no usual size meets every rule.

    Raises
    ------
    Problem

    Source: AC 43.13-1B 4-96 (from memory) through `core.fit`; order common practice, no source.
    """
    if not isinstance(data, dict):
        raise Problem("bad-body", "Send one JSON object.", given=data, allowed="an object with tube.", next_step="Send the tube.", status=400)
    problems: list[Problem] = []
    unknown_members(data, {"tube", "end", "mitre_deg", "gap", "items", "sleeves", "units"}, problems)
    collect(problems)
    units = None if data.get("units") is None else _at("units", one_of, "unit system", data["units"], ("in", "mm"))
    tube = _at("tube", lambda: read_tube(data.get("tube"), default_unit=units or "in"))
    cut = read_end_cut(data.get("end", "pointed"), data.get("mitre_deg", 60))
    gap = _at("gap", _gap, data.get("gap", "0 in"), units or "in")
    count = data.get("sleeves", 1)
    if not isinstance(count, int) or isinstance(count, bool) or not 1 <= count <= 20:
        raise Problem("bad-count", "That is not a number of sleeves.", given=count, allowed="a whole number from 1 to 20.",
                      next_step="Count the sleeves this job needs.", field="sleeves")  # fmt: skip
    metric = units == "mm" if units else tube.od.is_metric

    def row(sleeve: Tube) -> dict[str, Any]:
        needs = rule_length(tube.D, sleeve.D, gap, cut) * count
        return {**judge(tube, sleeve, metric), "needs": quantity(needs, ruler_text(needs, metric, "up"))}

    on_hand = [_at(f"items.{place}", _stocked, item, row, tube, metric) for place, item in enumerate(_items(data))]
    could_buy = [row(sleeve) for sleeve in usual_sizes(tube)]
    keep = [entry for entry in could_buy if entry["standing"] != "does not fit"]
    return {
        "on_hand": sorted((entry for entry in on_hand if entry), key=_order),
        "could_buy": sorted(keep, key=_order)[:8],
        "note": _nothing_usual(tube, could_buy),
        "deference": DEFERENCE,
    }


def _at(field: str, reader: Callable[..., Any], *given: Any) -> Any:
    """Return what `reader` reads from `given`, its problems told at `field`."""
    try:
        return reader(*given)
    except Problem as problem:
        for one in (problem, *problem.others):
            one.at(field)
        raise


def _gap(text: Any, unit: str) -> float:
    gap = read_length(text, default_unit=unit, allow_zero=True)
    if float(gap) > WIDEST_GAP:
        raise Problem("out-of-range", "That length is more than this handles.", given=gap.typed,
                      allowed=f"up to {WIDEST_GAP:g} in ({WIDEST_GAP * 25.4:g} mm).", next_step="Check the number and its unit.")  # fmt: skip
    return float(gap)


def judge(tube: Tube, sleeve: Tube, metric: bool = False) -> dict[str, Any]:
    """Return one sleeve size judged against a tube: clearance, checks, standing and reason.

    Standing is "fits" (every rule met), "measure first" (something unknown), "ask the
    inspector" (it goes on, but a rule of wall, material or seam is not met) or "does not fit".

    Source: `core.fit.fit_checks`.
    """
    checks = fit_checks(tube, sleeve, metric)
    missed = [check for check in checks if check.verdict == "not met"]
    unknown = [check for check in checks if check.verdict == "unknown"]
    if any(check.id.startswith("clearance") for check in missed):
        standing = "does not fit"
    elif missed:
        standing = "ask the inspector"
    else:
        standing = "measure first" if unknown else "fits"
    fit = clearance(tube, sleeve)
    why = (missed or unknown or checks)[0].text
    return {
        "size": size_text(sleeve), "od": sleeve.od.typed, "wall": sleeve.wall.typed, "material": sleeve.material.key,
        "material_name": sleeve.material.name, "seam": sleeve.seam, "standing": standing, "why": why,
        "clearance": {"nominal": quantity(fit.nominal, fine_text(fit.nominal, metric)),
                      "lowest": quantity(fit.lowest, fine_text(fit.lowest, metric, "down")),
                      "highest": quantity(fit.highest, fine_text(fit.highest, metric, "up"))},
        "area_in2": sleeve.area, "tube_area_in2": tube.area,
        "checks": [check.as_dict() for check in checks],
    }  # fmt: skip


def usual_sizes(tube: Tube) -> list[Tube]:
    """Return the usual tube sizes up to 5/8 in over the tube, in the tube's class of steel.

    Source: starter size list, from memory; availability varies.
    """
    chromoly = tube.material.steel_class == "4130"
    steel = MATERIALS[tube.material.key if chromoly else "dom-1020"]
    base = (tube.od.inches * 8).__floor__()
    sizes = []
    for step in STEPS:
        od = Fraction(base + step, 8)
        if not Fraction(1) <= od <= Fraction(5, 2) or od <= tube.od.inches:
            continue
        for thousandths in CHROMOLY_WALLS if chromoly else (*DOM_WALLS, 109, 165):
            wall = Fraction(thousandths, 1000)
            if 2 * wall < od:
                sizes.append(Tube(Length(od, inch_fraction_text(od), "in"), Length(wall, f".{thousandths:03d} in", "in"), steel, "unknown"))
    return sizes


def _items(data: dict[str, Any]) -> list[Any]:
    items = data.get("items", [])
    if not isinstance(items, list) or len(items) > 2000:
        raise Problem("bad-items", "The stock must be a list.", given=items, allowed="up to 2000 rows.", next_step="Send the stock table.", field="items")
    return items


def _stocked(item: Any, row, tube: Tube, metric: bool) -> dict[str, Any] | None:
    """Return one stock row judged, None if it is not larger than the tube (no sleeve at all)."""
    if not isinstance(item, dict):
        raise Problem("bad-items", "A stock row must be an object.", given=item, allowed="an object with od, wall, material, on_hand.",
                      next_step="Send the stock table as it was read.")  # fmt: skip
    sleeve = read_tube({name: item.get(name) for name in ("od", "wall", "material", "seam")})
    on_hand = float(_at("on_hand", lambda: read_length(item.get("on_hand"), allow_zero=True)))
    if nominal_clearance(tube, sleeve) < -Fraction(1, 16) or sleeve.od.inches <= tube.od.inches:
        return None
    entry = row(sleeve)
    enough = on_hand >= entry["needs"]["in"] - 1e-9
    if not enough and entry["standing"] != "does not fit":
        entry["why"] = f"Too short: {ruler_text(on_hand, metric, 'down')} on hand, needs {entry['needs']['text']}."
    known = {name: item[name] for name in ("id", "heat_number", "certificate", "location", "note") if item.get(name)}
    return {**entry, **known, "enough": enough, "on_hand": quantity(on_hand, ruler_text(on_hand, metric, "down"))}


def _order(entry: dict[str, Any]) -> tuple:
    """Best first: long enough, standing, certificate known, closest fit, least metal left over."""
    return (
        not entry.get("enough", True),
        STANDING_ORDER[entry["standing"]],
        not (entry.get("heat_number") or entry.get("certificate")),
        round(entry["clearance"]["nominal"]["in"], 4),
        entry["area_in2"],
        entry.get("on_hand", {}).get("in", 0.0),
    )


def _nothing_usual(tube: Tube, bought: list[dict[str, Any]]) -> str:
    """Return the story of a tube that no common sleeve step fits by the letter (as .134 wall)."""
    clean = {entry["size"]: entry for entry in bought if entry["clearance"]["nominal"]["in"] > 0 and all(c["verdict"] != "not met" for c in entry["checks"])}
    common = [s for s in clean if Fraction(read_length(clean[s]["od"]).inches) - tube.od.inches <= Fraction(1, 4)]
    if common or tube.od.is_metric:
        return ""
    thinner = [e for e in bought if e["standing"] == "ask the inspector" and e["area_in2"] >= e["tube_area_in2"]]
    text = f"No usual sleeve up to 1/4 in over this tube has both wall {tube.wall.typed} or more and clearance 0 to 1/16 in."
    if clean:
        text += f" By the letter: {', '.join(list(clean)[:2])}."
    if thinner:
        best = min(thinner, key=lambda e: e["clearance"]["nominal"]["in"])
        text += (f" Shops use {best['size']} (common practice, no source): less wall, yet more area, {best['area_in2']:.3f} in² against "
                 f"{best['tube_area_in2']:.3f} in². The literal wall rule is not met: ask for the inspector's agreement.")  # fmt: skip
    return text
