"""The page that makes a phone trust this laptop, and what it downloads. It works over plain HTTP and with no script."""

from __future__ import annotations

from flask import Blueprint, Response, current_app, request

from fieldapp.config import Site
from fieldapp.refusals import not_found
from fieldapp.trust_page import trust_page

trust = Blueprint("trust", __name__, url_prefix="/trust")


@trust.get("")
def page() -> Response:
    """Walk through trusting this laptop's certificate authority."""
    return _fresh(trust_page(_site(), request.is_secure).encode("utf-8"), "text/html")


@trust.get("/pitsplice-ca.crt")
def certificate() -> Response:
    """Give the authority's certificate as DER."""
    response = _fresh(_authority().der, "application/x-x509-ca-cert")
    response.headers["Content-Disposition"] = 'attachment; filename="pitsplice-ca.crt"'
    return response


@trust.get("/pitsplice-ca.mobileconfig")
def profile() -> Response:
    """Give the authority as an iOS profile."""
    return _fresh(_authority().profile(), "application/x-apple-aspen-config")


def _site() -> Site:
    return current_app.extensions["pitsplice-site"]


def _authority():
    if _site().authority is None:
        raise not_found("no-certificate", "This server has no certificate.", request.path, "a server started with --lan.",
                        "Start it with: pitsplice serve --lan.")  # fmt: skip
    return _site().authority


def _fresh(content: bytes, kind: str) -> Response:
    response = Response(content, mimetype=kind)
    response.headers["Cache-Control"] = "no-store"
    return response
