"""Whatever is sent: never a fault of the program, and every refusal is a problem."""

import json

import pytest
from conftest_helpers import fill
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

SECTIONS = ("measure", "assess", "choose", "stock", "size", "make", "paint")
WORDS = st.sampled_from([
    "", "Lee", "outer-sleeve", "done", "skip", "undo", "note", "gap", "stands", "1-5/8 in", "1/32", ".120 in", "134", "0",
    "-1 in", "dom-1020", "none", "7K3M-9QX3", "22222222", "\u0000", "\r\n", "=1+1", "1e9 ft", "9" * 39, "\u0661\u0662 in", "²", "⅝",
])  # fmt: skip
TEXT = WORDS | st.text(max_size=12)
VALUE = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | TEXT,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXT, inner, max_size=3),
    max_leaves=6,
)
MEMBERS = (
    "title", "who", "id", "base_revision", "data", "step", "action", "value", "reason", "when", "default_unit", "text", "od",
    "wall", "material", "seam", "length", "heat_number", "certificate", "location", "note", "job", "method", "tube", "sleeve",
)  # fmt: skip
GOOD = {
    "title": "A", "who": "Lee", "base_revision": 0, "data": {"method": "outer-sleeve"}, "step": "stands", "action": "done",
    "text": "x", "od": "1 in", "wall": ".12 in", "material": "dom-1020", "length": "1 in", "reason": "because",
}  # fmt: skip
# Nearly right bodies get past the first check; the fuzz then meets the ones behind it.
BODY = st.builds(
    lambda keep, change: {**{name: GOOD[name] for name in keep}, **change},
    st.sets(st.sampled_from(sorted(GOOD))),
    st.dictionaries(st.sampled_from(MEMBERS) | TEXT, VALUE, max_size=3),
)
HEADERS = st.fixed_dictionaries(
    {},
    optional={
        "Idempotency-Key": st.sampled_from(["a", "b", "a b", "x" * 65, "é"]),
        "Origin": st.sampled_from(["http://localhost", "null", "x"]),
        "Sec-Fetch-Site": st.sampled_from(["same-origin", "none", "x"]),
        "Host": st.sampled_from(["localhost", "[", "a:b:c"]),
        "Accept": st.sampled_from(["text/html", "application/json", ";;q=x", "*/*;q=0"]),
        "If-None-Match": st.sampled_from(['"', "W/", "*"]),
        "Range": st.sampled_from(["bytes=9-1", "bytes=-", "x"]),
    },
)
ROUTES = [
    ("POST", "/api/jobs"), ("PUT", "/api/jobs/{id}/sections/{section}"), ("POST", "/api/jobs/{id}/steps"),
    ("POST", "/api/jobs/{id}/seal"), ("POST", "/api/records/{id}/amendments"), ("POST", "/api/stock"),
    ("PUT", "/api/stock/{item}"), ("POST", "/api/stock/{item}/take"), ("POST", "/api/stock/{item}/return"),
    ("POST", "/api/stock/{item}/adjust"), ("POST", "/api/stock/import?who={id}"), ("POST", "/api/size"),
    ("POST", "/api/assess"), ("POST", "/api/stock/candidates"), ("GET", "/api/jobs/{id}"), ("GET", "/api/jobs/{id}/checklist"),
    ("GET", "/api/records/{id}"), ("GET", "/api/records/{id}/tag.svg"), ("GET", "/api/records/{id}/tag.pdf?sheet={id}"),
    ("GET", "/api/length?text={id}&role={id}&unit=in"), ("GET", "/api/length?text={id}&role=wall"), ("GET", "/{id}"),
    ("GET", "/static/{id}"), ("DELETE", "/api/jobs"), ("PATCH", "/{id}"), ("GET", "/api/stock/{item}/moves"),
    ("OPTIONS", "/api/jobs"),
]  # fmt: skip


@pytest.fixture
def filled(client, job):
    fill(client, job["id"])
    client.post(
        "/api/stock", json={"od": "1 in", "wall": ".12 in", "material": "dom-1020", "length": "9 in", "who": "L"}
    )
    return job["id"]


def check(answer):
    assert answer.status_code < 500, answer.get_data(as_text=True)
    if answer.status_code >= 400 and answer.request.method != "HEAD":
        assert answer.mimetype == "application/problem+json"
        body = json.loads(answer.get_data())
        assert set(body) >= {"type", "title", "status", "given", "allowed", "next"}
        assert body["status"] == answer.status_code
        assert body["title"] and body["allowed"] and body["next"]


@given(route=st.sampled_from(ROUTES), body=BODY, headers=HEADERS, section=st.sampled_from(SECTIONS),
       item=st.sampled_from(["1", "0", "2", str(2**80), "x", "-1"]), other=st.none() | TEXT)  # fmt: skip
@settings(max_examples=400, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@example(("GET", "/{id}"), {}, {}, "size", "1", "\ud7ff/../..")
def test_no_request_makes_the_program_fail(client, filled, route, body, headers, section, item, other):
    from urllib.parse import quote

    method, path = route
    path = path.format(id=quote(filled if other is None else other, safe=""), section=section, item=item)
    headers = {name: value.encode("utf-8").decode("latin-1") for name, value in headers.items()}
    check(client.open(path, method=method, json=body, headers=headers))


@given(path=st.sampled_from(["/api/jobs", "/api/size", "/api/stock/import?who=L"]), raw=st.binary(max_size=80),
       kind=st.sampled_from(["application/json", "text/csv", "multipart/form-data; boundary=x", "multipart/form-data", "x", ""]))  # fmt: skip
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@example(
    "/api/stock/import?who=L",
    b'--x\r\nContent-Disposition: form-data; name="file"\r\n\r\nod\r\n--x--',
    "multipart/form-data; boundary=x",
)
@example("/api/stock/import?who=L", b"od,wall,material,length\n\x00,1,2,3", "text/csv")
def test_no_bytes_make_the_program_fail(client, path, raw, kind):
    check(client.post(path, data=raw, content_type=kind, headers={"Origin": "http://localhost"}))


@given(cells=st.lists(st.lists(TEXT, min_size=3, max_size=6), max_size=4), mark=st.sampled_from(",;\t"))
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_table_makes_the_program_fail(client, cells, mark):
    lines = [mark.join(["od", "wall", "material", "length", "note"]), *(mark.join(row) for row in cells)]
    check(client.post("/api/stock/import?who=L", data="\n".join(lines).encode("utf-8"), content_type="text/csv"))
