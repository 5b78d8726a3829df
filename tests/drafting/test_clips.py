"""How often to clip or notch: closed forms on circles and ellipses, and what the trade does."""

from __future__ import annotations

import math

import pytest

from notchbook.drafting.clips import STANDS, cuts_along, cuts_of, needs_cuts
from notchbook.drafting.engine import draft
from notchbook.drafting.geometry.oval import oval
from notchbook.drafting.geometry.path import circle, polyline
from notchbook.drafting.shapes import cone, ring, strip, tube
from notchbook.problems import ContentError
from tests.composing.sample import piece
from tests.recipes import HAT, HEAD, STEPS, recipe


@pytest.mark.parametrize("radius", [60, 94, 240, 1000])
def test_a_tab_stands_no_further_off_a_circle_than_it_may(radius: float) -> None:
    (cuts,) = cuts_along(circle(0, radius))
    half = cuts.closest / 2
    assert cuts.how == "notch" and cuts.even
    assert radius - math.sqrt(radius**2 - half**2) == pytest.approx(STANDS, rel=0.01)


def test_a_hollow_edge_is_clipped_and_a_bulging_one_notched() -> None:
    assert [cuts.how for cuts in cuts_along(circle(0, 94, 0, -math.tau))] == ["clip"]
    wave = circle(0, 94, 0, 1.0).segments + circle(0, 94, 0, -1.0).segments
    assert [cuts.how for cuts in cuts_along(type(circle(0, 1))(wave))] == ["clip", "notch"]


def test_an_oval_is_clipped_more_closely_at_its_ends() -> None:
    a, b = 103.2, 79.4
    hole = oval(0, a, b).reversed()
    (cuts,) = cuts_along(hole, hole)
    # An ellipse bends by a ÷ b² at the ends of its longer axis and by b ÷ a² at its sides.
    assert cuts.closest == pytest.approx(math.sqrt(8 * STANDS * b**2 / a), rel=2e-3)
    assert cuts.widest == pytest.approx(math.sqrt(8 * STANDS * a**2 / b), rel=2e-3)
    assert cuts.close == "ends"
    (broad,) = cuts_along(oval(0, b, a), oval(0, b, a))
    assert broad.close == "sides"


def test_a_straight_edge_is_not_cut_unless_it_spreads_round_a_curve() -> None:
    edge = polyline(0, math.tau * 94)
    assert cuts_along(edge) == ()
    (cuts,) = cuts_along(edge, circle(0, 94))
    assert cuts.how == "clip"
    assert cuts.closest == cuts_along(circle(0, 94))[0].closest


def with_clip(edge: str) -> list[str]:
    """What is wrong with a hat whose first step with facts clips an edge."""
    body = STEPS.replace("```step\n", f"```step\n    clip: [{edge}]\n", 1)
    made = recipe(HEAD + HAT, body)
    try:
        draft(made, made.sizes[0])
    except ContentError as error:
        return [problem.what for problem in error.problems]
    return []


def test_a_step_clips_an_edge_that_is_there_and_curved() -> None:
    assert with_clip("shell brim.inner") == []
    assert with_clip("brim.outer") == []
    assert with_clip("crown.left") == [
        "The edge “crown.left” is straight, so its allowance lies flat uncut."
    ]
    assert with_clip("brim.rim") == ["Piece “brim” has no edge called “rim”."]


def test_the_brim_of_a_hat_is_cut_as_the_trade_does() -> None:
    made = draft(recipe(), recipe().sizes[0])
    (inner,), (outer,) = (cuts_of(made.pieces["brim"], edge) for edge in ("inner", "outer"))
    assert 9 < inner.closest < 13 and inner.how == "clip"
    assert 15 <= outer.closest <= 20 and outer.how == "notch"


def test_whether_an_edge_is_cut_at_all_is_what_its_cuts_say() -> None:
    made = (
        *(tube.draft(girth=600, height=90, oval=oval) for oval in (None, 1.29)),
        *(
            cone.draft(rim=600, height=height, lean=lean)
            for height in (60, 300)
            for lean in (None, 60)
        ),
        ring.draft(inner=600, width=80),
        strip.draft(length=600, width=40),
    )
    for shape in made:
        one = piece("one", shape, {"shell": {"": 10.0}})
        for edge in shape.flat.edges:
            assert needs_cuts(one, edge) == bool(cuts_of(one, edge))
