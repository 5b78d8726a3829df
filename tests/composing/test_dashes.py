"""Lines that are told apart wherever they are begun and from whichever end they are read."""

from __future__ import annotations

from itertools import pairwise

from notchbook.composing.dashes import GAP, MARKS, alike, dashes
from notchbook.composing.symbols import NESTED

ROWS = [row[::2] for row in dashes()]


def test_no_two_rows_look_alike_from_any_mark_or_either_end() -> None:
    seen: dict[tuple[float, ...], int] = {}
    for number, row in enumerate(ROWS[1:]):
        for other in set(alike(row * (60 // len(row)))):
            assert seen.setdefault(other, number) == number
    assert len(ROWS) == 65


def test_marks_can_be_told_by_eye_and_gaps_are_seen() -> None:
    long, short, dot = MARKS
    assert long >= 2 * short >= 4 * dot
    assert max(NESTED[name].width for name in NESTED) < GAP / 2
    assert {gap for row in dashes() for gap in row[1::2]} == {GAP}


def test_every_size_of_a_nest_has_a_line_of_its_own_light_and_heavy_in_turn() -> None:
    pens = list(NESTED.values())
    assert len({pen.dash for pen in pens}) == len(pens) == len(ROWS)
    widths = [pen.width for pen in pens]
    assert all(max(a, b) == 2 * min(a, b) for a, b in pairwise(widths))
