"""Pieces drawn smaller than they are, for figures."""

from __future__ import annotations

from dataclasses import replace

from notchbook.drafting.draft import Piece
from notchbook.drafting.geometry.scale import scaled
from notchbook.drafting.shape import Edge, Flat


def scaled_piece(piece: Piece, factor: float) -> Piece:
    """The piece's lines and notches times ``factor``; what is written on them stays true."""
    start, end = piece.flat.grain
    loops = tuple(tuple(_edge(edge, factor) for edge in loop) for loop in piece.flat.loops)
    return replace(
        piece,
        flat=Flat(
            loops,
            (start * factor, end * factor),
            tuple(dart.moved(factor, 0) for dart in piece.flat.darts),
        ),
        cut_lines=tuple(
            replace(line, loops=tuple(scaled(loop, factor) for loop in line.loops))
            for line in piece.cut_lines
        ),
        notches=tuple(
            replace(notch, at=notch.at * factor, reach=notch.reach * factor)
            for notch in piece.notches
        ),
        pleats=tuple(
            replace(
                pleat,
                fold=(pleat.fold[0] * factor, pleat.fold[1]),
                onto=(pleat.onto[0] * factor, pleat.onto[1]),
            )
            for pleat in piece.pleats
        ),
        lines=tuple(
            replace(
                line,
                path=line.path and scaled(line.path, factor),
                crosses=tuple(point * factor for point in line.crosses),
            )
            for line in piece.lines
        ),
    )


def _edge(edge: Edge, factor: float) -> Edge:
    taken = tuple((start * factor, end * factor) for start, end in edge.taken)
    return replace(edge, path=scaled(edge.path, factor), taken=taken)
