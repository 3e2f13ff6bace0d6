# `make run` and `make test` work on a bare machine with Python 3.11 or newer.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin

.PHONY: run demo test lint bench soak soak-sync mutate clean

run: $(VENV)/.ready
	$(BIN)/pitsplice serve

demo: $(VENV)/.ready
	$(BIN)/pitsplice demo

test: $(VENV)/.ready-test
	$(BIN)/ruff check .
	$(BIN)/python -m pytest

lint: $(VENV)/.ready-test
	$(BIN)/ruff check .

soak: $(VENV)/.ready-test
	$(BIN)/python -m tests.soak --kills 1000

bench: $(VENV)/.ready-test
	$(BIN)/python -m tests.bench

# Breaks the core line by line; an hour or more. One module: make mutate MODULES=sleeve
mutate: $(VENV)/.ready-test
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e ".[mutate]"
	$(BIN)/python -m tests.mutate $(MODULES)

# Ten thousand random days in the pits against the real server; about an hour.
soak-sync: $(VENV)/.ready-test
	PITSPLICE_SYNC_EXAMPLES=10000 $(BIN)/python -m pytest tests/offline/test_sync_machine.py

$(VENV)/.ready: pyproject.toml
	$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11) and "Pitsplice needs Python 3.11 or newer.")'
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e .
	touch $@

$(VENV)/.ready-test: $(VENV)/.ready
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e ".[test]"
	sh .ci/browser $(BIN)
	touch $@

clean:
	rm -rf $(VENV) artefacts .pytest_cache .hypothesis build *.egg-info
