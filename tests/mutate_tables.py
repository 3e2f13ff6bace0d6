"""The mutants that mutmut does not make: tables and constants, the functions that fill them, properties, cached functions.

One change at a time: a number by a tenth (a whole one by 1), a comparison, a sign, min for max, True
for False, a word. Imports, docstrings and annotations stay. Each mutant is run in a process of its own.
"""

from __future__ import annotations

import ast
import copy
import importlib
import os
import signal
import sys
from collections.abc import Iterator
from pathlib import Path

PATIENCE = 120  # seconds for one run of the tests
# Loaded once, before the children split off; the core never is.
LIBRARIES = ("hypothesis", "numpy", "pytest", "scipy.integrate", "scipy.special")
SWAPS: dict[type, type] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In, ast.And: ast.Or, ast.Or: ast.And,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
}  # fmt: skip
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any"}


def run_at_import(tree: ast.Module) -> set[str]:
    """Return the functions that a module calls while it is read: mutmut reads it once, with none of its changes."""
    tables = [node for node in tree.body if isinstance(node, ast.Assign | ast.AnnAssign)]
    calls = [node for table in tables for node in ast.walk(table) if isinstance(node, ast.Call)]
    return {call.func.id for call in calls if isinstance(call.func, ast.Name)}


def skipped(tree: ast.Module) -> Iterator[ast.AST]:
    """Yield the parts of a module that mutmut leaves alone or cannot judge."""
    early = run_at_import(tree)
    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            if node.decorator_list or node.name in early:
                yield from node.body
        elif isinstance(node, ast.ClassDef):
            for part in node.body:
                if isinstance(part, ast.FunctionDef):
                    if part.decorator_list:
                        yield from part.body
                elif isinstance(part, ast.AnnAssign) and part.value:
                    yield part.value
        elif isinstance(node, ast.Assign | ast.AnnAssign) and node.value:
            yield node.value


def nodes(tree: ast.Module) -> list[ast.AST]:
    """Return every node of those parts, in order."""
    found = []
    for part in skipped(tree):
        if isinstance(part, ast.Expr) and isinstance(part.value, ast.Constant):
            continue  # a docstring
        found += list(ast.walk(part))
    return found


def changes(node: ast.AST) -> Iterator[tuple[str, object]]:
    """Yield what one node can be changed to, as the attribute and its new value."""
    if isinstance(node, ast.Constant):
        value = node.value
        if isinstance(value, bool):
            yield "value", not value
        elif isinstance(value, int):
            yield "value", value + 1
        elif isinstance(value, float):
            yield "value", value * 1.1 if value else 0.1
        elif isinstance(value, str) and value:
            yield "value", f"XX{value}XX"
    elif isinstance(node, ast.Compare):
        for place, operator in enumerate(node.ops):
            if type(operator) in SWAPS:
                yield "ops", [*node.ops[:place], SWAPS[type(operator)](), *node.ops[place + 1 :]]
    elif (isinstance(node, ast.BinOp) and type(node.op) in SWAPS) or isinstance(node, ast.BoolOp):
        yield "op", SWAPS[type(node.op)]()
    elif isinstance(node, ast.Name) and node.id in NAMES:
        yield "id", NAMES[node.id]
    elif isinstance(node, ast.IfExp | ast.If):
        yield "test", ast.UnaryOp(ast.Not(), node.test)


def mutants(source: str) -> Iterator[tuple[str, str]]:
    """Yield each mutant: what was changed, and the whole changed text."""
    tree = ast.parse(source)
    for place, node in enumerate(nodes(tree)):
        for attribute, value in changes(node):
            changed = copy.deepcopy(tree)
            target = nodes(changed)[place]
            before = ast.unparse(target)
            setattr(target, attribute, value)
            ast.fix_missing_locations(changed)
            yield f"line {node.lineno}: {before[:150]} -> {ast.unparse(target)[:150]}", ast.unparse(changed)


def passes(place: Path, tests: list[str]) -> bool:
    """Run the tests in a child that has loaded the libraries, not the core. A run without end counts as noticed."""
    child = os.fork()
    if child == 0:
        os.chdir(place)
        sys.dont_write_bytecode = True  # two mutants within a second would share their bytecode
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        signal.alarm(PATIENCE)
        import pytest

        os._exit(int(pytest.main(["-x", "-q", "-p", "no:cacheprovider", "-p", "no:doctest",
                                  "-W", "ignore::pytest.PytestAssertRewriteWarning", "-o", "addopts=--import-mode=importlib", *tests])))  # fmt: skip
    _, status = os.waitpid(child, 0)
    return status == 0


def table_mutants(place: Path, module: str, tests: list[str]) -> tuple[int, list[str]]:
    """Return the count of mutants of one module in the scratch copy, and the survivors."""
    for library in LIBRARIES:
        importlib.import_module(library)
    path = place / "core" / f"{module}.py"
    source = path.read_text(encoding="utf-8")
    path.write_text(ast.unparse(ast.parse(source)), encoding="utf-8")
    if not passes(place, tests):
        raise SystemExit(f"The tests of {module} fail before anything is changed.")
    count, left = 0, []
    try:
        for what, text in mutants(source):
            path.write_text(text, encoding="utf-8")
            count += 1
            if passes(place, tests):
                left.append(what)
    finally:
        path.write_text(source, encoding="utf-8")
    return count, left
