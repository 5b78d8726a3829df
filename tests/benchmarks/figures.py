"""What it costs to draw figures: every one of the collection, in all its sizes.

What a size's page and booklet draw is drawn as they do: each figure of the recipe and each piece
flat. The first size of a set of choices is drawn once beforehand, to warm up. The slowest of each
view are drawn again, so that what a machine does beside doesn't count as theirs.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Iterable, Sequence
from heapq import nlargest
from itertools import groupby
from operator import attrgetter
from pathlib import Path
from typing import NamedTuple

from notchbook.composing.drawing import Drawing
from notchbook.composing.figures import draw_figure
from notchbook.composing.plates import draw_plates
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.gathering.recipes import gather_recipes
from notchbook.pressing.manuscript import read_manuscript
from notchbook.reading.choosing import published
from notchbook.reading.recipe import Entry, FigureRule, Recipe, Scalar, Table

_SLOWEST = 5
"""How many of each view are drawn again."""


class Timed(NamedTuple):
    """One figure in one size, and the seconds it took."""

    view: str
    made: Draft
    rule: FigureRule
    seconds: float


class Figures(NamedTuple):
    """Every figure of a view: how many, the median seconds, and the slowest, which is ``worst``."""

    view: str
    drawn: int
    median: float
    slowest: float
    worst: str


def figures(
    content: Path, seconds_of: Callable[[Callable[[], object], int], float]
) -> list[Figures]:
    """All figures of a workshop, by their views; ``seconds_of`` some work done a number of times is
    asked for the slowest."""
    manuscript = read_manuscript(content, lambda: gather_recipes(content))
    setting = manuscript.setting
    timed = [
        each
        for recipe in manuscript.recipes.values()
        for settled in published(recipe)
        for each in _timed(settled, setting)
    ]
    by_view = attrgetter("view")
    return [
        _summed(view, list(group), setting, seconds_of)
        for view, group in groupby(sorted(timed, key=by_view), by_view)
    ]


def _timed(recipe: Recipe, setting: Setting) -> Iterable[Timed]:
    """The figures of a recipe whose choices are settled, in each of its sizes."""
    found: list[Timed] = []

    def drawn(made: Draft, rule: FigureRule, setting: Setting) -> Drawing:
        began = time.process_time()
        drawing = draw_figure(made, rule, setting)
        found.append(Timed(rule.view.value, made, rule, time.process_time() - began))
        return drawing

    draw_plates(draft(recipe, recipe.sizes[0]), setting)
    for size in recipe.sizes:
        draw_plates(draft(recipe, size), setting, drawn)
    return found


def _summed(
    view: str,
    timed: Sequence[Timed],
    setting: Setting,
    seconds_of: Callable[[Callable[[], object], int], float],
) -> Figures:
    again = [
        each._replace(seconds=seconds_of(lambda it=each: draw_figure(it.made, it.rule, setting), 3))
        for each in nlargest(_SLOWEST, timed, key=attrgetter("seconds"))
    ]
    worst = max(again, key=attrgetter("seconds"))
    middle = statistics.median(each.seconds for each in timed)
    return Figures(view, len(timed), middle, worst.seconds, _named(worst))


def _named(timed: Timed) -> str:
    """A figure by its recipe, its size and what it is of: its keys, or its line in the recipe."""
    made, rule = timed.made, timed.rule
    of = ", ".join(_words(rule.keys)) or f"line {rule.place.line}"
    return f"{made.recipe.home}, {made.size.id}: {of}"


def _words(entry: Entry) -> Iterable[str]:
    """Every word of a key's value."""
    if isinstance(entry, Scalar):
        return [entry.text]
    within = entry.entries.values() if isinstance(entry, Table) else entry.entries
    return [word for each in within for word in _words(each)]
