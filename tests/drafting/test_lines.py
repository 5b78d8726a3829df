"""Lines inside a piece: drawn at their distance, within the piece, and measured."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.draft import InnerLine
from notchbook.drafting.engine import draft, evaluate_in
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.segments import Arc
from notchbook.drafting.truing import true
from notchbook.problems import ContentError, Place
from notchbook.reading.formula import parse
from notchbook.reading.recipe import Recipe
from tests.lined import drafted, lined
from tests.recipes import HAT, HEAD, STEPS, recipe

BRIM = "    allowance: {outer: 6 mm}\n"


def line(drawn: str) -> InnerLine:
    return drafted(drawn).pieces["side"].lines[0]


def brimmed(drawn: str, oval: str = "1.29") -> Recipe:
    """The small hat with a line in its brim."""
    inner = f"    lines: {{row: {{title: row, kind: stitched, {drawn}}}}}\n"
    front = HEAD + HAT.replace("oval: 1.29", f"oval: {oval}").replace(BRIM, BRIM + inner)
    return recipe(front, STEPS.replace("    use:", "    lines: [brim.row]\n    use:"))


def test_a_parallel_runs_from_one_neighbouring_edge_to_the_other() -> None:
    path = line("along: top, inside: 3 cm").path
    assert path == polyline(30j, 400 + 30j)


def test_a_parallel_runs_between_two_places_of_its_edge() -> None:
    path = line("along: top, inside: 3 cm, from: 5 cm, to: 0.5").path
    assert path
    assert (path.start, path.end) == (pytest.approx(50 + 30j), pytest.approx(200 + 30j))


def test_a_line_runs_straight_from_place_to_place() -> None:
    path = line("between: [{edge: top, at: 0.25, inside: 1 cm}, {edge: bottom, at: 1/4}]").path
    assert path == polyline(100 + 10j, 300 + 200j)


def test_crosses_stand_at_their_places() -> None:
    found = line("marks: [{edge: top, at: 0.5}, {edge: left, at: 5 cm, inside: 2 cm}]")
    assert found.path is None
    assert found.crosses == (pytest.approx(200), pytest.approx(20 + 150j))


def test_the_parallel_of_a_circle_is_a_circle() -> None:
    made = draft(each := brimmed("along: outer, inside: 7 mm", "1"), each.sizes[0])
    brim = made.pieces["brim"]
    path = brim.lines[0].path
    assert path
    assert all(isinstance(segment, Arc) for segment in path.segments)
    assert path.length() == pytest.approx(brim.flat.edges["outer"].length() - math.tau * 7)


@settings(max_examples=10)
@given(st.floats(2, 70), st.sampled_from(["outer", "inner"]))
def test_every_point_of_a_parallel_keeps_its_distance(inside: float, edge: str) -> None:
    made = draft(each := brimmed(f"along: {edge}, inside: {inside} mm"), each.sizes[0])
    brim = made.pieces["brim"]
    points = brim.flat.edges[edge].path.points(0.001)
    path = brim.lines[0].path
    assert path
    for share in (0.05, 0.3, 0.6, 0.95):
        spot = path.point_at(share * path.length())
        nearest = min(_off(spot, a, b) for a, b in pairwise(points))
        assert nearest == pytest.approx(inside, abs=0.02)
        assert nearest != pytest.approx(inside * 1.01, abs=1e-4)


def _off(spot: complex, a: complex, b: complex) -> float:
    """How far a spot lies from a straight line between two points."""
    along = ((spot - a) / (b - a)).real
    return abs(spot - a - (b - a) * min(max(along, 0.0), 1.0))


def test_a_parallel_goes_on_across_the_start_of_a_closed_edge() -> None:
    made = draft(each := brimmed("along: outer, inside: 7 mm, from: 0.9, to: 0.1"), each.sizes[0])
    path = made.pieces["brim"].lines[0].path
    whole = made.pieces["brim"].flat.edges["outer"]
    assert path
    for end, share in ((path.start, 0.9), (path.end, 0.1)):
        assert abs(end - whole.places([share * whole.length()])[0][0]) == pytest.approx(7, abs=0.02)
    start = whole.path.start
    assert min(abs(point - start) for point in path.points()) == pytest.approx(7, abs=0.1)
    assert path.length() < whole.length() / 5


def test_a_line_can_be_measured_by_formulas() -> None:
    made = drafted(
        "along: top, inside: 3 cm", "allowance: 10 mm", "allowance: length(side.row) / 40"
    )
    assert made.pieces["side"].reach("top") == pytest.approx(10)
    assert evaluate_in(made, parse("length(side.row)", Place("x", 1, 1))).value == 400


def test_crosses_have_no_length() -> None:
    with pytest.raises(ContentError, match="are crosses, which have no length"):
        drafted("marks: {edge: top, at: 0.5}", "allowance: 10 mm", "allowance: length(side.row)")


@pytest.mark.parametrize(
    ("drawn", "what", "remedy"),
    [
        ("along: tpo, inside: 3 cm", "has no edge called “tpo”.", "Did you mean “top”?"),
        ("along: top, inside: 25 cm", "and the piece has no room for it there.", "Make"),
        ("along: top, inside: 1 mm", "would run 1 mm inside edge “top”.", "Make it 1.5 mm or more"),
        ("along: top, inside: -3 mm", "would run −3 mm inside edge “top”.", "Make it 1.5 mm"),
        ("along: top, inside: 3 cm, from: 9 cm, to: 0.1", "from 90 mm to 40 mm along", "Let"),
        ("along: top, inside: 3 cm, from: 1.5", "comes to 1.5, which is no share", "Write a share"),
        ("along: top, inside: 3 cm, to: 50 cm", "and edge “top” is 400 mm long.", "Write a share"),
        ("along: top, inside: 3 cm, to: 2 g", "is a mass, and a place along", "Write a share"),
        ("marks: {edge: top, at: 0.5, inside: 30 cm}", "which is not in the piece.", "Change"),
        ("between: [{edge: top, at: 0.5}, {edge: top, at: 0.5}]", "is only 0 mm long.", "Let it"),
    ],
)  # fmt: skip
def test_a_line_that_can_not_be_drawn_says_why(drawn: str, what: str, remedy: str) -> None:
    with pytest.raises(ContentError) as caught:
        drafted(drawn)
    (problem,) = caught.value.problems
    assert what in problem.what
    assert problem.remedy.startswith(remedy)
    assert problem.place.line > 30


def test_a_line_across_the_hole_of_a_ring_leaves_the_piece() -> None:
    across = brimmed("between: [{edge: outer, at: 0}, {edge: outer, at: 0.5}]")
    with pytest.raises(ContentError, match="leaves the piece on its way"):
        draft(across, across.sizes[0])


def test_a_line_is_not_called_as_an_edge_is() -> None:
    with pytest.raises(ContentError, match="“top” is an edge of piece “side”"):
        drafted(
            old="      row: {",
            new="      top: {title: t, kind: folded, along: top, inside: 2 cm}\n      row: {",
        )


def test_a_grain_line_stands_beside_a_line_it_would_lie_on() -> None:
    down = "between: [{edge: top, at: 0.5}, {edge: bottom, at: 0.5}]"
    assert {point.real for point in drafted(down).pieces["side"].flat.grain} == {192}
    assert {point.real for point in drafted().pieces["side"].flat.grain} == {200}


def test_every_line_is_followed_in_a_step_after_its_piece_is_cut() -> None:
    assert true(lined()) == ()
    (problem,) = true(lined(old="    lines: [side.row]\n"))
    assert problem.what == "Line “row” of piece “side” is never followed."
    (problem,) = true(
        lined(
            old="1. Cut.", new="1. Mark.\n\n    ```step\n    lines: [side.row]\n    ```\n\n2. Cut."
        )
    )
    assert problem.what == "Line “side.row” is followed here, before “side” is cut."
