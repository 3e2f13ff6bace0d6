"""The demo: a hill-climb truck weekend. Every person, car, bar and number here is invented."""

from __future__ import annotations

import secrets
import sqlite3
from typing import Any

from core import checklist as checklists
from core.tag import ID_COUNT, make_id
from fieldapp import plan, stock_csv
from fieldapp.store import Store
from fieldapp.store import jobs as kept_jobs
from fieldapp.store import records as kept_records
from fieldapp.store import stock as kept_stock

CHIEF, WELDER = "Demo chief", "Demo welder"
RACK = (
    {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none", "length": "61 in", "heat_number": "DEMO-4471", "certificate": "demo mill certificate 12", "location": "trailer, left tube"},
    {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none", "length": "14-1/2 in", "location": "remnant box"},
    {"od": "1-7/8 in", "wall": ".095 in", "material": "dom-1020", "seam": "none", "length": "40 in", "location": "trailer, left tube"},
    {"od": "1-3/4 in", "wall": ".120 in", "material": "dom-1020", "seam": "none", "length": "20 ft", "location": "trailer, roof"},
    {"od": "1-7/8 in", "wall": ".134 in", "material": "erw-1010", "seam": "bead", "length": "30 in", "location": "behind the generator"},
    {"od": "2 in", "wall": ".165 in", "material": "dom-1020", "seam": "none", "length": "22 in", "heat_number": "DEMO-2090", "location": "remnant box"},
    {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none", "length": "9 ft", "heat_number": "DEMO-4470", "location": "trailer, left tube"},
    {"od": "1-1/2 in", "wall": ".083 in", "material": "4130-n", "seam": "none", "length": "36 in", "certificate": "demo mill certificate 3", "location": "trailer, right tube"},
)  # fmt: skip
TUBE = {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}
LOOKED = {name: "no" for name in ("heat_treated", "brazed", "crack_into_joint", "old_weld", "inside_bead")}
MEASURED = {
    "tube": TUBE, "damage": "cut-out", "known_by": "mark", "od_readings": ["1.625 in", "1.622 in"], "room_left": "11 in", "room_right": "9-1/2 in",
    **LOOKED, "near_cluster": "no", "needs_same_od": "yes",
}  # fmt: skip
CHOSEN = {
    "method": "outer-sleeve", "end": "fishmouth", "mitre_deg": 60, "sleeves": 2,
    "reason": "A seat bracket clamps on the old diameter, so the larger tube does not suit. No inner tube of this size on the trailer.",
}  # fmt: skip
SLEEVE = {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}
SIZED = {"tube": TUBE, "sleeve": SLEEVE, "end": "fishmouth", "mitre_deg": 60, "gap": "1/64 in", "kerf": "1/16 in"}
READINGS = {"clearance": "0.011 in", "gap": "1/64 in"}


def load(store: Store) -> None:
    """Fill an empty store with the demo: a rack, one sealed record, two open jobs."""
    with store.write() as db:
        for row in RACK:
            tube, length, about = stock_csv.read_item(dict(row))
            kept_stock.add(db, store, tube.od, tube.wall, tube.material.key, tube.seam, length, about, CHIEF)
        done = _job(db, store, "DEMO hill-climb truck 27: left frame rail, behind the cab")
        for name, data in (("measure", MEASURED), ("choose", CHOSEN), ("stock", {"from": "rack", "item": 1, **SLEEVE, "heat_number": "DEMO-4471", "certificate": "demo mill certificate 12"}), ("size", SIZED)):
            kept_jobs.save_section(db, store, done, name, 0, data, CHIEF)
        kept_stock.take(db, store, 1, kept_stock.stock_length("16-1/2 in"), "two sleeves", done, CHIEF)
        _walk(db, store, done)
        kept_records.seal(db, plan.record_body(kept_jobs.get(db, done), CHIEF, store.now()))
        halfway = _job(db, store, "DEMO hill-climb truck 27: right door bar, dent")
        kept_jobs.save_section(
            db, store, halfway, "measure", 0,
            {"tube": {"od": "1-5/8 in", "wall": "10 ga", "material": "erw-1010", "seam": "bead"}, "damage": "dent", "known_by": "assumption",
             "depth": "1/8 in", "damage_length": "1 in", "room_left": "12 in"}, CHIEF,
        )  # fmt: skip
        _job(db, store, "DEMO hill-climb truck 8: main hoop brace, not measured yet")


def _job(db: sqlite3.Connection, store: Store, title: str) -> str:
    return kept_jobs.create(db, store, title, CHIEF, make_id(secrets.randbelow(ID_COUNT)))["id"]


def _walk(db: sqlite3.Connection, store: Store, job_id: str) -> None:
    """Mark every step done, with a reading at each hold."""
    made = plan.checklist_of(kept_jobs.get(db, job_id))
    events: list[dict[str, Any]] = []
    for step in made.steps:
        event = {"step": step.key, "action": "done", "who": WELDER}
        if step.hold:
            event["value"] = _reading(step.hold)
        events.append(kept_jobs.add_event(db, store, job_id, checklists.check_event(made, events, event), None))


def _reading(hold: Any) -> str:
    if hold.unit == "s":
        return "35 min"
    if not hold.has_limit:
        return "38-1/4 in"
    if hold.limit_kind == "at most":
        return "1/64 in"
    return f"{float(hold.limit) + 0.01:.3f} in"
