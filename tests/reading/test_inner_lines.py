"""Lines inside a piece as an author tells them, and what can be wrong with that."""

from __future__ import annotations

import pytest

from notchbook.problems import ContentError
from notchbook.reading.recipe import Between, Crosses, Parallel
from tests.lined import lined
from tests.recipes import HEAD, STEPS, recipe


def test_a_line_is_told_in_one_of_three_ways() -> None:
    for drawn, form in (
        ("along: top, inside: 3 cm, from: 5 cm, to: 0.5", Parallel),
        ("between: [{edge: top, at: 0.5}, {edge: bottom, at: 3 cm, inside: 1 cm}]", Between),
        ("marks: [{edge: top, at: 0.5}, {edge: left, at: 0.5}]", Crosses),
        ("marks: {edge: top, at: 0.5}", Crosses),
    ):
        line = lined(drawn).pieces["side"].lines["row"]
        assert isinstance(line.drawn, form)
        assert (line.kind, line.title.value) == ("stitched", "row of stitches")


@pytest.mark.parametrize(
    ("drawn", "what", "remedy"),
    [
        ("inside: 3 cm", "“row” is told in no way, and one is wanted.", "Write “along: top"),
        (
            "along: top, inside: 3 cm, marks: {edge: top, at: 0.5}",
            "“row” is told by “along” and by “marks”, and one is wanted.",
            "Write “along: top",
        ),
        (
            "marks: {edge: top, at: 0.5}, inside: 3 cm",
            "“inside” goes with “along”, and “row” is told by “marks”.",
            "Put it inside the place",
        ),
        ("along: top", "“row” has no “inside”.", "Add a line such as “inside: 3 cm”."),
        ("marks: []", "“row” marks no place.", "Name one or more."),
        (
            "between: [{edge: top, at: 0.5}]",
            "“row” runs between 1 places, and two are wanted.",
            "Write [{edge: top",
        ),
        ("along: top, inside: 3", "“inside” takes a length, and “3” is", "Write its unit: 3 mm"),
        ("marks: {edge: top}", "A place has no “at”.", "Add a line such as “at: 0.5”."),
        ("along: top, inside: hed", "No measure or working is called “hed”.", "Did you mean"),
    ],
)
def test_what_is_told_wrongly_has_its_remedy(drawn: str, what: str, remedy: str) -> None:
    with pytest.raises(ContentError) as caught:
        lined(drawn)
    (problem,) = caught.value.problems
    assert what in problem.what
    assert problem.remedy.startswith(remedy)


def test_a_kind_that_nobody_knows_is_told_the_nearest() -> None:
    with pytest.raises(ContentError, match="“kind” can't be “sewn”"):
        lined(old="kind: stitched", new="kind: sewn")


def test_a_step_names_a_line_by_its_piece() -> None:
    for named, what in (
        ("side.rowe", "Piece “side” has no line called “rowe”."),
        ("side", "“side” is a piece, and one of its lines is wanted here."),
        ("sid.row", "No piece is called “sid”."),
    ):
        with pytest.raises(ContentError) as caught:
            lined(old="lines: [side.row]", new=f"lines: [{named}]")
        assert [problem.what for problem in caught.value.problems] == [what]


def test_a_limit_holds_only_where_its_choice_is_settled_so() -> None:
    with pytest.raises(ContentError, match="No choice is called “point”"):
        limit = "limits: [{require: head > 1 cm, say: Grow., when: {point: bent}}]\n"
        recipe(HEAD + limit + "allowance: 1 cm\n", STEPS)
