"""One small recipe, pressed once for all checks of whole documents."""

from __future__ import annotations

from pathlib import Path as File

import pytest

from tests.published.written import press
from tests.recipes import STEPS, text_of

DOCUMENTS = (
    "sheets-a4.pdf",
    "sheets-letter.pdf",
    "booklet-a5.pdf",
    "booklet-a5-print.pdf",
    "booklet-half-letter.pdf",
    "booklet-half-letter-print.pdf",
    "list.pdf",
)

CHAPTERS = "".join(f"\n## Chapter {n}\n\n{'Wait until it is dry. ' * 60}\n" for n in range(1, 6))
"""Enough chapters to make a booklet of several sheets."""


@pytest.fixture(scope="session")
def pressed(tmp_path_factory: pytest.TempPathFactory) -> File:
    """The folder of the small hat's first size."""
    return press(text_of(body=STEPS + CHAPTERS), tmp_path_factory.mktemp("pressed"))


@pytest.fixture(params=DOCUMENTS)
def document(request: pytest.FixtureRequest, pressed: File) -> File:
    """Each kind of PDF."""
    return pressed / str(request.param)
