"""Panels: outlines of the author's own."""

from __future__ import annotations

import cmath
import math
from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.geometry.segments import Arc
from notchbook.drafting.panels.runs import Run
from notchbook.drafting.shape import Refusal
from notchbook.drafting.shapes.panel import draft, read_parameters
from notchbook.problems import ContentError, Place
from notchbook.reading.quantity import LENGTH, Dimension
from notchbook.reading.recipe import Entry, Scalar, Series, Table
from tests.drafting.shapes.follow import check

SQUARE = {"a": (0.0, 0.0), "b": (100.0, 0.0), "c": (100.0, 80.0), "d": (0.0, 80.0)}


def line(*points: str) -> tuple[Run, ...]:
    return (Run("line", points),)


def arc(*points: str) -> tuple[Run, ...]:
    return (Run("arc", points),)


def curve(*points: str) -> tuple[Run, ...]:
    return (Run("curve", points),)


ROUND = {"top": line("a", "b"), "right": line("b", "c"), "bottom": line("c", "d"),
         "left": line("d", "a")}  # fmt: skip
MIXED = {
    "top": line("a", "b"),
    "sides": line("b", "c"),
    "hem": arc("c", "m", "d"),
    "slope": curve("d", "e", "f", "a"),
}
MIXED_POINTS = {**SQUARE, "m": (50.0, 110.0), "e": (-20.0, 55.0), "f": (10.0, 25.0)}


def refused(
    points: Mapping[str, tuple[float, float]],
    edges: Mapping[str, tuple[Run, ...]],
    grain: tuple[str, str] | None = None,
) -> Refusal:
    with pytest.raises(Refusal) as caught:
        draft(points=points, edges=dict(edges), grain=grain)
    return caught.value


def test_lines_arcs_and_curves_join_into_one_outline() -> None:
    shape = draft(points=MIXED_POINTS, edges=MIXED)
    check(shape)
    assert list(shape.flat.edges) == ["top", "sides", "hem", "slope"]


def test_an_arc_passes_through_its_middle_point_and_is_exact() -> None:
    hem = draft(points=MIXED_POINTS, edges=MIXED).flat.edges["hem"].path
    [segment] = hem.segments
    assert isinstance(segment, Arc)
    # Chord 100, height 30: r = (50² + 30²) ÷ 60.
    assert segment.radius == pytest.approx(3400 / 60)
    assert abs(abs(segment.centre - (50 + 110j)) - segment.radius) < 1e-9


def test_an_arc_of_more_than_half_a_circle_is_split_and_still_agrees() -> None:
    points = {"a": (0.0, 0.0), "m": (30.0, 120.0), "b": (60.0, 0.0)}
    shape = draft(points=points, edges={"top": line("a", "b"), "bag": arc("b", "m", "a")})
    check(shape)
    bag = shape.flat.edges["bag"].path
    assert len(bag.segments) == 2
    assert bag.length() > math.pi * 60


def test_edges_given_anticlockwise_are_turned_round() -> None:
    backwards = {
        name: (Run(run.kind, run.points[::-1]),) for name, (run,) in reversed(MIXED.items())
    }
    shape = draft(points=MIXED_POINTS, edges=backwards)
    check(shape)
    same = draft(points=MIXED_POINTS, edges=MIXED)
    for name, edge in shape.flat.edges.items():
        assert abs(edge.path.start - same.flat.edges[name].path.start) < 1e-9
        assert edge.path.length() == pytest.approx(same.flat.edges[name].path.length())


@settings(deadline=None, max_examples=30)
@given(
    st.integers(3, 7).flatmap(
        lambda n: st.lists(
            st.tuples(st.floats(60, 400), st.sampled_from(["line", "arc", "curve"])),
            min_size=n,
            max_size=n,
        )
    )
)
def test_any_star_of_points_agrees(rays: list[tuple[float, str]]) -> None:
    count = len(rays)
    points: dict[str, tuple[float, float]] = {}
    edges: dict[str, tuple[Run, ...]] = {}
    for k, (reach, kind) in enumerate(rays):
        here = cmath.rect(reach, math.tau * k / count)
        there = cmath.rect(rays[(k + 1) % count][0], math.tau * (k + 1) / count)
        middle = (here + there) / 2 * 1.15
        points[f"p{k}"] = (here.real, here.imag)
        points[f"m{k}"] = (middle.real, middle.imag)
        ends = (f"p{k}", f"p{(k + 1) % count}")
        edges[f"e{k}"] = (
            line(*ends) if kind == "line" else (Run(kind, (ends[0], f"m{k}", ends[1])),)  # type: ignore[arg-type]
        )
    try:
        shape = draft(points=points, edges=edges)
    except Refusal as refusal:
        assert "touch" in refusal.what
    else:
        check(shape)


def test_the_grain_runs_straight_down_the_middle_unless_it_is_told() -> None:
    start, end = draft(points=SQUARE, edges=ROUND).flat.grain
    assert (start.real, end.real) == (50, 50)
    assert 0 < start.imag < end.imag < 80
    assert draft(points=SQUARE, edges=ROUND, grain=("a", "c")).flat.grain == (0, 100 + 80j)


def test_the_grain_stays_within_the_cloth_of_a_hollow_piece() -> None:
    points = {**SQUARE, "n": (50.0, 60.0)}
    edges = {"notch": line("a", "n", "b"), **{k: v for k, v in ROUND.items() if k != "top"}}
    start, end = draft(points=points, edges=edges).flat.grain
    assert 60 < start.imag < end.imag < 80


def test_a_gap_is_named_with_the_edges_on_both_sides_of_it() -> None:
    found = refused(SQUARE, {**ROUND, "bottom": line("d", "c")})
    assert "Edge “bottom” starts at “d”" in found.what
    assert "“right”, the edge before it, ends at “c”" in found.what


def test_an_outline_left_open_is_refused() -> None:
    open_one = {name: run for name, run in ROUND.items() if name != "left"}
    assert "Edge “top” starts at “a”, but “bottom”" in refused(SQUARE, open_one).what


def test_an_outline_that_crosses_itself_is_refused_with_the_place() -> None:
    found = refused(SQUARE, {"x": line("a", "c", "b", "d", "a")})
    assert found.what == ("Edge “x” crosses or touches itself, 50 mm across and 40 mm down.")


def test_a_curve_that_swings_across_another_edge_is_refused() -> None:
    points = {**SQUARE, "m": (50.0, -5.0)}
    found = refused(points, {**ROUND, "bottom": arc("c", "m", "d")})
    assert found.what.startswith("Edges “bottom” and “left” cross or touch, 0 mm across")


@pytest.mark.parametrize(
    ("points", "edges", "words"),
    [
        ({**SQUARE, "b": (1e9, 0.0)}, ROUND, "Point “b” lies"),
        ({**SQUARE, "b": (math.nan, 0.0)}, ROUND, "Point “b” lies"),
        ({**SQUARE, "b": (0.01, 0.0)}, ROUND, "lie in the same place"),
        ({**SQUARE, "m": (50.0, 80.0)}, {**ROUND, "bottom": arc("c", "m", "d")}, "straight line"),
        ({**SQUARE, "m": (50.0, 80.0)}, {"whole": arc("a", "m", "a")}, "straight line"),
        (SQUARE, {"there": line("a", "b"), "back": line("b", "a")}, "enclose nothing"),
        ({**SQUARE, "s": (150.0, 0.0)}, {**ROUND, "top": line("a", "s", "b")}, "touches itself"),
        (
            {"a": (0.0, 0.0), "m": (5.0, -0.13), "b": (10.0, 0.0)},
            {"top": arc("a", "m", "b"), "back": line("b", "a")},
            "enclose nothing",
        ),
    ],
)
def test_what_is_no_outline_is_refused(
    points: Mapping[str, tuple[float, float]], edges: Mapping[str, tuple[Run, ...]], words: str
) -> None:
    found = refused(points, edges)
    assert words in found.what
    assert found.what.endswith(".") and found.remedy.endswith(".")


# Reading. Every entry of a table made here stands on a line of its own.


def entry(given: object, lines: list[int]) -> Entry:
    lines[0] += 1
    place = Place("recipe.md", lines[0], 5)
    if isinstance(given, Mapping):
        keys = {key: Place("recipe.md", lines[0], 1) for key in given}
        return Table({key: entry(value, lines) for key, value in given.items()}, keys, place)
    if isinstance(given, list):
        return Series(tuple(entry(value, lines) for value in given), place)
    return Scalar(str(given), place, None)


def read(given: Mapping[str, object]) -> dict[str, object]:
    made = entry(given, [0])
    assert isinstance(made, Table)
    return read_parameters(made, millimetres)


def millimetres(scalar: Scalar, dimension: Dimension) -> float:
    assert dimension == LENGTH
    return float(scalar.text)


CORNERS: Mapping[str, object] = {"a": ["0", "0"], "b": ["100", "0"], "c": ["50", "80"]}
RUNS: Mapping[str, object] = {"top": ["a", "b"], "side": {"line": ["b", "c"]}, "back": ["c", "a"]}


def test_a_recipes_table_becomes_points_and_runs() -> None:
    found = read({"points": CORNERS, "edges": RUNS, "grain": ["a", "b"]})
    assert found == {
        "points": {"a": (0, 0), "b": (100, 0), "c": (50, 80)},
        "edges": {"top": line("a", "b"), "side": line("b", "c"), "back": line("c", "a")},
        "grain": ("a", "b"),
    }
    check(draft(**found))  # type: ignore[arg-type]


def test_arcs_and_curves_are_read_by_their_names() -> None:
    runs = {"x": {"arc": ["a", "b", "c"]}, "y": {"curve": ["c", "b", "a"]}}
    assert read({"points": CORNERS, "edges": runs})["edges"] == {
        "x": arc("a", "b", "c"),
        "y": curve("c", "b", "a"),
    }


@pytest.mark.parametrize("arriving", ["pi", "b"])
def test_a_curve_arrives_along_an_angle_of_travel_or_from_a_point(arriving: str) -> None:
    """From c, below the middle of the line from a to b, to a: leftwards, as if from b."""
    values = {"pi": math.pi, "0": 0.0, "100": 100.0, "50": 50.0, "80": 80.0}
    back = {"curve": ["c", "a"], "arriving": arriving}
    runs = {"top": ["a", "b"], "side": ["b", "c"], "back": back}
    made = entry({"points": CORNERS, "edges": runs}, [0])
    assert isinstance(made, Table)
    found = read_parameters(made, lambda scalar, _: values[scalar.text])
    [curved] = found["edges"]["back"]  # type: ignore[index]
    assert curved.arriving == pytest.approx(-1)


@pytest.mark.parametrize(
    ("given", "what", "remedy"),
    [
        ({"edges": RUNS}, "A panel needs “points”", "Write them below “points:”"),
        ({"points": CORNERS}, "A panel needs “edges”", "Write them below “edges:”"),
        ({"points": CORNERS, "edges": RUNS, "grian": "a"}, "nothing called “grian”", "“grain”?"),
        ({"points": {**CORNERS, "d": "5"}, "edges": RUNS}, "Point “d” needs two", "“d: [30 mm"),
        ({"points": {**CORNERS, "d": ["5"]}, "edges": RUNS}, "Point “d” needs two", "Write it"),
        ({"points": CORNERS, "edges": {"e": "a"}}, "Edge “e” needs the points", "Write “e: [a"),
        ({"points": CORNERS, "edges": {"e": ["a"]}}, "“e” needs a list of 2 or more", "brackets"),
        ({"points": CORNERS, "edges": {"e": {"arc": ["a", "b"]}}}, "a list of 3 names", "brackets"),
        ({"points": CORNERS, "edges": {"e": {"arch": ["a"]}}}, "can't be a “arch”", "“arc”?"),
        ({"points": CORNERS, "edges": RUNS, "grain": ["a"]}, "“grain” needs a list", "brackets"),
        ({"points": {"hem1": ["0", "0"]}, "edges": {"e": ["hem1", "hem2"]}}, "no point called",
         "Did you mean “hem1”?"),
    ],
)  # fmt: skip
def test_a_table_that_is_wrong_says_what_and_how_to_mend_it(
    given: Mapping[str, object], what: str, remedy: str
) -> None:
    with pytest.raises(ContentError) as caught:
        read(given)
    [problem] = caught.value.problems
    assert what in problem.what
    assert remedy in problem.remedy


def test_all_that_is_wrong_in_a_table_is_said_at_once_each_in_its_place() -> None:
    with pytest.raises(ContentError) as caught:
        read(
            {
                "points": {"a": ["0", "0"], "b": "none"},
                "edges": {"top": ["a", "x"], "side": {"loop": ["a"]}},
                "colour": "red",
            }
        )
    assert [problem.place.line for problem in caught.value.problems] == [1, 6, 10, 11]
