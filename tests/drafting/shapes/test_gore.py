"""Gores: of caps and globes, bent truly or laid out by width, round and oval."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import ellipe, ellipeinc
from shapely.geometry import LineString, Polygon

from notchbook.drafting.aids.profile import Stretch
from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.geometry.segments import Line
from notchbook.drafting.shape import Curve, Refusal, Shape, Word
from notchbook.drafting.shapes.gore import draft
from tests.drafting.shapes.follow import check, check_flat, check_form, distance

GLOBE = Word("globe")
BALL = (Stretch("arc", (0j, 100 + 100j, 200j)),)
"""A globe of radius 100 mm, from pole to pole."""
HOOK = (Stretch("curve", (72 + 0j, 121 + 0j, 83 + 0j, 118 + 0j)),)
BOWL = (Stretch("line", (90 + 0j, 40 + 50j)),)
ONION = (Stretch("line", (80 + 0j, 80 + 30j)), Stretch("curve", (110 + 70j, 60 + 140j, 170j)))


def lengths(shape: Shape) -> dict[str, float]:
    return {name: edge.path.length() for name, edge in shape.flat.edges.items()}


def area(shape: Shape) -> float:
    return math.fsum(path.area() for path in shape.flat.outline())


def volume(shape: Shape) -> float:
    assert shape.form is not None
    return shape.form.volume


def becomes(shape: Shape, edge: str) -> float:
    """The length of the curve that an edge becomes."""
    assert shape.form is not None
    curve = shape.form.edges[edge]
    assert isinstance(curve, Curve)
    return math.fsum(math.dist(a, b) for a, b in pairwise(curve.points))


sizes = {
    "gores": st.integers(3, 16),
    "girth": st.floats(250, 750),
    "steep": st.floats(0.4, 2),
}


@settings(deadline=None, max_examples=12)
@given(**sizes, oval=st.one_of(st.just(1.0), st.floats(0.5, 2)), data=st.data())
def test_bent_ones_agree_and_their_edges_keep_the_length_of_the_meridian(
    gores: int, girth: float, steep: float, oval: float, data: st.DataObject
) -> None:
    number = data.draw(st.integers(1, gores))
    height = girth / math.tau * steep
    check(draft(gores=gores, girth=girth, height=height, oval=oval, number=number))


@settings(deadline=None, max_examples=12)
@given(**sizes, tip=st.one_of(st.none(), st.floats(8, 15)))
def test_globe_ones_agree_but_for_what_is_eased(
    gores: int, girth: float, steep: float, tip: float | None
) -> None:
    shape = draft(gores=gores, girth=girth, height=girth / math.tau * steep, kind=GLOBE, tip=tip)
    over = lengths(shape)["left"] - becomes(shape, "left")
    assert over > 0
    check(shape, {"left": over, "right": over})


@pytest.mark.parametrize("gores", [3, 4, 6, 8, 12])
def test_the_edges_of_globe_gores_are_longer_by_the_known_amount(gores: int) -> None:
    """A half globe: along the edge, ds = √(1 + (π/n)² sin² φ) r dφ."""
    squared = (math.pi / gores) ** 2
    known = math.sqrt(1 + squared) * ellipe(squared / (1 + squared))
    made = lengths(draft(gores=gores, girth=math.tau * 100, kind=GLOBE))
    assert made["left"] == pytest.approx(100 * known, abs=0.002)
    assert made["right"] == pytest.approx(made["left"], rel=1e-9)


@pytest.mark.parametrize("gores", [3, 5, 6, 12])
@pytest.mark.parametrize("oval", [1.0, 1.29, 0.7])
def test_bent_gores_close_round_an_oval(gores: int, oval: float) -> None:
    numbers = range(1, gores + 1)
    made = [draft(gores=gores, girth=580, height=120, oval=oval, number=k) for k in numbers]
    for one, following in zip(made, [*made[1:], made[0]], strict=True):
        assert lengths(one)["left"] == pytest.approx(lengths(following)["right"], abs=1e-3)
        assert one.form is not None
        assert following.form is not None
        left, right = one.form.edges["left"], following.form.edges["right"]
        assert isinstance(left, Curve)
        assert isinstance(right, Curve)
        for a, b in zip(left.points, right.points[::-1], strict=True):
            assert math.dist(a, b) < 1e-6
    assert math.fsum(lengths(one)["base"] for one in made) == pytest.approx(580, rel=1e-9)
    assert len({round(lengths(one)["base"], 6) for one in made}) == 1


@settings(deadline=None, max_examples=10)
@given(**sizes, kind=st.sampled_from(["bent", "globe"]))
def test_a_fitted_edge_strays_less_than_it_may(
    gores: int, girth: float, steep: float, kind: str
) -> None:
    """Against the elliptic integral of the second kind, which is how far up the middle a gore
    reaches: ∫ √(a² sin² + h² cos²) = h E(φ | 1 − a²/h²)."""
    height = girth / math.tau * steep
    edge = draft(gores=gores, girth=girth, height=height, kind=Word(kind)).flat.edges["left"].path
    half = math.pi / gores
    a = girth / math.tau * (half / math.tan(half) if kind == "bent" else 1)
    for k in range(1, 60):
        phi = math.pi / 2 * k / 60
        up = height * ellipeinc(phi, 1 - (a / height) ** 2)
        assert distance(complex(-girth / 2 / gores * math.cos(phi), -up), edge) < 0.01


def test_on_an_oval_gores_mirror_each_other_across_and_along_it() -> None:
    made = [draft(gores=6, girth=580, oval=1.29, number=k) for k in range(1, 7)]
    for a, b in ((0, 5), (1, 4), (2, 3), (0, 2), (1, 1)):
        one, other = lengths(made[a]), lengths(made[b])
        assert one["left"] == pytest.approx(other["right"], abs=1e-3)
        assert one["right"] == pytest.approx(other["left"], abs=1e-3)
        assert area(made[a]) == pytest.approx(area(made[b]), rel=1e-6)
    assert abs(lengths(made[0])["left"] - lengths(made[0])["right"]) > 1


def test_gores_are_counted_from_centre_back_round_by_the_left() -> None:
    form = draft(gores=4, girth=580, number=1).form
    assert form is not None
    right, left = form.edges["right"], form.edges["left"]
    assert isinstance(right, Curve)
    assert isinstance(left, Curve)
    assert right.points[-1][0] == pytest.approx(0, abs=1e-9)
    assert right.points[-1][1] < 0
    assert left.points[0][0] < 0
    assert left.points[0][1] == pytest.approx(0, abs=1e-9)


@settings(deadline=None, max_examples=10)
@given(gores=st.integers(3, 16), radius=st.floats(40, 300))
def test_all_globe_gores_together_have_the_area_and_the_volume_of_the_globe(
    gores: int, radius: float
) -> None:
    profile = (Stretch("arc", (0j, complex(radius, radius), 2j * radius)),)
    shape = draft(gores=gores, profile=profile, kind=GLOBE)
    assert set(shape.flat.edges) == {"left", "right"}
    assert gores * area(shape) == pytest.approx(4 * math.pi * radius**2, rel=1e-5)
    assert gores * volume(shape) == pytest.approx(4 / 3 * math.pi * radius**3, rel=1e-6)


@settings(deadline=None, max_examples=8)
@given(gores=st.integers(3, 10), oval=st.floats(0.5, 2), steep=st.floats(0.4, 2))
def test_bending_keeps_the_area(gores: int, oval: float, steep: float) -> None:
    """Against flat triangles laid between the two edges in space."""
    shape = draft(gores=gores, girth=600, height=600 / math.tau * steep, oval=oval)
    assert shape.form is not None
    left, right = shape.form.edges["left"], shape.form.edges["right"]
    assert isinstance(left, Curve)
    assert isinstance(right, Curve)
    total = 0.0
    for (a, b), (c, d) in zip(pairwise(left.points), pairwise(right.points[::-1]), strict=True):
        total += triangle(a, b, c) + triangle(b, d, c)
    assert area(shape) == pytest.approx(total, rel=2e-4)


def triangle(
    a: tuple[float, float, float], b: tuple[float, float, float], c: tuple[float, float, float]
) -> float:
    """Heron's formula, as it is written to keep its digits."""
    z, y, x = sorted((math.dist(a, b), math.dist(b, c), math.dist(c, a)))
    return math.sqrt(max((x + y + z) * (z - (x - y)) * (z + (x - y)) * (x + (y - z)), 0)) / 4


@settings(deadline=None, max_examples=10)
@given(k=st.floats(0.5, 3), kind=st.sampled_from(["bent", "globe"]))
def test_all_lengths_k_times_as_large_make_everything_so(k: float, kind: str) -> None:
    tips = {"tip": 12.0} if kind == "globe" else {}
    large = {"tip": 12.0 * k} if kind == "globe" else {}
    one = draft(gores=6, girth=580, height=110, kind=Word(kind), **tips)
    other = draft(gores=6, girth=580 * k, height=110 * k, kind=Word(kind), **large)
    for name, length in lengths(one).items():
        assert lengths(other)[name] == pytest.approx(k * length, rel=2e-5)
    assert area(other) == pytest.approx(k**2 * area(one), rel=2e-5)
    assert volume(other) == pytest.approx(k**3 * volume(one), rel=1e-9)


def tip_angle(shape: Shape) -> float:
    left, right = shape.flat.edges["left"].path, shape.flat.edges["right"].path
    return cmath.phase(right.segments[0].tangent(0) / -left.segments[-1].tangent(1)) % math.tau


@pytest.mark.parametrize("gores", [4, 6, 8])
def test_narrow_tips_fall_short_of_a_full_turn_and_rounded_or_bent_ones_do_not(gores: int) -> None:
    def turn(**more: object) -> float:
        made = gores * tip_angle(draft(gores=gores, girth=580, **more))  # type: ignore[arg-type]
        return math.degrees(min(made, gores * math.tau - made))

    assert turn(kind=GLOBE) == pytest.approx(math.degrees(2 * gores * math.atan(math.pi / gores)))
    assert turn(kind=GLOBE) < 350
    assert turn(kind=GLOBE, tip=12.0) == pytest.approx(360)
    assert turn() == pytest.approx(360)


def test_a_rounded_tip_changes_nothing_below_it() -> None:
    plain = draft(gores=6, girth=580, kind=GLOBE)
    rounded = draft(gores=6, girth=580, kind=GLOBE, tip=12.0)
    for along in (1.0, 40.0, 100.0, 130.0):
        a, b = (shape.flat.edges["left"].path.point_at(along) for shape in (plain, rounded))
        assert abs(a - b) < 0.01
    assert area(rounded) > area(plain)
    assert bounds(rounded.flat.outline()).height == pytest.approx(580 / 4, abs=1e-3)


def test_a_profile_may_bulge_and_run_straight_and_end_in_a_hole() -> None:
    onion = draft(gores=8, profile=ONION)
    check(onion)
    assert lengths(onion)["base"] == pytest.approx(math.tau * 80 / 8)
    drum = draft(gores=5, profile=(Stretch("line", (90 + 0j, 90 + 60j, 40 + 90j)),))
    check(drum)
    assert all(isinstance(s, Line) for e in drum.flat.edges.values() for s in e.path.segments)
    assert lengths(drum)["top"] == pytest.approx(math.tau * 40 / 5)


def test_both_tips_of_a_globe_are_rounded() -> None:
    shape = draft(gores=6, profile=BALL, kind=GLOBE, tip=14.0)
    over = lengths(shape)["left"] - becomes(shape, "left")
    check(shape, {"left": over, "right": over})
    box = bounds(shape.flat.outline())
    assert box.height == pytest.approx(100 * math.pi, abs=1e-3)


@pytest.mark.parametrize("number", range(1, 13))
def test_the_grain_lies_on_the_cloth_also_where_the_middle_does_not(number: int) -> None:
    shape = draft(gores=12, girth=600, oval=3, number=number)
    check_flat(shape)
    check_form(shape)
    cloth = Polygon([(p.real, p.imag) for p in shape.flat.outline()[0].points()])
    assert cloth.contains(LineString([(p.real, p.imag) for p in shape.flat.grain]))


@pytest.mark.parametrize(
    ("given", "parameter", "said"),
    [
        ({"gores": 2, "girth": 580.0}, "gores", "2 gores make no round thing."),
        ({"gores": 6}, "girth", "Neither “girth” nor “profile”"),
        ({"gores": 6, "girth": 580.0, "profile": BALL}, "profile", "Both"),
        ({"gores": 6, "profile": BALL, "height": 80.0}, "height", "how high it is"),
        ({"gores": 6, "girth": 580.0, "tip": 12.0}, "tip", "need no rounded tip"),
        ({"gores": 6, "girth": 580.0, "kind": GLOBE, "tip": 90.0}, "tip", "145 mm long"),
        ({"gores": 6, "girth": 580.0, "kind": GLOBE, "oval": 1.29}, "kind", "neighbours"),
        ({"gores": 6, "girth": 580.0, "kind": Word("glob")}, "kind", "can't be “glob”"),
        ({"gores": 6, "girth": 580.0, "number": 7}, "number", "among 6"),
        ({"gores": 90, "girth": 50.0}, "gores", "only 0.56 mm across"),
        ({"gores": 6, "profile": HOOK}, "profile", "turns back on itself"),
        ({"gores": 6, "girth": 580.0, "oval": 9.0}, "oval", "out of reach"),
        (
            {"gores": 6, "profile": BOWL, "kind": GLOBE, "tip": 9.0},
            "tip",
            "no tip to round",
        ),
    ],
)  # fmt: skip
def test_what_is_no_gore_is_refused_by_name(
    given: dict[str, object], parameter: str, said: str
) -> None:
    with pytest.raises(Refusal) as refused:
        draft(**given)  # type: ignore[arg-type]
    assert refused.value.parameter == parameter
    assert said in refused.value.what
