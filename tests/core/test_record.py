"""A seal holds one byte form of a record, and a change anywhere in record or amendments is found."""

import hashlib

import pytest

from core.problems import Problem
from core.record import amend, canonical, seal, verify

INSIDE = {"id": "A", "sealed_at": "2026-01-01T00:00:00Z", "sealed_by": "Sam"}
BODY = {**INSIDE, "gap": 0.03125, "steps": ["cut", ("weld", None)], "done": True}
RECORD = {**INSIDE, "body": BODY, "sha256": seal(BODY)}


def chain(*texts):
    made, previous = [], RECORD["sha256"]
    for number, text in enumerate(texts, 1):
        one = {"number": number, "at": "t", "who": "Lee", "text": text, "previous_sha256": previous}
        made.append({**one, "sha256": amend(previous, number, "t", "Lee", text)})
        previous = made[-1]["sha256"]
    return made


def test_the_bytes_do_not_depend_on_the_order_of_members():
    assert canonical({"b": 1.5, "a": "é"}) == canonical({"a": "é", "b": 1.5}) == '{"a":"é","b":1.5}'.encode()
    assert seal({"a": 1}) == hashlib.sha256(b'{"a":1}').hexdigest()  # reference library: hashlib on the bytes typed out


@pytest.mark.parametrize(
    "value", [float("nan"), float("inf"), {1: 2}, {"a": {2}}, b"x", "\ud800", {"a": ["\ud800"]}, [{"b": float("-inf")}]]
)
def test_what_json_cannot_hold_is_refused(value):
    with pytest.raises(Problem) as caught:
        canonical(value)
    assert (caught.value.kind, caught.value.status) == ("not-canonical", 422)
    assert caught.value.allowed and caught.value.next_step


def test_a_whole_record_has_no_findings():
    assert verify(RECORD, chain("one", "two")) == []


@pytest.mark.parametrize(
    ("change", "finding"),
    [
        ({"body": {**BODY, "gap": 0.0625}}, "does not match its seal"),
        ({"body": {**BODY, "gap": float("nan")}}, "does not match its seal"),
        ({"body": [], "sha256": seal([])}, "The id beside the record differs"),
        ({"sealed_at": "2026-01-02T00:00:00Z"}, "The sealed at beside the record differs"),
        ({"sealed_by": "Max"}, "The sealed by beside the record differs"),
    ],
)
def test_a_changed_record_is_found(change, finding):
    assert any(finding in line for line in verify({**RECORD, **change}, []))


@pytest.mark.parametrize(
    ("change", "finding"),
    [
        (lambda made: made[1:], "Amendment 1 is missing or out of order: number 2"),
        (lambda made: [{**made[0], "text": "fine"}, made[1]], "Amendment 1 does not match its hash"),
        (lambda made: [made[0], {**made[1], "previous_sha256": "0" * 64}], "Amendment 2 does not follow on"),
    ],
)
def test_a_changed_amendment_is_found(change, finding):
    assert any(finding in line for line in verify(RECORD, change(chain("one", "two"))))
