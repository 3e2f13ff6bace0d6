"""Jobs, sections, steps and sealing, through the Flask client."""

from conftest_helpers import CHOOSE, MEASURE, SIZE, SLEEVE, TUBE, fill, finish, save, told


def test_a_new_job_is_listed_and_shown_as_it_was_answered(client):
    answer = client.post("/api/jobs", json={"title": "Left main hoop", "who": "Lee"})
    job = answer.get_json()
    assert answer.status_code == 201
    assert job["id_text"] == f"{job['id'][:4]}-{job['id'][4:]}"
    assert (job["title"], job["state"], job["created_by"], job["demo"]) == ("Left main hoop", "open", "Lee", False)
    assert (job["sections"], job["steps"], job["record"]) == ({}, [], None)
    assert client.get(f"/api/jobs/{job['id']}").get_json() == job
    assert client.get(f"/api/jobs/{job['id_text'].lower()}").get_json() == job
    listed = client.get("/api/jobs").get_json()["jobs"]
    assert [one["id"] for one in listed] == [job["id"]]


def test_a_phone_may_propose_a_free_id_once(client):
    # 7K3M-9QX3 is a whole id (core.tag doctest).
    ask = {"title": "A", "who": "Lee", "id": "7k3m-9qx3"}
    assert client.post("/api/jobs", json=ask).get_json()["id"] == "7K3M9QX3"
    told(client.post("/api/jobs", json=ask), 409, "id-taken")
    told(client.post("/api/jobs", json={**ask, "id": "7K3M9QX4"}), 400, "bad-id")


def test_a_job_needs_a_title_and_a_name(client):
    assert told(client.post("/api/jobs", json={"who": "Lee"}), 422, "missing")["field"] == "title"
    assert told(client.post("/api/jobs", json={"title": "A", "who": " "}), 422, "missing")["field"] == "who"
    told(client.post("/api/jobs", json={"title": "A" * 81, "who": "Lee"}), 422, "bad-text")
    told(client.post("/api/jobs", json={"title": "A\nB", "who": "Lee"}), 422, "bad-text")
    told(client.post("/api/jobs", json={"title": 5, "who": "Lee"}), 422, "bad-text")
    told(client.post("/api/jobs", json={"title": "A", "who": "Lee", "colour": 1}), 422, "unknown-member")


def test_an_unknown_job_is_not_found_and_a_wrong_id_is_refused(client):
    told(client.get("/api/jobs/22222222"), 404, "no-job")
    told(client.get("/api/jobs/hello"), 400, "bad-id")


def test_a_section_keeps_every_revision(client, job, store):
    later = {**MEASURE, "room_left": "13-1/2 in"}
    assert save(client, job["id"], "measure", MEASURE).get_json()["sections"]["measure"]["revision"] == 1
    second = save(client, job["id"], "measure", later, base=1).get_json()
    assert second["sections"]["measure"]["data"] == later
    from fieldapp.store import jobs

    with store.read() as db:
        assert [r["data"] for r in jobs.history(db, job["id"])] == [MEASURE, later]


def test_a_save_on_an_old_revision_is_refused_and_shows_what_is_there(client, job):
    save(client, job["id"], "measure", MEASURE)
    body = told(save(client, job["id"], "measure", {**MEASURE, "damage": "dent"}), 409, "section-changed")
    assert body["current"]["data"] == MEASURE
    assert body["current"]["revision"] == 1
    assert client.get(f"/api/jobs/{job['id']}").get_json()["sections"]["measure"]["data"] == MEASURE
    body = told(save(client, job["id"], "assess", {}, base=3), 409, "section-changed")
    assert body["current"] is None


def test_a_section_needs_a_known_name_a_revision_and_an_object(client, job):
    told(save(client, job["id"], "paint", {}), 422, "bad-choice")
    told(save(client, job["id"], "size", {}, base=True), 422, "bad-revision")
    told(save(client, job["id"], "size", {}, base=-1), 422, "bad-revision")
    told(save(client, job["id"], "size", {}, base="1"), 422, "bad-revision")
    told(save(client, job["id"], "size", [1]), 422, "bad-section")
    told(save(client, "22222222", "size", SIZE), 404, "no-job")


def test_the_checklist_waits_for_the_method(client, job):
    told(client.get(f"/api/jobs/{job['id']}/checklist"), 409, "no-method")
    told(save(client, job["id"], "choose", {"method": ["outer-sleeve"]}), 422, "bad-choice")
    told(client.get(f"/api/jobs/{job['id']}/checklist"), 409, "no-method")
    save(client, job["id"], "choose", {"method": "outer-sleeve"})
    body = client.get(f"/api/jobs/{job['id']}/checklist").get_json()
    assert body["checklist"]["version"].startswith("outer-sleeve")
    assert body["state"]["counts"]["done"] == 0


def test_the_sized_plan_words_the_checklist(client, job):
    save(client, job["id"], "choose", CHOOSE)
    path = f"/api/jobs/{job['id']}/checklist"
    assert "8-1/8 in" not in client.get(path).get_data(as_text=True)
    save(client, job["id"], "size", SIZE)
    # hand: 3 x 1.625 + 1.875 tan 60 = 8.123, up to the next 1/16 in
    assert "8-1/8 in" in client.get(path).get_data(as_text=True)


def test_a_section_the_job_could_not_build_on_is_refused_where_it_is_wrong(client, job):
    def field(name, data, kind):
        return told(save(client, job["id"], name, data), 422, kind)["field"]

    assert field("measure", {**MEASURE, "room_left": "soon"}, "bad-length") == "data.room_left"
    assert field("measure", {**MEASURE, "colour": "red"}, "unknown-member") == "data.colour"
    assert field("choose", {"method": "glue"}, "bad-choice") == "data.method"
    assert field("choose", {**CHOOSE, "mitre_deg": 89}, "bad-angle") == "data.mitre_deg"
    for count in (3, "2", True, 1.0, [1]):
        assert field("choose", {**CHOOSE, "sleeves": count}, "bad-choice") == "data.sleeves"
    assert field("choose", {**CHOOSE, "reason": "x" * 501}, "bad-text") == "data.reason"
    assert field("stock", {"from": "rack", **SLEEVE, "od": "1 8/5 in"}, "ask-length") == "data.od"
    assert field("size", {**SIZE, "sleeve": TUBE}, "bad-sleeve") == "data.sleeve.od"
    body = told(save(client, job["id"], "size", {**SIZE, "tube": {**TUBE, "od": "0 in", "wall": "-1 in"}}), 422, "bad-length")
    assert [one["field"] for one in body["others"]] == ["data.tube.wall"]
    assert client.get(f"/api/jobs/{job['id']}").get_json()["sections"] == {}


def test_a_job_tells_whether_its_checklist_is_finished(client, job):
    path = f"/api/jobs/{job['id']}"
    assert client.get(path).get_json()["finished"] is False
    fill(client, job["id"])
    assert client.get(path).get_json()["finished"] is False
    finish(client, job["id"])
    assert client.get(path).get_json()["finished"] is True


def test_a_step_is_kept_in_order_with_who_and_when(client, job, clock):
    fill(client, job["id"])
    first = client.get(f"/api/jobs/{job['id']}/checklist").get_json()["state"]["next"]
    clock.time = "2026-03-01T11:22:33Z"
    answer = client.post(
        f"/api/jobs/{job['id']}/steps", json={"step": first, "action": "done", "who": "Lee"}
    ).get_json()
    assert (answer["event"]["step"], answer["event"]["who"], answer["event"]["at"]) == (first, "Lee", clock.time)
    assert answer["state"]["counts"]["done"] == 1
    assert client.get(f"/api/jobs/{job['id']}/checklist").get_json()["state"] == answer["state"]
    assert client.get(f"/api/jobs/{job['id']}").get_json()["steps"] == [answer["event"]]


def test_the_checklist_refuses_a_mark_without_a_name_or_out_of_turn(client, job):
    fill(client, job["id"])
    steps = f"/api/jobs/{job['id']}/steps"
    told(client.post(steps, json={"step": "gap", "action": "done", "who": "Lee", "value": "1/32"}), 409, "out-of-order")
    told(client.post(steps, json={"step": "gap", "action": "done", "value": "1/32"}), 422, "no-name")
    told(client.post(steps, json={"step": "dance", "action": "done", "who": "Lee"}), 422, "unknown-step")
    assert client.get(f"/api/jobs/{job['id']}").get_json()["steps"] == []


def test_an_unfinished_job_is_not_sealed_and_says_what_is_missing(client, job):
    body = told(client.post(f"/api/jobs/{job['id']}/seal", json={"who": "Sam"}), 409, "not-finished")
    assert {item.get("section") for item in body["missing"]} == {"measure", "choose", "stock", "size"}
    fill(client, job["id"])
    body = told(client.post(f"/api/jobs/{job['id']}/seal", json={"who": "Sam"}), 409, "not-finished")
    assert all("step" in item for item in body["missing"])
    total = client.get(f"/api/jobs/{job['id']}/checklist").get_json()["state"]["counts"]["total"]
    assert len(body["missing"]) == total


def test_a_size_that_does_not_compute_is_not_sealed(client, job, monkeypatch):
    from core.problems import Problem
    from fieldapp import services

    fill(client, job["id"])
    finish(client, job["id"])

    def refuse(data, sheet=None):
        raise Problem("bad-tube", "No hole in that tube.", allowed="a tube.", next_step="Measure.")

    monkeypatch.setattr(services, "size", refuse)
    body = told(client.post(f"/api/jobs/{job['id']}/seal", json={"who": "Sam"}), 409, "not-finished")
    assert body["missing"] == [{"section": "size", "what": "The sizes do not compute: No hole in that tube."}]


def test_a_sealed_job_takes_no_more_writes(client, sealed):
    job_id = sealed["id"]
    told(save(client, job_id, "measure", MEASURE, base=1), 409, "sealed")
    told(client.post(f"/api/jobs/{job_id}/steps", json={"step": "gap", "action": "undo", "who": "Lee"}), 409, "sealed")
    told(client.post(f"/api/jobs/{job_id}/seal", json={"who": "Sam"}), 409, "sealed")
    job = client.get(f"/api/jobs/{job_id}").get_json()
    assert job["state"] == "sealed"
    assert job["record"] == {"id": job_id, "sealed_at": sealed["sealed_at"]}


def test_a_repeat_with_the_same_key_has_one_effect_and_the_same_answer(client):
    ask = {"title": "Once", "who": "Lee"}
    first = client.post("/api/jobs", json=ask, headers={"Idempotency-Key": "op-1"})
    again = client.post("/api/jobs", json=ask, headers={"Idempotency-Key": "op-1"})
    assert "Idempotency-Replayed" not in first.headers
    assert again.headers["Idempotency-Replayed"] == "true"
    assert (again.status_code, again.data) == (first.status_code, first.data)
    assert len(client.get("/api/jobs").get_json()["jobs"]) == 1


def test_only_a_success_names_the_key_it_was_kept_under(client, job):
    key = {"Idempotency-Key": "op-7"}
    refused = save(client, job["id"], "measure", MEASURE, base=4, **key)
    assert "Idempotency-Key" not in refused.headers
    for _ in range(2):
        assert save(client, job["id"], "measure", MEASURE, **key).headers["Idempotency-Key"] == "op-7"
    assert "Idempotency-Key" not in client.post("/api/jobs", json={"title": "No key", "who": "Lee"}).headers
    told(client.post("/api/jobs", json={"title": "Two", "who": "Lee"}, headers=key), 422, "operation-mismatch")


def test_a_key_used_for_something_else_is_refused(client):
    key = {"Idempotency-Key": "op-1"}
    client.post("/api/jobs", json={"title": "One", "who": "Lee"}, headers=key)
    told(client.post("/api/jobs", json={"title": "Two", "who": "Lee"}, headers=key), 422, "operation-mismatch")
    stock = {"od": "1 in", "wall": ".120 in", "material": "dom-1020", "length": "2 ft 3 in", "who": "Lee"}
    told(client.post("/api/stock", json=stock, headers=key), 422, "operation-mismatch")
    told(
        client.post("/api/jobs", json={"title": "A", "who": "Lee"}, headers={"Idempotency-Key": "a b"}),
        400,
        "bad-operation-key",
    )


def test_a_refusal_does_not_use_up_the_key(client, job):
    key = {"Idempotency-Key": "op-9"}
    told(save(client, job["id"], "measure", MEASURE, base=4, **key), 409, "section-changed")
    assert save(client, job["id"], "measure", MEASURE, **key).status_code == 200
