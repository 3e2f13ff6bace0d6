"""The page itself: one shell for every page address, and the files it needs."""

from __future__ import annotations

import hashlib
import json
from functools import lru_cache
from pathlib import Path

from flask import Blueprint, Response, current_app, request, send_from_directory
from werkzeug.exceptions import NotFound

from fieldapp.problems import http_problem, response_of

pages = Blueprint("pages", __name__)

# A phone does not need these to work: the licences, and what the server serves under another name.
NOT_KEPT = (".md", "sw.js", "index.html", "manifest.webmanifest")
# 1 MB of code reader, fetched when the phone has nothing else to do.
LATER = "vendor/zxing-wasm/"


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
    """Answer with the service worker, at the root so that it covers every page.

    Its head says which version of the page this is and which files belong to it, so that
    any change of any file is a new version, with no build step.
    """
    folder = static_dir()
    if not (folder / "sw.js").is_file():
        raise NotFound
    found = sorted(p for p in folder.rglob("*") if p.is_file())
    version = version_of(tuple((p, p.stat().st_mtime_ns, p.stat().st_size) for p in found), folder)
    names = [p.relative_to(folder).as_posix() for p in found if not p.name.startswith("LICENSE")]
    files = [name for name in names if not name.endswith(NOT_KEPT)]
    first = ["/", "/manifest.webmanifest", *(f"/static/{name}" for name in files if not name.startswith(LATER))]
    later = [f"/static/{name}" for name in files if name.startswith(LATER)]
    head = f"const VERSION = {json.dumps(version)};\nconst FILES = {json.dumps(first)};\nconst LATER = {json.dumps(later)};\n"
    code = (folder / "sw.js").read_text(encoding="utf-8")
    response = Response(head + code, mimetype="text/javascript")
    response.headers["Cache-Control"] = "no-cache"
    return response


@lru_cache(maxsize=4)
def version_of(files: tuple[tuple[Path, int, int], ...], folder: Path) -> str:
    """Return a hash over the names and contents of the page's files.

    Times and sizes are asked for so that a changed file is read again.
    """
    digest = hashlib.sha256()
    for path, _, _ in files:
        content = path.read_bytes()
        digest.update(f"{path.relative_to(folder).as_posix()}\n{len(content)}\n".encode())
        digest.update(content)
    return digest.hexdigest()[:16]


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
