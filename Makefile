# Bibrack's commands. Everything they install goes into .venv, everything they write into data.
#   make run      start it (PORT, HOST, DATA_DIR, DATABASE_URL)      make test   the tests
#   make demo     load the demo club anew                            make check  style, types, imports, migrations
#   make sweep    every page, set-up and odd input                 make bench  measure
#   make mutants  small faults against the tests                     make clean  caches (never data)

export UV_PYTHON_DOWNLOADS := never
export UV_SYSTEM_CERTS := 1
export UV_PROJECT_ENVIRONMENT := .venv
unexport VIRTUAL_ENV
# Several processes share what Python compiles: without files each would compile the framework anew.
unexport PYTHONDONTWRITEBYTECODE

PYTHON_HERE := .venv/bin/python
SYNC := $(PYTHON_HERE) -m uv sync --frozen --inexact --quiet
# Checks that load the settings but ask the database nothing.
SETTINGS := DJANGO_SETTINGS_MODULE=bibrack.settings.testing DATABASE_URL=postgres://nobody@localhost:1/none
PYTEST := $(PYTHON_HERE) -m pytest

.PHONY: run test check sweep bench demo pictures docs mutants clean

run: .venv/.stamp-run
	@exec $(PYTHON_HERE) -m bibrack.run --end-with-parent

demo: .venv/.stamp-run
	@$(PYTHON_HERE) -m bibrack.run manage demo --anew

test: .venv/.stamp-dev
	@$(PYTEST) -n 3 --dist worksteal -m "not sweep" $(ARGS)

check: .venv/.stamp-dev
	$(PYTHON_HERE) -m ruff check .
	$(PYTHON_HERE) -m ruff format --check .
	$(PYTHON_HERE) -m tests.source_rules
	$(SETTINGS) $(PYTHON_HERE) -m mypy bibrack club drills sessions
	.venv/bin/lint-imports
	.venv/bin/deptry .
	.venv/bin/deptry . --exclude '\.venv' --ignore DEP002,DEP004  # tests too, which may import what is for development
	git ls-files -z -- 'templates/*.html' '*/templates/*.html' | xargs -0 -r .venv/bin/djade --target-version 5.2 --check
	$(PYTHON_HERE) -m djlint --lint --quiet templates
	$(SETTINGS) $(PYTHON_HERE) -W ignore::RuntimeWarning manage.py makemigrations --check --dry-run
	$(PYTHON_HERE) -m uv lock --check

sweep: .venv/.stamp-dev
	@$(PYTEST) -n 3 --dist worksteal -m sweep
	@$(PYTHON_HERE) -m tests.sweep

mutants: .venv/.stamp-dev
	@$(PYTHON_HERE) -m tests.mutants $(ARGS)

bench: .venv/.stamp-dev
	@$(PYTHON_HERE) -m tests.bench

pictures: .venv/.stamp-dev
	@$(PYTHON_HERE) -m tests.pictures

docs: .venv/.stamp-dev
	@$(PYTHON_HERE) -m bibrack.run manage spectacular --file docs/openapi.yaml --validate
	@$(SETTINGS) $(PYTHON_HERE) -m tests.published

clean:
	rm -rf .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache pictures
	find . -name __pycache__ -not -path './.venv/*' -prune -exec rm -rf {} +

.venv/.stamp-uv: .ci/make-venv
	@.ci/make-venv
	@touch $@

.venv/.stamp-run: .venv/.stamp-uv uv.lock pyproject.toml
	@$(SYNC) --no-dev
	@touch $@

.venv/.stamp-dev: .venv/.stamp-uv uv.lock pyproject.toml
	@$(SYNC)
	@touch $@ .venv/.stamp-run
