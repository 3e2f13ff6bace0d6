"""The announced name: heard by another listener, and a plain line when there is no network."""

import socket
import threading

import zeroconf

from fieldapp import mdns, security


def test_another_listener_finds_the_server_by_its_name():
    # reference library: python-zeroconf listens as a phone's resolver would; on the loopback interface only
    said = []
    announcer = mdns.Announcer(8743, ["127.0.0.1"], said.append, interfaces=["127.0.0.1"])
    found = threading.Event()
    names = []

    class Heard(zeroconf.ServiceListener):
        def add_service(self, zc, kind, name):
            names.append(name)
            found.set()

        def update_service(self, zc, kind, name): ...

        def remove_service(self, zc, kind, name): ...

    listening = zeroconf.Zeroconf(interfaces=["127.0.0.1"])
    try:
        browser = zeroconf.ServiceBrowser(listening, mdns.SERVICE, Heard())
        assert found.wait(10), said
        info = listening.get_service_info(mdns.SERVICE, names[0], timeout=5000)
        assert (info.port, info.server) == (8743, f"{security.mdns_name()}.")
        assert info.parsed_addresses() == ["127.0.0.1"]
        browser.cancel()
    finally:
        listening.close()
        announcer.close()
    assert said == []


def test_no_network_is_one_plain_line(monkeypatch):
    said = threading.Event()
    lines = []

    def fail(**_):
        raise OSError(101, "Network is unreachable")

    monkeypatch.setattr(zeroconf, "Zeroconf", fail)
    announcer = mdns.Announcer(8743, [], lambda line: (lines.append(line), said.set()))
    assert said.wait(5)
    announcer.close()
    assert lines == [f"The name {security.mdns_name()} could not be announced (OSError). Use an address instead."]


def test_the_name_is_one_a_host_can_have(monkeypatch):
    for host, name in (
        ("vm", "pitsplice-vm.local"), ("Crew_Chief's Laptop.lan", "pitsplice-crew-chief-s-laptop.local"),
        ("pitsplice-7.local", "pitsplice-7.local"), ("x" * 64, f"pitsplice-{'x' * 53}.local"),
    ):  # fmt: skip
        monkeypatch.setattr(socket, "gethostname", lambda host=host: host)
        assert security.mdns_name() == name
