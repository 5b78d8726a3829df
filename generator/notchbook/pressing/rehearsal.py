"""Everything but the printing: each size composed and thrown away, for what is found wrong."""

from __future__ import annotations

from collections.abc import Callable

from notchbook.drafting.engine import draft
from notchbook.drafting.packing.cloth import too_wide
from notchbook.pressing.size import Bench, compose_draft, pages
from notchbook.problems import ContentError


def start(bench: Bench) -> Callable[[tuple[str, str]], None]:
    """Get ready for sizes, each given by its recipe's home and its own id. A size that can't be
    drafted or laid on its cloth is passed over: truing has said why."""

    def do(task: tuple[str, str]) -> None:
        home, id = task
        recipe = bench.recipes[home]
        try:
            made = draft(recipe, recipe.size(id))
        except ContentError:
            return
        if any(too_wide(made)):
            return
        pages(bench, compose_draft(made, bench.setting), ())

    return do
