"""What is about to be joined, still apart, and the way it goes."""

from __future__ import annotations

import pytest

from notchbook.composing.drawing import Fill
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
    ],
)
def test_what_cannot_be_slipped_is_said(keys: dict[str, str | dict[str, str]], said: str) -> None:
    (problem,) = figure_problems(made(HAT), figure("solid", **keys))
    assert said in str(problem)
