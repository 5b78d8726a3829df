"""Pieces drawn smaller than they are, for figures."""

from __future__ import annotations

from dataclasses import replace

from notchbook.drafting.draft import Piece
from notchbook.drafting.geometry.path import Arc, Path, Segment
from notchbook.drafting.shape import Flat


def scaled_path(path: Path, factor: float) -> Path:
    """The path with every distance from the origin times ``factor``."""
    return Path(tuple(_scaled(segment, factor) for segment in path.segments))


def scaled_piece(piece: Piece, factor: float) -> Piece:
    """The piece's lines and notches times ``factor``; what is written on them stays true."""
    start, end = piece.flat.grain
    loops = tuple(
        tuple(replace(edge, path=scaled_path(edge.path, factor)) for edge in loop)
        for loop in piece.flat.loops
    )
    return replace(
        piece,
        flat=Flat(loops, (start * factor, end * factor)),
        cut_lines=tuple(
            replace(line, loops=tuple(scaled_path(loop, factor) for loop in line.loops))
            for line in piece.cut_lines
        ),
        notches=tuple(
            replace(notch, at=notch.at * factor, reach=notch.reach * factor)
            for notch in piece.notches
        ),
    )


def _scaled(segment: Segment, factor: float) -> Segment:
    if isinstance(segment, Arc):
        return Arc(segment.centre * factor, segment.radius * factor, segment.begin, segment.sweep)
    # Lines and Béziers go where their points go.
    return segment.moved(factor, 0)
