# Two commands do everything on a fresh machine with Python 3.11 or newer: make demo, make test.
# Nothing else is needed from the system. PYTHON=python3.12 make test chooses another Python.

PYTHON ?= python3
VENV ?= .venv
BIN := $(VENV)/bin
SOURCES := pyproject.toml constraints.txt README.md $(shell find preflight schemas -type f -not -name '*.pyc')

.PHONY: demo test check generate clean

demo: $(VENV)/.installed
	@$(BIN)/python scripts/demo.py

test: $(VENV)/.installed-for-tests
	@PATH="$(abspath $(BIN)):$$PATH" sh scripts/check
	@PATH="$(abspath $(BIN)):$$PATH" sh scripts/test

check: $(VENV)/.installed-for-tests
	@PATH="$(abspath $(BIN)):$$PATH" sh scripts/check

# A real install, not an editable one: a data file that is missing from the wheel is found.
$(VENV)/.installed: $(SOURCES)
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -c constraints.txt '.[ocr]'
	@touch $@

$(VENV)/.installed-for-tests: $(SOURCES)
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -c constraints.txt '.[ocr,test]'
	@touch $@ $(VENV)/.installed

generate: $(VENV)/.installed-for-tests
	@$(BIN)/python scripts/generate.py

clean:
	rm -rf $(VENV) build dist
