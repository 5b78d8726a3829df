"""The layers view: cloths on one another, which side of each lies up, and what is stitched.

Keys:
- ``pieces``: the layers from the lowest up, each with its cloth in front where the piece is cut
  from several. One piece alone, with a seam that joins two of its edges, is folded on itself.
- ``together``: ``right sides`` or ``wrong sides`` face each other, or ``nested``: all lie the same
  way up. For more than two layers one word speaks of the outermost, those between are not said to
  lie either way; a list says it for each meeting, from the lowest up.
- ``stitch``: a seam, or several. What a step leaves open of one (``leave``) is left open here.

Cloth is drawn lifted apart, seen from the front and a little above. A right side is plain, a wrong
side hatched.

Example::

    view: layers
    pieces: [under_brim, brim]
    together: right sides
    stitch: brim edge
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise, product

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Fill, Stroke, Text
from notchbook.composing.figures.board import (
    LONGEST,
    Board,
    callout,
    callout_aside,
    fitting,
    framed,
    label,
)
from notchbook.composing.figures.layer_plan import LayerPlan, read_plan
from notchbook.composing.figures.layered import Layer, layer_words
from notchbook.composing.figures.legend import sign
from notchbook.composing.figures.size import SIZE
from notchbook.composing.figures.stack import Sheet, changed, fold, lay, spot
from notchbook.composing.lettering.paragraph import paragraph
from notchbook.composing.lettering.placing import Lines
from notchbook.composing.pairs import both
from notchbook.composing.pieces.text import Label, cloth_title
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Seam
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.reading.recipe import FigureRule

_LEAN = 0.62
"""How much of a depth is seen."""

_LIFT = 7.0
"""From a layer to the one on it, mm on the page."""

_WIDE, _HIGH = 64.0, 60.0
"""The most a stack takes, mm on the page, before its words."""

_TRIES = ((1.0, LONGEST), (0.88, LONGEST), (0.88, 32.0), (0.75, 32.0), (0.62, 32.0), (0.5, 26.0))
"""Shares of that to draw it at, and how long rows of words may be, mm: the first that fits."""


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """The stack of layers. Raises ContentError."""
    plan = read_plan(draft, figure)
    if plan.folded:
        sheets: tuple[Sheet, ...] = fold(plan.layers[0], plan.seams[0], plan.openings)
    else:
        sheets = lay(plan.layers, plan.seams, plan.openings)
    board = fitting(_composed(sheets, plan, draft, setting, *each) for each in _TRIES)
    return framed(board, _described(plan, setting))


def _composed(
    sheets: tuple[Sheet, ...],
    plan: LayerPlan,
    draft: Draft,
    setting: Setting,
    share: float,
    longest: float,
) -> Board:
    board = Board(setting)
    seen = _seen(sheets, share)
    for sheet in seen:
        _draw_sheet(board, sheet)
    outlines = [
        Lines.of(pair for loop in sheet.loops for pair in pairwise((*loop, loop[0])))
        for sheet in seen
    ]
    _joined(board, seen, outlines)
    stack = board.box()
    _label_layers(board, seen, outlines, stack, longest)
    _label_seams(board, seen, outlines, stack, plan, longest)
    _legend(board, seen, draft)
    return board


def _seen(sheets: tuple[Sheet, ...], share: float) -> list[Sheet]:
    """The layers as they are drawn on the page: smaller, leaning back, lifted apart."""
    box = box_round([point for sheet in sheets for loop in sheet.loops for point in loop])
    room = _HIGH - _LIFT * (len(sheets) - 1)
    factor = min(_WIDE / box.width, room / (box.height * _LEAN), 1.0) * share

    def drawn(sheet: Sheet, level: int) -> Sheet:
        def place(point: Point) -> Point:
            rise = point.real / box.high.real if sheet.hinged else 1.0
            return complex(point.real * factor, point.imag * factor * _LEAN - level * _LIFT * rise)

        return changed(sheet, place)

    return [drawn(sheet, level) for level, sheet in enumerate(sheets)]


def _draw_sheet(board: Board, sheet: Sheet) -> None:
    """A layer, hiding what it covers."""
    loops = tuple(polyline(*loop, loop[0]) for loop in sheet.loops)
    wash = f"{sheet.layer.side or 'either'}-side"
    board.add(Fill(loops, wash), Stroke(loops, "layer"))
    if sheet.sewn:
        board.add(Stroke(tuple(polyline(*run) for _, run in sheet.sewn), "seam"))
    # Where a gap begins and ends, the stitches are fastened: a bar across the edge.
    stitched = [end for _, run in sheet.sewn for end in (run[0], run[-1])]
    for _, gap in sheet.gaps:
        bars = [
            polyline(end - across, end + across)
            for end, way in ((gap[0], gap[1] - gap[0]), (gap[-1], gap[-2] - gap[-1]))
            for across in (unit(way) * 1.3j,)
            if any(abs(end - other) < 0.01 for other in stitched)
        ]
        board.add(Stroke(tuple(bars), "layer"))


def _joined(board: Board, sheets: list[Sheet], outlines: list[Lines]) -> None:
    """Thin lines between the ends of what is stitched together, from layer to layer."""
    for (below, above), cover in zip(pairwise(sheets), outlines[1:], strict=True):
        for name, points in _ends(below).items():
            for one, other in product(points, _ends(above).get(name, ())):
                # The same place on the edge lies straight above, one lift up.
                straight = abs(one.real - other.real) < 0.5
                if straight and 1 < one.imag - other.imag < _LIFT + 0.5 and not cover.hold(one):
                    board.add(Stroke((polyline(one, other),), "centre"))


def _ends(sheet: Sheet) -> dict[str, list[Point]]:
    """By seam, the outermost points of what is stitched, left and right."""
    found: dict[str, list[Point]] = {}
    for name in dict.fromkeys(name for name, _ in sheet.sewn):
        points = [point for other, run in sheet.sewn if other == name for point in run]
        found[name] = [min(points, key=_across), max(points, key=_across)]
    return found


def _across(point: Point) -> tuple[float, float]:
    return point.real, point.imag


def _label_layers(
    board: Board, sheets: list[Sheet], outlines: list[Lines], stack: Box, longest: float
) -> None:
    """A callout for every layer, beside the stack; those of which least is seen choose first."""
    setting = board.setting
    seen = [(sheet, _visible(sheet, *outlines[k:])) for k, sheet in enumerate(sheets)]
    for sheet, points in sorted(seen, key=lambda pair: len(pair[1])):
        rows = (sheet.layer.piece.title, "strong"), (layer_words(sheet.layer, setting), "label")
        block = label(setting, *rows, longest=longest)
        points = points or [max(sheet.loops[0], key=_across)]
        _say(board, block, points[:8], stack, "right", on_left=points[-4:])


def _say(
    board: Board,
    block: Label,
    points: Sequence[Point],
    stack: Box,
    first: str,
    on_left: Sequence[Point] = (),
) -> None:
    """A callout outside the stack, on one side of it if there is room, else on another, else in a
    column of its own. It leads to one of some points, on the left to one of others."""
    low, high = stack.low, stack.high
    regions = {
        "right": (Box(complex(high.real + 3, low.imag - 6), high + complex(58, 8)), 1 + 0j),
        "left": (Box(low - complex(52, 8), complex(low.real - 2, high.imag + 10)), -1 + 0j),
        "below": (Box(complex(low.real, high.imag + 1), high + complex(20, 16)), 1j),
        "above": (Box(low - complex(20, 16), complex(high.real, low.imag - 1)), -1j),
    }
    for name in (first, *regions):
        region, way = regions[name]
        near = on_left if name == "left" and on_left else points
        if callout(board, block, [(point, way) for point in near], region, most=150.0):
            return
    callout_aside(board, block, [(point, 1 + 0j) for point in points])


def _visible(sheet: Sheet, own: Lines, *covers: Lines) -> list[Point]:
    """Points of a layer just within its outline that nothing covers, rightmost first."""
    found: list[Point] = []
    for loop in sheet.loops:
        for a, b in list(pairwise(loop))[:: max(len(loop) // 64, 1)]:
            across = unit(b - a) * 1j
            for inset in (2.2, -2.2, 1.3, -1.3):
                spot = (a + b) / 2 + across * inset
                near = (spot, spot + 0.9j, spot - 0.9j)
                if own.hold(spot) and not any(c.hold(p) for c in covers for p in near):
                    found.append(spot)
    found.sort(key=lambda point: (-point.real, point.imag))
    return found


def _label_seams(
    board: Board,
    sheets: list[Sheet],
    outlines: list[Lines],
    stack: Box,
    plan: LayerPlan,
    longest: float,
) -> None:
    """A callout for every seam, for what is left open of it and for the fold."""
    setting = board.setting
    top = sheets[-1]
    for seam in plan.seams:
        rows = (setting.say("layers.stitch"), "label"), (seam.name, "strong")
        block = label(setting, *rows, longest=longest)
        points = _stitches(seam, sheets, outlines)
        # Words stand on the side where all of the seam is, and lead to what is outermost there.
        beyond = bool(points) and points[0].real > stack.centre.real
        nearest = points[::-1] if beyond else points
        _say(board, block, nearest[:4], stack, "right" if beyond else "left")
    for name, opening in plan.openings.items():
        points = [
            spot(run, math.fsum(abs(b - a) for a, b in pairwise(run)) / 2)
            for seam, run in top.gaps
            if seam == name
        ]
        # At both ends of an edge that goes round it is one gap.
        key = "layers.open" if len(points) == 1 else "stitch.gap.half"
        words = both(numbers.length(opening.length), setting)
        block = label(setting, (setting.say(key), "label"), (words, "strong"))
        for point in points:
            _say(board, block, [point], stack, _nearer(point, stack))
    if plan.folded:
        heights = [point.imag for point in top.loops[0] if abs(point.real) < 0.01]
        crease = complex(0, (min(heights) + max(heights)) / 2)
        _say(board, label(setting, (setting.say("layers.fold"), "label")), [crease], stack, "left")


def _nearer(point: Point, stack: Box) -> str:
    return "above" if point.imag < stack.centre.imag else "below"


def _stitches(seam: Seam, sheets: list[Sheet], outlines: list[Lines]) -> list[Point]:
    """Points of a seam on the uppermost layer where any of it is seen, the leftmost first."""
    for level in reversed(range(len(sheets))):
        points = sorted(
            (
                point
                for name, run in sheets[level].sewn
                for point in run
                if name == seam.name
                and not any(cover.hold(point) for cover in outlines[level + 1 :])
            ),
            key=_across,
        )
        if points:
            return points[:: max(len(points) // 8, 1)]
    return []


def _legend(board: Board, sheets: list[Sheet], draft: Draft) -> None:
    """What plain, hatched and stitched look like, and what the cloths are, below everything."""
    _signs(board, sheets)
    cloths = dict.fromkeys(sheet.layer.cloth for sheet in sheets)
    words = ", ".join(cloth_title(cloth, draft, board.setting) for cloth in cloths)
    box = board.box()
    at = complex(box.low.real, box.high.imag + SIZE * 1.5)
    board.add(*paragraph(words, at, max(box.width, _WIDE), SIZE, board.setting))


def _signs(board: Board, sheets: list[Sheet]) -> None:
    setting = board.setting
    sides = {sheet.layer.side for sheet in sheets}
    if "wrong" not in sides and not any(sheet.sewn for sheet in sheets):
        return
    box = board.box()
    x, y = box.low.real, box.high.imag + 5
    for side, wash in (("right", "right-side"), ("wrong", "wrong-side")):
        if side in sides:
            board.add(*sign(wash, complex(x, y)))
            x = _key(board, complex(x + 9.5, y + 3.1), setting.say(f"layers.key.{side}"))
    if any(sheet.sewn for sheet in sheets):
        board.add(*sign("seam", complex(x, y)))
        _key(board, complex(x + 11.5, y + 3.1), setting.say("layers.key.stitch"))


def _key(board: Board, at: Point, words: str) -> float:
    board.add(Text(at, words, "note", SIZE))
    return at.real + board.setting.width(words, SIZE) + 6


def _described(plan: LayerPlan, setting: Setting) -> str:
    def name(layer: Layer) -> str:
        cloth = layer_words(layer, setting)
        return setting.say("layers.layer", piece=layer.piece.title, cloth=cloth)

    if plan.folded:
        side = plan.layers[0].side
        said = setting.say(f"layers.alt.folded.{side}", piece=plan.layers[0].piece.title)
    else:
        layers = "; ".join(name(layer) for layer in plan.layers)
        said = setting.say("layers.alt", layers=layers)
    if plan.seams:
        seams = ", ".join(seam.name for seam in plan.seams)
        said += " " + setting.say("layers.alt.stitched", seams=seams)
    for opening in plan.openings.values():
        words = both(numbers.length(opening.length), setting)
        said += " " + setting.say("layers.alt.open", length=words)
    return said
