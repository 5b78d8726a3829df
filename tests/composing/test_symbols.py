"""The look of every role, told apart in black and white."""

from __future__ import annotations

from itertools import combinations

from notchbook.composing.symbols import (
    BLACK,
    CUTTING_LINES,
    PENS,
    SMALLEST,
    THINNEST,
    TYPES,
    WASHES,
    WHITE,
    cutting_line,
)


def test_only_black_and_white_are_used() -> None:
    assert {pen.colour for pen in PENS.values()} == {BLACK, WHITE}
    assert {wash.colour for wash in WASHES.values()} <= {BLACK, WHITE}


def test_no_stroke_is_finer_than_a_home_printer_prints() -> None:
    assert THINNEST == 0.2
    assert min(pen.width for pen in PENS.values()) >= THINNEST
    assert all(w.texture.width >= THINNEST for w in WASHES.values() if w.texture)
    assert SMALLEST == 2.5


def test_lines_on_a_piece_differ_by_width_or_dash() -> None:
    roles = (*CUTTING_LINES, "stitch", "seam", "grain", "centre")
    for one, other in combinations(roles, 2):
        a, b = PENS[one], PENS[other]
        assert a.dash != b.dash or abs(a.width - b.width) >= 0.1, (one, other)


def test_the_cutting_line_is_solid_and_the_stitching_line_dashed_and_lighter() -> None:
    assert not PENS["cut"].dash
    assert PENS["stitch"].dash
    assert PENS["stitch"].width < PENS["cut"].width


def test_cloths_cut_apart_have_lines_of_their_own_that_all_count_as_cutting_lines() -> None:
    assert [cutting_line(k) for k in range(4)] == ["cut", "cut-2", "cut-3", "cut-3"]
    assert all("cut" in PENS[role].classes.split() for role in CUTTING_LINES)


def test_sides_of_cloth_are_told_apart_without_colour() -> None:
    textures = [WASHES[f"{side}-side"].texture for side in ("right", "wrong", "either")]
    assert textures[0] is None
    assert textures[1] and textures[2] and textures[1].dash != textures[2].dash


def test_a_pieces_name_is_bolder_than_what_else_it_says() -> None:
    assert TYPES["name"].weight > TYPES["label"].weight
