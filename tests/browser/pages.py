"""The demo site's kinds of page, and what goes wrong while one loads."""

from __future__ import annotations

from playwright.sync_api import Page, Request, Response

FOLDER = "/walk/patterns/"
"""Where on its host the served site lies."""

RECIPE = "lamplighters-hat/index.html"
SIZE = "lamplighters-hat/oval/head-64cm/index.html"
NAMED = "chandlers-pouch/index.html"
KINDS = {
    "index": "index.html",
    "recipe": RECIPE,
    "size": "chandlers-pouch/large/index.html",
    "named sizes": NAMED,
    "printing": "printing.html",
    "shapes": "shapes.html",
    "figures": "figures.html",
    "text": "about.html",
    "missing": "404.html",
}
"""One page of every kind, by its path below the site's top."""


def faults(page: Page, home: str) -> list[str]:
    """A list that fills with whatever goes wrong on ``page`` from now on: requests that fail or
    leave ``home``, scripts' errors, anything said on the console."""
    found: list[str] = []

    def ask(request: Request) -> None:
        if not request.url.startswith((home, "data:")):
            found.append(f"left home for {request.url}")

    def answer(response: Response) -> None:
        if response.status >= 400:
            found.append(f"{response.status} for {response.url}")

    page.on("request", ask)
    page.on("response", answer)
    page.on("requestfailed", lambda request: found.append(f"failed: {request.url}"))
    page.on("pageerror", lambda error: found.append(f"script: {error}"))
    page.on("console", lambda message: found.append(f"console: {message.text}"))
    return found
