"""The rule sheet in the data folder: read at start, told when it is bad, never in the way."""

import pytest
from conftest_helpers import MEASURE, fill, finish, told

from fieldapp.rule_sheet import load

# Invented rules.
SHEET = '[[rule]]\nmember = "main hoop"\nmin_wall = ".134 in"\ncitation = "Invented 2.1"\n'


@pytest.fixture
def with_sheet(app, tmp_path):
    (tmp_path / "data" / "rules.toml").write_text(SHEET, encoding="utf-8-sig")
    app.extensions["pitsplice-rules"] = load(tmp_path / "data")
    return app.test_client()


def test_without_a_sheet_there_are_no_members(client):
    assert client.get("/api/rules").get_json() == {"members": [], "source": "", "problem": None}
    assert "shop_rules" not in client.post("/api/assess", json=MEASURE).get_json()
    told(client.post("/api/assess", json={**MEASURE, "member": "main hoop"}), 422, "bad-member")


def test_a_sheet_is_listed_and_its_checks_are_answered(with_sheet):
    assert with_sheet.get("/api/rules").get_json() == {"members": ["main hoop"], "source": "rules.toml", "problem": None}
    (check,) = with_sheet.post("/api/assess", json={**MEASURE, "member": "main hoop"}).get_json()["shop_rules"]
    assert (check["clause"], check["verdict"], check["limit"]) == ("Invented 2.1", "not met", "at least .134 in")
    body = told(with_sheet.post("/api/assess", json={**MEASURE, "member": "roof bar"}), 422, "bad-member")
    assert (body["allowed"], body["field"]) == ("main hoop.", "member")


@pytest.mark.parametrize(
    ("files", "kind"),
    [({"rules.csv": b"member,citation\n"}, "bad-rule-sheet"), ({"rules.toml": b"\xff\xfe"}, "rule-sheet-file"),
     ({"rules.toml": SHEET.encode(), "rules.csv": b""}, "rule-sheet-file"), ({"rules.csv": b"member,min_od,citation\na,1 in,C\nb,big,C"}, "bad-length")],
)  # fmt: skip
def test_a_bad_file_is_told_and_the_server_runs_without_it(app, tmp_path, files, kind):
    for name, raw in files.items():
        (tmp_path / "data" / name).write_bytes(raw)
    loaded = app.extensions["pitsplice-rules"] = load(tmp_path / "data")
    client = app.test_client()
    body = client.get("/api/rules").get_json()
    assert (body["members"], body["source"]) == ([], " and ".join(sorted(files, reverse=True)))
    assert body["problem"]["type"].endswith(f":{kind}") and body["problem"]["next"]
    assert loaded.lines()[0].startswith("Rule sheet rules.")
    assert client.post("/api/assess", json=MEASURE).status_code == 200


def test_a_folder_in_place_of_the_file_is_told(tmp_path):
    (tmp_path / "rules.csv").mkdir()
    assert load(tmp_path).problem.kind == "rule-sheet-file"


def test_the_checks_are_sealed_and_a_lost_sheet_keeps_the_job(app, with_sheet):
    job = with_sheet.post("/api/jobs", json={"title": "Hoop", "who": "Lee"}).get_json()["id"]
    fill(with_sheet, job)
    section = {"base_revision": 1, "data": {**MEASURE, "member": "main hoop"}, "who": "Lee"}
    assert with_sheet.put(f"/api/jobs/{job}/sections/measure", json=section).status_code == 200
    finish(with_sheet, job)
    kept = app.extensions["pitsplice-rules"]
    app.extensions["pitsplice-rules"] = type(kept)()
    body = told(with_sheet.post(f"/api/jobs/{job}/seal", json={"who": "Sam"}), 409, "not-finished")
    assert [one["section"] for one in body["missing"]] == ["measure"]
    assert "put the rule sheet back" in body["missing"][0]["what"]
    app.extensions["pitsplice-rules"] = kept
    record = with_sheet.post(f"/api/jobs/{job}/seal", json={"who": "Sam"}).get_json()
    assert record["body"]["assessment"]["shop_rules"][0]["verdict"] == "not met"
