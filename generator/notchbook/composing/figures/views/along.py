"""The along view: what follows an edge: rows of stitches, a wire, a ribbon, an elastic, a cord.

Keys:
- ``edge``: the edge it follows, such as ``brim.outer``, the cloth in front where the piece is cut
  from several.
- ``rows``: rows of stitches by kind, and how far inside the stitching line each is, less than 0
  in the allowance: ``{stay: -1 mm}``, ``{tack: [1 cm, 8 cm]}``. Kinds are ``stay``, ``stitch`` and
  ``tack``. With ``start: middle`` they are sewn from the middle to either end.
- ``lay``: a notion that is laid along it, ``inside`` the stitching line by so much and as wide as
  ``width``; ``from`` one place of the edge ``to`` another, or else the whole edge. A place is a
  share of the edge or a length from its start.
- ``lap``: by how much its ends pass each other where it goes all round, the upper one turned
  ``under`` so much; or ``tails``, how much of each hangs out. ``sleeve`` is a notion that holds
  both ends, such as a joiner or a bead. ``free: yes`` where it is fastened at its ends alone.
- ``at``: instead, a place or several where it lies square to the edge, its raw end level with the
  cut edge, reaching so ``long`` inwards, or ``folded: yes``, in half, both its ends there; or
  ``zigzag``, how many times it goes up and down between the edge and an ``other`` one.
- ``pieces``: so long, if it is cut into such, each so far ``apart`` from the next.
- ``slit``: a place where the piece is slit from this edge to the other.
- ``front``: a place of the edge that is called so in the drawing.
- ``side: wrong`` where that side of the cloth is up; ``turned: yes`` where the allowance of the
  edge is turned in by then.

The piece is shown whole, and beside it where the ends meet, or where stitching starts, laid
straight and drawn large. A draft for the left hand has its stitching go the other way.

Example::

    view: along
    edge: lining.bottom
    turned: yes
    lay: band
    width: 25 mm
    lap: 1 cm
    under: 1 cm
"""

from __future__ import annotations

from collections.abc import Sequence

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Fill, Stroke, Text, moved
from notchbook.composing.figures.along_marks import add_front, add_marks, add_slit
from notchbook.composing.figures.along_plan import AlongPlan, read_along
from notchbook.composing.figures.along_thing import Thing
from notchbook.composing.figures.along_told import described, named, signs, told
from notchbook.composing.figures.board import Board, framed
from notchbook.composing.figures.close_up import CloseUp, close_up, slit_of
from notchbook.composing.figures.close_up_drawn import draw_close_up
from notchbook.composing.figures.edge_line import EdgeLine
from notchbook.composing.figures.laid_on import stitches
from notchbook.composing.figures.legend import WIDE, arrow, legend, notes, point
from notchbook.composing.figures.ruled import dimension
from notchbook.composing.figures.size import SIZE
from notchbook.composing.figures.track import Points
from notchbook.composing.lettering.paragraph import paragraph, wrapped
from notchbook.composing.setting import Setting
from notchbook.drafting.allowance import cut_loops
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.scale import scaled
from notchbook.drafting.geometry.vector import unit
from notchbook.drafting.outline import AllowanceError
from notchbook.reading.recipe import FigureRule

_BESIDE, _ABOVE, _ALONE = complex(38, 37), complex(104, 26), complex(50, 40)
"""Room for the whole piece beside its close-up, above it where it is very wide, without one, mm."""

_WIDE = 3.5
"""A piece so many times as wide as high stands above its close-up."""

_GAP = 6.0

_BAND = 1.0
"""What is narrower than this on the page is drawn as a line, mm."""


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """The piece, and large where ends are. Raises ContentError."""
    plan = read_along(draft, figure)
    alone = plan.slit is not None or bool(plan.thing and plan.thing.zigzag)
    view = None if alone else close_up(plan)
    loops = _loops(plan)
    box = bounds(list(loops))
    wide = box.width > _WIDE * box.height
    room = _ABOVE if wide else _BESIDE if view else _ALONE
    factor = min(room.real / box.width, room.imag / box.height, 1.0)
    board = _whole(plan, view, loops, factor, setting)
    if view:
        _add_close_up(board, plan, view, wide, setting)
    said = told(plan, setting, rows=view is None)
    if view is None and not wide:
        box = board.box()
        at = complex(box.high.real + _GAP, box.low.imag + SIZE)
        board.add(*paragraph(" ".join(said), at, WIDE - box.width, SIZE, setting))
        said = []
    legend(board, signs(plan, setting))
    if any(rows.kind == "tack" for rows in plan.rows):
        _tack_sign(board, setting)
    if said:
        notes(board, said)
    return framed(board, described(plan, view, setting))


def _loops(plan: AlongPlan) -> tuple[Path, ...]:
    """What is cut, without the allowance of an edge that is turned in."""
    line = plan.line
    cut = line.piece.cut_line(line.cloth)
    if plan.turned:
        try:
            return cut_loops(line.piece.flat, {**cut.allowance, line.name: 0.0})
        except AllowanceError:
            return cut.loops
    return cut.loops


def _whole(
    plan: AlongPlan, view: CloseUp | None, loops: Sequence[Path], factor: float, setting: Setting
) -> Board:
    """The piece with what follows its edge, and a ring round what is shown large."""
    board = Board(setting)
    shown = tuple(scaled(loop, factor) for loop in loops)
    board.add(Fill(shown, f"{plan.side}-side"), Stroke(shown, "layer"))
    line = plan.line
    if plan.outside * factor > 0.8:
        board.add(Stroke((scaled(line.path, factor),), "stitch"))
    if plan.thing:
        _lay(board, plan, plan.thing, factor)
    depths = [mm for rows in plan.rows for mm in rows.inside]
    parted = len(depths) > 2
    for rows in plan.rows:
        for mm in rows.inside:
            for run in _runs(plan, mm, setting):
                points = tuple(p * factor for p in run)
                if slit_of(plan):  # They are sewn by now.
                    board.add(*stitches(points, rows.kind))
                else:
                    _sew(board, points, rows.kind, parted)
    for count, mm in enumerate(depths if parted else (), start=1):
        at = line.at(line.length / 2, mm)[0] * factor + SIZE * 0.3j
        board.add(Text(at, str(count), "strong", SIZE, "middle"))
    if plan.thing and plan.thing.free:
        add_marks(board, plan, (plan.thing.start, plan.thing.end), factor)
    if plan.front is not None:
        add_front(board, plan, plan.front, factor)
    if plan.slit is not None:
        add_slit(board, plan, shown, factor)
    if view:
        middle = line.at(view.middle, (view.deep - view.out) / 2 - view.out / 2)[0] * factor
        board.add(Stroke((circle(middle, max(view.half * factor * 0.8, 3.6)),), "frame"))
    return board


def _lay(board: Board, plan: AlongPlan, thing: Thing, factor: float) -> None:
    if thing.at:
        _square(board, plan, thing, factor)
        return
    if thing.zigzag and thing.other:
        _zigzag(board, plan, thing, thing.other, factor)
        return
    for low, high in thing.parts:
        _lay_part(board, plan, thing, low, high, factor)


def _lay_part(
    board: Board, plan: AlongPlan, thing: Thing, low: float, high: float, factor: float
) -> None:
    def run(inside: float) -> Points:
        return tuple(p * factor for p in plan.line.run(low, high, inside))

    if thing.width * factor < _BAND:
        path = polyline(*run(thing.inside + thing.width / 2))
        board.add(Stroke((path,), "drawing"))
        return
    near, far = run(thing.inside), run(thing.far)
    board.add(Fill((polyline(*near, *far[::-1], near[0]),), "either-side"))
    closed = thing.whole and plan.line.path.closed
    sides = [polyline(*near), polyline(*far)]
    ends = [] if closed else [polyline(near[k], far[k]) for k in (0, -1)]
    board.add(Stroke((*sides, *ends), "solid-edge"))


def _square(board: Board, plan: AlongPlan, thing: Thing, factor: float) -> None:
    """What lies square to the edge, at all its places."""
    for place in thing.at:
        foot, way = plan.line.at(place)
        half = max(thing.width / 2, _BAND / 2 / factor) * way
        ends = [foot - plan.outside * way * 1j, foot + thing.long * way * 1j]
        corners = [(ends[k] + s * half) * factor for k, s in ((0, -1), (0, 1), (1, 1), (1, -1))]
        outline = polyline(*corners, corners[0])
        if thing.folded:
            under = polyline(*(corner + 0.9 * way for corner in (*corners, corners[0])))
            board.add(Fill((under,), "either-side"), Stroke((under,), "solid-edge"))
        board.add(Fill((outline,), "either-side"), Stroke((outline,), "solid-edge"))
        if thing.folded:
            words = board.setting.say("along.fold")
            at = (corners[2] + corners[3]) / 2 + way * 1j * 3.4 + SIZE * 0.3j
            board.add(Text(at, words, "label", SIZE, "middle"))


def _zigzag(board: Board, plan: AlongPlan, thing: Thing, other: EdgeLine, factor: float) -> None:
    """Up and down between two edges, each turn on one of them; how far from one to the next."""
    line, turns = plan.line, 2 * thing.zigzag
    ends = [line.at(0.0)[0], line.at(line.length)[0]]
    same = abs(other.at(0.0)[0] - ends[0]) < abs(other.at(0.0)[0] - ends[1])
    points = []
    for k in range(turns + 1):
        share = k / turns
        there = share if same else 1 - share
        on, along = (line, share) if k % 2 else (other, there)
        points.append(on.at(on.length * along, 1.0 / factor)[0] * factor)
    board.add(Stroke((polyline(*points),), "drawing"))
    a, b = (points[k] for k in (1, 3)) if turns > 2 else (points[1], points[1])
    if turns > 2:
        foot = max(p.imag for p in (a, b)) + 6
        a, b = sorted((a, b), key=lambda p: p.real)
        number = numbers.length(line.length / thing.zigzag)
        level = complex(a.real, foot), complex(b.real, foot)
        dimension(board, *level, number, 1j, extend=(a, b))


def _runs(plan: AlongPlan, mm: float, setting: Setting) -> list[Points]:
    """A row as it is sewn: once round or along, or from the middle to either end."""
    line = plan.line
    if plan.middle:
        half = line.length / 2
        return [line.run(half, 0.0, mm), line.run(half, line.length, mm)]
    whole = line.run(0.0, line.length, mm)
    return [whole[::-1] if setting.left_handed else whole]


def _sew(board: Board, run: Points, kind: str, parted: bool) -> None:
    """A row with its start and its way; ``parted`` in its middle, where its number stands."""
    middle = run[len(run) // 2]
    parts = [run]
    if parted:
        halves = run[: len(run) // 2], run[len(run) // 2 :]
        parts = [tuple(p for p in half if abs(p - middle) > 2.8) for half in halves]
    for part in parts:
        if len(part) > 1:
            board.add(*stitches(part, kind))
    board.add(point(run[0]))
    for share in (0.25, 0.75):
        k = round(share * (len(run) - 1))
        way = unit(run[k] - run[k - 1])
        board.add(*arrow(run[k] - way * 2.6, run[k] + way * 2.6, 2.4))


def _add_close_up(
    board: Board, plan: AlongPlan, view: CloseUp, below: bool, setting: Setting
) -> None:
    """The close-up beside the whole piece, or below it, with its title."""
    large = draw_close_up(view, named(plan, setting), setting)
    thing = plan.thing
    key = "begin"
    if thing:
        key = "out" if thing.tails else "ends" if thing.whole else "end"
        key = "across" if thing.at else "between" if thing.pieces else key
    inner = large.box()
    words = setting.say(f"along.{key}")
    for k, row in enumerate(wrapped(words, max(inner.width, 40.0), SIZE, setting, 700)):
        at = complex(inner.low.real, inner.high.imag + 5.5 + k * SIZE * 1.38)
        large.add(Text(at, row, "strong", SIZE))
    inner, outer = large.box(), board.box()
    if below:
        to = complex(outer.low.real, outer.high.imag + _GAP)
        shift = to - inner.low
    else:
        shift = complex(outer.high.real + _GAP - inner.low.real, outer.centre.imag
                        - inner.centre.imag)  # fmt: skip
    board.add(*(moved(item, shift=shift) for item in large.items))


def _tack_sign(board: Board, setting: Setting) -> None:
    """What tacking looks like, which has no pen of its own."""
    words = setting.say("along.row.tack")
    last = [item for item in board.items if isinstance(item, Text)][-1]
    left, x = board.box().low.real, last.at.real + setting.width(last.text, SIZE) + 5
    at = complex(x, last.at.imag - 3.2)
    if x + 11.5 + setting.width(words, SIZE) > left + WIDE:
        at = complex(left, at.imag + 6.0)
    board.add(*stitches((at + 2j, at + 2j + 10), "tack"))
    board.add(Text(at + 11.5 + 3.2j, words, "note", SIZE))
