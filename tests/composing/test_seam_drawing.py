"""The sides of a seam laid along each other, read back from the SVG."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest
from svgpathtools import parse_path

from notchbook.composing.markup.svg import svg
from notchbook.composing.seam_drawing import lay_seam
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.worst import worst_draft
from notchbook.problems import ContentError
from notchbook.reading.recipe import Recipe
from tests.composing.geometry import collisions, outside, strokes, struck, texts
from tests.composing.sample import hat, setting
from tests.recipes import HAT as SMALL_HAT
from tests.recipes import HEAD, recipe

HAT = hat()


def paths(made: Draft, seam: str, key: str) -> list[tuple[ElementTree.Element, float]]:
    """The paths with ``data-KEY`` and their lengths in mm of the pattern."""
    root = ElementTree.fromstring(svg(lay_seam(made, seam, setting()), setting=setting()))
    share = float(next(e for e in root.iter("path") if e.get("data-share")).get("data-share", ""))
    found = [e for e in root.iter("path") if e.get(f"data-{key}")]
    return [(e, parse_path(e.get("d", "")).length() / share) for e in found]


@pytest.mark.parametrize("seam", HAT.seams)
def test_straight_lines_and_curves_are_as_long_as_the_sides(seam: str) -> None:
    for key in ("side", "curve"):
        lengths = [length for _, length in paths(HAT, seam, key)]
        assert lengths == pytest.approx(HAT.seams[seam].lengths, abs=0.02)


@pytest.mark.parametrize("seam", HAT.seams)
def test_words_touch_nothing_and_stay_inside(seam: str) -> None:
    drawing = lay_seam(HAT, seam, setting())
    assert collisions(drawing.items, setting()) == []
    assert outside(drawing, setting()) == []
    assert struck(drawing.items, setting()) == []


def test_curves_start_in_one_point_and_one_direction_and_then_part() -> None:
    first, second = (e.get("d", "") for e, _ in paths(HAT, "crown to brim", "curve"))
    one, other = parse_path(first), parse_path(second)
    assert one.start == pytest.approx(other.start, abs=1e-3)
    assert one.unit_tangent(0) == pytest.approx(other.unit_tangent(0), abs=0.02)
    # The rim's cloth lies in its bend, the opening's outside of it.
    assert (one.point(0.2) - one.start).imag > 2
    assert (other.point(0.2) - other.start).imag < -2


def test_notches_stand_where_they_meet_their_twins() -> None:
    at: dict[str, list[float]] = {}
    for element, _ in paths(HAT, "crown to brim", "at"):
        y = float(re.findall(r"M[-\d.]+ ([-\d.]+)", element.get("d", ""))[0])
        at.setdefault("first" if y == 0 else "second", []).append(float(element.get("data-at", "")))
    assert len(at["first"]) == 7  # its start falls on the point's own seam
    assert at["second"][1:] == pytest.approx(at["first"], abs=0.01)
    assert at["first"] == pytest.approx([585 * k / 8 for k in range(1, 8)], abs=0.05)


def lowered(seam: str) -> Recipe:
    """The small hat with one seam changed and a brim whose opening is 6 mm too wide."""
    old = "crown to brim: {join: [crown.rim, shell brim.inner], notches: 8}"
    front = (HEAD + SMALL_HAT).replace("inner: rim", "inner: rim + 6 mm").replace(old, seam)
    assert seam in front
    return recipe(front)


@pytest.mark.parametrize(
    ("ease", "says"),
    [
        ("{}", "They do not meet: 6 mm (¹⁵⁄₆₄ in) left over."),
        ("{brim: 6 mm}", "Declared as ease: 6 mm (¹⁵⁄₆₄ in). They meet."),
    ],
)
def test_the_difference_stands_at_the_end_and_is_told_with_what_is_declared(
    ease: str, says: str
) -> None:
    declared = f", ease: {ease}" if ease != "{}" else ""
    seam = f"crown to brim: {{join: [crown.rim, shell brim.inner], notches: 8{declared}}}"
    made = lowered(seam)
    drawing = lay_seam(draft(made, made.sizes[0]), "crown to brim", setting())
    words = " ".join(text.text for text in texts(drawing.items)).replace("\u00a0", " ")
    assert "Longer by 6 mm" in words
    assert says in words
    sides = [
        s for role in ("cut", "seam") for s in strokes(drawing.items, role) if "side" in s.data
    ]
    over, under = (bounds(side.paths).high.real for side in sides)
    scale = float(sides[0].data["share"])
    dimension = [bounds(s.paths) for s in strokes(drawing.items, "dimension")]
    assert under - over == pytest.approx(6 * scale, abs=1e-3)
    assert any(box.low.real == pytest.approx(over) for box in dimension)


def test_the_worst_set_is_laid_where_a_seam_does_not_meet_and_else_the_usual_one() -> None:
    seam = "crown to brim: {join: [crown.rim, shell brim.inner], notches: 8, ease: {brim: 6 mm}}"
    assert worst_draft(lowered(seam), "crown to brim").size.id == "usual"
    growing = seam.replace("6 mm}", "6 mm + (head - 57 cm) / 10}")
    worst = worst_draft(lowered(growing), "crown to brim")
    assert worst.measures["head"] == pytest.approx(660)
    assert worst.seams["crown to brim"].miss == pytest.approx(9, abs=0.01)
    with pytest.raises(ContentError, match="no seam “crown to brin”"):
        worst_draft(lowered(seam), "crown to brin")
