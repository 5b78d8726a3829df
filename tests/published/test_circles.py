"""Openings of circle capes and skirts against the usual table (common practice): the radius is the
girth ÷ 6.28 for a full circle, ÷ 4.71 for three quarters, ÷ 3.14 for a half."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path as File

import pytest

from tests.published.checks import Figure, check
from tests.published.written import Seen, Written
from tests.recipes import HEAD


def circle(share: str, parts: int) -> str:
    """A recipe for a circle cape or skirt."""
    return f"""{HEAD}allowance: 12 mm
workings:
  neck: 420 mm
pieces:
  cape:
    title: Cape
    shape: sector
    opening: neck
    length: 350 mm
    share: {share}
    parts: {parts}
    cut: {{shell: {parts}}}
"""


def radius(path: Seen) -> float:
    """Of the circle through the ends and the middle of an arc: the product of the triangle's sides
    over four times its area."""
    a, b, c = path.point(0.0), path.point(0.5), path.point(1.0)
    twice = abs(((b - a).conjugate() * (c - a)).imag)
    return float(abs(b - a) * abs(c - b) * abs(a - c) / (2 * twice))


@pytest.mark.parametrize(
    ("share", "parts", "divisor"), [("1", 2, 6.28), ("3/4", 1, 4.71), ("1/2", 1, 3.14)]
)
def test_the_radius_of_an_opening_is_in_the_table(
    share: str, parts: int, divisor: float, tmp_path: File
) -> None:
    def figures(made: Written) -> Iterator[Figure]:
        opening, hem = made.stitch("cape", "opening"), made.stitch("cape", "hem")
        # The table has three digits.
        yield Figure("radius", radius(opening), 420 / divisor, 0.001 * 420 / divisor)
        yield Figure("girth", parts * opening.length(), 420, 0.01)
        yield Figure("length down the cloth", radius(hem) - radius(opening), 350, 0.01)
        yield Figure("left", made.stitch("cape", "left").length(), 350, 0.001)
        turn = math.degrees(opening.length() / radius(opening)) * parts
        yield Figure("share of a circle", turn, {6.28: 360, 4.71: 270, 3.14: 180}[divisor], 0.01)

    front = circle(share, parts)
    formulas = ("neck: 420 mm", "length: 350 mm", f"share: {share}")
    check(front, figures, *formulas, folder=tmp_path)
