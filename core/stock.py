"""Rank stock for a repair: what is on the rack first, then sizes that could be bought."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from core.lengths import Length, read_length
from core.problems import Problem, collect
from core.quantity import quantity, ruler_text
from core.rules import DEFERENCE
from core.sleeve import read_end_cut
from core.stock_inner import INNER
from core.stock_over import LARGER, OUTER, SPLIT
from core.stock_patch import PATCH
from core.stock_rows import DOES_NOT, STANDING_ORDER, Ask
from core.tube import Tube, one_of, read_tube, unknown_members

METHODS = {"outer-sleeve": OUTER, "inner-sleeve": INNER, "larger-tube": LARGER, "split-sleeve": SPLIT, "patch": PATCH}
COULD_BUY = 8


def candidates(data: Any) -> dict[str, Any]:
    """Return ranked stock for the repair of a tube.

    Parameters
    ----------
    data : mapping
        ``tube``; ``method`` (default "outer-sleeve"); ``items``: rows of ``{"id", "od",
        "wall", "material", "seam", "on_hand", ...}`` with text lengths; ``sleeves``: how many
        pieces are needed, 1 to 20 (default 1, inner sleeve 2); ``units`` of a bare number, "in" (inches) or "mm". For the length each
        needs: ``end`` (default pointed; not for inner sleeve and patch), ``mitre_deg`` (default
        60), and by method ``gap`` (outer sleeve, default 0; inner sleeve, default 1/8 in),
        ``opening`` (larger tube), ``damage_length`` (split sleeve, patch), ``margin`` (patch);
        ``bead``: height of the bead inside the tube (inner sleeve).

    Returns
    -------
    dict
        ``on_hand`` and ``could_buy``: rows best first, each with clearance, checks, the length
        it needs, ``standing`` and ``why``; ``note`` on what no row can say. For the other
        methods also ``method``, ``needs_note`` (what the length holds or leaves out) and, for an
        inner sleeve, ``options`` (every way to an inner tube) and ``turned_od`` in a row that is
        judged as turned down. ``needs`` is None for a patch over damage not measured.

    Raises
    ------
    Problem
        For input that cannot be used; ``field`` names the member.

    Source: the rules of `core.fit` and `core.methods`; order common practice, no source.

    >>> tube = {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020"}
    >>> rack = [{"id": 7, "od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020", "on_hand": "20 in"}]
    >>> [(row["id"], row["standing"], row["needs"]["text"]) for row in candidates({"tube": tube, "items": rack})["on_hand"]]
    [(7, 'measure first', '8-1/8 in')]
    """
    if not isinstance(data, dict):
        raise Problem("bad-body", "Send one JSON object.", given=data, allowed="an object with tube.", next_step="Send the tube.", status=400)
    method = _at("method", one_of, "repair method", data.get("method", "outer-sleeve"), tuple(METHODS))
    way = METHODS[method]
    problems: list[Problem] = []
    unknown_members(data, {"tube", "method", "end", "mitre_deg", "items", "sleeves", "units", *way.lengths}, problems)
    collect(problems)
    ask = _ask(data, way)

    def row(stock: Tube) -> dict[str, Any]:
        needs = way.needs(ask, stock)
        return {**way.row(ask, stock), "needs": None if needs is None else quantity(needs, ruler_text(needs, ask.metric, "up"))}

    def place(entry: dict[str, Any]) -> tuple:
        return _order(entry, way is PATCH)

    on_hand = [_at(f"items.{i}", _stocked, item, row, lambda stock: way.is_near(ask, stock), ask.metric) for i, item in enumerate(_items(data))]
    could_buy = [row(stock) for stock in way.usual(ask)]
    keep = [entry for entry in could_buy if not _cannot(entry)]
    return {
        **({} if way is OUTER else {"method": method}),
        "on_hand": sorted((entry for entry in on_hand if entry), key=place),
        "could_buy": sorted(keep, key=place)[:COULD_BUY],
        **way.extras(ask, could_buy),
        "deference": DEFERENCE,
    }


def _ask(data: dict[str, Any], way: Any) -> Ask:
    units = None if data.get("units") is None else _at("units", one_of, "unit system", data["units"], ("in", "mm"))
    tube = _at("tube", lambda: read_tube(data.get("tube"), default_unit=units or "in"))
    cut = read_end_cut(way.end or data.get("end", "pointed"), data.get("mitre_deg", 60))
    lengths = {name: _at(name, _length, data.get(name, usual), units or "in", most, zero, usual is None) for name, (most, zero, usual) in way.lengths.items()}
    count = data.get("sleeves", way.pieces)
    if not isinstance(count, int) or isinstance(count, bool) or not 1 <= count <= 20:
        raise Problem("bad-count", "That is not a number of sleeves.", given=count, allowed="a whole number from 1 to 20.",
                      next_step="Count the sleeves this job needs.", field="sleeves")  # fmt: skip
    return Ask(tube, cut, lengths, count, units == "mm" if units else tube.od.is_metric)


def _at(field: str, reader: Callable[..., Any], *given: Any) -> Any:
    """Return what `reader` reads from `given`, its problems told at `field`."""
    try:
        return reader(*given)
    except Problem as problem:
        for one in (problem, *problem.others):
            one.at(field)
        raise


def _length(text: Any, unit: str, most: float, zero: bool, optional: bool) -> Length | None:
    if text is None and optional:
        return None
    length = read_length(text, default_unit=unit, allow_zero=zero)
    if float(length) > most:
        raise Problem("out-of-range", "That length is more than this handles.", given=length.typed,
                      allowed=f"up to {most:g} in ({most * 25.4:g} mm).", next_step="Check the number and its unit.")  # fmt: skip
    return length


def _items(data: dict[str, Any]) -> list[Any]:
    items = data.get("items", [])
    if not isinstance(items, list) or len(items) > 2000:
        raise Problem("bad-items", "The stock must be a list.", given=items, allowed="up to 2000 rows.", next_step="Send the stock table.", field="items")
    return items


def _stocked(item: Any, row: Callable, is_near: Callable[[Tube], bool], metric: bool) -> dict[str, Any] | None:
    """Return one stock row judged, None if its size is nowhere near."""
    if not isinstance(item, dict):
        raise Problem("bad-items", "A stock row must be an object.", given=item, allowed="an object with od, wall, material, on_hand.",
                      next_step="Send the stock table as it was read.")  # fmt: skip
    stock = read_tube({name: item.get(name) for name in ("od", "wall", "material", "seam")})
    on_hand = float(_at("on_hand", lambda: read_length(item.get("on_hand"), allow_zero=True)))
    if not is_near(stock):
        return None
    entry = row(stock)
    enough = on_hand >= entry["needs"]["in"] - 1e-9 if entry["needs"] else on_hand > 0
    if not enough and entry["standing"] != DOES_NOT:
        least = f"needs {entry['needs']['text']}" if entry["needs"] else "nothing left to cut"
        entry["why"] = f"Too short: {ruler_text(on_hand, metric, 'down')} on hand, {least}."
    known = {name: item[name] for name in ("id", "heat_number", "certificate", "location", "note") if item.get(name)}
    return {**entry, **known, "enough": enough, "on_hand": quantity(on_hand, ruler_text(on_hand, metric, "down"))}


def _cannot(entry: dict[str, Any]) -> bool:
    """Whether the size itself rules a tube out; a bead that can be taken out does not."""
    return any(check["id"].startswith("clearance") and check["verdict"] == "not met" for check in entry["checks"])


def _order(entry: dict[str, Any], formed: bool) -> tuple:
    """Best first: long enough, standing, certificate known, closest fit, least metal left over."""
    room = round(entry["clearance"]["nominal"]["in"], 4)
    return (
        not entry.get("enough", True),
        STANDING_ORDER[entry["standing"]],
        not (entry.get("heat_number") or entry.get("certificate")),
        abs(room) if formed else room,
        entry["area_in2"],
        entry.get("on_hand", {}).get("in", 0.0),
    )
