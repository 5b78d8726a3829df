"""Sets of measures that truing visits besides the published sizes: the corners of the ranges, and
sets scattered evenly between them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from notchbook.drafting.engine import limits_kept
from notchbook.reading.fields import constant
from notchbook.reading.formula import Formula, Number
from notchbook.reading.quantity import LENGTH, Quantity
from notchbook.reading.recipe import Measure, Recipe, Size

MOST_CORNERS = 64
"""With more corners than this, each measure goes to its ends alone, the others at their usual."""

SCATTERED = 32
"""Sets between the corners."""


def visited(recipe: Recipe) -> tuple[Size, ...]:
    """Every set of measures to be trued: the published sizes, and what the recipe's limits allow
    of the corners and of the sets between."""
    found = [*recipe.sizes]
    if recipe.measures:
        for number, given in enumerate((*_corners(recipe), *_scattered(recipe))):
            title = ", ".join(f"{name} {formula.text}" for name, formula in given.items())
            size = Size(f"set-{number}", title, given, recipe.place)
            if limits_kept(recipe, size):
                found.append(size)
    return tuple(found)


def _corners(recipe: Recipe) -> Iterator[dict[str, Formula]]:
    measures = recipe.measures
    if 2 ** len(measures) <= MOST_CORNERS:
        for ends in product(*((m.low, m.high) for m in measures.values())):
            yield dict(zip(measures, ends, strict=True))
    else:
        yield from ({m.name: end} for m in measures.values() for end in (m.low, m.high))


def _scattered(recipe: Recipe) -> Iterator[dict[str, Formula]]:
    """Sets between the ends, in whole millimetres. A range whose ends are formulas is left at its
    usual value."""
    ranges = {
        name: (low.value, high.value)
        for name, measure in recipe.measures.items()
        if (low := constant(measure.low)) and (high := constant(measure.high))
    }
    for shares in scatter(len(ranges), SCATTERED) if ranges else ():
        yield {
            name: _length(round(low + (high - low) * share), recipe.measures[name])
            for (name, (low, high)), share in zip(ranges.items(), shares, strict=True)
        }


def scatter(dimensions: int, count: int) -> Iterator[tuple[float, ...]]:
    """Points of a cube, each coordinate from 0 to 1, that fill it evenly however many are taken.

    The golden ratio φ leaves the largest gaps small when its multiples are taken modulo 1, as
    φ² = φ + 1 makes it the number hardest to approach by fractions. In d dimensions the root g of
    g^(d+1) = g + 1 takes its place: point n has the coordinates ½ + n ÷ g^k modulo 1, k = 1 … d
    (a Kronecker sequence; Niederreiter, 1992, chapter 3).
    """
    root = 1.5
    for _ in range(40):
        root = (1 + root) ** (1 / (dimensions + 1))
    steps = [root**-k for k in range(1, dimensions + 1)]
    for n in range(1, count + 1):
        yield tuple((0.5 + n * step) % 1 for step in steps)


def _length(mm: float, measure: Measure) -> Formula:
    return Formula(f"{mm / 10:g} cm", Number(Quantity(mm, LENGTH), measure.place), measure.place)
