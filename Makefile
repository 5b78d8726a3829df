# The whole house: make press makes the demo site, make test proves everything.

python ?= python3
bin := .venv/bin

press: .venv/made
	tools/system-libraries press
	$(bin)/notchbook press

test: .venv/made
	tools/system-libraries test
	$(bin)/ruff check
	$(bin)/ruff format --check
	$(bin)/mypy
	$(bin)/pytest -n 2

gallery: .venv/made
	tools/system-libraries test
	$(bin)/python tests/gallery.py

bench: .venv/made
	tools/system-libraries press
	$(bin)/python -m tests.benchmarks

.venv/made: pyproject.toml constraints.txt
	$(python) -m venv .venv
	$(bin)/pip install --quiet --disable-pip-version-check -c constraints.txt -e .[dev]
	touch $@

clean:
	rm -rf .venv site gallery dist

.PHONY: press test gallery bench clean
