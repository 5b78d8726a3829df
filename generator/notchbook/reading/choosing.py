"""Choosing: from a recipe with choices to the one recipe that a reader of one set works by."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import product
from math import prod
from typing import Protocol, TypeVar

from notchbook.problems import Findings, Place
from notchbook.reading.formula import Geometry, references
from notchbook.reading.names import all_formulas
from notchbook.reading.recipe import (
    FigureRule,
    Measure,
    PieceRule,
    Prose,
    Recipe,
    Size,
    Stage,
    Step,
    When,
    Working,
)
from notchbook.reading.sizes import is_usual
from notchbook.reading.walk import all_blocks, all_steps

MOST_SETS = 32
"""With more sets of options than this, each option is visited at least once instead."""

Chosen = Mapping[str, str]
"""Choices by name, and the option of each."""


class _Optional(Protocol):
    @property
    def when(self) -> When: ...


T = TypeVar("T", bound=_Optional)


def choose(recipe: Recipe, chosen: Chosen) -> Recipe:
    """The recipe with its choices settled as ``chosen`` says, and as usual where it is silent.

    What is not chosen is gone from it, with cloths and cautions that nothing else needs and stages
    left without a step; what goes by a choice has its plain formula. Steps are numbered anew and
    keep their ids. A recipe without choices, or with all settled, stays as it is.
    """
    if not recipe.choices or recipe.chosen:
        return recipe
    settled = {name: chosen.get(name, each.usual) for name, each in recipe.choices.items()}

    def there(each: _Optional) -> bool:
        return _holds(each.when, settled)

    def kept(named: Mapping[str, T]) -> dict[str, T]:
        return {name: each for name, each in named.items() if there(each)}

    measures = kept(recipe.measures)
    pieces = {
        name: replace(piece, lines=kept(piece.lines)) for name, piece in kept(recipe.pieces).items()
    }
    stages = tuple(
        left for stage in recipe.stages if (left := _stage(stage, there)).steps or not stage.steps
    )
    gone_cloths = _cloths(recipe.pieces) - _cloths(pieces)
    gone_care = _cautions(recipe.stages) - _cautions(stages)
    return replace(
        recipe,
        measures=measures,
        sizes=_sizes(recipe, settled, measures),
        limits=tuple(limit for limit in recipe.limits if there(limit)),
        cloths={name: each for name, each in recipe.cloths.items() if name not in gone_cloths},
        workings={name: _plain(each, settled) for name, each in recipe.workings.items()},
        pieces=pieces,
        seams=kept(recipe.seams),
        notions=kept(recipe.notions),
        care=tuple(word for word in recipe.care if word.value not in gone_care),
        opening=_left(recipe.opening, there),
        stages=stages,
        chosen=settled,
    )


def published(recipe: Recipe) -> tuple[Recipe, ...]:
    """A recipe as it is published: once for each set of its choices, or as it is."""
    if recipe.chosen or not recipe.choices:
        return (recipe,)
    return tuple(choose(recipe, each.chosen) for each in recipe.sets)


def option_sets(recipe: Recipe) -> tuple[Chosen, ...]:
    """The sets of options to be trued, those published first: all there are or, where they are too
    many, some that name every option. One empty set for a recipe without choices."""
    options = {name: tuple(choice.options) for name, choice in recipe.choices.items()}
    found = [each.chosen for each in recipe.sets]
    if prod(map(len, options.values())) <= MOST_SETS:
        rows = list(product(*options.values()))
    else:
        most = max(map(len, options.values()))
        rows = [tuple(o[k % len(o)] for o in options.values()) for k in range(most)]
    every = [*found, *(dict(zip(options, row, strict=True)) for row in rows)]
    return tuple(each for k, each in enumerate(every) if each not in every[:k])


def within(recipe: Recipe, chosen: Chosen) -> str:
    """Which set something is found in, as it goes on in a sentence: ``in the set round``, or
    ``with opening: round``. Nothing for a recipe without choices."""
    if not recipe.choices:
        return ""
    for each in recipe.sets:
        if each.chosen == chosen:
            return f"in the set {each.id}"
    return f"with {', '.join(f'{name}: {option}' for name, option in chosen.items())}"


def chosen_title(recipe: Recipe) -> str:
    """What readers call the set a recipe is settled as: the titles of its options."""
    titles = (recipe.choices[name].options[option] for name, option in recipe.chosen.items())
    return ", ".join(map(str, titles))


def check(recipe: Recipe, findings: Findings) -> None:
    """Reports what is left naming something that one set of choices leaves out, and choices that
    change nothing."""
    for name, choice in recipe.choices.items():
        if name not in _used(recipe):
            what = f"Nothing depends on the choice “{name}”."
            remedy = f"Use it in a “when” or in a working with “by: {name}”, or delete it."
            findings.add(choice.place, what, remedy)
    said: set[Place] = set()
    for chosen in option_sets(recipe) if recipe.choices else ():
        settled, where = choose(recipe, chosen), within(recipe, chosen)
        left_over = (_seams, _formulas, _steps)
        for place, what, remedy in (fault for look in left_over for fault in look(recipe, settled)):
            if place not in said:
                said.add(place)
                findings.add(place, f"{where[0].upper()}{where[1:]}, {what}", remedy)


_Fault = tuple[Place, str, str]
"""Where something that is gone is named, what is wrong, and what to do."""


def _seams(recipe: Recipe, settled: Recipe) -> Iterator[_Fault]:
    for seam in settled.seams.values():
        edges = [edge for side in seam.sides for edge in side if edge.piece not in settled.pieces]
        if edges:
            piece = recipe.pieces[edges[0].piece]
            yield (
                edges[0].place,
                f"seam “{seam.name}” has no partner: “{piece.name}” is only there when "
                f"{told(piece.when)}.",
                f"Give the seam {_written(piece.when)} too.",
            )


def _formulas(recipe: Recipe, settled: Recipe) -> Iterator[_Fault]:
    for formula in all_formulas(settled):
        for node in references(formula.tree):
            if isinstance(node, Geometry):
                kind, name, gone = "piece", node.piece, node.piece not in settled.pieces
                when = recipe.pieces[name].when
            elif "." in node.name:
                cloth = node.name.partition(".")[0]
                if cloth not in settled.cloths:
                    what = f"this needs cloth “{cloth}”, and no piece is cut from it."
                    yield node.place, what, "Put it into a working that goes “by” the choice."
                continue
            else:
                kind, name, gone = "measure", node.name, node.name not in settled.measures
                when = recipe.measures[name].when if name in recipe.measures else ()
            if gone and when:
                what = f"this needs {kind} “{name}”, which is only there when {told(when)}."
                remedy = f"Let this depend on it too: {_written(when)}, or a working “by” it."
                yield node.place, what, remedy


def _steps(recipe: Recipe, settled: Recipe) -> Iterator[_Fault]:
    pieces = _gone(recipe.pieces, settled.pieces)
    seams, notions = _gone(recipe.seams, settled.seams), _gone(recipe.notions, settled.notions)
    lines = {
        f"{name}.{line}": when
        for name, piece in settled.pieces.items()
        for line, when in _gone(recipe.pieces[name].lines, piece.lines).items()
    }
    for step in all_steps(settled):
        facts = step.facts
        named = [(word.value.rpartition(" ")[2], word.place, pieces) for word in facts.cut]
        named += [(word.value, word.place, seams) for word in (*facts.sew, *facts.close)]
        named += [(gap.seam.value, gap.seam.place, seams) for gap in facts.leave]
        named += [(word.value.partition(".")[0], word.place, pieces) for word in facts.lines]
        named += [(word.value, word.place, lines) for word in facts.lines]
        named += [(word.value, word.place, notions) for word in facts.use]
        named += [(edge.piece, edge.place, pieces) for edge in facts.clip]
        for name, at, whens in named:
            if name in whens:
                what = f"“{name}” is not there; it is when {told(whens[name])}."
                remedy = f"Give the step {_written(whens[name])}, or name it in another one."
                yield at, what, remedy


def _gone(whole: Mapping[str, T], left: Mapping[str, T]) -> dict[str, When]:
    """When what is not left would be there."""
    return {name: each.when for name, each in whole.items() if name not in left}


def _used(recipe: Recipe) -> set[str]:
    """The choices something depends on."""
    optional: list[_Optional] = [*recipe.measures.values(), *recipe.pieces.values()]
    optional += [*recipe.seams.values(), *recipe.notions.values(), *recipe.limits]
    optional += [line for piece in recipe.pieces.values() for line in piece.lines.values()]
    optional += [*all_steps(recipe), *all_blocks(recipe)]
    conditions = {condition.choice.value for each in optional for condition in each.when}
    return conditions | {each.by.choice.value for each in recipe.workings.values() if each.by}


def _holds(when: When, settled: Chosen) -> bool:
    return all(settled[each.choice.value] in map(str, each.options) for each in when)


def _stage(stage: Stage, there: Callable[[_Optional], bool]) -> Stage:
    """A stage without the steps and figures that are not chosen, its steps numbered anew."""
    blocks: list[Prose | FigureRule | Step] = []
    number = 0
    for block in _left(stage.blocks, there):
        if isinstance(block, Step):
            number += 1
            block = replace(block, number=number, blocks=_left(block.blocks, there))
        blocks.append(block)
    return replace(stage, blocks=tuple(blocks))


B = TypeVar("B", bound=Prose | FigureRule | Step)


def _left(blocks: Sequence[B], there: Callable[[_Optional], bool]) -> tuple[B, ...]:
    """The blocks that are chosen. Prose goes on with the prose before it where no blank line parts
    them, nor one of them from what stood between and is gone: rows of one table stay one."""
    left: list[B] = []
    linked = False
    for block in blocks:
        if not isinstance(block, Prose):
            left += [block] * there(block)
            linked = False
            continue
        goes_on = block.joined and linked
        before = left[-1] if goes_on else None
        if not there(block):
            linked = goes_on
        elif isinstance(before, Prose):
            left[-1] = replace(before, parts=(*before.parts, "\n", *block.parts))
        else:
            left.append(block)
            linked = True
    return tuple(left)


def _plain(working: Working, settled: Chosen) -> Working:
    if working.by is None:
        return working
    option = settled[working.by.choice.value]
    return replace(working, formula=working.by.formulas[option], by=None)


def _sizes(recipe: Recipe, settled: Chosen, measures: Mapping[str, Measure]) -> tuple[Size, ...]:
    """The sizes a set is published in, each without the measures that are not asked for."""
    listed = next((each.sizes for each in recipe.sets if each.chosen == settled), None)
    return tuple(
        replace(size, measures={k: v for k, v in size.measures.items() if k in measures})
        for size in recipe.sizes
        if listed is None or size.id in listed or is_usual(size, recipe.measures)
    )


def _cloths(pieces: Mapping[str, PieceRule]) -> set[str]:
    return {cut.cloth for piece in pieces.values() for cut in piece.cut}


def _cautions(stages: tuple[Stage, ...]) -> set[str]:
    return {word.value for stage in stages for step in stage.steps for word in step.facts.care}


def told(when: When) -> str:
    """Conditions in a sentence: ``opening is oval or long, and edge is wired``."""
    return ", and ".join(f"{each.choice} is {' or '.join(map(str, each.options))}" for each in when)


def _written(when: When) -> str:
    """Conditions as an author writes them: ``when: {opening: [oval, long]}``."""
    asked = (
        f"{each.choice}: {each.options[0]}"
        if len(each.options) == 1
        else f"{each.choice}: [{', '.join(map(str, each.options))}]"
        for each in when
    )
    return f"“when: {{{', '.join(asked)}}}”"
