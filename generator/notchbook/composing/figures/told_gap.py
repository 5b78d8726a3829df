"""What is left open of a seam, told where it lies."""

from __future__ import annotations

from typing import Literal

from notchbook.composing import numbers
from notchbook.composing.drawing import Fill, Stroke, Text
from notchbook.composing.figures.board import Board
from notchbook.composing.figures.laid import LEAST, Laid
from notchbook.composing.figures.legend import arrow, bar, point, turning_back
from notchbook.composing.figures.ruled import dimension
from notchbook.composing.figures.sewing import tag
from notchbook.composing.figures.size import SIZE
from notchbook.composing.lettering.placing import Lines, walls
from notchbook.drafting.draft import Opening, Seam
from notchbook.drafting.geometry.path import circle, polyline
from notchbook.drafting.geometry.vector import Point, dot, unit

_ABOVE = 2 * LEAST + 7.0
"""How far a bracket stands above the line of a strip, clear of the numbers of its notches, mm."""


def name_gap(board: Board, laid: Laid, length: str) -> None:
    """A bracket over each part of a strip that is left open, with words over it: in a round there
    are two, which are one."""
    key = "layers.open" if len(laid.gaps) == 1 else "stitch.gap.half"
    anchor: Literal["start", "middle", "end"]
    for k, gap in enumerate(laid.gaps):
        low, high = sorted((gap[0].real, gap[-1].real))
        top, foot = -_ABOVE - 1.5, -_ABOVE
        corners = (complex(low, foot), complex(low, top), complex(high, top), complex(high, foot))
        board.add(Stroke((polyline(*corners),), "solid-edge"))
        rows = [(board.setting.say(key), "label"), (length, "strong")]
        anchor = "middle" if len(laid.gaps) == 1 else "start" if k == 0 else "end"
        x = {"middle": (low + high) / 2, "start": low, "end": high}[anchor]
        for row, (words, role) in enumerate(reversed(rows)):
            at = complex(x, top - 1.4 - row * SIZE * 1.3)
            board.add(Text(at, words, role, SIZE, anchor))


_WORDS = 26.0
"""Between the seam and what is drawn large of it, mm: room for words."""

_SHORT = 9.0
"""Stitching between a gap and an end that is drawn shorter than this is shown large beside, mm."""

_LARGE, _CLOTH, _OUTSIDE = 44.0, 9.0, 5.0
"""How long what is drawn large may be, how much cloth is seen beside its line and how wide its
allowances are drawn, mm."""


def near_end(laid: Laid) -> Point | None:
    """The end of a seam that its gap is so near to that it has to be drawn large. None where there
    is none."""
    if laid.straight or len(laid.runs) < 2:
        return None
    ends = laid.track.points[0], laid.track.points[-1]
    gap = laid.gaps[0]
    end = min(ends, key=lambda each: min(abs(each - gap[0]), abs(each - gap[-1])))
    return end if min(abs(end - gap[0]), abs(end - gap[-1])) < _SHORT else None


def draw_near_end(
    board: Board, laid: Laid, end: Point, seam: Seam, gap: Opening, edge: str
) -> None:
    """A gap near the ``end`` of a straight seam and that end drawn large, right of what is drawn:
    how long either is, and where the needle starts and stops. ``edge`` is what the end lies at."""
    say = board.setting.say
    first = end == laid.track.points[0]
    near = laid.gaps[0][0 if first else -1]
    along = unit(near - end)
    out = -along * 1j * laid.track.inward * (1 if first else -1)
    short, long = min(gap.start, seam.lengths[0] - gap.end), gap.length
    scale = min(_LARGE / (short + 1.6 * long), 1.0)
    one, two = short * scale, (short + long) * scale
    far = two + max(0.6 * long * scale, 11.0)
    ring = circle((end + near) / 2, abs(near - end) / 2 + 4.5)
    board.add(Stroke((ring,), "leader"))
    box = board.box()
    # Its middle level with the middle of the seam.
    middle = (laid.track.points[0] + laid.track.points[-1]) / 2
    reach = [along * t + out * u for t in (-_OUTSIDE, far) for u in (-_CLOTH, _OUTSIDE)]
    low = min(p.real for p in reach)
    centre = (min(p.imag for p in reach) + max(p.imag for p in reach)) / 2
    origin = complex(box.high.real + _WORDS - low, middle.imag - centre)

    def at(t: float, u: float = 0.0) -> Point:
        return origin + along * t + out * u

    corners = at(far, -_CLOTH), at(-_OUTSIDE, -_CLOTH), at(-_OUTSIDE, _OUTSIDE), at(far, _OUTSIDE)
    board.add(Fill((polyline(*corners, corners[0]),), f"{laid.plies[-1].layer.side}-side"))
    board.add(Stroke((polyline(*corners[1:]),), "layer"))
    board.add(Stroke((polyline(at(0), at(one)), polyline(at(two), at(far))), "seam"))
    way = along if first else -along
    starts, stops = ((at(0), at(two)), (at(one),)) if first else ((at(one),), (at(two), at(0)))
    aside = out * -1.6
    for begin in starts:
        board.add(point(begin), *turning_back(begin, way, aside))
    for stop in stops:
        board.add(bar(stop, way), *turning_back(stop, -way, aside))
    for t in (one / 2, (two + far) / 2):
        foot = at(t, -4.6)
        board.add(*arrow(foot - way * 3.5, foot + way * 3.5))
    for a, b, mm in ((0.0, one, short), (one, two, long)):
        feet = at(a), at(b)
        level = _OUTSIDE + 5.0
        dimension(board, at(a, level), at(b, level), numbers.length(mm), out, extend=feet)
    grounds = ((Lines.of(walls((polyline(*corners, corners[0]),))), "wrong-side"),)
    many = [("start", foot) for foot in starts] + [("stop", foot) for foot in stops]
    for key, foot in many:
        beyond = dot(foot - origin, along) > (one + two) / 2
        words = say(f"stitch.{key}.many", number=2 if beyond == first else 1)
        tag(board, grounds, [(words, "strong")], foot, -out, _CLOTH + 1.5)
    tag(board, grounds, [(say("layers.open"), "label")], at((one + two) / 2), -out, _CLOTH + 1.5)
    tag(board, grounds, [(edge, "label")], at(-_OUTSIDE, -2.0), -along)
