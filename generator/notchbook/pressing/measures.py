"""Measures given on the command line, as a size of one's own."""

from __future__ import annotations

from notchbook.composing import numbers
from notchbook.composing.setting import Setting
from notchbook.problems import ContentError, Place, Problem, suggestion
from notchbook.reading.formula import Formula, Number, parse
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import Recipe, Size


def own_size(recipe: Recipe, measures: tuple[str, ...], setting: Setting) -> Size:
    """A size of the measures written ``head=57.5cm``; those not named stay at their usual values.

    Raises ContentError with every name nobody knows, name given twice and text that is no
    quantity. Whether a measure is in its range is for drafting to say.
    """
    problems: list[Problem] = []
    given: dict[str, Formula] = {}
    for measure in measures:
        name, _, text = (part.strip() for part in measure.partition("="))
        place = Place(f"--measure {name}", 1, 1)
        if name not in recipe.measures:
            what = f"{recipe.slug} has no measure called “{name}”."
            problems.append(Problem(place, what, suggestion(name, recipe.measures)))
        elif name in given:
            what = f"The measure “{name}” is given twice."
            problems.append(Problem(place, what, "Give it once."))
        else:
            try:
                given[name] = _quantity(text, name)
            except ContentError as error:
                problems += error.problems
    if problems:
        raise ContentError(problems)
    return Size("own", _title(recipe, given, setting), given, recipe.place)


def _quantity(text: str, name: str) -> Formula:
    place = Place(f"--measure {name}", 1, len(name) + 2)
    remedy = f"Write a number and a unit, as in --measure {name}=57.5cm or {name}='5 1/2 in'."
    try:
        formula = parse(text, place)
    except ContentError as error:
        problem = error.problems[0]
        raise ContentError([Problem(problem.place, problem.what, remedy)]) from None
    if not isinstance(formula.tree, Number):
        raise ContentError([Problem(place, f"“{text}” is no quantity.", remedy)])
    return formula


def _title(recipe: Recipe, given: dict[str, Formula], setting: Setting) -> str:
    """What the size is called: its measures, in the order of the recipe."""
    titles = []
    for name, measure in recipe.measures.items():
        tree = given[name].tree if name in given else None
        if isinstance(tree, Number):
            quantity = tree.quantity
            length = quantity.dimension == LENGTH
            pair = numbers.tape(quantity.value) if length else numbers.quantity(quantity)
            value = pair.inch if setting.workshop.units == "inch" else pair.metric
            title = setting.say("size.own.measure", title=measure.title, value=value)
            titles.append(title)
    if not titles:
        return setting.say("size.own.usual")
    return setting.say("size.own", measures=", ".join(titles))
