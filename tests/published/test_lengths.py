"""Lengths and areas against general-purpose libraries: svgpathtools reads our path data, scipy
integrates and knows the elliptic integrals. Every check is seen to fail when ours is 1 % off."""

from __future__ import annotations

import math
from pathlib import Path as File

import pytest
from hypothesis import given, settings
from scipy.integrate import quad
from scipy.special import ellipe
from svgpathtools import parse_path

from notchbook.composing.markup.svg import path_data
from notchbook.drafting.geometry.path import Cubic, Segment, circle, cross
from tests.drafting.geometry.any import cubics, ellipse, path_of, segments
from tests.published.checks import agrees
from tests.published.written import write

few = settings(deadline=None, max_examples=25)


@few
@given(segments)
def test_svgpathtools_finds_the_same_length_in_our_path_data(segment: Segment) -> None:
    """Path data is rounded to 1e-4 mm."""
    seen = parse_path(path_data(path_of(segment)))
    assert agrees(segment.length(), seen.length(error=1e-9), 0.002)


@few
@given(cubics)
def test_scipy_integrates_a_curve_to_the_same_length(cubic: Cubic) -> None:
    known, _ = quad(lambda t: abs(cubic.derivative(t)), 0, 1, epsabs=1e-10, limit=200)
    assert agrees(cubic.length(), known, 1e-6)


@few
@given(segments)
def test_scipy_integrates_a_segment_to_the_same_area(segment: Segment) -> None:
    """Green's theorem: ½ ∫ (x dy − y dx)."""
    step = 1e-6

    def sweep(t: float) -> float:
        speed = (segment.point(t + step) - segment.point(t - step)) / (2 * step)
        return cross(segment.point(t), speed) / 2

    known, _ = quad(sweep, 0, 1, epsabs=1e-6, limit=200)
    assert segment.area() == pytest.approx(known, rel=1e-6, abs=1e-3)


@pytest.mark.parametrize(("a", "b"), [(103.2, 79.4), (100, 100), (250, 90)])
def test_an_ellipse_is_as_long_as_its_elliptic_integral(a: float, b: float) -> None:
    """4 a E(e²) with e² = 1 − b² ÷ a²; ``scipy.special.ellipe`` takes the square."""
    assert agrees(ellipse(a, b).length(), 4 * a * float(ellipe(1 - b * b / (a * a))), 0.005)
    assert agrees(ellipse(a, b).area(), math.pi * a * b, 0.005 * 2 * (a + b))


def test_a_circle_stays_exact_into_the_file() -> None:
    seen = parse_path(path_data(circle(12 + 7j, 91.673)))
    assert all(segment.__class__.__name__ == "Arc" for segment in seen)
    assert agrees(seen.length(), math.tau * 91.673, 0.001)


def test_rims_from_recipe_to_file_are_as_long_as_asked(tmp_path: File) -> None:
    made = write(
        """\
allowance: 12 mm
pieces:
  brim: {title: Brim, shape: ring, inner: 587.3 mm, oval: 1.29, width: 15 cm, cut: {shell: 1}}
  point: {title: Point, shape: cone, rim: 587.3 mm, height: 45 cm, cut: {shell: 1}}
  tip: {title: Tip, shape: disc, girth: 401 mm, cut: {lining: 1}}
""",
        tmp_path / "pattern.svg",
    )
    assert agrees(made.stitch("brim", "inner").length(), 587.3, 0.01)
    assert agrees(made.stitch("point", "rim").length(), 587.3, 0.01)
    assert agrees(made.stitch("tip", "edge").length(), 401, 0.01)
    # Pythagoras: the height and the base radius.
    slant = math.hypot(450, 587.3 / math.tau)
    assert agrees(made.stitch("point", "left").length(), slant, 0.001)
