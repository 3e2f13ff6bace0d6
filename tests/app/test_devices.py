"""Pairing: once, in time, in the role that was given; and what each role may do."""

import re
from datetime import UTC, datetime, timedelta
from html import unescape

import pytest
from conftest_helpers import told

from fieldapp import access
from fieldapp.certificates import Authority
from fieldapp.tries import Tries, network_of

PHONE = {"REMOTE_ADDR": "192.168.1.20"}
ROUTES = sorted(access.ROLE_OF)


def pairing(client, role="weld", name="Lee's phone"):
    answer = client.post("/api/pairings", json={"role": role, "name": name})
    assert answer.status_code == 201, answer.get_json()
    return answer.get_json()


@pytest.fixture
def stranger(app):
    """A phone on the network with no pairing."""
    phone = app.test_client()
    phone.environ_base.update(PHONE)
    return phone


@pytest.fixture
def paired(app, client):
    """Return a maker of paired phones by role."""

    def make(role):
        phone = app.test_client()
        phone.environ_base.update(PHONE)
        answer = phone.post("/api/pair", json={"secret": pairing(client, role)["secret"], "name": f"Phone {role}"})
        assert answer.status_code == 201, answer.get_json()
        return phone

    return make


def later(clock, **passed):
    clock.time = (datetime.fromisoformat(clock.time) + timedelta(**passed)).astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def test_a_pairing_lets_one_phone_in_with_its_role(client, stranger):
    told(stranger.get("/api/jobs"), 401, "not-paired")
    made = pairing(client)
    # hand: 16 bytes are 22 characters of base64url; ten minutes after 10:00
    assert re.fullmatch(r"[A-Za-z0-9_-]{22}", made["secret"])
    assert made["expires_at"] == "2026-03-01T10:10:00Z"
    assert made["url"] == f"http://localhost/pair#{made['secret']}"
    assert made["qr"].startswith("<svg")
    answer = stranger.post("/api/pair", json={"secret": made["secret"], "name": "Lee"})
    assert answer.status_code == 201
    body = answer.get_json()
    assert (body["role"], body["device"]["name"]) == ("weld", "Lee")
    assert stranger.get("/api/jobs").status_code == 200
    health = stranger.get("/api/health").get_json()
    assert (health["role"], health["device"]) == ("weld", body["device"])
    (device,) = client.get("/api/devices").get_json()["devices"]
    assert (device["name"], device["role"], device["revoked_at"]) == ("Lee", "weld", None)


def test_the_typed_code_does_the_same_as_a_person_types_it(client, stranger):
    made = pairing(client, "view")
    typed = f" {made['code'].replace('-', ' ').lower()} "
    answer = stranger.post("/api/pair", json={"code": typed, "name": ""})
    assert answer.status_code == 201
    assert answer.get_json()["device"]["name"] == "Lee's phone"


@pytest.mark.parametrize("field", ["secret", "code"])
def test_a_pairing_is_used_once_and_in_time(app, client, stranger, clock, field):
    made = pairing(client)
    ask = {field: made[field], "name": "A"}
    assert stranger.post("/api/pair", json=ask).status_code == 201
    other = app.test_client()
    other.environ_base.update(PHONE)
    told(other.post("/api/pair", json=ask), 403, "bad-pairing")
    late = pairing(client)
    later(clock, minutes=9, seconds=59)
    early = {**ask, field: late[field]}
    clock_before = clock.time
    later(clock, seconds=1)
    told(other.post("/api/pair", json=early), 403, "bad-pairing")
    clock.time = clock_before
    assert other.post("/api/pair", json=early).status_code == 201


def test_no_secret_is_kept_as_it_is(client, stranger, store, tmp_path):
    made = pairing(client)
    answer = stranger.post("/api/pair", json={"secret": made["secret"], "name": "A"})
    token = re.search(r"pitsplice=([^;]+)", answer.headers["Set-Cookie"])[1]
    dump = "\n".join(store.connection().iterdump())
    for secret in (made["secret"], made["code"], made["code"].replace("-", ""), token, token.partition(".")[2]):
        assert secret not in dump
    # hand: SHA-256 is 64 hex digits
    assert len(store.connection().execute("SELECT token_sha256 FROM device").fetchone()[0]) == 64


def test_the_cookie_is_out_of_reach_of_scripts_and_other_sites(app, client):
    plain = app.test_client()
    plain.environ_base.update(PHONE)
    set_plain = plain.post("/api/pair", json={"secret": pairing(client)["secret"], "name": "A"}).headers["Set-Cookie"]
    secure = app.test_client()
    secure.environ_base.update(PHONE, **{"wsgi.url_scheme": "https"})
    answer = secure.post(
        "/api/pair", json={"secret": pairing(client)["secret"], "name": "B"}, base_url="https://localhost"
    )
    set_secure = answer.headers["Set-Cookie"]
    for line in (set_plain, set_secure):
        assert {"HttpOnly", "SameSite=Strict", "Path=/"} <= set(line.split("; "))
        assert "Domain" not in line
    # published: RFC 6265bis, 4.1.3.2, the __Host- prefix needs Secure, Path=/ and no Domain
    assert set_secure.startswith("__Host-pitsplice=")
    assert "Secure" in set_secure.split("; ")
    assert set_plain.startswith("pitsplice=")


def test_a_plain_cookie_does_not_count_on_the_secure_page(app, paired):
    phone = paired("plan")
    value = phone.get_cookie("pitsplice").value
    secure = app.test_client(use_cookies=False)
    secure.environ_base.update(PHONE)
    for name in ("pitsplice", "__Host-pitsplice"):
        answer = secure.get("/api/jobs", base_url="https://localhost", headers={"Cookie": f"{name}={value}"})
        # A token is a token: under its proper name it is good on either page.
        assert answer.status_code == (401 if name == "pitsplice" else 200)


def test_taking_a_pairing_back_ends_it_at_once_and_for_good(client, paired, store):
    phone = paired("plan")
    device = phone.get("/api/health").get_json()["device"]["id"]
    first = client.post(f"/api/devices/{device}/revoke", json={}).get_json()
    assert first["revoked_at"] == "2026-03-01T10:00:00Z"
    body = told(phone.get("/api/jobs"), 401, "not-paired")
    assert "taken back" in body["title"]
    assert phone.get("/api/health").get_json()["role"] is None
    assert client.post(f"/api/devices/{device}/revoke", json={}).get_json() == first
    told(client.post("/api/devices/none/revoke", json={}), 404, "no-device")
    with pytest.raises(Exception, match="stays revoked"):
        store.connection().execute("UPDATE device SET revoked_at = NULL")


def test_last_seen_is_noted_once_a_minute(client, paired, store, clock):
    phone = paired("view")

    def seen():
        return client.get("/api/devices").get_json()["devices"][0]["last_seen_at"]

    later(clock, seconds=59)
    phone.get("/api/jobs")
    assert seen() == "2026-03-01T10:00:00Z"
    later(clock, seconds=1)
    phone.get("/api/jobs")
    assert seen() == "2026-03-01T10:01:00Z"


def test_a_locked_file_keeps_no_phone_from_reading(paired, store, clock):
    import sqlite3

    phone = paired("view")
    later(clock, minutes=5)
    store.connection().execute("PRAGMA busy_timeout = 20")
    other = sqlite3.connect(store.path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    assert phone.get("/api/jobs").status_code == 200
    other.close()


def test_every_route_of_the_app_has_its_role_and_no_other_is_listed(app):
    served = {f"{m} {r.rule}" for r in app.url_map.iter_rules() for m in r.methods - {"HEAD", "OPTIONS"}}
    assert served == set(access.ROLE_OF)
    assert set(access.ROLE_OF.values()) == {access.OPEN, *access.ORDER}


def test_only_health_pairing_and_the_page_are_open():
    is_open = {route for route, role in access.ROLE_OF.items() if role == access.OPEN}
    assert {r for r in is_open if "/api/" in r} == {"GET /api/health", "POST /api/pair"}


def fill_in(rule, job="22222222"):
    for part, value in {"<job>": job, "<record>": job, "<int:item>": "1", "<name>": "size", "<path:name>": "page.js", "<device>": "x"}.items():
        rule = rule.replace(part, value)
    return rule


@pytest.mark.parametrize("role", [None, *access.ORDER])
def test_every_role_may_do_what_the_table_says_on_every_route(stranger, paired, role):
    phone = paired(role) if role else stranger
    for route in ROUTES:
        method, rule = route.split(" ", 1)
        answer = phone.open(fill_in(rule), method=method, json={} if method != "GET" else None)
        needed = access.ROLE_OF[route]
        kind = (answer.get_json(silent=True) or {}).get("type", "").rpartition(":")[2]
        if needed == access.OPEN or (role and access.ORDER.index(role) >= access.ORDER.index(needed)):
            assert kind not in ("not-paired", "not-allowed-for-role"), route
        elif role is None:
            assert (answer.status_code, kind) == (401, "not-paired"), route
            assert answer.headers["WWW-Authenticate"]
        else:
            body = told(answer, 403, "not-allowed-for-role")
            assert access.WHAT[role] in body["title"]


def test_a_route_that_was_forgotten_is_for_the_planner_only(client, paired, monkeypatch):
    phone = paired("weld")
    monkeypatch.delitem(access.ROLE_OF, "GET /api/jobs")
    told(phone.get("/api/jobs"), 403, "not-allowed-for-role")
    assert client.get("/api/jobs").status_code == 200


@pytest.mark.parametrize(
    ("address", "local"),
    [
        ("127.0.0.1", True), ("127.9.9.9", True), ("::1", True), ("::ffff:127.0.0.1", True), ("192.168.1.5", False),
        ("::ffff:192.168.1.5", False), ("0.0.0.0", False), ("", False), ("localhost", False), ("fe80::1%eth0", False),
    ],
)  # fmt: skip
def test_only_a_loopback_connection_is_the_laptop_itself(address, local):
    assert access.is_loopback(address) is local


def test_a_header_cannot_make_a_phone_the_laptop(stranger):
    for header in ("X-Forwarded-For", "X-Real-IP", "Forwarded", "Client-IP", "True-Client-IP"):
        told(stranger.get("/api/jobs", headers={header: "127.0.0.1"}), 401, "not-paired")


class Seconds:
    def __init__(self):
        self.now = 1000.0

    def __call__(self):
        return self.now


def test_wrong_codes_are_limited_by_phone_and_in_all_and_the_wait_is_told(app, client):
    clock = Seconds()
    app.extensions["pitsplice-tries"] = Tries(clock=clock)

    def guess(last, code="AAA-AAA"):
        phone = app.test_client()
        phone.environ_base["REMOTE_ADDR"] = f"192.168.1.{last}"
        return phone.post("/api/pair", json={"code": code, "name": "x"})

    made = pairing(client)
    for _ in range(5):
        told(guess(20), 403, "bad-pairing")
    clock.now += 100
    answer = guess(20, made["code"])
    assert told(answer, 429, "too-many-tries")["retry_after"] == 500
    # hand: 600 s after the first of the five, 100 of them gone
    assert answer.headers["Retry-After"] == "500"
    # Another phone still gets in, and what was right does not count.
    for _ in range(7):
        assert guess(21, pairing(client)["code"]).status_code == 201
    for last in range(30, 55):
        told(guess(last), 403, "bad-pairing")
    told(guess(99, made["code"]), 429, "too-many-tries")
    clock.now += 500
    assert guess(20, made["code"]).status_code == 201


def test_an_ipv6_phone_cannot_draw_new_addresses_to_try_again():
    assert network_of("fd00::1") == network_of("fd00::ffff:1") != network_of("fd00:0:0:1::1")
    assert network_of("::ffff:10.0.0.7") == network_of("10.0.0.7") == "10.0.0.7"
    assert network_of("fe80::1%eth0") == "fe80::/64"
    assert network_of("nonsense") == "unknown"


def test_tries_at_the_same_moment_cannot_slip_through():
    import threading

    tries = Tries(clock=Seconds())
    let_in = []

    def one():
        try:
            tries.take("10.0.0.7")
            let_in.append(1)
        except Exception:
            let_in.append(0)

    threads = [threading.Thread(target=one) for _ in range(20)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sum(let_in) == 5


def test_one_of_two_phones_with_the_same_code_gets_in(app, client):
    import threading

    made = pairing(client)
    codes = []

    def one(last):
        phone = app.test_client()
        phone.environ_base["REMOTE_ADDR"] = f"192.168.1.{last}"
        codes.append(phone.post("/api/pair", json={"code": made["code"], "name": "x"}).status_code)

    threads = [threading.Thread(target=one, args=(n,)) for n in range(20, 24)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(codes) == [201, 403, 403, 403]


def test_the_trust_page_and_its_downloads(app, client, stranger, tmp_path):
    from fieldapp.config import Site

    for path in ("/trust/pitsplice-ca.crt", "/trust/pitsplice-ca.mobileconfig"):
        told(stranger.get(path), 404, "no-certificate")
    assert "for this laptop only" in stranger.get("/trust").get_data(as_text=True)
    authority = Authority(tmp_path, ["pits.local"])
    app.extensions["pitsplice-site"] = Site("https://pits.local:8743", ("http://10.0.0.7:8750",), ("https://10.0.0.7:8743",), authority)
    answer = stranger.get("/trust")
    page = unescape(answer.get_data(as_text=True))
    assert answer.mimetype == "text/html"
    assert 'href="https://pits.local:8743/"' in page
    assert "https://10.0.0.7:8743" in page
    assert authority.name in page
    assert "<br>".join(authority.fingerprint_lines(8)) in answer.get_data(as_text=True)
    for words in ("Others on this Wi-Fi can read what is sent", "no live camera", "Enable full trust for root certificates", "CA certificate"):
        assert words in page
    assert "<script" not in page and "style=" not in page
    assert "no live camera" not in stranger.get("/trust", base_url="https://localhost").get_data(as_text=True)
    crt = stranger.get("/trust/pitsplice-ca.crt")
    assert (crt.mimetype, crt.data) == ("application/x-x509-ca-cert", authority.der)
    profile = stranger.get("/trust/pitsplice-ca.mobileconfig")
    assert (profile.mimetype, profile.data) == ("application/x-apple-aspen-config", authority.profile())
    assert client.get("/api/devices").get_json()["origin"] == "https://pits.local:8743"
    assert pairing(client)["url"].startswith("https://pits.local:8743/pair#")


@pytest.mark.parametrize(
    ("body", "status", "kind"),
    [
        ({}, 422, "missing"), ({"secret": "a", "code": "b"}, 422, "missing"), ({"code": 5}, 422, "bad-text"),
        ({"code": "AAA-AAA", "role": "plan"}, 422, "unknown-member"), ({"secret": "x" * 22}, 403, "bad-pairing"),
        ({"code": "é\u202e"}, 403, "bad-pairing"), ({"code": "AAAAAA", "name": "x" * 81}, 422, "bad-text"),
    ],
)  # fmt: skip
def test_what_is_no_pairing_is_told(stranger, body, status, kind):
    told(stranger.post("/api/pair", json=body), status, kind)


@pytest.mark.parametrize(
    ("body", "kind"),
    [({"role": "boss", "name": "A"}, "bad-choice"), ({"role": "plan"}, "missing"), ({"name": "A"}, "bad-choice")],
)
def test_a_pairing_needs_a_role_and_a_name(client, store, body, kind):
    told(client.post("/api/pairings", json=body), 422, kind)
    assert store.connection().execute("SELECT count(*) FROM pairing").fetchone()[0] == 0


def test_the_qr_code_is_read_back_by_another_reader():
    import io

    import numpy
    import zxingcpp
    from PIL import Image

    from fieldapp.qr import qr_svg

    url = "https://pitsplice-laptop.local:8743/pair#AbCdEfGhIjKlMnOpQrStUv"
    drawn = qr_svg(url, 'QR "code"')
    assert 'aria-label="QR &quot;code&quot;"' in drawn
    side = int(re.search(r'viewBox="0 0 (\d+) ', drawn)[1])
    image = numpy.full((side, side), 255, dtype="uint8")
    for x, y, width in re.findall(r"M(\d+) (\d+)h(\d+)v1", drawn):
        image[int(y), int(x) : int(x) + int(width)] = 0
    big = Image.fromarray(image).resize((side * 6, side * 6), Image.Resampling.NEAREST)
    big.save(io.BytesIO(), "PNG")
    # reference library: zxing-cpp
    assert zxingcpp.read_barcode(big).text == url
