"""The lays of every size of every recipe, found before anything is printed: each page has a table
of what all sizes of its recipe take."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from notchbook.drafting.draft import Lay
from notchbook.drafting.engine import draft
from notchbook.drafting.packing.cloth import lays_of
from notchbook.pressing.size import Lays, composing
from notchbook.pressing.workers import share_out
from notchbook.reading.recipe import Recipe


def lays_of_all(
    recipes: Mapping[str, Recipe], sizes: list[tuple[str, str]], jobs: int, tick: Callable[[], None]
) -> Lays:
    """The lays of sizes given by their recipe's home and their own id. Raises ContentError."""
    return dict(zip(sizes, share_out(start, (recipes,), sizes, jobs, tick), strict=True))


def start(recipes: Mapping[str, Recipe]) -> Callable[[tuple[str, str]], tuple[Lay, ...]]:
    """Get ready for sizes. What is returned lays the pieces of one."""

    def do(task: tuple[str, str]) -> tuple[Lay, ...]:
        home, id = task
        made = draft(recipes[home], recipes[home].size(id))
        with composing(made):
            return lays_of(made)

    return do
