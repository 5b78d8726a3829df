"""What WeasyPrint alone needs to print what a press run prints."""

from __future__ import annotations

import gc
import multiprocessing
import time
from concurrent.futures import ProcessPoolExecutor
from multiprocessing.synchronize import Barrier
from pathlib import Path
from typing import Literal

from notchbook.gathering.recipes import gather_recipes
from notchbook.gathering.source import Typefaces
from notchbook.pressing.manuscript import read_manuscript
from notchbook.pressing.pdf import Printer
from notchbook.pressing.size import BOOKLETS, compose
from notchbook.reading.choosing import published
from tests.demo import in_few_sizes

Document = tuple[str, Literal["sheets", "booklet"]]


def stored(content: Path) -> tuple[list[Document], Typefaces]:
    """All HTML of sizes that a press run of the demo in few sizes prints, booklets first."""
    manuscript = in_few_sizes(read_manuscript(content, lambda: gather_recipes(content)))
    sheets: list[Document] = []
    booklets: list[Document] = []
    recipes = [each for recipe in manuscript.recipes.values() for each in published(recipe)]
    for recipe in recipes:
        for size in recipe.sizes:
            made = compose(recipe, size, manuscript.setting)
            sheets += [(html, "sheets") for html in made.sheets.values()]
            booklets += [(made.booklet, "booklet"), (made.list, "booklet")]
    return [*booklets, *sheets], manuscript.setting.typefaces


def printing(documents: list[Document], typefaces: Typefaces, jobs: int) -> float:
    """Seconds until as many warm processes as a press run uses have printed all documents."""
    context = multiprocessing.get_context("spawn")
    ready = context.Barrier(jobs)
    with ProcessPoolExecutor(jobs, context, _warm, (typefaces, documents[0], ready)) as pool:
        list(pool.map(_wait, range(jobs)))
        began = time.perf_counter()
        list(pool.map(_print, documents))
        return time.perf_counter() - began


_held: list[tuple[Printer, Barrier]] = []
"""In a worker alone."""


def _warm(typefaces: Typefaces, document: Document, ready: Barrier) -> None:
    gc.set_threshold(50_000, 20, 50)  # as in a press run
    printer = Printer(typefaces)
    _held.append((printer, ready))
    _print(document)


def _wait(number: int) -> None:
    _held[0][1].wait()


def _print(document: Document) -> None:
    printer, (html, kind) = _held[0][0], document
    if kind == "sheets":
        printer.sheets(html)
    else:
        printer.booklet(html, [page.extent for page in BOOKLETS.values()])
