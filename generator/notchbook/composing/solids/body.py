"""A neutral head, bust and figure: plain outlines from the front and from the wearer's left, for
showing what is worn at its true proportion.

All is made from the girth of the head: at the line where that is measured the head is an oval of
1.3, and its crown lies 0.18 girths above that line, as in ``drafting/fit.py``. The rest is a
draughtsman's rule of thumb, in girths: the chin 0.215 below the line, the shoulders 0.40 below and
0.39 to either side (a head's height to the chin is two fifths of its girth, and a figure some seven
and a half of these tall). The page's y runs down and the line is at 0; from the side one looks to
the left.
"""

from __future__ import annotations

from dataclasses import dataclass

from notchbook.drafting.fit import CROWN
from notchbook.drafting.geometry.oval import axes
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.segments import Cubic, Segment
from notchbook.drafting.geometry.vector import Point

OVAL = 1.3
NECK = 0.34
"""The base of the neck below the line, girths."""
HEAD = 570.0
"""A head's girth where it is not measured, mm."""
NECK_SHARE = 0.70
"""A neck's girth at its base, over what is worn there, as a share of the head's."""


@dataclass(frozen=True, slots=True)
class Body:
    """Outlines from one side, mm: the head closed, the rest open. ``base`` is how far below the
    line the neck begins."""

    head: Path
    rest: tuple[Path, ...]
    base: float


def body(girth: float, side: bool, down: tuple[float, float] | None = None) -> Body:
    """Head and bust; or head, neck and what is seen of a figure ``down`` from the hem of what it
    wears to where it ends, both mm below the line."""
    a, b = axes(girth, OVAL)
    head = _side(girth, a) if side else _front(girth, b)
    rest = _bust_side(girth, a) if side else _bust_front(girth)
    if down is not None:
        rest = _figure(girth, a if side else None, down)
    return Body(head, rest, NECK * girth)


def _run(start: Point, *cubics: tuple[Point, Point, Point]) -> Path:
    found: list[Segment] = []
    for leave, arrive, end in cubics:
        found.append(Cubic(start, leave, arrive, end))
        start = end
    return Path(tuple(found))


_ROUND = 0.5523
"""Handles of a quarter of an ellipse."""


def _front(g: float, b: float) -> Path:
    top, chin = -CROWN * g * 1j, 0.215 * g * 1j
    k = _ROUND
    half = (
        (top + k * b, b + k * top, complex(b, 0)),
        (complex(b, 0.1 * g), chin + 0.46 * b, chin),
    )
    other = (
        (chin - 0.46 * b, complex(-b, 0.1 * g), complex(-b, 0)),
        (-b + k * top, top - k * b, top),
    )
    return _run(top, *half, *other)


def _side(g: float, a: float) -> Path:
    k, top = _ROUND, -CROWN * g * 1j

    def at(x: float, y: float) -> Point:
        return complex(x * a, y * g)

    return _run(
        top,
        (top + k * a, a + k * top, at(1, 0)),
        (at(1, 0.075), at(0.82, 0.125), at(0.58, 0.15)),
        (at(0.38, 0.172), at(-0.1, 0.18), at(-0.42, 0.21)),
        (at(-0.62, 0.225), at(-0.86, 0.215), at(-0.89, 0.175)),
        (at(-0.91, 0.15), at(-0.93, 0.14), at(-0.95, 0.125)),
        (at(-1.0, 0.12), at(-1.13, 0.118), at(-1.13, 0.1)),
        (at(-1.12, 0.085), at(-1.03, 0.06), at(-1.0, 0.03)),
        (at(-0.995, 0.02), at(-1, 0.01), at(-1, 0)),
        (-a + k * top, top - k * a, top),
    )


def _bust_front(g: float) -> tuple[Path, ...]:
    shoulder = _run(
        complex(0.095, 0.17) * g,
        (complex(0.093, 0.25) * g, complex(0.095, 0.3) * g, complex(0.15, 0.33) * g),
        (complex(0.24, 0.355) * g, complex(0.38, 0.355) * g, complex(0.4, 0.46) * g),
    )
    return shoulder, shoulder.mirrored()


def _bust_side(g: float, a: float) -> tuple[Path, ...]:
    back = _run(
        complex(0.62 * a, 0.14 * g),
        (complex(0.6 * a, 0.25 * g), complex(0.62 * a, 0.3 * g), complex(0.88 * a, 0.35 * g)),
        (complex(1.05 * a, 0.39 * g), complex(1.12 * a, 0.43 * g), complex(1.12 * a, 0.46 * g)),
    )
    front = _run(
        complex(-0.12 * a, 0.18 * g),
        (complex(-0.16 * a, 0.25 * g), complex(-0.2 * a, 0.3 * g), complex(-0.36 * a, 0.34 * g)),
        (complex(-0.62 * a, 0.38 * g), complex(-0.85 * a, 0.42 * g), complex(-0.88 * a, 0.46 * g)),
    )
    return back, front


def _figure(g: float, a: float | None, down: tuple[float, float]) -> tuple[Path, ...]:
    """The neck, and the figure below a hem."""
    hem, end = down
    if a is None:
        neck = polyline(complex(0.095, 0.17) * g, complex(0.1, NECK) * g)
        arm = polyline(complex(0.4 * g, hem), complex(0.395 * g, end))
        return neck, neck.mirrored(), arm, arm.mirrored()
    necks = (Path(path.segments[:1]) for path in _bust_side(g, a))
    sides = (polyline(complex(x * a, hem), complex(x * a, end)) for x in (1.05, -0.85))
    return (*necks, *sides)
