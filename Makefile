# Every target sets up what it needs: a virtual environment in .venv, made with the first Python 3.11 or later found.
SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c
.DEFAULT_GOAL := show
.PHONY: serve show test thorough check golden pictures bench bench-scale mutants walk clean

# Commands and tests start Python hundreds of times: it is compiled once, as when it is installed.
export PYTHONDONTWRITEBYTECODE :=

PYTHON ?= $(shell for candidate in python3.11 python3.12 python3.13 python3.14 python3 python; do \
	if $$candidate -c 'import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; \
	then echo $$candidate; break; fi; done)
BIN := .venv/bin
BOOK := build/stopscrew.book

.venv/ready: pyproject.toml
	@test -n "$(PYTHON)" || { echo "Python 3.11 or later with venv is needed (on Debian: apt install python3-venv)"; exit 2; }
	$(PYTHON) -m venv .venv
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[test]'
	touch $@

# A look-up, a refusal, a check and a target on the demonstration book.
show: .venv/ready
	@mkdir -p build
	@$(BIN)/stopscrew compile --specs specs --out $(BOOK)
	@echo; echo '$$ stopscrew show skerrow/ketch-47 max-advance --state cranking'
	@$(BIN)/stopscrew show --book $(BOOK) skerrow/ketch-47 max-advance --state cranking
	@echo; echo '$$ stopscrew show skerrow/ketch-47 max-advance'
	@$(BIN)/stopscrew show --book $(BOOK) skerrow/ketch-47 max-advance || test $$? -eq 3
	@echo; echo '$$ stopscrew check --specs specs'
	@$(BIN)/stopscrew check --specs specs
	@echo; echo '$$ stopscrew aim skerrow/ketch-47 max-advance --state cranking --serial 301455 --margin 1 --dead-centre-reads "2 before"'
	@$(BIN)/stopscrew aim --book $(BOOK) skerrow/ketch-47 max-advance --state cranking --serial 301455 --margin 1 --dead-centre-reads "2 before"

# Checks and compiles the demonstration book, builds the site and serves it on this machine; make serve PORT=8080.
PORT ?= 8000
serve: .venv/ready
	@mkdir -p build
	@$(BIN)/stopscrew check --specs specs
	@$(BIN)/stopscrew compile --specs specs --out $(BOOK)
	@$(BIN)/stopscrew site serve --book $(BOOK) --port $(PORT)

check: .venv/ready
	$(BIN)/ruff check kb tests
	$(BIN)/ruff format --check --quiet kb tests
	$(BIN)/mypy
	$(BIN)/python -m tests.biome
	$(BIN)/python -m tests.bundle
	$(BIN)/stopscrew check --specs specs --strict

# A file of tests to a process; one more than two cores, since a quarter of the time a test waits for a browser or a command.
test: check
	$(BIN)/python -m pytest -n 3 --dist loadfile --no-loadscope-reorder

# The same with many more random cases; an hour. Before a release.
thorough: .venv/ready
	STOPSCREW_THOROUGH=1 $(BIN)/python -m pytest -n auto --dist loadfile --no-loadscope-reorder -o timeout=1800

# Rewrites what is made from something else: the schemas and the tests' golden files.
golden: .venv/ready
	$(BIN)/python -m kb.intake.json_schema specs schema
	$(BIN)/python -m kb.publish.vectors schema/vectors
	$(BIN)/python -m kb.publish.browser_vocabulary site/assets/vocabulary.js
	$(BIN)/python -m tests.bundle --write
	$(BIN)/python -m tests.house.plan
	$(BIN)/python -m pytest -q --golden tests

# Takes the README's pictures anew; needs Chromium.
pictures: .venv/ready
	$(BIN)/python -m tests.pictures

# Every budget at 10,000 families, beside its peer.
bench: .venv/ready
	$(BIN)/python -m tests.benchmarks

# Checking and compiling at 100,000 families; some half an hour.
bench-scale: .venv/ready
	$(BIN)/python -m tests.benchmarks at_scale

# Changes single operators and numbers in a copy, and prints which changes no test notices; some twenty minutes.
mutants: .venv/ready
	$(BIN)/python -m tests.mutants

# A simulated mechanic walks 20,000 jobs by the screens alone; make walk JOBS=400 fewer. Then each old fault is put back.
JOBS ?= 20000
walk: .venv/ready
	$(BIN)/python -m tests.walk --jobs $(JOBS)
	$(BIN)/python -m tests.walk --faults

clean:
	rm -rf build dist .venv .mypy_cache .ruff_cache .pytest_cache .hypothesis
