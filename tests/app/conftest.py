"""A store in a temporary folder, a clock that the test sets, and the app's test client."""

from __future__ import annotations

import pytest

from fieldapp import create_app, services
from fieldapp.config import Settings
from fieldapp.store import Store

SHELL = "<!doctype html><title>Pitsplice</title>"
TUBE = {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020"}
SLEEVE = {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020"}


class Clock:
    """Gives the time a test sets."""

    def __init__(self) -> None:
        self.time = "2026-03-01T10:00:00Z"

    def __call__(self) -> str:
        return self.time


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def app(tmp_path, clock, monkeypatch):
    static = tmp_path / "static"
    static.mkdir()
    (static / "index.html").write_text(SHELL)
    (static / "page.js").write_text("export {};")
    # The core's own tests check what it computes; here only what the server does with it counts.
    monkeypatch.setattr(services, "size", lambda data: {"given": data, "third": 1 / 3})
    monkeypatch.setattr(services, "assess", lambda data: {"given": data})
    monkeypatch.setattr(services, "candidates", lambda data: {"given": data})
    monkeypatch.setattr(services, "choices", lambda: {"materials": []})
    made = create_app(Settings(tmp_path / "data", static_dir=static))
    store: Store = made.extensions["pitsplice-store"]
    store.now = clock
    yield made
    store.close()


@pytest.fixture
def store(app):
    return app.extensions["pitsplice-store"]


@pytest.fixture
def client(app):
    return app.test_client()


@pytest.fixture
def job(client):
    return client.post("/api/jobs", json={"title": "Left main hoop", "who": "Lee"}).get_json()


def save(client, job_id, name, data, base=0, **headers):
    """Save a section."""
    body = {"base_revision": base, "data": data, "who": "Lee"}
    return client.put(f"/api/jobs/{job_id}/sections/{name}", json=body, headers=headers)


def fill(client, job_id):
    """Save the sections a record needs."""
    for name, data in (
        ("measure", {"tube": TUBE}),
        ("assess", {"damage": "dent"}),
        ("choose", {"method": "outer-sleeve", "reason": "No room for the larger tube."}),
        ("size", {"tube": TUBE, "sleeve": SLEEVE, "end": "pointed"}),
    ):
        assert save(client, job_id, name, data).status_code == 200


def finish(client, job_id):
    """Mark every step of the checklist done, with a reading where one is asked."""
    made = client.get(f"/api/jobs/{job_id}/checklist").get_json()["checklist"]
    for group in made["groups"]:
        for step in group["steps"]:
            mark = {"step": step["key"], "action": "done", "who": "Lee"}
            hold = step.get("hold")
            if hold:
                low = hold.get("low") or "0"
                mark["value"] = f"{hold['limit'] or low} s" if hold["unit"] == "s" else f"{hold['limit'] or '1'} in"
            answer = client.post(f"/api/jobs/{job_id}/steps", json=mark)
            assert answer.status_code == 200, (mark, hold, answer.get_json())


@pytest.fixture
def sealed(client, job):
    fill(client, job["id"])
    finish(client, job["id"])
    answer = client.post(f"/api/jobs/{job['id']}/seal", json={"who": "Sam"})
    assert answer.status_code == 201, answer.get_json()
    return answer.get_json()


def told(answer, status, kind):
    """Assert that an answer is the problem of that kind, complete, and return it."""
    assert answer.status_code == status, answer.get_data(as_text=True)
    assert answer.mimetype == "application/problem+json"
    body = answer.get_json()
    assert body["type"] == f"urn:pitsplice:problem:{kind}", body
    assert body["status"] == status
    assert body["title"] and body["allowed"] and body["next"]
    assert "given" in body and "Traceback" not in answer.get_data(as_text=True)
    return body
