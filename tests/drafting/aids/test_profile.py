"""Profiles of surfaces of revolution: what they are made of, and what is none."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from notchbook.drafting.aids.profile import Stretch, path_of, quarter, squares, stretched
from notchbook.drafting.geometry.segments import Cubic, Line
from notchbook.drafting.shape import Refusal
from notchbook.drafting.signature import arguments
from notchbook.problems import ContentError
from notchbook.reading.quantity import literal
from tests.recipes import HEAD, recipe


def line(*points: tuple[float, float]) -> Stretch:
    return Stretch("line", tuple(complex(*point) for point in points))


def arc(*points: tuple[float, float]) -> Stretch:
    return Stretch("arc", tuple(complex(*point) for point in points))


def curve(*points: tuple[float, float]) -> Stretch:
    return Stretch("curve", tuple(complex(*point) for point in points))


def test_a_quarter_runs_upright_from_the_base_and_comes_in_level_on_its_axis() -> None:
    path = quarter(90, 120)
    assert path.start == 90
    assert path.end == 120j
    assert abs(path.segments[0].tangent(0) - 1j) < 1e-9
    assert abs(path.segments[-1].tangent(1) + 1) < 1e-9
    for point in path.points():
        assert (point.real / 90) ** 2 + (point.imag / 120) ** 2 == pytest.approx(1, abs=1e-5)


def test_an_arc_goes_through_its_middle_point() -> None:
    path = path_of([arc((0, 0), (100, 100), (0, 200))])
    for point in path.points():
        assert abs(point - 100j) == pytest.approx(100, abs=1e-4)
    assert path.start == 0
    assert path.end == 200j


def test_a_stretch_sets_out_where_the_one_before_it_ended_and_a_curve_in_its_direction() -> None:
    short = path_of([line((90, 0), (90, 40)), curve((70, 90), (0, 120))])
    full = path_of([line((90, 0), (90, 40)), curve((90, 40), (70, 90), (0, 120))])
    assert short == full
    straight, bend, *_ = short.segments
    assert isinstance(straight, Line)
    assert isinstance(bend, Cubic)
    assert abs(bend.tangent(0) - 1j) < 1e-9


def test_a_curve_on_the_axis_is_level_there() -> None:
    path = path_of([curve((0, 0), (90, 60), (60, 120), (0, 150))])
    assert abs(path.segments[0].tangent(0) - 1) < 1e-9
    assert abs(path.segments[-1].tangent(1) + 1) < 1e-9


@settings(deadline=None, max_examples=20)
@given(st.floats(1, 300), st.floats(1, 300), st.floats(0.2, 4))
def test_squares_are_the_volume(radius: float, height: float, across: float) -> None:
    path = stretched(quarter(radius, height), across)
    exact = (radius * across) ** 2 * height * 2 / 3
    assert squares(path) == pytest.approx(exact, rel=1e-6)
    bulge = path_of([line((80, 0), (90, 30)), curve((110, 70), (60, 140), (0, 170))])
    for segment in bulge.segments:
        if isinstance(segment, Cubic):
            found = quad(lambda t, c=segment: c.point(t).real ** 2 * c.derivative(t).imag, 0, 1)
            assert squares(type(bulge)((segment,))) == pytest.approx(found[0], rel=1e-9)


def test_a_frustum_is_the_volume_of_the_handbook() -> None:
    path = path_of([line((90, 0), (60, 50))])
    assert math.pi * squares(path) == pytest.approx(
        math.pi / 3 * 50 * (90**2 + 90 * 60 + 60**2), rel=1e-12
    )


@pytest.mark.parametrize(
    ("stretches", "said"),
    [
        ([line((90, 0))], "goes through 1 point."),
        ([arc((90, 0), (80, 50))], "goes through 2 points."),
        ([arc((90, 0), (80, 50), (60, 60), (0, 70))], "goes through 4 points."),
        ([line((90, 0), (-5, 50))], "−5 mm from its axis"),
        ([line((90, 0), (90, 0.01), (0, 50))], "within 0.1 mm of each other"),
        ([line((90, 0), (0, 50), (40, 90))], "comes to its axis at a height of 50 mm and goes on"),
        ([curve((90, 0), (3, 30), (3, 90), (90, 120))], "crosses its axis"),
        ([line((90, 0), (120, 60), (100, 40))], "doubles back: near a height of 50 mm"),
        ([curve((90, 0), (110, 99), (60, 100), (40, 101))], "doubles back"),
        ([line((90, 0), (120, 0), (100, 0))], "doubles straight back at [120 mm, 0 mm]"),
        ([arc((90, 0), (140, 50), (80, 60))], "doubles back"),
        ([arc((90, 0), (80, 50), (70, 100))], "lie on one straight line"),
        ([line((90, 0), (90, 3e7))], "30000 m up"),
        ([line((90, 0), (90.5, 0.5))], "has no length"),
        ([line((0, 0), (0, 60))], "nothing but its axis"),
    ],
)
def test_what_is_no_profile_is_refused_in_a_sentence(stretches: list[Stretch], said: str) -> None:
    with pytest.raises(Refusal) as refused:
        path_of(stretches)
    assert refused.value.parameter == "profile"
    assert said in refused.value.what
    assert refused.value.remedy.endswith(".")


POINTS = st.tuples(st.floats(-10, 200), st.floats(-10, 200))


@settings(deadline=None, max_examples=80)
@given(st.lists(st.builds(
    Stretch, st.sampled_from(["line", "arc", "curve"]),
    st.lists(POINTS.map(lambda p: complex(*p)), min_size=1, max_size=5).map(tuple),
), min_size=1, max_size=3))  # fmt: skip
def test_any_points_make_a_profile_or_a_refusal(stretches: list[Stretch]) -> None:
    try:
        path = path_of(stretches)
    except Refusal as refusal:
        assert refusal.what.endswith(".")
    else:
        heights = [point.imag for point in path.points()]
        assert all(b >= a - 2e-3 for a, b in pairwise(heights))
        assert all(point.real > -1e-5 for point in path.points())


def given_as(profile: str) -> object:
    """What a recipe's ``profile:`` gives a gore."""
    front = f"""{HEAD}allowance: 12 mm
pieces:
  gore: {{title: Gore, shape: gore, gores: 6, profile: {profile}, cut: {{shell: 1}}}}
"""
    rule = recipe(front, BODY).pieces["gore"]
    value = lambda scalar, dimension: literal(scalar.text).value  # noqa: E731
    return arguments(rule, value, lambda name, place: pytest.fail(name))["profile"]


BODY = """## Make it

1. Cut it.

    ```step
    cut: [gore]
    ```
"""


def test_authors_give_points_or_one_stretch_or_several() -> None:
    straight = (line((92, 0), (0, 110)),)
    assert given_as("[[92 mm, 0 mm], [0 mm, 11 cm]]") == straight
    assert given_as("{line: [[92 mm, 0 mm], [0 mm, 11 cm]]}") == straight
    assert given_as(
        "[{line: [[92 mm, 0 mm], [92 mm, 3 cm]]}, {curve: [[80 mm, 70 mm], [0 mm, 9 cm]]}]"
    ) == (line((92, 0), (92, 30)), curve((80, 70), (0, 90)))


@pytest.mark.parametrize(
    ("profile", "said"),
    [
        ("{spiral: [[92 mm, 0 mm], [0 mm, 11 cm]]}", "A profile has no “spiral”."),
        ("{curv: [[92 mm, 0 mm], [0 mm, 11 cm]]}", "A profile has no “curv”."),
        ("round", "A profile is made of points"),
        ("[]", "A profile is made of points"),
        ("{arc: round}", "Points are wanted here."),
        ("[[92 mm, 0 mm], 11 cm]", "A point of a profile is two lengths"),
        ("[[92 mm, 0 mm], [0 mm, 11 cm, 3 cm]]", "A point of a profile is two lengths"),
        ("[[92 mm, 0 mm], {curve: [[80 mm, 70 mm]]}]", "A point of a profile is two lengths"),
    ],
)
def test_what_is_written_otherwise_is_a_problem_at_its_place(profile: str, said: str) -> None:
    with pytest.raises(ContentError) as raised:
        given_as(profile)
    [problem] = raised.value.problems
    assert said in problem.what
    assert problem.place.column > len("  gore: {title: Gore, shape: gore, gores: 6, profile: ")
