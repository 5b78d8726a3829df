"""Where the needle goes."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from shapely import LineString

from notchbook.composing.drawing import Drawing, Fill
from notchbook.composing.figures import draw_figure
from notchbook.composing.figures.facts import step_of
from notchbook.composing.figures.sewing import read_sewn
from notchbook.problems import ContentError
from notchbook.reading.recipe import FigureRule
from notchbook.reading.walk import all_figures
from tests.collection import made
from tests.composing.figures.drawn import draw, faultless, plain, said
from tests.composing.geometry import opened, strokes
from tests.composing.sample import figure, setting

HAT = "lamplighters-hat"
CAPELET = "tollers-capelet"


def stitched(slug: str, seam: str, **keys: str) -> Drawing:
    return draw(figure("stitch", seam=seam, **keys), made(slug))


def refused(slug: str, rule: FigureRule) -> list[str]:
    with pytest.raises(ContentError) as caught:
        draw_figure(made(slug), rule, setting())
    return [plain(str(problem)).replace("\n   ", "") for problem in caught.value.problems]


@pytest.mark.parametrize("slug", [CAPELET, "lock-keepers-gaiters"])
def test_every_seam_can_be_shown_and_its_words_touch_nothing(slug: str) -> None:
    drawings = [stitched(slug, seam) for seam in made(slug).seams]
    for drawing in drawings:
        faultless(drawing)
    titles = [drawing.title for drawing in drawings]
    assert len(set(titles)) == len(titles)


def test_what_the_step_leaves_open_is_not_stitched() -> None:
    seam, opening = made(HAT).seams["brim edge"], made(HAT).openings["brim edge"]
    sewn = read_sewn(made(HAT), figure("stitch", seam="brim edge"), "stitch", (), made=False)
    laid = sewn.flat(complex(60, 60))
    assert laid
    around, run = (
        math.fsum(abs(b - a) for a, b in pairwise(points))
        for points in (laid.track.between(0.0, 1.0), laid.runs[0])
    )
    share = run / around
    true = 1 - opening.length / seam.lengths[0]
    assert share == pytest.approx(true, abs=0.002)
    assert share != pytest.approx(true - 0.01, abs=0.002), "one percent would be seen"
    words = said(stitched(HAT, "brim edge"))
    assert "leave open | 70 mm (2¾ in)" in words
    assert "sew 1400 mm" in words


def test_a_closed_seam_starts_at_one_end_of_its_gap_and_stops_at_the_other() -> None:
    sewn, *_ = strokes(stitched(HAT, "brim edge").items, "seam")
    (run,) = sewn.paths
    assert 3 < abs(run.start - run.end) < 7, "the gap, 70 mm on a brim of 480 mm"
    # The gap is at centre back, which is at the bottom of a ring.
    assert min(run.start.imag, run.end.imag) > max(p.imag for p in run.points()) - 1


def test_an_open_seam_is_stitched_up_to_its_gap_and_on_from_it() -> None:
    drawing = stitched("chandlers-pouch", "back seam")
    words = said(drawing)
    assert all(word in words for word in ("start 1", "stop 1", "start 2", "stop 2"))
    sewn, *_ = strokes(drawing.items, "seam")
    assert len(sewn.paths) == 2


def test_the_end_it_starts_at_can_be_named() -> None:
    runs = []
    for keys in ({}, {"start": "cape.hem"}, {"start": "cape.opening"}):
        drawing = stitched(CAPELET, "one front", top="front_facing", **keys)
        (run,) = strokes(drawing.items, "seam")[0].paths
        runs.append(run)
    assert abs(runs[0].start - runs[2].end) < 0.01
    assert abs(runs[1].start - runs[2].end) < 0.01


def test_the_upper_cloth_shows_its_wrong_side_and_does_not_hide_the_lower_one() -> None:
    drawing = stitched(HAT, "brim edge")
    lower, upper = [
        item for item in opened(drawing.items) if isinstance(item, Fill) and "side" in item.role
    ][:2]
    assert (lower.role, upper.role) == ("right-side", "wrong-side")
    ends = [max(p.imag for p in item.paths[0].points()) for item in (lower, upper)]
    assert ends[1] < ends[0] - 10, "its far end is left out"
    words = said(drawing)
    assert "Under brim, shell, wrong side up" in words
    assert "Brim, shell, right side up" in words


def test_a_ring_sewn_to_a_cone_is_laid_out_straight_and_says_so() -> None:
    drawing = stitched(HAT, "crown to brim")
    (run,) = strokes(drawing.items, "seam")[0].paths
    assert abs(run.start.imag - run.end.imag) < 1e-9
    assert "its two ends are one place" in said(drawing)
    assert "laid out straight" in drawing.title


def test_what_is_gathered_or_pleated_lies_uppermost() -> None:
    cap = made("wick-trimmers-cap")
    for seam, top in (("lining to band", "lining_top"), ("pleated top to band", "top")):
        sewn = read_sewn(cap, figure("stitch", seam=seam), "stitch", (), made=False)
        assert sewn.layers[-1].piece.name == top


def test_a_figure_in_a_step_needs_no_keys() -> None:
    hat = made(HAT)
    rules = [rule for rule in all_figures(hat.recipe) if rule.view.value == "stitch"]
    assert rules
    for rule in rules:
        step = step_of(hat, rule)
        assert step
        sewn = read_sewn(hat, rule, "stitch", ("start", "halves"), made=False)
        assert [word.value for word in step.facts.sew] == [sewn.seam.name]


@pytest.mark.parametrize(
    ("rule", "found"),
    [
        (
            figure("stitch"),
            "recipe.md:40:11: A figure of the view “stitch” needs “seam”. "
            "Add a line like “seam: brim edge”.",
        ),
        (
            figure("stitch", seam="brim edg"),
            "recipe.md:41:11: There is no seam “brim edg” in this recipe. "
            "Did you mean “brim edge”?",
        ),
        (
            figure("stitch", seam="brim edge", topp="brim"),
            "recipe.md:42:5: A stitch figure has no “topp”. Did you mean “top”?",
        ),
        (
            figure("stitch", seam="brim edge", top="under_brm"),
            "recipe.md:42:10: The seam “brim edge” joins no piece “under_brm”. "
            "Did you mean “under_brim”?",
        ),
        (
            figure("stitch", seam="point seam", start="crown.left"),
            "recipe.md:42:12: The seam “point seam” has no end at “crown.left”. "
            "Name an edge at one of its ends: crown.right or crown.rim.",
        ),
        (
            figure("stitch", seam="point seam", together="right side"),
            "recipe.md:42:15: “together” can't be “right side”. Did you mean “right sides”?",
        ),
    ],
)
def test_a_word_nobody_knows_is_found_at_its_place(rule: FigureRule, found: str) -> None:
    assert refused(HAT, rule) == [found]


def test_a_step_that_sews_several_seams_asks_which() -> None:
    capelet = made(CAPELET)
    step = next(
        step for stage in capelet.recipe.stages for step in stage.steps
        if len(step.facts.sew) == 2
    )  # fmt: skip
    rule = next(block for block in step.blocks if isinstance(block, FigureRule))
    with pytest.raises(ContentError) as caught:
        read_sewn(capelet, rule, "stitch", tuple(rule.keys.entries), made=False)
    (problem,) = caught.value.problems
    assert problem.what.startswith("Several seams are sewn here: “one front”, “other front”")
    assert problem.remedy == "Say which with a line like “seam: one front”."


def test_a_seam_sewn_in_halves_runs_from_both_ends_to_the_middle() -> None:
    drawing = stitched(HAT, "crown to brim", halves="yes")
    first, second = strokes(drawing.items, "seam")[0].paths
    assert abs(first.end - second.end) < 0.01
    assert abs(first.length() - second.length()) < 0.01
    assert "Sew each half" in said(drawing)
    assert refused(HAT, figure("stitch", seam="brim edge", halves="yes")) == [
        "recipe.md:42:13: The seam “brim edge” has a gap, so it is not sewn in halves. "
        "Leave “halves” out."
    ]


def left_handed(slug: str, seam: str, **keys: str) -> Drawing:
    other = replace(setting(), left_handed=True)
    return draw_figure(made(slug), figure("stitch", seam=seam, **keys), other)


def needle(drawing: Drawing) -> list[complex]:
    """Where the needle goes, in its order, as shares of the breadth of all it does."""
    sewn, *_ = strokes(drawing.items, "seam")
    points = [point for run in sewn.paths for point in run.points(0.01)]
    low, high = (end(p.real for p in points) for end in (min, max))
    foot = min(p.imag for p in points)
    return [complex(p.real - low, p.imag - foot) / (high - low) for p in points]


@pytest.mark.parametrize("seam", ["brim edge", "crown to brim", "lining to brim"])
def test_a_left_hand_sews_a_round_as_a_mirror_shows_the_right_one(seam: str) -> None:
    right, left = needle(stitched(HAT, seam)), needle(left_handed(HAT, seam))
    mirrored = LineString([(1 - p.real, p.imag) for p in right])
    for share in (k / 24 for k in range(25)):
        one = mirrored.interpolate(share, normalized=True)
        other = LineString([(p.real, p.imag) for p in left]).interpolate(share, normalized=True)
        assert one.distance(other) < 0.004
    assert abs(right[0] - left[0]) > 0.1


@pytest.mark.parametrize("slug", [HAT, CAPELET])
def test_for_a_left_hand_the_needle_goes_the_other_way_on_pieces_that_lie_as_they_did(
    slug: str,
) -> None:
    for seam in made(slug).seams:
        right, left = stitched(slug, seam), left_handed(slug, seam)
        faultless(left)
        for one, other in zip(reversed(needle(right)), needle(left), strict=True):
            assert other == pytest.approx(one, abs=0.001)
        assert "For sewing by hand with the left." in " ".join(said(left).split(" | "))
        assert "the left" not in said(right)


def test_where_a_recipe_says_the_start_both_hands_begin_there() -> None:
    assert stitched(HAT, "point seam", start="crown.rim") == left_handed(
        HAT, "point seam", start="crown.rim"
    )


CAP = "wick-trimmers-cap"


@pytest.mark.parametrize(("together", "up"), [("right sides", "wrong"), ("wrong sides", "right")])
def test_from_start_to_stop_the_foot_runs_off_every_fold_of_pleats(together: str, up: str) -> None:
    """Folded in thought from the marks of the piece, and seen with either side up."""
    cap = made(CAP)
    rule = figure("stitch", seam="pleated top to band", together=together)
    laid = read_sewn(cap, rule, "stitch", (), made=False).laid(complex(60, 60))
    top = laid.plies[-1].layer
    assert top.side == up
    edge = top.piece.flat.edges["edge"].path
    whole = edge.length()
    places = [k * whole / 2000 for k in range(2000)]

    def along(point: complex) -> float:
        return min(places, key=lambda s: abs(edge.point_at(s) - point))

    marks = [(along(p.fold[0]), along(p.onto[0])) for p in top.piece.pleats]
    # The cloth below the edge, right side up, its edge runs from left to right: so each fold is
    # brought to the right, and the edge of its upper layer looks that way.
    assert all(0 < onto - fold < whole / 16 for fold, onto in marks)
    band = cap.seams["pleated top to band"].lengths[0]
    taken = (whole - band) / len(marks)
    seen = []
    for k, (_, onto) in enumerate(marks):
        upper = onto - (k + 1) * taken  # where it lies when it and those before it are folded
        # From the right side the fold on its partner is seen, from the wrong side the one beneath,
        # mirrored: it looks to the right too.
        seen.append(upper if up == "right" else band - (upper - taken / 2))
    drawn = sorted(fold[0].real / laid.track.points[-1].real * band for fold in laid.folds)
    assert drawn == pytest.approx(sorted(seen), abs=1.5)
    (run,) = laid.runs
    assert run[0].real < run[-1].real


def test_a_round_laid_straight_begins_in_the_middle_of_its_gap() -> None:
    sewn = read_sewn(made(CAP), figure("stitch", seam="lining to band"), "stitch", (), made=False)
    laid = sewn.laid(complex(60, 60))
    left, right = laid.track.points[0].real, laid.track.points[-1].real
    (run,) = laid.runs
    assert run[0].real - left == pytest.approx(right - run[-1].real)
    assert sewn.opening
    share = 1 - (run[-1].real - run[0].real) / (right - left)
    assert share == pytest.approx(sewn.opening.length / sewn.seam.lengths[0])
    assert [share for share, mark in laid.marks if mark.number == 0] == pytest.approx([0, 1])
    assert said(stitched(CAP, "lining to band")).count("half the gap of") == 2


def test_each_of_three_cloths_has_its_side_once_it_is_told() -> None:
    keys = {"seam": "crown to brim", "top": "under_brim"}
    rule = figure("stitch", together=["right sides", "wrong sides"], **keys)
    sewn = read_sewn(made(HAT), rule, "stitch", (), made=False)
    assert [(layer.piece.name, layer.side) for layer in sewn.layers] == [
        ("crown", "right"), ("brim", "wrong"), ("under_brim", "right"),
    ]  # fmt: skip
    faultless(draw(rule, made(HAT)))
    untold = read_sewn(made(HAT), figure("stitch", **keys), "stitch", (), made=False)
    assert {layer.side for layer in untold.layers} == {""}
    (problem,) = refused(HAT, figure("stitch", together=["right sides", "right sides"], **keys))
    assert "the layer below lies wrong side up, so “right sides” can't meet" in problem


def test_a_gap_near_an_end_is_drawn_large_with_how_far_it_is_from_there() -> None:
    drawing = stitched("chandlers-pouch", "back seam")
    faultless(drawing)
    words = said(drawing)
    opening = made("chandlers-pouch").openings["back seam"]
    seam = made("chandlers-pouch").seams["back seam"]
    assert f"{seam.lengths[0] - opening.end:.0f} mm" in words
    assert "top" in words.split(" | ")
    assert "top" not in said(stitched("chandlers-pouch", "lining back seam")).split(" | ")


def test_lines_of_the_upper_piece_are_shown_where_they_are_asked_for() -> None:
    drawing = stitched(CAP, "band seam", lines="band.ribbon")
    faultless(drawing)
    (line,) = strokes(drawing.items, "line-placed")[0].paths
    assert line.start.imag == pytest.approx(line.end.imag)
    assert refused(CAP, figure("stitch", seam="band seam", lines="band.ribon")) == [
        "recipe.md:42:12: “lines” can't be “band.ribon”. Did you mean “band.ribbon”?"
    ]
