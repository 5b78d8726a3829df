"""A finished edge cut across: true to its measures, and honest where it is not."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon

from notchbook.composing.figures.cut_edge import Edge, section
from notchbook.drafting.geometry.box import bounds
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import FigureRule
from notchbook.reading.walk import all_figures
from tests.collection import made
from tests.composing.figures.drawn import draw, faultless, plain, problems, said
from tests.composing.geometry import strokes
from tests.composing.sample import figure, formula

PIECES = ["lining brim", "interfacing brim", "shell brim"]
CHANNEL = formula(7, LENGTH)
WIRE = formula(1.2, LENGTH)
WIRED = figure(
    "section", edge="brim.outer", pieces=PIECES, trimmed=formula(4, LENGTH), channel=CHANNEL,
    wire=WIRE,
)  # fmt: skip


def area(points: tuple[complex, ...]) -> Polygon:
    return Polygon([(p.real, p.imag) for p in points])


@pytest.mark.parametrize(
    "rule",
    [
        WIRED,
        figure("section", edge="brim.outer", pieces=PIECES),
        figure("section", edge="brim.outer", pieces=["lining brim", "shell brim"], channel=CHANNEL),
        figure("section", edge="brim.inner", pieces=["crown", "shell brim"],
               exaggerated=formula(3)),
        figure("section", edge="lining_tip.edge", pieces=["crown_lining", "lining_tip"]),
        figure("section", edge="cuff.top", pieces=["shell cuff"], channel=formula(10, LENGTH)),
        figure("section", edge="cuff.top", pieces=["shell cuff"], under=formula(4, LENGTH),
               cord=formula(3, LENGTH), channel=formula(7, LENGTH)),
        figure("section", fold="band", pieces=["band", "lining cuff"],
               cord=formula(4, LENGTH), channel=formula(9, LENGTH)),
        figure("section", edge="brim.outer", pieces=PIECES, channel=CHANNEL, gap="yes"),
    ],
)  # fmt: skip
def test_a_section_fits_and_its_words_touch_nothing(rule: FigureRule) -> None:
    faultless(draw(rule))


def test_it_names_layers_seam_wire_and_scale_and_measures_what_it_shows() -> None:
    words = said(draw(WIRED)).replace("| ", "")
    for expected in (
        "Brim", "interfacing (heavy craft interfacing)", "brim edge", "wire 1.2 mm",
        "7 mm", "2 mm", "Allowance turned in: 4 mm", "times as large as it is",
    ):  # fmt: skip
        assert expected in words


def test_the_channel_is_as_far_from_the_edge_as_it_is_said_to_be() -> None:
    drawing = draw(WIRED)
    lines = [bounds(stroke.paths) for stroke in strokes(drawing.items, "layer")]
    edge = min(box.low.real for box in lines)
    (stitches,) = strokes(drawing.items, "seam")
    scale = (bounds(stitches.paths).low.real - edge) / 7
    assert f"drawn {scale:g} times as large" in said(drawing)


def test_a_gap_is_not_sewn_and_its_edges_lie_apart() -> None:
    sewn, left = (draw(figure("section", edge="brim.outer", pieces=PIECES, channel=CHANNEL, **more))
                  for more in ({}, {"gap": "yes"}))  # fmt: skip
    assert "gap, not sewn" in said(left) and "seam, turned" not in said(left)
    assert "not joined" in left.title
    assert "seam, turned" in said(sewn)
    edge = Edge((0.8, 6), (0.8, 6), ((1.2, 3),), 7, 0, 11)
    nothing_overlaps(replace(edge, gap=3))
    low, _, high = section(replace(edge, gap=3)).plies
    assert area(low.outline).distance(area(high.outline)) > 1
    low, _, high = section(edge).plies
    assert area(low.outline).distance(area(high.outline)) < 1e-6


def test_a_cord_lies_midway_between_two_rows() -> None:
    edge = Edge((0.4, 10), (0.8, 10), (), 25, 4, 48, second=40)
    nothing_overlaps(edge)
    cut = section(edge)
    assert cut.filled is not None and cut.filled.real == pytest.approx(32.5)
    assert [head.real for head, _ in cut.stitches] == [25, 40]
    # At its rows cloth lies on cloth, and over the cord they part by its thickness.
    for head, foot in cut.stitches:
        assert (head - foot).imag == pytest.approx(1.2, abs=0.01)
    low, high = (area(ply.outline) for ply in cut.plies)
    across = LineString([(32.5, -9), (32.5, 9)])
    assert low.intersection(across).distance(high.intersection(across)) == pytest.approx(4, abs=0.1)


def test_a_published_channel_shows_both_its_rows_and_what_runs_between_them() -> None:
    drafted = made("chandlers-pouch")
    (rule,) = (each for each in all_figures(drafted.recipe) if each.view.value == "section")
    drawing = draw(rule, drafted)
    faultless(drawing)
    words = said(drawing).replace("| ", "")
    for expected in ("25 mm (1 in)", "40 mm (1⅝ in)", "two rows", "cord 4 mm"):
        assert expected in words
    assert len(strokes(drawing.items, "seam")) == 2
    # What is drawn no larger than it is needs no scale.
    assert "times as large" not in words and "drawn thicker than they are" in words


def test_what_is_exaggerated_is_said() -> None:
    rule = figure("section", edge="brim.inner", pieces=["crown", "shell brim"],
                  exaggerated=formula(3))  # fmt: skip
    assert "3 times as thick as that." in said(draw(rule)).replace("| ", "")
    assert "as thick as that" not in said(draw(WIRED)).replace("| ", "")


def test_a_hem_says_how_its_allowance_is_turned() -> None:
    drawing = draw(figure("section", edge="cuff.top", pieces=["shell cuff"],
                          under=formula(4, LENGTH), cord=formula(3, LENGTH),
                          channel=formula(7, LENGTH)))  # fmt: skip
    words = said(drawing).replace("| ", "")
    for expected in (
        "hem, turned twice top", "cord 3 mm (⅛ in)", "First 4 mm", "then 8 mm", "7 mm (¼ in)",
    ):  # fmt: skip
        assert expected in words
    assert "turned up twice" in drawing.title and "A cord of 3" in plain(drawing.title)


def test_a_section_describes_itself() -> None:
    told = plain(draw(WIRED).title)
    assert "Brim (interfacing), ending 2 mm (¹⁄₁₆ in) short of the edge" in told
    assert "A row of stitches 7 mm (¼ in) from the edge" in told
    assert "A wire of 1.2 mm lies in the fold." in told


THICK = st.floats(0.2, 2.0)
TURNED = st.tuples(THICK, st.floats(3, 12))


@given(
    TURNED, TURNED, st.lists(st.tuples(THICK, st.floats(0, 5)), max_size=2),
    st.floats(0, 2), st.floats(0, 6),
)  # fmt: skip
@settings(deadline=None, max_examples=60)
def test_no_layer_lies_in_another_and_the_wire_has_its_fold(
    lower: tuple[float, float],
    upper: tuple[float, float],
    between: list[tuple[float, float]],
    wire: float,
    more: float,
) -> None:
    edge = Edge(lower, upper, tuple(between), 0.0, wire, 24.0)
    edge = Edge(lower, upper, tuple(between), edge.least_channel + more, wire, 24.0)
    nothing_overlaps(edge)


def nothing_overlaps(edge: Edge) -> None:
    cut = section(edge)
    layers = [area(ply.outline) for ply in cut.plies]
    for number, one in enumerate(layers):
        for other in layers[:number]:
            assert one.intersection(other).area < 1e-6
    if cut.filled is not None:
        disc = Point(cut.filled.real, cut.filled.imag).buffer(edge.filled / 2 * 0.98)
        assert all(layer.buffer(0).intersection(disc).area < 0.02 * edge.filled for layer in layers)


@given(
    TURNED, st.lists(st.tuples(THICK, st.floats(0, 5)), max_size=1),
    st.floats(0, 2), st.floats(0, 2), st.one_of(st.just(0.0), st.floats(1, 8)),
)  # fmt: skip
@settings(deadline=None, max_examples=60)
def test_no_layer_of_a_hem_lies_in_another_and_what_fills_it_has_room(
    outer: tuple[float, float],
    within: list[tuple[float, float]],
    filled: float,
    more: float,
    under: float,
) -> None:
    thick, deep = outer[0], outer[1] + 6
    under = max(under, 3 * thick) if under else 0.0
    edge = Edge((thick, deep + under), None, tuple(within), 0.0, filled, 2 * deep, under)
    channel = edge.least_channel + more
    nothing_overlaps(replace(edge, channel=channel if channel < deep - thick else 0.0))


@given(THICK, st.lists(st.tuples(THICK, st.just(0.0)), max_size=2), st.floats(0, 3))
@settings(deadline=None, max_examples=30)
def test_both_halves_of_a_fold_lie_off_what_is_in_it(
    thick: float, within: list[tuple[float, float]], filled: float
) -> None:
    nothing_overlaps(Edge((thick, math.inf), None, tuple(within), 0.0, filled, 30.0))


def test_a_hem_turned_twice_has_five_thicknesses_of_its_cloth_at_most() -> None:
    """The outside, the turn and the raw edge within it, and a fold at each end."""
    edge = Edge((1.0, 30.0), None, (), 18.0, 0.0, 40.0, 10.0)
    (ply,) = section(edge).plies
    cloth = area(ply.outline)
    for x, plies in ((35, 1), (5, 2), (15, 3), (25, 1)):
        across = cloth.intersection(LineString([(x, -9), (x, 9)]))
        assert across.length == pytest.approx(plies, abs=0.15), x
    assert cloth.bounds[0] == pytest.approx(0, abs=0.01)


@pytest.mark.parametrize(
    ("rule", "says"),
    [
        (
            figure("section", pieces=PIECES),
            "recipe.md:40:11: A figure of the view “section” needs “edge”. "
            "Add a line like “edge: PIECE.EDGE”.",
        ),
        (
            figure("section", edge="brim.outer", pieces=["shell brim"]),
            "recipe.md:40:11: A figure of the view “section” needs “pieces”. "
            "Add a line like “pieces: [brim, crown]”.",
        ),
        (
            figure("section", edge="brim.oter", pieces=PIECES),
            "recipe.md:41:16: The piece “brim” has no edge “oter”. Did you mean “outer”?",
        ),
        (
            figure("section", edge="band.left", pieces=["band"]),
            "recipe.md:42:14: “band” has no allowance at “band.left” that could be turned in. "
            "Give it one, or show another edge.",
        ),
        (
            figure("section", edge="cuff.top", pieces=["crown"]),
            "recipe.md:42:14: “crown” is not “cuff”, which is what is turned here. "
            "Name “cuff” first, and what lies in it after that.",
        ),
        (
            figure("section", edge="cuff.top", pieces=["shell cuff"], under=formula(7, LENGTH)),
            "recipe.md:43:12: Of an allowance of 12 mm at “cuff.top”, 7 mm can't be turned in "
            "first: less would be left to cover it. Turn in less, or give the edge more.",
        ),
        (
            figure("section", edge="cuff.top", pieces=["shell cuff"], channel=formula(12, LENGTH)),
            "recipe.md:43:14: Stitches 12 mm from the edge miss the hem, which is 12 mm deep. "
            "Make the channel narrower, or the hem deeper.",
        ),
        (
            figure("section", fold="band", pieces=["band"], wire=WIRE, cord=WIRE),
            "recipe.md:44:5: A section figure can't have both “wire” and “cord”. "
            "Leave one of them out.",
        ),
        (
            figure("section", edge="brim.outer", pieces=["shell brim", "interfacing brim"]),
            "recipe.md:42:26: “interfacing brim” has no allowance at “brim.outer” that could be "
            "turned in. Show another edge, or name an outer layer first and last.",
        ),
        (
            figure("section", edge="brim.outer", pieces=["shell brim", "crown"]),
            "recipe.md:42:26: “crown” has no part in the seam “brim edge”, and no edge “outer”. "
            "Name a piece that comes as far as that.",
        ),
        (
            figure("section", edge="brim.outer", pieces=PIECES, channel=formula(2, LENGTH),
                   wire=WIRE),
            "recipe.md:43:14: Fold and wire need a channel of 2.3 mm, and this one has "
            "2 mm. Widen the channel.",
        ),
        (
            figure("section", edge="brim.outer", pieces=PIECES, channel=formula(-7, LENGTH)),
            "recipe.md:43:14: “channel” has to be more than 0. Write more, or leave it out.",
        ),
        (
            figure("section", edge="cuff.top", pieces=["shell cuff"], gap="yes"),
            "recipe.md:43:10: No seam joins this edge, so there is no gap in one. "
            "Leave it out, or show another edge.",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_cut_across_is_refused_at_its_place(rule: FigureRule, says: str) -> None:
    assert problems(rule) == [says]
