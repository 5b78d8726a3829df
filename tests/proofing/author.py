"""An author at work: a workshop, its trial copy in a browser, and what the browser is told."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path
from urllib.parse import urlsplit

from notchbook.proofing.proof import proof
from tests.starter import begin_small

PAGE = "cosy/usual/index.html"


@dataclass(frozen=True)
class Author:
    """``content`` is watched, in a theme of its own, and served at ``address``."""

    content: Path
    theme: Path
    address: str

    @property
    def recipe(self) -> Path:
        return self.content / "recipes" / "cosy" / "recipe.md"

    def ask(self, path: str, method: str = "GET", **headers: str) -> tuple[int, str]:
        """The status and the body of an answer."""
        link = HTTPConnection(urlsplit(self.address).netloc, timeout=60)
        link.request(method, f"/{path}", headers=headers)
        answer = link.getresponse()
        body = answer.read().decode("utf-8", "replace")
        link.close()
        return answer.status, body

    def page(self, path: str = PAGE) -> str:
        """A page that is there."""
        status, body = self.ask(path)
        assert status == 200
        assert "Notchbook itself has failed" not in body
        return body

    @contextmanager
    def opened(self, path: str = PAGE) -> Iterator[Callable[[str], str]]:
        """While a page is open: what waits until the page has some words after an event, or has
        them no more where they begin with “no ”, and gives the page."""
        link = HTTPConnection(urlsplit(self.address).netloc, timeout=60)
        link.request("GET", f"/.proof/events?page=/{path}")
        events = link.getresponse()

        def until(words: str) -> str:
            absent, sought = words.startswith("no "), words.removeprefix("no ")
            while True:
                _event(events)
                page = self.ask(path)[1]
                if (sought in page) is not absent:
                    return page

        yield until
        link.close()

    def change(self, old: str, new: str, file: Path | None = None) -> None:
        """Save a file with one thing in it changed."""
        file = file or self.recipe
        text = file.read_text(encoding="utf-8")
        assert text.count(old) == 1
        file.write_text(text.replace(old, new), encoding="utf-8")


def _event(events: HTTPResponse) -> dict[str, str]:
    """The next event of a page."""
    for line in iter(events.readline, b""):
        if line.startswith(b"data: "):
            told: dict[str, str] = json.loads(line.removeprefix(b"data: "))
            return told
    raise AssertionError("The server has hung up.")


@contextmanager
def author(folder: Path) -> Iterator[Author]:
    """An author with the starter recipe, ``cosy``, and a copy of the theme broadside."""
    content, theme = folder / "content", folder / "chapbook"
    begin_small(content)
    shutil.copytree(Path(__file__).parents[2] / "themes" / "broadside", theme)
    with proof(content, str(theme), 0) as address:
        yield Author(content, theme, address)
