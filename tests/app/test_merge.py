"""Import: another laptop's export is taken in by uid, once, and nothing here is lost."""

import json
import shutil

import pytest
from conftest_helpers import CHOOSE
from data_helpers import add_photo, fill_store, rows_of

from core.lengths import read_length
from core.problems import Problem
from core.record import seal as seal_of
from fieldapp import cli, merge
from fieldapp.export import ROWS_FILE, export
from fieldapp.store import Store, check, jobs, records, rows, stock
from fieldapp.store.connection import FILE_NAME


@pytest.fixture
def laptop(tmp_path, clock):
    """Make stores in folders of their own, closed at the end."""
    made = []

    def make(name):
        made.append(Store(tmp_path / name, clock))
        return made[-1]

    yield make
    for store in made:
        store.close()


@pytest.fixture
def carry(tmp_path):
    """Export one laptop's data and import it on another; return the report."""
    trips = []

    def take(one, other):
        trips.append(tmp_path / f"trip-{len(trips)}")
        export(one, trips[-1])
        return merge.import_folder(other, trips[-1])

    return take


def content(store):
    """Return what a data set says, as sets: without the numbers a laptop gives by itself.

    Section revisions count the same whether they are the newest here or stand beside it, and an
    amendment's place in the chain is each laptop's own.
    """
    with store.read() as db:
        found = rows.raw(db)
    items = {row["id"]: row["uid"] for row in found["stock_item"]}
    own = {"id", "row_sha256", "revision", "beside", "number", "previous_sha256"}
    said = {}
    for name, table in found.items():
        left_out = own - {"id"} if name in ("job", "record", "photo") else own
        if name == "amendment":
            left_out = left_out | {"sha256"}
        said[name] = {
            tuple(sorted((k, items[v] if k == "item_id" else v) for k, v in row.items() if k not in left_out))
            for row in table
        }
    said["job_section"] |= said.pop("section_conflict")
    return said


def new_job(store, title="Left main hoop"):
    with store.write() as db:
        return jobs.create(db, store, title, "Lee")["id"]


def save(store, job_id, data, who="Lee", name="make"):
    with store.write() as db:
        current = jobs.get(db, job_id)["sections"].get(name)
        return jobs.save_section(db, store, job_id, name, current["revision"] if current else 0, data, who)


def note(store, job_id, text, who="Lee"):
    with store.write() as db:
        return jobs.add_event(db, store, job_id, {"step": "gap", "action": "note", "who": who, "reason": text}, None)


def get(store, job_id):
    with store.read() as db:
        return jobs.get(db, job_id)


def test_an_empty_laptop_gets_everything_and_a_second_time_nothing(laptop, carry):
    one, two = laptop("one"), laptop("two")
    fill_store(one)
    report = carry(one, two)
    assert report.told == []
    assert all(report.added[name] for name in ("job", "job_section", "step_event", "record", "amendment", "photo", "stock_item", "stock_move", "stock_change", "operation"))
    assert content(one) == content(two)
    before = rows_of(two.path, without=())
    again = carry(one, two)
    assert (sum(again.added.values()), again.told) == (0, [])
    assert rows_of(two.path, without=()) == before
    # And back: the first laptop knows all of it.
    assert sum(carry(two, one).added.values()) == 0
    with two.read() as db:
        assert all(record["intact"] for record in records.every(db))
    two.close()
    assert check.look(two.path).findings == []


def test_two_laptops_merged_both_ways_have_the_same(laptop, carry, clock):
    one, two = laptop("one"), laptop("two")
    fill_store(one)
    fill_store(two)
    shared = new_job(one, "Shared")
    save(one, shared, {"n": 1})
    carry(one, two)
    for store, who in ((one, "Ada"), (two, "Ben")):
        clock.time = f"2026-03-02T1{len(who)}:00:00Z"
        new_job(store, f"Made by {who}")
        note(store, shared, f"Seen by {who}", who)
        save(store, shared, {"n": who}, who)
        save(store, shared, {"n": who * 2}, who)
        with store.write() as db:
            add_photo(db, store, shared, colour=(len(who), 1, ord(who[0])), who=who)
            item = stock.every(db)[-1]["id"]
            stock.take(db, store, item, read_length("1 in"), f"by {who}", shared, who)
            record = records.every(db)[0]["id"]
            records.amend(db, store, record, who, f"Looked at by {who}")
    first = carry(two, one)
    second = carry(one, two)
    assert content(one) == content(two)
    for store in (one, two):
        with store.read() as db:
            assert all(record["intact"] for record in records.every(db))
    assert any("section make: both laptops went on" in line for line in first.told)
    assert any("section make: both laptops went on" in line for line in second.told)
    # Nothing moves any more, whichever way it goes.
    for pair in ((one, two), (two, one)):
        assert sum(carry(*pair).added.values()) == 0


def test_sections_that_went_apart_keep_the_newest_here_and_show_the_other(laptop, carry):
    one, two = laptop("one"), laptop("two")
    job = new_job(one)
    save(one, job, {"n": 1})
    carry(one, two)
    save(one, job, {"n": "one"}, "Ada")
    save(two, job, {"n": "two"}, "Ben")
    report = carry(two, one)
    found = get(one, job)
    assert found["sections"]["make"]["data"] == {"n": "one"}
    assert [(c["name"], c["data"], c["who"]) for c in found["conflicts"]] == [("make", {"n": "two"}, "Ben")]
    assert "Ben" in report.told[0]
    # A person compares and saves: on that laptop it is dealt with.
    save(one, job, {"n": "both"}, "Ada")
    assert get(one, job)["conflicts"] == []
    # The other laptop gets it as the next revision: whoever saved it had seen what was there.
    told = carry(one, two)
    assert told.told == []
    assert get(two, job)["sections"]["make"]["data"] == {"n": "both"}
    assert get(two, job)["conflicts"] == []
    assert content(one) == content(two)


def test_one_who_only_followed_catches_up(laptop, carry):
    one, two = laptop("one"), laptop("two")
    job = new_job(one)
    save(one, job, {"n": 1})
    carry(one, two)
    save(two, job, {"n": 2})
    save(two, job, {"n": 3})
    report = carry(two, one)
    assert (report.told, report.added["job_section"]) == ([], 2)
    assert get(one, job)["sections"]["make"] == {**get(two, job)["sections"]["make"], "revision": 3}
    assert get(one, job)["conflicts"] == []


def test_another_job_with_the_same_id_is_told_and_not_mixed_in(laptop, carry):
    one, two = laptop("one"), laptop("two")
    job = new_job(one, "Mine")
    note(one, job, "mine")
    with two.write() as db:
        jobs.create(db, two, "Theirs", "Ben", job)
    note(two, job, "theirs")
    other = new_job(two, "Another")
    with two.write() as db:
        add_photo(db, two, job)
    report = carry(two, one)
    assert "is another job here" in report.told[0] and "Theirs" in report.told[0]
    found = get(one, job)
    assert (found["title"], len(found["steps"]), found["photos"]) == ("Mine", 1, [])
    assert get(one, other)["title"] == "Another"


def seal(store, job_id, who):
    with store.write() as db:
        job = jobs.get(db, job_id)
        body = {"id": job_id, "sealed_at": store.now(), "sealed_by": who, "photos": job["photos"]}
        return records.seal(db, body)


def test_a_job_sealed_on_one_laptop_keeps_what_the_other_did_beside_it(laptop, carry):
    one, two = laptop("one"), laptop("two")
    job = new_job(one)
    save(one, job, CHOOSE, name="choose")
    carry(one, two)
    note(two, job, "not in the record")
    save(two, job, {"n": 2})
    seal(one, job, "Ada")
    sealed_there = carry(one, two)
    assert "was sealed on the other laptop. 2 step marks" in sealed_there.told[0]
    assert get(two, job)["state"] == "sealed"
    sealed_here = carry(two, one)
    assert any("1 step marks from the other laptop" in line for line in sealed_here.told)
    assert [event["reason"] for event in get(one, job)["steps"]] == ["not in the record"]
    assert [c["data"] for c in get(one, job)["conflicts"]] == [{"n": 2}]
    assert content(one) == content(two)


def test_a_record_sealed_twice_stays_as_it_is_here(laptop, carry):
    one, two = laptop("one"), laptop("two")
    job = new_job(one)
    carry(one, two)
    mine = seal(one, job, "Ada")
    seal(two, job, "Ben")
    assert "sealed on both laptops" in carry(two, one).told[0]
    with one.read() as db:
        assert records.get(db, job) == mine


def test_both_took_from_one_bar_and_both_wrote_beside_it(laptop, carry, clock):
    one, two = laptop("one"), laptop("two")
    fill_store(one)
    carry(one, two)
    for store, who in ((one, "Ada"), (two, "Ben")):
        clock.time = f"2026-03-0{3 if who == 'Ada' else 2}T10:00:00Z"
        with store.write() as db:
            # hand: 14-1/2 in on hand; twice 10 in is more than there is
            stock.take(db, store, 2, read_length("10 in"), "sleeve", None, who)
            stock.describe(db, store, 2, {"note": f"{who} has it"}, who)
    report = carry(two, one)
    assert any("Bar 2: more was taken" in line for line in report.told)
    assert any("Bar 2: what is written beside it was changed on both" in line for line in report.told)
    with one.read() as db:
        item = stock.get(db, 2)
        assert (item["note"], item["on_hand"]["exact"]) == ("Ada has it", "-5.5 in")
        assert [c["after"]["note"] for c in stock.changes(db, 2)] == ["short end", "Ada has it", "Ben has it"]


def edit(folder, change):
    """Change the rows of an export, with every digest made right again."""
    data = json.loads((folder / ROWS_FILE).read_text())
    change(data["tables"])
    for name, table in data["tables"].items():
        for row in table:
            row["row_sha256"] = rows.digest(name, *(row[column] for column in rows.COLUMNS[name]))
    data["sha256"] = seal_of(data["tables"])
    (folder / ROWS_FILE).write_text(json.dumps(data))


def other_record(tables):
    tables["record"][0]["sealed_by"] = "Max"


def other_body(tables):
    tables["record"][0]["body_json"] = tables["record"][0]["body_json"].replace("Demo", "Real")


def other_amendment(tables):
    tables["amendment"][0]["text"] = "All fine."


def lost_job(tables):
    del tables["job"][1]


def climbing_photo(tables):
    tables["photo"][0]["id"] = "../../etc/passwd"


def odd_length(tables):
    tables["stock_move"][0]["delta_inches"] = "1/0"


def wrong_kind(tables):
    tables["job_section"][0]["name"] = "paint"


def wrong_id(tables):
    tables["job"][0]["id"] = "lower-case"


def not_json(tables):
    tables["job_section"][0]["data_json"] = "{"


@pytest.mark.parametrize(
    "change", [other_record, other_body, other_amendment, lost_job, climbing_photo, odd_length, wrong_kind, wrong_id, not_json]
)
def test_an_export_whose_parts_do_not_fit_is_refused_whole(laptop, tmp_path, change):
    one, two = laptop("one"), laptop("two")
    fill_store(one)
    export(one, tmp_path / "out")
    edit(tmp_path / "out", change)
    before = rows_of(two.path, without=())
    with pytest.raises(Problem) as told:
        merge.import_folder(two, tmp_path / "out")
    assert told.value.kind == "import-folder"
    assert "Nothing was taken in" in told.value.title
    assert rows_of(two.path, without=()) == before


def test_a_damaged_export_is_refused_whole(laptop, tmp_path):
    import random

    one, two = laptop("one"), laptop("two")
    fill_store(one)
    export(one, tmp_path / "out")
    before = rows_of(two.path, without=())
    photo = next((tmp_path / "out" / "photos").iterdir())
    draw = random.Random(3)
    for path in (photo, tmp_path / "out" / ROWS_FILE):
        raw = path.read_bytes()
        broken = [b"", raw[: len(raw) // 2], raw + b"x"]
        for _ in range(25):
            changed = bytearray(raw)
                # The head of the file (program, version, time) is not data.
            changed[draw.randrange(200, len(raw))] ^= draw.randrange(1, 128)
            broken.append(bytes(changed))
        for one_of_them in broken:
            path.write_bytes(one_of_them)
            with pytest.raises(Problem) as told:
                merge.import_folder(two, tmp_path / "out")
            assert told.value.kind == "import-folder"
        path.unlink()
        with pytest.raises(Problem):
            merge.import_folder(two, tmp_path / "out")
        path.write_bytes(raw)
    assert rows_of(two.path, without=()) == before
    merge.import_folder(two, tmp_path / "out")


def test_a_folder_of_something_else_is_refused(laptop, tmp_path):
    two = laptop("two")
    folder = tmp_path / "other"
    for text in (None, "[]", "{}", '{"program": "Pitsplice", "format": 2}', '{"program": "Other"}', "x", '{"program": "Pitsplice", "format": 1, "tables": [], "sha256": ""}'):
        if text is not None:
            folder.mkdir(exist_ok=True)
            (folder / ROWS_FILE).write_text(text)
        with pytest.raises(Problem) as told:
            merge.import_folder(two, folder)
        assert told.value.kind == "import-folder"


def test_the_command_imports_once_and_says_what_to_look_at(laptop, tmp_path, capsys):
    one = laptop("one")
    fill_store(one)
    export(one, tmp_path / "out")
    one.close()
    said = []
    for _ in range(2):
        assert cli.main(["import", str(tmp_path / "out"), "--data", str(tmp_path / "new")]) == 0
        said.append(capsys.readouterr().out)
    # hand: what data_helpers.fill_store puts in
    for words in ("1 corrections", "3 jobs", "20 kept answers", "2 photos", "8 bars"):
        assert words in said[0]
    assert "Added: nothing." in said[1]
    shutil.rmtree(tmp_path / "out" / "photos")
    assert cli.main(["import", str(tmp_path / "out"), "--data", str(tmp_path / "new")]) == 2
    assert json.loads(capsys.readouterr().err)["type"].endswith("import-folder")
    assert check.look(tmp_path / "new" / FILE_NAME).findings == []


def test_what_a_phone_sent_to_one_laptop_is_known_on_the_other(client, store, laptop, carry):
    key = {"Idempotency-Key": "a" * 32}
    body = {"title": "Sent once", "who": "Lee"}
    other = laptop("other")
    with other.write() as db:
        jobs.create(db, other, "Elsewhere", "Ben")
    first = client.post("/api/jobs", json=body, headers=key).get_json()
    carry(store, other)
    carry(other, store)
    with other.read() as db:
        assert db.execute("SELECT count(*) FROM operation").fetchone()[0] == 1
    assert client.post("/api/jobs", json=body, headers=key).get_json() == first
