"""Openings: what a step leaves of a seam unsewn, and which step closes it."""

from __future__ import annotations

from notchbook.drafting.draft import Opening, Seam
from notchbook.drafting.limits import mm
from notchbook.drafting.lines import WorkOut, along
from notchbook.drafting.sides import meetings
from notchbook.problems import fault
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import GapRule, Recipe, Step
from notchbook.reading.walk import all_steps

LEAST = 5.0
"""A gap shorter than this, mm, is none."""


def opening_of(gap: GapRule, step: Step, seam: Seam, recipe: Recipe, work_out: WorkOut) -> Opening:
    """A gap on the first side of its seam, round its start or middle where nothing else is said.
    Raises ContentError where the seam has no room for it."""
    whole = seam.lengths[0]
    length = work_out(gap.length, LENGTH).value
    if not LEAST <= length < whole:
        what = f"A gap of {mm(length)} is left in seam “{seam.name}”, which is {mm(whole)} long."
        raise fault(gap.length.place, what, f"Make it {mm(LEAST)} or more, and shorter than that.")
    middle = 0.0 if seam.round else whole / 2
    if gap.at is not None:
        middle = along(gap.at, whole, f"seam “{seam.name}”", work_out)
    start, end = middle - length / 2, middle + length / 2
    if seam.round:
        start, end = start % whole, end % whole
    elif start < 0 or end > whole:
        what = (
            f"The gap in seam “{seam.name}” would run from {mm(start)} to {mm(end)}, and the seam "
            f"is {mm(whole)} long."
        )
        place = gap.at.place if gap.at else gap.place
        raise fault(place, what, "Move it inwards with “at”, or make it shorter.")

    def off(share: float) -> float:
        away = abs(share * whole - middle)
        return min(away, whole - away) if seam.round else away

    asked = recipe.seams[seam.name].notches
    inside = [
        each for each in meetings(seam.laid, asked, seam.round) if off(each.share) < length / 2
    ]
    notch = min(inside, key=lambda each: off(each.share)).number if inside else None
    closing = (
        each.id
        for each in all_steps(recipe)
        for word in each.facts.close
        if word.value == seam.name
    )
    return Opening(seam.name, start, end, length, notch, step.id, next(closing, None))
