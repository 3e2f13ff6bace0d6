"""Who may do what: one table of every route, and the check before each request."""

from __future__ import annotations

import ipaddress
import sqlite3
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from flask import Flask, Response, g, request

from core.problems import Problem
from fieldapp.store import devices
from fieldapp.writes import store

OPEN = "open"
# Each role may do all that stands before it.
ORDER = ("view", "weld", "plan")
WHAT = {
    "view": "look at jobs, records and stock, and change nothing",
    "weld": "mark steps, add photos, notes and corrections, and take and return stock",
    "plan": "do everything",
}
# Any route that is not here is for the planner only.
ROLE_OF = {
    "GET /": OPEN, "GET /static/<path:name>": OPEN, "GET /sw.js": OPEN, "GET /manifest.webmanifest": OPEN,
    "GET /trust": OPEN, "GET /trust/pitsplice-ca.crt": OPEN, "GET /trust/pitsplice-ca.mobileconfig": OPEN,
    "GET /api/health": OPEN, "POST /api/pair": OPEN,
    # Questions to the core keep nothing.
    "GET /api/length": "view", "POST /api/size": "view", "POST /api/cuts": "view", "POST /api/template": "view",
    "POST /api/assess": "view", "POST /api/stock/candidates": "view", "GET /api/choices": "view", "GET /api/rules": "view",
    "GET /api/jobs": "view", "GET /api/jobs/<job>": "view", "GET /api/jobs/<job>/checklist": "view",
    "GET /api/jobs/<job>/template": "view", "GET /api/records/<record>": "view", "GET /api/records/<record>/tag.svg": "view",
    "GET /api/records/<record>/tag.pdf": "view", "GET /api/stock": "view", "GET /api/stock/<int:item>/moves": "view",
    "GET /api/stock.csv": "view",
    "GET /api/photos/<photo>": "view", "POST /api/jobs/<job>/photos": "weld",
    "POST /api/jobs/<job>/steps": "weld", "POST /api/records/<record>/amendments": "weld",
    "POST /api/stock/<int:item>/take": "weld", "POST /api/stock/<int:item>/return": "weld",
    "POST /api/jobs": "plan", "PUT /api/jobs/<job>/sections/<name>": "plan", "POST /api/jobs/<job>/seal": "plan",
    "POST /api/stock": "plan", "PUT /api/stock/<int:item>": "plan", "POST /api/stock/<int:item>/adjust": "plan",
    "POST /api/stock/import": "plan", "POST /api/pairings": "plan", "GET /api/devices": "plan",
    "POST /api/devices/<device>/revoke": "plan",
}  # fmt: skip


@dataclass(frozen=True)
class Caller:
    """Who sent the request: `role` None for a phone that is not paired, `device` None for the laptop itself."""

    role: str | None
    device: dict[str, Any] | None = None


def register(app: Flask) -> None:
    """Check every request of `app` against the table."""

    @app.before_request
    def guard() -> None:
        if request.url_rule is None or request.method == "OPTIONS":
            return  # A 404, a 405, or the list of methods: nothing is behind it.
        method = "GET" if request.method == "HEAD" else request.method
        needed = ROLE_OF.get(f"{method} {request.url_rule.rule}", "plan")
        if needed != OPEN:
            check(caller(), needed)

    @app.after_request
    def challenge(response: Response) -> Response:
        if response.status_code == 401:
            response.headers["WWW-Authenticate"] = 'Pairing realm="Pitsplice"'
        return response


def check(who: Caller, needed: str) -> None:
    """Raise ``not-paired`` (401) or ``not-allowed-for-role`` (403) unless `who` may do what `needed` may."""
    if who.role is None:
        revoked = who.device is not None
        raise Problem(
            "not-paired", "This phone's pairing was taken back." if revoked else "This phone is not paired with the laptop.",
            given=f"the pairing of {who.device['name']}" if revoked else "no pairing", allowed="the laptop itself, or a paired phone.",
            next_step="On the laptop open Devices, make a pairing, and scan its code with this phone.", status=401,
        )  # fmt: skip
    if ORDER.index(who.role) < ORDER.index(needed):
        raise Problem(
            "not-allowed-for-role", f"This phone may not do this. It may {WHAT[who.role]}.",
            given=f"role {who.role}", allowed=f"role {' or '.join(ORDER[ORDER.index(needed):])} for this.",
            next_step="Do it on the laptop, or ask the planner to pair this phone with another role.", status=403,
        )  # fmt: skip


def caller() -> Caller:
    """Return who sent this request; looked up once a request."""
    if "caller" not in g:
        g.caller = _caller()
    return g.caller


def _caller() -> Caller:
    if is_loopback(request.remote_addr or ""):
        return Caller("plan")
    token = request.cookies.get(cookie_name())
    if not token:
        return Caller(None)
    with store().read() as db:
        device = devices.known(db, token)
    if device is None:
        return Caller(None)
    if device["revoked_at"]:
        return Caller(None, device)
    if devices.seen_long_ago(store(), device):
        # Only a note: a full disk or a locked file must not keep a phone from reading.
        with suppress(sqlite3.Error), store().write() as db:
            devices.see(db, store(), device["id"])
    return Caller(device["role"], device)


def is_loopback(address: str) -> bool:
    """Tell whether the other end of the connection is this laptop itself."""
    try:
        found = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return False
    return (getattr(found, "ipv4_mapped", None) or found).is_loopback


def cookie_name() -> str:
    """Return the name of the device cookie: with TLS one that no other host or plain page can set."""
    return "__Host-pitsplice" if request.is_secure else "pitsplice"


def set_cookie(response: Response, token: str) -> None:
    """Put a device's token on the phone; browsers keep no cookie longer than 400 days."""
    response.set_cookie(cookie_name(), token, max_age=400 * 86400, path="/", secure=request.is_secure, httponly=True, samesite="Strict")
