"""The command: sizing by pipe, export, and what it imports."""

import io
import json
import subprocess
import sys
import types
from pathlib import Path

import pytest
from conftest_helpers import SIZE

from fieldapp import __version__, cli, services
from fieldapp.store import Store, jobs

ROOT = Path(__file__).resolve().parents[2]


def size(monkeypatch, capsys, raw):
    """Run `pitsplice size` on `raw` and return exit code, stdout and stderr."""
    monkeypatch.setattr(sys, "stdin", types.SimpleNamespace(buffer=io.BytesIO(raw)))
    code = cli.main(["size"])
    said = capsys.readouterr()
    return code, said.out, said.err


def test_size_reads_json_and_writes_json(monkeypatch, capsys):
    code, out, err = size(monkeypatch, capsys, json.dumps(SIZE).encode("utf-8"))
    assert (code, err) == (0, "")
    assert json.loads(out) == json.loads(json.dumps(services.size(SIZE)))


@pytest.mark.parametrize("raw", [b"", b"[]", b'{"a": NaN}', b'{"a":1,"a":2}', b"\xff"])
def test_size_refuses_bad_input_with_nothing_on_stdout(monkeypatch, capsys, raw):
    code, out, err = size(monkeypatch, capsys, raw)
    assert (code, out) == (2, "")
    assert json.loads(err)["type"] == "urn:pitsplice:problem:bad-json"


def test_size_starts_without_the_server():
    told = "import sys, fieldapp.cli, fieldapp.services, fieldapp.strict_json; print(sorted({'flask','cheroot','reportlab','sqlite3'} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", told], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_a_server_for_this_laptop_only_loads_nothing_for_phones():
    told = "import sys, fieldapp.app, fieldapp.serve, fieldapp.tls; print(sorted({'cryptography','zeroconf','qrcode','reportlab'} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", told], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize("origin", ["http://pits.local", "https://pits.local/", "https://Pits.local", "https://", "https://a b", "pits.local"])
def test_an_origin_that_is_none_is_told(origin, capsys):
    with pytest.raises(SystemExit) as stop:
        cli.main(["serve", "--lan", "--origin", origin])
    assert stop.value.code == 2
    assert "is no secure origin" in capsys.readouterr().err


def test_help_has_examples_and_the_version_is_the_package_s(capsys):
    for arguments, words in (
        (["--help"], "pitsplice serve --lan"),
        (["--version"], f"pitsplice {__version__}"),
        (["serve", "--help"], "--no-qr"),
    ):
        with pytest.raises(SystemExit) as stop:
            cli.main(arguments)
        assert stop.value.code == 0
        assert words in capsys.readouterr().out
    assert f'version = "{__version__}"' in (ROOT / "pyproject.toml").read_text()
    with pytest.raises(SystemExit) as stop:
        cli.main(["serve", "--port", "70000"])
    assert stop.value.code == 2


def test_export_writes_everything_into_one_folder(app, client, sealed, store, tmp_path, capsys):
    client.post(f"/api/records/{sealed['id']}/amendments", json={"who": "Sam", "text": "<b>bold</b>"})
    bar = {"od": "1 in", "wall": ".12 in", "material": "dom-1020", "length": "9 in", "note": "=1+1", "who": "Lee"}
    client.post("/api/stock", json=bar)
    target = tmp_path / "out"
    data = store.folder
    assert cli.main(["export", str(target), "--data", str(data)]) == 0
    whole = json.loads((target / "data.json").read_text(encoding="utf-8"))
    assert whole["jobs"][0]["id"] == sealed["id"]
    assert whole["records"] == [client.get(f"/api/records/{sealed['id']}").get_json()]
    assert whole["stock"][0]["moves"][0]["kind"] == "add"
    page = (target / "records" / f"{sealed['id']}.html").read_text(encoding="utf-8")
    assert "&lt;b&gt;bold" in page
    assert "<b>bold" not in page
    assert sealed["sha256"] in page
    assert "'=1+1" in (target / "stock.csv").read_text()
    assert len((target / "steps.csv").read_text().splitlines()) == 1 + len(whole["jobs"][0]["steps"])
    assert f"records/{sealed['id']}.html" in (target / "index.html").read_text()
    assert cli.main(["export", str(target), "--data", str(data)]) == 2
    assert "not empty" in capsys.readouterr().err
    assert cli.main(["export", str(tmp_path / "new"), "--data", str(tmp_path / "none")]) == 2
    assert not (tmp_path / "none").exists()


def test_the_demo_is_loaded_once(tmp_path, monkeypatch):
    calls = []

    def load(store):
        calls.append(store)
        with store.write() as db:
            jobs.create(db, store, "Demo", "Lee")

    import fieldapp

    monkeypatch.setattr(fieldapp, "demo", types.SimpleNamespace(load=load), raising=False)
    store = Store(tmp_path, demo=True)
    cli.load_demo(store)
    cli.load_demo(store)
    store.close()
    assert len(calls) == 1
