"""Cones and brims laid flat, against fine triangulations and what a cloth keeps when it bends."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from notchbook.drafting.geometry.develop import Brim, Cone, Swell, brim, cone
from notchbook.drafting.geometry.fit import End
from notchbook.drafting.geometry.integral import running


@given(st.floats(0.5, 40), st.floats(-3, 3), st.floats(0, 1))
@settings(deadline=None, max_examples=30)
def test_a_running_integral_follows_scipys(sharpness: float, peak: float, share: float) -> None:
    def f(t: float) -> float:
        return 1 / (1 + (sharpness * (t - peak)) ** 2)

    end = -3 + 6 * share
    expected = quad(f, -3, end, points=[peak] if -3 < peak < end else None, limit=200)[0]
    assert running(f, -3.0, 3.0, 0.0, 1e-7)(end) == pytest.approx(expected, abs=1e-8)


@given(st.floats(0.3, 3), st.floats(0, 1))
@settings(deadline=None, max_examples=30)
def test_a_running_integral_starts_where_it_is_told_and_follows_the_closed_form(
    waves: float, share: float
) -> None:
    def f(t: float) -> complex:
        return cmath.rect(100, waves * t)

    t = 1 + 3 * share
    expected = 7j + 100 * (cmath.rect(1, waves * t) - cmath.rect(1, waves)) / (1j * waves)
    assert abs(running(f, 1.0, 4.0, 7j, 1e-5)(t) - expected) < 1e-6


def oval_cone(a: float, b: float, foot: complex, height: float) -> Cone:
    def base(t: float) -> End:
        return (
            complex(-b * math.sin(t), -a * math.cos(t)),
            complex(-b * math.cos(t), a * math.sin(t)),
        )

    return cone(base, foot, height, 0.0)


CONES = {
    "a": st.floats(60, 140),
    "b": st.floats(60, 140),
    "lean": st.floats(0, 150),
    "way": st.floats(0, 6.28),
    "height": st.floats(80, 500),
}


@given(**CONES)
@settings(deadline=None, max_examples=10)
def test_a_cone_agrees_with_a_fine_triangulation(
    a: float, b: float, lean: float, way: float, height: float
) -> None:
    """Triangles from the apex to 20 000 chords of the base, laid one beside the other: each knows
    its three sides and nothing else."""
    made = oval_cone(a, b, cmath.rect(lean, way), height)
    ts = np.linspace(0, math.tau, 20_001)
    rim = np.stack([-b * np.sin(ts), -a * np.cos(ts), 0 * ts], axis=1)
    apex = np.array([lean * math.cos(way), lean * math.sin(way), height])
    rays = rim - apex
    far = np.linalg.norm(rays, axis=1)
    chords = np.linalg.norm(np.diff(rim, axis=0), axis=1)
    sines = np.linalg.norm(np.cross(rays[:-1], rays[1:]), axis=1) / (far[:-1] * far[1:])
    turned = np.concatenate([[0], np.cumsum(np.arcsin(sines))])
    for k in range(0, 20_001, 800):
        flat = made.laid(ts[k])[0]
        assert abs(flat - cmath.rect(far[k], turned[k])) < 1e-3
    assert made.angle == pytest.approx(turned[-1], abs=1e-6)
    assert chords.sum() == pytest.approx(
        sum(abs(made.laid(q)[0] - made.laid(p)[0]) for p, q in pairwise(ts[::40])), rel=1e-4
    )


@given(**CONES)
@settings(deadline=None, max_examples=10)
def test_the_derivative_is_that_of_the_flat_curve_and_as_long_as_in_space(
    a: float, b: float, lean: float, way: float, height: float
) -> None:
    made = oval_cone(a, b, cmath.rect(lean, way), height)
    for t in (0.3, 2.0, 5.0):
        slope = (made.laid(t + 1e-5)[0] - made.laid(t - 1e-5)[0]) / 2e-5
        assert abs(made.laid(t)[1] - slope) < 1e-3
        assert abs(made.laid(t)[1]) == pytest.approx(abs(made.base(t)[1]))


def test_a_right_cone_is_crossed_squarely_and_lies_in_a_sector() -> None:
    made = oval_cone(100, 100, 0, 240)
    assert made.angle == pytest.approx(math.tau * 100 / 260)
    assert made.crossing(1.0) == pytest.approx(math.pi / 2)
    assert all(abs(made.laid(t)[0]) == pytest.approx(260) for t in (0.0, 1.0, 4.0))


# Brims.

SLOPES = st.tuples(st.floats(20, 50), st.floats(-8, 8)).map(
    lambda both: Swell(math.radians(both[0]), math.radians(both[0] + both[1]))
)
BRIMS = {
    "a": st.floats(80, 120),
    "b": st.floats(70, 110),
    "slope": SLOPES,
    "width": st.tuples(st.floats(30, 120), st.floats(30, 120)).map(lambda both: Swell(*both)),
}


@given(st.floats(60, 140), st.floats(60, 140), st.floats(0, 6.28))
def test_the_opening_in_space_is_the_ellipse_and_faces_the_parameter(
    a: float, b: float, psi: float
) -> None:
    made = brim(a, b, Swell(0.5, 0.5), Swell(50, 50))
    point = made.level(psi)
    assert (point.real / b) ** 2 + (point.imag / a) ** 2 == pytest.approx(1)
    facing = complex(point.real / b**2, point.imag / a**2)
    assert cmath.phase(facing / complex(-math.sin(psi), -math.cos(psi))) == pytest.approx(0)


def in_space(made: Brim, psi: float, out: float) -> np.ndarray:
    """A point on the ruling of ψ, the opening at the height 0."""
    theta, q = made.slope.at(psi), made.skew(psi)
    normal = np.array([-math.sin(psi), -math.cos(psi), 0.0])
    along = np.array([-math.cos(psi), math.sin(psi), 0.0])
    opening = made.level(psi)
    down = normal * math.cos(theta) - np.array([0, 0, math.sin(theta)])
    return np.array([opening.real, opening.imag, 0.0]) + out * (down + q * along)


def in_the_flat(made: Brim, psi: float, out: float) -> complex:
    point, along = made.inner(psi)
    way = along / abs(along)
    return point + out * (-1j + made.skew(psi)) * way


@given(**BRIMS)
@settings(deadline=None, max_examples=15)
def test_laid_flat_a_brim_keeps_every_distance_between_neighbouring_points(
    a: float, b: float, slope: Swell, width: Swell
) -> None:
    """Points on two rulings close together, any way apart: what bends without stretching."""
    made = brim(a, b, slope, width)
    step = 1e-4
    for psi in (3.3, 4.0, 5.0, 6.0):
        for out in (0.0, 20.0, 40.0):
            for onward in (-0.5, 0.0, 0.5):
                ends = (psi - step / 2, out - onward * step), (psi + step / 2, out + onward * step)
                space = np.linalg.norm(in_space(made, *ends[1]) - in_space(made, *ends[0]))
                flat = abs(in_the_flat(made, *ends[1]) - in_the_flat(made, *ends[0]))
                # Rounding costs a few millionths of so short a way.
                assert flat == pytest.approx(space, rel=5e-6)


@given(**BRIMS)
@settings(deadline=None, max_examples=10)
def test_the_edge_in_space_is_as_long_as_in_the_flat_and_lies_on_the_brim(
    a: float, b: float, slope: Swell, width: Swell
) -> None:
    made = brim(a, b, slope, width)
    flat = 2 * quad(lambda psi: abs(made.outer(psi)[1]), math.pi, math.tau)[0]
    points = made.edge()
    assert sum(math.dist(p, q) for p, q in pairwise(points)) == pytest.approx(flat, abs=0.02)
    for p, middle, q in zip(points, points[1:], points[2:], strict=False):
        # A chord over two steps misses by four times as much as one over one.
        chord, way = np.subtract(q, p), np.subtract(middle, p)
        assert np.linalg.norm(np.cross(chord, way)) / np.linalg.norm(chord) < 0.04
    assert points[0] == points[-1]


@given(**BRIMS)
@settings(deadline=None, max_examples=10)
def test_derivatives_of_both_flat_edges(a: float, b: float, slope: Swell, width: Swell) -> None:
    made = brim(a, b, slope, width)
    for at in (made.inner, made.outer):
        for psi in (3.3, 4.5, 6.0):
            difference = (at(psi + 1e-5)[0] - at(psi - 1e-5)[0]) / 2e-5
            assert abs(at(psi)[1] - difference) < 1e-3


def test_a_level_brim_has_all_the_room_and_a_twisted_one_runs_out_of_it() -> None:
    level = brim(100, 80, Swell(0, 0), Swell(100, 100))
    assert level.angle == pytest.approx(math.tau)
    assert level.room(4.0) == 1
    twisted = brim(100, 80, Swell(math.radians(20), math.radians(70)), Swell(200, 200))
    assert min(twisted.room(math.pi * (1 + k / 32)) for k in range(33)) < 0.1
