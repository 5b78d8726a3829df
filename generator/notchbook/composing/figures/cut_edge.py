"""A finished edge cut across: where its cloths come to lie, in mm.

x runs from the edge, at 0, into the thing; y is up. An edge is one of three things. Two outer
cloths meet in a *seam* and are turned, their allowances between them. One cloth is *hemmed*: its
allowance is turned up over itself, once, or twice so that its raw edge lies inside. Or a strip is
*folded* along its middle and goes on above and below. Other layers lie within, and a wire or a cord
may lie in the fold. Cloth pulled over something thicker lies straight from one thing it touches to
the next, so what it lies on is an upper convex hull, broken where stitches hold all layers
together.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from notchbook.drafting.geometry.vector import Point, cross

Points = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Edge:
    """What is cut across. ``lower`` and ``upper`` are the outer cloths' thickness and the allowance
    that is turned in; without an ``upper`` one the lower is hemmed, or with an infinite allowance
    folded. Of a hem's allowance ``under`` mm are turned in first. ``between`` are each inner
    layer's thickness and how far from the edge it begins, from the lowest up; ``channel`` is how
    far from the edge stitches hold all layers, ``filled`` a wire's or a cord's diameter (0: none);
    ``end`` is how much of the edge is seen. With a ``second`` row, so far from the edge, what
    is filled in lies between the two. Where a seam is left open its edges lie ``gap`` apart."""

    lower: tuple[float, float]
    upper: tuple[float, float] | None
    between: tuple[tuple[float, float], ...]
    channel: float
    filled: float
    end: float
    under: float = 0.0
    second: float = 0.0
    gap: float = 0.0

    @property
    def rows(self) -> tuple[float, ...]:
        """How far from the edge the rows are that hold all layers."""
        return tuple(x for x in (self.channel, self.second) if x)

    @property
    def fold(self) -> float:
        """How far from the edge its seam or crease lies: the thicker cloth's turn."""
        return max(self.lower[0], self.upper[0] if self.upper else 0.0)

    @property
    def inner(self) -> float:
        """How thick everything between the outer cloths is."""
        return sum(thickness for thickness, _ in self.between)

    @property
    def folded(self) -> bool:
        """Whether the outer cloth goes on above and below."""
        return self.upper is None and math.isinf(self.lower[1])

    @property
    def depth(self) -> float:
        """How deep a hem is once it is made."""
        return self.lower[1] - self.under

    @property
    def height(self) -> float:
        """How high all of it is at its highest, or somewhat less."""
        plies = 2 * self.lower[0] + (self.lower[0] if self.under else 0.0)
        plies += 2 * (self.upper[0] if self.upper else 0.0)
        return plies + self.inner + self.filled + self.gap

    @property
    def least_channel(self) -> float:
        """The narrowest channel that has room for the folds and what lies in them."""
        return self.fold + (0.0 if self.second else 1.2 * self.filled)

    def thicker(self, times: float) -> Edge:
        """The same with everything as many times as thick, and no wider; but not what lies between
        two rows, which would have no room there."""
        return replace(
            self,
            lower=(self.lower[0] * times, self.lower[1]),
            upper=self.upper and (self.upper[0] * times, self.upper[1]),
            between=tuple((thickness * times, start) for thickness, start in self.between),
            filled=self.filled * (1.0 if self.second else times),
            gap=self.gap * times,
        )


@dataclass(frozen=True, slots=True)
class Ply:
    """One cloth cut across: its outline, from the far end along the outside and back along the
    inside, and those lines of it that are drawn: where it goes on it is open."""

    outline: Points
    lines: tuple[Points, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """Where all of it lies: the plies from the lowest up (of one outer cloth: itself, then those in
    it), the middle of a wire or cord, where the seam or the crease is, and both ends of every
    stitch that holds all layers."""

    plies: tuple[Ply, ...]
    filled: Point | None
    seam: Point
    stitches: tuple[tuple[Point, Point], ...]


def section(edge: Edge) -> Section:
    """The edge cut across."""
    if edge.upper is not None:
        return _seamed(edge, edge.upper)
    return _folded(edge) if edge.folded else _hemmed(edge)


def _seamed(edge: Edge, upper: tuple[float, float]) -> Section:
    layers, filled, lies = _within(edge, -edge.inner / 2)
    sides = []
    for sign, (thickness, allowance) in ((-1, edge.lower), (1, upper)):
        below = [complex(p.real, p.imag * sign) for p in lies]
        outline, tops = _turned(edge, thickness, allowance, below)
        ply = _open(complex(p.real, p.imag * sign) for p in outline)
        ends = [complex(x, top * sign) for x, top in zip(edge.rows, tops, strict=True)]
        sides.append((ply, ends))
    (low, feet), (high, heads) = sides
    stitches = tuple(zip(heads, feet, strict=True))
    return Section((low, *map(_open, layers), high), filled, complex(edge.fold), stitches)


def _hemmed(edge: Edge) -> Section:
    """The cloth lies flat, outside down, and its allowance on it."""
    (thick, _), fold, depth = edge.lower, edge.fold, edge.depth
    layers, filled, lies = _within(edge, 0.0)
    start, far, held = complex(fold), complex(edge.end, edge.inner), edge.inner
    lying = _draped([start, *lies, far], _stitched(edge, held))
    first: list[Point] = []
    if edge.under:
        first = _stretch(lying, depth - edge.under, depth - thick)
        held += thick if depth - edge.under < edge.channel else 0.0
    top = [p + thick * 1j for p in first]
    within = depth - thick if edge.under else depth
    rests = [
        start,
        *(p for p in lying if p.real < within),
        *top,
        complex(within, _height(lying, within)),
    ]
    under = _stretch(_draped(rests, _stitched(edge, held)), fold, within)
    over = [p + thick * 1j for p in under]
    crease = under[-1]
    inside = [*reversed(under), start, complex(edge.end)]
    if edge.under:
        turn = [crease + thick * complex(math.sin(a), math.cos(a)) for a in _TURN]
        inside = [*turn, *reversed(first), *top, *inside]
    left = [start + complex(-fold * math.sin(a), -thick * math.cos(a)) for a in _TURN]
    outline = [complex(edge.end, -thick), *left, *over, *inside]
    foot, head = complex(edge.channel, -thick), complex(edge.channel, _height(over, edge.channel))
    stitches = ((head, foot),) if edge.channel else ()
    return Section((_open(outline), *map(_open, layers)), filled, start, stitches)


def _folded(edge: Edge) -> Section:
    """Both halves of the cloth lie alike."""
    (thick, _), fold, half = edge.lower, edge.fold, edge.inner / 2
    layers, filled, lies = _within(edge, -half)
    pins = _stitched(edge, half)
    start, far = complex(fold), complex(edge.end, half)
    high = _draped([start, *lies, far], pins)
    low = _draped([start, *(p.conjugate() for p in lies), far], pins)
    under = [p.conjugate() for p in low]
    turn = [start + complex(-fold * math.sin(a), thick * math.cos(a)) for a in _TURN]
    outside = [
        *(p + thick * 1j for p in reversed(high)), *turn[1:-1], *(p - thick * 1j for p in under),
    ]  # fmt: skip
    inside = [*reversed(under), start, *high]
    x = edge.channel
    ends = complex(x, _height(high, x) + thick), complex(x, -_height(low, x) - thick)
    ply = Ply((*outside, *inside), (tuple(outside), tuple(inside)))
    return Section((ply, *map(_open, layers)), filled, start, (ends,) if x else ())


def _open(points: Iterable[Point]) -> Ply:
    outline = tuple(points)
    return Ply(outline, (outline,))


def _within(edge: Edge, low: float) -> tuple[list[Points], Point | None, list[Point]]:
    """The outlines of the inner layers, the lowest of them at ``low``, the middle of what fills the
    fold, and all the points that cloth on top of them may touch."""
    fold, radius = edge.fold, edge.filled / 2
    first = min((start for _, start in edge.between), default=math.inf)
    # A wire has the fold to itself, or lies below what comes as far as that; in a hem, on it.
    # Between two rows it lies midway.
    x = (edge.channel + edge.second) / 2 if edge.second else fold + 1.1 * radius
    beside = first >= x + 1.1 * radius
    hemmed = edge.upper is None and not edge.folded
    height = radius if hemmed else 0.0
    if not beside:
        height = edge.inner + radius if hemmed else low - radius
    middle = complex(x, height)
    layers: list[Points] = []
    for thickness, start in edge.between:
        left = max(start, fold)
        layers.append((
            complex(edge.end, low), complex(left, low),
            complex(left, low + thickness), complex(edge.end, low + thickness),
        ))  # fmt: skip
        low += thickness
    ring = [middle + radius * complex(math.cos(a), math.sin(a)) for a in _ROUND] if radius else []
    lies = [point for layer in layers for point in layer]
    return layers, middle if radius else None, [*lies, *ring]


_ROUND = [math.tau * k / 48 for k in range(48)]


_TURN = [math.pi * k / 16 for k in range(17)]


def _turned(
    edge: Edge, thickness: float, allowance: float, below: list[Point]
) -> tuple[list[Point], list[float]]:
    """The outline of the upper cloth, and how high its outside is wherever stitches hold it."""
    fold, half = edge.fold, edge.inner / 2
    start, far = complex(fold, edge.gap / 2), complex(edge.end, half)
    under = _draped([start, *below, far], _stitched(edge, half))
    reach = max(min(allowance, edge.end), fold + thickness)
    turned_in = [*(p for p in under if p.real < reach), complex(reach, _height(under, reach))]
    top = [p + thickness * 1j for p in turned_in]
    pins = [complex(x, half + thickness if reach > x else half) for x in edge.rows]
    if all(
        reach >= x for x in edge.rows
    ):  # Nothing beyond the allowance holds it down: it comes to lie.
        pins.append(complex(reach + 0.65 * (edge.end - reach), half))
    over = _draped([*top, *(p for p in under if p.real > reach), far], pins)
    outside = [p + thickness * 1j for p in over]
    # Half a turn about the crease, where allowance and cloth part.
    crease = start + thickness * 1j
    turn = [crease + complex(-fold * math.sin(a), thickness * math.cos(a)) for a in _TURN]
    outline = [*reversed(outside), *turn[1:-1], *turned_in, *reversed(top), *over]
    return outline, [_height(outside, x) for x in edge.rows]


def _stretch(line: Sequence[Point], low: float, high: float) -> list[Point]:
    """The part of a line that runs from left to right between two places."""
    ends = complex(low, _height(line, low)), complex(high, _height(line, high))
    return [ends[0], *(p for p in line if low < p.real < high), ends[1]]


def _stitched(edge: Edge, height: float) -> list[Point]:
    """Where stitches hold cloth down at that height, if there are any."""
    return [complex(x, height) for x in edge.rows]


def _draped(points: Sequence[Point], pins: Sequence[Point]) -> list[Point]:
    """What cloth on some points lies like, from left to right, held down at the pins."""
    ends = [complex(-math.inf), *pins, complex(math.inf)]
    found: list[Point] = []
    for low, high in pairwise(ends):
        run = [p for p in points if low.real < p.real < high.real]
        run += [pin for pin in (low, high) if math.isfinite(pin.real)]
        found += [p for p in _hull(run) if p not in found]
    return found


def _hull(points: Sequence[Point]) -> list[Point]:
    """The upper convex hull from left to right (Andrew's monotone chain)."""
    kept: list[Point] = []
    for point in sorted(points, key=lambda p: (p.real, p.imag)):
        while kept and kept[-1].real == point.real:
            kept.pop()
        while len(kept) > 1 and cross(kept[-1] - kept[-2], point - kept[-2]) >= 0:
            kept.pop()
        kept.append(point)
    return kept


def _height(line: Sequence[Point], x: float) -> float:
    """How high a line that runs from left to right is at x."""
    for a, b in pairwise(line):
        if a.real <= x <= b.real:
            return a.imag + (b.imag - a.imag) * (x - a.real) / (b.real - a.real)
    return line[-1].imag
