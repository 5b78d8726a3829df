"""States: what is sewn by when, as the facts of the steps say."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from notchbook.composing.solids.assembly import Part, Ply, Solid, assembled, joint_of, lines_of
from notchbook.composing.solids.surface import Place3, placed
from notchbook.drafting.draft import Draft
from notchbook.reading.recipe import Step
from notchbook.reading.walk import all_steps


def seams_sewn(draft: Draft, step: Step) -> list[str]:
    """The seams that a step sews, in its order."""
    return [word.value for word in step.facts.sew if word.value in draft.seams]


def after_step(draft: Draft, step: Step, folded: Collection[str] = ()) -> list[Solid]:
    """What the seams sewn in a step hold together, with all that was sewn before; where it sews
    none, those of the last step before it that does. Empty where that is nothing that stands."""
    sewn: list[str] = []
    last: list[str] = []
    for each in all_steps(draft.recipe):
        names = seams_sewn(draft, each)
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


def before_step(
    draft: Draft, step: Step, ply: Ply, folded: Collection[str] = ()
) -> tuple[Solid, Solid] | None:
    """What a step joins, not yet joined but where it will be: what hangs on a ply by then, and the
    rest. None where the ply is not there or nothing else is."""
    sewn: list[str] = []
    for each in all_steps(draft.recipe):
        if each.id == step.id:
            break
        sewn += seams_sewn(draft, each)
    seams = [draft.seams[name] for name in sewn]
    for solid in after_step(draft, step, folded):
        own = {ply}
        grown = 0
        while grown != len(own):
            grown = len(own)
            for seam in seams:
                joined = {joint_of(name, draft)[0] for side in seam.sides for name in side}
                own |= joined if joined & own else set()
        parts = {part.ply: part for part in solid.parts}
        halves = [
            {name: part for name, part in parts.items() if (name in own) == mine}
            for mine in (True, False)
        ]
        if all(halves):
            one, rest = (_alone(half) for half in halves)
            return (
                Solid(tuple(one.values()), tuple(lines_of(one, seams, draft))),
                Solid(tuple(rest.values()), tuple(lines_of(rest, seams, draft))),
            )
    return None


def _alone(parts: dict[Ply, Part]) -> dict[Ply, Part]:
    """A lining by itself is seen from outside as a shell is."""
    if not all(part.inner for part in parts.values()):
        return parts
    return {ply: replace(part, inner=False) for ply, part in parts.items()}


def turned_over(solid: Solid) -> Solid:
    """A solid upside down, its back still at the back."""
    over = Place3(over=True)
    parts = (
        replace(part, surfaces=tuple(placed(each, over) for each in part.surfaces))
        for part in solid.parts
    )
    lines = (replace(line, points=over.line(line.points)) for line in solid.lines)
    return Solid(tuple(parts), tuple(lines))


def finished(draft: Draft, folded: Collection[str] = ()) -> list[Solid]:
    """The finished thing: the most that hangs together. Empty where nothing of it stands."""
    return assembled(draft, draft.seams, folded)[:1]
