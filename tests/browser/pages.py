"""The demo site's kinds of page, and what goes wrong while one loads."""

from __future__ import annotations

from playwright.sync_api import Page, Request, Response

from tests.demo import IN_ALL_SETS

FOLDER = "/walk/patterns/"
"""Where on its host the served site lies."""

RECIPE = f"{IN_ALL_SETS}/index.html"
SIZE = f"{IN_ALL_SETS}/pleated/head-64cm/index.html"
LONG = "lamplighters-hat/index.html"
"""The longest page there is."""
NAMED = "chandlers-pouch/index.html"
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
