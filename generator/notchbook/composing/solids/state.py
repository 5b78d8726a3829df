"""States: what is sewn by when, as the facts of the steps say."""

from __future__ import annotations

from collections.abc import Collection

from notchbook.composing.solids.assembly import Solid, assembled, joint_of
from notchbook.drafting.draft import Draft
from notchbook.reading.recipe import Step
from notchbook.reading.walk import all_steps


def after_step(draft: Draft, step: Step, folded: Collection[str] = ()) -> list[Solid]:
    """What the seams sewn in a step hold together, with all that was sewn before; where it sews
    none, those of the last step before it that does. Empty where that is nothing that stands."""
    sewn: list[str] = []
    last: list[str] = []
    for each in all_steps(draft.recipe):
        names = [word.value for word in each.facts.sew if word.value in draft.seams]
        sewn += names
        last = names or last
        if each.id == step.id:
            break
    touched = {
        joint_of(name, draft)[0]
        for seam in last
        for side in draft.seams[seam].sides
        for name in side
    }
    return [
        solid
        for solid in assembled(draft, sewn, folded)
        if any(part.ply in touched for part in solid.parts)
    ]


def finished(draft: Draft, folded: Collection[str] = ()) -> list[Solid]:
    """The finished thing: the most that hangs together. Empty where nothing of it stands."""
    return assembled(draft, draft.seams, folded)[:1]
