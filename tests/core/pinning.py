"""Pinned output: what a call gives today, line by line, so that no text or number changes unseen.

    python -m tests.core.pinning        write tests/core/pinned/*.txt anew; read the difference before you commit it

A pinned line says that something changed, never that it is right: hand and published values stand in the other tests.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable, Iterator
from itertools import zip_longest
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent
Cases = dict[str, Callable[[], Any]]


def lines_of(value: Any, path: str = "") -> Iterator[str]:
    """Yield one line for each text or number, or for each object without inner parts; numbers to ten figures."""
    value = value.as_dict() if hasattr(value, "as_dict") else value
    head = f"{path}: " if path else ""
    if isinstance(value, dict) and any(isinstance(member, dict | list | tuple) or hasattr(member, "as_dict") for member in value.values()):
        for key, member in value.items():
            yield from lines_of(member, f"{path}.{key}" if path else str(key))
    elif isinstance(value, dict):
        yield head + " | ".join(f"{key} {shown(member)}" for key, member in value.items())
    elif isinstance(value, list | tuple) and value:
        for number, member in enumerate(value):
            yield from lines_of(member, f"{path}.{number}" if path else str(number))
    else:
        yield head + shown(value)


def shown(value: Any) -> str:
    """Return a text as it is, a number to ten figures, anything else as Python writes it."""
    return value if isinstance(value, str) else f"{value:.10g}" if isinstance(value, float) else repr(value)


def refusal(call: Callable[[], Any]) -> dict[str, Any]:
    """Return the problem that a call raises, as it is sent."""
    from core.problems import Problem

    try:
        call()
    except Problem as problem:
        return problem.as_dict()
    raise AssertionError("nothing was refused")


def written(cases: Cases) -> list[str]:
    """Return the lines of all cases under their names."""
    found: list[str] = []
    for name, call in cases.items():
        found += [f"# {name}", *lines_of(call())]
    return found


def unlike(module: str, cases: Cases) -> list[str]:
    """Return the lines that are not as pinned, first few only; empty where all are."""
    pinned = (HERE / "pinned" / f"{module}.txt").read_text(encoding="utf-8").splitlines()
    return differences(pinned, written(cases))


def differences(pinned: list[str], now: list[str]) -> list[str]:
    """Return pairs of unlike lines, at most five."""
    return [f"pinned {old!r}, now {new!r}" for old, new in zip_longest(pinned, now) if old != new][:5]


def main() -> None:
    """Write the pinned files of every test module that has cases."""
    for path in sorted(HERE.glob("test_*_pinned.py")):
        module = path.stem.removeprefix("test_").removesuffix("_pinned")
        cases = importlib.import_module(f"tests.core.{path.stem}").CASES
        (HERE / "pinned" / f"{module}.txt").write_text("\n".join(written(cases)) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
