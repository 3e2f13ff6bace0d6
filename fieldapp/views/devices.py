"""Pairing a phone, and the list of paired phones."""

from __future__ import annotations

from flask import Blueprint, Response, current_app, request

from core.problems import Problem
from core.tube import one_of
from fieldapp import access
from fieldapp.body import answer, json_object
from fieldapp.members import only, text
from fieldapp.problems import response_of
from fieldapp.refusals import Refused
from fieldapp.store import devices as kept
from fieldapp.tries import Tries
from fieldapp.writes import store, write

devices = Blueprint("devices", __name__, url_prefix="/api")


@devices.record_once
def _limit(state) -> None:
    state.app.extensions["pitsplice-tries"] = Tries()


@devices.post("/pairings")
def start() -> Response:
    """Make a pairing: a secret in a QR code, and a short code to type, for ten minutes and one phone.

    Kept under no operation key: the answer holds the secret.
    """
    from fieldapp.qr import qr_svg

    data = json_object()
    only(data, "role", "name")
    role = one_of("role", data.get("role"), kept.ROLES)
    name = text(data, "name")
    site = current_app.extensions["pitsplice-site"]
    with store().write() as db:
        made = kept.start(db, store(), role, name)
    url = f"{site.origin or request.host_url.rstrip('/')}/pair#{made['secret']}"
    return answer({**made, "url": url, "qr": qr_svg(url, f"QR code to pair {name}")}, 201)


@devices.post("/pair")
def pair() -> Response:
    """Pair the phone that asks, by the secret it scanned or the code typed on it."""
    data = json_object()
    only(data, "secret", "code", "name")
    given = {field: text(data, field, required=False) or None for field in ("secret", "code")}
    if (given["secret"] is None) == (given["code"] is None):
        raise Problem("missing", "The pairing needs its secret or its code.", given=", ".join(sorted(data)) or "nothing",
                      allowed="one of secret and code.", next_step="Scan the code on the laptop, or type it.", field="code")  # fmt: skip
    name = text(data, "name", required=False)
    try:
        right = current_app.extensions["pitsplice-tries"].take(request.remote_addr or "")
    except Refused as problem:
        response = response_of(problem)
        response.headers["Retry-After"] = str(problem.extra["retry_after"])
        return response
    with store().write() as db:
        device, token = kept.pair(db, store(), given["secret"], given["code"], name)
    right()
    response = answer({"role": device["role"], "may": access.WHAT[device["role"]], "device": _short(device)}, 201)
    access.set_cookie(response, token)
    return response


@devices.get("/devices")
def index() -> Response:
    """List the devices, and where phones find this laptop."""
    site = current_app.extensions["pitsplice-site"]
    with store().read() as db:
        found = kept.every(db)
    return answer({"devices": found, "origin": site.origin, "addresses": list(site.plain),
                   "fingerprint": site.authority.fingerprint if site.authority else "",
                   "roles": [{"key": role, "may": access.WHAT[role]} for role in kept.ROLES]})  # fmt: skip


@devices.post("/devices/<device>/revoke")
def revoke(device: str) -> Response:
    """Take a device's pairing back; from then on it is answered as a stranger."""
    data = json_object()
    only(data)
    return write(data, lambda db: kept.revoke(db, store(), device))


def _short(device: dict) -> dict:
    return {"id": device["id"], "name": device["name"]}


def health_members() -> dict:
    """Return what ``GET /api/health`` tells the caller about itself."""
    who = access.caller()
    return {"role": who.role, "device": _short(who.device) if who.role and who.device else None}
