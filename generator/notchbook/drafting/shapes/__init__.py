"""The shapes pieces are drafted in, one file each, found by scanning this folder in name order.

A shape's module has a public function ``draft``, whose keyword-only parameters are the keys a
recipe may give. A module whose parameters are more than plain values also has
``read_parameters(table, value)``, which makes them from the recipe's table.

The reference page is made from the module's docstring, whose form is therefore fixed:
``Title: what it is.``; paragraphs that derive it; one that begins with ``Edges``; one that begins
with ``Parameters`` and a list below it, each item beginning with what it explains; and, at the end,
``Example::`` and pieces as they stand in a recipe, which are drafted and drawn.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Callable, Mapping
from functools import cache
from importlib import import_module

from notchbook.drafting.shape import Shape


@cache
def shapes() -> Mapping[str, Callable[..., Shape]]:
    """Every shape's ``draft`` by its name in recipes."""
    names = sorted(module.name for module in pkgutil.iter_modules(__path__))
    return {name: import_module(f"{__name__}.{name}").draft for name in names}
