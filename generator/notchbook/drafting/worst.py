"""The set of measures and choices in which a seam's sides miss each other most."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.drafting.joins import SEAM_MISS
from notchbook.drafting.sets import visited
from notchbook.problems import ContentError, fault, suggestion
from notchbook.reading.choosing import choose, option_sets
from notchbook.reading.recipe import Recipe, Size


def worst_draft(recipe: Recipe, seam: str) -> Draft:
    """The draft with the worst miss of a seam among all sets that truing visits; where it meets in
    all of them, the usual one: the first set of choices that has the seam, at the usual measures.
    Raises ContentError where there is no such seam, or no set can be drafted."""
    if seam not in recipe.seams:
        what = f"There is no seam “{seam}” in this recipe."
        raise fault(recipe.place, what, suggestion(seam, recipe.seams))
    settled = [choose(recipe, chosen) for chosen in option_sets(recipe)]
    settled = [each for each in settled if seam in each.seams]
    usual = draft(settled[0], Size("usual", "usual", {}, recipe.place))
    worst = max(_drafts(settled), key=lambda made: made.seams[seam].miss, default=usual)
    return worst if worst.seams[seam].miss > SEAM_MISS else usual


def _drafts(settled: list[Recipe]) -> Iterator[Draft]:
    """Every draft there is; truing tells of those that can't be made."""
    for recipe in settled:
        for size in visited(recipe):
            with suppress(ContentError):
                yield draft(recipe, size)
