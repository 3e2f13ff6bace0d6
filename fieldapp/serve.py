"""Run the server: plain HTTP, and with --lan HTTPS beside it, in one process."""

from __future__ import annotations

import signal
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from typing import TYPE_CHECKING

from core.problems import Problem
from fieldapp.config import Settings
from fieldapp.security import lan_addresses, lan_names, mdns_name

if TYPE_CHECKING:
    from flask import Flask

    from fieldapp.certificates import Authority
    from fieldapp.tls import Adapter, PatientServer

LOOK_EVERY = 30.0  # seconds between looks at the laptop's addresses
Say = Callable[[str], None]


def serve(
    settings: Settings, *, port: int, https_port: int, origin: str, show_qr: bool, say: Say,
    prepare: Callable[[object], None] | None = None,
) -> int:  # fmt: skip
    """Serve until Ctrl-C or SIGTERM, and return the exit code.

    Parameters
    ----------
    settings : Settings
    port, https_port : int
        0 picks a free one; HTTPS runs with ``settings.lan`` only.
    origin : str
        The secure origin phones keep to; "" for this laptop's own name.
    show_qr : bool
        Whether to print a QR code for phones.
    say : callable
        Prints one line.
    prepare : callable or None
        Takes the store before the first request.

    Raises
    ------
    Problem
        ``port-taken``, ``certificate-files``, or what `fieldapp.create_app` raises.
    """
    from fieldapp import create_app

    app = create_app(settings)
    store = app.extensions["pitsplice-store"]
    servers: list[PatientServer] = []
    network = None
    backups = app.extensions["pitsplice-backups"]
    try:
        if prepare:
            prepare(store)
        servers.append(_bound(app, settings, port, "--port"))
        if settings.lan:
            network = Network(app, settings, servers, https_port, origin, say)
        _tell(app, settings, servers[0].bind_addr[1], show_qr, say)
        backups.start()
        _until_stopped(servers)
    finally:
        if network:
            network.close()
        for server in servers:
            server.stop()
        backups.stop()
        store.close()
    say("Stopped.")
    return 0


def _bound(app: Flask, settings: Settings, port: int, option: str, adapter: Adapter | None = None) -> PatientServer:
    from fieldapp.tls import PatientServer

    # All addresses with --lan: a laptop changes networks without a restart.
    server = PatientServer(("0.0.0.0" if settings.lan else "127.0.0.1", port), app, adapter)
    try:
        server.prepare()
    except OSError as error:
        raise Problem("port-taken", f"The server cannot use this port: {error}", given=str(port),
                      allowed="a port no other program uses.",
                      next_step=f"Stop the other program, or choose another with {option}.") from error  # fmt: skip
    return server


def _until_stopped(servers: list[PatientServer]) -> None:
    # An exception raised by a signal handler can be lost inside a server's loop; a stop from
    # another thread is not.
    done = threading.Event()
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, lambda *_: done.set())
    threads = [threading.Thread(target=_serve_one, args=(server, done), daemon=True) for server in servers]
    for thread in threads:
        thread.start()
    # In steps: on Windows a wait without an end does not see Ctrl-C.
    while not done.wait(0.5):
        pass
    for server in servers:
        server.stop()
    for thread in threads:
        thread.join(10)


def _serve_one(server: PatientServer, done: threading.Event) -> None:
    try:
        with suppress(KeyboardInterrupt, SystemExit):
            server.serve()
    finally:
        # One port without the other would look like a running server.
        done.set()


class Network:
    """What --lan adds: HTTPS with its certificate, the announced name, and an eye on new addresses."""

    def __init__(
        self, app: Flask, settings: Settings, servers: list[PatientServer], https_port: int, origin: str, say: Say
    ) -> None:
        from fieldapp.certificates import Authority
        from fieldapp.mdns import Announcer
        from fieldapp.tls import Adapter

        self.settings, self.say = settings, say
        self.addresses = lan_addresses()
        self.told: set[str] = set()
        self.authority: Authority = Authority(settings.data_dir, self._names())
        self.adapter = Adapter(*self._leaf())
        server = _bound(app, settings, https_port, "--https-port", self.adapter)
        servers.append(server)
        self.port = server.bind_addr[1]
        self.site = app.extensions["pitsplice-site"]
        self.site.origin = origin or f"https://{mdns_name()}:{self.port}"
        self.site.authority = self.authority
        self._plain_port = servers[0].bind_addr[1]
        self._found()
        self.announcer = Announcer(self.port, self._listening(), say)
        self._closed = threading.Event()
        self._watcher = threading.Thread(target=self._watch, daemon=True)
        self._watcher.start()

    def look(self) -> None:
        """Follow the laptop into another network, and the certificate past its last month."""
        now = lan_addresses()
        moved = now != self.addresses
        self.addresses = now
        self.adapter.renew(*self._leaf())
        if moved:
            self._found()
            for address in self.site.plain:
                self.say(f"This laptop has moved. On phones now: {address}/")
            self.announcer.announce(self._listening())

    def close(self) -> None:
        """Stop looking and take the announced name back."""
        self._closed.set()
        self._watcher.join(5)
        self.announcer.close()

    def _names(self) -> list[str]:
        return [*sorted(lan_names()), *self.settings.allowed_hosts]

    def _leaf(self) -> tuple:
        certificate, key, refused = self.authority.leaf(self._names())
        for name in refused:
            if name not in self.told:
                self.told.add(name)
                self.say(f"HTTPS cannot be used under {name}: phones trust this laptop for the names it had when its "
                         "certificate was made, and for private ones.")  # fmt: skip
        return certificate, key

    def _found(self) -> None:
        self.site.plain = tuple(f"http://{address}:{self._plain_port}" for address in self._listening())
        self.site.secure = tuple(f"https://{address}:{self.port}" for address in self._listening())

    def _listening(self) -> list[str]:
        # The ports are bound for IPv4: a phone sent to an IPv6 address would wait in vain.
        return [address for address in self.addresses if ":" not in address]

    def _watch(self) -> None:
        while not self._closed.wait(LOOK_EVERY):
            try:
                self.look()
            except (OSError, Problem) as error:
                self.say(f"The certificate could not be renewed: {error}")


def _tell(app: Flask, settings: Settings, port: int, show_qr: bool, say: Say) -> None:
    site = app.extensions["pitsplice-site"]
    say(f"Data folder: {settings.data_dir}")
    say(f"On this laptop: http://localhost:{port}/")
    if settings.lan:
        say("Phones on this network can open the page. Only paired phones can read or write: pair them at")
        say(f"                http://localhost:{port}/devices")
        say(f"Secure page:    {site.origin}/")
        for address in site.plain:
            say(f"New phone:      {address}/trust")
        say(f"Certificate fingerprint (SHA-256), the same as the phone shows for {site.authority.name}:")
        for line in site.authority.fingerprint_lines(8):
            say(f"  {line}")
        if site.plain and show_qr:
            say(f"Scan for {site.plain[0]}/trust")
            _print_qr(f"{site.plain[0]}/trust", say)
    for line in (*app.extensions["pitsplice-store"].told, *app.extensions["pitsplice-rules"].lines()):
        say(line)
    say("Stop with Ctrl-C.")


def _print_qr(address: str, say: Say) -> None:
    import qrcode

    code = qrcode.QRCode(border=2)
    code.add_data(address)
    try:
        code.print_ascii(out=sys.stdout, invert=True)
    except UnicodeEncodeError:
        say("(This terminal cannot show the QR code. Type the address instead.)")
