"""The stock list, its ledger and its CSV file."""

import io
import threading

import pytest
from conftest_helpers import told
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fieldapp import stock_csv

BAR = {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020", "length": "6 ft 0 in", "who": "Lee"}


def add(client, **change):
    """Add a bar and return it."""
    answer = client.post("/api/stock", json={**BAR, **change})
    assert answer.status_code == 201, answer.get_json()
    return answer.get_json()


def test_a_bar_is_listed_with_what_was_typed_and_its_length(client):
    item = add(client, seam="none", heat_number="H7", certificate="C-12", location="rack 3", note="end is bent")
    assert client.get("/api/stock").get_json() == {"items": [item]}
    # hand: 1-7/8 = 1.875 in = 47.625 mm; 6 ft = 72 in
    assert item["od"] == {"typed": "1-7/8 in", "in": 1.875, "mm": 47.625}
    assert (item["on_hand"]["in"], item["on_hand"]["text"]) == (72, "72 in")
    assert (item["heat_number"], item["location"], item["seam"]) == ("H7", "rack 3", "none")


def test_length_on_hand_is_the_exact_sum_and_reads_rounded_down(client):
    item = add(client)
    path = f"/api/stock/{item['id']}"
    left = client.post(f"{path}/take", json={"length": "8.123 in", "reason": "sleeve", "who": "Lee"}).get_json()
    # hand: 72 - 8.123 = 63.877, rounded down to 63-14/16
    assert (left["on_hand"]["exact"], left["on_hand"]["text"]) == ("63.877 in", "63-7/8 in")
    back = client.post(f"{path}/return", json={"length": "41.3 mm", "reason": "remnant", "who": "Lee"}).get_json()
    # hand: 63.877 * 25.4 + 41.3 = 1663.7758 mm
    assert back["on_hand"]["exact"] == "1663.7758 mm"
    counted = client.post(f"{path}/adjust", json={"length": "5 ft 2 in", "reason": "counted", "who": "Sam"}).get_json()
    assert counted["on_hand"]["in"] == 62
    ledger = client.get(f"{path}/moves").get_json()["moves"]
    assert [move["kind"] for move in ledger] == ["add", "take", "return", "adjust"]
    assert [move["left"]["text"] for move in ledger] == ["72 in", "63-7/8 in", "65-1/2 in", "62 in"]


def test_no_more_is_taken_than_is_there(client):
    item = add(client, length="10 in")
    path = f"/api/stock/{item['id']}/take"
    body = told(client.post(path, json={"length": "10-1/64 in", "reason": "x", "who": "Lee"}), 409, "not-enough-stock")
    assert body["on_hand"]["in"] == 10
    assert "10 in" in body["allowed"]
    assert client.post(path, json={"length": "254 mm", "reason": "x", "who": "Lee"}).get_json()["on_hand"]["in"] == 0
    told(client.post(path, json={"length": "1 mm", "reason": "x", "who": "Lee"}), 409, "not-enough-stock")


def test_a_take_names_a_job_that_is_there(client, job):
    path = f"/api/stock/{add(client)['id']}"
    ask = {"length": "8 in", "reason": "sleeve", "who": "Lee"}
    told(client.post(f"{path}/take", json={**ask, "job": "22222222"}), 404, "no-job")
    assert client.post(f"{path}/take", json={**ask, "job": job["id_text"]}).status_code == 200
    assert client.get(f"{path}/moves").get_json()["moves"][-1]["job"] == job["id"]


def test_a_bad_bar_tells_every_problem_at_once(client):
    body = told(
        client.post("/api/stock", json={"od": "12,7 mm", "wall": "134", "material": "tin", "who": "Lee"}),
        422,
        "ask-length",
    )
    fields = [body["field"], *(other["field"] for other in body["others"])]
    assert fields == ["od", "wall", "material", "length"]
    told(client.post("/api/stock", json={**BAR, "length": "1/3 in"}), 422, "too-fine")
    told(client.post("/api/stock", json={**BAR, "length": "101 ft 0 in"}), 422, "out-of-range")
    told(client.post("/api/stock", json={**BAR, "length": "0"}), 422, "bad-length")
    told(client.post("/api/stock", json={**BAR, "note": "x" * 2001}), 422, "bad-text")
    told(client.get("/api/stock/99/moves"), 404, "no-stock-item")
    told(client.get(f"/api/stock/{2**70}/moves"), 404, "no-stock-item")
    item = add(client, length="100 ft 0 in")
    told(
        client.post(f"/api/stock/{item['id']}/return", json={"length": "1 in", "reason": "x", "who": "L"}),
        422,
        "out-of-range",
    )


def test_what_is_written_beside_an_item_changes_and_its_size_does_not(client):
    item = add(client)
    changed = client.put(f"/api/stock/{item['id']}", json={"location": "van", "note": "a\nb"}).get_json()
    assert changed == {**item, "location": "van", "note": "a\nb"}
    (change,) = client.get(f"/api/stock/{item['id']}/moves").get_json()["changes"]
    assert change["before"] == {"location": "", "note": ""}
    told(client.put(f"/api/stock/{item['id']}", json={"od": "2 in"}), 422, "unknown-member")
    told(client.put("/api/stock/7", json={"note": ""}), 404, "no-stock-item")


def test_two_takes_at_once_cannot_both_have_the_last_length(app, client):
    item = add(client, length="10 in")
    start, codes = threading.Barrier(8), []

    def take():
        mine = app.test_client()
        start.wait()
        codes.append(
            mine.post(f"/api/stock/{item['id']}/take", json={"length": "6 in", "reason": "x", "who": "L"}).status_code
        )

    threads = [threading.Thread(target=take) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(codes) == [200] + [409] * 7
    assert client.get("/api/stock").get_json()["items"][0]["on_hand"]["in"] == 4


def load(client, text, **more):
    raw = text if isinstance(text, bytes) else text.encode()
    return client.post("/api/stock/import?who=Lee", data=raw, content_type="text/csv", **more)


def test_a_file_goes_in_whole_or_not_at_all(client):
    body = told(
        load(client, 'od,wall,material,length\n1 in,.120 in,dom-1020,20 in\n1 in,134,dom-1020,"12,5 mm"\n'),
        422,
        "bad-rows",
    )
    assert [(row["row"], row["field"]) for row in body["rows"]] == [(3, "wall"), (3, "length")]
    assert all(row["allowed"] and row["next"] for row in body["rows"])
    assert client.get("/api/stock").get_json()["items"] == []
    answer = load(client, "od,wall,material,length\n1 in,.120 in,dom-1020,20 in\n\n2 in,134 thou,erw-1020,0\n")
    assert (answer.status_code, answer.get_json()["imported"]) == (201, 2)


@pytest.mark.parametrize(
    "text",
    [
        "\ufeffOD,Wall,Material,Length,Heat number\r\n1 in,.120 in,dom-1020,20 in,H1\r\n",
        "od;wall;material;length;heat_number\n1 in;.120 in;dom-1020;20 in;H1\n",
        "od\twall\tmaterial\tlength\theat_number\n1 in\t.120 in\tdom-1020\t20 in\tH1\n",
        'length,"heat-number",od,wall,material,,\n20 in,H1,1 in,.120 in,dom-1020,,\n',
    ],
)
def test_files_as_spreadsheets_save_them_are_read(client, text):
    item = load(client, text).get_json()["items"][0]
    assert (item["od"]["in"], item["on_hand"]["in"], item["heat_number"]) == (1, 20, "H1")


@pytest.mark.parametrize(
    ("raw", "kind"),
    [
        (b"", "bad-csv"), (b"\xff\xfeo\x00d\x00", "bad-csv"), (b"od,wall\n1,2\n", "bad-csv"),
        (b"od,od,wall,material,length\n", "bad-csv"), (b"od,wall,material,length,colour\n", "bad-csv"),
        (b'od,wall,material,length\n"1 in,2\n', "bad-csv"), (b"od,wall,material,length\n1 in,.1 in,dom-1020,1 in,extra\n", "bad-rows"),
        (b"od,wall,material,length\n" + b"1 in,.1 in,dom-1020,1 in\n" * 5001, "bad-csv"),
    ],
)  # fmt: skip
def test_a_file_that_is_no_stock_table_is_told(client, raw, kind):
    told(load(client, raw), 422, kind)


def test_a_file_comes_by_form_too_and_needs_a_name(client):
    text = b"od,wall,material,length\n1 in,.120 in,dom-1020,20 in\n"
    form = {"file": (io.BytesIO(text), "stock.csv"), "who": "Lee"}
    own = {"Origin": "http://localhost"}
    assert client.post("/api/stock/import", data=form, headers=own).status_code == 201
    told(client.post("/api/stock/import", data=text, content_type="text/csv"), 422, "missing")
    told(client.post("/api/stock/import?who=L", json={}), 415, "bad-content-type")
    told(client.post("/api/stock/import?who=L", data={"x": "y"}, headers=own), 415, "bad-content-type")


def test_a_repeated_import_adds_nothing(client):
    text = "od,wall,material,length\n1 in,.120 in,dom-1020,20 in\n"
    first = load(client, text, headers={"Idempotency-Key": "k"})
    again = load(client, text, headers={"Idempotency-Key": "k"})
    assert first.data == again.data
    assert len(client.get("/api/stock").get_json()["items"]) == 1


CELL = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zl", "Zp"]), max_size=20)
RISKY = st.builds(str.__add__, st.sampled_from(["=", "+", "-", "@", "'", "'=", "''-", '"', ";"]), CELL)


@given(
    cells=st.lists(st.tuples(CELL | RISKY, RISKY, RISKY | CELL), min_size=1, max_size=4),
    parts=st.lists(st.sampled_from(["1/64 in", "0.01 mm", "8.1234 in", "3 mm"]), max_size=3),
)
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_export_then_import_gives_the_same_table(client, store, cells, parts):
    _empty(store)
    for heat, place, note in cells:
        item = add(client, heat_number=heat, location=place, note=note)
        for part in parts:
            client.post(f"/api/stock/{item['id']}/take", json={"length": part, "reason": "x", "who": "L"})
    before, table = client.get("/api/stock").get_json(), client.get("/api/stock.csv").data
    for line in table.decode().splitlines()[1:]:
        assert not line.startswith(("=", "+", "-", "@"))
    _empty(store)
    answer = load(client, table)
    assert answer.status_code == 201, answer.get_json()
    assert client.get("/api/stock").get_json() == before


def _empty(store):
    db = store.connection()
    for name in ("stock_move_kept", "stock_change_kept"):
        db.execute(f"DROP TRIGGER IF EXISTS {name}")
    db.execute("DELETE FROM stock_change")
    db.execute("DELETE FROM stock_move")
    db.execute("DELETE FROM stock_item")


@given(st.text(max_size=12) | RISKY)
def test_a_guarded_cell_is_no_formula_and_comes_back(cell):
    out = stock_csv.guarded(cell)
    assert out[:1] not in tuple("=+-@\t\r") or not out
    assert stock_csv.unguarded(out) == cell
