"""A store in a temporary folder, a clock that the test sets, and the app's test client."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from flask import Flask

from fieldapp import create_app
from fieldapp.config import Settings
from fieldapp.store import Store

sys.path.insert(0, str(Path(__file__).parent))

from conftest_helpers import SHELL, Buffered, Clock, fill, finish


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def app(tmp_path, clock, monkeypatch):
    static = tmp_path / "static"
    static.mkdir()
    (static / "index.html").write_text(SHELL)
    (static / "page.js").write_text("export {};")
    monkeypatch.setattr(Flask, "test_client_class", Buffered)
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


@pytest.fixture
def sealed(client, job):
    fill(client, job["id"])
    finish(client, job["id"])
    answer = client.post(f"/api/jobs/{job['id']}/seal", json={"who": "Sam"})
    assert answer.status_code == 201, answer.get_json()
    return answer.get_json()
