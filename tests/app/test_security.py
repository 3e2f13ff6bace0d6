"""Who may talk to the server, and what its pages may do."""

import pytest
from conftest_helpers import SHELL, told

from fieldapp import create_app, security
from fieldapp.config import Settings

ASK = {"title": "A", "who": "Lee"}


@pytest.mark.parametrize("host", ["localhost", "localhost:8750", "127.0.0.1:1", "[::1]:8750", "LOCALHOST"])
def test_the_loopback_names_are_answered(client, host):
    assert client.get("/api/health", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host", ["evil.example", "localhost.evil.example", "192.168.1.5", "", "localhost:x", "a@localhost", "[::1"]
)
def test_a_foreign_host_name_is_refused(client, host):
    told(client.get("/api/health", headers={"Host": host}), 421, "wrong-host")
    told(client.get("/", headers={"Host": host}), 421, "wrong-host")


def test_lan_and_given_names_are_answered(tmp_path, monkeypatch):
    addresses = ["192.168.1.5"]
    monkeypatch.setattr(security, "lan_addresses", lambda: addresses)
    app = create_app(Settings(tmp_path, lan=True, allowed_hosts=("Pits.local",)))
    client = app.test_client()
    for host in ("192.168.1.5:8750", "pits.local"):
        assert client.get("/api/health", headers={"Host": host}).status_code == 200
    told(client.get("/api/health", headers={"Host": "10.0.0.7"}), 421, "wrong-host")
    addresses.append("10.0.0.7")
    assert client.get("/api/health", headers={"Host": "10.0.0.7"}).status_code == 200
    app.extensions["pitsplice-store"].close()


def test_lan_addresses_are_of_this_machine_and_no_loopback():
    for address in security.lan_addresses():
        assert not address.startswith("127.")


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://evil.example"}, {"Origin": "null"}, {"Origin": "https://localhost"},
        {"Origin": "http://localhost:81"}, {"Sec-Fetch-Site": "cross-site"}, {"Sec-Fetch-Site": "same-site"},
        {"Sec-Fetch-Site": "none"}, {"Origin": "http://localhost", "Sec-Fetch-Site": "cross-site"},
    ],
)  # fmt: skip
def test_a_write_from_another_site_is_refused(client, headers):
    told(client.post("/api/jobs", json=ASK, headers=headers), 403, "cross-origin")
    assert client.get("/api/jobs").get_json()["jobs"] == []


@pytest.mark.parametrize("headers", [{}, {"Origin": "http://localhost"}, {"Sec-Fetch-Site": "same-origin"}])
def test_a_write_from_the_page_or_a_program_is_taken(client, headers):
    assert client.post("/api/jobs", json=ASK, headers=headers).status_code == 201


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", None])
def test_what_another_site_could_send_unasked_needs_an_origin(client, kind):
    told(client.post("/api/jobs", data=b"{}", content_type=kind), 403, "cross-origin")
    told(
        client.post("/api/jobs", data=b"{}", content_type=kind, headers={"Origin": "http://localhost"}),
        415,
        "bad-content-type",
    )


@pytest.mark.parametrize("path", ["/", "/api/health", "/static/page.js", "/api/nothing", "/static/nothing.js", "/page"])
def test_every_answer_carries_the_headers(client, path):
    answer = client.get(path)
    for name, value in security.HEADERS.items():
        assert answer.headers[name] == value
    assert "'unsafe-inline'" not in answer.headers["Content-Security-Policy"]
    assert "Access-Control-Allow-Origin" not in answer.headers


def test_page_addresses_get_the_shell_and_files_revalidate(client):
    for path in ("/", "/jobs/7K3M9QX3", "/r/7K3M-9QX3", "/apiary"):
        answer = client.get(path, headers={"Accept": "text/html"})
        assert (answer.status_code, answer.get_data(as_text=True)) == (200, SHELL)
        assert answer.headers["Cache-Control"] == "no-cache"
    first = client.get("/static/page.js")
    assert first.mimetype in ("text/javascript", "application/javascript")
    assert first.headers["Cache-Control"] == "no-cache"
    assert client.get("/static/page.js", headers={"If-None-Match": first.headers["ETag"]}).status_code == 304
    told(client.get("/sw.js"), 404, "not-found")
    told(client.get("/robots.txt"), 404, "not-found")
    told(client.get("/page", headers={"Accept": "application/json"}), 404, "not-found")
    told(client.get("/static/../../pyproject.toml"), 404, "not-found")


def test_service_worker_and_manifest_come_from_the_root(client, app):
    static = app.extensions["pitsplice-settings"].static_dir
    (static / "sw.js").write_text("//")
    (static / "manifest.webmanifest").write_text("{}")
    answer = client.get("/sw.js")
    assert (answer.mimetype, answer.headers["Cache-Control"]) == ("text/javascript", "no-cache")
    assert client.get("/manifest.webmanifest").mimetype == "application/manifest+json"
