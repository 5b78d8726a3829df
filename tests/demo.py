"""The demo workshop pressed in few sizes: everything in it is there once, and quickly."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from pathlib import Path
from typing import Any
from unittest import mock

from notchbook.drafting.engine import draft
from notchbook.pressing import press as pressing
from notchbook.pressing.manuscript import Manuscript, read_manuscript
from notchbook.pressing.size import usual_size
from notchbook.pressing.workers import cores
from notchbook.reading.recipe import Recipe
from tests.collection import CONTENT

WITH_CHOICES = "wick-trimmers-cap"
"""The shortest recipe with choices."""
WITH_NAMES = "chandlers-pouch"
"""The shortest recipe whose sizes have names."""
MANIFOLD = (WITH_CHOICES, WITH_NAMES)


def press_demo(site: Path, manifold: Collection[str] = MANIFOLD) -> None:
    """Press the demo workshop into ``site``, each recipe in its usual size, and some in more."""

    def few(*given: Any) -> Manuscript:
        return in_few_sizes(read_manuscript(*given), manifold)

    with mock.patch.object(pressing, "read_manuscript", few):
        pressing.press(CONTENT, site, None, cores(), lambda total: lambda: None)


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
