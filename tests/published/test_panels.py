"""Panels in written files: areas by the shoelace formula of surveyors (as in any textbook of plane
geometry) and as shapely finds them, arcs as svgpathtools measures them, and the segment of a circle
(*Machinery's Handbook*, mensuration: area = ½(r·l − c·(r − h)), l = arc, c = chord, h = rise)."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path as File

from tests.published.checks import Figure, check
from tests.published.written import Written
from tests.recipes import HEAD


def panel(text: str) -> str:
    """A recipe for one panel."""
    return f"""{HEAD}allowance: 6 mm
pieces:
  panel:
    title: Panel
    shape: panel
{text}
    cut: {{shell: 1, lining: 1}}
"""


def shoelace(*corners: complex) -> float:
    """½ |Σ (xᵢ yᵢ₊₁ − xᵢ₊₁ yᵢ)|."""
    ring = (*corners, corners[0])
    return abs(sum(a.real * b.imag - b.real * a.imag for a, b in pairwise(ring))) / 2


def test_a_panel_of_straight_edges_has_the_area_of_the_shoelace_formula(tmp_path: File) -> None:
    """Corners by hand: C is 150 mm below B, D where a line of slope −1 from C meets the left."""
    front = panel("""\
    points:
      A: [0 mm, 0 mm]
      B: [240 mm, 0 mm]
      C: {from: B, go: 150 mm, towards: 90 deg}
      low: [0 mm, 400 mm]
      D: {meet: [[A, low], {from: C, towards: 135 deg}]}
    edges:
      outline: [A, B, C, D, A]""")

    def figures(made: Written) -> Iterator[Figure]:
        by_hand = shoelace(0, 240, 240 + 150j, 390j)
        yield Figure("area", made.area("panel"), by_hand, 0.01)
        yield Figure("area in the record", made.record["pieces"]["panel"]["area"], by_hand, 0.01)
        length = 240 + 150 + math.hypot(240, 240) + 390
        yield Figure("round it", made.stitch("panel", "outline").length(), length, 0.001)

    check(front, figures, "go: 150 mm", folder=tmp_path)


def test_a_hem_with_a_rise_is_the_segment_of_a_circle(tmp_path: File) -> None:
    """Chord 240, rise 50: r = (120² + 50²) ÷ 100 = 169 mm."""
    front = panel("""\
    points:
      A: [0 mm, 0 mm]
      B: [240 mm, 0 mm]
      C: [240 mm, 100 mm]
      D: [0 mm, 100 mm]
    edges:
      sides: [D, A, B, C]
      hem: {arc: [C, D], rise: 50 mm}""")

    def figures(made: Written) -> Iterator[Figure]:
        arc = 2 * 169 * math.asin(120 / 169)
        hem = made.stitch("panel", "hem")
        yield Figure("length of the arc", hem.length(), arc, 0.001)
        yield Figure("its radius", hem[0].radius.real, 169, 0.001)
        segment = (169 * arc - 240 * (169 - 50)) / 2
        yield Figure("area", made.area("panel"), 24000 + segment, 0.5)

    check(front, figures, "rise: 50 mm", folder=tmp_path)


def test_a_hole_is_taken_out_of_the_area(tmp_path: File) -> None:
    front = panel("""\
    points:
      A: [0 mm, 0 mm]
      B: [200 mm, 0 mm]
      C: [200 mm, 200 mm]
      D: [0 mm, 200 mm]
      middle: {meet: [[A, C], [B, D]]}
    edges:
      outline: [A, B, C, D, A]
    holes:
      face: {circle: middle, radius: 60 mm}""")

    def figures(made: Written) -> Iterator[Figure]:
        yield Figure("area", made.area("panel"), 40000 - math.pi * 3600, 0.5)
        yield Figure("round the hole", made.stitch("panel", "face").length(), math.tau * 60, 0.001)
        # Its allowance lies inside it.
        [_, hole] = made.cut("panel", "shell")
        yield Figure("cut round the hole", hole.length(), math.tau * 54, 0.001)

    check(front, figures, "radius: 60 mm", folder=tmp_path)


def test_a_dart_is_a_wedge_of_cloth_and_shortens_its_edge(tmp_path: File) -> None:
    """A dart 30 mm wide and 100 mm deep opens by 2·atan(15 ÷ 100) = 17.06 deg (trigonometry), and
    its legs are drawn equally long."""
    front = panel("""\
    points:
      A: [0 mm, 0 mm]
      B: [300 mm, 0 mm]
      C: [300 mm, 200 mm]
      D: [0 mm, 200 mm]
    edges:
      waist: [A, B]
      rest: [B, C, D, A]
    darts:
      tuck: {edge: waist, at: 1/2, depth: 100 mm, width: 30 mm}""")

    def figures(made: Written) -> Iterator[Figure]:
        one, other = made.dart("panel", "tuck")
        a, b = one.start - one.end, other.start - other.end
        angle = math.degrees(abs(cmath.phase(a / b)))
        yield Figure("angle", angle, 17.0615, 0.001)
        # What the drawn edge keeps on either side of the legs is what the record says is sewn.
        waist = made.stitch("panel", "waist")
        folded = math.fsum(
            part.length()
            for part in waist
            if min(one.start.real, other.start.real) - 1e-3 < part.start.real
            and part.end.real < max(one.start.real, other.start.real) + 1e-3
        )
        sewn = float(made.record["pieces"]["panel"]["edges"]["waist"])
        assert abs(waist.length() - folded - sewn) < 1e-3
        assert abs(one.length() - other.length()) < 1e-3

    check(front, figures, "depth: 100 mm", "width: 30 mm", folder=tmp_path)
