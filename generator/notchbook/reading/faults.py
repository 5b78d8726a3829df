"""Why a text is no formula, in words."""

from __future__ import annotations

import re
from collections.abc import Iterable

from lark import Lark, Token, UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from notchbook.problems import Place, Problem, suggestion
from notchbook.reading.quantity import MEANT, UNITS

_JOIN = "Write what joins them: +, -, *, / or ^."
_OTHER_NAMES = {
    **dict.fromkeys(
        ("perimeter", "circumference", "girth", "edge"), "Write length(piece.edge) for its length."
    ),
    **dict.fromkeys(
        ("round", "ceil", "roundup"), "Write round_up(x, step) or round_down(x, step)."
    ),
    **dict.fromkeys(("floor", "rounddown"), "Write round_down(x, step)."),
    "vol": "Did you mean “volume”?",
}
"""Functions by other words that people write for them."""

_CALLED = ("FUNCTION", "GEOMETRY", "WORN")
"""Kinds of words that a parenthesis follows."""

_GO_ON = "Write a value there: a number with its unit, a name, or a function."


def explain(
    grammar: Lark, fault: UnexpectedInput, text: str, start: Place, functions: Iterable[str]
) -> Problem:
    """The problem behind what the parser stumbled over in ``text``, which begins at ``start``."""
    if isinstance(fault, UnexpectedCharacters):
        at = fault.pos_in_stream or 0
        return _strange(text, at, _place(text, at, start))
    assert isinstance(fault, UnexpectedToken)
    token = fault.token
    at = len(text.rstrip()) if token.type == "$END" else token.start_pos or 0
    place = _place(text, at, start)
    before = _before(grammar, text, at)
    wants_value = "NAME" in fault.expected
    if token.type == "$END":
        return _end(text, before, wants_value, start, place)
    kinds = [token.type for token in before]
    if kinds[-1:] == ["LPAR"] and kinds[-2:-1] == ["GEOMETRY"]:
        what = f"“{before[-2]}” reads a piece, and “{token}” is none."
        return Problem(place, what, "Write length(piece.edge), area(piece) or volume(piece).")
    within = _still_open(before)
    word = before[within[-1] - 1] if within and within[-1] else token
    if word.type == "WORN" and (token.type == "COMMA" or kinds[-1] in ("LPAR", "NAME")):
        what = f"“{word}” takes a piece and the girth of the head it is worn over."
        remedy = f"Write {word}(piece, girth), or {word}(piece, piece above it, girth)."
        return Problem(place, what, remedy)
    if wants_value and token.type == "RPAR":
        return Problem(place, "“)” stands where a value should.", _GO_ON)
    if token.type == "RPAR":
        return Problem(place, "This “)” closes nothing.", "Delete it, or open one before it.")
    if token.type == "COMMA":
        what = "A comma separates the values of a function, and nothing else."
        decimal = re.search(r"[0-9]+$", text[:at]), re.match(r"[0-9]+", text[at + 1 :])
        example = ".".join(figures[0] for figures in decimal if figures) if all(decimal) else "1.5"
        return Problem(place, what, f"Write decimals with a point: {example}.")
    if token.type == "COMPARE" and "AND" in fault.expected:
        what = "Only two values can be compared at a time."
        return Problem(place, what, "Join comparisons with “and”: a < b and b < c.")
    if token.type in ("COMPARE", "AND", "OR") and not wants_value:
        what = f"“{token}” makes this a condition, and a value is wanted here."
        return Problem(place, what, "Conditions belong after “require” under “limits”.")
    if wants_value:
        return Problem(place, f"“{token}” stands where a value should.", _GO_ON)
    if not before:
        return Problem(place, f"“{token}” can't stand here.", _GO_ON)
    return _beside(text, before[-1], token, place, functions)


def _still_open(before: list[Token]) -> list[int]:
    """Which of the tokens are parentheses that nothing closes."""
    found: list[int] = []
    for k, token in enumerate(before):
        if token.type == "LPAR":
            found.append(k)
        elif token.type == "RPAR" and found:
            found.pop()
    return found


def _beside(
    text: str, left: Token, right: Token, place: Place, functions: Iterable[str]
) -> Problem:
    """Two values with nothing between them; most often a unit nobody knows."""
    if left.type == "NUMBER" and right.type == "NAME":
        if right in UNITS:
            what = f"A full stop after “{right}” is no part of a formula."
            return Problem(place, what, f"Write {left} {right} without it.")
        if right == "x":
            return Problem(place, "“x” is no sign for times.", "Write * in its place.")
        if "." not in right:
            return Problem(place, f"“{right}” is no unit.", _unit(right, left))
    if left.type in _CALLED:
        what = f"“{left}” is a function, and no parenthesis follows it."
        return Problem(place, what, f"Write {left}(…).")
    if left.type == "NAME" and right.type == "LPAR":
        remedy = _OTHER_NAMES.get(left.casefold()) or suggestion(left, functions)
        return Problem(_back(place, text, left, right), f"“{left}” is no function.", remedy)
    what = f"“{left}” and “{right}” stand side by side with nothing between them."
    if left.type == right.type == "NUMBER":
        return Problem(place, what, "A mixed fraction needs its unit: 1 1/4 in.")
    return Problem(place, what, _JOIN)


def _unit(word: str, number: str) -> str:
    """What to write for a unit nobody knows."""
    meant = MEANT.get(word.casefold())
    return f"Write {number} {meant}." if meant else suggestion(word, UNITS)


def _back(place: Place, text: str, left: Token, right: Token) -> Place:
    """The place of the token before the one at ``place``, where both stand on one line."""
    start, end = left.start_pos or 0, right.start_pos or 0
    if "\n" in text[start:end]:
        return place
    return Place(place.file, place.line, place.column - (end - start))


def _end(text: str, before: list[Token], wants_value: bool, start: Place, place: Place) -> Problem:
    if not before:
        return Problem(start, "There is no formula here.", _GO_ON)
    if wants_value:
        shown = " ".join(text.split())[-60:]
        return Problem(place, f"“{shown} ” stops where a value should follow.", _GO_ON)
    still_open = _still_open(before)
    if still_open:
        opened = _place(text, before[still_open[-1]].start_pos or 0, start)
        return Problem(opened, "This parenthesis is never closed.", "Close it with “)”.")
    if before[-1].type in _CALLED:
        what = f"“{before[-1]}” is a function, and no parenthesis follows it."
        return Problem(place, what, f"Write {before[-1]}(…).")
    what = "This compares nothing, and a condition is wanted here."
    return Problem(start, what, "Write what must hold, as in height > head / 3.")


def _strange(text: str, at: int, place: Place) -> Problem:
    character = text[at]
    if character == "=":
        return Problem(place, "A single “=” means nothing here.", "Write == to compare.")
    if character in MEANT:
        what = f"“{character}” is no unit."
        return Problem(place, what, f"Write “{MEANT[character]}” instead.")
    what = f"“{character}” means nothing in a formula."
    return Problem(place, what, "Use numbers with units, names, + - * / ^, and parentheses.")


def _before(grammar: Lark, text: str, at: int) -> list[Token]:
    """The tokens in front of position ``at``."""
    return list(grammar.lex(text[:at]))


def _place(text: str, at: int, start: Place) -> Place:
    lines = text[:at].split("\n")
    if len(lines) == 1:
        return Place(start.file, start.line, start.column + at)
    return Place(start.file, start.line + len(lines) - 1, len(lines[-1]) + 1)
