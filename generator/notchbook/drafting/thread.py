"""Thread for machine sewing, from the edges as they are drawn.

Textile engineering texts reckon the thread in an inch of seam, all threads of the stitch together,
as 2 + 2 T S for lockstitch (ISO 4915 type 301) and 5 + 4 S (W + T) for three-thread overedge (type
504), T being the thickness and W the width of what is sewn in inches, S the stitches to an inch,
and add 10 to 15 % for waste. With p the length of a stitch, T S is T ÷ p in any unit: lockstitch
takes 2 + 2 T ÷ p times its own length, since each of two threads runs along the seam once and once
through it at every stitch; overedge takes 5 + 4 (W + T) ÷ p.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from notchbook.drafting.draft import Draft, Piece, Seam
from notchbook.drafting.engine import evaluate_in
from notchbook.reading.recipe import EdgeName

STITCH = 2.5
"""How long a stitch is, mm."""
BITE = 5.0
"""How wide an overedged allowance is sewn, mm."""
WASTE = 0.15
"""What ends, bobbins and trials take beyond that."""


@dataclass(frozen=True, slots=True)
class Thread:
    """How long everything sewn is and what thread it takes, mm: ``seams`` and the rows of stitching
    drawn on pieces in ``lockstitch``, and the ``edges`` of all seams, each by itself, in
    ``overedge``."""

    seams: float
    lockstitch: float
    edges: float
    overedge: float


def thread(draft: Draft) -> Thread:
    """The thread of a whole draft, every seam and row of stitches sewn once, waste counted in."""
    rows = [*_seams(draft), *_lines(draft)]
    edges = list(_edges(draft))
    return Thread(
        sum(length for length, _ in rows),
        sum(length * lockstitch(thick) for length, thick in rows) * (1 + WASTE),
        sum(length for length, _ in edges),
        sum(length * overedge(thick) for length, thick in edges) * (1 + WASTE),
    )


def lockstitch(thick: float, stitch: float = STITCH) -> float:
    """How many times the length of a seam lockstitch takes, through cloth so thick, mm."""
    return 2 + 2 * thick / stitch


def overedge(thick: float, wide: float = BITE, stitch: float = STITCH) -> float:
    """How many times its length overedge with three threads takes, so wide, mm."""
    return 5 + 4 * (wide + thick) / stitch


def times(draft: Draft, seam: Seam) -> int:
    """How often a seam is sewn for all that is cut: of six gores, each side once to another's."""
    found = Counter((edge.piece, edge.edge, edge.cloth) for side in seam.sides for edge in side)
    cut = [
        _count(draft.pieces[piece], cloth) // needed for (piece, _, cloth), needed in found.items()
    ]
    return max(min(cut), 1)


def _count(piece: Piece, cloth: str | None) -> int:
    return piece.counts[piece.cloth_or_first(cloth)]


def _seams(draft: Draft) -> Iterator[tuple[float, float]]:
    """How long every seam is in sum, and how thick what is sewn together there, mm."""
    for seam in draft.seams.values():
        thick = sum(_thickest(draft, side) for side in seam.sides)
        yield seam.lengths[0] * times(draft, seam), thick


def _lines(draft: Draft) -> Iterator[tuple[float, float]]:
    """Rows of stitches drawn on pieces, taken to go through every cloth the piece is cut from."""
    for piece in draft.pieces.values():
        thick = sum(_thickness(draft, cloth) for cloth in piece.counts)
        for line in piece.lines:
            if line.kind == "stitched" and line.path:
                yield line.path.length() * min(piece.counts.values()), thick


def _edges(draft: Draft) -> Iterator[tuple[float, float]]:
    for seam in draft.seams.values():
        for side, length in zip(seam.sides, seam.lengths, strict=True):
            yield length * times(draft, seam), _thickest(draft, side)


def _thickest(draft: Draft, side: tuple[EdgeName, ...]) -> float:
    return max(
        _thickness(draft, draft.pieces[edge.piece].cloth_or_first(edge.cloth)) for edge in side
    )


def _thickness(draft: Draft, cloth: str) -> float:
    return evaluate_in(draft, draft.recipe.cloths[cloth].thickness).value
