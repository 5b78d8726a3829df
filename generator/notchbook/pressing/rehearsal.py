"""Everything but the printing: each size composed and thrown away, for what is found wrong."""

from __future__ import annotations

from collections.abc import Callable

from notchbook.drafting.engine import draft
from notchbook.pressing.size import Bench, compose, pages
from notchbook.problems import ContentError


def start(bench: Bench) -> Callable[[tuple[str, str]], None]:
    """Get ready for sizes, each given by its recipe's slug and its own id. A size that can't be
    drafted is passed over: truing has said why."""

    def do(task: tuple[str, str]) -> None:
        slug, id = task
        recipe = bench.recipes[slug]
        size = next(size for size in recipe.sizes if size.id == id)
        try:
            draft(recipe, size)
        except ContentError:
            return
        pages(bench, compose(recipe, size, bench.setting), ())

    return do
