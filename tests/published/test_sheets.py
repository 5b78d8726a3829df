"""What the sheets' own PDF content measures, with the sheets taped as their reader tapes them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from notchbook.composing import rulers as drawn
from notchbook.composing.paper import PAPERS
from tests.published.checks import Figure, off, wrong
from tests.published.printed import Gap, Taped, loops, sheets, taped
from tests.published.written import print_sheets
from tests.recipes import HEAD, text_of

PAPER = ("a4", "letter")

MAKE = "## Make it\n\n1. Cut and sew it.\n"

BRIM = f"""{HEAD}allowance: 12 mm
pieces:
  brim: {{title: Brim, shape: ring, inner: 58 cm, oval: 1.29, width: 14 cm, cut: {{shell: 1}}}}
  point: {{title: Point, shape: cone, rim: 58 cm, slant: 46 cm, cut: {{shell: 1}}}}
"""

SEAM = f"""{HEAD}allowance: 12 mm
pieces:
  point: {{title: Point, shape: cone, rim: 24 cm, slant: 46 cm, cut: {{shell: 1}}}}
  band: {{title: Band, shape: strip, length: 250 mm, width: 25 mm, cut: {{shell: 1}}}}
"""


@cache
def printed(paper: str) -> bytes:
    return print_sheets(text_of(BRIM, MAKE), paper=PAPERS[paper])


def rulers(pdf: bytes) -> Iterator[Figure]:
    """The check rulers along both directions of sheet 1, to 0.05 mm: 5 in are 127 mm exactly
    (international yard and pound agreement, 1959)."""
    runs = [line.end - line.start for line in sheets(pdf)[0].lines["ruler"]]
    level = [run.real for run in runs if abs(run.imag) < 1e-3]
    upright = [run.imag for run in runs if abs(run.real) < 1e-3]
    for way, found in (("across", level), ("down", upright)):
        for length in (150.0, 127.0):
            nearest = min((abs(ours) for ours in found), key=lambda ours: abs(ours - length))
            yield Figure(f"{length:g} mm {way}", nearest, length, 0.05)


@pytest.mark.parametrize("paper", PAPER)
def test_the_check_rulers_measure_150_mm_and_5_in_both_ways(paper: str) -> None:
    assert not wrong(rulers(printed(paper)))


@pytest.mark.parametrize("factor", [1.01, 0.99])
def test_rulers_off_by_one_per_cent_are_noticed(
    factor: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(drawn, "METRIC", drawn.METRIC * factor)
    monkeypatch.setattr(drawn, "INCHES", drawn.INCHES * factor)
    figures = list(rulers(print_sheets(text_of(SEAM, MAKE))))
    assert wrong(figures) == figures


def seam(text: str, paper: str = "a4") -> Iterator[Figure]:
    """The lengths of stitching lines, read from the path operators of the sheets they cross."""
    groups = taped(sheets(print_sheets(text, paper=PAPERS[paper]), covers=1))
    assert max(len(group.sheets) for group in groups) > 1
    found = [loop for group in groups for loop in loops(group.lines("stitch"))]
    (point,) = (loop for loop in found if len(loop) == 3)
    rim, first, second = sorted(edge.length(error=1e-5) for edge in point)
    yield Figure("a seam edge of the point", first, 460, 0.1)
    yield Figure("the other", second, 460, 0.1)
    yield Figure("its rim", rim, 240, 0.1)
    (band,) = (loop for loop in found if len(loop) == 4)
    yield Figure("a band", max(edge.length() for edge in band), 250, 0.05)


@pytest.mark.parametrize("paper", PAPER)
def test_a_seam_line_is_as_long_as_the_recipe_asks_across_its_sheets(paper: str) -> None:
    """Its two edges and the rim within 0.1 mm; and a line of 250 mm within 0.05 mm."""
    assert not wrong(seam(text_of(SEAM, MAKE), paper))


@pytest.mark.parametrize("factor", [1.01, 0.99])
def test_a_seam_off_by_one_per_cent_is_noticed(factor: float) -> None:
    text = text_of(SEAM, MAKE)
    for formula in ("slant: 46 cm", "rim: 24 cm", "length: 250 mm"):
        text = off(text, formula, factor)
    figures = list(seam(text))
    assert wrong(figures) == figures


def gaps(groups: list[Taped]) -> list[float]:
    """How far apart, mm, lines end on one sheet and go on on the next."""
    return [gap for group in groups for role in ("stitch", "cut") for gap in group.gaps(role)]


@pytest.mark.parametrize("paper", PAPER)
def test_a_line_that_crosses_two_sheets_goes_on_within_a_tenth_of_a_millimetre(paper: str) -> None:
    found = gaps(taped(sheets(printed(paper), covers=1)))
    assert len(found) >= 20
    assert max(found) < 0.1


@pytest.mark.parametrize("factor", [1.01, 0.99])
def test_a_sheet_off_by_one_per_cent_is_noticed(factor: float) -> None:
    """One sheet printed larger or smaller than the others, its join lying as it should."""
    groups = taped(sheets(printed("a4"), covers=1))
    (group,) = (group for group in groups if len(group.sheets) > 4)
    lines = {
        role: [line.scaled(factor) for line in lines]
        for role, lines in group.sheets[2].lines.items()
    }
    joins = {
        letter: [mark * factor for mark in marks] for letter, marks in group.sheets[2].joins.items()
    }
    odd = replace(group.sheets[2], lines=lines, joins=joins)
    untrue = replace(group, sheets=[*group.sheets[:2], odd, *group.sheets[3:]])
    assert max(gaps([untrue])) > 0.1
    with pytest.raises(Gap):
        loops(untrue.lines("stitch"))
