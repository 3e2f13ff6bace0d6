"""DEVELOPERS.md, section API, lists every route and every kind of problem of the server."""

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
API = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("\n## API\n")[2].partition("\n## ")[0]


def test_every_route_is_documented_and_nothing_else(app):
    served = {
        f"{method} {rule.rule}" for rule in app.url_map.iter_rules() for method in rule.methods - {"HEAD", "OPTIONS"}
    }
    assert served == set(re.findall(r"^\| `((?:GET|POST|PUT|PATCH|DELETE) [^`]+)` \|", API, re.MULTILINE))


def test_every_kind_of_problem_is_documented_and_nothing_else():
    files = [*(ROOT / "fieldapp").rglob("*.py"), ROOT / "core" / "record.py"]
    source = "\n".join(p.read_text(encoding="utf-8") for p in files if p.name not in ("labels.py", "demo.py"))
    raised = set(re.findall(r"\b(?:Problem|Refused|not_found)\(\s*\"([a-z-]+)\"", source))
    table = API.partition("### Problems")[2]
    listed = {
        kind for row in re.findall(r"^\| (`[^|]+) \|", table, re.MULTILINE) for kind in re.findall(r"`([a-z-]+)`", row)
    }
    assert raised == listed
    assert len(raised) > 30
