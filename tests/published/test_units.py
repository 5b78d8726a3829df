"""Units and gauges in a recipe's formulas, as the record and the pattern have them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path as File

import pytest
from scipy import constants

from tests.published.checks import INCH, Figure, check
from tests.published.written import Written
from tests.recipes import HEAD

MM = 1000.0
"""Millimetres in a metre, scipy's unit of length."""


def working(formula: str) -> str:
    """A recipe with one working."""
    return f"{HEAD}workings:\n  value: {formula}\nallowance: 0 mm\npieces: {{}}\n"


@pytest.mark.parametrize(
    ("formula", "known"),
    [
        # International yard and pound agreement, 1959.
        ("1 in", 25.4),
        ("1 ft", 12 * 25.4),
        ("1 yd", 36 * 25.4),
        # NIST Special Publication 811, as scipy has it.
        ("1 1/4 in", 1.25 * constants.inch * MM),
        ("5/8 in", 0.625 * constants.inch * MM),
        ("5 ½ in", 5.5 * constants.inch * MM),
        ("2.5 cm", 2.5 * constants.centi * MM),
        ("3 m", 3 * MM),
        ("35 deg", 35 * constants.degree),
        ("3 %", 3 * constants.centi),
        ("2 l", 2 * constants.liter * MM**3),
        ("2 ml", 2 * constants.milli * constants.liter * MM**3),
        ("1.5 kg", 1.5 / constants.gram),
        ("40 min", 40 * constants.minute / constants.hour),
        ("2 h + 30 min", 2.5),
        # A rectangle of a foot by a yard has 3 square feet, and a cubic foot has 1728 cubic inches.
        ("1 ft * 1 yd", 3 * (12 * INCH) ** 2),
        ("1 ft ^ 3", 1728 * INCH**3),
    ],
)
def test_a_unit_is_worth_what_standards_say(formula: str, known: float, tmp_path: File) -> None:
    def figures(made: Written) -> Iterator[Figure]:
        yield Figure(formula, made.working("value"), known, 1e-6 * known)

    check(working(formula), figures, f"value: {formula}", folder=tmp_path)


@pytest.mark.parametrize(("gauge", "mm"), [(16, 1.291), (18, 1.024), (19, 0.912)])
def test_a_wire_gauge_is_as_thick_as_astm_b258_says(gauge: int, mm: float, tmp_path: File) -> None:
    """ASTM B258: d = 0.127 mm × 92^((36 − n) ÷ 39)."""
    formula = f"0.127 mm * 92 ^ ((36 - {gauge}) / 39)"

    def figures(made: Written) -> Iterator[Figure]:
        yield Figure("thickness", made.working("value"), mm, 0.0005)

    check(working(formula), figures, f"value: {formula}", folder=tmp_path)


def test_an_inch_of_the_recipe_is_an_inch_of_the_pattern(tmp_path: File) -> None:
    """A strip of 10 in by 2 in, beside one of 254 mm by 50.8 mm."""
    front = f"""{HEAD}allowance: 1/2 in
pieces:
  one: {{title: One, shape: strip, length: 10 in, width: 2 in, cut: {{shell: 1}}}}
  other: {{title: Other, shape: strip, length: 254 mm, width: 50.8 mm, cut: {{shell: 1}}}}
"""

    def figures(made: Written) -> Iterator[Figure]:
        for piece in ("one", "other"):
            (cut,) = made.cut(piece, "shell")
            left, right, top, bottom = cut.bbox()
            yield Figure(f"length of {piece}", (right - left) / INCH, 11, 0.001)
            yield Figure(f"width of {piece}", (bottom - top) / INCH, 3, 0.001)

    formulas = ("length: 10 in", "width: 2 in", "length: 254 mm", "width: 50.8 mm")
    check(front, figures, *formulas, folder=tmp_path)
