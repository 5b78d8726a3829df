"""What is about to be joined, still apart, and the way it goes."""

from __future__ import annotations

import pytest

from notchbook.composing.drawing import Fill, Stroke
from notchbook.composing.solids.state import before_step
from notchbook.reading.walk import all_steps
from tests.collection import made
from tests.composing.figures.drawn import draw, faultless
from tests.composing.figures.test_stitch import HAT
from tests.composing.geometry import texts
from tests.composing.sample import figure, figure_problems

JOIN = "join-point-and-brim-6"
POUCH, GLOBE = "chandlers-pouch", "globe-bearers-cap"


@pytest.mark.parametrize(("way", "above"), [("up", "Brim, shell"), ("down", "Point, shell")])
def test_what_goes_up_stands_below_what_it_goes_to(way: str, above: str) -> None:
    drawing = draw(figure("solid", after=JOIN, slip={"crown": way}), made(HAT))
    faultless(drawing)
    heights = {text.text: text.at.imag for text in texts(drawing.items)}
    assert min(heights, key=heights.__getitem__) == above
    assert set(heights) == {"Brim, shell", "Under brim, shell", "Point, shell"}
    (head,) = (item for item in drawing.items if isinstance(item, Fill))
    tip = head.paths[0].start
    ends = [p.imag for p in head.paths[0].points()]
    assert tip.imag == (min(ends) if way == "up" else max(ends))


def test_what_hangs_on_a_piece_goes_with_it() -> None:
    drawn = made(POUCH)
    step = next(step for step in all_steps(drawn.recipe) if step.id == "join-turn-channel-1")
    pair = before_step(drawn, step, ("side", "shell"))
    assert pair
    assert [{part.ply for part in solid.parts} for solid in pair] == [
        {("side", "shell"), ("base", "shell")},
        {("side", "lining"), ("base", "lining")},
    ]
    assert not any(part.inner for solid in pair for part in solid.parts)


def test_panes_without_their_band_end_at_their_bases() -> None:
    drawn = made(GLOBE)
    step = next(step for step in all_steps(drawn.recipe) if step.id == "sew-the-band-3")
    pair = before_step(drawn, step, ("band", "shell"))
    assert pair
    panes = pair[1]
    low = min(z for _, _, z in panes.points)
    bases = [line for line in panes.lines if line.kind == "edge"]
    assert len(bases) == 6
    assert all(z == pytest.approx(low) for line in bases for _, _, z in line.points)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"slip": "crown"}, "“slip” takes one piece and the way it goes."),
        ({"after": JOIN, "slip": {"crown": "sideways"}}, "“crown” can't be “sideways”"),
        ({"after": JOIN, "slip": {"crwn": "up"}}, "There is no piece “crwn”"),
        ({"after": JOIN, "slip": {"lining_tip": "up"}}, "sews “lining_tip” to nothing"),
        ({"slip": {"crown": "up"}}, "sews “crown” to nothing"),
        ({"after": JOIN, "out": "inside"}, "“out” can't be “inside”"),
        ({"after": JOIN, "out": {"crwn": "wrong"}}, "There is no piece “crwn”"),
        ({"after": JOIN, "name": "crwn"}, "There is no piece “crwn”"),
    ],
)
def test_what_cannot_be_slipped_is_said(keys: dict[str, str | dict[str, str]], said: str) -> None:
    (problem,) = figure_problems(made(HAT), figure("solid", **keys))
    assert said in str(problem)


def hatch(slug: str, step: str, **keys: str | dict[str, str]) -> float:
    """How long all strokes are that show that wrong sides are seen, mm on the page."""
    drawing = draw(figure("solid", after=step, **keys), made(slug))
    faultless(drawing)
    return sum(
        abs(path.end - path.start)
        for item in drawing.items
        if isinstance(item, Stroke) and item.role == "leader"
        for path in item.paths
    )


def test_a_tube_that_is_wrong_side_out_is_hatched_outside_and_one_that_is_not_inside() -> None:
    slip = {"shell base": "up"}
    wrong, right = (
        hatch(POUCH, "sew-the-canvas-4", slip=slip, out=out) for out in ("wrong", "right")
    )
    assert wrong > 3 * right > 0
    assert hatch(POUCH, "sew-the-canvas-4", slip=slip) == 0


def test_which_side_of_a_disc_is_up_follows_from_where_it_goes() -> None:
    for slug, step, slip, up in (
        (POUCH, "sew-the-canvas-4", {"shell base": "up"}, "right side up"),
        (HAT, "line-and-fill-2", {"lining_tip": "down"}, "wrong side up"),
    ):
        drawing = draw(figure("solid", after=step, slip=slip, out="wrong"), made(slug))
        words = [text.text for text in texts(drawing.items)]
        assert up in words
        assert "wrong side out" in words


def test_what_hangs_on_a_piece_that_is_wrong_side_out_is_so_too() -> None:
    rule = figure(
        "solid",
        after="join-turn-channel-1",
        slip={"shell side": "down"},
        out={"lining base": "wrong"},
    )
    words = [text.text for text in texts(draw(rule, made(POUCH)).items)]
    assert words.index("right side out") > words.index("Side, shell")
    assert words.index("wrong side out") > words.index("Side, lining")


def test_what_goes_over_something_is_upside_down_with_its_mark_at_the_edge_that_is_joined() -> None:
    def zero(way: str) -> float:
        keys = {"slip": {"band": way}, "out": {"band": "wrong"}, "from": "behind"}
        rule = figure("solid", after="take-in-the-top-and-join-it-7", **keys)
        drawing = draw(rule, made("wick-trimmers-cap"))
        faultless(drawing)
        (mark,) = (text for text in texts(drawing.items) if text.text == "0")
        return mark.at.imag

    assert zero("over") > zero("down") + 5


def test_names_stand_on_every_side_of_a_piece_that_is_seen() -> None:
    rule = figure("solid", **{"from": "below", "name": ["lining_top", "band"], "folded": "band"})
    drawing = draw(rule, made("wick-trimmers-cap"))
    faultless(drawing)
    words = [text.text for text in texts(drawing.items)]
    assert (words.count("Lining"), words.count("Band")) == (1, 2)
