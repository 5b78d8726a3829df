"""Formulas worked out: like arithmetic on numbers, with dimensions kept apart."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.problems import ContentError, Place
from notchbook.reading.arithmetic import evaluate, holds
from notchbook.reading.formula import Geometry, Name, parse, parse_condition
from notchbook.reading.quantity import AREA, LENGTH, MASS, RATIO, VOLUME, Dimension, Quantity

HERE = Place("recipe.md", 3, 5)
VALUES = {
    "head": Quantity(570, LENGTH),
    "height": Quantity(450, LENGTH),
    "none": Quantity(0, LENGTH),
    "debt": Quantity(-9, LENGTH),
    "shell.thickness": Quantity(0.8, LENGTH),
}


def look_up(node: Name | Geometry) -> Quantity:
    if isinstance(node, Geometry):
        return {"length": Quantity(1000, LENGTH), "area": Quantity(5e4, AREA)}.get(
            node.function, Quantity(8e6, VOLUME)
        )
    return VALUES[node.name]


def worth(text: str) -> Quantity:
    return evaluate(parse(text, HERE).tree, look_up)


@pytest.mark.parametrize(
    ("text", "value", "dimension"),
    [
        ("head + 3 cm", 600, LENGTH),
        ("head - height", 120, LENGTH),
        ("head * 2 cm", 11400, AREA),
        ("head / height", 570 / 450, RATIO),
        ("1 / head", 1 / 570, Dimension(length=-1)),
        ("-head", -570, LENGTH),
        ("head ^ 2", 570**2, AREA),
        ("(3 mm ^ 2) ^ 0.5", math.sqrt(3) ** 2, LENGTH),
        ("2 ^ 0.5", math.sqrt(2), RATIO),
        ("sqrt(9 cm * 4 cm)", 60, LENGTH),
        ("hypot(3 cm, 4 cm)", 50, LENGTH),
        ("abs(debt)", 9, LENGTH),
        ("min(head, height, 1 m)", 450, LENGTH),
        ("max(head, height)", 570, LENGTH),
        ("round_up(13 mm, 5 mm)", 15, LENGTH),
        ("round_down(13 mm, 5 mm)", 10, LENGTH),
        ("round_up(0.3 m, 0.1 m)", 300, LENGTH),
        ("round_down(0.3 m, 0.1 m)", 300, LENGTH),
        ("round_up(-13 mm, 5 mm)", -10, LENGTH),
        ("sin(30 deg)", 0.5, RATIO),
        ("cos(60 deg)", 0.5, RATIO),
        ("tan(45 deg)", 1, RATIO),
        ("asin(1)", math.pi / 2, RATIO),
        ("acos(0)", math.pi / 2, RATIO),
        ("atan(1)", math.pi / 4, RATIO),
        ("atan2(height, head)", math.atan2(450, 570), RATIO),
        ("tau * shell.thickness", math.tau * 0.8, LENGTH),
        ("volume(crown) * 20 g / 1 l", 160, MASS),
        ("area(brim) / length(brim.outer)", 50, LENGTH),
        ("30 % * head", 171, LENGTH),
    ],
)
def test_values_and_dimensions(text: str, value: float, dimension: Dimension) -> None:
    found = worth(text)
    assert found.dimension == dimension
    assert found.value == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "column", "what", "remedy"),
    [
        (
            "head + area(brim)",
            10,
            "This adds a length (“head”) to an area (“area(brim)”).",
            "Check the units, and that no name was mistaken for another.",
        ),
        (
            "head - 2 * 3",
            10,
            "This subtracts a plain number (“2 * 3”) from a length (“head”).",
            "Check the units, and that no name was mistaken for another.",
        ),
        (
            "head - 2",
            10,
            "This subtracts a plain number (“2”) from a length (“head”).",
            "Write its unit: 2 mm, 2 cm or 2 in.",
        ),
        (
            "head / (2 * none)",
            10,
            "This divides by zero: “2 * none” comes to 0.",
            "Keep it from becoming zero, if need be with max(…) or a limit.",
        ),
        (
            "none ^ -1",
            10,
            "This divides by zero: “none” comes to 0.",
            "Keep it from becoming zero, if need be with max(…) or a limit.",
        ),
        (
            "2 ^ head",
            7,
            "The exponent “head” is a length.",
            "Only a plain number can be an exponent.",
        ),
        (
            "head ^ 0.5",
            10,
            "“head” is a length, which has no power 0.5.",
            "Raise it to a whole number, or make it a plain number first.",
        ),
        (
            "(debt / head) ^ 0.5",
            19,
            "“debt / head” comes to -0.0157895, and below zero there is no power 0.5.",
            "Raise it to a whole number, or keep it above zero.",
        ),
        (
            "sqrt(head)",
            5,
            "“head” is a length, which has no square root.",
            "Take the root of an area, or of a plain number.",
        ),
        (
            "sqrt(debt * head)",
            5,
            "“debt * head” comes to -5130 mm², and below zero there is no square root.",
            "Keep what is under the root above zero.",
        ),
        (
            "hypot(head, 4)",
            5,
            "“hypot” takes values of one kind; “head” is a length and “4” is a plain number.",
            "Check the units, and that no name was mistaken for another.",
        ),
        (
            "sin(head)",
            5,
            "“sin” takes an angle or a plain number; “head” is a length.",
            "Divide it by what it belongs to, so that a ratio is left.",
        ),
        (
            "asin(head / height)",
            5,
            "“asin” takes −1 to 1, and “head / height” comes to 1.26667.",
            "Divide the shorter side by the longer one.",
        ),
        (
            "round_up(head, none)",
            5,
            "The step “none” comes to 0 mm.",
            "Write a step above zero.",
        ),
    ],
)
def test_refusals_name_both_sides(text: str, column: int, what: str, remedy: str) -> None:
    with pytest.raises(ContentError) as caught:
        worth(text)
    (problem,) = caught.value.problems
    assert (problem.what, problem.remedy) == (what, remedy)
    assert problem.place == Place("recipe.md", 3, column)


@pytest.mark.parametrize(
    ("text", "true"),
    [
        ("height > head / 3", True),
        ("height < head / 3", False),
        ("head >= 57 cm", True),
        ("head <= 57 cm and head == 570 mm", True),
        ("0.1 + 0.2 == 0.3", True),
        ("0.1 + 0.2 <= 0.3", True),
        ("head < height or height < head", True),
        ("head < height and height < head", False),
    ],
)
def test_conditions_hold_or_not(text: str, true: bool) -> None:
    assert holds(parse_condition(text, HERE).tree, look_up) is true


def test_only_values_of_one_kind_are_compared() -> None:
    with pytest.raises(ContentError) as caught:
        holds(parse_condition("head > 3", HERE).tree, look_up)
    (problem,) = caught.value.problems
    assert problem.what == "This compares a length (“head”) with a plain number (“3”)."
    assert problem.remedy == "Write its unit: 3 mm, 3 cm or 3 in."


floats = st.floats(0.001, 1000).map(lambda number: round(number, 3))
terms = st.recursive(
    floats.map(str),
    lambda inner: st.tuples(inner, st.sampled_from(["+", "-", "*", "/"]), inner).map(
        lambda parts: f"({' '.join(parts)})"
    ),
    max_leaves=10,
)


@given(terms)
@settings(max_examples=200, deadline=None)
def test_plain_numbers_come_to_what_python_makes_of_them(text: str) -> None:
    try:
        expected = eval(text)
    except ZeroDivisionError:
        with pytest.raises(ContentError):
            worth(text)
        return
    assert worth(text) == Quantity(expected)


@given(floats, st.integers(-6, 6), st.integers(-3, 3))
@settings(max_examples=100, deadline=None)
def test_powers_bind_as_pythons_do(base: float, power: int, other: int) -> None:
    assert worth(f"-{base} ^ {power}").value == pytest.approx(-(base**power))
    if abs(2.0**other) <= 12:
        assert worth(f"{base} ^ 2 ^ {other}").value == pytest.approx(base ** (2.0**other))
