"""What a shape asks for, read from its own signature, so that no shape is described twice."""

from __future__ import annotations

import inspect
import types
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Literal, Union, get_args, get_origin, get_type_hints

from notchbook.drafting.shape import Shape, Word
from notchbook.drafting.shapes import shapes
from notchbook.problems import ContentError, Place, Problem, suggestion
from notchbook.reading.quantity import RATIO, Dimension
from notchbook.reading.recipe import Entry, PieceRule, Scalar, Table

Value = Callable[[Scalar, Dimension], float]
"""Works out a scalar and checks its dimension; gives mm, radians or a plain number."""


@dataclass(frozen=True, slots=True)
class Parameter:
    """One parameter of a shape: a number of some dimension, a whole number, or a word."""

    kind: Literal["number", "whole", "word"]
    dimension: Dimension
    required: bool


@cache
def signature(shape: Callable[..., Shape]) -> Mapping[str, Parameter]:
    """The parameters of a shape that takes plain values, in the order of its signature."""
    hints = get_type_hints(shape, include_extras=True)
    return {
        name: _parameter(hints[name], parameter.default is inspect.Parameter.empty)
        for name, parameter in inspect.signature(shape).parameters.items()
    }


def _parameter(hint: object, required: bool) -> Parameter:
    if get_origin(hint) in (Union, types.UnionType):
        hint = next(option for option in get_args(hint) if option is not type(None))
    if hint is Word:
        return Parameter("word", RATIO, required)
    if hint is int:
        return Parameter("whole", RATIO, required)
    if get_origin(hint) is Annotated:
        return Parameter("number", get_args(hint)[1], required)
    raise TypeError(f"a shape parameter can't be a {hint}")


def shape_of(rule: PieceRule) -> Callable[..., Shape]:
    """The shape a piece names. Raises ContentError where there is none of that name."""
    known = shapes()
    if rule.shape.value not in known:
        what = f"There is no shape called “{rule.shape}”."
        remedy = suggestion(rule.shape.value, known)
        raise ContentError([Problem(rule.shape.place, what, remedy)])
    return known[rule.shape.value]


def arguments(rule: PieceRule, value: Value) -> dict[str, object]:
    """The keyword arguments a piece's parameters make for its shape.

    Raises ContentError for a parameter that is unknown, missing or of the wrong kind.
    """
    shape = shape_of(rule)
    own_reader = getattr(inspect.getmodule(shape), "read_parameters", None)
    if own_reader is not None:
        found: dict[str, object] = own_reader(rule.parameters, value)
        return found
    wanted = signature(shape)
    problems: list[Problem] = []
    given: dict[str, object] = {}
    for name, entry in rule.parameters.entries.items():
        if name not in wanted:
            what = f"A {rule.shape} has nothing called “{name}”."
            remedy = suggestion(name, wanted)
            problems.append(Problem(rule.parameters.keys[name], what, remedy))
            continue
        try:
            given[name] = _read(name, entry, wanted[name], value)
        except ContentError as error:
            problems.extend(error.problems)
    for name, parameter in wanted.items():
        if parameter.required and name not in rule.parameters.entries:
            what = f"Piece “{rule.name}” is a {rule.shape}, which needs “{name}”."
            problems.append(Problem(rule.place, what, f"Add “{name}:” below the piece."))
    if problems:
        raise ContentError(problems)
    return given


def _read(name: str, entry: Entry, parameter: Parameter, value: Value) -> float | int | str:
    if not isinstance(entry, Scalar):
        kind = "a mapping" if isinstance(entry, Table) else "a list"
        what = f"“{name}” is one value; here stands {kind}."
        raise ContentError([Problem(entry.place, what, "Write a single value.")])
    if parameter.kind == "word":
        return entry.text
    number = value(entry, parameter.dimension)
    if parameter.kind == "number":
        return number
    if abs(number - round(number)) > 1e-9:
        what = f"“{name}” is {number:g}, which is no whole number."
        raise ContentError([Problem(entry.place, what, "Write a whole number.")])
    return round(number)


def place_of(rule: PieceRule, parameter: str) -> Place:
    """Where a parameter stands in the recipe; the piece's own place where it does not."""
    entry = rule.parameters.entries.get(parameter)
    return entry.place if entry is not None else rule.place
