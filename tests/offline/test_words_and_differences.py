"""Small pure parts of the offline page, in node: what differs, what an answer means, where an id is."""

from __future__ import annotations

import json
import subprocess

from tests.offline.test_outbox import HERE, OFFLINE, node


def run(script: str, given: object) -> object:
    done = subprocess.run([node(), "--input-type=module", "-e", script], input=json.dumps(given), capture_output=True, text=True, timeout=30, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def call(module: str, name: str, cases: list) -> list:
    """Return what an exported function gives for each list of arguments."""
    script = f"""
      import {{ readFileSync }} from "node:fs";
      const {{ {name} }} = await import("{(OFFLINE / module).as_uri()}");
      const said = JSON.parse(readFileSync(0, "utf8")).map((given) => {name}(...given) ?? null);
      console.log(JSON.stringify(said));"""
    return run(script, cases)


def test_a_difference_is_named_and_rounding_noise_is_none():
    pairs = [
        [{"a": 1.0, "b": [{"key": "x", "v": "met"}]}, {"a": 1.0 + 1e-12, "b": [{"key": "x", "v": "met"}], "c": 5}],
        [{"a": 8.123}, {"a": 8.124}],
        [{"b": [{"key": "x", "v": "met"}]}, {"b": [{"key": "x", "v": "not met"}]}],
        [{"b": [1, 2]}, {"b": [1]}],
        [{"a": None}, {"a": 0}],
        [{"a": {"b": 1}}, {"a": None}],
        [{"provisional": True, "drawing": "mine", "not_checked": ["sheet"]}, {"drawing": "theirs"}],
        [{"problem": "No."}, {"length": 1}],
    ]
    found = subprocess.run([node(), str(HERE / "compare.mjs"), str(OFFLINE / "mirror.js")], input=json.dumps(pairs),
                           capture_output=True, text=True, timeout=30, check=True)  # fmt: skip
    assert json.loads(found.stdout) == [[], ["a"], ["b, x, v"], ["b"], ["a"], ["a"], [], ["problem"]]


def test_only_an_answer_that_names_the_key_is_the_laptops():
    op = {"key": "k1"}
    told = {"type": "urn:pitsplice:problem:sealed", "title": "Sealed."}
    good = {"status": 201, "kind": "application/json", "echo": "k1", "body": {}}
    trouble = {"status": 409, "kind": "application/problem+json", "echo": None, "body": told}
    cases = {
        "sent": [good],
        "refused": [trouble, {**trouble, "status": 404}, {**trouble, "status": 422},
                    {**trouble, "status": 403, "body": {"type": "urn:pitsplice:problem:not-allowed-for-role", "title": "No."}}],
        "stop": [{**trouble, "status": status} for status in (401, 403, 421)],
        "again": [
            {**good, "echo": None}, {**good, "echo": "k2"}, {**good, "kind": "text/html", "body": None}, {**good, "body": None},
            {**good, "status": 302}, {**good, "status": 0}, {**trouble, "status": 500}, {**trouble, "status": 503},
            {**trouble, "status": 408}, {**trouble, "status": 429}, {**trouble, "kind": "text/html", "body": None},
            {**trouble, "body": {"type": "about:blank"}}, {**trouble, "kind": "application/json"},
        ],
    }  # fmt: skip
    for what, answers in cases.items():
        said = call("judge.js", "judge", [[op, answer] for answer in answers])
        assert [one["what"] for one in said] == [what] * len(answers), (what, said)


def test_an_id_is_found_in_what_a_person_types_or_scans():
    typed = ["7k3m 9qx3", "7K3M-9QX3", "7K3M9QX3", "PITSPLICE 7K3M-9QX3 TUBE:1.625X.120", "PITSPLICE%207K3M-9QX3", "7K3M", "7K3M-9QX0", "hello"]
    assert call("effects.js", "plainId", [[text] for text in typed]) == [*["7K3M9QX3"] * 5, None, None, None]
