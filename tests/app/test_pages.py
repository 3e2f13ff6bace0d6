"""The head of the service worker: any changed file is a new version, and nothing is left out."""

import json
import re
from pathlib import Path

from fieldapp import create_app
from fieldapp.config import Settings

ROOT = Path(__file__).resolve().parents[2]


def head(client):
    text = client.get("/sw.js").get_data(as_text=True)
    return {name: json.loads(value) for name, value in re.findall(r"^const (VERSION|FILES|LATER) = (.+);$", text, re.M)}


def test_any_change_of_any_file_is_a_new_version(client, app):
    static = app.extensions["pitsplice-settings"].static_dir
    (static / "sw.js").write_text("// the code\n")
    first = head(client)
    assert head(client) == first
    assert (first["FILES"], first["LATER"]) == (["/", "/manifest.webmanifest", "/static/page.js"], [])
    versions = {first["VERSION"]}
    for name, text in (("page.js", "export {}; "), ("index.html", "<p>"), ("sw.js", "// other code\n"), ("core.js", ""), ("icon.svg", "")):
        (static / name).write_text(text)
        versions.add(head(client)["VERSION"])
    (static / "icon.svg").unlink()
    versions.add(head(client)["VERSION"])
    # hand: the first, five changes, and one file less is one that was there before
    assert len(versions) == 6
    assert client.get("/sw.js").get_data(as_text=True).endswith("// other code\n")


def test_a_phone_gets_every_file_the_page_loads_and_the_code_reader_last(tmp_path):
    made = create_app(Settings(tmp_path / "data"))
    client = made.test_client()
    told = head(client)
    for path in told["FILES"] + told["LATER"]:
        with client.get(path) as answer:
            assert answer.status_code == 200, path
    scripts = {f"/static/{p.relative_to(ROOT / 'static').as_posix()}" for p in (ROOT / "static").rglob("*") if p.suffix in (".js", ".css", ".wasm", ".png", ".svg")}
    assert set(told["FILES"] + told["LATER"]) == (scripts - {"/static/sw.js"}) | {"/", "/manifest.webmanifest"}
    assert all("zxing" in path for path in told["LATER"]) and len(told["LATER"]) == 3
    made.extensions["pitsplice-store"].close()
