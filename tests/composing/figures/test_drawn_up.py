"""Gathers, darts, filling, and what is turned through a gap in the round."""

from __future__ import annotations

from dataclasses import replace

import pytest

from notchbook.composing.figures import draw_figure
from notchbook.composing.figures.meridian import meridians
from notchbook.composing.figures.turned_round import turning
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import bounds
from notchbook.problems import ContentError
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import FigureRule, Scalar, Series
from tests.collection import drafts, made
from tests.composing.figures.drawn import draw, faultless, plain, said
from tests.composing.geometry import strokes
from tests.composing.sample import figure, formula, setting

CAP = "wick-trimmers-cap"
HAT = "lamplighters-hat"
POUCH = "chandlers-pouch"
GLOBE = "globe-bearers-cap"


def refused(draft: Draft, rule: FigureRule) -> list[str]:
    with pytest.raises(ContentError) as caught:
        draw_figure(draft, rule, setting())
    return [plain(str(problem)).replace("\n   ", "") for problem in caught.value.problems]


def test_a_gathered_edge_is_drawn_up_to_its_partner_s_length() -> None:
    cap = made(CAP)
    drawing = draw(figure("gather", seam="lining to band", parts=formula(4)), cap)
    faultless(drawing)
    across = [
        path.length()
        for stroke in strokes(drawing.items, "dimension")
        for path in stroke.paths
        if abs(path.start.imag - path.end.imag) < 1e-9
    ]
    assert len(across) == 2
    seam = cap.seams["lining to band"]
    assert across[0] / across[1] == pytest.approx(seam.lengths[1] / seam.lengths[0], rel=1e-6)
    words = said(drawing)
    assert f"{seam.lengths[0] / 4:.0f} mm" in words
    assert f"{seam.lengths[1] / 4:.0f} mm" in words


def test_what_is_not_gathered_can_t_be_drawn_up() -> None:
    assert refused(made(CAP), figure("gather", seam="band seam")) == [
        "recipe.md:41:11: Nothing is gathered in the seam “band seam”. "
        "Name a seam that has “gather”, or give it one: gather: {PIECE: 1.5}."
    ]
    (told,) = refused(made(CAP), figure("gather", seam="lining to band", parts=formula(2.5)))
    assert "“parts” has to be a whole number" in told
    (told,) = refused(made(CAP), figure("gather", seam="lining to band", parts=formula(0)))
    assert "“parts” has to be a whole number" in told
    (told,) = refused(made(CAP), figure("gather", seam="lining to band", rows=formula(-1, LENGTH)))
    assert "outside the stitching line alone" in told
    (told,) = refused(made(CAP), figure("gather", seam=[]))
    assert "needs “seam”" in told


@pytest.mark.parametrize(("count", "words"), [(1, "one row"), (2, "two rows"), (3, "rows")])
def test_it_says_how_many_rows_are_drawn(count: int, words: str) -> None:
    rows = [formula(1.0 + k, LENGTH) for k in range(count)]
    rule = figure("gather", seam="lining to band", rows=rows[0])
    places = tuple(Scalar(row.text, row.place, row) for row in rows)
    entries = {**rule.keys.entries, "rows": Series(places, rule.keys.entries["rows"].place)}
    drawing = draw(replace(rule, keys=replace(rule.keys, entries=entries)), made(CAP))
    faultless(drawing)
    assert f"as cut, {words} of long stitches" in said(drawing)


def test_a_dart_is_folded_leg_on_leg_and_sewn_from_the_edge_to_its_point() -> None:
    cap = drafts(CAP)[2]
    drawing = draw(figure("fold", dart="darted_top.dart"), cap)
    faultless(drawing)
    (seam, *_) = strokes(drawing.items, "seam")
    (run,) = seam.paths
    assert run.start.imag > run.end.imag, "from the edge, which is below, up to the point"
    assert "12 darts" in said(drawing)
    dart = cap.pieces["darted_top"].flat.darts[0]
    assert f"leg {abs(dart.feet[0] - dart.point):.0f} mm" in said(drawing)


def test_a_dart_nobody_knows_is_named_with_those_there_are() -> None:
    (told,) = refused(drafts(CAP)[2], figure("fold", dart="darted_top.dort"))
    assert "There is no dart “darted_top.dort”" in told
    assert "Did you mean “darted_top.dart”?" in told


def test_a_dart_has_no_edge_beside_it() -> None:
    rule = figure("fold", dart="darted_top.dart", edge="band.top")
    assert refused(drafts(CAP)[2], rule) == [
        "recipe.md:42:5: A fold figure with “dart” has no “edge”. The only one there is: dart."
    ]


def test_filling_goes_as_far_as_the_lining_leaves_room() -> None:
    hat = made(HAT)
    drawing = draw(figure("filled", piece="crown", over="crown_lining", **{"with": "filling"}), hat)
    faultless(drawing)
    depth = hat.values["lining_depth"].value
    assert f"stop {depth:.0f} mm" in said(drawing).replace(" | ", " ")
    cut, own = (meridians(hat)[name, cloth] for name, cloth in
                (("crown", "shell"), ("crown_lining", "lining")))  # fmt: skip
    assert abs(cut.back[-1] - cut.front[-1]) < 1e-6, "the tip"
    assert abs(own.back[0] - own.back[-1]) == pytest.approx(depth, abs=2.0)
    (tufts,) = strokes(drawing.items, "solid-fold")
    (wall, *_) = strokes(drawing.items, "solid-outline")
    tip, top = (min(p.imag for path in s.paths for p in path.points()) for s in (wall, tufts))
    assert 0 < top - tip < 0.15 * bounds(wall.paths).height, "filling reaches into the tip"


def test_the_bent_point_leans_back_which_is_on_the_left() -> None:
    bent = next(made for made in drafts(HAT) if made.values["lean"].value)
    cut = meridians(bent)["crown", "shell"]
    assert cut.back[-1].real < (cut.back[0].real + cut.front[0].real) / 2 - 20


def test_what_does_not_stand_up_is_not_filled() -> None:
    (told,) = refused(made("lock-keepers-gaiters"), figure("filled", piece="leg"))
    assert "“leg” does not stand up" in told
    (told,) = refused(made(HAT), figure("filled", piece="brim"))
    assert "“brim” does not stand up" in told


@pytest.mark.parametrize(("piece", "over"), [("crown", "crown"), ("crown_lining", "crown")])
def test_nothing_is_filled_over_what_does_not_lie_in_it(piece: str, over: str) -> None:
    (told,) = refused(made(HAT), figure("filled", piece=piece, over=over))
    assert f"“{over}” does not lie in the piece “{piece}”" in told


def test_a_bag_is_turned_through_the_gap_where_its_lining_has_it() -> None:
    pouch = made(POUCH)
    drawing = draw(figure("turn", seam="top edge"), pouch)
    faultless(drawing)
    assert "gap of 80 mm" in said(drawing).replace(" | ", " ")
    opening = pouch.openings["lining back seam"]
    plan = turning(pouch, pouch.seams["top edge"], opening)
    assert plan
    assert plan.gap
    side = meridians(pouch)["side", "lining"]
    whole = abs(side.back[0] - side.back[-1])
    high = max(abs(p - q) for line in plan.inner for p in line for q in line if p.real == q.real)
    near, far = (abs(end.imag - plan.rim[0].imag) / high * whole for end in plan.gap)
    assert abs(far - near) == pytest.approx(opening.length, rel=0.01)
    assert (near + far) / 2 == pytest.approx(whole / 2, rel=0.01), "half way up"


def test_a_cap_is_turned_through_the_gap_in_the_seam_that_joins_its_lining() -> None:
    globe = made(GLOBE)
    faultless(draw(figure("turn", seam="lower edge"), globe))
    plan = turning(globe, globe.seams["lower edge"], globe.openings["lower edge"])
    assert plan
    assert plan.gap is None
    assert plan.titles == ("Band (shell)", "Band lining (lining)")


def test_things_that_are_joined_elsewhere_too_are_not_turned() -> None:
    hat = made(HAT)
    assert turning(hat, hat.seams["lining to brim"], hat.openings["brim edge"]) is None
