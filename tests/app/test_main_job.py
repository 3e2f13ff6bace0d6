"""The whole main job through the server on the real core, and the command beside it."""

import json
import math
import subprocess
import sys
from pathlib import Path

import pytest
from conftest_helpers import CHOOSE, MEASURE, SIZE, SLEEVE, STOCK, TUBE, finish, save, told

ROOT = Path(__file__).resolve().parents[2]


def test_the_main_job_from_the_hit_to_the_tag(client):
    job = client.post("/api/jobs", json={"title": "Left rail", "who": "Lee"}).get_json()["id"]

    methods = {m["key"]: m for m in client.post("/api/assess", json=MEASURE).get_json()["methods"]}
    assert methods["outer-sleeve"]["standing"] == "open"
    assert methods["larger-tube"]["standing"] == "closed"  # published: AC 43.13-1B 4-97, not near a cluster
    assert methods["inner-sleeve"]["standing"] == "closed"  # common practice, no source: a bead blocks the inner sleeve
    assert save(client, job, "measure", MEASURE).status_code == 200
    assert save(client, job, "choose", CHOOSE).status_code == 200

    bar = {**SLEEVE, "length": "61 in", "heat_number": "H-88", "who": "Lee"}
    item = client.post("/api/stock", json=bar).get_json()
    ask = {"tube": TUBE, "items": [{"id": item["id"], **SLEEVE, "on_hand": "61 in", "heat_number": "H-88"}]}
    best = client.post("/api/stock/candidates", json=ask).get_json()["on_hand"][0]
    assert (best["id"], best["enough"]) == (item["id"], True)
    assert best["clearance"]["nominal"]["in"] == pytest.approx(0.010, abs=1e-12)  # project fact sheet: .010 clearance
    assert save(client, job, "stock", {**STOCK, "item": item["id"]}).status_code == 200

    sized = client.post("/api/size?drawing=1", json=SIZE).get_json()
    length = sized["length"]
    assert round(length["rule"]["in"], 3) == 8.123  # hand: 3 x 1.625 + 1.875 tan 60
    assert round(length["shorthand"]["in"], 3) == 7.690  # common practice: 3 x 1.625 + 1.625 tan 60
    assert length["shorthand"]["text"] == "7-11/16 in"  # common practice: the shop's figure
    assert (length["blank"]["in"], length["blank"]["text"]) == (8.125, "8-1/8 in")  # hand: up to the next 1/16 in
    assert round(sized["weld_line"]["in"], 6) == 7.871864  # reference library: scipy.special.ellipe
    assert sized["overlap"]["required"]["in"] == 2.4375  # published: AC 43.13-1B 4-97, 1.5 D
    assert sized["drawing"].startswith("<svg")

    judged = client.post("/api/size", json={**SIZE, "length": "7-11/16 in"}).get_json()
    shares = {name: judged["overlap"][name]["in"] / 1.625 for name in ("sleeve_outside", "sleeve_inside", "weld_root")}
    # hand: (L/2 - r T) / D on r = .9375, .8175 and .8125
    assert round(shares["sleeve_outside"], 3) == 1.366
    assert round(shares["sleeve_inside"], 3) == 1.494
    assert round(shares["weld_root"], 4) == 1.4994
    verdicts = {check["id"]: check["verdict"] for check in judged["checks"]}
    assert verdicts["overlap"] == "not met"

    assert save(client, job, "size", SIZE).status_code == 200
    taken = {"length": "8-1/8 in", "reason": "sleeve", "job": job, "who": "Lee"}
    assert client.post(f"/api/stock/{item['id']}/take", json=taken).status_code == 200
    told(client.post(f"/api/jobs/{job}/seal", json={"who": "Sam"}), 409, "not-finished")
    finish(client, job)
    record = client.post(f"/api/jobs/{job}/seal", json={"who": "Sam"}).get_json()
    assert record["intact"] is True
    kept = record["body"]["result"]
    assert kept["length"] == length
    assert kept["tag"]["length"] == "8-1/8 in"
    assert "safe" not in json.dumps(record).lower().replace("safety", "")
    assert "approved" not in json.dumps(record).lower()
    assert f"PITSPLICE {record['id_text']}" in client.get(f"/api/records/{job}/tag.svg").get_data(as_text=True)
    assert client.get(f"/api/records/{record['id_text'].lower()}").get_json() == record


def test_the_weld_line_of_a_square_end_is_the_circumference(client):
    square = client.post("/api/size", json={**SIZE, "end": "square", "mitre_deg": None}).get_json()
    assert square["weld_line"]["in"] == pytest.approx(math.pi * 1.625, rel=1e-15)  # hand: pi D = 5.105088


@pytest.mark.parametrize("more", [{}, {"length": "7-11/16 in"}, {"units": "mm", "gap": "0.5 mm", "kerf": "1.6 mm"}, {"end": "scarf"}])
def test_the_command_and_the_server_give_the_same_bytes(client, more):
    raw = json.dumps({**SIZE, **more}).encode("utf-8")
    command = [sys.executable, "-m", "fieldapp.cli", "size"]
    done = subprocess.run(command, cwd=ROOT, input=raw, capture_output=True, check=True)
    answer = client.post("/api/size", data=raw, content_type="application/json")
    # One is indented for reading; the same compact form of both is compared, members in their order.
    compact = json.dumps(json.loads(done.stdout)).encode("utf-8")
    assert compact == answer.data
