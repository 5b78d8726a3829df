"""Lays: everything is cut, on grain, apart, on the cloth, and little is wasted."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from notchbook.drafting.draft import Draft, Lay
from notchbook.drafting.engine import draft
from notchbook.drafting.geometry.vector import flip
from notchbook.drafting.packing.cloth import TooWide, laid, lay, lays_of, too_wide, widths_of
from notchbook.reading.quantity import LENGTH
from tests.composing.sample import formula, hat
from tests.recipes import HAT, HEAD, recipe


def bench(nap: bool = False, shrinkage: float = 0.03, **counts: int) -> Draft:
    """The hat, with the shell's nap and shrinkage, and pieces cut more often from it."""
    draft = hat()
    shell = replace(draft.recipe.cloths["shell"], nap=nap, shrinkage=formula(shrinkage))
    recipe = replace(draft.recipe, cloths={**draft.recipe.cloths, "shell": shell})
    pieces = {
        name: replace(piece, counts={**piece.counts, "shell": counts[name]})
        if name in counts
        else piece
        for name, piece in draft.pieces.items()
    }
    return replace(draft, recipe=recipe, pieces=pieces)


def shapes(draft: Draft, made: Lay) -> list[Polygon]:
    found = []
    for placed in made.placed:
        loops = [
            [(p.real, p.imag) for p in laid(path, placed).points(0.05)]
            for path in draft.pieces[placed.piece].cut_line(made.cloth).loops
        ]
        found.append(Polygon(loops[0], loops[1:]))
    return found


@pytest.mark.parametrize("width", [910.0, 1120.0, 1500.0])
@pytest.mark.parametrize("nap", [False, True])
def test_pieces_keep_apart_from_each_other_and_from_the_selvages(width: float, nap: bool) -> None:
    draft = bench(nap, brim=2, cuff=3)
    made = lay(draft, "shell", width)
    laid = shapes(draft, made)
    for one, other in combinations(laid, 2):
        assert one.distance(other) >= 10
    for shape in laid:
        left, top, right, bottom = shape.bounds
        assert left >= 4.9
        assert right <= width - 4.9
        assert top >= 4.9
        assert bottom <= made.length - 4.9


def test_every_cut_of_the_cloth_is_laid_and_no_other() -> None:
    made = lay(bench(brim=2, cuff=3), "shell", 1120)
    found = sorted(placed.piece for placed in made.placed)
    assert found == ["band", "brim", "brim", "crown", "cuff", "cuff", "cuff"]


def test_grain_runs_along_the_length_and_one_way_where_there_is_nap() -> None:
    for nap in (False, True):
        draft = bench(nap, brim=2, cuff=3)
        for placed in lay(draft, "shell", 1120).placed:
            start, end = draft.pieces[placed.piece].flat.grain
            along = (end - start) * placed.turn / abs(end - start)
            assert abs(along.real) < 1e-9
            assert along.imag == pytest.approx(1) or (not nap and along.imag == pytest.approx(-1))


def test_a_lay_is_not_much_longer_than_the_cloth_it_covers() -> None:
    draft = bench(brim=2)
    made = lay(draft, "shell", 1120)
    area = sum(shape.area for shape in shapes(draft, made))
    assert 0.4 < area / (made.length * made.width) <= 1


def test_what_to_buy_allows_for_shrinkage_and_is_rounded_up_to_five_centimetres() -> None:
    made = lay(bench(shrinkage=0.05), "shell", 1120)
    assert made.buy % 50 == 0
    assert made.length / 0.95 <= made.buy < made.length / 0.95 + 50


def test_a_piece_exactly_as_wide_as_the_room_still_goes_on() -> None:
    draft = hat()
    just = 300.0 + _refusal(draft, "interfacing", 300.0).by
    made = lay(draft, "interfacing", just)
    assert shapes(draft, made)[0].bounds[2] == pytest.approx(just - 5, abs=0.01)
    assert _refusal(draft, "interfacing", just - 0.5).by == pytest.approx(0.5)


def test_a_piece_wider_than_the_cloth_is_refused_with_how_much() -> None:
    refusal = _refusal(bench(), "shell", 300.0)
    assert (refusal.piece, refusal.cloth, refusal.width) == ("brim", "shell", 300.0)
    assert refusal.by > 100


def _refusal(draft: Draft, cloth: str, width: float) -> TooWide:
    with pytest.raises(TooWide) as caught:
        lay(draft, cloth, width)
    return caught.value


SLANTED = """\
  panel_piece:
    title: Front
    shape: panel
    points: {a: [0 cm, 0 cm], b: [30 cm, 0 cm], c: [55 cm, 60 cm], d: [0 cm, 60 cm]}
    edges: {top: [a, b], side: [b, c], hem: [c, d], middle: [d, a]}
    cut: {shell: {pairs: 1}}
"""


def paired() -> Draft:
    front = (HEAD + HAT).replace("seams:\n", f"{SLANTED}seams:\n", 1)
    made = recipe(front)
    return draft(made, made.sizes[0])


@pytest.mark.parametrize("width", [1120.0, 1500.0])
def test_a_pair_is_two_pieces_one_of_them_turned_over_and_both_on_grain(width: float) -> None:
    made = paired()
    piece = made.pieces["panel_piece"]
    assert piece.counts == {"shell": 2} and piece.pairs == {"shell": 1}
    laid_out = lay(made, "shell", width)
    two = [placed for placed in laid_out.placed if placed.piece == "panel_piece"]
    assert sorted(placed.mirrored for placed in two) == [False, True]
    for one, other in combinations(shapes(made, laid_out), 2):
        assert one.distance(other) >= 10
    for placed in two:
        start, end = (flip(p) if placed.mirrored else p for p in piece.flat.grain)
        assert abs(((end - start) * placed.turn).real) < 1e-6
        (line,) = piece.cut_lines
        assert laid(line.loops[0], placed).area() > 0, "the cloth lies on the right of travel"


def test_mirrored_pieces_save_cloth_where_they_fit_together_head_to_foot() -> None:
    made = paired()
    front = made.pieces["panel_piece"]
    twice = {**made.pieces, "panel_piece": replace(front, pairs={})}
    pair, same = lay(made, "shell", 1120), lay(replace(made, pieces=twice), "shell", 1120)
    assert pair.length != same.length


def sold(*widths: float) -> Draft:
    """The hat with two fronts, its shell sold in these widths."""
    made = paired()
    shell = replace(
        made.recipe.cloths["shell"], widths=tuple(formula(width, LENGTH) for width in widths)
    )
    return replace(made, recipe=replace(made.recipe, cloths={**made.recipe.cloths, "shell": shell}))


def test_a_width_without_room_is_left_out_while_another_has_room() -> None:
    made = sold(300.0, 1500.0)
    assert not list(too_wide(made))
    assert [lay.width for lay in lays_of(made) if lay.cloth == "shell"] == [1500.0]
    (narrow, wide), (_, none) = widths_of(made, made.recipe.cloths["shell"])
    assert (narrow, none) == (300.0, None)
    assert wide is not None and wide.by == pytest.approx(_wanting(made, 300.0), abs=0.2)


def test_a_cloth_that_no_width_of_has_room_is_refused_on_its_widest() -> None:
    made = sold(200.0, 300.0)
    found = list(too_wide(made))
    assert {wide.width for wide in found} == {300.0}
    assert {wide.piece for wide in found} == {"brim", "crown", "panel_piece"}
    with pytest.raises(TooWide):
        lays_of(made)


def _wanting(made: Draft, width: float) -> float:
    """By how much the widest piece is too wide, from its extent across its grain alone."""
    found = []
    for piece in made.pieces.values():
        if "shell" in piece.counts:
            start, end = piece.flat.grain
            across = 1j * abs(end - start) / (end - start)
            xs = [(p * across).real for p in piece.cut_line("shell").loops[0].points(0.01)]
            found.append(max(xs) - min(xs) - (width - 10))
    return max(found)


def test_what_is_laid_has_the_area_of_all_that_is_cut() -> None:
    made = paired()
    for lay_ in lays_of(made):
        laid_out = sum(shape.area for shape in shapes(made, lay_))
        cut = sum(
            piece.counts[lay_.cloth] * sum(p.area() for p in piece.cut_line(lay_.cloth).loops)
            for piece in made.pieces.values()
            if lay_.cloth in piece.counts
        )
        assert laid_out == pytest.approx(cut, rel=1e-3)
        assert laid_out != pytest.approx(cut * 1.01, rel=1e-3)


@given(st.floats(900, 1800), st.booleans(), st.booleans(), st.integers(1, 4))
@settings(max_examples=4, deadline=None)
def test_pieces_never_overlap_on_any_cloth(
    width: float, nap: bool, folded: bool, count: int
) -> None:
    draft = bench(nap, brim=count)
    shell = replace(draft.recipe.cloths["shell"], folded=folded)
    recipe = replace(draft.recipe, cloths={**draft.recipe.cloths, "shell": shell})
    draft = replace(draft, recipe=recipe)
    made = lay(draft, "shell", width)
    for one, other in combinations(shapes(draft, made), 2):
        assert one.distance(other) > 9.9
