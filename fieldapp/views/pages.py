"""The page itself: one shell for every page address, and the files it needs."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, Response, current_app, request, send_from_directory
from werkzeug.exceptions import NotFound

from fieldapp.problems import http_problem, response_of

pages = Blueprint("pages", __name__)


def static_dir() -> Path:
    """Return the folder of the page."""
    return current_app.extensions["pitsplice-settings"].static_dir


@pages.get("/")
def shell() -> Response:
    """Answer with the page."""
    return send_from_directory(static_dir(), "index.html")


@pages.get("/static/<path:name>")
def static_file(name: str) -> Response:
    """Answer with a file of the page; the browser asks each time, an ETag spares the bytes."""
    return send_from_directory(static_dir(), name)


@pages.get("/sw.js")
def service_worker() -> Response:
    """Answer with the service worker, at the root so that it covers every page."""
    return send_from_directory(static_dir(), "sw.js", mimetype="text/javascript")


@pages.get("/manifest.webmanifest")
def manifest() -> Response:
    """Answer with the description a phone needs to put the page on its first screen."""
    return send_from_directory(static_dir(), "manifest.webmanifest", mimetype="application/manifest+json")


def page_or_problem(error: NotFound) -> Response:
    """Answer a page address with the shell and anything else that is not there with a problem.

    Page addresses belong to the page's script, so the server cannot list them.
    """
    last = request.path.rsplit("/", 1)[-1]
    is_page = (
        request.method in ("GET", "HEAD")
        and not f"{request.path}/".startswith(("/api/", "/static/"))
        and "." not in last
        and (not request.accept_mimetypes or "text/html" in request.accept_mimetypes)
        and (static_dir() / "index.html").is_file()
    )
    return shell() if is_page else response_of(http_problem(error))
