"""Truing of the steps: everything is cut, sewn and used once, and nothing before it is made."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from notchbook.problems import Problem
from notchbook.reading.recipe import GapRule, PieceRule, Recipe, Step, Text
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
        *_closing(steps),
        *_following(recipe, steps),
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


def _closing(steps: Sequence[Step]) -> Iterator[Problem]:
    """What is left open is sewn in the same step, and closed in a later one unless it stays so."""
    open_: dict[str, GapRule] = {}
    closed: dict[str, Step] = {}
    for step in steps:
        for word in step.facts.close:
            if word.value in closed:
                what = f"Seam “{word}” is closed here, and already at {closed[word.value].place}."
                yield Problem(word.place, what, "Name it in one step only.")
            elif word.value not in open_:
                what = f"Seam “{word}” is closed here, and no step before this leaves it open."
                remedy = f"Add “leave: {{{word}: {{length: 7 cm}}}}” to the step that sews it."
                yield Problem(word.place, what, remedy)
            elif open_[word.value].stays:
                what = f"Seam “{word}” is closed here, but its gap “stays”."
                yield Problem(word.place, what, "Delete “stays”, or don't close it.")
            closed[word.value] = step
        for gap in step.facts.leave:
            if gap.seam.value not in [word.value for word in step.facts.sew]:
                what = f"A gap is left in seam “{gap.seam}”, which this step does not sew."
                remedy = f"Add it to “sew: [{gap.seam}]”, or leave it open where it is sewn."
                yield Problem(gap.place, what, remedy)
            open_[gap.seam.value] = gap
    for name, gap in open_.items():
        if name not in closed and not gap.stays:
            what = f"The gap that is left here in seam “{name}” is never closed."
            remedy = f"Add “close: [{name}]” to the step that does, or “stays: yes” to the gap."
            yield Problem(gap.place, what, remedy)


def _following(recipe: Recipe, steps: Sequence[Step]) -> Iterator[Problem]:
    """Every line inside a piece is followed in some step, and none before its piece is cut."""
    cut: set[str] = set()
    followed: set[str] = set()
    cut_somewhere = {word.value.split()[-1] for step in steps for word in step.facts.cut}
    for step in steps:
        cut |= {word.value.split()[-1] for word in step.facts.cut}
        for word in step.facts.lines:
            followed.add(word.value)
            piece = word.value.partition(".")[0]
            if piece in cut_somewhere - cut:
                what = f"Line “{word}” is followed here, before “{piece}” is cut."
                yield Problem(word.place, what, "Move the cutting before this step.")
    for rule in recipe.pieces.values():
        for line in rule.lines.values():
            if f"{rule.name}.{line.name}" not in followed:
                what = f"Line “{line.name}” of piece “{rule.name}” is never followed."
                remedy = f"Add “lines: [{rule.name}.{line.name}]” to the step that does."
                yield Problem(line.place, what, remedy)


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
