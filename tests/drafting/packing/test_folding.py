"""Halves and quarters on paper: what is printed, flipped over, is the piece."""

from __future__ import annotations

import pytest
from shapely.affinity import affine_transform
from shapely.geometry import Polygon
from shapely.ops import unary_union

from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.packing.folding import Fold, chords, folds, part, regions, unfolded
from tests.published.written import read
from tests.recipes import HEAD, text_of

MAKE = "## Make it\n\n1. Cut and sew it.\n"


def drafted(shape: str, paper: str) -> Draft:
    front = f"""{HEAD}allowance: 12 mm
pieces:
  one: {{title: One, {shape}, cut: {{shell: 1}}, paper: {paper}}}
"""
    made = read(text_of(front, MAKE))
    return draft(made, made.sizes[0])


SHAPES = {
    "shape: ring, inner: 58 cm, oval: 1.29, width: 14 cm": 2,
    "shape: cone, rim: 58 cm, slant: 46 cm": 1,
    "shape: strip, length: 60 cm, width: 8 cm": 2,
    "shape: sector, opening: 44 cm, length: 40 cm, share: 3/4": 1,
}
"""Some shapes, and how many folds each has."""


def polygon(loops: tuple[Path, ...]) -> Polygon:
    outline, *holes = ([(p.real, p.imag) for p in loop.points(0.01)] for loop in loops)
    return Polygon(outline).difference(unary_union([Polygon(hole) for hole in holes]))


def flipped(shape: Polygon, fold: Fold) -> Polygon:
    """Where p comes to lie: at + along² (p − at)*."""
    u, t = fold.along**2, fold.at - fold.along**2 * fold.at.conjugate()
    return affine_transform(shape, [u.real, u.imag, u.imag, -u.real, t.real, t.imag])


@pytest.mark.parametrize("paper", ["half", "quarter"])
@pytest.mark.parametrize("shape", SHAPES)
def test_what_is_printed_and_flipped_is_the_whole_piece(shape: str, paper: str) -> None:
    made = drafted(shape, paper)
    count = {"half": 1, "quarter": 2}[paper]
    if SHAPES[shape] < count:
        (problem,) = unfolded(made)
        assert problem.remedy == "Write “paper: half”."
        return
    assert not list(unfolded(made))
    piece, lines = made.pieces["one"], folds(made)["one"]
    assert len(lines) == count
    printed = polygon(regions(piece, lines)[0])
    whole = polygon(regions(piece, ())[0])
    assert printed.area == pytest.approx(whole.area / 2**count, rel=1e-3)
    for line in lines:
        printed = printed.union(flipped(printed, line).buffer(0.01))
    assert printed.symmetric_difference(whole).buffer(-0.1).is_empty


def test_the_fold_is_no_part_of_a_cutting_line_and_is_drawn_from_edge_to_edge() -> None:
    made = drafted(next(iter(SHAPES)), "half")
    piece, lines = made.pieces["one"], folds(made)["one"]
    kept = [p for loop in piece.cut_lines[0].loops for p in part(loop, lines)]
    assert sum(p.length() for p in kept) == pytest.approx(
        sum(loop.length() for loop in piece.cut_lines[0].loops) / 2, abs=0.01
    )
    # A ring's fold crosses its band twice.
    assert len(chords(piece, lines)) == 2
    ends = [end for p in kept for end in (p.start, p.end)]
    for chord in chords(piece, lines):
        for end in (chord.start, chord.end):
            assert min(abs(end - other) for other in ends) < 0.1


def test_a_piece_with_no_two_like_sides_is_a_problem() -> None:
    leaning = "shape: cone, rim: 58 cm, oval: 1.2, height: 40 cm, lean: 10 cm, towards: 40 deg"
    (problem,) = unfolded(drafted(leaning, "half"))
    assert "not the same on both sides" in problem.what
    assert problem.remedy == "Leave “paper” out, and it is printed whole."
