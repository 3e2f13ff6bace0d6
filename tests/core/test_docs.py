"""Every public name of the core says what it does; every formula its units, its source and an example."""

import ast
from pathlib import Path

import pytest

CORE = Path(__file__).resolve().parents[2] / "core"
FORMULAS = {"sleeve", "rosette", "fit", "section", "welds", "tube_strength", "strength", "tolerances", "template", "gauges", "quantity"}
UNITS = ("inch", "degrees", " mm", "millimetre", "ksi", "kip", "rpm")
# core/methods puts together what these modules work out; its worked examples stand in tests/core/test_method_*.py.
# Name of the function: why it needs no units, source or example of its own.
EXEMPT = {
    "cutting_input.bad": "makes an error message; nothing is computed",
}


def is_formula(path):
    return path.stem in FORMULAS or path.stem.startswith("cutting")


def public(body):
    return [n for n in body if isinstance(n, ast.FunctionDef | ast.ClassDef) and not n.name.startswith("_")]


FILES = {str(path.relative_to(CORE)): path for path in sorted(CORE.rglob("*.py"))}
TREES = {name: ast.parse(path.read_text(encoding="utf-8")) for name, path in FILES.items()}


@pytest.mark.parametrize("name", FILES)
def test_every_public_name_has_a_docstring(name):
    missing = [] if ast.get_docstring(TREES[name]) else ["the module"]
    for node in public(TREES[name].body):
        missing += [] if ast.get_docstring(node) else [node.name]
        if isinstance(node, ast.ClassDef):
            missing += [f"{node.name}.{part.name}" for part in public(node.body) if not ast.get_docstring(part)]
    assert not missing


@pytest.mark.parametrize("name", [name for name, path in FILES.items() if is_formula(path)])
def test_every_formula_has_units_source_and_example(name):
    missing = []
    whole = ast.get_docstring(TREES[name]) or ""
    for node in public(TREES[name].body):
        own = f"{FILES[name].stem}.{node.name}"
        if isinstance(node, ast.ClassDef) or own in EXEMPT:
            continue
        text = ast.get_docstring(node) or ""
        missing += [] if any(word in text + whole for word in UNITS) else [f"{node.name}: units"]
        missing += [] if "Source" in text + whole else [f"{node.name}: source"]
        missing += [] if ">>>" in text else [f"{node.name}: example"]
    assert not missing


def test_the_lists_here_are_of_things_that_exist():
    functions = {f"{FILES[name].stem}.{node.name}" for name, tree in TREES.items() for node in public(tree.body)}
    assert set(EXEMPT) <= functions
    assert {path.stem for path in FILES.values()} >= FORMULAS
    assert sum(is_formula(path) for path in FILES.values()) > 15
