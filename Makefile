# The whole house: make press makes the demo site, make test proves everything.

python ?= python3
bin := .venv/bin
# A file's tests share what they make, so one process runs them all.
shared := -n 2 --dist loadscope --no-loadscope-reorder

# Many processes read the same modules: what the first compiles is kept for the others.
unexport PYTHONDONTWRITEBYTECODE

press: .venv/made
	tools/system-libraries press
	$(bin)/notchbook press

test: .venv/made
	tools/system-libraries test
	$(bin)/ruff check
	$(bin)/ruff format --check
	$(bin)/mypy
	$(bin)/pytest $(shared)

# The tests that draw examples, with others than ever and ten times as many.
fuzz: .venv/made
	$(bin)/pytest $(shared) -m hypothesis --hypothesis-profile=fuzz

# docs/shapes.md and docs/figures.md with their drawings, from the code of the shapes and the views.
reference: .venv/made
	$(bin)/python -m tests.reference

gallery: .venv/made
	tools/system-libraries test
	$(bin)/python -m tests.gallery

# Lays are compared for most of an hour; make bench lays="10 1" for 10 s and one seed each.
bench: .venv/made
	tools/system-libraries press
	$(bin)/pip install --quiet --disable-pip-version-check -c constraints.txt -e .[bench]
	$(bin)/python -m tests.benchmarks $(lays)

# Modules are compiled when they are first read: most never are.
.venv/made: pyproject.toml constraints.txt
	$(python) -m venv .venv
	$(bin)/pip install --quiet --disable-pip-version-check --no-compile -c constraints.txt -e .[dev]
	touch $@

clean:
	rm -rf .venv site gallery dist

.PHONY: press test fuzz reference gallery bench clean
