"""Valid jobs with one or a few places broken: the core behind the routes refuses, it never fails."""

import copy

import pytest
from conftest_helpers import CHOOSE, MEASURE, SECTIONS, SIZE, SLEEVE, STOCK, TUBE, fill, save
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from test_fuzz import check

ASK_STOCK = {
    "tube": TUBE, "end": "pointed", "mitre_deg": 60, "gap": "0 in", "sleeves": 2, "units": "in",
    "items": [{"id": 1, **SLEEVE, "on_hand": "20 in", "heat_number": "H"}, {"id": 2, **TUBE, "on_hand": "9 ft"}],
}  # fmt: skip
ASK_INNER = {"tube": TUBE, "method": "inner-sleeve", "mitre_deg": 60, "gap": "1/8 in", "bead": ".05 in", "items": [{"id": 1, **SLEEVE, "od": "1-1/2 in", "on_hand": "20 in"}]}
ASK_SIZE = {**SIZE, "length": "7-11/16 in", "units": "in", "trim": "1/16 in", "kerf": "1/16 in"}
ASK_CARD = {
    **SIZE, "units": "in", "saw_limit": 45, "block_distance": "10 in", "count": 2, "hole": "shop", "rosettes": {"per_tip": 2, "diameter": "3/8 in", "distance": "1/2 in"},
    "measured": {"tube_od": ["1.625 in", "1.628 in"], "sleeve_bore": ["1.634 in", "1.636 in"], "sleeve_od": ["1.875 in"], "sleeve_wall": ".12 in", "bead": "0.004 in"},
}  # fmt: skip
ASK_ASSESS = {**MEASURE, "damage": "dent", "depth": "1/8 in", "damage_length": "1 in", "around": "1 in", "units": "in"}
BODIES = {"/api/size": ASK_SIZE, "/api/size?drawing=1": ASK_SIZE, "/api/size?": ASK_CARD, "/api/assess": ASK_ASSESS, "/api/stock/candidates": ASK_STOCK}
ODD_TEXT = st.sampled_from([
    "", " ", "NaN", "inf", "-0", "0", "1e9 in", "1e-9", "٣ in", "１-５/８ in", "²", "⅝", "1⅞″", "1/0", "1 8/5", "1.5/8", "1,625", "1.625 furlong",
    "9" * 39, "9" * 37 + " m", "1/" + "9" * 36, "0." + "0" * 35 + "1", "9" * 41, "x" * 10_000, "-1 in", "134", "10 ga", "99 ga", "41.3 mm",
    "240 in", "239.99 in", "0.0001 in", "6 in", "0.75 in", "2.99 in", "0.25 in", "3' 2\"", "1\u200b in", "\u0000", "1\n5/8 in", "＜svg＞", "<b>", "(-1 in)",
    "unknown", "bead", "none", "4130-n", "erw-1010", "scarf", "square", "fishmouth", "mm", "in", "dent", "hole", "yes", "no",
])  # fmt: skip
ODD_NUMBER = st.sampled_from([0, 1, -1, 2, 3, 20, 21, 60, 75, 75.0001, 1e-300, 1e-9, 1e300, -1e300, 2**62, 89.999, 0.5])
ODD = st.recursive(
    st.none() | st.booleans() | ODD_NUMBER | ODD_TEXT | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(ODD_TEXT, inner, max_size=2),
    max_leaves=4,
)


def places(value, path=()):
    """List the path of every member and element of a JSON value."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path, *(place for key, item in inner for place in places(item, (*path, key)))][0 if path else 1 :]


def broken(body):
    """Give copies of `body` with one to three places replaced, added or taken away."""
    change = st.tuples(st.sampled_from(places(body)), st.sampled_from(["replace", "replace", "remove", "add"]), ODD)

    def apply(changes):
        made = copy.deepcopy(body)
        for (*above, last), what, odd in changes:
            holder = made
            try:
                for key in above:
                    holder = holder[key]
                if isinstance(holder, dict) is not isinstance(last, str):
                    continue  # An earlier change put another kind of value here.
                if what == "remove":
                    del holder[last]
                elif what == "add":
                    holder["more" if isinstance(holder, dict) else 0] = odd
                else:
                    holder[last] = odd
            except (KeyError, IndexError, TypeError):
                continue
        return made

    return st.lists(change, min_size=1, max_size=3).map(apply)


FUZZ = settings(max_examples=250, deadline=None, suppress_health_check=list(HealthCheck))


@given(asked=st.sampled_from(sorted(BODIES)).flatmap(lambda path: st.tuples(st.just(path), broken(BODIES[path]))))
@FUZZ
@example(("/api/stock/candidates", {**ASK_STOCK, "gap": "9" * 37 + " m"}))
@example(("/api/stock/candidates", ASK_INNER))
@example(("/api/stock/candidates", {**ASK_INNER, "gap": None}))
@example(("/api/stock/candidates", {"method": "patch", "tube": {**TUBE, "wall": "6 in"}}))
@example(("/api/size?drawing=1", {**ASK_SIZE, "length": "0.0001 in"}))
def test_no_broken_question_makes_the_core_fail(client, asked):
    path, body = asked
    check(client.post(path, json=body))


@given(data=st.sampled_from(sorted(SECTIONS)).flatmap(lambda name: st.tuples(st.just(name), broken(SECTIONS[name]))))
@FUZZ
def test_no_broken_section_makes_a_job_unreadable(client, data):
    name, section = data
    job = client.post("/api/jobs", json={"title": "Fuzz", "who": "Lee"}).get_json()["id"]
    if name != "choose":
        save(client, job, "choose", CHOOSE)
    check(save(client, job, name, section))
    # What was taken must leave the job readable, its checklist worded and its seal answered.
    assert client.get(f"/api/jobs/{job}").status_code == 200
    check(client.get(f"/api/jobs/{job}/checklist"))
    check(client.post(f"/api/jobs/{job}/seal", json={"who": "Lee"}))


@given(text=ODD_TEXT | st.text(max_size=12) | st.from_regex(r"[0-9]{1,6}[-. /]?[0-9]{0,4}/?[0-9]{0,3} ?(in|mm|ft|ga|thou|'|\")?", fullmatch=True),
       role=st.sampled_from(["length", "wall", "diameter", "hat"]), unit=st.sampled_from(["in", "mm", "ft"]), zero=st.sampled_from("012"))  # fmt: skip
@FUZZ
def test_no_typed_length_makes_the_reader_fail(client, text, role, unit, zero):
    answer = client.get("/api/length", query_string={"text": text, "role": role, "unit": unit, "allow_zero": zero})
    check(answer)
    if answer.status_code == 200:
        assert answer.get_json()["in"] >= 0
        assert answer.get_json()["typed"] == text.strip()


@pytest.mark.parametrize("path", sorted(BODIES))
def test_the_unbroken_questions_are_answered(client, path):
    assert client.post(path, json=BODIES[path]).status_code == 200


def test_the_unbroken_sections_are_taken(client, job):
    fill(client, job["id"])
    assert save(client, job["id"], "stock", STOCK, base=1).status_code == 200
