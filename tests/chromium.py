"""The browser that the tests and the gallery drive."""

from __future__ import annotations

import shutil

from playwright.sync_api import Browser, Playwright

PROGRAMS = ("chromium-headless-shell", "chromium", "google-chrome")
"""The first draws the same pages without the rest of a browser, in half the time."""


def launched(playwright: Playwright) -> Browser:
    """Chromium, started."""
    path = next(filter(None, map(shutil.which, PROGRAMS)), None)
    assert path, "These tests need Chromium: see tools/system-libraries."
    return playwright.chromium.launch(executable_path=path)
