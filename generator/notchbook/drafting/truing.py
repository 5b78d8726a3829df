"""Truing: whether everything that must meet does meet, in every published size, at every corner of
the ranges and at sets scattered between, with every set of choices, measured on the constructed
outlines."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from notchbook.drafting.allowance import too_close
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft, evaluate_in
from notchbook.drafting.geometry.crossing import crosses_itself
from notchbook.drafting.joins import check_joins
from notchbook.drafting.packing.cloth import too_wide
from notchbook.drafting.sets import visited
from notchbook.drafting.steps import check_steps
from notchbook.problems import ContentError, Place, Problem
from notchbook.reading.choosing import choose, option_sets, within
from notchbook.reading.recipe import Recipe
from notchbook.reading.walk import all_inlines

_Visit = tuple[str, str, str]
"""Where something was found: the set of choices in words, the size's title and its id."""

_Found = tuple[_Visit, Problem, float]


def true(recipe: Recipe) -> tuple[Problem, ...]:
    """Everything that is wrong with a recipe for any set of choices and measures, each thing once,
    with the set that is worst and how many sets have it."""
    found: list[_Found] = []
    untold: dict[Problem, list[str]] = {}
    visits = 0
    sets = option_sets(recipe)
    for chosen in sets:
        settled, where = choose(recipe, chosen), within(recipe, chosen)
        for problem in check_steps(settled):
            untold.setdefault(problem, []).append(where)
        for size in visited(settled):
            visits += 1
            visit = where, size.title, size.id
            try:
                made = draft(settled, size)
            except ContentError as error:
                found.extend((visit, problem, 0.0) for problem in error.problems)
            else:
                found.extend((visit, problem, weight) for problem, weight in check(made))
    steps = (_in_sets(problem, where, len(sets)) for problem, where in untold.items())
    return tuple(sorted({*steps, *_once(found, visits)}))


def check(made: Draft) -> Iterator[tuple[Problem, float]]:
    """What is wrong with one draft, each problem with a weight: the heavier, the worse."""
    recipe = made.recipe
    yield from check_joins(made)
    for wide in too_wide(made):
        yield wide.problem(recipe), wide.by
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
    for inline in all_inlines(recipe):
        try:
            evaluate_in(made, inline.formula)
        except ContentError as error:
            for problem in error.problems:
                yield problem, 0.0


def _in_sets(problem: Problem, where: list[str], sets: int) -> Problem:
    """A problem of some sets of choices, with the first of them; as it is where all have it."""
    if len(where) == sets:
        return problem
    return replace(problem, what=f"{problem.what} ({where[0][0].upper()}{where[0][1:]}.)")


def _once(found: list[_Found], sets: int) -> Iterator[Problem]:
    """Each kind of problem at its place once, with the set it is worst in and how many sets have
    it, unless all have the same."""
    groups: dict[tuple[Place, str], list[_Found]] = {}
    for entry in found:
        kind = re.sub(r"[\d.,]+", "", entry[1].what)
        groups.setdefault((entry[1].place, kind), []).append(entry)
    for entries in groups.values():
        (where, size, _), problem, weight = max(entries, key=lambda entry: entry[2])
        having = len({entry[0] for entry in entries})
        if len({entry[1] for entry in entries}) == 1 and having == sets:
            yield problem
            continue
        which = f"At {size}, {where}" if where else f"At {size}"
        if having > 1:
            worst = ", where it is worst" if weight else ""
            share = f"{having} of the" if having < sets else "all"
            which += f"{worst}; wrong in {share} {sets} sets of measures"
        yield Problem(problem.place, f"{problem.what} ({which}.)", problem.remedy)
