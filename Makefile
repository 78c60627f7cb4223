# Two commands do all: `make demo` and `make test`. Bare `make` prints what there is.
VENV := .venv
BIN  := $(VENV)/bin
PY   ?= python3

.DEFAULT_GOAL := help
.PHONY: help setup setup-test demo test lint check-tables verify bench docs clean

help:
	@echo "make demo          set up and run the main job on the example unit"
	@echo "make test          set up (with a browser, where allowed) and pass every test"
	@echo "make lint          format, lint, types, layers"
	@echo "make check-tables  every row of every table has a source; how many rest on memory"
	@echo "make verify        recompute the published checks"
	@echo "make bench         measure speed, as ratios where possible"
	@echo "make docs          make the command reference and the screenshots again"

$(BIN)/relet: pyproject.toml constraints.txt
	@test -x $(BIN)/python || $(PY) -m venv $(VENV)
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --constraint constraints.txt --editable .
	@touch $(BIN)/relet

$(VENV)/.test: $(BIN)/relet
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --constraint constraints.txt --editable ".[test]"
	@touch $(BIN)/relet $(VENV)/.test

setup: $(BIN)/relet

setup-test: $(VENV)/.test
	@sh tools/browser.sh

demo: setup
	@$(BIN)/relet demo out/demo

test: setup-test lint check-tables
	@$(BIN)/python -m pytest -q -n 2 --dist loadscope

lint: $(VENV)/.test
	@$(BIN)/ruff format --check --quiet src tests benchmarks tools
	@$(BIN)/ruff check --quiet src tests benchmarks tools
	@$(BIN)/mypy
	@$(BIN)/lint-imports

check-tables: setup
	@$(BIN)/python -m relet.tables.lint
	@$(BIN)/python -m relet.codes.lint

verify: setup
	@$(BIN)/relet verify

bench: $(VENV)/.test
	@$(BIN)/python -m pytest benchmarks -q -o python_files='bench_*.py' --benchmark-only --benchmark-columns=min,median,max -p no:xdist

docs: $(VENV)/.test
	@$(BIN)/python tools/command_reference.py
	@$(BIN)/python tools/screenshots.py

clean:
	rm -rf $(VENV) out build .pytest_cache .mypy_cache .ruff_cache .hypothesis .benchmarks
