"""Who may talk to this server, and what a browser may do with its pages."""

from __future__ import annotations

import ipaddress
import re
import socket
from contextlib import suppress

from flask import Flask, Response, request

from core.problems import Problem
from fieldapp.config import Settings
from fieldapp.problems import too_large

LOOPBACK = ("localhost", "127.0.0.1", "::1")
SAFE_METHODS = ("GET", "HEAD", "OPTIONS")
HOST = re.compile(r"(?P<name>\[[0-9a-f:.]+\]|[a-z0-9._-]+)(:\d{1,5})?", re.ASCII)
HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob: data:; "
        "connect-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(self)",
}
# A page of another origin can send these without asking this server first (Fetch standard,
# "CORS-safelisted request-header"), so a write in one of them must name its origin.
NEEDS_ORIGIN = ("multipart/form-data", "application/x-www-form-urlencoded", "text/plain", "")


def register(app: Flask, settings: Settings) -> None:
    """Guard every request of `app` and add the headers to every response."""
    names = {name.lower() for name in (*LOOPBACK, *settings.allowed_hosts)}
    if settings.lan:
        names.update(lan_names())

    @app.before_request
    def guard() -> None:
        check_host(names, settings.lan)
        if request.method not in SAFE_METHODS:
            check_origin()
            check_length(settings.max_body)

    @app.after_request
    def harden(response: Response) -> Response:
        for name, value in HEADERS.items():
            response.headers.setdefault(name, value)
        return response


def check_host(names: set[str], lan: bool) -> None:
    """Raise ``wrong-host`` unless the Host header names this machine.

    A page elsewhere can point a name of its own at this machine (DNS rebinding); the name
    in the Host header gives it away.
    """
    given = request.environ.get("HTTP_HOST", "")
    found = HOST.fullmatch(given.lower())
    name = found["name"].strip("[]") if found else None
    if name in names:
        return
    if lan and name and _is_address(name):
        # The laptop may have joined another network since the start.
        names.update(lan_names())
        if name in names:
            return
    raise Problem("wrong-host", "This server does not answer to that name.", given=given,
                  allowed=", ".join(sorted(names)) + ".",
                  next_step="Open the address that the server printed at its start.", status=421)  # fmt: skip


def check_origin() -> None:
    """Raise ``cross-origin`` if a write comes from a page of another site."""
    origin, site = request.headers.get("Origin"), request.headers.get("Sec-Fetch-Site")
    here = f"{request.scheme}://{request.environ.get('HTTP_HOST', '')}".lower()
    if origin is not None and origin.lower() != here:
        raise _cross(origin, f"{here}.")
    if site is not None and site != "same-origin":
        raise _cross(f"Sec-Fetch-Site: {site}", "same-origin.")
    if origin is None and site is None and request.mimetype in NEEDS_ORIGIN:
        raise _cross(
            f"no Origin, content type {request.mimetype or 'not given'}",
            f"an Origin header of {here}, or a body of application/json or text/csv.",
        )


def check_length(limit: int) -> None:
    """Raise ``too-large`` or ``no-length``: a body without a length would be cut off at the limit in silence."""
    if request.content_length is None and "chunked" in request.headers.get("Transfer-Encoding", "").lower():
        raise Problem("no-length", "The request does not say how long it is.", given="Transfer-Encoding: chunked",
                      allowed=f"a Content-Length of up to {limit} bytes.", next_step="Send it with its length.",
                      status=411)  # fmt: skip
    if request.content_length is not None and request.content_length > limit:
        raise too_large(request.content_length, limit)


def _cross(given: str, allowed: str) -> Problem:
    return Problem("cross-origin", "A write must come from this server's own page.", given=given, allowed=allowed,
                   next_step="Open the page from this server and do it there.", status=403)  # fmt: skip


def lan_names() -> set[str]:
    """Return the names and addresses under which other machines reach this one."""
    host = socket.gethostname().lower()
    return {host, f"{host.removesuffix('.local')}.local", mdns_name(), *lan_addresses()}


def mdns_name() -> str:
    """Return the name this laptop announces on its network."""
    host = re.sub(r"[^a-z0-9-]+", "-", socket.gethostname().lower().partition(".")[0]).strip("-")
    return f"{host if host.startswith('pitsplice') else f'pitsplice-{host}'[:63].strip('-')}.local"


def lan_addresses() -> list[str]:
    """Return this machine's addresses on its networks, the likeliest first.

    Connecting a datagram socket sends nothing; it only asks the system which of its own
    addresses it would use.
    """
    found: list[str] = []
    for family, target in (
        (socket.AF_INET, "192.168.0.1"), (socket.AF_INET, "10.0.0.1"), (socket.AF_INET, "172.16.0.1"),
        (socket.AF_INET6, "fd00::1"),
    ):  # fmt: skip
        try:
            with socket.socket(family, socket.SOCK_DGRAM) as probe:
                probe.connect((target, 9))
                found.append(probe.getsockname()[0])
        except OSError:
            continue
    with suppress(OSError):
        found += [str(entry[4][0]).partition("%")[0] for entry in socket.getaddrinfo(socket.gethostname(), None)]
    return list(dict.fromkeys(a for a in found if not ipaddress.ip_address(a).is_loopback))


def _is_address(name: str) -> bool:
    try:
        ipaddress.ip_address(name)
    except ValueError:
        return False
    return True
