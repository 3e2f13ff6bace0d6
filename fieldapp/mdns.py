"""Tell the network this laptop's name, so that phones find it by a name that outlives its address."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Sequence

from fieldapp.security import mdns_name

SERVICE = "_https._tcp.local."
log = logging.getLogger("pitsplice")


class Announcer:
    """Announces the HTTPS server by multicast DNS (RFC 6762, RFC 6763) from a thread of its own.

    Parameters
    ----------
    port : int
        Port of the HTTPS server.
    addresses : sequence of str
        Addresses to announce.
    say : callable
        Takes one plain line when it does not work; the addresses still do.
    interfaces : sequence of str or None
        Addresses of the interfaces to use, None for all.
    """

    def __init__(
        self, port: int, addresses: Sequence[str], say: Callable[[str], None], interfaces: Sequence[str] | None = None
    ) -> None:
        self.port, self.say, self.interfaces = port, say, interfaces
        self._zeroconf = self._info = None
        self._lock = threading.Lock()
        self._closed = False
        self.announce(addresses)

    def announce(self, addresses: Sequence[str]) -> None:
        """Announce these addresses from now on; returns at once."""
        # Probing the network takes about a second: the first page does not wait for it.
        threading.Thread(target=self._announce, args=(list(addresses),), daemon=True).start()

    def _announce(self, addresses: list[str]) -> None:
        try:
            from zeroconf import InterfaceChoice, ServiceInfo, Zeroconf

            with self._lock:
                if self._closed:
                    return
                self._stop()
                host = mdns_name()
                self._zeroconf = Zeroconf(interfaces=self.interfaces or InterfaceChoice.All)
                self._info = ServiceInfo(
                    SERVICE, f"{host.removesuffix('.local')}.{SERVICE}", port=self.port, server=f"{host}.",
                    parsed_addresses=addresses, properties={"path": "/"},
                )  # fmt: skip
                self._zeroconf.register_service(self._info, allow_name_change=True)
        except Exception as error:
            # Without a network, or with multicast forbidden: many kinds of error, one meaning.
            log.info("mdns: %r", error)
            self.say(f"The name {mdns_name()} could not be announced ({type(error).__name__}). Use an address instead.")

    def _stop(self) -> None:
        if self._zeroconf is not None:
            self._zeroconf.close()
            self._zeroconf = None

    def close(self) -> None:
        """Take the announcement back."""
        with self._lock:
            self._closed = True
            try:
                self._stop()
            except Exception as error:
                log.info("mdns: %r", error)
