# run · test · check · fmt: each sets up what it needs from a fresh clone.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready

.PHONY: run test test-postgres check fmt pictures clean

run: $(READY)
	$(BIN)/stillroom serve $(if $(PORT),--port $(PORT))

test: $(READY)
	$(BIN)/pytest -n 2 --dist loadfile --cov --cov-report=
	$(BIN)/coverage report --include='src/stillroom/tables/*,src/stillroom/process/*' --fail-under=100 --skip-covered --show-missing

test-postgres: $(READY)
	.ci/with_postgres $(BIN)/pytest -n 2 --dist loadfile tests/web

check: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports

fmt: $(READY)
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .

$(READY): pyproject.toml constraints.txt
	test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --constraint constraints.txt --editable '.[dev]'
	touch $@

pictures: $(READY)
	$(BIN)/python docs/pictures/take_pictures.py

clean:
	rm -rf $(VENV)
