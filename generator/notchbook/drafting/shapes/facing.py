"""Facing: a band of given depth along one or several edges of another piece, such as a hem facing,
a neck facing or the facing of a front.

It takes the edges of the other piece just as they are. Its free edge is their parallel on the side
of the cloth, a ``depth`` away: lines and arcs stay lines and arcs, cubics are fitted to 0.005 mm.
Along a closed outline the free edge is 2π × depth shorter than the edge (Steiner), round a hole it
is as much longer. Where the edges do not go all round, the facing ends along the piece's
neighbouring edges, so that these can be sewn together with it; at a hollow corner, which the
neighbour bends away from, it ends along the neighbour carried on straight.

Parameters:

- ``along``, one edge of another piece or a list of some that follow each other
  (``[cape.front, cape.hem]``);
- ``depth``, from 1 mm to 20 m.

Edges: those it lies along, by their own names; ``free``, the parallel; and, where it ends,
``start`` and ``end``, at the start and end of the edges it lies along. It is drawn as it lies on
the right side of the other piece; where that is not symmetrical, the facing is cut with the pattern
turned over, or in pairs. It has no form of its own, and its grain runs as in the other piece.

By hand it is traced from the other piece, square to whose edges the depth is marked off inwards at
many places.

Example::

    capelet:
      title: Capelet
      shape: sector
      opening: 42 cm
      length: 35 cm
      share: 3/4
      cut: {shell: 1}
    hem_facing:
      title: Facing of the hem
      shape: facing
      along: capelet.hem
      depth: 5 cm
      cut: {shell: 1}
"""

from __future__ import annotations

from collections.abc import Sequence

from notchbook.drafting.allowance import cut_loops
from notchbook.drafting.geometry.meet import meet
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.segments import Line, Segment
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.drafting.limits import check_lengths
from notchbook.drafting.moves import Inwards, Move, Trace
from notchbook.drafting.outline import AllowanceError, moved_loop, stretch
from notchbook.drafting.shape import Edge, EdgesOf, Flat, Length, Refusal, Shape

ENDS = ("start", "end", "free")

_NEAR = 1e-3


def draft(*, along: EdgesOf, depth: Length) -> Shape:
    """The band of ``depth`` mm along some edges."""
    check_lengths(depth=depth)
    flat = along.piece.flat
    taken = next((name for name in along.names if name in ENDS), None)
    if taken:
        raise Refusal(
            f"The other piece's edge “{taken}” has the name of an edge of the facing itself.",
            "Give that edge of the other piece another name.",
            "along",
        )
    loop, count = _turned(along)
    moved = {edge: -depth if edge in along.names else 0.0 for edge in flat.edges}
    try:
        cut_loops(flat, moved)
        segments, names = moved_loop(loop, moved)
    except AllowanceError as error:
        raise Refusal(
            f"There is no room for its depth: {error.what}", "Make it less deep.", "depth"
        ) from None
    run = loop[:count]
    closes = all(edge.round for edge in run)
    free = Edge("free", stretch(segments, names, along.names).reversed(), closes, run[0].begins)
    name = along.piece.name
    moves: list[Move] = [
        *(Trace(name, edge.name, edge.path, edge.path.length(), edge=edge.name) for edge in run),
        Inwards(
            tuple(edge.name for edge in run), depth, free.path, free.path.length(), edge="free"
        ),
    ]
    if count == len(loop):
        hole = loop[0].name in {edge.name for other in flat.loops[1:] for edge in other}
        loops: tuple[tuple[Edge, ...], ...] = ((free,), run) if hole else (run, (free,))
    else:
        end = _to(loop[count].path, free.path.start)
        start = _to(loop[-1].path.reversed(), free.path.end).reversed()
        loops = ((*run, Edge("end", end), free, Edge("start", start)),)
        for edge, neighbour, path in (("end", loop[count], end), ("start", loop[-1], start)):
            moves.append(Trace(name, neighbour.name, path, path.length(), False, edge))
    return Shape(Flat(loops, _grain(loops, run, depth, flat.grain)), None, tuple(moves))


def _turned(along: EdgesOf) -> tuple[tuple[Edge, ...], int]:
    """The loop with the edges in question, turned so that it begins with them, and how many they
    are."""
    wanted = set(along.names)
    for loop in along.piece.flat.loops:
        if not wanted <= {edge.name for edge in loop}:
            continue
        for k in range(len(loop)):
            turned = (*loop[k:], *loop[:k])
            if {edge.name for edge in turned[: len(wanted)]} == wanted:
                return turned, len(wanted)
    raise Refusal(
        "The edges it should lie along do not follow each other.",
        "Name edges that meet, or make a facing for each.",
        "along",
    )


def _to(path: Path, point: Point) -> Path:
    """A path from its start to a point on it, or straight to a point that lies beyond its start."""
    found: list[Segment] = []
    for segment in path.segments:
        for cut in (
            Line(point - _NEAR, point + _NEAR),
            Line(point - _NEAR * 1j, point + _NEAR * 1j),
        ):
            for share, _ in meet(segment, cut):
                if abs(segment.point(share) - point) < _NEAR:
                    return Path((*found, segment.part(0, share)))
        found.append(segment)
    return polyline(path.start, point)


def _grain(
    loops: Sequence[Sequence[Edge]], run: Sequence[Edge], depth: float, grain: tuple[Point, Point]
) -> tuple[Point, Point]:
    """A line the way of the other piece's grain through the middle of the band, as long as the
    facing has room for."""
    longest = max(run, key=lambda edge: edge.path.length())
    at, way = longest.path.at(longest.path.length() / 2)
    middle, along = at + way * 1j * depth / 2, unit(grain[1] - grain[0])
    far = 4e4
    line = Line(middle - along * far, middle + along * far)
    ends = [
        abs(2 * far * share - far)
        for loop in loops
        for edge in loop
        for segment in edge.path.segments
        for _, share in meet(segment, line)
    ]
    half = 0.8 * min([*ends, 10 * depth])
    return middle - along * half, middle + along * half
