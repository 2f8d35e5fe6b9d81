# Every target builds the virtual environment it needs; nothing else has to be typed first.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/ready

.PHONY: demo test check bench gallery clean

$(READY): pyproject.toml
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --upgrade "pip>=25.1"
	$(BIN)/python -m pip install --quiet --editable ".[dxf,step,print,pdf,png]" --group dev
	$(BIN)/python -m pip install --quiet --editable ".[noise]" || echo "noise needs a C compiler: left out"
	touch $(READY)

demo: $(READY)
	$(BIN)/openwork draw gallery/harbour/spec.toml --out out
	$(BIN)/openwork sheet gallery/harbour/spec.toml --out out

test: $(READY)
	$(BIN)/python -m pytest -n auto -q

check: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

bench: $(READY)
	$(BIN)/python -m tests.bench

gallery: $(READY)
	for spec in gallery/*/spec.toml; do $(BIN)/openwork draw $$spec --out $$(dirname $$spec); done

clean:
	rm -rf $(VENV) out
