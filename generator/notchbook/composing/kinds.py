"""What a plain number means. Angles and percentages are ratios, and formulas treat them alike, but
a reader wants 35° and 3 %, never 0.611 and 0.03: their formulas tell which is which."""

from __future__ import annotations

from typing import Literal

from notchbook.reading.formula import Binary, Call, Minus, Name, Node, Number
from notchbook.reading.recipe import Recipe

Kind = Literal["number", "angle", "percent"]

_ANGLES = ("asin", "acos", "atan", "atan2")
_ALIKE = ("abs", "min", "max", "round_up", "round_down")
"""Functions whose value is of their arguments' kind."""


def kind(tree: Node, recipe: Recipe) -> Kind:
    """What the value of a formula is, where it has no dimension. Names are followed to their
    workings, which draft, so that there is no circle among them."""
    match tree:
        case Number(written=written):
            return "angle" if "deg" in written else "percent" if "%" in written else "number"
        case Name(name=name) if name in recipe.workings:
            return kind(recipe.workings[name].formula.tree, recipe)
        case Name(name=name):
            return "percent" if name.endswith(".shrinkage") else "number"
        case Minus(of=of):
            return kind(of, recipe)
        case Call(function=function) if function in _ANGLES:
            return "angle"
        case Call(function=function, arguments=arguments) if function in _ALIKE:
            return _sum({kind(argument, recipe) for argument in arguments})
        case Binary(operator="+" | "-", left=left, right=right):
            return _sum({kind(left, recipe), kind(right, recipe)})
        case Binary(operator="*" | "/", left=left, right=right):
            first, second = kind(left, recipe), kind(right, recipe)
            turned = tree.operator == "*" and second == "angle"
            return (
                "angle"
                if (first == "angle") != (second == "angle") and (first == "angle" or turned)
                else "number"
            )
        case _:
            return "number"


def _sum(kinds: set[Kind]) -> Kind:
    """Of values added or compared: an angle if any is one, a percentage if all are."""
    if "angle" in kinds:
        return "angle"
    return "percent" if kinds == {"percent"} else "number"
