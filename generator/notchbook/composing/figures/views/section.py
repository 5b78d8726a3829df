"""The section view: a finished edge cut across, with all the layers that lie in it.

Keys:
- ``edge``: the edge, such as ``brim.outer``. Where a seam joins it, the seam is sewn and turned;
  where none does, the edge is hemmed: its allowance is turned up. Or else ``fold``: a piece that is
  folded along its middle, such as a band.
- ``pieces``: the layers from the lowest up, as in a layers figure: of a seam at least the two outer
  ones; of a hem or a fold the piece itself, then what lies in it.
- ``trimmed``: what the allowance was trimmed to, where that is less than the pattern has.
- ``under``: how much of a hem's allowance is turned in first, where a hem is turned twice.
- ``channel``: how far from the finished edge a row of stitches holds all layers. In a seam there
  may be two, ``[25 mm, 40 mm]``: what lies in it then lies between them.
- ``wire`` or ``cord``: the diameter of what lies in the fold, or between two rows.
- ``gap``: ``yes`` where the seam is left open here: its edges are turned in and not joined.
- ``exaggerated``: how many times as thick as it is everything is drawn, against its width. Without
  it, no more than it takes to see the thinnest cloth.

The figure says how large it is drawn where that is larger than it is, and what is exaggerated.

Example::

    view: section
    edge: brim.outer
    pieces: [under_brim, brim]
    trimmed: 5 mm
    channel: 7 mm
"""

from __future__ import annotations

from collections.abc import Sequence

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Fill, Stroke
from notchbook.composing.figures.board import (
    LONGEST,
    Board,
    callout,
    callout_aside,
    fitting,
    framed,
    label,
)
from notchbook.composing.figures.cut_edge import Section, section
from notchbook.composing.figures.ruled import dimension
from notchbook.composing.figures.section_plan import SectionPlan, read_plan, scale_of
from notchbook.composing.figures.size import SIZE
from notchbook.composing.lettering.paragraph import paragraph
from notchbook.composing.names import plain
from notchbook.composing.pairs import both
from notchbook.composing.pieces.text import cloth_title
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import circle, polyline
from notchbook.drafting.geometry.vector import Point
from notchbook.reading.recipe import FigureRule

_TRIES = (LONGEST, 36.0, 28.0, 22.0)
"""How long rows of words may be, mm: the first that fits."""


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """The edge, cut across. Raises ContentError."""
    plan = read_plan(draft, figure)
    board = fitting(_composed(plan, draft, setting, longest) for longest in _TRIES)
    return framed(board, _described(plan, setting))


def _composed(plan: SectionPlan, draft: Draft, setting: Setting, longest: float) -> Board:
    cut, scale = section(plan.drawn), scale_of(plan)
    board = Board(setting)
    _draw_layers(board, cut, plan, scale)
    _measure(board, plan, scale)
    _name(board, cut, plan, draft, scale, longest)
    _explain(board, plan, scale)
    return board


def _page(points: Sequence[Point], scale: float) -> list[Point]:
    return [complex(p.real * scale, -p.imag * scale) for p in points]


def _draw_layers(board: Board, cut: Section, plan: SectionPlan, scale: float) -> None:
    """Cloth, open where it goes on; then the thread and what lies in the fold."""
    for k, ply in enumerate(cut.plies):
        outer = k == 0 or (plan.seam and k == len(cut.plies) - 1)
        outline = _page(ply.outline, scale)
        wash = "right-side" if outer else "either-side"
        board.add(Fill((polyline(*outline, outline[0]),), wash))
        board.add(*(Stroke((polyline(*_page(line, scale)),), "layer") for line in ply.lines))
    if plan.kind == "seam":
        (seam,) = _page([cut.seam], scale)
        board.add(Fill((circle(seam, 0.7),), "ink"))
    for stitch in cut.stitches:
        head, foot = _page(stitch, scale)
        board.add(Stroke((polyline(head - 1.2j, foot + 1.2j),), "seam"))
    if cut.filled is not None:
        (middle,) = _page([cut.filled], scale)
        ring = circle(middle, plan.drawn.filled / 2 * scale)
        board.add(Fill((ring,), "wrong-side" if plan.cord else "ink"))
        if plan.cord:
            board.add(Stroke((ring,), "layer"))


def _measure(board: Board, plan: SectionPlan, scale: float) -> None:
    """How far from the finished edge things are, below, the nearest first."""
    true = plan.true
    y, reach = board.box().high.imag + 5, 4.0
    widths = {start for _, start in true.between if start} | set(true.rows)
    if plan.kind.startswith("hem"):
        widths.add(true.depth)
    for mm in sorted(widths):
        a, b = complex(0, y), complex(mm * scale, y)
        feet = complex(0, y - reach), complex(mm * scale, y - reach)
        if dimension(board, a, b, numbers.length(mm), 1j, extend=feet):
            y, reach = board.box().high.imag + 3, 2.2  # Clear of the number above.


def _name(
    board: Board, cut: Section, plan: SectionPlan, draft: Draft, scale: float, longest: float
) -> None:
    """A callout for every layer at the far end, and for what is sewn and put in."""
    setting, box = board.setting, board.box()
    right = Box(complex(box.high.real, box.low.imag - 22), box.high + complex(52, 22))
    for layer, ply in reversed(list(zip(plan.layers, cut.plies, strict=True))):
        middle = (ply.outline[0] + ply.outline[-1]) / 2
        (anchor,) = _page([middle - 0.4 / scale], scale)
        cloth = cloth_title(layer.cloth, draft, setting)
        _say(board, [layer.piece.title, cloth], anchor, 1 + 0j, right, longest)
    above = Box(box.low - complex(30, 26), box.high)
    true = plan.true
    if cut.filled is not None:
        corner = cut.filled + plan.drawn.filled / 2 * (-0.7 - 0.7j)
        (at,) = _page([corner], scale)
        words = setting.say(
            "section.cord" if plan.cord else "section.wire",
            size=both(numbers.length(true.filled), setting),
        )
        _say(board, [words], at, -1j, above, longest)
    (seam,) = _page([cut.seam if plan.kind == "seam" else 0j], scale)
    _say(board, [setting.say(f"section.{plan.kind}"), plan.name], seam, -1 + 0j, above, longest)
    if cut.stitches:
        (at,) = _page(cut.stitches[0][:1], scale)
        words = setting.say("section.rows" if true.second else "section.channel")
        _say(board, [words], at - 1.2j, -1j, above, longest)


def _say(
    board: Board, rows: list[str], anchor: Point, way: complex, region: Box, longest: float
) -> None:
    first, *others = rows
    strong, rest = (first, "strong"), [(row, "label") for row in others]
    block = label(board.setting, strong, *rest, longest=longest)
    if not callout(board, block, [(anchor, way)], region):
        callout_aside(board, block, [(anchor, way)])


def _explain(board: Board, plan: SectionPlan, scale: float) -> None:
    """How large it is drawn, and what is exaggerated."""
    setting, box = board.setting, board.box()
    at = complex(box.low.real, box.high.imag + SIZE * 1.8)
    board.add(*paragraph(_told(plan, setting, scale), at, max(box.width, 90.0), SIZE, setting))


def _told(plan: SectionPlan, setting: Setting, scale: float) -> str:
    words = [setting.say("section.cut")]
    if scale > 1:
        words = [setting.say("section.scale", times=numbers.decimal(scale, 0.5))]
    if plan.times != 1 and scale <= 1:
        words.append(setting.say("section.thicker"))
    elif plan.times != 1:
        times = numbers.decimal(plan.times, 0.1)
        words.append(setting.say("section.exaggerated", times=times))
    true = plan.true
    if not true.folded:
        turned = {mm for _, mm in (true.lower, true.upper or true.lower)}
        allowance = ", ".join(both(numbers.length(mm), setting) for mm in sorted(turned))
        words.append(setting.say("section.turned", allowance=allowance))
    if true.under:
        first, then = (both(numbers.length(mm), setting) for mm in (true.under, true.depth))
        words.append(setting.say("section.under", first=first, then=then))
    return " ".join(words)


def _described(plan: SectionPlan, setting: Setting) -> str:
    true = plan.true
    outer = 0.0, *(start for _, start in true.between), *([0.0] if plan.seam else [])
    layers = "; ".join(
        setting.say(
            "section.layer.short" if start else "section.layer",
            piece=layer.piece.title,
            cloth=plain(layer.cloth),
            short=both(numbers.length(start), setting),
        )
        for layer, start in zip(plan.layers, outer, strict=True)
    )
    said = [setting.say(f"section.alt.{plan.kind}", name=plan.name, layers=layers)]
    for row in true.rows:
        width = both(numbers.length(row), setting)
        said.append(setting.say("section.alt.channel", width=width))
    if true.filled:
        size = both(numbers.length(true.filled), setting)
        key = "cord" if plan.cord else "wire"
        key += ".between" if true.second else ""
        said.append(setting.say(f"section.alt.{key}", size=size))
    return " ".join(said)
