"""Kill the real server at random moments while phones write, and count what is there in the end.

`python -m tests.soak --kills 1000` prints the counts as JSON; exit code 1 if anything that was
acknowledged is missing, or anything is there twice.
"""

from __future__ import annotations

import http.client
import io
import json
import os
import random
import signal
import socket
import sqlite3
import subprocess
import sys
import threading
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import quote

from PIL import Image

from fieldapp.store import check
from fieldapp.store.connection import FILE_NAME

ROOT = Path(__file__).resolve().parents[2]
BAR = {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none", "length": "90 ft"}
STEP = "gap"
WRITES_A_JOB = 12


@dataclass
class Operation:
    """One keyed write: `mark` is a text that nothing else carries, `found_in` where it must be once."""

    method: str
    path: str
    body: bytes
    kind: str
    mark: str
    found_in: str


@dataclass
class Counts:
    """What the clients did, shared by them."""

    sent: Counter = field(default_factory=Counter)
    acknowledged: dict[str, str] = field(default_factory=dict)  # mark -> where
    replayed: int = 0
    refused: list[str] = field(default_factory=list)
    lock: threading.Lock = field(default_factory=threading.Lock)


def free_port() -> int:
    """Return a port that is free now."""
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


class Server:
    """The real command on one port, started again after every kill."""

    def __init__(self, data: Path, port: int) -> None:
        self.data, self.port = data, port
        self.process: subprocess.Popen | None = None
        self.log = (data.parent / "server.log").open("ab")

    def start(self) -> None:
        command = [sys.executable, "-m", "fieldapp.cli", "serve", "--port", str(self.port), "--data", str(self.data)]
        self.process = subprocess.Popen(command, cwd=ROOT, stdout=self.log, stderr=self.log)

    def answers(self, seconds: float = 60) -> None:
        """Wait until it answers."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            if self.process.poll() is not None:
                raise RuntimeError(f"the server did not start: {self.data.parent / 'server.log'}")
            try:
                socket.create_connection(("127.0.0.1", self.port), 0.5).close()
                return
            except OSError:
                time.sleep(0.01)
        raise RuntimeError("the server does not answer")

    def kill(self) -> None:
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()

    def stop(self) -> int:
        self.process.terminate()
        return self.process.wait(60)

    def close(self) -> None:
        """Leave nothing running behind, whatever happened."""
        self.kill()
        self.log.close()


class Phone(threading.Thread):
    """Writes one operation after the other; sends each again under its key until it is answered."""

    def __init__(self, number: int, port: int, seed: int, counts: Counts, stopping: threading.Event) -> None:
        super().__init__(name=f"phone-{number}", daemon=True)
        self.number, self.port, self.counts, self.stopping = number, port, counts, stopping
        self.draw = random.Random(seed * 100 + number)
        self.made = 0
        self.error: BaseException | None = None

    def run(self) -> None:
        try:
            item = self.send(self.operation("POST", "/api/stock", {**BAR, "note": self.mark(), "who": "L"}, "stock", "stock_item.note"))["id"]
            while not self.stopping.is_set():
                self.one_job(item)
        except BaseException as error:
            self.error = error

    def mark(self) -> str:
        self.made += 1
        return f"mark-{self.number}-{self.made}"

    def operation(self, method: str, path: str, body: dict | bytes, kind: str, found_in: str) -> Operation:
        raw = body if isinstance(body, bytes) else json.dumps(body).encode()
        return Operation(method, path, raw, kind, f"mark-{self.number}-{self.made}", found_in)

    def one_job(self, item: int) -> None:
        job = self.send(self.operation("POST", "/api/jobs", {"title": self.mark(), "who": "L"}, "job", "job.title"))["id"]
        chosen = {"method": "outer-sleeve", "reason": self.mark()}
        body = {"base_revision": 0, "data": chosen, "who": "L"}
        self.send(self.operation("PUT", f"/api/jobs/{job}/sections/choose", body, "section", "job_section.data_json"))
        revision = 0
        for _ in range(WRITES_A_JOB):
            if self.stopping.is_set():
                return
            what = self.draw.choice(("section", "step", "take", "photo"))
            mark = self.mark()
            if what == "section":
                body = {"base_revision": revision, "data": {"note": mark}, "who": "L"}
                self.send(self.operation("PUT", f"/api/jobs/{job}/sections/make", body, what, "job_section.data_json"))
                revision += 1
            elif what == "step":
                body = {"step": STEP, "action": "note", "reason": mark, "who": "L"}
                self.send(self.operation("POST", f"/api/jobs/{job}/steps", body, what, "step_event.reason"))
            elif what == "take":
                body = {"length": "1/64 in", "reason": mark, "job": job, "who": "L"}
                self.send(self.operation("POST", f"/api/stock/{item}/take", body, what, "stock_move.reason"))
            else:
                path = f"/api/jobs/{job}/photos?who=L&note={quote(mark)}"
                self.send(self.operation("POST", path, self.picture(), what, "photo.note"))
            time.sleep(self.draw.uniform(0, 0.01))

    def picture(self) -> bytes:
        out = io.BytesIO()
        Image.new("RGB", (48, 32), tuple(self.draw.randbytes(3))).save(out, "JPEG")
        return out.getvalue()

    def send(self, operation: Operation) -> dict:
        key = f"{self.draw.getrandbits(128):032x}"
        kind = "image/jpeg" if operation.kind == "photo" else "application/json"
        headers = {"Content-Type": kind, "Idempotency-Key": key}
        while True:
            try:
                connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
                try:
                    with self.counts.lock:
                        self.counts.sent[operation.kind] += 1
                    connection.request(operation.method, operation.path, operation.body, headers)
                    answer = connection.getresponse()
                    body = json.loads(answer.read())
                finally:
                    connection.close()
            except (OSError, http.client.HTTPException, ValueError):
                time.sleep(self.draw.uniform(0.01, 0.05))
                continue
            if answer.status in (200, 201):
                with self.counts.lock:
                    self.counts.acknowledged[operation.mark] = operation.found_in
                    self.counts.replayed += answer.headers.get("Idempotency-Replayed") == "true"
                return body
            if answer.status < 500:
                with self.counts.lock:
                    self.counts.refused.append(f"{operation.method} {operation.path} {answer.status} {body}")
                raise AssertionError(self.counts.refused[-1])
            time.sleep(0.05)


def run(folder: Path, kills: int, seed: int, phones: int = 4, said=lambda line: None) -> dict:
    """Run the soak in `folder` and return its counts; `lost`, `doubled` and `findings` must be empty."""
    data = folder / "data"
    draw, counts, stopping = random.Random(seed), Counts(), threading.Event()
    server = Server(data, free_port())
    clients = [Phone(number, server.port, seed, counts, stopping) for number in range(phones)]
    began = time.monotonic()
    try:
        server.start()
        for client in clients:
            client.start()
        early = _kill_at_random(server, clients, counts, kills, draw, lambda number: said(
            f"{number} kills, {len(counts.acknowledged)} acknowledged, {time.monotonic() - began:.0f} s"))  # fmt: skip
        server.answers()
        stopping.set()
        for client in clients:
            client.join(120)
        stopped = server.stop()
    finally:
        stopping.set()
        server.close()
    stuck = [client.name for client in clients if client.is_alive()]
    errors = [repr(client.error) for client in clients if client.error] + stuck
    return {
        "kills": kills, "of them during the start": early, "seconds": round(time.monotonic() - began),
        "tries": dict(counts.sent), "acknowledged": len(counts.acknowledged), "answered again": counts.replayed,
        "errors": errors, "stopped": stopped, **found(data, counts.acknowledged),
    }  # fmt: skip


def _until_written(clients: list[Phone], counts: Counts, writes: int, more: float) -> None:
    """Wait for so many acknowledged writes and a moment more: on a busy machine a fixed time may see none."""
    enough, until = len(counts.acknowledged) + writes, time.monotonic() + 10
    while len(counts.acknowledged) < enough and time.monotonic() < until and not any(client.error for client in clients):
        time.sleep(0.002)
    time.sleep(more)


def _kill_at_random(server: Server, clients: list[Phone], counts: Counts, kills: int, draw: random.Random, said) -> int:
    """Kill and start again, and return how many kills came before the server answered."""
    early = 0
    for number in range(kills):
        if draw.random() < 0.15:
            # In the middle of the start: the check, a migration, the first backup.
            early += 1
            time.sleep(draw.uniform(0, 0.6))
        else:
            server.answers()
            _until_written(clients, counts, draw.randrange(40), draw.uniform(0, 0.05))
        server.kill()
        server.start()
        if any(client.error for client in clients):
            break
        if (number + 1) % 25 == 0:
            said(number + 1)
    return early


def found(data: Path, acknowledged: dict[str, str]) -> dict:
    """Count the marks in the data file: acknowledged ones must be there once, no mark twice."""
    seen = check.look(data / FILE_NAME)
    db = sqlite3.connect(data / FILE_NAME)
    there: Counter = Counter()
    for place in ("job.title", "job_section.data_json", "step_event.reason", "stock_move.reason", "photo.note", "stock_item.note"):
        table, column = place.split(".")
        for (text,) in db.execute(f"SELECT {column} FROM {table}"):
            if column == "data_json":
                held = json.loads(text)
                text = held.get("note") or held.get("reason")
            if text and text.startswith("mark-"):
                there[place, text] += 1
    (restored,) = db.execute("SELECT count(*) FROM meta WHERE name = 'restored'").fetchone()
    db.close()
    return {
        "found": sum(there[place, mark] == 1 for mark, place in acknowledged.items()),
        "lost": sorted(mark for mark, place in acknowledged.items() if not there[place, mark]),
        "doubled": sorted(mark for (_, mark), count in there.items() if count > 1),
        "not acknowledged but there": len(there) - sum((place, mark) in there for mark, place in acknowledged.items()),
        "findings": seen.findings, "restored": restored, "file bytes": os.path.getsize(data / FILE_NAME),
        "backups": len(list((data / "backups").glob("pitsplice-*"))), "left over": len(list((data / "backups").glob(".part*"))),
    }  # fmt: skip
