"""What a shape asks for, read from its own signature, so that no shape is described twice."""

from __future__ import annotations

import inspect
import types
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Literal, Union, get_args, get_origin, get_type_hints

from notchbook.drafting.shape import EdgesOf, Flat, Other, Shape, Word
from notchbook.drafting.shapes import shapes
from notchbook.problems import ContentError, Place, Problem, fault, nearest, suggestion
from notchbook.reading.quantity import LENGTH, RATIO, Dimension
from notchbook.reading.recipe import Entry, PieceRule, Scalar, Series, Table

Value = Callable[[Scalar, Dimension], float]
"""Works out a scalar and checks its dimension; gives mm, radians or a plain number."""

FlatOf = Callable[[str, Place], Flat]
"""The flat piece of another piece, by its name; the place is where it is named."""

Reader = Callable[[str, Entry, Value], object]
"""Reads a parameter with structure, by its name: ``Annotated[…, reader]``."""


@dataclass(frozen=True, slots=True)
class Parameter:
    """One parameter of a shape: a number of some dimension, a whole number, a word, another piece
    or edges of one, or what its own reader makes of it."""

    kind: Literal["number", "whole", "word", "piece", "edges", "own"]
    dimension: Dimension
    required: bool
    reader: Reader | None = None


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
    if hint is Other:
        return Parameter("piece", RATIO, required)
    if hint is EdgesOf:
        return Parameter("edges", RATIO, required)
    if hint is int:
        return Parameter("whole", RATIO, required)
    if get_origin(hint) is Annotated:
        what = get_args(hint)[1]
        if callable(what):
            return Parameter("own", RATIO, required, what)
        return Parameter("number", what, required)
    raise TypeError(f"a shape parameter can't be a {hint}")


def shape_of(rule: PieceRule) -> Callable[..., Shape]:
    """The shape a piece names. Raises ContentError where there is none of that name."""
    known = shapes()
    if rule.shape.value not in known:
        what = f"There is no shape called “{rule.shape}”."
        remedy = suggestion(rule.shape.value, known)
        raise fault(rule.shape.place, what, remedy)
    return known[rule.shape.value]


def arguments(rule: PieceRule, value: Value, flat_of: FlatOf) -> dict[str, object]:
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
            given[name] = _read(name, entry, wanted[name], value, flat_of)
        except ContentError as error:
            problems.extend(error.problems)
    entries = rule.parameters.entries
    named = {name if name in wanted else nearest(name, wanted) for name in entries}
    for name, parameter in wanted.items():
        if parameter.required and name not in named:
            what = f"Piece “{rule.name}” is a {rule.shape}, which needs “{name}”."
            problems.append(Problem(rule.place, what, f"Add “{name}:” below the piece."))
    if problems:
        raise ContentError(problems)
    return given


def _read(name: str, entry: Entry, parameter: Parameter, value: Value, flat_of: FlatOf) -> object:
    if parameter.reader is not None:
        return parameter.reader(name, entry, value)
    if parameter.kind == "edges":
        return _edges(name, entry, flat_of)
    if not isinstance(entry, Scalar):
        kind = "a mapping" if isinstance(entry, Table) else "a list"
        what = f"“{name}” is one value; here stands {kind}."
        raise fault(entry.place, what, "Write a single value.")
    if parameter.kind == "word":
        return entry.text
    if parameter.kind == "piece":
        return Other(entry.text, flat_of(entry.text, entry.place))
    number = value(entry, parameter.dimension)
    if parameter.kind == "number":
        return number
    if abs(number - round(number)) > 1e-9:
        what = f"“{name}” is {number:g}, which is no whole number."
        raise fault(entry.place, what, "Write a whole number.")
    return round(number)


def _edges(name: str, entry: Entry, flat_of: FlatOf) -> EdgesOf:
    """``cape.hem``, or a list of edges of one piece."""
    entries = entry.entries if isinstance(entry, Series) else (entry,)
    named: list[tuple[str, str, Place]] = []
    for each in entries:
        piece, dot, edge = each.text.partition(".") if isinstance(each, Scalar) else ("", "", "")
        if not (piece and dot and edge):
            what = f"“{name}” takes edges of a piece."
            remedy = "Write piece.edge, or a list: [cape.front, cape.hem]."
            raise fault(each.place, what, remedy)
        named.append((piece, edge, each.place))
    if not named:
        what = f"“{name}” names no edge."
        raise fault(entry.place, what, "Write one, as in cape.hem.")
    first = named[0][0]
    flat = flat_of(first, named[0][2])
    for piece, edge, place in named:
        if piece != first:
            what = f"“{name}” names edges of “{first}” and of “{piece}”."
            raise fault(place, what, "Name edges of one piece.")
        if edge not in flat.edges:
            what = f"Piece “{piece}” has no edge called “{edge}”."
            raise fault(place, what, suggestion(edge, flat.edges))
    return EdgesOf(Other(first, flat), tuple(edge for _, edge, _ in named))


def by_edge(name: str, entry: Entry, value: Value) -> Mapping[str, float]:
    """A reader for a length that holds for every edge (under the key ``""``) or one for each edge
    that is named, mm."""
    if isinstance(entry, Table):
        found: dict[str, float] = {}
        for edge, each in entry.entries.items():
            if not isinstance(each, Scalar):
                what = f"“{edge}” is one length."
                raise fault(each.place, what, "Write one, as in 2 mm.")
            found[edge] = value(each, LENGTH)
        return found
    if isinstance(entry, Scalar):
        return {"": value(entry, LENGTH)}
    what = f"“{name}” is one length, or one for each edge."
    raise fault(entry.place, what, "Write 2 mm, or {left: 2 mm, right: 2 mm}.")


def place_of(rule: PieceRule, parameter: str) -> Place:
    """Where a parameter stands in the recipe; the piece's own place where it does not."""
    entry = rule.parameters.entries.get(parameter)
    return entry.place if entry is not None else rule.place
