"""One table of hostile requests: each is refused with its status, shows no inner detail, and writes nothing.

`why` names an item of OWASP ASVS 5.0 (chapters V3, V4, V7 and V8 checked in a stored copy of its working
branch, whose numbers may differ from the release; other chapters from memory) or a CWE number (from memory).
ASVS 3.4.1 asks for Strict-Transport-Security; it is left out on purpose: it holds for every port of a name,
and would close the plain trust page that a new phone needs.
"""

from __future__ import annotations

import socket
import threading
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

import pytest
from conftest_helpers import SHELL, Buffered, Clock, fill, finish

from fieldapp import access, create_app, export, security, serve
from fieldapp.config import Settings

ASK = {"title": "A", "who": "Lee"}
OWN = {"Origin": "http://localhost"}


@dataclass
class Row:
    """One request: who sends it, what is sent, and the kind of refusal."""

    why: str
    who: str
    method: str
    path: str
    status: int
    kind: str
    json: Any = None
    data: bytes | None = None
    type: str | None = None
    headers: dict[str, str] = field(default_factory=dict)
    cookie: str = ""

    def __str__(self) -> str:
        return f"{self.why} {self.who} {self.method} {self.path[:40]}"


def post(why: str, status: int, kind: str, *, who: str = "laptop", path: str = "/api/jobs", **more: Any) -> Row:
    if "data" not in more:
        more.setdefault("json", ASK)
    return Row(why, who, "POST", path, status, kind, **more)


def get(why: str, status: int, kind: str, path: str, *, who: str = "laptop", **more: Any) -> Row:
    return Row(why, who, "GET", path, status, kind, **more)


def raw(why: str, data: bytes, **more: Any) -> Row:
    return post(why, 400, "bad-json", data=data, type="application/json", **more)


TABLE = [
    # The Host header: another site's name pointed at this machine.
    *[get("CWE-350 DNS rebinding", 421, "wrong-host", "/api/jobs", headers={"Host": host}) for host in (
        "evil.example", "localhost.evil.example", "evil.example:8750", "127.0.0.1.evil.example", "localhost@evil.example",
        "localhost,evil.example", "localhost evil.example", "127.1", "0x7f000001", "2130706433", "[::ffff:127.0.0.1]", "localhost.",
        "192.168.1.99", "")],
    get("CWE-644 Host override", 421, "wrong-host", "/api/jobs", headers={"Host": "evil.example", "X-Forwarded-Host": "localhost"}),
    post("CWE-350 rebinding write", 421, "wrong-host", headers={"Host": "evil.example", "Origin": "http://evil.example"}),
    # A page of another site writes with the laptop's rights.
    *[post("ASVS 3.5.1 CSRF", 403, "cross-origin", headers=headers) for headers in (
        {"Origin": "http://evil.example"}, {"Origin": "null"}, {"Origin": "http://localhost:8751"}, {"Origin": "https://localhost"},
        {"Origin": "http://localhost.evil.example"}, {"Origin": ""}, {"Sec-Fetch-Site": "cross-site"}, {"Sec-Fetch-Site": "same-site"},
        {"Origin": "http://localhost", "Sec-Fetch-Site": "cross-site"})],
    *[post("ASVS 3.5.2 CORS-safelisted", 403, "cross-origin", data=b'{"title":"A","who":"L"}', type=kind)
      for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", None)],
    post("ASVS 3.5.2 pairing by a form", 403, "cross-origin", path="/api/pairings", data=b'{"role":"plan","name":"x"}', type="text/plain"),
    post("ASVS 3.5.1 pairing cross-site", 403, "cross-origin", path="/api/pairings", json={"role": "plan", "name": "x"},
         headers={"Origin": "http://evil.example"}),
    get("ASVS 3.5.3 write by GET", 405, "method-not-allowed", "/api/jobs/22222222/seal"),
    get("ASVS 3.5.3 write by GET", 405, "method-not-allowed", "/api/pair?secret=x"),
    # The device cookie.
    get("CWE-306 none", 401, "not-paired", "/api/jobs", who="stranger"),
    *[get("CWE-290 forged cookie", 401, "not-paired", "/api/jobs", who="stranger", cookie=value) for value in (
        "x", ".", "..", "0000000000000000.", "' OR 1=1 --.x", "%00.%00", "é.é", "a" * 4000, ".e3b0c44298fc1c149afbf4c8996fb924")],
    get("CWE-290 id with another's token", 401, "not-paired", "/api/jobs", who="stranger", cookie="swapped"),
    get("CWE-290 secure name on the plain page", 401, "not-paired", "/api/jobs", who="stranger", headers={"Cookie": "__Host-pitsplice=a.b"}),
    get("ASVS 7.4.2 revoked", 401, "not-paired", "/api/jobs", who="revoked"),
    post("ASVS 7.4.2 revoked writes", 401, "not-paired", who="revoked"),
    *[get("ASVS 4.1.3 proxy header", 401, "not-paired", "/api/jobs", who="stranger", headers={name: "127.0.0.1"})
      for name in ("X-Forwarded-For", "X-Real-IP", "Forwarded", "X-User-ID")],
    # Every write route with a role too small for it, and with none.
    *[Row("ASVS 8.2.1 role", who, route.split()[0], route.split()[1].replace("<job>", "{job}").replace("<record>", "{job}")
          .replace("<int:item>", "1").replace("<name>", "size").replace("<device>", "{device}"), status, kind, json={})
      for route, needed in access.ROLE_OF.items() if route.split()[0] != "GET" and needed != access.OPEN
      for who, status, kind in (("stranger", 401, "not-paired"), ("view", 403, "not-allowed-for-role"), ("weld", 403, "not-allowed-for-role"))
      if who == "stranger" or access.ORDER.index(who) < access.ORDER.index(needed)],
    get("ASVS 8.2.1 list of devices", 403, "not-allowed-for-role", "/api/devices", who="weld"),
    Row("ASVS 8.2.1 by HEAD", "stranger", "HEAD", "/api/jobs", 401, ""),
    post("ASVS 4.1.4 method override", 401, "not-paired", who="stranger", headers={"X-HTTP-Method-Override": "GET"}),
    post("ASVS 4.1.4 method override", 403, "not-allowed-for-role", who="view", path="/api/jobs?_method=GET"),
    get("CWE-178 letter case", 404, "not-found", "/API/jobs", who="stranger", headers={"Accept": "application/json"}),
    get("CWE-22 a way round the check", 404, "not-found", "/api//jobs", who="stranger", headers={"Accept": "application/json"}),
    get("CWE-22 a way round the check", 404, "not-found", "/static/../api/jobs", who="stranger", headers={"Accept": "application/json"}),
    # Pairing.
    post("CWE-308 used secret", 403, "bad-pairing", who="stranger", path="/api/pair", json={"secret": "{used}"}),
    post("CWE-613 expired secret", 403, "bad-pairing", who="stranger", path="/api/pair", json={"secret": "{expired}"}),
    post("CWE-613 expired code", 403, "bad-pairing", who="stranger", path="/api/pair", json={"code": "{expired_code}"}),
    post("CWE-307 a code over the limit", 429, "too-many-tries", who="guesser", path="/api/pair", json={"code": "{open_code}"}),
    post("CWE-269 role in the pairing", 422, "unknown-member", who="stranger", path="/api/pair", json={"secret": "{open}", "role": "plan"}),
    post("CWE-943 operator for text", 422, "bad-text", who="stranger", path="/api/pair", json={"secret": {"$ne": ""}}),
    post("CWE-943 list for text", 422, "bad-text", who="stranger", path="/api/pair", json={"code": ["AAAAAA"]}),
    # Paths.
    *[get("CWE-22 traversal", 404, "not-found", path, headers={"Accept": "application/json"}) for path in (
        "/static/../../pyproject.toml", "/static/%2e%2e/%2e%2e/pyproject.toml", "/static/..%2f..%2fpyproject.toml", "/static/..\\..\\pyproject.toml",
        "/static//etc/passwd", "/static/%00", "/static/page.js%00.png", "/trust/../certificates/pitsplice-ca.key", "/trust/pitsplice-ca.key",
        "/certificates/pitsplice-ca.key", "/data/pitsplice.sqlite3", "/static/.%2e/data/pitsplice.sqlite3")],
    get("CWE-22 encoded slash in an id", 404, "not-found", "/api/jobs/22222222%2f..%2f..", headers={"Accept": "application/json"}),
    get("CWE-89 in an id", 400, "bad-id", "/api/jobs/'%20OR%201=1--"),
    get("CWE-158 null byte in an id", 400, "bad-id", "/api/records/2222%002222"),
    # Bodies.
    post("CWE-400 oversize", 413, "too-large", data=b" " * (8 * 1024 * 1024 + 1), type="application/json"),
    post("CWE-444 chunked", 411, "no-length", data=b"{}", type="application/json", headers={"Transfer-Encoding": "chunked"}),
    post("CWE-436 content type", 415, "bad-content-type", data=b"<a/>", type="application/xml", headers=OWN),
    post("CWE-436 json by another name", 415, "bad-content-type", data=b"{}", type="application/vnd.api+json", headers=OWN),
    raw("CWE-674 deep JSON", b'{"title":' * 5000 + b"1" + b"}" * 5000),
    raw("CWE-20 NaN", b'{"title":NaN}'),
    raw("CWE-20 Infinity", b'{"title":-Infinity}'),
    raw("CWE-694 duplicate key", b'{"title":"A","who":"L","title":"B"}'),
    raw("CWE-400 huge whole number", b'{"title":' + b"9" * 5000 + b"}"),
    raw("CWE-190 past 63 bits", b'{"title":9223372036854775808}'),
    raw("CWE-176 half a pair", b'{"title":"\\ud800","who":"L"}'),
    raw("CWE-176 not UTF-8", b'{"title":"\xff","who":"L"}'),
    raw("CWE-20 not an object", b'["title","who"]'),
    post("CWE-158 null byte", 422, "bad-text", json={"title": "A\x00B", "who": "L"}),
    post("CWE-117 line break in a name", 422, "bad-text", json={"title": "A", "who": "L\r\nSet-Cookie: a=b"}),
    post("CWE-1321 prototype", 422, "unknown-member", json={**ASK, "__proto__": {"role": "plan"}}),
    post("CWE-915 own role", 422, "unknown-member", json={**ASK, "state": "sealed"}),
    post("CWE-113 header injection", 400, "bad-operation-key", headers={"Idempotency-Key": "a b; Set-Cookie"}),
    post("CWE-113 file name with a header in it", 422, "bad-csv", path="/api/stock/import?who=L", headers=OWN,
         data=b'--x\r\nContent-Disposition: form-data; name="file"; filename="a%0d%0aSet-Cookie: a=b.csv"\r\n\r\nod\r\n1\r\n--x--\r\n',
         type="multipart/form-data; boundary=x"),
    post("CWE-434 no file at all", 415, "bad-content-type", path="/api/stock/import?who=L", headers=OWN, data=b"--x--",
         type="multipart/form-data; boundary=x"),
    post("CWE-190 item number", 404, "no-stock-item", path="/api/stock/99999999999999999999/take", json={"length": "1 in", "reason": "x", "who": "L"}),
    post("CWE-1284 negative length", 422, "bad-length", path="/api/stock/1/take", json={"length": "-1 in", "reason": "x", "who": "L"}),
    # Methods.
    *[Row("ASVS 4.1.4 method", "laptop", method, "/api/jobs", 405, "method-not-allowed", headers=OWN)
      for method in ("DELETE", "PATCH", "PROPFIND", "CONNECT", "BREW")],
    Row("ASVS 4.1.4 TRACE", "laptop", "TRACE", "/api/jobs", 405, "method-not-allowed", headers={**OWN, "X-Secret": "echo-me"}),
]  # fmt: skip


@pytest.fixture(scope="module")
def stage(tmp_path_factory):
    """One app for the whole table: no row changes anything, which each row checks."""
    folder = tmp_path_factory.mktemp("hostile")
    (folder / "static").mkdir()
    (folder / "static" / "index.html").write_text(SHELL)
    (folder / "static" / "page.js").write_text("export {};")
    app = create_app(Settings(folder / "data", static_dir=folder / "static"))
    app.test_client_class = Buffered
    clock = app.extensions["pitsplice-store"].now = Clock()

    def phone(address="192.168.1.20"):
        made = app.test_client()
        made.environ_base["REMOTE_ADDR"] = address
        return made

    def start(role="weld"):
        return client.post("/api/pairings", json={"role": role, "name": "x"}).get_json()

    client = app.test_client()
    job = client.post("/api/jobs", json=ASK).get_json()["id"]
    fill(client, job)
    client.post("/api/stock", json={"od": "1 in", "wall": ".12 in", "material": "dom-1020", "length": "9 in", "who": "L"})
    expired = start()
    clock.time = "2026-03-01T10:30:00Z"
    who = {"laptop": client, "stranger": phone(), "guesser": phone("192.168.1.66")}
    words = {"job": job, "expired": expired["secret"], "expired_code": expired["code"]}
    tokens = []
    for role in ("view", "weld", "revoked"):
        made = start("weld" if role == "revoked" else role)
        who[role] = phone()
        words["used"] = made["secret"]
        words["device"] = who[role].post("/api/pair", json={"secret": made["secret"]}).get_json()["device"]["id"]
        tokens.append(who[role].get_cookie("pitsplice").value.split("."))
    client.post(f"/api/devices/{words['device']}/revoke", json={})
    words["swapped"] = f"{tokens[0][0]}.{tokens[1][1]}"
    left_open = start()
    words |= {"open": left_open["secret"], "open_code": left_open["code"]}
    for _ in range(5):
        who["guesser"].post("/api/pair", json={"code": "AAAAAA"})
    yield app, who, words
    app.extensions["pitsplice-store"].close()


@pytest.fixture
def cast(stage):
    """Return the senders by name and the words the table fills in."""
    _, who, words = stage
    who["stranger"].delete_cookie("pitsplice")
    return who, words


@pytest.fixture
def kept(stage):
    """Return a function that lists all that is kept."""
    return lambda: list(stage[0].extensions["pitsplice-store"].connection().iterdump())


def filled(value, words):
    if isinstance(value, dict):
        return {key: filled(item, words) for key, item in value.items()}
    if isinstance(value, str) and "{" in value:
        for name, word in words.items():
            value = value.replace(f"{{{name}}}", word)
    return value


def hardened(answer):
    """Assert what every answer carries, refusals too."""
    for name, value in security.HEADERS.items():
        assert answer.headers[name] == value
    for name in ("Access-Control-Allow-Origin", "Strict-Transport-Security", "X-Powered-By"):
        assert name not in answer.headers
    assert "Set-Cookie" not in answer.headers


@pytest.mark.parametrize("row", TABLE, ids=str)
def test_a_hostile_request_is_refused_and_writes_nothing(cast, kept, row):
    who, words = cast
    before = kept()
    headers = {name: value.encode("utf-8").decode("latin-1") for name, value in row.headers.items()}
    sender = who[row.who]
    if row.cookie:
        sender.set_cookie("pitsplice", words.get(row.cookie, row.cookie))
    body = {"json": filled(row.json, words)} if row.json is not None else {"data": row.data, "content_type": row.type}
    answer = sender.open(filled(row.path, words), method=row.method, headers=headers, **body)
    text = answer.get_data(as_text=True)
    assert answer.status_code == row.status, text
    hardened(answer)
    assert answer.headers["Cache-Control"] == "no-store"
    if row.method != "HEAD":
        assert answer.mimetype == "application/problem+json"
        assert answer.get_json()["type"] == f"urn:pitsplice:problem:{row.kind}", text
    for inner in ("Traceback", "File \"", "sqlite3.", "echo-me", "root:"):
        assert inner not in text
    assert kept() == before


def test_the_table_is_long_and_its_rows_differ():
    assert len(TABLE) >= 40
    assert len({(str(r), str(r.headers), str(r.data)[:80], str(r.json), r.cookie, r.type) for r in TABLE}) == len(TABLE)


# What a test client cannot send: bytes on the wire, to the real server.
LINE = b"POST /api/jobs HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"
BODY = b'{"title":"A","who":"L"}'
WIRE = [
    ("CWE-444 two lengths", LINE + b"Content-Length: 23\r\nContent-Length: 5\r\n\r\n" + BODY),
    ("CWE-444 length and chunks", LINE + b"Content-Length: 23\r\nTransfer-Encoding: chunked\r\n\r\n17\r\n" + BODY + b"\r\n0\r\n\r\n"),
    ("CWE-444 odd coding", LINE + b"Transfer-Encoding: xchunked\r\n\r\n" + BODY),
    ("CWE-20 negative length", LINE + b"Content-Length: -1\r\n\r\n" + BODY),
    ("CWE-20 length no number", LINE + b"Content-Length: 2x\r\n\r\n" + BODY),
    ("CWE-400 a body past the limit", LINE + b"Content-Length: 99999999999\r\n\r\n" + BODY),
    ("CWE-400 a long header", LINE + b"X-Long: " + b"a" * 200_000 + b"\r\n\r\n"),
    ("CWE-400 many headers", LINE + b"".join(b"X-%d: a\r\n" % n for n in range(20_000)) + b"\r\n"),
    ("CWE-400 a long address", b"GET /" + b"a" * 200_000 + b" HTTP/1.1\r\nHost: localhost\r\n\r\n"),
    ("CWE-350 no Host", b"POST /api/jobs HTTP/1.1\r\nContent-Type: application/json\r\nContent-Length: 23\r\n\r\n" + BODY),
    ("CWE-350 two Hosts", LINE + b"Host: evil.example\r\nContent-Length: 23\r\n\r\n" + BODY),
    ("CWE-350 absolute address", LINE.replace(b"/api/jobs", b"http://evil.example/api/jobs") + b"Content-Length: 23\r\n\r\n" + BODY),
    ("CWE-22 dots on the wire", b"GET /static/../../pyproject.toml HTTP/1.1\r\nHost: localhost\r\n\r\n"),
    ("CWE-22 encoded dots", b"GET /static/%2e%2e%2f%2e%2e%2fpyproject.toml HTTP/1.1\r\nHost: localhost\r\n\r\n"),
    ("CWE-22 two slashes", b"GET //api/jobs HTTP/1.1\r\nHost: localhost\r\nAccept: application/json\r\n\r\n"),
    ("CWE-158 null in the address", b"GET /api/jobs\x00 HTTP/1.1\r\nHost: localhost\r\n\r\n"),
    ("CWE-113 bare line feed", LINE.replace(b"\r\n", b"\n", 1) + b"Content-Length: 23\r\nOrigin: http://evil.example\r\n\r\n" + BODY),
    ("CWE-20 no HTTP", b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\r\n\r\n"),
    ("CWE-20 HTTP/9.9", b"GET / HTTP/9.9\r\nHost: localhost\r\n\r\n"),
    ("ASVS 4.1.4 TRACE", b"TRACE / HTTP/1.1\r\nHost: localhost\r\nX-Secret: echo-me\r\nOrigin: http://localhost\r\n\r\n"),
    ("ASVS 4.1.4 CONNECT", b"CONNECT evil.example:443 HTTP/1.1\r\nHost: evil.example:443\r\n\r\n"),
    ("CWE-22 asterisk", b"OPTIONS * HTTP/1.1\r\nHost: evil.example\r\n\r\n"),
]


@pytest.fixture
def wire(stage):
    app = stage[0]
    server = serve._bound(app, app.extensions["pitsplice-settings"], 0, "--port")
    thread = threading.Thread(target=server.serve)
    thread.start()
    yield server.bind_addr[1]
    server.stop()
    thread.join()


def told(port, sent):
    with socket.create_connection(("127.0.0.1", port), timeout=5) as sock:
        answer = b""
        # A reset in the middle is a refusal too.
        with suppress(OSError):
            sock.sendall(sent)
            sock.shutdown(socket.SHUT_WR)
            while part := sock.recv(65536):
                answer += part
    return answer


def test_what_is_malformed_on_the_wire_is_refused_and_the_server_goes_on(wire, kept, capfd):
    for why, sent in WIRE:
        before = kept()
        answer = told(wire, sent)
        # An answer cut short by a reset is a refusal as well; a success is none.
        statuses = [int(line.split()[1]) for line in answer.split(b"\r\n") if line.startswith(b"HTTP/1.1 ")]
        assert all(400 <= status < 500 or status in (501, 505) for status in statuses), (why, answer[:300])
        for inner in (b"Traceback", b"File \"", b"echo-me", b"[project]"):
            assert inner not in answer, why
        assert kept() == before, why
        good = told(wire, b"GET /api/health HTTP/1.0\r\nHost: localhost\r\n\r\n")
        assert b" 200 OK" in good, why
    assert "Traceback" not in capfd.readouterr().err


def test_private_answers_are_kept_by_no_cache_and_every_answer_is_hardened(cast):
    who, words = cast
    client = who["laptop"]
    for path in ("/", "/trust", "/api/health", "/api/jobs", f"/api/jobs/{words['job']}", "/api/stock", "/api/stock.csv", "/api/devices",
                 f"/api/jobs/{words['job']}/template?kind=svg", "/static/page.js", "/api/nothing", "/job/x/y"):  # fmt: skip
        answer = client.get(path)
        hardened(answer)
        if path.startswith("/api/") or path == "/trust":
            assert answer.headers["Cache-Control"] == "no-store", path
    # published: ASVS 3.4.3 and 3.4.6 name these directives
    policy = security.HEADERS["Content-Security-Policy"]
    for part in ("object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'"):
        assert part in policy
    assert "unsafe-inline" not in policy


def test_a_preflight_of_another_site_gets_no_leave(cast):
    who, _ = cast
    for sender in ("laptop", "stranger"):
        answer = who[sender].options("/api/jobs", headers={"Origin": "http://evil.example", "Access-Control-Request-Method": "POST"})
        assert not [name for name, _ in answer.headers if name.startswith("Access-Control-")]


def test_script_typed_by_a_person_is_text_in_the_export(client, store, tmp_path):
    script = "<script>alert(1)</script><img src=x onerror=alert(1)>\"'&"
    job = client.post("/api/jobs", json={"title": script, "who": "<b>Lee</b>"}).get_json()["id"]
    fill(client, job)
    finish(client, job)
    assert client.post(f"/api/jobs/{job}/seal", json={"who": "</td><script>1</script>"}).status_code == 201
    client.post(f"/api/records/{job}/amendments", json={"who": "L", "text": script})
    export.export(store, tmp_path / "out")
    pages = sorted((tmp_path / "out").rglob("*.html"))
    assert len(pages) == 2
    for page in pages:
        text = page.read_text(encoding="utf-8")
        assert "&lt;script&gt;" in text
        for live in ("<script", "<img", "<b>Lee"):
            assert live not in text
    # In JSON the page shows it as text; the type keeps a browser from reading it as a page.
    answer = client.get(f"/api/jobs/{job}")
    assert (answer.mimetype, answer.headers["X-Content-Type-Options"]) == ("application/json", "nosniff")
