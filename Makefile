# Two commands: `make demo` shows the studio of invented paintings, `make test` runs every check.
PYTHON ?= python3
VENV := .venv
STAMP := $(VENV)/.installed
BIN := $(VENV)/bin

.PHONY: demo test coverage bench clean

demo: $(STAMP)
	$(BIN)/dorse demo

test: $(STAMP)
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/pytest -n auto --dist loadfile

# What the tests never reach; it takes nearly twice as long.
coverage: $(STAMP)
	$(BIN)/pytest --cov --cov-report=term:skip-covered

bench: $(STAMP)
	$(BIN)/pytest -m bench -s tests/bench

$(STAMP): pyproject.toml .ci/constraints.txt
	@$(PYTHON) -c 'import sys; sys.exit(0 if sys.version_info >= (3, 11) else "dorse needs Python 3.11 or newer; this is %d.%d" % sys.version_info[:2])'
	@$(PYTHON) -c 'import ensurepip, venv' || { echo "Python's venv is missing. On Debian: apt-get install python3-venv" >&2; exit 1; }
	$(PYTHON) -m venv $(VENV)
	$(BIN)/pip install --quiet --disable-pip-version-check -c .ci/constraints.txt -e '.[demo,ocr,pdf,test]'
	# It asks for an older pillow than ours and uses none for what the tests ask of it.
	$(BIN)/pip install --quiet --disable-pip-version-check --no-deps iiif-prezi3==3.1.1
	touch $(STAMP)

clean:
	rm -rf $(VENV) demo-studio build dist
