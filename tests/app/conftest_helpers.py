"""What several tests of the server do."""

from flask.testing import FlaskClient

SHELL = "<!doctype html><title>Pitsplice</title>"
TUBE = {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}
SLEEVE = {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}
MEASURE = {
    "tube": TUBE, "damage": "cut-out", "known_by": "certificate", "od_readings": ["1.625 in", "1.621 in"],
    "room_left": "14 in", "room_right": "9-3/4 in", "heat_treated": "no", "brazed": "no", "crack_into_joint": "no",
    "old_weld": "no", "inside_bead": "yes", "near_cluster": "yes", "needs_same_od": "no",
}  # fmt: skip
CHOOSE = {"method": "outer-sleeve", "end": "pointed", "mitre_deg": 60, "sleeves": 1, "reason": "No room for the larger tube."}
STOCK = {"from": "rack", "item": 3, **SLEEVE, "heat_number": "H-88"}
SIZE = {"tube": TUBE, "sleeve": SLEEVE, "end": "pointed", "mitre_deg": 60, "gap": "0 in"}
SECTIONS = {"measure": MEASURE, "choose": CHOOSE, "stock": STOCK, "size": SIZE}


class Clock:
    """Gives the time a test sets."""

    def __init__(self) -> None:
        self.time = "2026-03-01T10:00:00Z"

    def __call__(self) -> str:
        return self.time


class Buffered(FlaskClient):
    """Reads an answer whole at once, so that a served file is closed again."""

    def open(self, *args, **more):
        return super().open(*args, **{"buffered": True, **more})


def save(client, job_id, name, data, base=0, **headers):
    """Save a section."""
    body = {"base_revision": base, "data": data, "who": "Lee"}
    return client.put(f"/api/jobs/{job_id}/sections/{name}", json=body, headers=headers)


def fill(client, job_id):
    """Save the sections a record needs."""
    for name, data in SECTIONS.items():
        answer = save(client, job_id, name, data)
        assert answer.status_code == 200, answer.get_json()


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
