"""A cheroot server whose TLS handshakes wait for nobody.

Cheroot shakes hands in the one thread that accepts connections: a phone that opens a
connection and says nothing would hold up everybody for ten seconds. Here a handshake
advances only when bytes have come, and a connection that does not finish is dropped at the
server's timeout. A connection with no request on it holds no worker thread either.
"""

from __future__ import annotations

import ssl
import sys
import time
from contextlib import suppress
from pathlib import Path
from typing import Any

from cheroot import errors
from cheroot.server import HTTPConnection
from cheroot.ssl.builtin import BuiltinSSLAdapter
from cheroot.wsgi import Server

WORKERS = 8
KEPT_OPEN = 100  # connections; a browser holds up to six
LONGEST_HEADERS = 64 * 1024  # bytes; the page's own are under 2,000
TELL = "This port takes HTTPS only. Put https:// before the address.\r\n"
PLAIN_ANSWER = (
    f"HTTP/1.1 400 Bad Request\r\nContent-Type: text/plain\r\nContent-Length: {len(TELL)}\r\nConnection: close\r\n\r\n{TELL}"
).encode()


def tls_context(certificate: Path, key: Path) -> ssl.SSLContext:
    """Return a server context, TLS 1.2 or newer."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    context.load_cert_chain(certificate, key)
    return context


class Adapter(BuiltinSSLAdapter):
    """Wraps a new connection without waiting for the handshake."""

    def __init__(self, certificate: Path, key: Path) -> None:
        super().__init__(str(certificate), str(key))
        self.context = tls_context(certificate, key)

    def renew(self, certificate: Path, key: Path) -> None:
        """Show another certificate from the next connection on."""
        self.context.load_cert_chain(certificate, key)

    def wrap(self, sock: Any) -> tuple[ssl.SSLSocket, dict[str, Any]]:
        """Return the socket, its handshake not begun."""
        try:
            return self.context.wrap_socket(sock, server_side=True, do_handshake_on_connect=False), {}
        except OSError as error:
            # Gone again already: a port scan.
            raise errors.FatalSSLAlert(*error.args) from error


class Connection(HTTPConnection):
    """One connection, and since when it has been waiting to finish its handshake."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.since = time.time()
        self.asked = False
        self.shaking = isinstance(self.socket, ssl.SSLSocket)


class PatientServer(Server):
    """The server for both ports; with `ssl_adapter` set it speaks TLS."""

    ConnectionClass = Connection

    def __init__(self, address: tuple[str, int], app: Any, adapter: Adapter | None = None) -> None:
        super().__init__(address, app, numthreads=WORKERS, server_name="Pitsplice")
        self.ssl_adapter = adapter
        self.shutdown_timeout = 3
        self.max_request_header_size = LONGEST_HEADERS
        self.keep_alive_conn_limit = KEPT_OPEN

    def error_log(self, msg: str = "", level: int = 20, traceback: bool = False) -> None:
        """Keep the terminal for what a person must read: a dropped connection is none of it."""
        # A phone that leaves in the middle of an answer ends its TLS stream early (SSLEOFError is an OSError).
        if traceback and not isinstance(sys.exc_info()[1], OSError):
            super().error_log(msg, level, traceback)

    def process_conn(self, conn: Connection) -> None:
        """Take a connection a step further; called when it is new and when bytes have come."""
        if not conn.asked and not conn.shaking:
            conn.asked = True
            self._wait(conn)
        elif conn.shaking:
            self._shake(conn)
        else:
            super().process_conn(conn)

    def put_conn(self, conn: Connection) -> None:
        """Keep a connection for its next request, which TLS may have read off the wire already."""
        if self.ready and isinstance(conn.socket, ssl.SSLSocket) and conn.socket.pending():
            super().process_conn(conn)
        else:
            super().put_conn(conn)

    def _wait(self, conn: Connection) -> None:
        self._connections.put(conn)
        # What trickles in does not buy more time.
        conn.last_used = conn.since

    def _shake(self, conn: Connection) -> None:
        sock = conn.socket
        try:
            sock.setblocking(False)
            sock.do_handshake()
        except (ssl.SSLWantReadError, ssl.SSLWantWriteError):
            self._wait(conn)
        except (OSError, ValueError) as error:
            if "http request" in str(error).lower():
                with suppress(OSError):
                    # The plain socket below: there is no TLS to send it through.
                    super(ssl.SSLSocket, sock).send(PLAIN_ANSWER)
            conn.close()
        else:
            sock.settimeout(self.timeout)
            conn.shaking, conn.asked = False, True
            conn.since = time.time()
            conn.ssl_env = self.ssl_adapter.get_environ(sock)
            if sock.pending():
                super().process_conn(conn)
            else:
                self._wait(conn)
