"""How often to clip or notch: closed forms on circles and ellipses."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.clips import OPENS, RIPPLES, clip_spacing
from notchbook.drafting.engine import draft, evaluate_in
from notchbook.drafting.geometry.oval import oval
from notchbook.drafting.geometry.path import circle, polyline
from notchbook.problems import ContentError, Place
from notchbook.reading.formula import parse
from tests.recipes import HAT, HEAD, recipe


@given(st.floats(20, 2000), st.floats(1, 40))
@settings(deadline=None, max_examples=30)
def test_cuts_round_a_circle_share_out_what_its_allowance_misses(radius: float, w: float) -> None:
    # Folded over, an allowance w wide has 2πw too much or too little twice over.
    missing = 2 * math.tau * w
    hole, disc = circle(0, radius, 0, -math.tau), circle(0, radius)
    for path, within in ((hole, OPENS), (disc, RIPPLES)):
        cuts = path.length() / clip_spacing(path, w)
        assert cuts == pytest.approx(max(missing / within, 1))


def test_a_head_opening_is_clipped_every_twelve_millimetres_or_so() -> None:
    assert clip_spacing(circle(0, 94, 0, -math.tau), 12) == pytest.approx(11.75)


def test_an_oval_is_clipped_more_closely_at_its_ends() -> None:
    a, b = 103.2, 79.4
    hole = oval(0, a, b).reversed()
    round_ = circle(0, hole.length() / math.tau, 0, -math.tau)
    # An ellipse bends most at the ends of its longer axis: a ÷ b².
    assert clip_spacing(hole, 12) == pytest.approx(OPENS / (2 * 12 * a / b**2), rel=2e-3)
    assert clip_spacing(hole, 12) < clip_spacing(round_, 12)


def test_a_straight_edge_and_one_without_allowance_are_not_cut() -> None:
    assert clip_spacing(polyline(0, 300), 12) == 300
    assert clip_spacing(circle(0, 100), 0) == pytest.approx(math.tau * 100)
    assert clip_spacing(circle(0, 100), -2) == pytest.approx(math.tau * 100)


def test_a_straight_edge_spreads_round_the_curve_it_becomes() -> None:
    # Laid on what lies w outside a whole circle, a straight allowance is 2πw too short.
    for radius, w in ((50, 10), (94, 12)):
        edge, level = polyline(0, math.tau * radius), circle(0, radius)
        cuts = edge.length() / clip_spacing(edge, w, level)
        assert cuts == pytest.approx(math.tau * w / OPENS)
        assert clip_spacing(edge, w, level.reversed()) == clip_spacing(edge, w, level)


def test_a_curved_edge_is_clipped_by_its_own_bend_whatever_it_becomes() -> None:
    hole = circle(0, 94, 0, -math.tau)
    assert clip_spacing(hole, 12, circle(0, 50)) == clip_spacing(hole, 12)


def test_a_recipe_prints_how_often_to_clip() -> None:
    made = draft(recipe(), recipe().sizes[0])
    formula = parse("clips(brim.inner)", Place("x", 1, 1))
    inner = made.pieces["brim"].flat.edges["inner"].path
    assert evaluate_in(made, formula).value == pytest.approx(clip_spacing(inner, 12))
    front = (HEAD + HAT).replace(
        "allowance: 12 mm\n", "  every: clips(brim.inner)\nallowance: 12 mm\n"
    )
    rule = recipe(front)
    assert draft(rule, rule.sizes[0]).values["every"].value == pytest.approx(
        clip_spacing(inner, 12)
    )


def test_a_recipe_may_say_what_the_allowance_is_trimmed_to() -> None:
    made = draft(recipe(), recipe().sizes[0])
    here = Place("x", 1, 1)
    whole = evaluate_in(made, parse("clips(brim.inner)", here))
    trimmed = evaluate_in(made, parse("clips(brim.inner, 12 mm / 2)", here))
    assert trimmed.value == pytest.approx(2 * whole.value)
    with pytest.raises(ContentError) as caught:
        evaluate_in(made, parse("clips(brim.inner, 6)", here))
    (problem,) = caught.value.problems
    assert "trimmed to, and this comes to 6" in problem.what
    assert problem.remedy == "Write a length: clips(brim.inner, 6 mm)."


def test_a_trimmed_allowance_closes_no_circle() -> None:
    front = (HEAD + HAT).replace("{outer: 6 mm}", '{outer: "clips(brim.outer, 6 mm) / 2"}')
    rule = recipe(front)
    made = draft(rule, rule.sizes[0])
    outer = made.pieces["brim"].flat.edges["outer"].path
    assert made.pieces["brim"].cut_lines[0].allowance["outer"] == pytest.approx(
        clip_spacing(outer, 6) / 2
    )


def test_an_allowance_that_needs_its_own_clips_is_a_circle() -> None:
    front = (HEAD + HAT).replace("{outer: 6 mm}", "{outer: clips(brim.outer) / 2}")
    rule = recipe(front)
    with pytest.raises(ContentError) as caught:
        draft(rule, rule.sizes[0])
    assert any("circle" in problem.what for problem in caught.value.problems)


def test_clips_of_a_whole_piece_asks_for_the_edge() -> None:
    with pytest.raises(ContentError) as caught:
        parse("clips(brim)", Place("x", 1, 1))
    assert "does not say which edge" in caught.value.problems[0].what
    assert "clips(brim.edge)" in caught.value.problems[0].remedy
