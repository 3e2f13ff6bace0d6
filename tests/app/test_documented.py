"""DEVELOPERS.md, section API, lists every route and every kind of problem of the server and of the core."""

import ast
import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
API = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("\n## API\n")[2].partition("\n## ")[0]


def test_every_route_is_documented_and_nothing_else(app):
    served = {
        f"{method} {rule.rule}" for rule in app.url_map.iter_rules() for method in rule.methods - {"HEAD", "OPTIONS"}
    }
    assert served == set(re.findall(r"^\| `((?:GET|POST|PUT|PATCH|DELETE) [^`]+)` \|", API, re.MULTILINE))


def kinds_of_the_server():
    source = "\n".join(p.read_text(encoding="utf-8") for p in (ROOT / "fieldapp").rglob("*.py") if p.name not in ("labels.py", "demo.py"))
    return set(re.findall(r"\b(?:Problem|Refused|not_found)\(\s*\"([a-z-]+)\"", source))


def called(node):
    return getattr(node.func, "id", getattr(node.func, "attr", ""))


def texts(node):
    """Return the words a kind can be: a word as it stands, or either one of a choice; none for a parameter."""
    if isinstance(node, ast.IfExp):
        return texts(node.body) | texts(node.orelse)
    return {node.value} if isinstance(node, ast.Constant) else set()


def kinds_of_the_core():
    """Return each kind of problem the core raises with the statuses it is raised with."""
    nodes = [node for path in (ROOT / "core").rglob("*.py") for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))]
    found, unread = {}, []
    # A helper that takes the kind as a parameter: its default, and what is passed to it.
    helpers = {node.name: node.args for node in nodes if isinstance(node, ast.FunctionDef)
               if any(isinstance(part, ast.Call) and called(part) == "Problem" and getattr(part.args[0], "id", "") == "kind" for part in ast.walk(node))}  # fmt: skip
    for node in nodes:
        if not isinstance(node, ast.Call) or called(node) not in {"Problem", *helpers}:
            continue
        named = {word.arg: word.value for word in node.keywords}
        if called(node) == "Problem":
            kind, status = node.args[0], named.get("status")
            words = texts(kind)
            if not words and getattr(kind, "id", "") != "kind":
                unread.append(ast.unparse(node))
        else:
            taken = helpers[called(node)]
            place = [arg.arg for arg in taken.args].index("kind")
            words = texts(node.args[place] if len(node.args) > place else named.get("kind", taken.defaults[-1]))
            status = None
        for word in words:
            found.setdefault(word, set()).add(str(status.value) if status else "422")
    assert not unread
    return found


def listed():
    """Return each kind in the table with its column of statuses."""
    rows = re.findall(r"^\| (`[^|]+) \| ([^|]+) \|", API.partition("### Problems")[2], re.MULTILINE)
    return [(kind, status) for kinds, status in rows for kind in re.findall(r"`([a-z-]+)`", kinds)]


def test_every_kind_of_problem_is_documented_once_and_nothing_else():
    kinds = [kind for kind, _ in listed()]
    assert sorted(set(kinds_of_the_server()) | set(kinds_of_the_core())) == sorted(kinds)
    assert len(kinds_of_the_server()) > 30 and len(kinds_of_the_core()) > 30


def test_the_table_has_the_status_of_every_kind_of_the_core():
    table = dict(listed())
    assert [(kind, statuses) for kind, statuses in kinds_of_the_core().items() if any(status not in table[kind] for status in statuses)] == []
