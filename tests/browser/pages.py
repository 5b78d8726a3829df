"""The demo site's kinds of page, and what goes wrong while one loads."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from playwright.sync_api import Page, Request, Response

from tests.demo import WITH_CHOICES, WITH_NAMES

FOLDER = "/walk/patterns/"
"""Where on its host the served site lies."""

RECIPE = f"{WITH_CHOICES}/index.html"
SIZE = f"{WITH_CHOICES}/pleated/head-64cm/index.html"
LONG = "lamplighters-hat/index.html"
"""The longest page there is."""
NAMED = f"{WITH_NAMES}/index.html"
KINDS = {
    "index": "index.html",
    "recipe": RECIPE,
    "named sizes": NAMED,
    "printing": "printing.html",
    "shapes": "shapes.html",
    "figures": "figures.html",
    "text": "about.html",
    "missing": "404.html",
}
"""One page of every kind, by its path below the site's top. A size's page is the recipe's again,
with other numbers."""


@contextmanager
def faults(page: Page, home: str) -> Iterator[list[str]]:
    """A list that fills with whatever goes wrong on ``page`` meanwhile: requests that fail or leave
    ``home``, scripts' errors, anything said on the console."""
    found: list[str] = []

    def ask(request: Request) -> None:
        if not request.url.startswith((home, "data:")):
            found.append(f"left home for {request.url}")

    def answer(response: Response) -> None:
        if response.status >= 400:
            found.append(f"{response.status} for {response.url}")

    heard: dict[Any, Callable[..., None]] = {
        "request": ask,
        "response": answer,
        "requestfailed": lambda request: found.append(f"failed: {request.url}"),
        "pageerror": lambda error: found.append(f"script: {error}"),
        "console": lambda message: found.append(f"console: {message.text}"),
    }
    for event, hear in heard.items():
        page.on(event, hear)
    yield found
    for event, hear in heard.items():
        page.remove_listener(event, hear)
