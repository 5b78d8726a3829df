"""The lamplighter's hat for three bodies that are no published sizes, measured on its printed
sheets and held against arithmetic done by hand from the recipe's own sentences.

Nothing of the drafting is used here: the cone is Pythagoras and a sector (Longfield 1921), the oval
scipy's elliptic integral at the recipe's ratio, its parallel Steiner's formula.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path as File

import pytest
from scipy.optimize import brentq
from scipy.special import ellipe
from shapely.geometry import LineString
from svgpathtools import Path as Seen

from tests.published.checks import Figure, off, wrong
from tests.published.printed import loops, sheets, taped
from tests.published.written import across, points, polygon, print_sheets

BODIES = {
    "57.5 cm, 45 cm, 5 1/2 in": (575.0, 450.0, 5.5 * 25.4),
    "53.3 cm, 30 cm, 8 cm": (533.0, 300.0, 80.0),
    "64.7 cm, 70 cm, 24 cm": (647.0, 700.0, 240.0),
}
"""Head girth, height of the point and width of the brim, as given and in mm."""

NEAR = 0.05
"""How far a length may be off, mm."""


@pytest.fixture(scope="module")
def text(root: File) -> str:
    return (root / "content/recipes/lamplighters-hat/recipe.md").read_text("utf-8")


def outlines(text: str, body: str) -> list[list[Seen]]:
    """Every stitching line of the hat, from its printed and taped sheets, as its edges."""
    names = ("head", "height", "brim")
    measures = [f"{name}={value}" for name, value in zip(names, body.split(", "), strict=True)]
    groups = taped(sheets(print_sheets(text, *measures), covers=1))
    return [loop for group in groups for loop in loops(group.lines("stitch"))]


def measured(text: str, body: str) -> Iterator[Figure]:
    """Length by length, the hat's pieces."""
    head, height, width = BODIES[body]
    # Twill 0.8 mm, lawn 0.3 mm and petersham 0.5 mm lie between stitching line and head; each
    # costs 2π times its thickness, and 5 mm are for comfort.
    rim = head + math.tau * (0.8 + 0.3 + 0.5) + 5
    found = outlines(text, body)
    assert len(found) == 7
    # The tip is the smallest round; the two openings are as long as each other.
    tip, one, two, under, upper = sorted((loop[0] for loop in found if len(loop) == 1), key=length)
    for name, outer, brim in (("brim", upper, width), ("under brim", under, width - 1.5 * 0.8)):
        inner = one if polygon(outer).contains(polygon(one)) else two
        yield from ring(name, inner, outer, rim, brim)
    (crown,) = (loop for loop in found if len(loop) == 3)
    yield from cone("point", crown, rim, height, math.hypot(height, rim / math.tau))
    (lining,) = (loop for loop in found if len(loop) == 4)
    # The lining lies inside the twill, and ends 14 cm up, or at three fifths of the height.
    lined, kept = rim - math.tau * 0.8, min(140, 0.6 * height)
    yield from cone("lining", lining, lined, height, kept)
    top = lined * (1 - kept / math.hypot(height, lined / math.tau))
    yield Figure("tip, round", length(tip), top, NEAR)
    yield Figure("tip, across", across(tip)[0], top / math.pi, NEAR)


def length(path: Seen) -> float:
    return float(path.length(error=1e-4))


def ring(name: str, inner: Seen, outer: Seen, girth: float, width: float) -> Iterator[Figure]:
    """A brim: an ellipse 1.29 times as long as broad, and its parallel."""

    def perimeter(breadth: float) -> float:
        return 2 * 1.29 * breadth * float(ellipe(1 - 1 / 1.29**2))

    breadth = brentq(lambda breadth: perimeter(breadth) - girth, girth / 6, girth)
    yield Figure(f"{name}, opening", length(inner), girth, NEAR)
    yield Figure(f"{name}, edge", length(outer), girth + math.tau * width, NEAR)
    for edge, path, more in (("opening", inner, 0), ("edge", outer, 2 * width)):
        long, broad = across(path)
        yield Figure(f"{name}, length of its {edge}", long, 1.29 * breadth + more, NEAR)
        yield Figure(f"{name}, breadth of its {edge}", broad, breadth + more, NEAR)
    hole, rim = (
        LineString([(p.real, p.imag) for p in points(path, 60)]) for path in (inner, outer)
    )
    yield Figure(f"{name}, least width", rim.distance(hole), width, NEAR)
    yield Figure(f"{name}, greatest width", rim.hausdorff_distance(hole), width, NEAR)


def cone(
    name: str, edges: list[Seen], girth: float, height: float, kept: float
) -> Iterator[Figure]:
    """A sector: two straight edges, the rim, and a top where it is kept short of its tip. Chords
    from end to end of the arcs settle its angle."""
    straight = [edge for edge in edges if abs(edge.end - edge.start) > length(edge) - 1e-3]
    rim, *top = sorted((edge for edge in edges if edge not in straight), key=length, reverse=True)
    assert len(straight) == 2
    slant = math.hypot(height, girth / math.tau)
    half = girth / slant / 2
    for number, edge in enumerate(straight, start=1):
        yield Figure(f"{name}, seam edge {number}", length(edge), kept, NEAR)
    yield Figure(f"{name}, rim", length(rim), girth, NEAR)
    chord = abs(rim.end - rim.start)
    yield Figure(f"{name}, chord of the rim", chord, 2 * slant * math.sin(half), NEAR)
    for arc in top:
        short = slant - kept
        yield Figure(f"{name}, top", length(arc), girth * short / slant, NEAR)
        chord = abs(arc.end - arc.start)
        yield Figure(f"{name}, chord of the top", chord, 2 * short * math.sin(half), NEAR)


@pytest.mark.parametrize("body", BODIES)
def test_the_printed_pieces_are_right_for_a_body_between_sizes(text: str, body: str) -> None:
    assert not wrong(measured(text, body))


@pytest.mark.parametrize("factor", [1.01, 0.99])
def test_formulas_of_the_hat_off_by_one_per_cent_are_noticed(text: str, factor: float) -> None:
    """By every single figure."""
    for formula in (
        "formula: head + ease",
        "width: brim",
        "width: brim - turn",
        "rim: rim, height: height",
    ):
        text = off(text, formula, factor)
    # The other way, or the lining's top would go with its rim.
    text = off(text, "keep: lining_depth", 2 - factor)
    figures = list(measured(text, "53.3 cm, 30 cm, 8 cm"))
    assert wrong(figures) == figures
