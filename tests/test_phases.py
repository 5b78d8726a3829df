"""The rule that keeps it simple: data only flows to the right, and the middle phases are pure."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "generator" / "notchbook"
PHASES = ("gathering", "reading", "drafting", "composing", "pressing", "proofing")
PURE = ("reading", "drafting", "composing")
VALUES = "notchbook.gathering.source"
"""What gathering hands on: values without any means to gather."""


def modules(phase: str) -> list[Path]:
    return sorted((PACKAGE / phase).rglob("*.py"))


@cache
def nodes(module: Path) -> tuple[ast.AST, ...]:
    return tuple(ast.walk(ast.parse(module.read_text())))


def imported(module: Path) -> Iterator[str]:
    for node in nodes(module):
        match node:
            case ast.Import(names=names):
                yield from (name.name for name in names)
            case ast.ImportFrom(module=str(name), level=0):
                yield name
            case ast.ImportFrom():
                yield f"a relative import in {module.name}"


@pytest.mark.parametrize("phase", PHASES)
def test_no_phase_imports_from_its_right(phase: str) -> None:
    allowed = {"notchbook", "notchbook.problems", "notchbook.tree"}
    left = tuple(f"notchbook.{name}" for name in PHASES[: PHASES.index(phase) + 1])
    for module in modules(phase):
        for name in imported(module):
            if name.startswith(("notchbook", "a relative")):
                assert name in allowed or name.startswith(left), f"{module}: {name}"


@pytest.mark.parametrize("phase", PURE)
def test_the_middle_phases_take_values_from_gathering_and_nothing_that_gathers(phase: str) -> None:
    for module in modules(phase):
        gathered = {name for name in imported(module) if name.startswith("notchbook.gathering")}
        assert gathered <= {VALUES}, module


@pytest.mark.parametrize("phase", PURE)
def test_the_middle_phases_import_nothing_that_touches_the_world(phase: str) -> None:
    world = {
        "os", "io", "pathlib", "time", "random", "secrets", "uuid", "socket", "tempfile",
        "shutil", "subprocess", "urllib.request", "threading", "multiprocessing", "locale",
    }  # fmt: skip
    for module in modules(phase):
        assert not world & set(imported(module)), module
        for node in nodes(module):
            asks = isinstance(node, ast.Attribute) and node.attr in ("today", "now", "utcnow")
            opens = isinstance(node, ast.Name) and node.id == "open"
            assert not asks and not opens, f"{module}: {ast.unparse(node)}"


def test_the_middle_phases_need_no_compiled_third_party_package() -> None:
    names = [
        ".".join(("notchbook", *module.relative_to(PACKAGE).with_suffix("").parts))
        for phase in PURE
        for module in modules(phase)
    ]
    program = f"""
import importlib.abc, importlib.machinery, importlib.util, sys
from importlib import import_module

class NothingCompiled(importlib.abc.MetaPathFinder):
    def find_spec(self, name, path=None, target=None):
        if path is None and name.partition(".")[0] in sys.stdlib_module_names:
            return None
        spec = importlib.machinery.PathFinder.find_spec(name, path)
        compiled = tuple(importlib.machinery.EXTENSION_SUFFIXES)
        if spec and spec.origin and spec.origin.endswith(compiled):
            if "site-packages" in spec.origin:
                raise ImportError(f"{{name}} is compiled")
        return None

sys.meta_path.insert(0, NothingCompiled())
try:
    import_module("lxml.etree")
except ImportError:
    pass
else:
    raise SystemExit("the block does not block")
for name in {names!r}:
    import_module(name)
print(len({names!r}))
"""
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
    assert done.stderr == ""
    assert done.stdout.strip() == str(len(names))
