"""The demo workshop pressed in few sizes: everything in it is there once, and quickly."""

from __future__ import annotations

from collections.abc import Callable, Collection
from contextlib import nullcontext
from dataclasses import replace
from pathlib import Path
from typing import Any
from unittest import mock

from notchbook.drafting.engine import draft
from notchbook.pressing import press as pressing
from notchbook.pressing import tasks
from notchbook.pressing.impression import Made
from notchbook.pressing.manuscript import Manuscript, read_manuscript
from notchbook.pressing.size import Bench, is_first, usual_size
from notchbook.pressing.workers import cores
from notchbook.reading.recipe import Recipe
from tests.blank import printed_blank
from tests.collection import CONTENT

_start = tasks.start

WITH_CHOICES = "wick-trimmers-cap"
"""The shortest recipe with choices."""
WITH_NAMES = "chandlers-pouch"
"""The shortest recipe whose sizes have names."""
MANIFOLD = (WITH_CHOICES, WITH_NAMES)


def press_demo(
    site: Path, manifold: Collection[str] = MANIFOLD, papers: tuple[str, ...] = ()
) -> None:
    """Press the demo workshop into ``site``, each recipe in its usual size, and some in more; on
    these ``papers`` or on the workshop's."""

    def few(*given: Any) -> Manuscript:
        manuscript = in_few_sizes(read_manuscript(*given), manifold)
        setting = manuscript.setting
        workshop = replace(setting.workshop, papers=papers or setting.workshop.papers)
        return replace(manuscript, setting=replace(setting, workshop=workshop))

    with mock.patch.object(pressing, "read_manuscript", few):
        pressing.press(CONTENT, site, None, cores(), lambda total: lambda: None)


def press_quickly(site: Path) -> None:
    """Press the demo workshop as ``press_demo`` does, on one paper to print at home and one that is
    printed elsewhere, every recipe's PDFs once: those of its other sizes and sets are blank."""
    with mock.patch.object(tasks, "start", start):
        press_demo(site, papers=("a4", "a0"))


def start(bench: Bench) -> Callable[[tasks.Task], tuple[Made, ...]]:
    """What each process of a quick press begins with, as ``tasks.start``."""
    do = _start(bench)

    def whole(task: tasks.Task) -> bool:
        if isinstance(task, str | tasks.NestOf | tasks.Reference):
            return True
        home, id = task
        recipe = bench.recipes[home]
        return is_first(draft(recipe, recipe.size(id)))

    def quickly(task: tasks.Task) -> tuple[Made, ...]:
        with nullcontext() if whole(task) else printed_blank():
            return do(task)

    return quickly


def in_few_sizes(manuscript: Manuscript, manifold: Collection[str] = MANIFOLD) -> Manuscript:
    """Every recipe in its usual size and its first set of choices. Some show how more are pressed:
    in all their sets, and in their last size as well."""

    def few(recipe: Recipe) -> Recipe:
        whole = recipe.slug in manifold
        kept = [usual_size(recipe, draft(recipe, recipe.sizes[0]))] + [recipe.sizes[-1]] * whole
        sizes = tuple(size for size in recipe.sizes if size in kept)
        return replace(recipe, sizes=sizes, sets=recipe.sets if whole else recipe.sets[:1])

    recipes = {slug: few(recipe) for slug, recipe in manuscript.recipes.items()}
    return replace(manuscript, recipes=recipes)
