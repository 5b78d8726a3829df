"""The demo workshop's recipes, read and drafted once for all that look at them."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.gathering.recipes import find_recipe, gather_recipes
from notchbook.reading.choosing import published
from notchbook.reading.read import read_recipe
from notchbook.reading.recipe import Recipe

CONTENT = Path(__file__).parents[1] / "content"
SLUGS = sorted(path.name for path in (CONTENT / "recipes").iterdir())


@cache
def recipes() -> tuple[Recipe, ...]:
    """Every recipe of the demo workshop."""
    return tuple(read_recipe(source) for source in gather_recipes(CONTENT))


@cache
def sets(slug: str) -> tuple[Recipe, ...]:
    """A recipe of the collection, once for each set of choices it is published with."""
    return published(read_recipe(find_recipe(CONTENT, slug)))


@cache
def drafts(slug: str) -> tuple[Draft, ...]:
    """A recipe of the collection in its smallest size, once for each set of choices."""
    return tuple(draft(recipe, recipe.sizes[0]) for recipe in sets(slug))


def made(slug: str) -> Draft:
    """A recipe in its smallest size, with its first set of choices."""
    return drafts(slug)[0]
