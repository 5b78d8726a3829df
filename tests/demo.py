"""The demo workshop pressed in few sizes: everything in it is there once, and quickly."""

from __future__ import annotations

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

IN_ALL_SETS = "wick-trimmers-cap"
"""The shortest recipe with choices."""


def press_demo(site: Path) -> None:
    """Press the demo workshop into ``site``, each recipe in its usual size and one in more."""
    with mock.patch.object(pressing, "read_manuscript", _read_in_few_sizes):
        pressing.press(CONTENT, site, None, cores(), lambda total: lambda: None)


def _read_in_few_sizes(*given: Any) -> Manuscript:
    manuscript = read_manuscript(*given)
    few = {slug: _in_few_sizes(recipe) for slug, recipe in manuscript.recipes.items()}
    return replace(manuscript, recipes=few)


def _in_few_sizes(recipe: Recipe) -> Recipe:
    """A recipe in its usual size and its first set of choices. One shows how more are pressed:
    in all its sets, and in its last size as well."""
    whole = recipe.slug == IN_ALL_SETS
    kept = [usual_size(recipe, draft(recipe, recipe.sizes[0]))] + [recipe.sizes[-1]] * whole
    few = tuple(size for size in recipe.sizes if size in kept)
    return replace(recipe, sizes=few, sets=recipe.sets if whole else recipe.sets[:1])
