"""What a formula comes to: arithmetic on values with dimensions.

Names and drafted geometry are looked up by whoever asks. Every refusal is a ContentError with one
problem that names both sides and has the place of the operator or function.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from notchbook.problems import ContentError, fault
from notchbook.reading.formula import Binary, Call, Geometry, Minus, Name, Node, Number
from notchbook.reading.quantity import RATIO, Dimension, Quantity, describe, with_units
from notchbook.reading.shown import show, tell

Lookup = Callable[[Name | Geometry], Quantity]

HIGHEST_POWER = 12
"""The greatest exponent, either way: beyond it numbers stop meaning anything on cloth."""

_CLOSE = 1e-9
"""Values nearer than this share of their size count as equal, so that rounding up 0.3 m in steps
of 0.1 m gives three steps and not four."""


def evaluate(node: Node, lookup: Lookup) -> Quantity:
    """The value of a formula's tree. Raises ContentError, and whatever ``lookup`` raises."""
    match node:
        case Number():
            return node.quantity
        case Name() | Geometry():
            return lookup(node)
        case Binary():
            return _binary(node, evaluate(node.left, lookup), evaluate(node.right, lookup))
        case Minus():
            value = evaluate(node.of, lookup)
            return Quantity(-value.value, value.dimension)
        case Call():
            return _call(node, [evaluate(argument, lookup) for argument in node.arguments])


def holds(node: Node, lookup: Lookup) -> bool:
    """Whether a condition's tree is true. Raises as ``evaluate`` does."""
    match node:
        case Binary(operator="and"):
            return holds(node.left, lookup) and holds(node.right, lookup)
        case Binary(operator="or"):
            return holds(node.left, lookup) or holds(node.right, lookup)
        case Binary(operator="<" | "<=" | ">" | ">=" | "==" as operator):
            left, right = evaluate(node.left, lookup), evaluate(node.right, lookup)
            if left.dimension != right.dimension:
                raise _unlike(node, "compares", "with", left, right)
            a, b = left.value, right.value
            if operator == "<":
                return a < b
            if operator == ">":
                return a > b
            same = math.isclose(a, b, rel_tol=_CLOSE, abs_tol=_CLOSE)
            return same or (operator != "==" and (a < b) == (operator == "<="))
    raise fault(node.place, f"“{_show(node)}” is a value, not a condition.", "Compare it.")


def _binary(node: Binary, left: Quantity, right: Quantity) -> Quantity:
    a, b = left.value, right.value
    match node.operator:
        case "+":
            if left.dimension != right.dimension:
                raise _unlike(node, "adds", "to", left, right)
            return _finite(a + b, left.dimension, node)
        case "-":
            if left.dimension != right.dimension:
                raise _unlike(node, "subtracts", "from", right, left)
            return _finite(a - b, left.dimension, node)
        case "*":
            return _finite(a * b, _times(left.dimension, right.dimension, 1), node)
        case "/":
            if b == 0:
                raise _by_zero(node)
            return _finite(a / b, _times(left.dimension, right.dimension, -1), node)
        case "^":
            return _power(node, left, right)
    what = f"“{node.operator}” makes this a condition, and a value is wanted here."
    raise fault(node.place, what, "Conditions belong after “require” under “limits”.")


def _times(left: Dimension, right: Dimension, sign: int) -> Dimension:
    if right == RATIO:
        return left
    return Dimension(
        left.length + sign * right.length,
        left.mass + sign * right.mass,
        left.time + sign * right.time,
    )


def _power(node: Binary, base: Quantity, exponent: Quantity) -> Quantity:
    power = exponent.value
    if exponent.dimension != RATIO:
        what = f"The exponent “{_show(node.right)}” is {describe(exponent.dimension)}."
        raise fault(node.place, what, "Only a plain number can be an exponent.")
    if abs(power) > HIGHEST_POWER:
        what = f"The power {_show(node.right)} is absurd; the highest is {HIGHEST_POWER}."
        raise fault(node.place, what, "Write the formula in some other way.")
    raised = [part * power for part in base.dimension]
    if any(part != round(part) for part in raised):
        what = (
            f"“{_show(node.left)}” is {describe(base.dimension)}, which has no power "
            f"{_show(node.right)}."
        )
        raise fault(
            node.place, what, "Raise it to a whole number, or make it a plain number first."
        )
    if base.value == 0 and power < 0:
        raise _by_zero(node)
    if base.value < 0 and power != round(power):
        what = (
            f"“{_show(node.left)}” comes to {tell(base)}, and below zero there is no power "
            f"{_show(node.right)}."
        )
        raise fault(node.place, what, "Raise it to a whole number, or keep it above zero.")
    try:
        value = base.value**power
    except OverflowError:
        value = math.inf
    return _finite(value, Dimension(*map(round, raised)), node)


def _call(node: Call, values: Sequence[Quantity]) -> Quantity:
    first = values[0]
    numbers = [value.value for value in values]
    match node.function:
        case "sqrt":
            return _root(node, first)
        case "abs":
            return Quantity(abs(first.value), first.dimension)
        case "sin" | "cos" | "tan" | "asin" | "acos" | "atan" as function:
            return Quantity(_trigonometric(node, function, first))
        case "min":
            return Quantity(min(numbers), _alike(node, values))
        case "max":
            return Quantity(max(numbers), _alike(node, values))
        case "hypot":
            return _finite(math.hypot(*numbers), _alike(node, values), node)
        case "atan2":
            _alike(node, values)
            return Quantity(math.atan2(*numbers))
        case "round_up" | "round_down":
            return _rounded(node, first, values[1])
        case _:
            raise AssertionError(node.function)


def _root(node: Call, of: Quantity) -> Quantity:
    shown = _show(node.arguments[0])
    if any(part % 2 for part in of.dimension):
        what = f"“{shown}” is {describe(of.dimension)}, which has no square root."
        raise fault(node.place, what, "Take the root of an area, or of a plain number.")
    if of.value < 0:
        what = f"“{shown}” comes to {tell(of)}, and below zero there is no square root."
        raise fault(node.place, what, "Keep what is under the root above zero.")
    return Quantity(math.sqrt(of.value), Dimension(*(part // 2 for part in of.dimension)))


def _trigonometric(node: Call, function: str, of: Quantity) -> float:
    shown = _show(node.arguments[0])
    if of.dimension != RATIO:
        what = (
            f"“{function}” takes an angle or a plain number; “{shown}” is {describe(of.dimension)}."
        )
        raise fault(node.place, what, "Divide it by what it belongs to, so that a ratio is left.")
    if function in ("asin", "acos") and abs(of.value) > 1:
        what = f"“{function}” takes −1 to 1, and “{shown}” comes to {tell(of)}."
        raise fault(node.place, what, "Divide the shorter side by the longer one.")
    value: float = getattr(math, function)(of.value)
    return value


def _rounded(node: Call, of: Quantity, step: Quantity) -> Quantity:
    dimension = _alike(node, (of, step))
    if step.value <= 0:
        what = f"The step “{_show(node.arguments[1])}” comes to {tell(step)}."
        raise fault(node.place, what, "Write a step above zero.")
    steps = _finite(of.value / step.value, RATIO, node).value
    whole = round(steps)
    if not math.isclose(steps, whole, rel_tol=_CLOSE, abs_tol=_CLOSE):
        whole = math.ceil(steps) if node.function == "round_up" else math.floor(steps)
    return Quantity(whole * step.value, dimension)


def _alike(node: Call, values: Sequence[Quantity]) -> Dimension:
    """The one dimension of all values."""
    dimension = values[0].dimension
    for value, argument in zip(values, node.arguments, strict=True):
        if value.dimension != dimension:
            what = (
                f"“{node.function}” takes values of one kind; “{_show(node.arguments[0])}” is "
                f"{describe(dimension)} and “{_show(argument)}” is {describe(value.dimension)}."
            )
            raise fault(node.place, what, _UNITS)
    return dimension


_UNITS = "Check the units, and that no name was mistaken for another."


def _show(node: Node) -> str:
    text = show(node)
    return text if len(text) <= 60 else f"{text[:28]} … {text[-28:]}"


def _unlike(node: Binary, does: str, to: str, first: Quantity, second: Quantity) -> ContentError:
    a, b = (node.right, node.left) if does == "subtracts" else (node.left, node.right)
    what = (
        f"This {does} {describe(first.dimension)} (“{_show(a)}”) {to} "
        f"{describe(second.dimension)} (“{_show(b)}”)."
    )
    sides = ((a, first, second), (b, second, first))
    bare = (with_units(_show(side), other.dimension) for side, value, other in sides
            if isinstance(side, Number) and value.dimension == RATIO)  # fmt: skip
    offered = next(bare, "")
    remedy = f"Write its unit: {offered}." if offered else _UNITS
    return fault(node.place, what, remedy)


def _by_zero(node: Binary) -> ContentError:
    divisor = node.right if node.operator == "/" else node.left
    what = f"This divides by zero: “{_show(divisor)}” comes to 0."
    return fault(node.place, what, "Keep it from becoming zero, if need be with max(…) or a limit.")


def _finite(value: float, dimension: Dimension, node: Node) -> Quantity:
    if not math.isfinite(value):
        what = f"“{_show(node)}” is too large to be worked with."
        raise fault(node.place, what, "Check the numbers and their units.")
    return Quantity(value, dimension)
