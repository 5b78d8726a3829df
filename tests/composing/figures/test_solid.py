"""The solid and the worn view: pieces put together in space, seen with what is behind left out, and
as large as the measures say."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest

from notchbook.composing.drawing import Drawing, Stroke
from notchbook.composing.figures import draw_figure
from notchbook.composing.markup.svg import svg
from notchbook.composing.solids.assembly import assembled
from notchbook.composing.solids.ink import inked, scene_of, smooth
from notchbook.composing.solids.state import finished
from notchbook.composing.solids.surface import length, taken_in
from notchbook.composing.solids.view import Run, View, degrees, runs
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.geometry.oval import axes
from notchbook.gathering.recipes import find_recipe
from notchbook.reading.quantity import LENGTH
from notchbook.reading.read import read_recipe
from notchbook.reading.recipe import FigureRule
from tests.collection import CONTENT, SLUGS
from tests.composing.figures.legible import LEAST_PRINTED, LEAST_SHOWN, type_printed, type_shown
from tests.composing.geometry import collisions, outside, texts
from tests.composing.sample import figure, figure_problems, formula, hat, setting

LEVEL = degrees(0, 0)


@cache
def made(slug: str) -> Draft:
    recipe = read_recipe(find_recipe(CONTENT, slug))
    return draft(recipe, recipe.sizes[0])


def seen(drawn: Draft, view: View) -> complex:
    """Width and height of a finished thing's lines, as drawn at full size."""
    (solid,) = finished(drawn)
    box = bounds(
        [path for stroke in inked(solid, scene_of(solid, view), 1.0) for path in stroke.paths]
    )
    return complex(box.width, box.height)


def breadth(brim: float) -> float:
    return 2 * (axes(585, 1.29)[1] + brim)


def test_a_hat_seen_from_the_front_is_as_wide_as_its_brim_and_as_high_as_its_point() -> None:
    size = seen(hat(brim=150, height=450), LEVEL)
    assert size.real == pytest.approx(breadth(150), abs=0.3)
    assert size.imag == pytest.approx(450, abs=0.3)


def test_one_percent_more_would_be_noticed() -> None:
    size = seen(hat(brim=151.5, height=454.5), LEVEL)
    assert abs(size.real - breadth(150)) > 2
    assert abs(size.imag - 450) > 4


ABOVE = math.radians(25)
RIM, WIDTH, HIGH = 585 / math.tau, 150.0, 320.0


def visible(edge: str, piece: str, height: float = HIGH) -> list[Run]:
    (solid,) = finished(hat(brim=WIDTH, height=height, oval=1.0))
    view = View(0.0, ABOVE)
    line = next(
        each
        for each in solid.lines
        if each.points == solid.edge((("brim", "shell"), edge))
        or each.points == solid.edge((("crown", "shell"), edge))
    )
    assert piece in {solid.parts[k].ply[0] for k in line.parts}
    return [run for run in runs(line.points, line.parts, scene_of(solid, view)) if not run.hidden]


def where_the_cone_turns(height: float) -> complex:
    """Where the ruling along which a cone turns away from the eye meets its rim, as it is seen: at
    φ from the eye's direction, cos φ = −r tan e ÷ h."""
    cosine = -RIM * math.tan(ABOVE) / height
    return complex(RIM * math.sqrt(1 - cosine * cosine), RIM * cosine * math.sin(ABOVE))


def reach_of_the_rim(height: float) -> float:
    """How far up the page the rim of a cone is seen."""
    runs = visible("rim", "crown", height)
    return min(p.imag for run in runs for p in run.points)


def test_a_cones_rim_is_hidden_beyond_where_the_cone_turns_away() -> None:
    expected = where_the_cone_turns(HIGH).imag
    assert reach_of_the_rim(HIGH) == pytest.approx(expected, abs=2.0)
    assert abs(reach_of_the_rim(HIGH) - where_the_cone_turns(HIGH * 2).imag) > 3


def test_a_brims_edge_is_hidden_just_behind_the_cone() -> None:
    """The edge, seen as an ellipse, goes behind the straight line from where the cone turns to its
    tip."""

    def behind(radius: float, height: float = HIGH) -> float:
        foot, tip = where_the_cone_turns(height), -height * math.cos(ABOVE) * 1j
        low, high = 0.0, math.pi / 2
        for _ in range(50):
            turn = (low + high) / 2
            p = radius * complex(math.sin(turn), -math.cos(turn) * math.sin(ABOVE))
            share = (foot.imag - p.imag) / (foot.imag - tip.imag)
            low, high = (turn, high) if p.real < foot.real * (1 - share) else (low, turn)
        return radius * math.sin(low)

    back = [p.real for run in visible("outer", "brim") for p in run.points if p.imag < 0]
    found = min(map(abs, back))
    assert found == pytest.approx(behind(RIM + WIDTH), abs=0.15)
    assert abs(found - behind((RIM + WIDTH) * 1.01)) > 0.2
    assert abs(found - behind(RIM + WIDTH, HIGH * 1.01)) > 0.2


def test_pieces_stand_on_each_other_where_their_seams_say() -> None:
    (solid,) = finished(hat())
    rim, opening = solid.edge((("crown", "shell"), "rim")), solid.edge((("brim", "shell"), "inner"))
    assert rim and opening
    gaps = [min(math.dist(p, q) for q in opening) for p in rim]
    assert max(gaps) < 0.5
    tip = solid.edge((("lining_tip", "lining"), "edge"))
    assert tip and tip[0][2] == pytest.approx(solid.edge((("crown_lining", "lining"), "top"))[0][2])  # type: ignore[index]


def test_a_collar_stands_up_from_the_cape_it_is_sewn_to() -> None:
    (solid,) = finished(made("tollers-capelet"))
    cape, collar = (
        next(part.surfaces[0] for part in solid.parts if part.ply[0] == name)
        for name in ("cape", "collar")
    )
    assert collar.middle > max(z for row in cape.rows for _, _, z in row)


def test_cloth_taken_in_measures_from_middle_to_edge_what_it_did_flat() -> None:
    held = tuple(
        (90 * math.cos(k * math.tau / 72), 90 * math.sin(k * math.tau / 72), 35.0)
        for k in range(73)
    )
    top = taken_in(170.0, held)
    assert length(tuple(row[0] for row in top.rows)) == pytest.approx(170, rel=0.01)


def test_gores_all_go_round_and_close_with_their_band() -> None:
    (solid,) = finished(made("globe-bearers-cap"))
    panes = next(part for part in solid.parts if part.ply[0] == "pane")
    assert len(panes.surfaces) == 6
    band = next(part for part in solid.parts if part.ply[0] == "band").surfaces[0].edges["top"]
    bases = [p for pane in panes.surfaces for p in pane.rows[0]]
    assert max(min(math.dist(p, q) for q in band) for p in bases) < 5


def test_nothing_stands_before_its_seam_is_sewn() -> None:
    drawn = made("lamplighters-hat")
    assert assembled(drawn, []) == []
    (brim,) = assembled(drawn, ["brim edge"])
    assert {part.ply[0] for part in brim.parts} == {"brim", "under_brim"}


@pytest.mark.parametrize("slug", SLUGS)
def test_every_thing_of_the_collection_is_drawn_small_legible_and_told(slug: str) -> None:
    drawing = opening(slug)
    if slug == "lock-keepers-gaiters":
        assert drawing is None
        return
    assert drawing
    faultless(drawing)
    assert "finished" in drawing.title


def opening(slug: str) -> Drawing | None:
    """The thing in space that opens a recipe; none where nothing of it stands."""
    drawn = made(slug)
    for block in drawn.recipe.opening:
        if isinstance(block, FigureRule) and block.view.value == "solid":
            return draw_figure(drawn, block, setting())
    assert finished(drawn) == []
    return None


def faultless(drawing: Drawing) -> None:
    assert collisions(drawing.items, setting()) == []
    assert outside(drawing, setting()) == []
    assert type_printed(drawing) >= LEAST_PRINTED
    assert type_shown(drawing) >= LEAST_SHOWN
    assert len(svg(drawing, standalone=True, setting=setting())) < 30_000


def shown_at(drawing: Drawing) -> float:
    """The scale of a worn figure, read off the centimetres beside it."""
    zero = next(t.at.imag for t in texts(drawing.items) if t.text == "0")
    top = next(t for t in texts(drawing.items) if t.text.endswith("cm"))
    return (zero - top.at.imag) / (10 * float(top.text.split("\u00a0")[0]))


def worn_size(drawing: Drawing) -> complex:
    """Width and height of what is worn, from the front, at full size, as read from the drawing."""
    front = next(s for s in drawing.items if isinstance(s, Stroke) and s.role == "solid-outline")
    box = bounds(list(front.paths))
    return complex(box.width, box.height) / shown_at(drawing)


def test_what_is_worn_is_as_wide_and_as_high_as_the_measures_beside_its_scale() -> None:
    drawn = made("lamplighters-hat")
    size = worn_size(draw_figure(drawn, figure("worn"), setting()))
    outer = bounds([drawn.pieces["brim"].flat.edges["outer"].path]).width
    assert size.real == pytest.approx(outer, rel=0.004)
    assert size.imag == pytest.approx(drawn.measures["height"], rel=0.004)
    larger = {"brim": formula(151.5, LENGTH), "height": formula(454.5, LENGTH)}
    other = draft(drawn.recipe, replace(drawn.size, measures={**drawn.size.measures, **larger}))
    size = worn_size(draw_figure(other, figure("worn"), setting()))
    assert abs(size.imag - drawn.measures["height"]) > 0.007 * drawn.measures["height"]


def test_other_heights_stand_beside_the_readers_own() -> None:
    drawn = made("lamplighters-hat")
    sizes = [drawn.recipe.sizes[0].id, drawn.recipe.sizes[-1].id]
    drawing = draw_figure(drawn, figure("worn", also=sizes), setting())
    faultless(drawing)
    assert "Head girth" in drawing.title


@pytest.mark.parametrize(
    ("slug", "view", "keys", "said"),
    [
        ("lock-keepers-gaiters", "solid", {}, "nothing can be drawn in space"),
        ("lock-keepers-gaiters", "worn", {}, "can't be shown worn"),
        ("chandlers-pouch", "worn", {}, "none of its measures is a head girth"),
        ("lamplighters-hat", "solid", {"after": "sew-the-brin-1"}, "There is no step"),
        ("lamplighters-hat", "solid", {"from": "bellow"}, "“from” can't be “bellow”"),
        ("lamplighters-hat", "solid", {"folded": "brim"}, "is no strip"),
        ("lamplighters-hat", "worn", {"also": ["head-1cm"]}, "There is no size"),
    ],
)
def test_what_cannot_be_shown_is_said(
    slug: str, view: str, keys: dict[str, str], said: str
) -> None:
    found = figure_problems(made(slug), figure(view, **keys))
    assert [said in str(problem) for problem in found] == [True]


def test_half_made_states_are_told_apart() -> None:
    drawn = made("lamplighters-hat")
    titles = [
        draw_figure(drawn, figure("solid", after=step), setting()).title
        for step in ("sew-the-brim-1", "sew-the-point-1", "line-and-fill-2")
    ]
    assert len(set(titles)) == 3


def test_a_circle_of_points_is_drawn_as_a_circle() -> None:
    points = [complex(40 * math.cos(t / 20), 40 * math.sin(t / 20)) for t in range(62)]
    path = smooth(points)
    assert path
    assert len(path.segments) < len(points) / 1.9
    assert all(abs(abs(s.point(0.5)) - 40) < 0.02 for s in path.segments)
