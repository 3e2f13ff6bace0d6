"""Take in another laptop's rows, by uid. The caller holds one write transaction around all of it.

Nothing that is here is changed or taken away. What is new is added behind it. Where both
laptops went on by themselves, this one's newest stays the newest, and the report says so.
"""

from __future__ import annotations

import json
import sqlite3
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from core import record as seals
from core.tag import id_text
from fieldapp.store import rows, stock

Row = dict[str, Any]
Tables = dict[str, list[Row]]


@dataclass
class Report:
    """What an import did.

    Attributes
    ----------
    added : Counter
        Rows by table.
    told : list of str
        What a person has to look at, one sentence each.
    """

    added: Counter = field(default_factory=Counter)
    told: list[str] = field(default_factory=list)


class Merge:
    """One import.

    Parameters
    ----------
    db : sqlite3.Connection
        Inside a write transaction.
    tables : dict
        Rows by table as `rows.raw` gives them, checked against their digests.
    picture : callable
        Returns the JPEG of a photo id, checked against its SHA-256.
    """

    def __init__(self, db: sqlite3.Connection, tables: Tables, picture: Callable[[str], bytes]) -> None:
        self.db, self.tables, self.picture = db, tables, picture
        self.report = Report()
        self.jobs: set[str] = set()  # ids of jobs whose rows are taken
        self.sealed: set[str] = set()  # those of them that were sealed here before
        self.items: dict[int, int] = {}  # stock number there -> here

    def run(self) -> Report:
        """Take everything in and return the report."""
        self._jobs()
        self._sections()
        self._steps()
        self._photos()
        self._records()
        self._items()
        self._moves()
        for row in self.tables["operation"]:
            if not self._has("operation", "key", row["key"]):
                self._add("operation", row)
        return self.report

    def _jobs(self) -> None:
        for row in self.tables["job"]:
            here = self.db.execute("SELECT uid, created_at, state FROM job WHERE id = ?", (row["id"],)).fetchone()
            if here is None:
                self._add("job", {**row, "state": "open"})
            elif (here["uid"], here["created_at"]) != (row["uid"], row["created_at"]):
                self.report.told.append(
                    f"Job {id_text(row['id'])} is another job here. It was not taken in: {row['title']}, made {row['created_at']} by {row['created_by']}."
                )
                continue
            elif here["state"] == "sealed":
                self.sealed.add(row["id"])
            self.jobs.add(row["id"])

    def _sections(self) -> None:
        there = _grouped(self.tables["job_section"], "job_id", "name")
        beside_there = _grouped(self.tables["section_conflict"], "job_id", "name")
        for (job_id, name), incoming in there.items():
            if job_id in self.jobs:
                self._section(job_id, name, incoming, beside_there.get((job_id, name), []))

    def _section(self, job_id: str, name: str, incoming: list[Row], beside: list[Row]) -> None:
        where = "WHERE job_id = ? AND name = ?"
        mine = self.db.execute(f"SELECT uid, revision FROM job_section {where} ORDER BY revision", (job_id, name)).fetchall()
        aside = self.db.execute(f"SELECT uid FROM section_conflict {where}", (job_id, name)).fetchall()
        known = {row["uid"] for row in (*mine, *aside)}
        at = mine[-1]["revision"] if mine else 0
        new = [row for row in sorted(incoming, key=lambda row: row["revision"]) if row["uid"] not in known]
        follows = bool(new) and job_id not in self.sealed and (not mine or _goes_on_from(mine[-1]["uid"], incoming, beside))
        if follows:
            for number, row in enumerate(new, start=at + 1):
                self._add("job_section", {**row, "revision": number})
            at += len(new)
            new = []
        last = max(row["revision"] for row in incoming)
        for row in (*new, *(row for row in beside if row["uid"] not in known)):
            # One that someone there has dealt with by saving again is dealt with here too.
            done = follows and row.get("beside", last) < last
            self._add("section_conflict", {**row, "beside": at - done})
        if new:
            who = ", ".join(sorted({row["who"] for row in new}))
            self.report.told.append(
                f"Job {id_text(job_id)}, section {name}: both laptops went on. The newest here stays; {len(new)} saved there by {who} stand beside it. Compare them and save again."
            )

    def _steps(self) -> None:
        late: Counter = Counter()
        for row in self._new("step_event"):
            if row["job_id"] in self.jobs:
                self._add("step_event", row)
                late[row["job_id"]] += row["job_id"] in self.sealed
        for job_id in sorted(job for job, count in late.items() if count):
            self.report.told.append(
                f"Job {id_text(job_id)} is sealed here. {late[job_id]} step marks from the other laptop are kept beside the record."
            )

    def _photos(self) -> None:
        for row in self.tables["photo"]:
            if row["job_id"] in self.jobs and not self._has("photo", "id", row["id"]):
                self._add("photo", row, content=self.picture(row["id"]))
                if row["job_id"] in self.sealed:
                    self.report.told.append(f"Job {id_text(row['job_id'])} is sealed here. A photo by {row['who']} is kept beside the record.")

    def _records(self) -> None:
        amendments = _grouped(self.tables["amendment"], "record_id")
        for row in self.tables["record"]:
            if row["job_id"] not in self.jobs:
                continue
            here = self.db.execute("SELECT uid, sha256 FROM record WHERE id = ?", (row["id"],)).fetchone()
            if here is None:
                self._add("record", row)
                rows.update(self.db, "job", row["job_id"], {"state": "sealed"})
                self._left_out(row["job_id"])
            elif here["sha256"] != row["sha256"]:
                self.report.told.append(
                    f"Record {id_text(row['id'])} was sealed on both laptops, and they differ. The one here stays; look at the other on its laptop."
                )
                continue
            self._amendments(row, amendments.get((row["id"],), []))

    def _left_out(self, job_id: str) -> None:
        """Tell what was done here on a job that was sealed there without it."""
        count = 0
        for table, key in (("step_event", "uid"), ("photo", "id"), ("job_section", "uid")):
            there = {row[key] for row in self.tables[table] if row["job_id"] == job_id}
            here = self.db.execute(f"SELECT {key} FROM {table} WHERE job_id = ?", (job_id,))
            count += sum(row[key] not in there for row in here)
        if count:
            self.report.told.append(
                f"Job {id_text(job_id)} was sealed on the other laptop. {count} step marks, photos or sections from this one are kept beside the record."
            )

    def _amendments(self, record: Row, incoming: list[Row]) -> None:
        for row in sorted(incoming, key=lambda row: row["number"]):
            if self._has("amendment", "uid", row["uid"]):
                continue
            last = self.db.execute(
                "SELECT number, sha256 FROM amendment WHERE record_id = ? ORDER BY number DESC", (record["id"],)
            ).fetchone()
            number, previous = (last["number"] + 1, last["sha256"]) if last else (1, record["sha256"])
            if (number, previous) != (row["number"], row["previous_sha256"]):
                self.report.told.append(f"Record {id_text(record['id'])}: the correction by {row['who']} has number {number} here, {row['number']} there.")
            digest = seals.amend(previous, number, row["at"], row["who"], row["text"])
            self._add("amendment", {**row, "number": number, "previous_sha256": previous, "sha256": digest})

    def _items(self) -> None:
        changes = _grouped(self.tables["stock_change"], "item_id")
        for row in self.tables["stock_item"]:
            here = self.db.execute("SELECT * FROM stock_item WHERE uid = ?", (row["uid"],)).fetchone()
            if here is None:
                self.items[row["id"]] = self._add("stock_item", row)["id"]
            else:
                self.items[row["id"]] = here["id"]
            self._changes(row, changes.get((row["id"],), []), here)

    def _changes(self, there: Row, incoming: list[Row], here: sqlite3.Row | None) -> None:
        item = self.items[there["id"]]
        mine = {row["uid"] for row in self.db.execute("SELECT uid FROM stock_change WHERE item_id = ?", (item,))}
        new = [row for row in incoming if row["uid"] not in mine]
        for row in new:
            self._add("stock_change", {**row, "item_id": item})
        if here is None or not new:
            return
        followed = mine <= {row["uid"] for row in incoming}
        # Where both were changed, both laptops must come to the same: the later by its time, then by its uid.
        after = {name: there[name] for name in stock.DESCRIPTIVE} if followed else self._latest(item)
        differ = {name: value for name, value in after.items() if value != here[name]}
        if differ:
            rows.update(self.db, "stock_item", item, differ)
        if not followed:
            self.report.told.append(f"Bar {item}: what is written beside it was changed on both laptops. The later one stands; both are in its ledger.")

    def _latest(self, item: int) -> dict[str, str]:
        """Return each descriptive member as the latest change by the clock left it."""
        found = self.db.execute("SELECT after_json FROM stock_change WHERE item_id = ? ORDER BY at, uid", (item,))
        return {name: value for row in found for name, value in json.loads(row["after_json"]).items() if name in stock.DESCRIPTIVE}

    def _moves(self) -> None:
        touched = set()
        for row in self._new("stock_move"):
            job_id = row["job_id"] if row["job_id"] in self.jobs else None
            touched.add(self._add("stock_move", {**row, "item_id": self.items[row["item_id"]], "job_id": job_id})["item_id"])
        for item in sorted(touched):
            left = stock.on_hand(self.db, item)
            if left < Fraction(0):
                self.report.told.append(f"Bar {item}: more was taken on the two laptops than there was. Count it and adjust it.")

    def _new(self, table: str) -> Iterable[Row]:
        return (row for row in self.tables[table] if not self._has(table, "uid", row["uid"]))

    def _has(self, table: str, column: str, value: str) -> bool:
        return self.db.execute(f"SELECT 1 FROM {table} WHERE {column} = ?", (value,)).fetchone() is not None

    def _add(self, table: str, row: Row, **beside: Any) -> sqlite3.Row:
        self.report.added[table] += 1
        return rows.insert(self.db, table, {name: row[name] for name in rows.COLUMNS[table]}, **beside)


def _goes_on_from(newest_here: str, incoming: list[Row], beside: list[Row]) -> bool:
    """Whether the other laptop's newest was saved by someone who had this one's newest before them."""
    if any(row["uid"] == newest_here for row in incoming):
        return True
    last = max(row["revision"] for row in incoming)
    return any(row["uid"] == newest_here and row["beside"] < last for row in beside)


def _grouped(found: list[Row], *names: str) -> dict[tuple, list[Row]]:
    groups: dict[tuple, list[Row]] = {}
    for row in found:
        groups.setdefault(tuple(row[name] for name in names), []).append(row)
    return groups
