"""Truing of the steps: everything is cut, sewn and used once, and nothing before it is made."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from notchbook.problems import Problem
from notchbook.reading.recipe import PieceRule, Recipe, Step, Text
from notchbook.reading.walk import all_steps

Ply = tuple[str, str]
"""A piece and a cloth it is cut from."""


def check_steps(recipe: Recipe) -> tuple[Problem, ...]:
    """What the steps leave out, do twice, or do too early."""
    steps = tuple(all_steps(recipe))
    return (
        *_laying(recipe),
        *_cutting(recipe, steps),
        *_sewing(recipe, steps),
        *_using(recipe, steps),
        *_caring(recipe, steps),
    )


def plies(rule: PieceRule) -> frozenset[Ply]:
    """A piece with each cloth it is cut from."""
    return frozenset((rule.name, cut.cloth) for cut in rule.cut)


def _named(recipe: Recipe, word: Text) -> frozenset[Ply]:
    """What ``shell brim`` or ``brim`` in a step means."""
    *cloth, piece = word.value.split()
    whole = plies(recipe.pieces[piece])
    return whole if not cloth else frozenset(ply for ply in whole if ply[1] == cloth[0])


def _laying(recipe: Recipe) -> Iterator[Problem]:
    used = {cut.cloth for rule in recipe.pieces.values() for cut in rule.cut}
    for cloth in recipe.cloths.values():
        if cloth.name not in used:
            what = f"No piece is cut from the cloth “{cloth.name}”."
            yield Problem(cloth.place, what, "Cut a piece from it, or delete it.")


def _cutting(recipe: Recipe, steps: Sequence[Step]) -> Iterator[Problem]:
    done: dict[Ply, Step] = {}
    for step in steps:
        for word in step.facts.cut:
            named = _named(recipe, word)
            again = sorted(ply for ply in named if ply in done)
            if again:
                what = f"“{word}” is cut here, and already at {done[again[0]].place}."
                yield Problem(word.place, what, "Name it in one step only.")
            done.update(dict.fromkeys(named, step))
    for rule in recipe.pieces.values():
        missing = sorted(cloth for ply, cloth in plies(rule) if (ply, cloth) not in done)
        if missing:
            what = f"Piece “{rule.name}” is never cut from {' or '.join(missing)}."
            remedy = f"Add “cut: [{missing[0]} {rule.name}]” to the step that cuts it."
            yield Problem(rule.place, what, remedy)


def _sewing(recipe: Recipe, steps: Sequence[Step]) -> Iterator[Problem]:
    cut: set[Ply] = set()
    sewn: dict[str, Step] = {}
    cut_somewhere = {
        ply for step in steps for word in step.facts.cut for ply in _named(recipe, word)
    }
    for step in steps:
        for word in step.facts.cut:
            cut |= _named(recipe, word)
        for word in step.facts.sew:
            if word.value in sewn:
                what = f"Seam “{word}” is sewn here, and already at {sewn[word.value].place}."
                yield Problem(word.place, what, "Name it in one step only.")
            sewn[word.value] = step
            early = sorted(
                name.piece
                for side in recipe.seams[word.value].sides
                for name in side
                for ply in plies(recipe.pieces[name.piece])
                if name.cloth in (None, ply[1]) and ply in cut_somewhere and ply not in cut
            )
            if early:
                what = f"Seam “{word}” is sewn here, before “{early[0]}” is cut."
                yield Problem(word.place, what, "Move the cutting before this step.")
    for rule in recipe.seams.values():
        if rule.name not in sewn:
            what = f"Seam “{rule.name}” is never sewn."
            remedy = f"Add “sew: [{rule.name}]” to the step that sews it."
            yield Problem(rule.place, what, remedy)


def _using(recipe: Recipe, steps: Sequence[Step]) -> Iterator[Problem]:
    used: dict[str, Step] = {}
    for step in steps:
        for word in step.facts.use:
            notion = recipe.notions.get(word.value)
            if notion and not notion.often and word.value in used:
                what = f"“{word}” is used here, and already at {used[word.value].place}."
                remedy = "Name it in one step only, or write “used: often” below the notion."
                yield Problem(word.place, what, remedy)
            used[word.value] = step
    for notion in recipe.notions.values():
        if notion.name not in used:
            what = f"Notion “{notion.name}” is never used."
            remedy = f"Add “use: [{notion.name}]” to the step that uses it."
            yield Problem(notion.place, what, remedy)


def _caring(recipe: Recipe, steps: Sequence[Step]) -> Iterator[Problem]:
    placed = {word.value for step in steps for word in step.facts.care}
    for word in recipe.care:
        if word.value not in placed:
            what = f"The caution “{word}” is never placed at a step."
            remedy = f"Add “care: [{word}]” to the step where it applies."
            yield Problem(word.place, what, remedy)
