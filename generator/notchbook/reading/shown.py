"""Formulas and their values as text, as an author would write them."""

from __future__ import annotations

from decimal import Decimal

from notchbook.reading.formula import Binary, Call, Geometry, Minus, Name, Node, Number
from notchbook.reading.quantity import (
    AREA,
    LENGTH,
    MASS,
    TIME,
    VOLUME,
    Dimension,
    Quantity,
)

_BINDS = {"or": 1, "and": 2, "+": 4, "-": 4, "*": 5, "/": 5, "^": 7}
_COMPARES = 3
_SIGNED = 6
_UNITS = {LENGTH: " mm", AREA: " mm²", VOLUME: " l", MASS: " g", TIME: " h"}


def show(node: Node) -> str:
    """A tree as a formula with no more parentheses than it needs, its numbers as they were
    written. ``parse`` gives the tree back."""
    return _show(node, 0)


def tell(quantity: Quantity) -> str:
    """A value that was worked out, with its unit: ``320 mm``, ``0.25 l``, ``-4``."""
    return _with_unit(Decimal(f"{quantity.value:.6g}"), quantity.dimension)


def _with_unit(number: Decimal, dimension: Dimension) -> str:
    text = f"{number / 1_000_000 if dimension == VOLUME else number:f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"{text}{_UNITS.get(dimension, '')}"


def _show(node: Node, least: int) -> str:
    """``node`` in parentheses if it binds less tightly than ``least``."""
    match node:
        case Number(quantity=quantity, written=written):
            return written or _with_unit(Decimal(repr(quantity.value)), quantity.dimension)
        case Name(name=name):
            return name
        case Geometry(function=function, piece=piece, edge=edge, given=given, above=above):
            read = [f"{piece}.{edge}" if edge else piece, *above]
            return f"{function}({', '.join([*read, _show(given, 0)] if given else read)})"
        case Call(function=function, arguments=arguments):
            return f"{function}({', '.join(_show(argument, 0) for argument in arguments)})"
        case Minus(of=of):
            binds, text = _SIGNED, f"-{_show(of, _SIGNED)}"
        case Binary(operator="^", left=left, right=right):
            binds, text = _BINDS["^"], f"{_show(left, 8)} ^ {_show(right, _SIGNED)}"
        case Binary(operator=operator, left=left, right=right):
            binds = _BINDS.get(operator, _COMPARES)
            text = f"{_show(left, binds)} {operator} {_show(right, binds + 1)}"
    return f"({text})" if binds < least else text
