"""The phone's mirror (static/js/core) answers every vector as the core does, in node."""

from __future__ import annotations

import gzip
import json
import shutil
import subprocess
from pathlib import Path

import playwright
import pytest

from core import tag
from tests.golden import vectors

ROOT = Path(__file__).resolve().parents[2]
CORE = ROOT / "static" / "js" / "core"
HERE = Path(__file__).parent
# The page itself may be 60 kB; the mirror is fetched beside it, once, and run only when the laptop does not answer.
MOST_BYTES = 110_000


def node() -> str:
    """Return this machine's node, or the one that comes with Playwright; without either the test fails, it is never skipped."""
    own = shutil.which("node") or str(Path(playwright.__file__).parent / "driver" / "node")
    assert Path(own).exists(), "node is missing: sh .ci/browser installs it"
    return own


@pytest.fixture(scope="module")
def told(tmp_path_factory):
    """What node said: the modules lie beside a package.json, so that an older node reads them as modules."""
    folder = tmp_path_factory.mktemp("mirror")
    shutil.copytree(CORE, folder / "core")
    for name in ("check.js", "run_node.mjs"):
        shutil.copy(HERE / name, folder)
    (folder / "package.json").write_text('{"type": "module"}')
    (folder / "vectors.json").write_text(vectors.text(), encoding="utf-8")
    made = subprocess.run([node(), "run_node.mjs", "core", "vectors.json"], cwd=folder, capture_output=True, text=True, timeout=300)
    assert made.returncode == 0, made.stderr
    return json.loads(made.stdout)


def test_every_answer_is_the_core_s_own(told):
    print(f"\nnode {told['node']}: {sum(told['counts'].values())} answers {told['counts']}, one size() {told['milliseconds']:.3f} ms")
    assert told["wrong"] == 0, "\n".join(told["differences"])


def test_every_vector_was_asked(told):
    expected = {name: sum(kinds.values()) for name, kinds in vectors.counts().items()}
    assert told["counts"] == expected


def test_the_vectors_ask_enough_and_of_both_kinds():
    made = vectors.counts()
    assert sum(made["readLength"].values()) > 4000 // vectors.SHARE
    assert sum(made["size"].values()) > 5 * 1000 // vectors.SHARE
    for name in ("readLength", "size", "summary", "assess", "candidates", "checklistFor", "checklistOf", "readId", "tagRead"):
        # A vector set of refusals only, or of none, would compare little.
        assert made[name]["is"] > 20, name
        assert made[name]["problem"] > 5, name


def test_every_method_is_sized_more_than_80_times_without_a_problem():
    methods = [answer["is"]["method"] for name, _, answer in json.loads(vectors.text()) if name == "size" and "is" in answer]
    assert all(methods.count(method) > 250 // vectors.SHARE for method in vectors.drawn.JOBS), {method: methods.count(method) for method in vectors.drawn.JOBS}


def test_every_kind_of_fit_card_and_stock_is_among_the_answers():
    asked = [(name, answer["is"]) for name, _, answer in json.loads(vectors.text()) if "is" in answer]
    sized = [made for name, made in asked if name == "size" and "card" in made]
    for method in ("outer-sleeve", "inner-sleeve", "larger-tube", "split-sleeve"):
        measured = [made["fit"]["measured"] for made in sized if made["method"] == method and made["fit"]["measured"]]
        assert len(measured) > 30 // vectors.SHARE, method
        assert {row["checks"][0]["verdict"] for row in measured} == {"met", "not met", "unknown"}, method
        if method != "split-sleeve":
            assert {made["rosette"]["search"]["verdict"] for made in sized if made["method"] == method and "search" in made["rosette"]} == {"met", "not met"}
    assert {made["card"]["drill"]["hole"]["key"] for made in sized if made["card"]["drill"]} == {"circular", "shop", "structural", "own", "stop"}
    assert {what for made in sized for what in made["not_computed"]} == {"strength", "drawing", "member"}
    stocked = [made.get("method", "outer-sleeve") for name, made in asked if name == "candidates" and made["on_hand"]]
    assert all(stocked.count(method) > 60 // vectors.SHARE for method in vectors.drawn.JOBS), {method: stocked.count(method) for method in vectors.drawn.JOBS}


def test_a_wrong_answer_is_seen(tmp_path):
    """The comparison itself can fail: a changed text, a number off by 2 parts in 10^9, a missing member."""
    script = """
import { difference } from "./check.js";
const is = { a: [1, "x"], b: null };
console.log(JSON.stringify([
  difference(is, { a: [1 + 5e-10, "x"], b: null }), difference(is, { a: [1 + 2e-9, "x"], b: null }), difference(is, { a: [1, "y"], b: null }),
  difference(is, { a: [1, "x"] }), difference(is, { a: [1], b: null }), difference(is, { a: [1, "x"], b: false }),
].map(Boolean)));
"""
    shutil.copy(HERE / "check.js", tmp_path)
    (tmp_path / "package.json").write_text('{"type": "module"}')
    (tmp_path / "seen.js").write_text(script)
    made = subprocess.run([node(), "seen.js"], cwd=tmp_path, capture_output=True, text=True, check=True)
    assert json.loads(made.stdout) == [False, True, True, True, True, True]


def test_a_new_id_is_whole_and_no_id_comes_up_more_often(tmp_path):
    """A drawn number past the last whole span of ids is thrown back: 2^36 - 1 is, 0 and ID_COUNT - 1 are not."""
    shutil.copytree(CORE, tmp_path / "core")
    (tmp_path / "package.json").write_text('{"type": "module"}')
    (tmp_path / "ids.js").write_text("""
import { newId, readId } from "./core/index.js";
const draws = [[2 ** 32 - 1, 2 ** 32 - 1], [0, 0], [6, 1742810334], [16, 5]];
const fill = () => draws.shift();
const drawn = [newId(fill), newId(fill), newId(fill)];
console.log(JSON.stringify([...drawn, draws.length, Array.from({ length: 200 }, () => newId((a) => a.map(() => Math.random() * 2 ** 32))).every((id) => readId(id) === id)]));
""")
    made = subprocess.run([node(), "ids.js"], cwd=tmp_path, capture_output=True, text=True, check=True)
    # 6 * 2^32 + 1742810334 is ID_COUNT - 1 (hand: 31^7 = 27512614111); the other two are 0 and 5.
    assert json.loads(made.stdout) == [tag.make_id(0), tag.make_id(tag.ID_COUNT - 1), tag.make_id(5), 0, True]


def test_the_mirror_stays_lean_and_every_file_short():
    files = sorted(CORE.rglob("*.js"))
    packed = sum(len(gzip.compress(file.read_bytes(), 9)) for file in files)
    print(f"\n{len(files)} files, {sum(file.stat().st_size for file in files)} bytes, {packed} gzipped")
    assert packed < MOST_BYTES
    for file in files:
        lines = file.read_text(encoding="utf-8").splitlines()
        assert len(lines) < 400, file.name
        assert lines[0].startswith("//"), f"{file.name}: the first line says which module it mirrors"
