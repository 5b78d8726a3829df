"""What goes round, turned through a gap: a cut down its middle, before, between and after.

Two things are sewn together at a round edge, right sides facing, the one inside the other. All is
pulled out through a gap, and then the one is pushed into the other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

from notchbook.composing.drawing import Fill, Item, Stroke, Text
from notchbook.composing.figures.before_after import cloth_line
from notchbook.composing.figures.legend import arrow
from notchbook.composing.figures.meridian import Meridian, meridians
from notchbook.composing.figures.size import SIZE
from notchbook.composing.figures.track import Points
from notchbook.composing.names import plain
from notchbook.composing.solids.assembly import Ply, joint_of
from notchbook.drafting.draft import Draft, Opening, Seam
from notchbook.drafting.geometry.path import circle, polyline
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.vector import Point, cross, unit

_ROOM = complex(22, 23)
"""Room for each thing, mm on the page."""

_APART = 2.0
"""Between cloths that lie in each other, mm on the page."""

_LOOSE = 3.8
"""And where a hand's way begins between them."""


_OPEN = 4.0
"""How much of a cloth at a gap in the seam itself is left out, mm on the page."""

_Lines = tuple[Points, ...]


@dataclass(frozen=True, slots=True)
class Turning:
    """What lies outside in the end and what inside, with their titles and short ``names``, as cut
    lines on the page; the ends of their seam, at the back and at the front; and both ends of the
    gap, which is in the inner one, or None where it is in the seam itself."""

    titles: tuple[str, str]
    names: tuple[str, str]
    outer: _Lines
    inner: _Lines
    rim: tuple[Point, Point]
    gap: tuple[Point, Point] | None


def turning(draft: Draft, seam: Seam, opening: Opening) -> Turning | None:
    """How what a seam joins is turned through a gap. None where it joins no two things that go
    round and stand apart from each other, or where the gap is in neither."""
    cuts = meridians(draft)
    joints = [dict.fromkeys(joint_of(name, draft) for name in side) for side in seam.sides]
    held = [next(iter(each)) for each in joints]
    if not seam.round or len(held) != 2 or any(len(each) > 1 for each in joints):
        return None
    if any(ply not in cuts or edge not in cuts[ply].edges for ply, edge in held):
        return None
    groups = [_hanging(draft, seam, ply, cuts) for ply, _ in held]
    if groups[0] & groups[1]:
        return None
    order = sorted((0, 1), key=lambda k: -_area(groups[k], cuts))
    first, second = held[order[0]], held[order[1]]
    rim = cuts[first[0]].edges[first[1]]
    gap = None
    if opening.seam != seam.name:
        gap = _gap(draft, opening, second, groups[order[1]], cuts)
        if gap is None:
            return None
    whole = box_round([p for line in _lines(groups[order[0]], cuts, 1.0) for p in line])
    scale = min(_ROOM.real / max(whole.width, 1.0), _ROOM.imag / max(whole.height, 1.0))
    return Turning(
        (_title(draft, first[0]), _title(draft, second[0])),
        _names(draft, first[0], second[0]),
        _lines(groups[order[0]], cuts, scale),
        _lines(groups[order[1]], cuts, scale),
        (rim[0] * scale, rim[1] * scale),
        gap and (gap[0] * scale, gap[1] * scale),
    )


def _title(draft: Draft, ply: Ply) -> str:
    piece, cloth = ply
    return f"{draft.pieces[piece].title} ({plain(cloth)})"


def _names(draft: Draft, one: Ply, other: Ply) -> tuple[str, str]:
    """What tells the two apart: their cloths, or else the pieces at their edges."""
    if one[1] != other[1]:
        return plain(one[1]), plain(other[1])
    return draft.pieces[one[0]].title, draft.pieces[other[0]].title


def _hanging(draft: Draft, seam: Seam, ply: Ply, cuts: Mapping[Ply, Meridian]) -> frozenset[Ply]:
    """All that hangs on a ply by other seams than one."""
    found = {ply}
    grown = 0
    while grown != len(found):
        grown = len(found)
        for other in draft.seams.values():
            joined = {joint_of(name, draft)[0] for side in other.sides for name in side}
            if other.name != seam.name and joined & found:
                found |= joined & cuts.keys()
    return frozenset(found)


def _lines(group: Iterable[Ply], cuts: Mapping[Ply, Meridian], scale: float) -> _Lines:
    return tuple(
        tuple(p * scale for p in line)
        for ply in sorted(group)
        for line in (cuts[ply].back, cuts[ply].front)
    )


def _area(group: Iterable[Ply], cuts: Mapping[Ply, Meridian]) -> float:
    box = box_round([p for line in _lines(group, cuts, 1.0) for p in line])
    return box.width * box.height


def _gap(
    draft: Draft,
    opening: Opening,
    joint: tuple[Ply, str],
    group: frozenset[Ply],
    cuts: Mapping[Ply, Meridian],
) -> tuple[Point, Point] | None:
    """Both ends of a gap in a seam that runs down the back from the edge that is joined."""
    seam = draft.seams[opening.seam]
    stretch = seam.laid[0][0]
    ply = joint_of(stretch.name, draft)[0]
    if seam.round or ply != joint[0] or ply not in group:
        return None
    path, other = stretch.edge.path, draft.pieces[ply[0]].flat.edges[joint[1]].path
    begin = path.end if stretch.backwards else path.start
    at_rim = min(abs(begin - other.start), abs(begin - other.end)) < 0.5
    whole = seam.lengths[0]
    low, high = (
        (opening.start, opening.end) if at_rim else (whole - opening.end, whole - opening.start)
    )
    cut = cuts[ply]
    rim = cut.edges[joint[1]][0]
    way = cut.back if abs(cut.back[0] - rim) < abs(cut.back[-1] - rim) else cut.back[::-1]
    down = unit(way[-1] - way[0])
    return way[0] + down * low, way[0] + down * high


def states(plan: Turning) -> tuple[list[Item], list[Item], list[Item]]:
    """Right sides inside; pulled out through the gap; the inner one pushed into the outer."""
    level = plan.rim[0].imag
    box = box_round([p for line in plan.outer for p in line])
    up = 1 if box.centre.imag > level else -1
    middle = complex((plan.rim[0].real + plan.rim[1].real) / 2, level)
    half = max(box.width / 2, 1.0)
    before = [
        *_cloth(plan.outer, wrong_inside=True),
        *_inner(
            plan, lambda p: _spread(p, middle, half, up, _LOOSE), wrong_inside=False, pull=True
        ),
        *_seam(plan),
    ]
    pulled = [
        *_cloth(plan.outer, wrong_inside=True),
        *_inner(plan, lambda p: complex(p.real, 2 * level - p.imag), wrong_inside=True),
        *_seam(plan),
    ]
    after = [
        *_cloth(plan.outer, wrong_inside=True),
        *_inner(
            plan, lambda p: _spread(p, middle, half, up, -_APART), wrong_inside=False, closed=True
        ),
        *_seam(plan, closed=True),
    ]
    # The way the inner one goes next.
    at = complex(middle.real, level - up * 9)
    pulled += arrow(at, at + up * 14j, 3.4)
    outer, inner = plan.names
    deep = _depth(plan.outer, level), _depth(plan.inner, level)
    before += _name(inner, middle + up * (deep[1] + _LOOSE) * 1j, up)
    before += _led(outer, middle, deep[0], up)
    pulled += _name(outer, middle + up * deep[0] * 1j, up)
    pulled += _name(inner, middle - up * deep[1] * 1j, -up)
    after += _name(outer, middle + up * deep[0] * 1j, up)
    after += _led(inner, middle, deep[1] - _APART, up)
    return before, pulled, after


def _depth(lines: _Lines, level: float) -> float:
    """How far from the seam a thing reaches."""
    return max(abs(p.imag - level) for line in lines for p in line)


def _name(words: str, at: Point, up: int) -> list[Item]:
    """Words beyond a place, ``up`` the way that is away from it."""
    return [Text(at + up * (2.2 + SIZE * 0.5) * 1j + SIZE * 0.3j, words, "label", SIZE, "middle")]


def _led(words: str, middle: Point, deep: float, up: int) -> list[Item]:
    """Words before the opening, with a leader in to the farthest of what lies innermost."""
    foot = middle - up * 3j
    line = polyline(foot, middle + up * (deep - 0.6) * 1j)
    return [*_name(words, foot + up * 1j, -up), Stroke((line,), "leader")]


def _seam(plan: Turning, *, closed: bool = False) -> list[Item]:
    """A cross where the two are sewn together, at the back, but for a gap there, and the front."""
    ends = plan.rim if plan.gap or closed else plan.rim[1:]
    ways = 1 + 1j, 1 - 1j
    crosses = tuple(polyline(end - way, end + way) for end in ends for way in ways)
    return [Stroke(crosses, "solid-edge")]


def _spread(p: Point, middle: Point, half: float, up: int, most: float) -> Point:
    """A point of the inner thing as it lies round the outer one, so far off it, or in it."""
    across = p.real - middle.real
    deep = abs(p.imag - middle.imag)
    out = min(deep / 4, 1.0) * most
    return complex(p.real + across / half * out, p.imag + up * (out if deep > 4 else 0.0))


def _inner(
    plan: Turning,
    place: Callable[[Point], Point],
    *,
    wrong_inside: bool,
    pull: bool = False,
    closed: bool = False,
) -> list[Item]:
    """The inner thing at its place, its gap open, with the way out of it."""
    lines = [tuple(map(place, _fine(line))) for line in plan.inner]
    if closed:
        return _cloth(lines, wrong_inside=wrong_inside)
    rim = place(plan.rim[0])
    if plan.gap is None:
        # The seam itself is open there.
        lines = [tuple(p for p in line if abs(p - rim) > _OPEN) for line in lines]
        near = min((line[k] for line in lines if line for k in (0, -1)), key=lambda p: abs(p - rim))
        ends = near, rim
    else:
        ends = place(plan.gap[0]), place(plan.gap[1])
        lines = [run for line in lines for run in _parted(line, *ends)]
    items = _cloth([line for line in lines if len(line) > 1], wrong_inside=wrong_inside)
    if abs(ends[1] - ends[0]) > 0.5:
        items += [Fill((circle(end, 0.5),), "ink") for end in ends]
    if pull:
        # From between the two out through the gap: no other wall is in its way.
        foot = sum(ends) / 2
        tail = foot + _LOOSE - 0.9
        if plan.gap is None:
            tail = foot + (near - rim).imag * 0.35j
        items += arrow(tail, foot + unit(foot - tail) * 8, 3.4)
    return items


def _parted(line: Points, a: Point, b: Point) -> list[Points]:
    """A line without its stretch from one point to another, if that lies on it."""
    gap = [k for k, p in enumerate(line) if abs(p - a) + abs(p - b) < abs(b - a) + 0.1]
    if not gap:
        return [line]
    before, after = line[: gap[0]], line[gap[-1] + 1 :]
    first, last = sorted((a, b), key=lambda end: abs(end - line[0]))
    return [(*before, first), (last, *after)]


def _fine(line: Points) -> Points:
    """More points, so that a line can bend."""
    found: list[Point] = []
    for a, b in pairwise(line):
        count = max(round(abs(b - a) / 1.5), 1)
        found += [a + (b - a) * k / count for k in range(count)]
    return (*found, line[-1])


def _cloth(lines: Iterable[Points], *, wrong_inside: bool) -> list[Item]:
    """Cut cloth, its wrong side towards the middle of the thing or away from it."""
    lines = list(lines)
    centre = box_round([p for line in lines for p in line]).centre
    items: list[Item] = []
    for line in lines:
        k = len(line) // 2
        a, b = line[k - 1], line[k]
        right = cross(b - a, centre - a) > 0  # y runs down: the middle lies on the right
        items += cloth_line(line, 1 if right == wrong_inside else -1)
    return items
