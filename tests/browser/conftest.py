"""One real Chromium for all these tests, and the demo site in a subfolder of a host."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser.pages import FOLDER
from tests.chromium import launched

Open = Callable[..., Page]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Chromium, started once."""
    with sync_playwright() as playwright:
        browser = launched(playwright)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def kept() -> dict[str, Page]:
    """Pages to open again, by the settings of their profiles: beginning one takes longer than most
    tests."""
    return {}


@pytest.fixture
def open_page(browser: Browser, kept: dict[str, Page]) -> Iterator[Open]:
    """Opens an address in a browser profile that remembers nothing. Settings of Playwright's
    ``new_context``, such as ``color_scheme``, may be given. One with a script of its own has to be
    ``fresh``. The page is there when its fonts are."""
    used: dict[str, tuple[Page, dict[str, Any]]] = {}

    def opened(address: str, *, fresh: bool = False, **settings: Any) -> Page:
        key = f"fresh {len(used)}" if fresh else repr(sorted(settings.items()))
        page = kept.pop(key, None) or browser.new_context(**settings).new_page()
        used[key] = page, settings
        page.goto(address)
        page.evaluate("document.fonts.ready.then(() => true)")
        return page

    yield opened
    for key, (page, settings) in used.items():
        if key.startswith("fresh"):
            page.context.close()
            continue
        if settings.get("java_script_enabled", True) and page.url != "about:blank":
            page.evaluate("localStorage.clear()")
        page.goto("about:blank")
        page.set_viewport_size(settings.get("viewport", {"width": 1280, "height": 720}))
        page.emulate_media(
            media="null",
            color_scheme=settings.get("color_scheme", "light"),
            reduced_motion=settings.get("reduced_motion", "no-preference"),
        )
        kept[key] = page


class _Host(SimpleHTTPRequestHandler):
    """A plain host of files, the site in a subfolder. For nothing it shows the site's 404.html."""

    def do_GET(self) -> None:
        if not self.path.startswith(FOLDER):
            self.send_error(404)
            return
        self.path = self.path.removeprefix(FOLDER.rstrip("/"))
        super().do_GET()

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        body = (Path(self.directory) / "404.html").read_bytes()
        self.send_response(code)
        self.send_header("Content-Type", "text/html")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


@pytest.fixture(scope="session")
def served(demo_site: Path) -> Iterator[str]:
    """The address of the demo site on a host, in a subfolder."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Host, directory=str(demo_site)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}{FOLDER}"
    server.shutdown()
    thread.join()
    server.server_close()
