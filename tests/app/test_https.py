"""The real server with --lan: HTTPS and plain HTTP in one process, and what must not stop it."""

import http.client
import json
import socket
import ssl
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from cryptography import x509

from fieldapp.certificates import CA_CERTIFICATE, FOLDER, Authority, names_of
from fieldapp.security import lan_addresses, mdns_name
from tests.lan import ROOT, Lan, tls


@pytest.fixture(scope="module")
def lan(tmp_path_factory):
    running = Lan(tmp_path_factory.mktemp("lan"))
    yield running
    assert running.stop() == 0
    assert "Traceback" not in running.said
    assert running.said.endswith("Stopped.\n")


def test_both_ports_answer_from_one_process(lan):
    for name in ("localhost", mdns_name()):
        status, headers, body = lan.get("/api/health", name)
        assert (status, body["name"]) == (200, "Pitsplice")
        assert "Strict-Transport-Security" not in headers
    plain = http.client.HTTPConnection("127.0.0.1", lan.plain, timeout=8)
    plain.request("GET", "/api/health")
    answer = plain.getresponse()
    assert json.loads(answer.read())["role"] == "plan"
    # A name's HSTS would hold for its plain port as well, and close the trust page.
    assert "Strict-Transport-Security" not in answer.headers
    plain.close()
    assert lan.get("/api/health", "localhost", Host="evil.example:1")[0] in (400, 421)


@pytest.mark.parametrize("address", [a for a in lan_addresses() if ":" not in a][:1])
def test_a_caller_from_the_network_is_no_planner(lan, address):
    status, _, body = lan.get("/api/jobs", address, address=address)
    assert (status, body["type"]) == (401, "urn:pitsplice:problem:not-paired")


def test_old_tls_is_refused_and_new_is_spoken(lan):
    def version(**limits):
        with tls(lan.context(**limits), "127.0.0.1", lan.secure, "localhost") as sock:
            return sock.version()

    assert version() == "TLSv1.3"
    assert version(maximum_version=ssl.TLSVersion.TLSv1_2) == "TLSv1.2"
    old = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    old.check_hostname, old.verify_mode = False, ssl.CERT_NONE
    old.set_ciphers("ALL:@SECLEVEL=0")
    with pytest.warns(DeprecationWarning):
        old.minimum_version = old.maximum_version = ssl.TLSVersion.TLSv1_1
    with socket.create_connection(("127.0.0.1", lan.secure), timeout=8) as plain, pytest.raises(ssl.SSLError):
        old.wrap_socket(plain)


def test_a_client_that_does_not_trust_the_authority_refuses(lan):
    with pytest.raises(ssl.SSLCertVerificationError), tls(ssl.create_default_context(), "127.0.0.1", lan.secure, "localhost"):
        pass


def test_plain_http_on_the_tls_port_is_told_and_the_server_goes_on(lan):
    with socket.create_connection(("127.0.0.1", lan.secure), timeout=8) as sock:
        sock.sendall(b"GET / HTTP/1.1\r\nHost: localhost\r\n\r\n")
        answer = b""
        while part := sock.recv(4096):
            answer += part
    assert answer.startswith(b"HTTP/1.1 400 ")
    assert b"https://" in answer
    assert lan.get("/api/health")[0] == 200


GARBAGE = [b"", b"\x00" * 300, b"\x16\x03\x01\xff\xff" + b"A" * 400, b"SSH-2.0-scan\r\n", b"\x80\x2e\x01\x00\x02" + b"\x00" * 40, b"\r\n\r\n"]


@pytest.mark.parametrize("secure", [True, False])
def test_scans_garbage_and_silence_hold_nobody_up(lan, secure):
    # More silent connections than there are workers, on either port, and a good request in between.
    port = lan.secure if secure else lan.plain
    silent = [socket.create_connection(("127.0.0.1", port), timeout=8) for _ in range(40)]
    try:
        for number, sock in enumerate(silent):
            if secure and number % 4:
                sock.sendall(GARBAGE[number % len(GARBAGE)] or b"\x16\x03\x01")
        started = time.monotonic()
        for _ in range(5):
            if secure:
                assert lan.get("/api/health", timeout=4)[0] == 200
            else:
                with socket.create_connection(("127.0.0.1", port), timeout=4) as sock:
                    sock.sendall(b"GET /api/health HTTP/1.0\r\nHost: localhost\r\n\r\n")
                    assert b"200 OK" in sock.recv(200)
        # common practice, no source: far under the 10 s after which a silent connection is dropped
        assert time.monotonic() - started < 5
    finally:
        for sock in silent:
            sock.close()


def test_a_handshake_that_trickles_in_is_dropped_at_the_time_limit(lan):
    client = ssl.MemoryBIO(), ssl.MemoryBIO()
    hello = lan.context().wrap_bio(*client, server_hostname="localhost")
    with pytest.raises(ssl.SSLWantReadError):
        hello.do_handshake()
    raw = client[1].read()
    with socket.create_connection(("127.0.0.1", lan.secure), timeout=1) as sock:
        started = time.monotonic()
        gone = False
        for byte in raw:
            try:
                sock.sendall(bytes([byte]))
                if sock.recv(1) == b"":
                    gone = True
            except TimeoutError:
                continue
            except OSError:
                gone = True
            if gone or time.monotonic() - started > 20:
                break
        # pinned: cheroot's time limit is 10 s, looked at twice a second; each byte here takes one
        assert gone
        assert 8 < time.monotonic() - started < 15
    assert lan.get("/api/health")[0] == 200


def test_many_phones_at_once_are_all_answered(lan):
    seen = []
    phones = [threading.Thread(target=lambda: seen.append(lan.get("/api/choices")[0])) for _ in range(16)]
    for phone in phones:
        phone.start()
    for phone in phones:
        phone.join()
    assert seen == [200] * 16


def test_one_connection_takes_many_requests_over_tls(lan):
    connection = http.client.HTTPSConnection("localhost", lan.secure, context=lan.context(), timeout=8)
    for _ in range(30):
        connection.request("GET", "/api/health")
        assert connection.getresponse().read()
    connection.close()


def test_a_taken_https_port_is_told(lan, tmp_path):
    command = [sys.executable, "-m", "fieldapp.cli", "serve", "--lan", "--no-qr", "--port", "0", "--https-port", str(lan.secure),
               "--data", str(tmp_path)]  # fmt: skip
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=30, check=False)
    assert done.returncode == 2
    told = json.loads(done.stderr)
    assert told["type"].endswith("port-taken")
    assert "--https-port" in told["next"]


def test_a_given_origin_is_printed_named_and_answered(tmp_path):
    running = Lan(tmp_path, "--origin", "https://pits.example:8743", "--host", "other.example")
    try:
        assert "https://pits.example:8743/" in running.said
        running.secure = int(subprocess_port(running.process.pid, running.plain))
        assert running.get("/api/health", "pits.example")[0] == 200
        assert running.get("/api/health", "other.example")[0] == 200
    finally:
        assert running.stop() == 0


def subprocess_port(pid, plain):
    """Return the listening TCP port of a process that is not `plain`, from /proc."""
    inodes = {Path(f"/proc/{pid}/fd/{fd.name}").readlink().name for fd in Path(f"/proc/{pid}/fd").iterdir()}
    for line in Path("/proc/net/tcp").read_text().splitlines()[1:]:
        parts = line.split()
        port = int(parts[1].partition(":")[2], 16)
        if parts[3] == "0A" and f"socket:[{parts[9]}]" in inodes and port != plain:
            return port
    raise AssertionError("no second port")


def test_a_new_address_gets_a_new_certificate_in_the_running_server(tmp_path, monkeypatch):
    from fieldapp import security, serve
    from fieldapp.config import Settings, Site

    addresses = ["192.168.1.5", "fd00::5"]
    monkeypatch.setattr(security, "lan_addresses", lambda: list(addresses))
    monkeypatch.setattr(serve, "lan_addresses", lambda: list(addresses))
    announced = []

    class Announcer:
        def __init__(self, port, found, say):
            self.announce(found)

        def announce(self, found):
            announced.append(list(found))

        def close(self):
            announced.append(None)

    monkeypatch.setattr("fieldapp.mdns.Announcer", Announcer)

    class App:
        extensions = {"pitsplice-site": Site()}  # noqa: RUF012

        def __call__(self, environ, start):
            start("204 No Content", [])
            return []

    said = []
    app, settings = App(), Settings(tmp_path, lan=True)
    servers = [serve._bound(app, settings, 0, "--port")]
    network = serve.Network(app, settings, servers, 0, "", said.append)
    thread = threading.Thread(target=servers[1].serve)
    thread.start()

    def shown():
        client = ssl.create_default_context(cafile=str(tmp_path / FOLDER / CA_CERTIFICATE))
        with tls(client, "127.0.0.1", network.port, "localhost") as sock:
            return [value for _, value in sock.getpeercert()["subjectAltName"]]

    try:
        assert "192.168.1.5" in shown()
        network.look()
        addresses[:] = ["10.0.0.7", "8.8.8.8"]
        network.look()
        network.look()
        assert "10.0.0.7" in shown()
        assert app.extensions["pitsplice-site"].plain[0].startswith("http://10.0.0.7:")
        assert announced == [["192.168.1.5"], ["10.0.0.7", "8.8.8.8"]]
        assert sum("8.8.8.8" in line and "HTTPS cannot" in line for line in said) == 1
        assert "10.0.0.7" in names_of(x509.load_pem_x509_certificate((tmp_path / FOLDER / "server.crt").read_bytes()))
        assert Authority(tmp_path).fingerprint == network.authority.fingerprint
    finally:
        network.close()
        for server in servers:
            server.stop()
        thread.join()
    assert announced[-1] is None
