"""Recall: the sealed record, its amendments and its tag."""

import sqlite3

import pytest
from conftest_helpers import SECTIONS, SIZE, fill, finish, save, told

from core import record as seals


def test_a_record_is_recalled_by_its_id_as_a_person_types_it(client, sealed):
    for typed in (sealed["id"], sealed["id_text"], sealed["id_text"].lower()):
        assert client.get(f"/api/records/{typed}").get_json() == sealed
    assert sealed["intact"] is True
    assert sealed["findings"] == []


def test_the_record_keeps_full_numbers_wording_and_who(sealed):
    body = sealed["body"]
    # hand: 3 x 13/8 + 15/8 tan 60, kept unrounded
    assert body["result"]["length"]["rule"]["in"] == pytest.approx(3 * 1.625 + 1.875 * 3**0.5, rel=1e-14)
    assert body["assessment"]["methods"][-1]["key"] == "replace"
    assert {name: section["data"] for name, section in body["sections"].items()} == SECTIONS
    assert body["checklist"]["version"].startswith("outer-sleeve")
    assert body["checklist"]["state"]["finished"]
    assert {event["who"] for event in body["events"]} == {"Lee"}
    assert (body["sealed_by"], body["demo"], body["software"]["name"]) == ("Sam", False, "Pitsplice")
    assert sealed["sha256"] == seals.seal(body)


def test_what_is_not_there_is_told_apart(client, job):
    told(client.get("/api/records/7K3M9QX4"), 400, "bad-id")
    assert "another laptop" in told(client.get("/api/records/22222222"), 404, "no-record")["next"]
    assert job["id"] in told(client.get(f"/api/records/{job['id']}"), 404, "not-sealed")["next"]
    told(client.post("/api/records/22222222/amendments", json={"who": "Sam", "text": "x"}), 404, "no-record")


def test_amendments_form_a_chain_on_the_seal(client, sealed):
    path = f"/api/records/{sealed['id']}/amendments"
    first = client.post(path, json={"who": "Sam", "text": "Gap was 1/32 in.\r\nMeasured twice."})
    assert first.status_code == 201
    second = client.post(path, json={"who": "Ada", "text": "Bar came from rack 3."}).get_json()
    one, two = second["amendments"]
    assert one["text"] == "Gap was 1/32 in.\nMeasured twice."
    assert (one["previous_sha256"], two["previous_sha256"]) == (sealed["sha256"], one["sha256"])
    assert second["intact"] and second["body"] == sealed["body"]
    told(client.post(path, json={"who": "Sam", "text": ""}), 422, "missing")


@pytest.mark.parametrize(
    "statement",
    ["UPDATE record SET sealed_by = 'x'", "DELETE FROM record", "DELETE FROM step_event", "UPDATE step_event SET who = 'x'",
     "UPDATE job_section SET data_json = '{}'", "DELETE FROM job_section", "UPDATE amendment SET text = 'x'",
     "DELETE FROM amendment", "REPLACE INTO record SELECT * FROM record"],
)  # fmt: skip
def test_what_was_written_down_cannot_be_changed(client, sealed, store, statement):
    client.post(f"/api/records/{sealed['id']}/amendments", json={"who": "Sam", "text": "x"})
    with pytest.raises(sqlite3.IntegrityError, match="append-only"), store.write() as db:
        db.execute(statement)


@pytest.mark.parametrize(
    ("change", "finding"),
    [
        ("UPDATE record SET body_json = replace(body_json, 'Lee', 'Max')", "does not match its seal"),
        ("UPDATE record SET body_json = '{'", "cannot be read"),
        ("UPDATE record SET sealed_by = 'Max'", "sealed by beside the record differs"),
        ("UPDATE amendment SET text = 'fine' WHERE number = 1", "Amendment 1 does not match its hash"),
        ("DELETE FROM amendment WHERE number = 1", "Amendment 1 is missing"),
    ],
)
def test_a_change_behind_the_program_is_found(client, sealed, store, change, finding):
    for text in ("one", "two"):
        client.post(f"/api/records/{sealed['id']}/amendments", json={"who": "Sam", "text": text})
    db = store.connection()
    for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        db.execute(f"DROP TRIGGER {name}")
    db.execute(change)
    record = client.get(f"/api/records/{sealed['id']}").get_json()
    assert record["intact"] is False
    assert any(finding in line for line in record["findings"]), record["findings"]


def test_the_tag_is_drawn_and_printed(client, sealed):
    svg = client.get(f"/api/records/{sealed['id']}/tag.svg")
    assert svg.mimetype == "image/svg+xml"
    assert f"PITSPLICE {sealed['id_text']}" in svg.get_data(as_text=True)
    for sheet in ("single", "a4", "letter"):
        pdf = client.get(f"/api/records/{sealed['id']}/tag.pdf?sheet={sheet}")
        assert pdf.mimetype == "application/pdf"
        assert pdf.data.startswith(b"%PDF-")
    told(client.get(f"/api/records/{sealed['id']}/tag.pdf?sheet=a0"), 422, "bad-choice")
    told(client.get("/api/records/22222222/tag.svg"), 404, "no-record")


def test_the_tag_says_what_the_result_tells(client, job):
    fill(client, job["id"])
    finish(client, job["id"])
    client.post(f"/api/jobs/{job['id']}/seal", json={"who": "Sam"})
    svg = client.get(f"/api/records/{job['id']}/tag.svg").get_data(as_text=True)
    for said in ("LEN:8-1/8 IN", "MITRE:60", "END:POINTED", "DATE:2026-03-01", "TUBE:1.625X.120", "SLEEVE:1.875X.120"):
        assert said in svg


def test_a_tag_prints_whatever_form_the_length_was_typed_in(client, job):
    fill(client, job["id"])
    assert save(client, job["id"], "size", {**SIZE, "length": "8⅜\u2033"}, base=1).status_code == 200
    finish(client, job["id"])
    assert client.post(f"/api/jobs/{job['id']}/seal", json={"who": "Sam"}).status_code == 201
    assert "LEN:8-3/8 IN" in client.get(f"/api/records/{job['id']}/tag.svg").get_data(as_text=True)
    assert client.get(f"/api/records/{job['id']}/tag.pdf").data.startswith(b"%PDF-")


def test_canonical_refuses_what_json_cannot_say():
    from core.problems import Problem

    for value in (float("nan"), float("inf"), {1: 2}, {"a": {2}}, "\ud800", b"x"):
        with pytest.raises(Problem) as told_:
            seals.canonical(value)
        assert told_.value.kind == "not-canonical"
    # hand: the order of members does not matter, the value does
    assert seals.seal({"a": 1, "b": 2}) == seals.seal({"b": 2, "a": 1}) != seals.seal({"a": 1, "b": 2.5})
    body = {"id": "A", "sealed_at": "t", "sealed_by": "Sam"}
    findings = seals.verify({**body, "body": {**body, "x": float("nan")}, "sha256": seals.seal(body)}, [])
    assert len(findings) == 1
    assert len(seals.verify({**body, "body": [], "sha256": seals.seal([])}, [])) == 3
