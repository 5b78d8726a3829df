"""Truing: whether everything that must meet does meet, in every published size and at every end
of the ranges, measured on the constructed outlines."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import product

from notchbook.drafting.allowance import too_close
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft, evaluate_in, limits_kept
from notchbook.drafting.geometry.meet import crosses_itself
from notchbook.drafting.steps import check_steps
from notchbook.problems import ContentError, Problem
from notchbook.reading.recipe import FigureRule, Inline, Prose, Recipe, Size, Step

SEAM_MISS = 0.5
"""How far the sides of a seam may differ beyond their declared ease, mm."""


def true(recipe: Recipe) -> tuple[Problem, ...]:
    """Everything that is wrong with a recipe in any size, each thing once, with the worst size."""
    found: list[tuple[Size, Problem, float]] = []
    sizes = (*recipe.sizes, *ends_of_ranges(recipe))
    for size in sizes:
        try:
            made = draft(recipe, size)
        except ContentError as error:
            found.extend((size, problem, 0.0) for problem in error.problems)
        else:
            found.extend((size, problem, weight) for problem, weight in check(made))
    return tuple(sorted({*check_steps(recipe), *_once(found, len(sizes))}))


def ends_of_ranges(recipe: Recipe) -> tuple[Size, ...]:
    """Every set of measures at an end of its range that the recipe's limits allow.

    With many measures the corners are too many to visit: beyond six, each measure goes to its
    ends while the others stay at their usual values.
    """
    measures = list(recipe.measures.values())
    if len(measures) <= 6:
        corners = [
            dict(zip(recipe.measures, ends, strict=True))
            for ends in product(*((m.low, m.high) for m in measures))
        ]
    else:
        corners = [{m.name: end} for m in measures for end in (m.low, m.high)]
    sizes = []
    for number, corner in enumerate(corners):
        title = ", ".join(f"{name} {formula.text}" for name, formula in corner.items())
        size = Size(f"end-{number}", title, corner, recipe.place)
        if limits_kept(recipe, size):
            sizes.append(size)
    return tuple(sizes)


def check(made: Draft) -> Iterator[tuple[Problem, float]]:
    """What is wrong with one draft, each problem with a weight: the heavier, the worse."""
    recipe = made.recipe
    for seam in made.seams.values():
        if seam.miss > SEAM_MISS:
            sides = " against ".join(
                f"{' + '.join(map(str, names))} {length:.1f} mm"
                for names, length in zip(seam.sides, seam.lengths, strict=True)
            )
            what = f"The sides of seam “{seam.name}” do not meet: {sides}, {seam.miss:.1f} mm off."
            remedy = "Mend the formula of one side, or declare the difference as ease."
            yield Problem(recipe.seams[seam.name].place, what, remedy), seam.miss
    for piece in made.pieces.values():
        rule = recipe.pieces[piece.name]
        for path in piece.flat.outline():
            spot = crosses_itself(path)
            if spot is not None:
                what = (
                    f"The outline of piece “{piece.name}” crosses itself near "
                    f"{spot.real:.0f} mm across, {spot.imag:.0f} mm down."
                )
                yield Problem(rule.place, what, "Change the measures that make its points."), 0.0
        for edge, gap in too_close(piece.flat, piece.cut_lines):
            what = f"Two lines of piece “{piece.name}” run {gap:.1f} mm apart at “{edge}”."
            remedy = "Keep them 1.5 mm apart, or let them fall together."
            yield Problem(rule.place, what, remedy), -gap
    for inline in _inlines(recipe):
        try:
            evaluate_in(made, inline.formula)
        except ContentError as error:
            for problem in error.problems:
                yield problem, 0.0


def _inlines(recipe: Recipe) -> Iterator[Inline]:
    def within(blocks: Iterable[Prose | FigureRule | Step]) -> Iterator[Inline]:
        for block in blocks:
            if isinstance(block, Step):
                yield from within(block.blocks)
            elif isinstance(block, Prose):
                yield from (part for part in block.parts if isinstance(part, Inline))

    yield from within(recipe.opening)
    for stage in recipe.stages:
        yield from within(stage.blocks)


def _once(found: list[tuple[Size, Problem, float]], sizes: int) -> Iterator[Problem]:
    """Each kind of problem at its place once, in its worst size, which is named unless all sizes
    have the same."""
    groups: dict[tuple[object, str], list[tuple[Size, Problem, float]]] = {}
    for entry in found:
        kind = re.sub(r"[\d.,]+", "", entry[1].what)
        groups.setdefault((entry[1].place, kind), []).append(entry)
    for entries in groups.values():
        size, problem, _ = max(entries, key=lambda entry: entry[2])
        if len({entry[1] for entry in entries}) == 1 and len(entries) >= sizes:
            yield problem
        else:
            yield Problem(problem.place, f"{problem.what} (At {size.title}.)", problem.remedy)
