"""Every public name of the core says what it does; every function its source, its units and an executed example."""

import ast
from pathlib import Path

import pytest

CORE = Path(__file__).resolve().parents[2] / "core"
UNITS = ("inch", "degrees", " mm", "millimetre", "ksi", "kip", "rpm", "seconds")
# Files whose functions take and give words, ids, hashes or verdicts: no quantity passes through them.
UNITLESS = {"checklists/common", "problems", "record", "rules", "tag"}
SECTIONS = ("Parameters\n---", "Returns\n---", "Raises\n---", "Source:", ">>>")


def public(body):
    return [n for n in body if isinstance(n, ast.FunctionDef | ast.ClassDef) and not n.name.startswith("_")]


FILES = {path.relative_to(CORE).with_suffix("").as_posix(): path for path in sorted(CORE.rglob("*.py"))}
TREES = {name: ast.parse(path.read_text(encoding="utf-8")) for name, path in FILES.items()}
FUNCTIONS = [(name, node) for name, tree in TREES.items() for node in public(tree.body) if isinstance(node, ast.FunctionDef)]
IDS = [f"{name}.{node.name}" for name, node in FUNCTIONS]


@pytest.mark.parametrize("name", FILES)
def test_every_public_name_has_a_docstring(name):
    missing = [] if ast.get_docstring(TREES[name]) else ["the module"]
    for node in public(TREES[name].body):
        missing += [] if ast.get_docstring(node) else [node.name]
        if isinstance(node, ast.ClassDef):
            missing += [f"{node.name}.{part.name}" for part in public(node.body) if not ast.get_docstring(part)]
    assert not missing


@pytest.mark.parametrize(("name", "node"), FUNCTIONS, ids=IDS)
def test_every_function_has_units_source_and_example(name, node):
    text = ast.get_docstring(node)
    whole = text + ast.get_docstring(TREES[name])
    assert name in UNITLESS or any(word in whole for word in UNITS), "units"
    assert "Source" in whole, "source"
    assert ">>>" in text, "example"


@pytest.mark.parametrize(("name", "node"), FUNCTIONS, ids=IDS)
def test_the_parts_of_a_docstring_stand_in_their_order(name, node):
    places = [place for place in map(ast.get_docstring(node).find, SECTIONS) if place >= 0]
    assert places == sorted(places)


@pytest.mark.parametrize(("name", "node"), [pair for pair in FUNCTIONS if pair[0].startswith("methods/")],
                         ids=[one for one in IDS if one.startswith("methods/")])  # fmt: skip
def test_every_function_of_a_method_tells_what_it_takes_and_gives(name, node):
    text = ast.get_docstring(node)
    taken = [arg for arg in (*node.args.args, *node.args.kwonlyargs, node.args.kwarg) if arg]
    assert [arg.arg for arg in taken if arg.arg not in text.partition("Parameters\n---")[2]] == []
    assert "Returns\n---" in text
    assert "data" not in {arg.arg for arg in taken} or node.name == "result" or "Raises\n---" in text


def test_the_lists_here_are_of_things_that_exist():
    assert set(FILES) >= UNITLESS
    assert len(FUNCTIONS) > 150
