"""The page's real outbox.js against a model laptop, in node: random schedules of everything a pit Wi-Fi does."""

from __future__ import annotations

import json
import shutil
import subprocess
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

HERE = Path(__file__).parent
OFFLINE = HERE.parents[1] / "static" / "js" / "offline"
SCHEDULES = 10_000


def node() -> str:
    found = shutil.which("node") or shutil.which("nodejs")
    assert found, "node is missing: `make test` installs it from Debian's packages, or install Node.js 18 or newer"
    return found


def fuzz(outbox: Path, schedules: int, seed: int) -> dict:
    done = subprocess.run(
        [node(), str(HERE / "fuzz_outbox.mjs"), str(outbox), str(schedules), str(seed)],
        capture_output=True, text=True, timeout=600, check=False,
    )  # fmt: skip
    assert not done.stderr, done.stderr
    return json.loads(done.stdout.splitlines()[-1])


def test_nothing_is_lost_doubled_or_out_of_order_in_ten_thousand_schedules():
    half = SCHEDULES // 2
    with ThreadPoolExecutor(2) as pool:
        parts = list(pool.map(lambda seed: fuzz(OFFLINE / "outbox.js", half, seed), (1, 1 + half)))
    assert not [part for part in parts if "failed" in part], parts
    happened = {what: sum(part["happened"].get(what, 0) for part in parts) for part in parts for what in part["happened"]}
    assert sum(part["operations"] for part in parts) > 50_000
    # Each kind of trouble must really have come up, or the run proves nothing about it.
    for what in (
        "request lost", "answer lost", "request delayed", "late arrival", "request doubled", "500", "429", "captive portal",
        "another program's JSON", "not paired", "page died in a request", "page died at its disk", "page reloaded", "clock jump",
        "restart", "restore", "restore during an answer", "section-changed", "already-marked", "out-of-order", "not-enough-stock",
        "dropped", "photo",
    ):  # fmt: skip
        assert happened.get(what, 0) > 100, (what, happened)


# Faults that other queues are known for; each must be found, or the schedules are too tame.
FAULTS = {
    "a page of a captive portal counts as the laptop": ("judge.js", 'kind === "application/json" && echo === op.key && body !== null', "true"),
    "any JSON counts as the laptop": ("judge.js", " && echo === op.key", ""),
    "a 500 counts as a refusal": ("judge.js", "status >= 400 && status < 500 && !LATER.includes(status)", "status >= 400"),
    "a lost answer counts as sent": ("outbox.js", 'await rest(op, { what: "no answer", detail: cause?.message });', "await acknowledged(op, { body: null }, generation);"),
    "a repeat goes under a new key": ("outbox.js", "answer = await transport(op);", "answer = await transport({ ...op, key: random.hex(16) }); answer.echo &&= op.key;"),
    "a restore is not noticed": ("outbox.js", 'if (generation && generation !== (await storage.meta("generation"))) {', "if (false) {"),
    "a restore during an answer is not noticed": ("outbox.js", "now !== generation || !sameBody(kept, op)", "!sameBody(kept, op)"),
    "a photo read again counts as another one": ("outbox.js", 'typeof kept.body !== "string" || kept.body === sent.body', "kept.body === sent.body"),
    "a refused operation lets later ones pass": ("outbox.js", "      seen.add(op.record);\n", '      if (op.state !== "refused") seen.add(op.record);\n'),
    "an old save is dropped and the next one lands on another's": ("outbox.js", "if (/\\/sections\\//.test(op.path)) await renumber", "if (false) await renumber"),
}  # fmt: skip


@pytest.mark.parametrize("fault", FAULTS)
def test_the_schedules_find_a_fault_that_is_put_in(tmp_path, fault):
    file, there, instead = FAULTS[fault]
    for name in ("outbox.js", "judge.js"):
        text = (OFFLINE / name).read_text(encoding="utf-8")
        if name == file:
            assert text.count(there) == 1, fault
            text = text.replace(there, instead)
        (tmp_path / name).write_text(text, encoding="utf-8")
    (tmp_path / "package.json").write_text('{"type": "module"}')
    assert "failed" in fuzz(tmp_path / "outbox.js", 3000, 1)
