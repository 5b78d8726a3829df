"""What tests share: above all one press of the demo workshop."""

from __future__ import annotations

import fcntl
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from notchbook.pressing.begin import begin
from notchbook.pressing.press import press
from notchbook.pressing.workers import cores

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="session")
def root() -> Path:
    """The top of the repository."""
    return ROOT


@pytest.fixture(scope="session")
def demo_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo workshop pressed once, for all tests in all processes. Look, do not touch."""
    shared = tmp_path_factory.getbasetemp()
    if shared.name.startswith("popen-"):  # one of several processes: their folders' common parent
        shared = shared.parent
    site = shared / "demo-site"
    with (shared / "demo-site.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (site / "impression.json").exists():
            press(ROOT / "content", site, None, cores(), lambda total: lambda: None)
    return site


@pytest.fixture
def workshop(tmp_path: Path) -> Iterator[Path]:
    """A content folder with the starter recipe, ``cosy``, to change as a test likes."""
    content = tmp_path / "content"
    begin(content, "cosy")
    yield content
    shutil.rmtree(content, ignore_errors=True)
