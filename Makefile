# Festoon: everything runs in a virtual environment of its own, made on first use.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin

.PHONY: demo test check bench docs pictures clean

demo: $(VENV)/.installed
	$(BIN)/festoon make examples/sea-holly-cushion

test: $(VENV)/.ready check
	$(BIN)/pytest -n auto
	@command -v node > /dev/null || (apt-get -qq update && apt-get -qq install -y nodejs)
	node --test tests/page/*.test.js

check: $(VENV)/.ready
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports

bench: $(VENV)/.ready
	$(BIN)/python tools/bench.py

docs: $(VENV)/.ready
	$(BIN)/python tools/piece_reference.py

pictures: $(VENV)/.installed
	$(BIN)/python tools/pictures.py

$(VENV)/.installed: pyproject.toml
	$(PYTHON) -m venv $(VENV)
	$(BIN)/pip install --quiet --disable-pip-version-check .
	touch $@

$(VENV)/.ready: $(VENV)/.installed
	$(BIN)/pip install --quiet --disable-pip-version-check --editable '.[dev]'
	touch $@

clean:
	rm -rf $(VENV) .mypy_cache .ruff_cache .pytest_cache .hypothesis
