"""Cones, frusta, areas and volume against E. M. Longfield, *Sheet Metal Drafting* (McGraw-Hill
1921), chapter V, and a tin gallon (*Popular Science Monthly* 92, 1918, p. 776)."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path as File

from tests.published.checks import INCH, Figure, check
from tests.published.written import Written
from tests.recipes import HEAD


def cone(parameters: str) -> str:
    """A recipe for one cone."""
    return f"""{HEAD}allowance: 12 mm
pieces:
  cone: {{title: Cone, shape: cone, {parameters}, cut: {{shell: 1}}}}
"""


def length(made: Written, edge: str) -> float:
    """Of one edge of the cone, in inches."""
    return float(made.stitch("cone", edge).length()) / INCH


def area(made: Written) -> float:
    """Of the cone laid flat, in square inches."""
    return made.area("cone") / INCH**2


def degrees(made: Written) -> float:
    """The angle between the two seam edges: how far the rim turns from one to the other."""
    left, right = made.stitch("cone", "left"), made.stitch("cone", "right")
    a, b = left.start - left.end, right.end - right.start
    return math.degrees(math.atan2(abs((b.conjugate() * a).imag), (b.conjugate() * a).real))


def test_a_sector_with_an_arc_of_14_in_and_a_radius_of_7_in_has_49_sq_in(tmp_path: File) -> None:
    def figures(made: Written) -> Iterator[Figure]:
        yield Figure("area", area(made), 49, 0.001)

    check(cone("rim: 14 in, slant: 7 in"), figures, "rim: 14 in", "slant: 7 in", folder=tmp_path)


def test_a_base_of_5_in_across_and_a_slant_of_12_in(tmp_path: File) -> None:
    def figures(made: Written) -> Iterator[Figure]:
        yield Figure("circumference", length(made, "rim"), 15.7080, 0.0001)
        yield Figure("lateral area", area(made), 94.248, 0.001)
        yield Figure("angle of the sector", degrees(made), 75, 0.001)

    front = cone("rim: pi * 5 in, slant: 12 in")
    check(front, figures, "rim: pi * 5 in", "slant: 12 in", folder=tmp_path)


def test_a_base_of_4_in_across_and_an_altitude_of_7_in(tmp_path: File) -> None:
    def figures(made: Written) -> Iterator[Figure]:
        yield Figure("slant", length(made, "left"), 7.280, 0.0005)
        yield Figure("angle of the sector", degrees(made), 98.90, 0.005)
        yield Figure("lateral area", area(made), 45.74, 0.005)

    front = cone("rim: pi * 4 in, height: 7 in")
    check(front, figures, "rim: pi * 4 in", "height: 7 in", folder=tmp_path)


def test_a_frustum_6_and_3_in_across_and_3_in_high(tmp_path: File) -> None:
    def figures(made: Written) -> Iterator[Figure]:
        yield Figure("slant", length(made, "right"), 3.354, 0.0005)
        yield Figure("lateral area", area(made), 47.42, 0.01)
        # Longfield: half the sum of both circumferences times the slant.
        sum_ = length(made, "rim") + length(made, "top")
        yield Figure("area by the rule", sum_ / 2 * length(made, "left"), 47.42, 0.01)
        # The pattern's radii: how far its edges lie from where the two seam edges meet.
        near, far = radii(made)
        yield Figure("larger radius of the pattern", far, 6.708, 0.0005)
        yield Figure("smaller radius of the pattern", near, 3.354, 0.0005)
        yield Figure("angle of the sector", degrees(made), 161.0, 0.05)

    front = cone("rim: pi * 6 in, top: pi * 3 in, height: 3 in")
    formulas = ("rim: pi * 6 in", "top: pi * 3 in", "height: 3 in")
    check(front, figures, *formulas, folder=tmp_path)


def radii(made: Written) -> tuple[float, float]:
    """How far, in inches, top and rim lie from the point the two seam edges run towards."""
    left, right = made.stitch("cone", "left"), made.stitch("cone", "right")
    p, d = right.start, right.end - right.start
    q, e = left.end, left.start - left.end
    apex = p + d * ((q - p).conjugate() * e).imag / (d.conjugate() * e).imag
    return abs(right.start - apex) / INCH, abs(right.end - apex) / INCH


def test_half_a_disc_when_the_slant_is_the_rim_over_pi(tmp_path: File) -> None:
    """Geometry."""

    def figures(made: Written) -> Iterator[Figure]:
        yield Figure("angle of the sector", degrees(made), 180, 1e-3)

    front = cone("rim: 600 mm, slant: 600 mm / pi")
    check(front, figures, "rim: 600 mm", "slant: 600 mm / pi", folder=tmp_path)


def test_a_quarter_when_the_slant_is_twice_the_rim_over_pi(tmp_path: File) -> None:
    """Geometry."""

    def figures(made: Written) -> Iterator[Figure]:
        yield Figure("angle of the sector", degrees(made), 90, 1e-3)

    front = cone("rim: 600 mm, slant: 1200 mm / pi")
    check(front, figures, "rim: 600 mm", "slant: 1200 mm / pi", folder=tmp_path)


def test_a_tin_gallon_holds_almost_its_legal_231_cubic_inches(tmp_path: File) -> None:
    """A frustum 9.80 in high, 6.53 and 4.35 in across: 230.8 cubic inches."""

    def figures(made: Written) -> Iterator[Figure]:
        yield Figure("volume", made.working("holds") / INCH**3, 230.8, 0.05)
        # And from its pattern: what lies between two circles as long as the edges.
        rim, top = length(made, "rim") / math.tau, length(made, "top") / math.tau
        high = math.sqrt(length(made, "left") ** 2 - (rim - top) ** 2)
        volume = math.pi * high * (rim * rim + rim * top + top * top) / 3
        yield Figure("volume of what its pattern makes", volume, 230.8, 0.05)
        yield Figure("volume in gallons of 231 cubic inches", volume / 231, 1, 0.002)

    front = cone("rim: pi * 6.53 in, top: pi * 4.35 in, height: 9.80 in")
    front += "workings:\n  holds: volume(cone)\n"
    formulas = ("rim: pi * 6.53 in", "top: pi * 4.35 in", "height: 9.80 in")
    check(front, figures, *formulas, folder=tmp_path)
