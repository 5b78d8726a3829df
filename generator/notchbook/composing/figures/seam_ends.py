"""The ends of a seam, and the edges that lie there."""

from __future__ import annotations

from notchbook.composing.figures import keys
from notchbook.composing.figures.sewing import Sewn
from notchbook.drafting.draft import Draft, Seam
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.vector import Point
from notchbook.problems import ContentError, Problem
from notchbook.reading.recipe import FigureRule

TOUCHES = 0.5
"""An edge ends where a seam does if it ends as near to that, mm."""


def starts_at_end(seam: Seam, figure: FigureRule, draft: Draft) -> bool:
    """Whether a figure wants the stitching to start where its seam ends."""
    problems: list[Problem] = []
    for word in keys.texts(figure.keys, "start", problems):
        found = keys.find_edge(word, draft, problems)
        side = [s for s in seam.laid[0] if found and s.name.piece == found[0].name]
        if found is None:
            break
        ends = [_end(seam, last) for last in (False, True)]
        near = found[0].flat.edges[found[1]].path
        touched = [bool(side) and _off(near, end) < TOUCHES for end in ends]
        if sum(touched) == 1 and not seam.round:
            return touched[1]
        piece = draft.pieces[seam.laid[0][0].name.piece]
        beside = [
            f"{piece.name}.{name}"
            for name, edge in piece.flat.edges.items()
            if not any(s.name.edge == name for s in seam.laid[0])
            and sum(_off(edge.path, end) < TOUCHES for end in ends) == 1
        ]
        what = f"The seam “{seam.name}” has no end at “{word.value}”."
        remedy = f"Name an edge at one of its ends: {' or '.join(beside)}." if beside else (
            "Leave “start” out."
        )  # fmt: skip
        problems.append(Problem(word.place, what, remedy))
    if problems:
        raise ContentError(problems)
    return False


def end_edge(sewn: Sewn, draft: Draft) -> str:
    """The edge at the end of a seam that its gap is nearer to."""
    seam, gap = sewn.seam, sewn.opening
    last = gap is not None and seam.lengths[0] - gap.end < gap.start
    end, own = _end(seam, last), seam.laid[0]
    edges = draft.pieces[own[0].name.piece].flat.edges
    near = {name: _off(edge.path, end) for name, edge in edges.items()}
    others = [name for name in near if all(stretch.name.edge != name for stretch in own)]
    return min(others, key=near.__getitem__, default="")


def _off(path: Path, point: Point) -> float:
    """How far a point is from the nearer end of a path, mm."""
    return min(abs(path.start - point), abs(path.end - point))


def _end(seam: Seam, last: bool) -> Point:
    """The first or the last point of a seam on its first side."""
    stretch = seam.laid[0][-1 if last else 0]
    path = stretch.edge.path
    return path.end if last != stretch.backwards else path.start
