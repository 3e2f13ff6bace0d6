"""What several tests of the server do."""

SHELL = "<!doctype html><title>Pitsplice</title>"
TUBE = {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020"}
SLEEVE = {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020"}


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
