"""Three patterns printed, taped together by their letters and half marks, and laid on the drawing
of all pieces: nothing of the arrangement is known, only the pages and ``pattern.svg``."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path as File
from xml.etree import ElementTree

import numpy as np
import pytest
from numpy.typing import NDArray
from shapely.geometry import LinearRing
from svgpathtools import Path as Seen
from svgpathtools import parse_path

from notchbook.composing.markup.svg import svg
from notchbook.composing.paper import PAPERS
from notchbook.composing.pattern import pattern
from notchbook.drafting.engine import draft
from tests.published.printed import Sheet, loops, sheets, taped
from tests.published.written import SVG, print_sheets, read, setting

PRINTED = {
    "globe-bearers-cap": "letter",
    "lock-keepers-gaiters": "a4",
    "drummers-cap": "a4",
}
NEAR = 0.2
"""How far the two outlines may lie apart anywhere, mm."""

Points = NDArray[np.complex128]


def drawn(text: str) -> list[Seen]:
    """Every solid cutting line of ``pattern.svg``, outlines and holes."""
    made = read(text)
    drawing = svg(pattern(draft(made, made.sizes[0]), setting()), standalone=True)
    root = ElementTree.fromstring(drawing)
    found = [p for p in root.iter(f"{SVG}path") if p.get("class", "").split() == ["cut"]]
    loops_ = [loop for p in found for loop in parse_path(p.get("d")).continuous_subpaths()]
    return [loop for loop in loops_ if loop.isclosed()]


def reassembled(pages: list[Sheet]) -> list[Seen]:
    """The same lines, from the sheets taped together."""
    groups = taped(pages)
    assert max(len(group.sheets) for group in groups) > 1
    found = [loop for group in groups for loop in loops(joined(group.lines("cut")))]
    return [Seen(*(part for edge in loop for part in edge)) for loop in found]


def joined(lines: list[Seen]) -> list[Seen]:
    """The lines that go on somewhere: samples of a line beside its meaning touch no other."""

    def goes_on(line: Seen) -> bool:
        ends = (line.start, line.end)
        others = [end for o in lines if o is not line for end in (o.start, o.end)]
        return abs(line.end - line.start) < 0.1 or any(
            abs(p - q) < 0.1 for p in ends for q in others
        )

    return [line for line in lines if goes_on(line)]


def fine(path: Seen) -> Points:
    """Points of a closed path, its corners among them."""
    shares = np.linspace(0, 1, 100, endpoint=False)
    return np.array([part.point(share) for part in path for share in shares])


def even(points: Points, count: int = 4096) -> Points:
    """Points evenly along a closed line of chords, whose start is anywhere."""
    ring = np.append(points, points[0])
    along = np.concatenate([[0], np.cumsum(abs(np.diff(ring)))])
    at = np.linspace(0, along[-1], count, endpoint=False)
    found: Points = np.interp(at, along, ring.real) + 1j * np.interp(at, along, ring.imag)
    return found


def around(path: Seen) -> float:
    """Length of a closed path, mm."""
    return float(abs(np.diff(fine(path))).sum())


def apart(one: Seen, other: Seen) -> float:
    """How far two closed lines are apart at most, mm, once one is turned and moved onto the other:
    the start that fits best (a circular correlation), then the turn that does (Procrustes)."""
    a, b = fine(one), fine(other)
    first, second = even(a), even(b)
    a, b = a - first.mean(), b - second.mean()
    first, second = first - first.mean(), second - second.mean()
    fit = np.fft.ifft(np.fft.fft(first) * np.conj(np.fft.fft(second)))
    turn = np.vdot(np.roll(second, int(np.argmax(abs(fit)))), first)
    b = b * turn / abs(turn)
    lines = [LinearRing([(p.real, p.imag) for p in points]) for points in (a, b)]
    return float(lines[0].hausdorff_distance(lines[1]))


def misses(pages: list[Sheet], text: str) -> Iterator[float]:
    """For every cutting line that is drawn, how far the printed one nearest to it lies off."""
    wanted, found = drawn(text), reassembled(pages)
    assert len(found) == len(wanted)
    for line in wanted:
        like = sorted(found, key=lambda other: abs(around(other) - around(line)))[:2]
        nearest = min(like, key=lambda other: apart(line, other))
        found.remove(nearest)
        yield apart(line, nearest)


@pytest.mark.parametrize("slug", PRINTED)
def test_taped_sheets_are_the_pattern_within_a_fifth_of_a_millimetre(root: File, slug: str) -> None:
    text = (root / "content/recipes" / slug / "recipe.md").read_text("utf-8")
    pages = sheets(print_sheets(text, paper=PAPERS[PRINTED[slug]]), covers=1)
    assert max(misses(pages, text)) < NEAR


def test_marks_that_lie_half_a_millimetre_off_are_noticed(root: File) -> None:
    text = (root / "content/recipes/lock-keepers-gaiters/recipe.md").read_text("utf-8")
    pages = sheets(print_sheets(text), covers=1)
    letter, marks = next(iter(pages[0].joins.items()))
    odd = replace(pages[0], joins={**pages[0].joins, letter: [mark + 0.5j for mark in marks]})
    with pytest.raises(Exception, match="lines go on"):
        max(misses([odd, *pages[1:]], text))
