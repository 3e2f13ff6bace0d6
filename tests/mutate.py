"""Mutation tests of the core: break each line on purpose and see whether a test notices.

    python -m tests.mutate [module ...]

Works in a scratch copy of the repository, one module at a time, with that module's own tests.
mutmut breaks plain functions and methods. It leaves out what `tests/mutate_tables.py` takes:
tables and constants, the functions that fill them, properties and cached functions. Survivors are printed with their change;
`tests/validation/mutation.md` says of each why it may survive.
"""

from __future__ import annotations

import argparse
import ast
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

from tests.mutate_tables import run_at_import, table_mutants

ROOT = Path(__file__).resolve().parents[1]
PIECES = ("core", "fieldapp", "static", "tests", "pyproject.toml", "README.md", "DEVELOPERS.md")
# Test files of each module, besides tests/core/test_<module>*.py.
TESTS: dict[str, tuple[str, ...]] = {
    "sleeve": ("tests/validation/test_ac_43_13_1b.py", "tests/validation/test_scipy_reference.py"),
    "rosette": ("tests/validation/test_ac_43_13_1b.py", "tests/validation/test_aisc_360_j2.py"),
    "rosette_search": (),
    "assess": ("tests/validation/test_ac_43_13_1b.py",),
    "rules": ("tests/core/test_fit.py", "tests/core/test_assess.py"),
    "tolerances": ("tests/core/test_fit.py", "tests/validation/test_astm_a513.py"),
    "fit": ("tests/validation/test_ac_43_13_1b.py",),
    "fit_measured": (),
    "welds": ("tests/validation/test_aisc_360_j2.py",),
    "strength": (),
    "tube_strength": ("tests/core/test_strength.py",),
    "section": ("tests/validation/test_sectionproperties_reference.py",),
}
CONFIG = """
[tool.mutmut]
source_paths = ["core"]
only_mutate = ["core/{module}.py"]
also_copy = ["conftest.py", "core", "fieldapp", "static", "README.md", "DEVELOPERS.md"]
pytest_add_cli_args = ["-p", "no:cacheprovider", "-p", "no:doctest", "-o", "addopts=--import-mode=importlib"]
pytest_add_cli_args_test_selection = {tests}
"""
# The same examples each time, so that a repeat gives the same survivors; the first failure is enough.
CONFTEST = """
from hypothesis import Phase, settings

settings.register_profile("mutate", derandomize=True, database=None, deadline=None, phases=[Phase.explicit, Phase.generate])
settings.load_profile("mutate")
"""
# Lines each survivor takes out and puts in; one run for all, because reading the file is what takes the time.
SHOW = """
import json, sys
from mutmut.mutation.diff_apply import get_diff_for_mutant

def change(name):
    lines = get_diff_for_mutant(name, path=name.split("__")[0].rpartition(".")[0].replace(".", "/") + ".py").splitlines()
    return [line for line in lines if line[:1] in "+-" and line[:3] not in ("+++", "---")]

print(json.dumps({name: change(name) for name in sys.argv[1:]}))
"""
ENVIRONMENT = {"PYTHONDONTWRITEBYTECODE": "1", "OMP_NUM_THREADS": "1"}


def own_tests(module: str) -> list[str]:
    """Return the test files of a module, quick ones first; a longer name belongs to the module with the longer name."""
    own = [path for path in (ROOT / "tests/core").glob(f"test_{module}*.py")
           if not any(path.stem.startswith(f"test_{other}") for other in TESTS if other.startswith(f"{module}_"))]  # fmt: skip
    found = {str(path.relative_to(ROOT)) for path in own} | set(TESTS[module])
    return sorted(found, key=lambda name: (not name.endswith(("_pinned.py", "_limits.py")), name))


def scratch_copy(place: Path, module: str, tests: list[str]) -> Path:
    """Copy what the tests need to `place`, with mutmut told about one module."""
    shutil.rmtree(place, ignore_errors=True)
    place.mkdir(parents=True)
    for name in PIECES:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, place / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(source, place / name)
    (place / "conftest.py").write_text(CONFTEST, encoding="utf-8")
    with (place / "pyproject.toml").open("a", encoding="utf-8") as config:
        config.write(CONFIG.format(module=module, tests=json.dumps(tests)))
    return place


def python(place: Path, *arguments: str) -> str:
    """Run Python in the scratch copy and return what it printed."""
    done = subprocess.run([sys.executable, *arguments], cwd=place, capture_output=True, text=True, check=False)
    if done.returncode:
        raise SystemExit(f"{' '.join(arguments[:3])} did not run:\n{done.stdout[-3000:]}\n{done.stderr[-3000:]}")
    return done.stdout


def function_mutants(place: Path, module: str, workers: int) -> tuple[int, list[str]]:
    """Return the count of mutmut's mutants and the difference each survivor makes."""
    python(place, "-m", "mutmut", "run", "--max-children", str(workers))
    results = python(place, "-m", "mutmut", "results", "--all", "true")
    states = dict(line.strip().split(": ") for line in results.splitlines() if ": " in line)
    early = run_at_import(ast.parse((place / "core" / f"{module}.py").read_text(encoding="utf-8")))
    states = {name: state for name, state in states.items() if name.split(".x_")[-1].split("__mutmut_")[0] not in early}
    left = [name for name, state in states.items() if state not in ("killed", "timeout")]
    left = json.loads(python(place, "-c", SHOW, *left))
    return len(states), [f"{name} ({states[name]})\n    " + "\n    ".join(lines) for name, lines in left.items()]


def main() -> None:
    """Mutate the named modules, or all, and print numbers and survivors."""
    parser = argparse.ArgumentParser(description="Break each line of the core on purpose and see which tests notice.")
    parser.add_argument("modules", nargs="*", choices=[*TESTS, []], help="all if none is named")
    parser.add_argument("--scratch", type=Path, default=Path("/tmp/mutrun"))
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument("--only", choices=("functions", "tables"))
    options = parser.parse_args()
    os.environ.update(ENVIRONMENT)
    for module in options.modules or TESTS:
        tests = own_tests(module)
        place = scratch_copy(options.scratch / module, module, tests)
        if options.only != "tables":
            report(f"{module}: functions", *function_mutants(place, module, options.workers))
        if options.only != "functions":
            report(f"{module}: tables, properties, cached", *table_mutants(place, module, tests))


def report(what: str, count: int, left: list[str]) -> None:
    """Print the numbers of one pass, then its survivors."""
    print(f"== {what}: {count} mutants, {count - len(left)} killed, {len(left)} survived", flush=True)
    for one in left:
        print(f"  {one}", flush=True)


if __name__ == "__main__":
    main()
