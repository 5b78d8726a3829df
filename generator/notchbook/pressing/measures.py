"""Measures, choices and papers given on the command line."""

from __future__ import annotations

from collections.abc import Mapping

from notchbook.composing import numbers
from notchbook.composing.setting import Setting
from notchbook.problems import ContentError, Place, Problem, fault, suggestion
from notchbook.reading.choosing import choose, told
from notchbook.reading.fields import constant
from notchbook.reading.formula import Formula, Number, parse
from notchbook.reading.quantity import RATIO, UNITS
from notchbook.reading.recipe import Measure, Recipe, Size
from notchbook.reading.workshop import KNOWN_PAPERS


def own_papers(names: tuple[str, ...]) -> tuple[str, ...]:
    """The papers to make sheets for. Raises ContentError with every name nobody knows."""
    problems = [
        Problem(
            Place(f"--paper {name}"),
            f"There is no paper called “{name}”.",
            suggestion(name, KNOWN_PAPERS),
        )
        for name in names
        if name not in KNOWN_PAPERS
    ]
    if problems:
        raise ContentError(problems)
    return tuple(dict.fromkeys(names))


def own_choices(recipe: Recipe, choices: tuple[str, ...]) -> Mapping[str, str]:
    """The choices written ``opening=round``; those not named stay as usual.

    Raises ContentError with every name nobody knows and every choice made twice.
    """
    problems: list[Problem] = []
    chosen: dict[str, str] = {}
    for given in choices:
        name, _, option = (" ".join(part.split()) for part in given.partition("="))
        place = Place(f"--choice {given}")
        choice = recipe.choices.get(name)
        if choice is None:
            what = f"{recipe.slug} has no choice called “{name}”."
            remedy = suggestion(name, recipe.choices)
            if not recipe.choices:
                remedy = "It leaves nothing to choose: say it again without --choice."
            if name in recipe.measures:
                remedy = f"“{name}” is a measure: write --measure {given}."
            problems.append(Problem(place, what, remedy))
        elif option not in choice.options:
            what = f"“{name}” can't be “{option}”."
            problems.append(Problem(place, what, suggestion(option, choice.options)))
        elif name in chosen:
            what = f"The choice “{name}” is made twice."
            problems.append(Problem(place, what, "Make it once."))
        else:
            chosen[name] = option
    if problems:
        raise ContentError(problems)
    return chosen


def own_size(
    whole: Recipe, measures: tuple[str, ...], setting: Setting, chosen: Mapping[str, str]
) -> Size:
    """A size of the measures written ``head=57.5cm``; those not named stay at their usual values.
    Its choices settle which measures there are.

    Raises ContentError with every name nobody knows, name given twice and text that is no
    quantity with a unit. Whether a measure is in its range is for drafting to say.
    """
    recipe = choose(whole, chosen)
    problems: list[Problem] = []
    given: dict[str, Formula] = {}
    for measure in measures:
        name, _, text = (" ".join(part.split()) for part in measure.partition("="))
        place = Place(f"--measure {measure}")
        if name not in recipe.measures:
            what = f"{recipe.slug} has no measure called “{name}”."
            remedy = suggestion(name, recipe.measures)
            if name in whole.measures:
                what = f"“{name}” is not asked for with these choices."
                remedy = f"It is when {told(whole.measures[name].when)}: see --choice."
            elif name in whole.choices:
                remedy = f"“{name}” is a choice: write --choice {measure}."
            problems.append(Problem(place, what, remedy))
        elif name in given:
            what = f"The measure “{name}” is given twice."
            problems.append(Problem(place, what, "Give it once."))
        else:
            try:
                given[name] = _quantity(text, recipe.measures[name], place)
            except ContentError as error:
                problems += error.problems
    if problems:
        raise ContentError(problems)
    return Size("own", _title(recipe, given, setting), given, recipe.place)


def _quantity(text: str, measure: Measure, place: Place) -> Formula:
    name = measure.name
    remedy = f"Write a number and a unit, as in {name}=57.5cm or {name}='5 1/2 in'."
    try:
        formula = parse(text, place)
    except ContentError as error:
        raise fault(place, error.problems[0].what, remedy) from None
    if not isinstance(formula.tree, Number):
        raise fault(place, f"“{text}” is no quantity.", remedy)
    if formula.tree.quantity.dimension == RATIO and text[-1].isnumeric():
        fit = [unit for unit in ("mm", "cm", "in") if _fits(formula.tree, unit, measure)]
        written = " or ".join(f"{name}={text}{unit}" for unit in fit or ("cm", "in"))
        raise fault(place, f"“{text}” has no unit.", f"Write it: {written}.")
    return formula


def _fits(number: Number, unit: str, measure: Measure) -> bool:
    """Whether a bare number in this unit would be in the measure's range, as far as is known."""
    low, high = constant(measure.low), constant(measure.high)
    value = number.quantity.value * UNITS[unit].value
    return low is not None and high is not None and low.value <= value <= high.value


def _title(recipe: Recipe, given: dict[str, Formula], setting: Setting) -> str:
    """What the size is called: its measures, in the order of the recipe."""
    titles = []
    for name, measure in recipe.measures.items():
        tree = given[name].tree if name in given else None
        if isinstance(tree, Number):
            pair = numbers.tape(tree.quantity.value)
            value = pair.inch if setting.workshop.units == "inch" else pair.metric
            titles.append(setting.say("size.own.measure", title=measure.title, value=value))
    if not titles:
        return setting.say("size.own.usual")
    return setting.say("size.own", measures=", ".join(titles))
