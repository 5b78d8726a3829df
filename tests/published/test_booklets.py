"""Booklet order against the printers' rule: a saddle-stitched booklet has a multiple of four
pages, and the two pages on one side of a sheet add up to one more than the whole (common practice
of the trade)."""

from __future__ import annotations

import pytest

from notchbook.pressing.imposition import Side, saddle


def keeps_the_rule(sides: tuple[Side, ...], pages: int) -> bool:
    return all(side.left and side.right and side.left + side.right == pages + 1 for side in sides)


@pytest.mark.parametrize("pages", [4, 8, 16, 24, 28, 64])
def test_the_two_pages_of_a_side_add_up_to_one_more_than_all(pages: int) -> None:
    sides = saddle(pages)
    assert len(sides) == pages // 2
    assert keeps_the_rule(sides, pages)
    assert sorted(page for side in sides for page in side[:2] if page) == [*range(1, pages + 1)]


def test_two_pages_swapped_break_the_rule() -> None:
    outer, *rest = saddle(16)
    _, second, *others = rest
    swapped = (outer._replace(left=second.left), second._replace(left=outer.left))
    assert not keeps_the_rule((*swapped, *others), 16)


def test_sixteen_pages_are_laid_as_printers_lay_them() -> None:
    pairs = [(side.left, side.right) for side in saddle(16)]
    assert pairs == [(16, 1), (2, 15), (14, 3), (4, 13), (12, 5), (6, 11), (10, 7), (8, 9)]


@pytest.mark.parametrize(("pages", "full"), [(5, 8), (13, 16), (18, 20), (27, 28)])
def test_other_numbers_are_filled_up_to_a_multiple_of_four(pages: int, full: int) -> None:
    assert 2 * len(saddle(pages)) == full
