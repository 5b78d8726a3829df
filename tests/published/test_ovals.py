"""Ovals against scipy's elliptic integrals and G. A. Martin, *Make Your Own Hats* (Houghton Mifflin
1921)."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import accumulate, pairwise
from pathlib import Path as File

import numpy as np
import pytest
from scipy.special import ellipe
from svgpathtools import Path as Seen

from tests.published.checks import INCH, Figure, check
from tests.published.written import Written, across, points
from tests.recipes import HEAD

MARTIN = f"""{HEAD.replace("usual: 57 cm", "usual: 24 in")}
workings:
  rim: head + 1 in
allowance: 1/2 in
pieces:
  brim:
    title: Brim
    shape: ring
    inner: rim
    oval: 1.289
    width: 5 in
    cut: {{shell: 1}}
  tip: {{title: Tip of the crown, shape: disc, across: 6.5 in, oval: 8.5 / 6.5, cut: {{shell: 1}}}}
notions:
  head_wire: {{title: head wire, amount: rim + 1 in}}
  edge_wire: {{title: edge wire, amount: length(brim.outer) + 1 in}}
"""


def perimeter(length: float, breadth: float) -> float:
    """Of an ellipse: 4 a E(e²) with e² = 1 − b² ÷ a²; ``ellipe`` takes the square."""
    return 2 * length * float(ellipe(1 - (breadth / length) ** 2))


def test_a_head_of_24_in_has_a_wire_of_26_in_and_a_loop_of_25_in_drawn_out_by_two(
    tmp_path: File,
) -> None:
    """Martin: one inch is added for lining and covering and one for the lap; the joined loop
    "should usually be elongated two inches"; the edge wire too is the edge and one inch of lap."""

    def figures(made: Written) -> Iterator[Figure]:
        loop, edge = made.stitch("brim", "inner"), made.stitch("brim", "outer")
        length, breadth = (mm / INCH for mm in across(loop))
        yield Figure("wire as cut", made.amount("head_wire") / INCH, 26, 0.001)
        yield Figure("joined loop", loop.length() / INCH, 25, 0.001)
        yield Figure("its length", length, 8.93, 0.01)
        yield Figure("its breadth", breadth, 6.93, 0.01)
        yield Figure("drawn out", length - breadth, 2.0, 0.01)
        # Steiner: the edge runs 5 in outside the loop.
        yield Figure("edge wire", made.amount("edge_wire") / INCH, 25 + 10 * np.pi + 1, 0.01)
        yield Figure("edge and lap", edge.length() / INCH + 1, 25 + 10 * np.pi + 1, 0.01)

    formulas = ("usual: 24 in", "rim: head + 1 in", "oval: 1.289", "width: 5 in")
    check(MARTIN, figures, *formulas, folder=tmp_path)


def test_its_crown_tip_is_eight_and_a_half_by_six_and_a_half(tmp_path: File) -> None:
    """Martin; as an ellipse it is 23.67 in round, which is scipy's perimeter."""

    def figures(made: Written) -> Iterator[Figure]:
        tip = made.stitch("tip", "edge")
        length, breadth = (mm / INCH for mm in across(tip))
        yield Figure("length", length, 8.5, 0.001)
        yield Figure("breadth", breadth, 6.5, 0.001)
        yield Figure("round", tip.length() / INCH, 23.67, 0.005)
        yield Figure("round, by scipy", tip.length() / INCH, perimeter(8.5, 6.5), 0.001)

    check(MARTIN, figures, "across: 6.5 in", "oval: 8.5 / 6.5", folder=tmp_path)


def opening(girth: str, ratio: str) -> str:
    return f"""{HEAD}allowance: 12 mm
pieces:
  brim:
    {{title: Brim, shape: ring, inner: {girth}, oval: {ratio}, width: 150 mm, cut: {{shell: 1}}}}
"""


def test_an_opening_of_576_mm_at_a_ratio_of_1_3(tmp_path: File) -> None:
    """The figures follow from scipy's perimeter; the ends' radii are b² ÷ a and a² ÷ b."""

    def figures(made: Written) -> Iterator[Figure]:
        loop = made.stitch("brim", "inner")
        length, breadth = across(loop)
        yield Figure("length", length, 206.4, 0.05)
        yield Figure("breadth", breadth, 158.8, 0.05)
        yield Figure("radius at centre back", bend(loop, 0), 61.1, 0.3)
        yield Figure("radius at the side", bend(loop, 0.25), 134.1, 0.3)

    formulas = ("inner: 576 mm", "oval: 1.3")
    check(opening("576 mm", "1.3"), figures, *formulas, folder=tmp_path)


def bend(path: Seen, share: float) -> float:
    """The radius, mm, of the circle through three points of a path 4 mm apart, round the one at a
    share of its length."""
    walked = points(path)[:-1]
    at = [0.0, *accumulate(abs(b - a) for a, b in pairwise([*walked, walked[0]]))]
    where = [(share * at[-1] + step) % at[-1] for step in (-4, 0, 4)]
    a, b, c = np.interp(where, at, [*walked, walked[0]])
    u, v = b - a, c - a
    return float(abs(u) * abs(v) * abs(v - u) / 2 / abs((u.conjugate() * v).imag))


@pytest.mark.parametrize("ratio", ["0.8", "1.02", "1.3", "2.4"])
def test_an_oval_is_as_long_as_its_elliptic_integral(ratio: str, tmp_path: File) -> None:
    """Its girth comes from ``inner`` alone, and its length and breadth belong to that girth."""

    def figures(made: Written) -> Iterator[Figure]:
        loop = made.stitch("brim", "inner")
        length, breadth = across(loop)
        known = max(float(ratio), 1 / float(ratio))
        yield Figure("girth", loop.length(), 590, 0.01)
        yield Figure("girth of such an ellipse", perimeter(length, breadth), 590, 0.05)
        yield Figure("ratio", length / breadth, known, 0.001)

    formulas = ("inner: 590 mm", f"oval: {ratio}")
    check(opening("590 mm", ratio), figures, *formulas, folder=tmp_path)
