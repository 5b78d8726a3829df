"""What tests share: above all one press of the demo workshop.

Tests that draw examples draw the same ones every time, so that a verdict can be had again.
``make fuzz`` draws others, and ten times as many.
"""

from __future__ import annotations

import fcntl
import shutil
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from unittest import mock

import hypothesis
import pytest

from notchbook.gathering.catalogue import gather_catalogue
from notchbook.gathering.source import Catalogue
from notchbook.pressing.webfonts import web_font
from notchbook.problems import Place
from tests.composing.sample import setting
from tests.demo import press_quickly
from tests.starter import begin_small

ROOT = Path(__file__).parents[1]

hypothesis.settings.register_profile("same", derandomize=True, deadline=None, database=None)
hypothesis.settings.register_profile("fuzz", deadline=None, print_blob=True)
hypothesis.settings.load_profile("same")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """With ``--hypothesis-profile=fuzz``, ten times as many examples as each test asks for."""
    if config.getoption("--hypothesis-profile") != "fuzz":
        return
    tests = {getattr(item, "obj", None) for item in items}
    for test in filter(hypothesis.is_hypothesis_test, tests):
        own: hypothesis.settings = test._hypothesis_internal_use_settings  # type: ignore[union-attr]
        many = hypothesis.settings(own, max_examples=10 * own.max_examples)
        test._hypothesis_internal_use_settings = many  # type: ignore[union-attr]


@pytest.fixture(scope="session")
def root() -> Path:
    """The top of the repository."""
    return ROOT


@pytest.fixture(scope="session")
def demo_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo workshop pressed once, for all tests in all processes: everything in it, in few
    sizes, every recipe printed once. Look, do not touch."""
    shared = tmp_path_factory.getbasetemp()
    if shared.name.startswith("popen-"):  # one of several processes: their folders' common parent
        shared = shared.parent
    site = shared / "demo-site"
    with (shared / "demo-site.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (site / "impression.json").exists():
            press_quickly(site)
    return site


@pytest.fixture(scope="session", autouse=True)
def _words_read_once() -> Iterator[None]:
    """English words are read once in a process, for that takes longer than most tests."""

    def words(language: str, place: Place) -> Catalogue:
        return setting().catalogue if language == "en" else gather_catalogue(language, place)

    with mock.patch("notchbook.pressing.manuscript.gather_catalogue", words):
        yield


_cut_once = cache(web_font)
"""Faces are the same for the same arguments, as ``tests/pressing/test_webfonts.py`` proves, and
cutting them takes longer than printing a small recipe."""


@pytest.fixture
def faces_cut_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Presses of this test take faces for the web from those cut before, where there are any."""
    monkeypatch.setattr("notchbook.pressing.tasks.web_font", _cut_once)


@pytest.fixture
def workshop(tmp_path: Path, faces_cut_once: None) -> Iterator[Path]:
    """A content folder with the starter recipe, ``cosy``, to change as a test likes; on one paper
    and in one size beside the usual, which is quick to press."""
    content = tmp_path / "content"
    begin_small(content)
    settings = content / "workshop.yaml"
    settings.write_text(settings.read_text().replace("[a4, letter]", "[a4]"))
    yield content
    shutil.rmtree(content, ignore_errors=True)
