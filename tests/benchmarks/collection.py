"""The demo workshop, which is what everything is measured on."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from notchbook.gathering.recipes import gather_recipes
from notchbook.reading.read import read_recipe
from notchbook.reading.recipe import Recipe

CONTENT = Path(__file__).parents[2] / "content"


@cache
def recipes() -> tuple[Recipe, ...]:
    """Every recipe of the demo workshop."""
    return tuple(read_recipe(source) for source in gather_recipes(CONTENT))
