"""The formula language: its tree and how text becomes one. The grammar is ``formula.lark``.

What a tree comes to is worked out in ``arithmetic.py``, with values that drafting looks up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache

from lark import Lark, Token, Tree, UnexpectedInput

from notchbook.problems import ContentError, Place, Problem, fault
from notchbook.reading.faults import explain
from notchbook.reading.quantity import UNITS, Quantity, literal


@dataclass(frozen=True, slots=True)
class Number:
    """A literal: ``12 mm``, ``1 1/4 in``, ``0.5``, and how the author wrote it."""

    quantity: Quantity
    place: Place
    written: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Name:
    """A measure, working, or a property of a cloth (``shell.thickness``)."""

    name: str
    place: Place


@dataclass(frozen=True, slots=True)
class Minus:
    """A sign: −x."""

    of: Node
    place: Place


@dataclass(frozen=True, slots=True)
class Binary:
    """``+ - * / ^`` and, in ``require:`` alone, the comparisons ``< <= > >= ==``, ``and``, ``or``.

    Its place is the operator's.
    """

    operator: str
    left: Node
    right: Node
    place: Place


@dataclass(frozen=True, slots=True)
class Call:
    """A function of values: ``hypot(a, b)``."""

    function: str
    arguments: tuple[Node, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Geometry:
    """``length(piece.edge)``, ``area(piece)``, ``volume(piece)``, ``rides_up(piece, girth)``,
    ``stands_off(piece, girth)``: reads the drafted geometry. ``given`` is the girth, ``above`` the
    pieces that stand on the first."""

    function: str
    piece: str
    edge: str | None
    place: Place
    given: Node | None = None
    above: tuple[str, ...] = ()


Node = Number | Name | Minus | Binary | Call | Geometry


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula as written, and its tree."""

    text: str
    tree: Node
    place: Place


LONGEST = 1000
"""Characters in one formula."""

DEEPEST = 50
"""Operations inside each other, so that no walk over a tree runs out of stack."""

FUNCTIONS: Mapping[str, tuple[int, int]] = {
    "sqrt": (1, 1),
    "hypot": (2, 9),
    "abs": (1, 1),
    "min": (2, 99),
    "max": (2, 99),
    "round_up": (2, 2),
    "round_down": (2, 2),
    "sin": (1, 1),
    "cos": (1, 1),
    "tan": (1, 1),
    "asin": (1, 1),
    "acos": (1, 1),
    "atan": (1, 1),
    "atan2": (2, 2),
}
"""Every function of values, with the least and the greatest number of values it takes."""

READINGS = ("length", "area", "volume", "rides_up", "stands_off")
CONSTANTS: Mapping[str, float] = {
    "pi": math.pi,
    "π": math.pi,
    "tau": math.tau,
    "τ": math.tau,
}
RESERVED = frozenset({*FUNCTIONS, *READINGS, *CONSTANTS, *UNITS, "and", "or"} - {"%"})
"""Words that name nothing in a recipe."""

_PLAIN = {"−": "-", "×": "*", "·": "*", "÷": "/", "≤": "<=", "≥": ">="}
_GRAMMAR = Lark.open_from_package(
    "notchbook.reading",
    "formula.lark",
    start=["formula", "condition"],
    parser="lalr",
    lexer="basic",
)


def parse(text: str, place: Place) -> Formula:
    """The formula that ``text``, which begins at ``place``, stands for. Raises ContentError."""
    return _parse(text, place, "formula")


def parse_condition(text: str, place: Place) -> Formula:
    """As ``parse``, for what ``require:`` takes: comparisons joined by ``and`` and ``or``."""
    return _parse(text, place, "condition")


def parse_if_any(text: str, place: Place) -> Formula | None:
    """As ``parse``, but None where the text is no formula: quick, as it finds no words for why."""
    if len(text) > LONGEST:
        return None
    try:
        return Formula(" ".join(text.split()), _build(_tree(text, "formula"), place, 1), place)
    except (UnexpectedInput, ContentError):
        return None


def references(node: Node) -> Iterator[Name | Geometry]:
    """Everything a tree takes from elsewhere, in no particular order."""
    todo = [node]
    while todo:
        match todo.pop():
            case Name() | Geometry() as found:
                yield found
                if isinstance(found, Geometry) and found.given:
                    todo.append(found.given)
                    yield from (
                        Geometry(found.function, name, None, found.place) for name in found.above
                    )
            case Minus(of=of):
                todo.append(of)
            case Binary(left=left, right=right):
                todo += (left, right)
            case Call(arguments=arguments):
                todo += arguments
            case Number():
                pass


def _parse(text: str, place: Place, start: str) -> Formula:
    if len(text) > LONGEST:
        what = f"A formula of {len(text)} characters is too long to be read."
        raise fault(place, what, "Name its parts under “workings”.")
    try:
        tree = _tree(text, start)
    except UnexpectedInput as error:
        raise ContentError(
            [explain(_GRAMMAR, error, text, place, (*FUNCTIONS, *READINGS))]
        ) from None
    return Formula(" ".join(text.split()), _build(tree, place, 1), place)


@lru_cache(maxsize=4096)
def _tree(text: str, start: str) -> Tree[Token]:
    """Kept: the same few lengths are written again and again."""
    return _GRAMMAR.parse(text, start=start)


def _build(tree: Tree[Token], start: Place, depth: int) -> Node:
    """The node for a parse tree. Raises ContentError."""

    def below(child: Tree[Token] | Token) -> Node:
        assert isinstance(child, Tree)
        return _build(child, start, depth + 1)

    word = next(child for child in tree.children if isinstance(child, Token))
    here = _place(word, start)
    if depth > DEEPEST:
        what = f"More than {DEEPEST} operations stand inside each other here."
        raise fault(here, what, "Name some of its parts under “workings”.")
    match tree.data, tree.children:
        case "binary", [left, _, right]:
            return Binary(_PLAIN.get(word, str(word)), below(left), below(right), here)
        case "minus", [_, of]:
            return Minus(below(of), here)
        case "literal", _:
            return Number(_value(word, here), here, " ".join(word.split()))
        case "constant", _:
            return Number(Quantity(CONSTANTS[word]), here, str(word))
        case "name", _:
            return Name(_name(word, here), here)
        case "call", [_, *arguments]:
            _count(word, len(arguments), here)
            return Call(str(word), tuple(below(argument) for argument in arguments), here)
        case "geometry", [_, Token() as name]:
            return _reading(str(word), str(name), here)
        case "geometry", [_, *names, given]:
            first, *above = (_reading(str(word), str(name), here) for name in names)
            return replace(first, given=below(given), above=tuple(each.piece for each in above))
        case _:
            raise AssertionError(tree.data)


def _place(token: Token, start: Place) -> Place:
    line, column = token.line or 1, token.column or 1
    if line == 1:
        return Place(start.file, start.line, start.column + column - 1)
    return Place(start.file, start.line + line - 1, column)


def _value(word: str, here: Place) -> Quantity:
    try:
        return literal(word)
    except ZeroDivisionError:
        what = f"“{word}” divides by zero."
    except OverflowError:
        what = "This number is too large to be worked with."
    raise fault(here, what, "Write a number that can be measured.")


def _name(word: str, here: Place) -> str:
    if word in UNITS:
        what = f"“{word}” is a unit, and no number stands in front of it."
        raise fault(here, what, f"Write how many: 1 {word}.")
    if word.count(".") > 1:
        what = f"“{word}” has more than one full stop."
        raise ContentError(
            [Problem(here, what, "Write a cloth and its property, as in shell.thickness.")]
        )
    return str(word)


def _count(function: str, given: int, here: Place) -> None:
    least, most = FUNCTIONS[function]
    if least <= given <= most:
        return
    wanted = f"{least}" if least == most else f"{least} or more"
    what = f"“{function}” takes {wanted} {'value' if most == 1 else 'values'}, not {given}."
    raise fault(here, what, "Separate values with commas, decimals with a point.")


def _reading(function: str, name: str, here: Place) -> Geometry:
    piece, _, edge = name.partition(".")
    of_edge = function == "length"
    if of_edge and (not edge or "." in edge):
        what = f"“{function}({name})” does not say which edge."
        raise ContentError(
            [Problem(here, what, f"Write a piece and its edge: {function}({piece}.edge).")]
        )
    if edge and not of_edge:
        what = f"An edge has no {function}; a whole piece has."
        raise fault(here, what, f"Write {function}({piece}).")
    return Geometry(function, piece, edge or None, here)
