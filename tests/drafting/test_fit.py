"""How far things ride up a head, against closed forms and against a head in many slices."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPoint

from notchbook.drafting.engine import draft, evaluate_in
from notchbook.drafting.fit import CROWN, rides_up, stacked, stands_off
from notchbook.drafting.shape import Refusal, Section, Shape
from notchbook.drafting.shapes import cone, disc, gore, tube
from notchbook.drafting.truing import true
from notchbook.problems import ContentError, Place
from notchbook.reading.formula import parse
from tests.recipes import HAT, HEAD, recipe

HEADS = st.floats(500, 660)


def inside(shape: Shape) -> tuple[Section, ...]:
    assert shape.form is not None
    return shape.form.inside


def test_a_cone_on_a_sphere_rides_up_by_the_closed_form() -> None:
    """Geometry: a cone of rim 2πr and slant s rides up a sphere of radius r by s − √(s² − r²); a
    head of 576 mm under a slant of 460 mm makes 9.2 mm."""
    found = rides_up(inside(cone.draft(rim=576, slant=460)), 576, 576 / math.tau)
    radius = 576 / math.tau
    assert found == pytest.approx(460 - math.sqrt(460**2 - radius**2))
    assert found == pytest.approx(9.2, abs=0.05)


def test_so_much_more_rim_that_it_sits_at_the_measured_line() -> None:
    """Geometry: the rim must be at least head ÷ cos α, sin α = r ÷ s: 11.8 mm more on 576 mm."""
    radius, slant = 576 / math.tau, 460
    rim = 576 / math.sqrt(1 - (radius / slant) ** 2)
    assert rim - 576 == pytest.approx(11.8, abs=0.1)
    height = math.sqrt(slant**2 - radius**2) * rim / 576
    sits = inside(cone.draft(rim=rim, height=height))
    assert rides_up(sits, 576, radius) == pytest.approx(0, abs=0.5)
    assert rides_up(inside(cone.draft(rim=rim - 6, height=height)), 576, radius) > 1


def tubes(girth: float, height: float) -> Shape:
    return tube.draft(girth=girth, height=height)


def frusta(rim: float, height: float) -> Shape:
    return cone.draft(rim=rim, height=height, keep=height / 2)


def gores(girth: float, height: float, count: int) -> Shape:
    return gore.draft(gores=count, girth=girth, height=height)


def leaning(height: float, lean: float) -> Shape:
    return cone.draft(rim=600, height=height, lean=lean)


@given(HEADS, st.floats(0.85, 1.2), st.floats(150, 600))
@settings(deadline=None, max_examples=30)
def test_a_cone_that_touches_on_its_side_follows_the_tangent(
    head: float, more: float, height: float
) -> None:
    high, wide = CROWN * head, head / math.tau
    r0 = wide * more
    closed = math.hypot(height * wide / r0, high) - height
    slope = r0 / height
    touching = slope * high**2 / math.hypot(wide, slope * high) - closed
    if touching > 0:
        found = rides_up(inside(cone.draft(rim=head * more, height=height)), head)
        assert found == pytest.approx(max(closed, 0), abs=1e-6)


CAPS = st.one_of(
    st.builds(tubes, st.floats(450, 700), st.floats(20, 200)),
    st.builds(frusta, st.floats(450, 700), st.floats(100, 400)),
    st.builds(gores, st.floats(500, 700), st.floats(60, 200), st.integers(4, 12)),
    st.builds(leaning, st.floats(200, 500), st.floats(5, 60)),
)


@given(HEADS, CAPS)
@settings(deadline=None, max_examples=40)
def test_no_head_is_squeezed_and_none_has_play(head: float, shape: Shape) -> None:
    """At rest no cut of the head is larger than the piece there; half a millimetre lower one is,
    unless it has come down to the measured line."""
    up = rides_up(inside(shape), head)
    assert squeeze(inside(shape), head, up) < 1e-6
    assert up == 0 or squeeze(inside(shape), head, up - 0.5) > 1e-6


def squeeze(line: tuple[Section, ...], head: float, up: float) -> float:
    """The most by which a radius of the head is larger than there is room for, mm, in cuts close
    together; a head that comes through the top is squeezed by what stands out."""
    high, top = CROWN * head, line[-1].height
    worst = high - up - top
    for k in range(4000):
        z = top * k / 4000
        if 0 <= up + z < high:
            worst = max(
                worst, head / math.tau * math.sqrt(1 - ((up + z) / high) ** 2) - room(line, z)
            )
    return worst


def room(line: tuple[Section, ...], z: float) -> float:
    above = next(k for k in range(1, len(line)) if line[k].height >= z)
    low, up = line[above - 1], line[above]
    share = (z - low.height) / (up.height - low.height) if up.height > low.height else 0.0
    return (low.girth + (up.girth - low.girth) * share) / math.tau - (
        low.aside + (up.aside - low.aside) * share
    )


def test_a_tube_closed_above_rides_up_by_what_it_is_too_low_and_stands_off_by_the_rest() -> None:
    low, tall = (inside(tube.draft(girth=600, height=height)) for height in (80, 140))
    assert rides_up(low, 570) == pytest.approx(CROWN * 570 - 80)
    assert stands_off(low, 570) == 0
    assert rides_up(tall, 570) == 0
    assert stands_off(tall, 570) == pytest.approx(140 - CROWN * 570)


def test_a_tight_band_stays_where_the_head_is_as_narrow_as_it() -> None:
    up = rides_up(inside(tube.draft(girth=540, height=200)), 570)
    assert up == pytest.approx(CROWN * 570 * math.sqrt(1 - (540 / 570) ** 2))


def test_a_leaning_point_rides_up_further_than_an_upright_one() -> None:
    upright, leaning = (cone.draft(rim=590, height=300, lean=lean) for lean in (0.0, 60.0))
    assert rides_up(inside(leaning), 570) > rides_up(inside(upright), 570) + 3


def test_everything_longer_by_a_factor_rides_up_by_as_much_more() -> None:
    small, large = (inside(cone.draft(rim=590 * k, height=300 * k)) for k in (1, 2))
    assert rides_up(large, 1140) == pytest.approx(2 * rides_up(small, 570))


def cap(*pieces: Shape) -> tuple[Section, ...]:
    """Several pieces sewn on each other, the lowest first."""
    return tuple(stacked([(f"piece {k}", inside(piece)) for k, piece in enumerate(pieces)]))


@given(HEADS, st.floats(0.9, 1.1), st.floats(20, 200))
@settings(deadline=None, max_examples=20)
def test_a_tube_with_a_disc_sewn_on_is_a_tube_closed_above(
    head: float, more: float, height: float
) -> None:
    side = tube.draft(girth=head * more, height=height)
    whole = cap(side, disc.draft(girth=head * more))
    for fits in (rides_up, stands_off):
        assert fits(whole, head) == pytest.approx(fits(inside(side), head), abs=1e-9)


LEANS = st.one_of(st.just(0.0), st.floats(15, 60))


@given(HEADS, st.floats(0.95, 1.1), st.floats(150, 400), st.floats(0.1, 0.6), LEANS)
@settings(deadline=None, max_examples=10)
def test_a_cone_in_two_pieces_is_the_whole_cone(
    head: float, more: float, height: float, share: float, lean: float
) -> None:
    rim, rest = head * more, 1 - share
    whole = cone.draft(rim=rim, height=height, lean=lean)
    lower = cone.draft(rim=rim, height=share * height, lean=share * lean, top=rest * rim)
    upper = cone.draft(rim=rest * rim, height=rest * height, lean=rest * lean)
    for fits in (rides_up, stands_off):
        assert fits(cap(lower, upper), head) == pytest.approx(fits(inside(whole), head), abs=1e-6)


@given(st.floats(80, 105), st.floats(40, 89), st.floats(5, 60))
@settings(deadline=None, max_examples=20)
def test_a_sloping_side_with_a_lid_rides_up_a_ball_by_the_closed_form(
    radius: float, degrees: float, lid: float
) -> None:
    """Geometry: a cone as wide as the ball it is on, of radius r, at α to the level, rides up by
    r ÷ cos α − r tan α and touches at the radius r sin α; its lid, h above its rim, lets it no
    further down than r − h."""
    slope = math.radians(degrees)
    girth, high = math.tau * radius, (radius - lid) * math.tan(slope)
    side = cone.draft(rim=girth, height=high, top=math.tau * lid)
    if radius * math.sin(slope) > lid:
        touches = radius / math.cos(slope) - radius * math.tan(slope)
        found = rides_up(cap(side, disc.draft(girth=math.tau * lid)), girth, radius)
        assert found == pytest.approx(max(touches, radius - high))


@given(st.floats(80, 105), st.floats(1, 1.2), st.floats(20, 60), st.floats(0, 1))
@settings(deadline=None, max_examples=20)
def test_a_gathered_top_lets_a_band_down_on_a_ball_as_far_as_it_reaches(
    radius: float, more: float, band: float, up: float
) -> None:
    """Geometry: from a point at the distance D from a ball's middle, at the angle φ off the axis,
    the shortest way to its pole is √(D² − r²) + r (φ − acos(r ÷ D))."""
    wide, rise = radius * more, (radius - band) * up
    away, angle = math.hypot(wide, band + rise), math.atan2(wide, band + rise)
    reach = math.sqrt(away**2 - radius**2) + radius * (angle - math.acos(radius / away))
    if reach > 1.03 * wide:
        soft = cap(tubes(math.tau * wide, band), disc.draft(girth=math.tau * reach))
        assert rides_up(soft, math.tau * radius, radius) == pytest.approx(rise, abs=1e-3)
        assert stands_off(soft, math.tau * radius, radius) == 0


@given(HEADS, st.floats(1, 1.06), st.floats(1.05, 1.5))
@settings(deadline=None, max_examples=20)
def test_at_rest_a_gathered_top_is_as_long_as_a_string_drawn_over_the_head(
    head: float, more: float, full: float
) -> None:
    """The string is the hull of the head, cut in half, and of the edge of the band."""
    girth, band = head * more, 35.0
    up = rides_up(cap(tubes(girth, band), disc.draft(girth=girth * full)), head)
    turns = [math.pi / 2 * k / 2000 for k in range(2001)]
    sides = [(head / math.tau * math.sin(t), CROWN * head * math.cos(t)) for t in turns]
    edge = girth / math.tau, band + up
    below = (0.0, edge[1]), (0.0, CROWN * head)
    hull = MultiPoint([edge, *below, *(at for at in sides if at[1] > edge[1])]).convex_hull
    string = hull.length - edge[0] - (below[1][1] - below[0][1])
    if up:
        assert string == pytest.approx(full * girth / math.tau, abs=0.01)
    else:
        assert string < full * girth / math.tau + 0.01


def test_a_round_cap_rides_up_by_what_its_panes_do_beyond_its_band() -> None:
    pane, band = gores(590, 60, 6), tubes(590, 20)
    alone = rides_up(inside(pane), 570)
    assert alone > 25
    assert rides_up(cap(band, pane), 570) == pytest.approx(alone - 20)


def test_what_is_not_sewn_to_each_other_is_refused() -> None:
    low, high = tubes(590, 50), tubes(500, 50)
    with pytest.raises(Refusal, match="590 mm round at its top and piece “piece 1” 500 mm at its"):
        cap(low, high)
    with pytest.raises(Refusal, match="500 mm round at its top and piece “piece 1” 590 mm"):
        cap(high, low)
    with pytest.raises(Refusal, match="Nothing can stand on piece “piece 1”, which is closed"):
        cap(low, disc.draft(girth=590), low)


LIMIT = 'limits:\n  - {require: "rides_up(crown, head) < 15 mm", say: It rides up.}\n'


def test_an_author_asks_for_it_in_formulas_and_limits() -> None:
    rule = recipe((HEAD + HAT).replace("workings:\n", LIMIT + "workings:\n"))
    made = draft(rule, rule.sizes[0])
    up = evaluate_in(made, parse("rides_up(crown, head)", Place("recipe.md", 1, 1)))
    assert 0 < up.value < 15
    assert evaluate_in(made, parse("stands_off(crown, head)", Place("recipe.md", 1, 1))).value > 100
    low = (HEAD + HAT).replace("height: height", "height: 9 cm")
    told = [p.what for p in true(recipe(low.replace("workings:\n", LIMIT + "workings:\n")))]
    assert any("(rides_up(crown, head) < 15 mm): It rides up." in what for what in told)


@pytest.mark.parametrize(
    ("formula", "says"),
    [
        ("rides_up(brim, head)", "Nothing can be put into piece “brim”."),
        ("rides_up(crown, 3)", "takes the girth of a head, and this comes to 3"),
        ("rides_up(crown, 3 mm)", "takes the girth of a head, and this comes to 3 mm"),
        ("rides_up(crown.rim, head)", "An edge has no rides_up; a whole piece has."),
        ("rides_up(crown)", "“rides_up” takes a piece and the girth of the head"),
        ("rides_up(5 cm, head)", "“rides_up” takes a piece and the girth of the head"),
        ("rides_up(crown, 5 cm, head)", "“rides_up” takes a piece and the girth of the head"),
        ("rides_up(crown, brim, head)", "Nothing can be put into piece “brim”."),
        ("rides_up(crown, crown, head)", "Nothing can stand on piece “crown”"),
        ("rides_up(crown, crow, head)", "No piece is called “crow”"),
        ("rides_up(crown, crown.rim, head)", "An edge has no rides_up; a whole piece has."),
        ("rides_up + 3 cm", "“rides_up” is a function, and no parenthesis follows it"),
        ("rides_up(crow, head)", "No piece is called “crow”"),
        ("rides_up(crown, hed)", "“hed”"),
    ],
)
def test_what_it_cannot_be_asked_is_said(formula: str, says: str) -> None:
    front = (HEAD + HAT).replace("workings:\n", f"workings:\n  up: {formula}\n")
    try:
        found = true(recipe(front))
    except ContentError as error:
        found = tuple(error.problems)
    assert any(says in problem.what for problem in found)
