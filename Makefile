# Studbay. `make` alone lists what can be made.
SHELL := /bin/bash
PYTHON ?= python3
BIN := .venv/bin
MANAGE := $(BIN)/python manage.py
SERVE ?= 1

JS := tests/js/node_modules
TS := tests/api/typescript/node_modules

# Tests start hundreds of processes: what Python compiles is kept, whatever the machine's habit.
unexport PYTHONDONTWRITEBYTECODE

.PHONY: help node demo test proof stranger cases docs told bench bench-quick drills drills-quick cluster capacity surface mutants mutants-in-place lint format types schema words
help: ## list these targets
	@grep -hE '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/:.*## /\t/' | expand -t 12

demo: .venv/runtime ## load the demo houses, print where each stands, then serve (SERVE=0: do not)
	@$(MANAGE) migrate --verbosity 0
	@$(MANAGE) demo
	@if [ "$(SERVE)" != 0 ]; then exec $(MANAGE) serve; fi

test: .venv/development $(JS)/.installed $(TS)/.installed ## run every test, of pages' scripts, on SQLite, on PostgreSQL with Valkey
	node --test --test-reporter=spec tests/js/*.test.js
	$(BIN)/pytest -n 2
	$(BIN)/python -m tests.servers $(BIN)/pytest -n 2 --database-only --in-part

proof: .venv/development ## the long proofs at their whole length: every race, any house, every clock
	$(BIN)/python -m tests.clocks -n 2
	$(BIN)/python -m tests.servers $(BIN)/python -m tests.clocks -n 2 --database-only
	$(BIN)/pytest -n 2 -rP --whole tests/hostile
	$(BIN)/python -m tests.servers $(BIN)/pytest -n 2 -rP --whole tests/hostile
	$(BIN)/pytest -n 2 --whole tests/inspections/test_machine.py tests/checker/test_fuzz.py \
		tests/checker/test_rechecking.py tests/checker/test_fingerprints.py tests/checker/test_wall_properties.py \
		tests/checker/test_counter_properties.py tests/checker/test_box_fill_properties.py \
		tests/workbook/test_workbook.py tests/propose
	$(BIN)/python -m tests.servers $(BIN)/pytest --whole --database-only \
		tests/inspections/test_machine.py tests/inspections/test_race.py \
		tests/inspections/test_race_all.py tests/api/test_changes.py tests/api/test_network.py
	$(BIN)/pytest --whole tests/notifications/test_year.py tests/api/test_schema.py \
		tests/sheets/test_documents.py tests/notifications/test_timing.py tests/test_stored.py \
		tests/isolation tests/test_access.py tests/browser/test_pages.py
	$(BIN)/python -m tests.servers $(BIN)/pytest --whole tests/notifications/test_killed.py
	$(BIN)/python -m bench.uploads 10000 --results docs/results/uploads.json
	$(BIN)/pytest -rP --whole tests/config/test_slow.py tests/notifications/test_leaving.py
	$(BIN)/python -m tests.servers $(BIN)/pytest -rP --whole --database-only tests/config/test_slow.py

stranger: .venv/development ## make the shop anew beside which every test runs
	@$(BIN)/python -m tests.stranger

cases: .venv/development ## run every published and worked case, one line each
	@$(BIN)/python -m tests.checker.run_cases

bench: .venv/development ## measure against floors, in turn, in one table; 1 when a goal is missed
	@$(BIN)/python -m bench.table --results docs/results/bench.json
	@$(BIN)/python -m bench.draw

bench-quick: .venv/development ## the same in fewer rounds; 1 when a goal that was reached is not
	@$(BIN)/python -m bench.table quick

drills: .venv/development ## 300 faults in the whole stack under load, then an audit of everything
	@$(BIN)/python -m bench.drills --faults 300 --people 10 --results docs/results/drills.json

drills-quick: .venv/development ## one fault of every kind
	@$(BIN)/python -m bench.drills --people 6

cluster: .venv/development ## two sites, three workers, two beats against one of each; nothing twice
	@$(BIN)/python -m bench.drills.cluster --results docs/results/cluster.json

capacity: .venv/development ## what each act costs here, and so what many jobs need: docs/capacity.md
	@$(BIN)/python -m bench.capacity

surface: .venv/development ## measure a job's page on a slow phone, and count its papers: docs/surface.md
	@$(BIN)/python -m bench.surface

docs: .venv/runtime ## write a page for each rule into docs/rules, which git leaves out
	$(MANAGE) rule_pages

told: .venv/development ## keep what the findings of every case say now; read the change in git
	$(BIN)/python -m tests.checker.told

SAMPLE ?= 200
mutants: .venv/development ## change the checker in SAMPLE ways, one by one: do tests notice? (0: all)
	$(BIN)/python -m tests.mutants $(if $(filter-out 0,$(SAMPLE)),--sample $(SAMPLE))

mutants-in-place: .venv/development ## the same of what decides and writes: services and standing
	$(BIN)/python -m tests.mutants_in_place --sample $(SAMPLE)

lint: .venv/development $(JS)/.installed ## check style, floors, types, migrations, scripts, templates and shapes of files
	$(JS)/.bin/tsc -p tests/js
	$(JS)/.bin/tsc -p tests/js/tsconfig.worker.json
	$(JS)/.bin/eslint -c tests/js/eslint.config.js static/js tests/js
	$(BIN)/djlint templates --lint --quiet --rules tests/templates.yaml
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/lint-imports
	$(BIN)/mypy
	$(BIN)/python -m tests.shape
	$(BIN)/python -m tests.shape_figures --check
	$(BIN)/python -m tests.imports_hold
	$(BIN)/python -m tests.dependencies
	$(BIN)/python -m tests.components --check
	$(MANAGE) check
	$(MANAGE) makemigrations --check --dry-run
	$(BIN)/python -m tests.migrations_tolerated
	$(BIN)/python -m config.languages --check
	$(BIN)/python -m tests.checker.told --check

format: .venv/development ## put every file in form
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .

words: .venv/development ## say what is missing in the catalogue of each language, and compile it
	@$(BIN)/python -m config.languages

schema: .venv/runtime ## publish the JSON Schema of house files, and the OpenAPI schema
	$(MANAGE) house_schema > examples/house.schema.json
	$(MANAGE) spectacular --validate --fail-on-warn --file docs/openapi.yaml

.venv/bin/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
		{ echo "Studbay needs Python 3.11 or newer; set PYTHON=..."; exit 1; }
	@$(PYTHON) -m venv .venv || \
		{ echo "no venv here; on Debian: apt-get install python3-venv"; exit 1; }

.venv/runtime: requirements.txt | .venv/bin/python
	@echo "installing what Studbay runs on"
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --retries 5 -r $<
	@touch $@

.venv/development: requirements-dev.txt requirements-traces.txt requirements.txt | .venv/bin/python
	@echo "installing what Studbay runs on, and what tests need"
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --retries 5 -r $<
	@touch $@ .venv/runtime

node:
	@command -v npm >/dev/null && node -e 'const [a, b] = process.versions.node.split("."); process.exit(a > 20 || (a == 20 && b >= 19) ? 0 : 1)' || \
		{ echo "the scripts of pages are checked by Node 20.19 or newer with npm, and none is here"; exit 1; }

$(JS)/.installed: tests/js/package-lock.json | node
	@echo "installing what checks the scripts of pages"
	@npm ci --prefix tests/js --silent
	@touch $@

$(TS)/.installed: tests/api/typescript/package-lock.json | node
	@echo "installing what makes types of the API's schema"
	@npm ci --prefix tests/api/typescript --silent
	@touch $@
