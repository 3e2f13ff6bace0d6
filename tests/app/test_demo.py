"""The demo: it loads, its record holds, and nothing in it passes for a real repair."""

import io
import json
import re
from pathlib import Path

import pytest
from conftest_helpers import SHELL
from pypdf import PdfReader

from fieldapp import create_app, demo
from fieldapp.config import Settings

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def shown(tmp_path):
    static = tmp_path / "static"
    static.mkdir()
    (static / "index.html").write_text(SHELL)
    app = create_app(Settings(tmp_path / "data", static_dir=static, demo=True))
    store = app.extensions["pitsplice-store"]
    demo.load(store)
    yield app.test_client()
    store.close()


def test_the_demo_has_a_rack_a_sealed_record_and_two_open_jobs(shown):
    jobs = shown.get("/api/jobs").get_json()["jobs"]
    assert sorted(job["state"] for job in jobs) == ["open", "open", "sealed"]
    items = shown.get("/api/stock").get_json()["items"]
    assert len(items) == len(demo.RACK)
    moves = shown.get("/api/stock/1/moves").get_json()["moves"]
    assert [move["kind"] for move in moves] == ["add", "take"]


def test_the_demo_s_record_is_intact_and_its_checklist_done(shown):
    record = sealed(shown)
    assert (record["intact"], record["findings"]) == (True, [])
    assert record["body"]["checklist"]["state"]["finished"]
    # hand: two sleeves of 3 x 1.625 + 1/64 + 1.875 tan 60 = 8.138, each up to 8-3/16 in
    assert record["body"]["result"]["length"]["blank"]["text"] == "8-3/16 in"


def test_everything_in_the_demo_is_marked(shown):
    assert shown.get("/api/health").get_json()["demo"] is True
    jobs = shown.get("/api/jobs").get_json()["jobs"]
    assert all(job["demo"] and job["title"].startswith("DEMO") for job in jobs)
    record = sealed(shown)
    assert record["body"]["demo"] is True
    assert all("DEMO" in (item["heat_number"] or "DEMO") for item in shown.get("/api/stock").get_json()["items"])
    svg = shown.get(f"/api/records/{record['id']}/tag.svg").get_data(as_text=True)
    assert f"PITSPLICE {record['id_text']} DEMO" in svg
    pdf = PdfReader(io.BytesIO(shown.get(f"/api/records/{record['id']}/tag.pdf").data))
    assert "DEMO" in pdf.pages[0].extract_text()


def test_every_person_in_the_demo_is_named_as_invented(shown):
    told = json.dumps([shown.get(f"/api/jobs/{job['id']}").get_json() for job in shown.get("/api/jobs").get_json()["jobs"]])
    told += json.dumps(sealed(shown))
    people = set(re.findall(r'"(?:who|created_by|sealed_by)": "([^"]*)"', told))
    assert people == {demo.CHIEF, demo.WELDER}
    assert all(name.startswith("Demo ") for name in people)
    assert not re.search(r"https?://(?!www\.w3\.org)", (ROOT / "fieldapp" / "demo.py").read_text(encoding="utf-8"))


def sealed(client):
    """Return the demo's one record."""
    (one,) = [job for job in client.get("/api/jobs").get_json()["jobs"] if job["state"] == "sealed"]
    return client.get(f"/api/records/{one['id']}").get_json()
