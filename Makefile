# Every target builds the virtual environment it needs; nothing else has to be typed first.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/ready

.PHONY: demo browser test sweep check lint types scripts wheel docs bench gallery pictures clean

# The family noise comes as source alone: without a compiler and the headers it is left out.
HEADER := import os, sysconfig; os.stat(os.path.join(sysconfig.get_path('include'), 'Python.h'))

# What setuptools says at every editable installation.
KNOWN := ignore:Editable installation

$(READY): pyproject.toml
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --upgrade "pip>=25.1"
	@if command -v cc && $(BIN)/python -c "$(HEADER)"; then noise=,noise; fi >/dev/null 2>&1; \
	PYTHONWARNINGS="$(KNOWN)" \
	$(BIN)/python -m pip install --quiet --group dev --editable ".[dxf,step,print,pdf,png$$noise]"
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
	$(BIN)/python -m pytest -n auto --dist loadscope -q -m "not sweep"

# Status 5 of pytest: none is marked.
sweep: $(READY) browser
	$(BIN)/python -m pytest -n auto --dist loadscope -q -m sweep

check: lint types scripts

lint: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: $(READY)
	$(BIN)/mypy

# Node is not needed to use or to change openwork, so where it is missing nothing fails.
scripts:
	tools/scripts

wheel: $(READY)
	tools/wheel $(BIN)/python

docs: $(READY)
	$(BIN)/python -m tools.reference out/docs

bench: $(READY)
	$(BIN)/python -m tests.bench

# Sites of the gallery, and the mass on which their looks are compared, stiffest first.
ON_MASS := harbour:74 quay:50 breakwater:116 lighthouse:118 slipway:32.5 buoy:70

gallery: $(READY) pictures
	for spec in gallery/*/spec.toml; do $(BIN)/openwork draw $$spec --out $$(dirname $$spec); done
	count=$$($(BIN)/openwork patterns --json | grep -c '"summary"'); for one in $(ON_MASS); do \
		site=gallery/$${one%:*}; $(BIN)/openwork sheet $$site/spec.toml --mass $${one#*:} \
			--strength --count $$count --out $$site; done
	$(BIN)/python -m openwork.fill.catalogue README.md

# One picture of every kind of output, made by the commands of README.md.
pictures: $(READY) browser
	$(BIN)/openwork draw gallery/harbour/spec.toml --strength --out out/strength
	cp out/strength/stress.svg gallery/harbour/
	$(BIN)/openwork family gallery/harbour/spec.toml --set goal.per_tooth=auto --out out/family
	cp out/family/family.svg gallery/harbour/
	$(BIN)/openwork sheet gallery/harbour/spec.toml --strength --out out/page
	$(BIN)/openwork export gallery/harbour/spec.toml --to pdf --out out/template
	$(BIN)/python -m tools.pictures out/page/sheet.html out/template/template.pdf gallery/harbour

clean:
	rm -rf $(VENV) node_modules out
