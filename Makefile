# Every target builds the virtual environment it needs; nothing else has to be typed first.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/ready

.PHONY: demo browser test check bench gallery clean

$(READY): pyproject.toml
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --upgrade "pip>=25.1"
	$(BIN)/python -m pip install --quiet --editable ".[dxf,step,print,pdf,png]" --group dev
	$(BIN)/python -m pip install --quiet --editable ".[noise]" || echo "noise needs a C compiler: left out"
	touch $(READY)

demo: $(READY)
	$(BIN)/openwork draw gallery/harbour/spec.toml --out out
	$(BIN)/openwork sheet gallery/harbour/spec.toml --out out

# The page is tested in a browser. Where apt may not install one, those tests skip and say so.
NO_BROWSER := NO BROWSER: the tests of the page will be skipped; put chromium on PATH to run them
APT := DEBIAN_FRONTEND=noninteractive apt-get -qq

browser:
	@command -v chromium >/dev/null \
		|| { $(APT) update && $(APT) install --yes --no-install-recommends chromium; } >/dev/null \
		|| echo "*** $(NO_BROWSER) ***" >&2

test: $(READY) browser
	$(BIN)/python -m pytest -n auto -q

check: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

bench: $(READY)
	$(BIN)/python -m tests.bench

SITES := harbour quay breakwater lighthouse slipway buoy

gallery: $(READY)
	for spec in gallery/*/spec.toml; do $(BIN)/openwork draw $$spec --out $$(dirname $$spec); done
	for site in $(SITES); do \
		$(BIN)/openwork sheet gallery/$$site/spec.toml --count 21 --out gallery/$$site; done
	$(BIN)/openwork draw gallery/harbour/spec.toml --strength --out out/strength
	cp out/strength/stress.svg gallery/harbour/
	$(BIN)/openwork family gallery/harbour/spec.toml --out out/family
	cp out/family/family.svg gallery/harbour/
	$(BIN)/python -m openwork.fill.catalogue README.md

clean:
	rm -rf $(VENV) out
