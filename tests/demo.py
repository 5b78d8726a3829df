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


def press_demo(site: Path) -> None:
    """Press the demo workshop into ``site``, each recipe in its usual size and some in one more."""
    with mock.patch.object(pressing, "read_manuscript", _read_in_few_sizes):
        pressing.press(CONTENT, site, None, cores(), lambda total: lambda: None)


def _read_in_few_sizes(*given: Any) -> Manuscript:
    manuscript = read_manuscript(*given)
    few = {slug: _in_few_sizes(recipe) for slug, recipe in manuscript.recipes.items()}
    return replace(manuscript, recipes=few)


def _in_few_sizes(recipe: Recipe) -> Recipe:
    """A recipe that is published in its usual size alone, or in its last as well: one whose sizes
    are a run, and one whose sizes have names."""
    kept = [usual_size(recipe, draft(recipe, recipe.sizes[0]))]
    if recipe.slug in ("lamplighters-hat", "chandlers-pouch"):
        kept += [recipe.sizes[-1]]
    few = tuple(size for size in recipe.sizes if size in kept)
    # The hat's choices show how sets are pressed.
    sets = recipe.sets if recipe.slug == "lamplighters-hat" else recipe.sets[:1]
    return replace(recipe, sizes=few, sets=sets)
