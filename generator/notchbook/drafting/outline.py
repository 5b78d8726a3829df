"""A loop of the stitching line with every edge moved out or in by its own distance, closed again
with proper corners."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from notchbook.drafting.corners import SMOOTH, Run, Spot, crossing, join
from notchbook.drafting.geometry.crossing import first_crossing
from notchbook.drafting.geometry.meet import hull
from notchbook.drafting.geometry.offset import Known, parallel
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Line, Segment
from notchbook.drafting.geometry.vector import TOUCH
from notchbook.drafting.shape import Edge


class AllowanceError(Exception):
    """An allowance that an edge has no room for: the edge's name, and what is wrong in a
    sentence with the numbers."""

    def __init__(self, edge: str, what: str) -> None:
        self.edge = edge
        self.what = what
        super().__init__(what)


def moved_loop(
    loop: Sequence[Edge],
    distances: Mapping[str, float],
    corners: Mapping[str, str] | None = None,
    known: Known | None = None,
) -> tuple[tuple[Segment, ...], tuple[str, ...]]:
    """The parallel of a loop, each edge's so many mm outside it (negative: inside), and the edge
    each segment of it belongs to. It runs the same way.

    ``corners`` gives the kind of an edge's corners where one is asked for; kinds and what happens
    otherwise: see ``corners`` and ``cut_loops``. ``known`` are parallels laid for other lines of
    the piece. Raises AllowanceError where there is no room.
    """
    kinds = corners or {}
    runs = list(_runs(loop, distances, {} if known is None else known))
    count = len(runs)
    if count == 1 and abs(runs[0].tail - runs[0].head) < SMOOTH:
        return _checked(runs[0].segments, runs[0].edges, distances)
    crossed: list[int] = []
    for k in range(count):
        following = (k + 1) % count
        asked = kinds.get(runs[k].edges[-1], ""), kinds.get(runs[following].edges[0], "")
        runs[k], runs[following], crosses = join(runs[k], runs[following], asked)
        if crosses:
            crossed.append(k)
    begins: list[Spot] = [(0, 0.0)] * count
    stops: list[Spot] = [(len(run.segments) - 1, 1.0) for run in runs]
    for k in crossed:
        following = (k + 1) % count
        found = crossing(runs[k], runs[following], own=count == 1)
        if found is None:
            raise _apart(runs[k], runs[following])
        stops[k], begins[following] = found
    segments: list[Segment] = []
    edges: list[str] = []
    for run, begin, stop in zip(runs, begins, stops, strict=True):
        if begin >= stop:
            edge = run.edges[begin[0]]
            raise AllowanceError(
                edge,
                f"edge “{edge}” vanishes, as at {run.allowance:.1f} mm "
                "its neighbours' cutting lines meet before they reach it.",
            )
        for i in range(begin[0], stop[0] + 1):
            t0 = begin[1] if i == begin[0] else 0.0
            t1 = stop[1] if i == stop[0] else 1.0
            whole = (t0, t1) == (0.0, 1.0)
            segment = run.segments[i] if whole else run.segments[i].part(t0, t1)
            _append(segments, edges, segment, run.edges[i])
    # A side that is straight across the start of the loop is one line there too.
    _append(segments, edges, segments.pop(0), edges.pop(0))
    return _checked((segments[-1], *segments[:-1]), (edges[-1], *edges[:-1]), distances)


def stretch(segments: Sequence[Segment], names: Sequence[str], wanted: Collection[str]) -> Path:
    """What neighbouring edges have become in a moved loop, as one path."""
    inside = [name in wanted for name in names]
    if all(inside):
        return Path(tuple(segments))
    first = next(k for k in range(len(names)) if inside[k] and not inside[k - 1])
    order = [(first + k) % len(names) for k in range(len(names))]
    return Path(tuple(segments[k] for k in order if inside[k]))


def _apart(a: Run, b: Run) -> AllowanceError:
    larger = a if abs(a.allowance) >= abs(b.allowance) else b
    edge = larger.edges[-1] if larger is a else larger.edges[0]
    return AllowanceError(
        edge,
        f"at {larger.allowance:.1f} mm the cutting line of edge “{edge}” "
        "does not meet its neighbour's in a corner.",
    )


def _append(segments: list[Segment], edges: list[str], segment: Segment, edge: str) -> None:
    """Add a segment to a line: nothing of no length, and straight on as part of the same line."""
    if abs(segment.end - segment.start) < TOUCH:
        left, top, right, bottom = hull(segment)
        if right - left < TOUCH and bottom - top < TOUCH:
            return
    last = segments[-1] if segments else None
    if isinstance(last, Line) and isinstance(segment, Line):
        along, on = last.tangent(1), segment.tangent(0)
        if abs(along - on) < SMOOTH:
            segments[-1] = Line(last.start, segment.end)
            return
    segments.append(segment)
    edges.append(edge)


def _checked(
    segments: Sequence[Segment], edges: Sequence[str], distances: Mapping[str, float]
) -> tuple[tuple[Segment, ...], tuple[str, ...]]:
    found = first_crossing(segments, closed=True)
    if found:
        names = {edges[found[0]], edges[found[1]]}
        edge = max(sorted(names), key=lambda name: abs(distances[name]))
        raise AllowanceError(
            edge, f"the cutting line {distances[edge]:.1f} mm from edge “{edge}” crosses itself."
        )
    return tuple(segments), tuple(edges)


def _runs(loop: Sequence[Edge], distances: Mapping[str, float], known: Known) -> Iterator[Run]:
    """The loop as parallels of smooth stretches, the first beginning at a corner if there is
    one."""
    parts = [(segment, edge.name) for edge in loop for segment in edge.path.segments]
    heads = [segment.tangent(0) for segment, _ in parts]
    tails = [segment.tangent(1) for segment, _ in parts]
    starts = [
        k
        for k, (_, edge) in enumerate(parts)
        if distances[edge] != distances[parts[k - 1][1]] or abs(heads[k] - tails[k - 1]) > SMOOTH
    ] or [0]
    for first, following in zip(starts, (*starts[1:], starts[0] + len(parts)), strict=True):
        stretch = [parts[k % len(parts)] for k in range(first, following)]
        last = (following - 1) % len(parts)
        segments: list[Segment] = []
        edges: list[str] = []
        for segment, edge in stretch:
            try:
                found = parallel(segment, distances[edge], known)
            except ValueError as error:
                what = str(error)
                raise AllowanceError(
                    edge, f"at edge “{edge}” {what[0].lower()}{what[1:]}"
                ) from None
            segments.extend(found)
            edges.extend([edge] * len(found))
        yield Run(
            tuple(segments),
            tuple(edges),
            heads[first],
            tails[last],
            stretch[0][0].start,
            parts[last][0].end,
            distances[stretch[0][1]],
        )
