"""Panels as an author writes them: points from points, halves, holes, darts, and what is wrong."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from time import process_time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.draft import Piece
from notchbook.drafting.engine import draft
from notchbook.drafting.geometry.stretch import across
from notchbook.drafting.geometry.vector import Point
from notchbook.drafting.shape import Shape
from notchbook.problems import ContentError
from tests.drafting.shapes.follow import check_flat, check_moves, distance
from tests.recipes import HEAD, recipe

LEG = """\
    points:
      A: [0 mm, 0 mm]
      B: {from: A, go: 30 cm, towards: 90 deg}
      side: {from: A, across: 20 cm, down: 5 mm}
      heel: {from: B, across: 14 cm, down: -6 mm}
      shin: {along: [side, heel], at: 2/3}
      bulge: {from: shin, go: 6 mm, towards: A, turned: 180 deg}
      tongue: {from: B, go: 45 mm, towards: 90 deg}
      instep: {meet: [{circle: B, radius: 145 mm}, {from: heel, towards: 100 deg}], nearest: tongue}
      eye: {from: side, across: -25 mm, down: 25 mm}
    mirror: [A, B]
    edges:
      top: {curve: [A, side], leaving: 0 deg}
      back: {curve: [side, bulge, heel]}
      foot: [[heel, instep], {arc: [instep, tongue], rise: 8 mm}]
    holes:
      eyelet: {circle: eye, radius: 3 mm}
    darts:
      tuck: {edge: top, at: 1/2, width: 12 mm, depth: 7 cm, press: start}
"""
SQUARE = """\
    points:
      A: [0 mm, 0 mm]
      B: [100 mm, 0 mm]
      C: [100 mm, 80 mm]
      D: [0 mm, 80 mm]
      P: POINT
    edges:
      top: [A, P, B]
      rest: [B, C, D, A]
"""


STEPS = "## Make it\n\n1. Cut.\n\n    ```step\n    cut: [leg]\n    ```\n"


def panel(text: str) -> str:
    """A front matter with one panel."""
    front = f"{HEAD}allowance: 5 mm\npieces:\n  leg:\n    title: Leg\n    shape: panel\n{text}"
    if "eyelet:" in text:
        front += "    allowance: {eyelet: 0 mm, other_eyelet: 0 mm}\n"
    return front + "    cut: {shell: 1, lining: 1}\n"


def made(text: str) -> Piece:
    read = recipe(panel(text), STEPS)
    return draft(read, read.sizes[0]).pieces["leg"]


def problems(text: str) -> list[str]:
    with pytest.raises(ContentError) as caught:
        made(text)
    return [problem.what for problem in caught.value.problems]


@pytest.mark.parametrize(
    ("point", "where"),
    [
        ("[30 mm, -20 mm]", 30 - 20j),
        ("{from: A, across: 30 mm, down: -20 mm}", 30 - 20j),
        ("{from: A, down: -20 mm}", -20j),
        ("{from: B, go: 50 mm, towards: 270 deg}", 100 - 50j),
        ("{from: C, go: 130 mm, towards: B}", 100 - 50j),
        ("{from: A, go: 30 mm, towards: B, turned: -90 deg}", -30j),
        ("{mirror: D, across: [A, B]}", -80j),
        ("{along: [D, A, B], at: 130 mm}", 50 + 0j),
        ("{along: [A, B], at: 1/4}", 25 + 0j),
        ("{meet: [[A, C], [B, D]]}", 50 + 40j),
        ("{meet: [{line: [A, B]}, {from: D, towards: 315 deg}]}", 80 + 0j),
        ("{meet: [{circle: A, radius: 50 mm}, [A, B]], nearest: B}", 50 + 0j),
        ("{meet: [{circle: A, radius: 60 mm}, {circle: B, radius: 80 mm}], nearest: C}", 36 + 48j),
        ("{meet: [{edge: rest}, {from: A, towards: C}], nearest: C}", 100 + 80j),
        ("{along: rest, at: 80 mm}", 100 + 80j),
    ],
)
def test_a_point_is_built_from_others(point: str, where: Point) -> None:
    text = SQUARE.replace("POINT", point).replace("[A, P, B]", "[A, B]")
    text = text.replace("    edges:", "      Q: [500 mm, 500 mm]\n    edges:")
    assert abs(made(f"{text}    grain: [P, Q]\n").flat.grain[0] - where) < 1e-6


@pytest.mark.parametrize(
    ("point", "what"),
    [
        ("{from: E, go: 5 mm, towards: 0 deg}", "There is no point called “E”."),
        ("{from: P, go: 5 mm, towards: 0 deg}", "These need each other in a circle: P → P."),
        ("{along: top, at: 5 mm}", "These need each other in a circle: P → edge top → P."),
        ("{along: tip, at: 5 mm}", "There is no edge called “tip”."),
        ("{along: [A, B], at: 2}", "“at” comes to 200 mm, and A–B is 100 mm long."),
        ("{along: [A, B], at: 5 g}", "“5 g” is a mass; a length belongs here."),
        ("{along: [A, A], at: 1/2}", "Points “A” and “A” lie in the same place."),
        ("{from: A, go: 5, towards: B}", "“5” is a plain number; a length belongs here."),
        ("{from: A, go: 5 mm}", "Point “P” has no “towards”."),
        ("{from: A, go: 5 mm, to: B}", "A point built like this has nothing called “to”."),
        ("{of: A}", "This does not say where point “P” lies."),
        ("{from: A, go: 30 m, towards: B}", "Point “P” lies 30 m across and 0 mm down."),
        ("{from: A, go: 5 mm, towards: A}", "Point “A” lies where the direction to it starts."),
        ("{meet: [[A, B], [D, C]]}", "The line A–B and the line D–C run parallel, 80 mm apart."),
        ("{meet: [[A, B], [B, A]]}", "The line A–B and the line B–A lie on each other."),
        ("{meet: [[A, B], {circle: D, radius: 5 cm}]}", "The line A–B passes 80 mm from the middle "
         "of the circle about D, 30 mm more than its radius."),
        ("{meet: [{circle: A, radius: 3 cm}, {circle: B, radius: 4 cm}]}", "The circle about A and "
         "the circle about B do not meet: their centres lie 100 mm apart, 30 mm more than both "
         "radii together."),
        ("{meet: [{circle: A, radius: 3 cm}, {circle: B, radius: 20 cm}]}", "The circle about A "
         "and the circle about B do not meet: one lies 70 mm inside."),
        ("{meet: [{circle: A, radius: 3 cm}, [A, B]]}", "The circle about A and the line A–B meet "
         "more than once: at 30 mm across, 0 mm down and at −30 mm across, 0 mm down."),
        ("{meet: [[A, B]]}", "“meet” needs two things: lines, circles or edges."),
        ("{meet: [[A, B], {ring: A}]}", "This is no line, circle or edge that another can meet."),
        ("{mirror: A, across: [B, B]}", "Points “B” and “B” lie in the same place."),
        ("{mirror: A, across: [B]}", "A line needs the two points it runs through."),
    ],
)  # fmt: skip
def test_a_point_that_can_not_be_built_is_told_once_in_a_sentence(point: str, what: str) -> None:
    assert problems(SQUARE.replace("POINT", point)) == [what]


def test_a_long_chain_of_points_is_told_in_a_sentence_too() -> None:
    chain = "".join(f"      P{k}: {{from: P{k - 1}, across: 1 mm}}\n" for k in range(500, 0, -1))
    text = SQUARE.replace("      P: POINT\n", f"{chain}      P0: [0 mm, 0 mm]\n")
    said = problems(text.replace("[A, P, B]", "[A, B]"))
    assert "More than 60 points hang from each other in a row here." in said


def test_a_point_that_nothing_uses_is_told() -> None:
    text = SQUARE.replace("POINT", "[5 mm, 5 mm]").replace("[A, P, B]", "[A, B]")
    assert problems(text) == ["Nothing uses point “P”."]


def test_a_half_is_mirrored_into_a_whole() -> None:
    piece = made(LEG)
    assert list(piece.flat.edges) == ["top", "back", "foot", "other_back", "eyelet", "other_eyelet"]
    check_flat(piece_shape(piece))
    for edge in piece.flat.edges.values():
        other = piece.flat.edges.get(
            f"other_{edge.name}", piece.flat.edges.get(edge.name.removeprefix("other_"))
        )
        assert other is not None
        for k in range(25):
            point = edge.path.point_at(edge.path.length() * k / 24)
            assert distance(across(point, 0, 300j), other.path) < 0.02
        assert edge.length() == pytest.approx(other.length(), abs=1e-6)
    assert {dart.name for dart in piece.flat.darts} == {"tuck", "other tuck"}
    first, second = piece.flat.darts
    assert abs(across(first.point, 0, 300j) - second.point) < 1e-9


def test_a_panel_drawn_by_hand_is_the_panel() -> None:
    check_moves(piece_shape(made(LEG)))


def piece_shape(piece: Piece) -> Shape:
    return Shape(piece.flat, piece.form, piece.moves)


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ("at: 1/2, width: 12 mm", "at: 1/2, width: 45 cm", "takes 450 mm out of edge “top”"),
        ("depth: 7 cm", "depth: 40 cm", "deep, but meets edge “foot” after"),
        ("depth: 7 cm, ", "", "Dart “tuck” needs “depth” or “point”."),
        ("depth: 7 cm, ", "depth: 7 cm, point: shin, ", "needs “depth” or “point”, not both"),
        ("press: start", "press: left", "A dart can't be pressed towards “left”."),
        ("at: 1/2, w", "count: 2.5, w", "is to be made 2.5 times"),
        ("edge: top", "edge: tip", "There is no edge called “tip”."),
        ("radius: 3 mm}", "radius: 40 mm}", "cross or touch"),
        ("eyelet: {circle: eye", "back: {circle: eye", "Two edges of this panel are called “back”"),
        ("[A, B]\n    edges", "[A, side]\n    edges", "from the mirror line A–side"),
        ("rise: 8 mm", "rise: 8 mm, radius: 9 cm", "has a rise and a radius"),
        ("rise: 8 mm", "radius: 3 cm", "and an arc with a radius of 30 mm spans 60 mm at most"),
        ("rise: 8 mm", "bulge: 8 mm", "Edge “foot” is drawn with “arc”, which has no “bulge”."),
        ("leaving: 0 deg", "leaving: 5 mm", "“5 mm” is a length"),
    ],
)
def test_what_is_wrong_with_a_panel_is_said_in_a_sentence(old: str, new: str, what: str) -> None:
    assert old in LEG
    said = problems(LEG.replace(old, new))
    assert any(what in each for each in said), said


def _mutations(random_: random.Random) -> Iterator[str]:
    """A valid panel with some numbers, names or lines put wrong, or right in another way."""
    text = LEG
    for _ in range(random_.randint(1, 2)):
        kind = random_.random()
        if kind < 0.85:
            numbers = list(re.finditer(r"(?<=[ (\[])-?\d+(?= (mm|cm|deg))", text))
            found = random_.choice(numbers)
            factor = random_.choice([0.9, 0.97, 0.99, 1.01, 1.03, 1.1, 0, -1, 1e5])
            new = f"{int(found[0]) * factor:.4f}"
        elif kind < 0.95:
            found = random_.choice(list(re.finditer(r"\b(A|B|side|heel|shin|tongue|eye)\b", text)))
            new = random_.choice(["A", "B", "side", "heel", "shin", "tongue", "eye", "none"])
        else:
            found = random_.choice(list(re.finditer(r"[\[\]{}:,]|\w+(?=:)", text)))
            new = random_.choice(["", "x", "[", "meet", "arc", "curve"])
        text = text[: found.start()] + new + text[found.end() :]
        yield text


@settings(deadline=None, max_examples=60)
@given(st.randoms(use_true_random=False))
def test_any_slip_in_a_panel_gives_a_draft_or_a_sentence_within_a_second(
    random_: random.Random,
) -> None:
    *_, text = _mutations(random_)
    start = process_time()
    try:
        check_flat(piece_shape(made(text)))
    except ContentError as error:
        assert error.problems
        for problem in error.problems:
            assert problem.what.endswith((".", "”", "!")) and problem.remedy.endswith(
                (".", "?", "”")
            )
            assert not re.search(r"\bnan\b|\binf\b|Traceback", problem.what)
    assert process_time() - start < 1


def test_at_least_half_of_the_slips_get_as_far_as_a_draft() -> None:
    drafted = 0
    for seed in range(60):
        *_, text = _mutations(random.Random(seed))
        try:
            made(text)
            drafted += 1
        except ContentError:
            pass
    assert drafted >= 30, drafted
