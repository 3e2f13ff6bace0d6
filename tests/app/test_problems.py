"""Every error is a problem that says what was given, what is allowed and what to do next."""

import json
import logging
import re
import sqlite3

import pytest
from conftest_helpers import MEASURE, SIZE, SLEEVE, TUBE, told

from fieldapp import services
from fieldapp.strict_json import DEEPEST, read_json


def post(client, raw, **more):
    return client.post("/api/size", data=raw, content_type="application/json", **more)


@pytest.mark.parametrize(
    "raw",
    [
        b"", b"{", b'{"a":}', b"[]", b"1", b"null", b'"text"', b'{"a":NaN}', b'{"a":Infinity}', b'{"a":-Infinity}',
        b'{"a":1e999}', b'{"a":1,"a":2}', b'{"a":{"b":1,"b":1}}', b'{"a":"\xff"}', b'{"a":"\\ud800"}', b'{"\\udfff":1}',
        b'{"a":' + b"9" * 5000 + b"}", b'{"a":99999999999999999999}', b"[" * 100_000, b'{"a":' * 50 + b"1" + b"}" * 50,
        '{"a":1}'.encode("utf-16"), b"\xef\xbb\xbf{}", b"{'a':1}", b'{"a":01}', b'{"a":1}x',
    ],
)  # fmt: skip
def test_a_body_that_is_no_strict_json_object_is_told(client, raw):
    told(post(client, raw), 400, "bad-json")


def test_depth_has_a_limit_and_up_to_it_is_read():
    # hand: the outermost value is level 1, so 31 arrays around a number make 32 levels
    assert read_json(b"[" * (DEEPEST - 1) + b"1" + b"]" * (DEEPEST - 1))


def test_http_errors_are_problems(client):
    told(client.get("/api/nothing"), 404, "not-found")
    told(client.post("/api/nothing", json={}), 404, "not-found")
    told(client.post("/page", json={}), 404, "not-found")
    answer = client.delete("/api/jobs", headers={"Origin": "http://localhost"})
    told(answer, 405, "method-not-allowed")
    assert answer.headers["Allow"] == "GET, HEAD, OPTIONS, POST"
    told(client.post("/api/size", data=b"{}", content_type="text/csv"), 415, "bad-content-type")
    told(post(client, b" " * (8 * 1024 * 1024 + 1)), 413, "too-large")
    told(post(client, b"", environ_overrides={"CONTENT_LENGTH": str(10**12)}), 413, "too-large")


def test_a_body_without_a_length_is_refused(client):
    headers = {"Transfer-Encoding": "chunked"}
    told(post(client, b"", environ_overrides={"CONTENT_LENGTH": ""}, headers=headers), 411, "no-length")


def test_a_core_problem_names_its_field(client):
    body = told(client.get("/api/length?text=1,625"), 422, "ask-length")
    assert body["given"] == "1,625"
    told(client.get("/api/length?text=1&role=hat"), 422, "bad-choice")
    told(client.get("/api/length?text=1&unit=ft"), 422, "bad-choice")
    told(client.get("/api/length?text=1&allow_zero=yes"), 422, "bad-choice")
    told(client.get("/api/length"), 422, "bad-length")


def test_a_length_is_echoed_in_both_units(client):
    # hand: 1-5/8 in = 1.625 in = 41.275 mm
    assert client.get("/api/length?text=1-5/8").get_json() == {
        "typed": "1-5/8", "in": 1.625, "mm": 41.275, "echo": "1-5/8 in = 1.625 in = 41.28 mm",
    }  # fmt: skip
    assert client.get("/api/length?text=3&unit=mm&role=wall").get_json()["mm"] == 3
    assert client.get("/api/length?text=0&allow_zero=1").get_json()["in"] == 0


def test_compute_routes_pass_the_body_on_and_answer_the_result(client):
    for path, body, compute in (
        ("size", SIZE, services.size), ("assess", MEASURE, services.assess),
        ("stock/candidates", {"tube": TUBE, "items": [{"id": 1, **SLEEVE, "on_hand": "9 in", "note": "é"}]}, services.candidates),
    ):  # fmt: skip
        answer = client.post(f"/api/{path}", json=body)
        assert answer.status_code == 200
        assert answer.get_json() == json.loads(json.dumps(compute(body)))
    assert client.get("/api/choices").get_json() == json.loads(json.dumps(services.choices()))
    drawn = client.post("/api/size?drawing=1", json=SIZE).get_json()
    assert drawn.pop("drawing") == services.drawing(SIZE)
    assert drawn == json.loads(json.dumps(services.size(SIZE)))
    told(client.post("/api/size?drawing=2", json=SIZE), 422, "bad-choice")
    health = client.get("/api/health").get_json()
    assert re.fullmatch("[0-9a-f]{32}", health.pop("generation"))
    assert health == {
        "name": "Pitsplice", "version": "0.1.0", "demo": False, "time": "2026-03-01T10:00:00Z", "restored": None,
        "backup_trouble": "", "role": "plan", "device": None,
    }  # fmt: skip


def test_a_fault_of_the_program_gives_a_number_and_no_traceback(client, monkeypatch, caplog):
    def fail(data, sheet=None):
        raise RuntimeError("inner detail")

    monkeypatch.setattr(services, "size", fail)
    with caplog.at_level(logging.ERROR, "pitsplice"):
        answer = client.post("/api/size", json={})
    body = told(answer, 500, "internal")
    number = body["given"].removeprefix("error number ")
    assert f"error {number} at POST /api/size" in caplog.text
    assert "inner detail" in caplog.text
    assert "inner detail" not in answer.get_data(as_text=True)


def test_a_number_the_core_should_not_return_is_a_fault_not_bad_json(client, monkeypatch):
    monkeypatch.setattr(services, "size", lambda data, sheet=None: {"mm": float("nan")})
    told(client.post("/api/size", json={}), 500, "internal")


def test_a_full_disk_says_that_nothing_was_saved(client, store, job):
    pages = store.connection().execute("PRAGMA page_count").fetchone()[0]
    store.connection().execute(f"PRAGMA max_page_count = {pages}")
    ask = {"title": "A", "who": "Lee"}
    codes = [client.post("/api/jobs", json=ask).status_code for _ in range(200)]
    assert 503 in codes
    answer = client.post("/api/jobs", json=ask)
    assert "Nothing was saved" in told(answer, 503, "not-saved")["title"]
    store.connection().execute("PRAGMA max_page_count = 100000")
    assert len(client.get("/api/jobs").get_json()["jobs"]) == 1 + codes.count(201)
    assert client.post("/api/jobs", json=ask).status_code == 201


def test_a_locked_file_says_that_nothing_was_saved(client, store):
    store.connection().execute("PRAGMA busy_timeout = 20")
    other = sqlite3.connect(store.path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    answer = client.post("/api/jobs", json={"title": "A", "who": "Lee"})
    other.close()
    told(answer, 503, "not-saved")
    assert answer.headers["Retry-After"] == "2"
    assert client.get("/api/jobs").get_json()["jobs"] == []


def test_a_damaged_file_is_told(client, store, monkeypatch):
    def damaged(db):
        error = sqlite3.DatabaseError("database disk image is malformed")
        error.sqlite_errorcode = 11
        raise error

    monkeypatch.setattr("fieldapp.store.jobs.every", damaged)
    assert "backup" in told(client.get("/api/jobs"), 503, "not-saved")["next"]
