"""Two phones and the real server: lost requests, lost answers, repeats, restarts, backups put back.

The phones here are a model of `static/js/offline/outbox.js` in Python; the server is the Flask
app over its real data file, closed and opened again in the middle.
"""

from __future__ import annotations

import itertools
import os
import shutil
import tempfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import hypothesis.strategies as st
from flask import Flask
from hypothesis import HealthCheck, settings
from hypothesis.stateful import Bundle, RuleBasedStateMachine, invariant, precondition, rule, run_state_machine_as_test

from core.tag import make_id
from fieldapp import create_app
from fieldapp.backups import restore
from fieldapp.config import Settings
from fieldapp.store import Store

EXAMPLES = int(os.environ.get("PITSPLICE_SYNC_EXAMPLES", "60"))
FATES = st.sampled_from(["arrives", "arrives", "arrives", "request lost", "answer lost", "doubled"])
PHONES = st.sampled_from([0, 1])
STEPS = ("stands", "fuel", "battery", "electronics")
BAR = {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020", "length": "4 in", "who": "Chief"}
OURS = "urn:pitsplice:problem:"


@cache
def app() -> Flask:
    """Return the app; each example puts its own store into it."""
    folder = Path(tempfile.mkdtemp(prefix="pitsplice-sync-"))
    made = create_app(Settings(folder))
    made.extensions["pitsplice-store"].close()
    shutil.rmtree(folder)
    return made


@dataclass
class Operation:
    """One write of a phone, under a key of its own."""

    key: str
    record: str
    method: str
    path: str
    body: dict
    state: str = "waiting"
    problem: str = ""


class Pit(RuleBasedStateMachine):
    """What may happen between two phones and one laptop."""

    jobs = Bundle("jobs")

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp(prefix="pitsplice-sync-"))
        self.keys = (f"{number:032x}" for number in itertools.count(1))
        self.phones: list[list[Operation]] = [[], []]
        self.backup: Path | None = None
        self.late: list[Operation] = []
        self.start()
        self.client.post("/api/stock", json=BAR)

    def start(self) -> None:
        # Routes hold no state of their own: a start is the data file opened anew, migrations and all.
        self.store = app().extensions["pitsplice-store"] = Store(self.folder / "data")
        self.client = app().test_client()

    def stop(self) -> None:
        self.store.close()
        # A request that was under way dies with the process.
        self.late = []

    # What a person does.

    def put(self, phone: int, record: str, method: str, path: str, body: dict) -> None:
        self.phones[phone].append(Operation(next(self.keys), record, method, path, body))

    @rule(target=jobs, phone=PHONES, number=st.integers(0, 31**7 - 1))
    def begins_a_job(self, phone, number):
        job = make_id(number)
        self.put(phone, job, "POST", "/api/jobs", {"id": job, "title": f"{phone} {number}", "who": f"phone {phone}"})
        self.put(phone, job, "PUT", f"/api/jobs/{job}/sections/choose",
                 {"base_revision": 0, "data": {"method": "outer-sleeve"}, "who": f"phone {phone}"})  # fmt: skip
        return job

    @rule(phone=PHONES, job=jobs, base=st.integers(0, 3), text=st.text("ab", max_size=3))
    def saves_a_section(self, phone, job, base, text):
        self.put(phone, job, "PUT", f"/api/jobs/{job}/sections/make", {"base_revision": base, "data": {"note": text}, "who": f"phone {phone}"})

    @rule(phone=PHONES, job=jobs, step=st.sampled_from(STEPS), action=st.sampled_from(["done", "done", "undo"]))
    def marks_a_step(self, phone, job, step, action):
        self.put(phone, job, "POST", f"/api/jobs/{job}/steps", {"step": step, "action": action, "who": f"phone {phone}"})

    @rule(phone=PHONES, what=st.sampled_from(["take", "take", "return"]), sixteenths=st.integers(1, 40))
    def moves_stock(self, phone, what, sixteenths):
        self.put(phone, "stock", "POST", f"/api/stock/1/{what}", {"length": f"{sixteenths}/16 in", "reason": "sleeve", "who": f"phone {phone}"})

    @rule(phone=PHONES, choice=st.sampled_from(["again", "note", "drop", "on top"]))
    def decides_about_a_refusal(self, phone, choice):
        refused = next((op for op in self.phones[phone] if op.state == "refused"), None)
        if refused is None:
            return
        if choice == "drop":
            refused.state = "dropped"
            return
        if choice == "note" and refused.path.endswith("/steps"):
            refused.body = {**refused.body, "action": "note", "reason": "Marked on a phone, out of order."}
        if choice == "on top" and refused.problem == "section-changed":
            current = self.client.get(f"/api/jobs/{refused.record}").get_json()["sections"].get("make", {"revision": 0})
            refused.body = {**refused.body, "base_revision": current["revision"]}
        refused.state = "waiting"

    # What the network and the laptop do.

    @rule(phone=PHONES, fates=st.lists(FATES, min_size=1, max_size=6))
    def sends(self, phone, fates):
        tried: set[str] = set()
        for fate in fates:
            op = self.next_of(phone, tried)
            if op is None:
                return
            if not self.send(op, fate):
                tried.add(op.record)

    @rule()
    @precondition(lambda self: self.late)
    def an_old_request_arrives_late(self):
        self.request(self.late.pop(0))

    @rule()
    def the_laptop_starts_again(self):
        self.stop()
        self.start()

    @rule()
    def a_backup_is_made(self):
        self.backup = self.folder / "backup.sqlite3"
        # Kept apart, so that the thinning of backups does not take it.
        shutil.copy(self.store.backup(), self.backup)

    @rule()
    @precondition(lambda self: self.backup)
    def a_backup_is_put_back(self):
        before = self.client.get("/api/health").get_json()["generation"]
        self.stop()
        restore(self.folder / "data", self.backup)
        self.start()
        # The phones hear that it is another data file, and send everything they have again.
        assert self.client.get("/api/health").get_json()["generation"] != before
        for op in itertools.chain(*self.phones):
            if op.state in ("sent", "refused"):
                op.state = "waiting"

    def next_of(self, phone: int, tried: set[str]) -> Operation | None:
        seen: set[str] = set(tried)
        for op in self.phones[phone]:
            if op.state in ("sent", "dropped") or op.record in seen:
                continue
            seen.add(op.record)
            if op.state == "waiting":
                return op
        return None

    def request(self, op: Operation):
        return self.client.open(op.path, method=op.method, json=op.body, headers={"Idempotency-Key": op.key})

    def send(self, op: Operation, fate: str) -> bool:
        """Send once; whether the phone may go on with this record."""
        if fate == "request lost":
            self.late.append(Operation(op.key, op.record, op.method, op.path, op.body))
            return False
        answer = self.request(op)
        if fate == "doubled":
            again = self.request(op)
            if answer.status_code < 300:
                assert (again.status_code, again.data) == (answer.status_code, answer.data)
                assert again.headers["Idempotency-Replayed"] == "true"
            answer = again
        if fate == "answer lost":
            return False
        if 200 <= answer.status_code < 300:
            assert answer.mimetype == "application/json" and answer.headers["Idempotency-Key"] == op.key
            op.state = "sent"
            return True
        assert 400 <= answer.status_code < 500 and answer.mimetype == "application/problem+json", answer.get_data(as_text=True)
        problem = answer.get_json()
        assert problem["type"].startswith(OURS) and "Idempotency-Key" not in answer.headers
        op.problem = problem["type"].removeprefix(OURS)
        if op.problem == "already-marked":
            op.body = {**op.body, "action": "note", "reason": f"Marked done on another phone as well: {op.body['who']}"}
            return True
        op.state = "refused"
        return False

    # What must hold.

    def effects(self) -> dict[str, int]:
        """Return how often the data file names each key it says it has kept."""
        return dict(map(tuple, self.store.connection().execute("SELECT key, rowid FROM operation")))

    @invariant()
    def what_was_acknowledged_is_there(self):
        kept = self.effects()
        for op in itertools.chain(*self.phones):
            if op.state == "sent":
                assert op.key in kept, f"acknowledged and lost: {op.path}"

    @invariant()
    def the_ledger_and_the_sections_hold_each_write_once(self):
        db = self.store.connection()
        kept = [route for (route,) in db.execute("SELECT route FROM operation")]
        count = lambda table: db.execute(f"SELECT count(*) FROM {table}").fetchone()[0]  # noqa: E731
        assert count("step_event") == sum(route.endswith("/steps") for route in kept)
        assert db.execute("SELECT count(DISTINCT operation_key) FROM step_event").fetchone()[0] == count("step_event")
        assert count("job_section") == sum("/sections/" in route for route in kept)
        assert count("job") == sum(route == "POST /api/jobs" for route in kept)
        # The bar's first length has no key.
        assert count("stock_move") - 1 == sum("/stock/" in route for route in kept)

    @invariant()
    def each_phone_is_heard_in_order(self):
        kept = self.effects()
        for phone in self.phones:
            last: dict[str, int] = {}
            for op in phone:
                if op.state == "sent":
                    assert kept[op.key] > last.get(op.record, 0), f"out of order: {op.path}"
                    last[op.record] = kept[op.key]

    def teardown(self):
        self.late = []
        for _ in range(4):
            for number in (0, 1):
                tried: set[str] = set()
                while op := self.next_of(number, tried):
                    if not self.send(op, "arrives"):
                        tried.add(op.record)
        for op in itertools.chain(*self.phones):
            # Only a refusal, or one before it in its record, may keep an operation on the phone.
            assert op.state in ("sent", "dropped", "refused") or self.waits_for_a_decision(op), op
        self.what_was_acknowledged_is_there()
        self.the_ledger_and_the_sections_hold_each_write_once()
        assert self.client.get("/api/stock").get_json()["items"][0]["on_hand"]["in"] >= 0
        self.store.close()
        shutil.rmtree(self.folder)

    def waits_for_a_decision(self, op: Operation) -> bool:
        phone = next(phone for phone in self.phones if op in phone)
        return any(other.state == "refused" and other.record == op.record for other in phone[: phone.index(op)])


def test_nothing_is_lost_or_doubled_between_two_phones_and_the_server():
    run_state_machine_as_test(
        Pit,
        settings=settings(max_examples=EXAMPLES, stateful_step_count=25, deadline=None, suppress_health_check=list(HealthCheck), print_blob=True),
    )
