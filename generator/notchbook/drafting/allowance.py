"""Cutting lines: the stitching line with each edge's allowance outside it, and proper corners."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations, pairwise

from notchbook.drafting.draft import CutLine
from notchbook.drafting.geometry.meet import apart, hull, meet
from notchbook.drafting.geometry.offset import Known
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.outline import AllowanceError, moved_loop
from notchbook.drafting.shape import Flat

CLOSE = 1.5
"""Lines nearer to each other than this (mm), but not on each other, can't be told apart."""

TOGETHER = 0.01
"""Lines within this (mm) of each other fall together."""


def cut_lines(
    flat: Flat,
    per_cloth: Mapping[str, Mapping[str, float]],
    corners: Mapping[str, str] | None = None,
) -> tuple[CutLine, ...]:
    """The different cutting lines of a piece, in the order of the cloths that first need them.

    ``per_cloth`` gives every edge's allowance (mm) for each cloth. Cloths with the same allowances
    share one line. ``corners`` and AllowanceError: see ``cut_loops``.
    """
    groups: dict[tuple[float, ...], list[str]] = {}
    for cloth, allowance in per_cloth.items():
        groups.setdefault(tuple(allowance[edge] for edge in flat.edges), []).append(cloth)
    found: list[CutLine] = []
    known: Known = {}
    for key, cloths in groups.items():
        allowance = dict(zip(flat.edges, key, strict=True))
        found.append(CutLine(tuple(cloths), cut_loops(flat, allowance, corners, known), allowance))
    return tuple(found)


def cut_loops(
    flat: Flat,
    allowance: Mapping[str, float],
    corners: Mapping[str, str] | None = None,
    known: Known | None = None,
) -> tuple[Path, ...]:
    """A closed cutting line for each loop of the stitching line, running the same way.

    ``allowance`` gives every edge's in mm: the line runs that far outside the edge, inside it
    where it is negative. ``known`` are parallels laid for other lines of the piece. Where two edges
    meet in a corner:

    - lines that come apart are mitred: run on straight until they meet; a mitre longer than 2.5
      times the larger allowance is squared off at 1.5 times;
    - lines that run into each other are cut off where they cross;
    - where edges run on smoothly with different allowances the line steps straight across.

    ``corners`` says what the two corners of an edge should be instead: ``mitred`` however long,
    ``squared`` off however short, or ``turned back``, as a hem that is folded along the edge and
    must end with the cloth beside it (see ``corners``).

    AllowanceError where there is no room: an edge bends too tightly, vanishes between its
    neighbours, or the cutting lines would cross.
    """
    known = {} if known is None else known
    loops = tuple(Path(moved_loop(loop, allowance, corners, known)[0]) for loop in flat.loops)
    # Lines outside their edges leave the cloth between them and can't meet.
    if any(allowance[edge] < 0 for edge in flat.edges):
        _check_apart(flat, loops, allowance)
    return loops


def _check_apart(flat: Flat, loops: Sequence[Path], allowance: Mapping[str, float]) -> None:
    pairs = combinations(zip(flat.loops, loops, strict=True), 2)
    for (edges, first), (others, second) in pairs:
        if _cross(first, second) or first.area() + second.area() <= 0 < first.area():
            deepest = min((*edges, *others), key=lambda edge: allowance[edge.name]).name
            raise AllowanceError(
                deepest,
                f"cut {-allowance[deepest]:.1f} mm inside edge “{deepest}”, "
                "two of its cutting lines cross.",
            )


def _cross(a: Path, b: Path) -> bool:
    others = [(hull(segment), segment) for segment in b.segments]
    for segment in a.segments:
        box = hull(segment)
        for other, second in others:
            if not apart(box, other) and meet(segment, second):
                return True
    return False


def too_close(flat: Flat, lines: Sequence[CutLine]) -> tuple[tuple[str, float], ...]:
    """The edges along which two lines of a piece run nearer to each other than 1.5 mm without
    falling together, each with the smallest distance (mm).

    Both a piece's cutting lines and its stitching line count. Along an edge they are parallels of
    it, so the distance between two is the difference between their allowances.
    """
    found: list[tuple[str, float]] = []
    for edge in flat.edges:
        levels = sorted({0.0, *(line.allowance[edge] for line in lines)})
        gaps = [b - a for a, b in pairwise(levels)]
        close = [gap for gap in gaps if TOGETHER < gap < CLOSE]
        if close:
            found.append((edge, min(close)))
    return tuple(found)
