"""The compass view: what it prints draws the piece, and can be read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.composing.docstring import explained
from notchbook.composing.drawing import Drawing, Stroke
from notchbook.composing.figures import draw_figure
from notchbook.composing.figures.size import TALLEST
from notchbook.composing.reference import draft_example
from notchbook.drafting.draft import Draft, Piece
from notchbook.drafting.moves import Crossline, Inwards, Strike, Swing, Trace, Tuck
from notchbook.drafting.shapes import cone, gore, panel, ring, sector
from tests.collection import SLUGS, drafts
from tests.composing.figures.drawn import HAT, faultless, problems
from tests.composing.figures.drawn_by_hand import inches, off, printed
from tests.composing.geometry import opened, texts
from tests.composing.sample import draft_of, figure, figure_problems, setting
from tests.composing.sample import piece as sample


def shown(made: Draft, piece: str) -> Drawing:
    return draw_figure(made, figure("compass", piece=piece), setting())


def of_others(piece: Piece) -> bool:
    return any(isinstance(move, Trace | Inwards | Tuck) for move in piece.moves)


def collection(slug: str) -> Iterator[tuple[Draft, str]]:
    """The pieces of a recipe in its smallest size, with every set of choices."""
    known: list[object] = []
    for made in drafts(slug):
        for name, piece in made.pieces.items():
            if piece.moves not in known:
                known.append(piece.moves)
                yield made, name


@pytest.mark.parametrize("slug", SLUGS)
def test_the_printed_numbers_draw_every_piece_to_a_millimetre(slug: str) -> None:
    for made, name in collection(slug):
        drawing = shown(made, name)
        faultless(drawing, TALLEST)
        piece = made.pieces[name]
        if not of_others(piece):
            assert off(piece, printed(drawing)) < 1.0, name
            assert off(piece, printed(drawing, metric=False)) < 1.1, name


@pytest.mark.parametrize("shape", [cone, gore, ring, sector])
def test_they_draw_the_examples_of_shapes_too(shape: object) -> None:
    made = draft_example(explained(shape.__doc__ or ""))
    for name, piece in made.pieces.items():
        assert off(piece, printed(shown(made, name))) < 1.0, name


def test_they_draw_a_gore_that_is_wider_on_one_side_too() -> None:
    shape = gore.draft(gores=6, girth=590, height=170, oval=1.25, number=1)
    made = draft_of(sample("gore", shape, {"": {"": 0.0}}))
    drawing = shown(made, "gore")
    faultless(drawing, TALLEST)
    assert "E (− W)" in {text.text for text in texts(drawing.items)}
    assert off(made.pieces["gore"], printed(drawing)) < 1.0
    assert off(made.pieces["gore"], printed(drawing, metric=False)) < 1.1


@pytest.mark.parametrize(
    ("slug", "choices", "piece"),
    [
        ("lamplighters-hat", 0, "crown"),
        ("lamplighters-hat", 0, "brim"),
        ("lamplighters-hat", 2, "crown"),
        ("tollers-capelet", 0, "cape"),
        ("ferry-hands-rain-hat", 0, "brim"),
        ("lock-keepers-gaiters", 0, "leg"),
        ("wick-trimmers-cap", 0, "top"),
    ],
)
def test_a_radius_one_percent_wrong_would_be_noticed(slug: str, choices: int, piece: str) -> None:
    made = drafts(slug)[choices]
    assert off(made.pieces[piece], printed(shown(made, piece), wrong=1.01)) > 1.2


@pytest.mark.parametrize("slug", SLUGS)
def test_what_is_traced_tucked_or_measured_inwards_has_its_number(slug: str) -> None:
    for made, name in collection(slug):
        piece = made.pieces[name]
        if not of_others(piece):
            continue
        told = printed(shown(made, name))
        for move in piece.moves:
            if isinstance(move, Inwards) and move.distance > 0.5:
                far = told.number(f"# inside “{', '.join(move.of)}”")
                assert far == pytest.approx(move.distance, abs=0.25)
            if isinstance(move, Trace):
                assert f"Trace “{move.of}”" in told.words
            if isinstance(move, Tuck):
                ((_, along),) = told.rows[move.dart]
                assert along == pytest.approx(move.along, abs=0.25)
                assert told.number("their sides #") == pytest.approx(move.width / 2, abs=0.25)
                assert told.number("their points #") == pytest.approx(move.depth, abs=0.25)


def test_the_points_hat_is_drawn_in_two_panels_with_both_its_numbers() -> None:
    drawing = shown(HAT, "crown")
    told = printed(drawing)
    swing = next(m for m in HAT.pieces["crown"].moves if isinstance(m, Swing))
    assert told.number("String # about A") == pytest.approx(swing.radius, abs=0.25)
    assert told.number("from B an arc, # along the curve") == pytest.approx(swing.length, abs=0.25)
    strong = [text.text for text in texts(drawing.items) if text.role == "strong"]
    assert [text for text in strong if text.isdigit()] == ["1", "2"]
    assert {*"ABCD"} < {*strong}


def test_what_is_drawn_now_is_heavy_and_what_is_there_already_thin() -> None:
    strokes = [item for item in opened(shown(HAT, "crown").items) if isinstance(item, Stroke)]
    roles = [stroke.role for stroke in strokes if stroke.role in ("drawn", "drawing", "helping")]
    assert roles == ["helping", "drawing", "drawn", "drawing"]


@settings(max_examples=8)
@given(st.floats(300, 900), st.floats(120, 900), st.floats(40, 90))
def test_any_low_band_of_a_point_is_drawn_to_a_millimetre(
    rim: float, height: float, keep: float
) -> None:
    made = draft_of(sample("band", cone.draft(rim=rim, height=height, keep=keep), {"": {"": 0.0}}))
    drawing = shown(made, "band")
    faultless(drawing, TALLEST)
    assert off(made.pieces["band"], printed(drawing)) < 1.0


def test_a_long_row_of_points_stands_in_a_table() -> None:
    made = drafts("ferry-hands-rain-hat")[0]
    rows = printed(shown(made, "brim")).rows
    crosslines = [m for m in made.pieces["brim"].moves if isinstance(m, Crossline)]
    first = crosslines[0].marks[0][0]
    assert rows[first][0][1] == pytest.approx(crosslines[0].down, abs=0.25)


def test_points_of_a_leaning_point_are_struck_from_two_that_stay() -> None:
    made = drafts("lamplighters-hat")[2]
    strikes = [m for m in made.pieces["crown"].moves if isinstance(m, Strike)]
    assert {(move.one, move.other) for move in strikes} == {("A", "B0")}


def test_inches_are_read_as_they_are_printed() -> None:
    assert inches("18¹⁄₃₂") == pytest.approx(18 * 25.4 + 25.4 / 32)
    assert inches("−½") == pytest.approx(-12.7)


def test_a_piece_nobody_knows_how_to_draw_is_refused_with_a_sentence() -> None:
    bare = replace(HAT.pieces["crown"], moves=())
    made = replace(HAT, pieces={**HAT.pieces, "crown": bare})
    (problem,) = figure_problems(made, figure("compass", piece="crown"))
    assert "How the piece “crown” is drawn by hand is not known." in str(problem)


def test_a_piece_with_too_much_to_tell_is_refused_with_a_sentence() -> None:
    made = draft_example(explained(panel.__doc__ or ""))
    (problem,) = figure_problems(made, figure("compass", piece="spat"))
    assert "takes more room than a figure has" in str(problem)


def test_words_it_does_not_know_are_told() -> None:
    assert (
        "A compass figure has no “peice”. Did you mean “piece”?"
        in problems(figure("compass", peice="brim"))[0]
    )
    assert "needs “piece”" in problems(figure("compass"))[0]
    assert "Did you mean “brim”?" in problems(figure("compass", piece="brm"))[0]
