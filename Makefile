# Two commands do all the set-up on a machine with Python 3.11 or newer and make:
#   make demo    install, write the invented demo jobs, issue one of them completely
#   make test    every check and every test
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
PIP := $(BIN)/python -m pip --disable-pip-version-check -qq
NPM := $(BIN)/python hatch_build.py
PAGE := $(shell find frontend -path frontend/node_modules -prune -o -type f -print 2>/dev/null)

.DEFAULT_GOAL := help
.NOTPARALLEL:
.PHONY: help demo test lint frontend-check pytest docs bench bench-cutting fuzz tools lock clean

help: ## this list
	@grep -hE '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/^([a-z-]+):.*## /  make \1\t/'

demo: $(VENV)/.installed ## install, write the demo jobs, issue one of them completely
	$(BIN)/wallwright demo demo

test: tools lint frontend-check pytest ## every check and every test, the browser's included where one can be had

lint: $(VENV)/.tested ## style, types, layers, declared dependencies
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	PATH="$(CURDIR)/$(BIN):$$PATH" $(BIN)/pyright
	$(BIN)/lint-imports
	$(BIN)/deptry .

frontend-check: $(VENV)/.tested frontend/node_modules/.package-lock.json ## types and tests of the page
	$(NPM) run --silent check
	$(NPM) run --silent test

pytest: $(VENV)/.tested frontend/node_modules/.package-lock.json
	$(BIN)/python -m pytest -n 2

docs: $(VENV)/.tested ## the pages under docs/, as HTML in docs/_build/html
	$(BIN)/sphinx-build -q -W --keep-going -b html docs docs/_build/html
	@echo "docs/_build/html/index.html"

bench: $(VENV)/.tested ## every question against its budget and its peers, in twelve minutes; then the pages of the docs
	$(BIN)/python bench/all.py
	$(BIN)/python docs/make_bench.py

bench-cutting: $(VENV)/.tested ## the public cutting instances: an hour and more
	$(BIN)/python bench/cutting.py

fuzz: $(VENV)/.tested ## 200,000 cases and more of spoiled input
	$(BIN)/python bench/fuzz.py

tools: # a browser and readers for the files we write, where they can be had
	@sh .ci/tools

# --- set-up ----------------------------------------------------------------------------------------------------------
$(BIN)/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' \
	  || { echo "Python 3.11 or newer is needed; name one with: make $(MAKECMDGOALS) PYTHON=python3.12"; exit 1; }
	@$(PYTHON) -m venv $(VENV) \
	  || { echo "$(PYTHON) cannot make a virtual environment (on Debian: apt-get install python3-venv)"; exit 1; }

# Exact versions, checked by their hashes; then the package itself, editable. pip builds the page when it is stale.
$(VENV)/.installed: requirements.lock pyproject.toml hatch_build.py $(PAGE) | $(BIN)/python
	$(PIP) install --require-hashes -r requirements.lock
	$(PIP) install --no-deps --editable .
	@touch $@

$(VENV)/.tested: requirements-test.lock $(VENV)/.installed
	$(PIP) install --require-hashes -r requirements-test.lock
	@touch $@

frontend/node_modules/.package-lock.json: frontend/package-lock.json | $(VENV)/.tested
	$(NPM) ci --no-audit --no-fund --loglevel=error
	@touch $@

# --- for those who work on it ----------------------------------------------------------------------------------------
UV ?= uv
COMPILE := $(UV) pip compile pyproject.toml --universal --python-version 3.11 --generate-hashes --no-emit-index-url \
  --no-header --quiet
lock: ## resolve anew: both requirement locks (needs uv) and the page's lock, no address in any of them
	$(COMPILE) -o requirements.lock
	$(COMPILE) --extra test -c requirements.lock -o requirements-test.lock
	$(NPM) install --package-lock-only
	$(BIN)/python -c 'import json, pathlib; p = pathlib.Path("frontend/package-lock.json"); d = json.loads(p.read_text()); [e.pop("funding", None) for e in d["packages"].values()]; p.write_text(json.dumps(d, indent=2) + "\n")'

clean: ## everything make has made
	rm -rf $(VENV) demo dist build docs/_build frontend/node_modules src/wallwright/studio/static
	rm -rf .pytest_cache .ruff_cache .hypothesis .import_linter_cache
	find src tests bench -name __pycache__ -type d -prune -exec rm -rf {} + 2>/dev/null || true
