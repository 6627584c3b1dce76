# Rooftree: `make demo` shows the whole job, `make test` checks everything.

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
DEMO ?= demo
PORT ?= 8437
SERVE ?= 1

export UV_PYTHON_DOWNLOADS := never
export PIP_DISABLE_PIP_VERSION_CHECK := 1

# Node builds the pages; without one on PATH the wheel from the registry brings its own.
NODE_FOLDER = $(shell command -v npm >/dev/null 2>&1 && dirname "$$(command -v npm)" || echo "$(CURDIR)/$(VENV)/node")
BUILT := src/rooftree/web/static/built/.stamp
FRONT_END := $(shell find frontend/src -type f 2>/dev/null) frontend/package-lock.json frontend/vite.config.ts

.PHONY: demo test lint types floors pages-test python-test browser bench docs docs-check clean setup

demo: $(VENV)/.ready $(BUILT)
	@$(BIN)/rooftree demo --folder $(DEMO) --report demo-report.pdf $(if $(filter 0,$(SERVE)),--no-serve,--serve --port $(PORT))

test: setup lint types floors pages-test python-test docs-check

setup: $(VENV)/.ready $(BUILT) browser

$(VENV)/bin/uv:
	@echo "Making the virtual environment in $(VENV) ..."
	@$(PYTHON) -m venv $(VENV)
	@$(BIN)/python -m pip install --quiet --constraint constraints.txt uv

$(VENV)/.ready: pyproject.toml constraints.txt | $(VENV)/bin/uv
	@echo "Installing Python packages (about a minute the first time) ..."
	@$(BIN)/uv pip install --quiet --python $(BIN)/python --constraint constraints.txt --editable ".[dev]"
	@$(BIN)/python tools/link_node.py $(VENV)/node
	@touch $@

$(BUILT): $(FRONT_END) $(VENV)/.ready
	@echo "Building the pages ..."
	@cd frontend && PATH="$(NODE_FOLDER):$$PATH" npm ci --silent --no-audit --no-fund
	@cd frontend && PATH="$(NODE_FOLDER):$$PATH" npm run build --silent
	@touch $@

browser:
	@if command -v chromium >/dev/null 2>&1; then :; \
	elif [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then \
	  echo "Installing Chromium for the browser tests ..."; \
	  apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq chromium >/dev/null; \
	else \
	  echo "The browser tests need Chromium. Install it first: sudo apt-get install chromium"; exit 1; \
	fi

lint: $(VENV)/.ready
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check --quiet .

types: $(VENV)/.ready
	@$(BIN)/mypy

floors: $(VENV)/.ready
	@$(BIN)/lint-imports --no-timings 2>/dev/null || $(BIN)/lint-imports

pages-test: $(BUILT)
	@cd frontend && PATH="$(NODE_FOLDER):$$PATH" npm run lint --silent
	@cd frontend && PATH="$(NODE_FOLDER):$$PATH" npm run types --silent
	@cd frontend && PATH="$(NODE_FOLDER):$$PATH" npm test --silent

python-test: $(VENV)/.ready $(BUILT)
	@$(BIN)/python -m pytest -q

bench: $(VENV)/.ready $(BUILT)
	@$(BIN)/python -m bench

docs-check: $(VENV)/.ready
	@$(BIN)/python -m pytest -q --collect-only --published-page=$(VENV)/published-checks.md >/dev/null
	@diff -q $(VENV)/published-checks.md docs/reference/published-checks.md >/dev/null || \
	  { echo "docs/reference/published-checks.md is not up to date; run: make docs"; exit 1; }

docs: $(VENV)/.ready
	@$(BIN)/python -m pytest -q --collect-only --published-page=docs/reference/published-checks.md >/dev/null
	@$(BIN)/python -m pytest -q tests/engine/validation --ignore=tests/engine/validation/test_written_page.py --write-validation=docs/reference/validation.md
	@$(BIN)/python tools/write_schema.py

clean:
	rm -rf $(VENV) frontend/node_modules src/rooftree/web/static/built src/rooftree/papers/fonts demo-report.pdf
