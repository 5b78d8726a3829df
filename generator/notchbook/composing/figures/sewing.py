"""A seam that is sewn, as several views show it: which cloths lie how, drawn with the needle's
run."""

from __future__ import annotations

import cmath
import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise

from notchbook.composing.drawing import Fill, Stroke, Text
from notchbook.composing.figures import keys
from notchbook.composing.figures.board import Board, callout_aside, label
from notchbook.composing.figures.cut_away import cut_away
from notchbook.composing.figures.facts import seam_made, seam_sewn, sewn_before, step_of
from notchbook.composing.figures.laid import LEAST, Laid, Pleats, Ply, flat
from notchbook.composing.figures.layer_plan import sides_up
from notchbook.composing.figures.layered import OTHER, Layer
from notchbook.composing.figures.legend import arrow, bar, point, turning_back
from notchbook.composing.figures.size import SIZE
from notchbook.composing.figures.straight import strip
from notchbook.composing.figures.track import Points
from notchbook.composing.lettering.placing import Lines, Tile, clear, touches, walls
from notchbook.drafting.draft import Draft, Opening, Seam
from notchbook.drafting.engine import evaluate_in
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.vector import Point, dot, unit
from notchbook.drafting.sides import Meeting, meetings
from notchbook.problems import ContentError, Problem, suggestion
from notchbook.reading.recipe import FigureRule

_TOGETHER = ("right sides", "wrong sides")

_CUT_AWAY = 0.62
"""How much is left of an upper cloth that would hide the lower one."""


@dataclass(frozen=True, slots=True)
class Sewn:
    """A seam and the layers it joins, from the lowest up; what is left open of it, what was sewn
    before it, where it is marked, and the pleats of its uppermost layer, if it has any."""

    seam: Seam
    layers: tuple[Layer, ...]
    opening: Opening | None
    before: tuple[Seam, ...]
    marks: tuple[Meeting, ...]
    pleats: Pleats | None = None

    def laid(self, room: complex) -> Laid:
        """As it lies: flat in a room on the page (mm) where it can, else laid straight."""
        return self.flat(room) or strip(
            self._doubled(), self.seam, self.opening, self.marks, self.pleats
        )

    def flat(self, room: complex, bare: bool = False) -> Laid | None:
        """As it lies flat; None where it can't. ``bare``: without the allowances of the seam."""
        return flat(self.layers, self.seam, self.opening, self.before, self.marks, room, bare)

    def _doubled(self) -> tuple[Layer, ...]:
        """The layers, one that is folded on itself twice."""
        if len(self.layers) > 1:
            return self.layers
        return self.layers[0], replace(self.layers[0], side=OTHER[self.layers[0].side])


def read_sewn(
    draft: Draft, figure: FigureRule, view: str, known: Sequence[str], *, made: bool
) -> Sewn:
    """The seam a figure's step sews, or with ``made`` has sewn by then. ``known`` are the keys a
    view takes besides. Raises ContentError."""
    problems: list[Problem] = []
    keys.check_keys(figure.keys, ("seam", "top", "together", *known), f"A {view} figure", problems)
    find = seam_made if made else seam_sewn
    seam = find(draft, figure, view, problems)
    layers = _layers(draft, seam, figure, problems) if seam else ()
    if problems or seam is None:
        raise ContentError(problems)
    asked = draft.recipe.seams[seam.name].notches
    before = sewn_before(draft, step_of(draft, figure), seam)
    return Sewn(
        seam,
        layers,
        draft.openings.get(seam.name),
        tuple(draft.seams[name] for name in draft.seams if name in before),
        meetings(seam.laid, asked, seam.round),
        _pleats(draft, seam, layers[-1]),
    )


def _pleats(draft: Draft, seam: Seam, top: Layer) -> Pleats | None:
    """How many pleats the uppermost layer has, and how deep each lies, as a share of the seam."""
    for number, rule in draft.recipe.seams[seam.name].pleats.items():
        if seam.sides[number][0].piece == top.piece.name:
            return rule.count, evaluate_in(draft, rule.depth).value / seam.lengths[0]
    return None


def _layers(
    draft: Draft, seam: Seam, figure: FigureRule, problems: list[Problem]
) -> tuple[Layer, ...]:
    """A layer for each side, the first side on top unless another is gathered or the figure says
    so; one alone where a piece is folded on itself."""
    found: list[tuple[str, str]] = []
    for side in seam.sides:
        name = side[0]
        piece = draft.pieces[name.piece]
        found.append((name.piece, piece.cloth_or_first(name.cloth)))
    top = 0
    for k, times in enumerate(seam.gathers):
        if times > seam.gathers[top] + 0.01:
            top = k
    for k in draft.recipe.seams[seam.name].pleats:
        top = k
    for word in keys.texts(figure.keys, "top", problems):
        names = [name for name, _ in found]
        if word.value in names:
            top = names.index(word.value)
        else:
            what = f"The seam “{seam.name}” joins no piece “{word.value}”."
            problems.append(Problem(word.place, what, suggestion(word.value, names)))
    order = [*(pair for k, pair in enumerate(found) if k != top), found[top]]
    sides = _sides(len(order), figure, problems)
    first = draft.pieces[order[0][0]]
    if len(order) == 2 and order[0] == order[1] and first.counts[order[0][1]] == 1:
        return (Layer(first, order[0][1], sides[0]),)
    alike = [order.count(pair) > 1 for pair in order]
    copies = [found.index(pair) if not same else k for k, (pair, same) in
              enumerate(zip(order, alike, strict=True))]  # fmt: skip
    return tuple(
        Layer(draft.pieces[piece], cloth, side, copy if same else None)
        for (piece, cloth), side, copy, same in zip(order, sides, copies, alike, strict=True)
    )


def _sides(count: int, figure: FigureRule, problems: list[Problem]) -> list[str]:
    """Which side of each layer lies up: of two, right sides together where nothing is said; of
    more nothing is known then."""
    together = keys.texts(figure.keys, "together", problems)
    found = [keys.find_word(word, _TOGETHER, "together", problems) for word in together]
    said = [meeting for meeting in found if meeting]
    if not said:
        return ["right", "wrong"] if count == 2 else [""] * count
    return sides_up(count, together, said, problems)


Ground = tuple[Lines, str]
"""What a cloth covers of the page, and how it looks."""


def ply_title(seam: Seam, layer: Layer, draft: Draft) -> str:
    """What a side of a seam is called: its piece, or all of several."""
    for side in seam.sides:
        names = list(dict.fromkeys(name.piece for name in side))
        if names[0] == layer.piece.name:
            return " + ".join(draft.pieces[name].title for name in names)
    return layer.piece.title


def draw_plies(board: Board, laid: Laid) -> tuple[Ground, ...]:
    """The cloths, each hiding what it covers; of an upper one that would hide nearly all of the
    lower the far end is left out."""
    drawn: list[Ground] = []
    for k, ply in enumerate(laid.plies):
        shown = ply
        edges: tuple[Points, ...] = tuple((*loop, loop[0]) for loop in ply.loops)
        if k and not laid.straight and _hides(ply, laid.plies[0]):
            loops, edges = cut_away(ply.loops, _CUT_AWAY)
            shown = replace(ply, loops=loops)
        fills = tuple(polyline(*loop, loop[0]) for loop in shown.loops)
        wash = f"{ply.layer.side or 'either'}-side"
        board.add(Fill(fills, wash))
        if laid.creases:
            edges = tuple(run for edge in edges for run in _uncreased(edge))
        board.add(Stroke(tuple(polyline(*edge) for edge in edges), "layer"))
        if ply.sewn and shown is ply:
            board.add(Stroke(tuple(polyline(*run) for run in ply.sewn), "stitch"))
        if laid.folds and ply is laid.plies[-1]:
            board.add(Stroke(tuple(polyline(*fold) for fold in laid.folds), "line-folded"))
        drawn.append((Lines.of(walls(fills)), wash))
    if laid.creases:
        board.add(Stroke(tuple(polyline(*crease) for crease in laid.creases), "line-folded"))
    return tuple(drawn)


def _uncreased(edge: Points) -> list[Points]:
    """An outline without what of it is a fold, at x = 0."""
    runs: list[list[Point]] = [[edge[0]]]
    for a, b in pairwise(edge):
        if abs(a.real) < 0.01 and abs(b.real) < 0.01:
            runs.append([b])
        else:
            runs[-1].append(b)
    return [tuple(run) for run in runs if len(run) > 1]


def _hides(upper: Ply, lower: Ply) -> bool:
    one, other = box_round(upper.loops[0]), box_round(lower.loops[0])
    return one.width > 0.8 * other.width and one.height > 0.8 * other.height


def draw_runs(board: Board, laid: Laid, whole: bool) -> None:
    """What is sewn: stitches, where they start and stop and which way they go, and the backward
    stitches at their ends; a ``whole`` round is closed and has none."""
    board.add(Stroke(tuple(polyline(*run) for run in laid.runs), "seam"))
    for number, run in enumerate(laid.runs):
        sign = laid.inward(number)
        for at, way in _ways(run, 22.0):
            inside = at + way * 1j * sign * 2.8
            board.add(*arrow(inside - way * 4.5, inside + way * 4.5))
        begin, end = unit(run[1] - run[0]), unit(run[-1] - run[-2])
        board.add(point(run[0]))
        if whole and not laid.straight and not laid.halves:
            continue
        board.add(bar(run[-1], end))
        board.add(*turning_back(run[0], begin, begin * 1j * sign * 1.4))
        board.add(*turning_back(run[-1], -end, end * 1j * sign * 1.4))


def _ways(run: Points, every: float) -> list[tuple[Point, complex]]:
    """Places along a run about so far apart, mm, and the ways there; none where it turns within an
    arrow's length."""
    ends = [0.0, *accumulate(abs(b - a) for a, b in pairwise(run))]
    total = ends[-1]
    count = max(round(total / every), 1)
    if count == 1 and total < 14:
        return []

    def at(distance: float) -> tuple[Point, complex]:
        k = min(max(bisect_left(ends, distance), 1), len(run) - 1)
        way = unit(run[k] - run[k - 1])
        return run[k - 1] + way * (distance - ends[k - 1]), way

    places = [total * (k + 0.5) / count for k in range(count)]
    near = [[at(min(max(place + off, 0.0), total))[1] for off in (-5, 5)] for place in places]
    return [
        at(place) for place, (one, other) in zip(places, near, strict=True)
        if dot(one, other) > 0.6
    ]  # fmt: skip


def draw_marks(board: Board, laid: Laid) -> None:
    """The notches of the seam, with their numbers where there is room."""
    reach = (2 * LEAST if laid.straight else LEAST) + 0.4
    for share, mark in laid.marks:
        at, way = laid.track.at(share)
        out = -way * 1j * laid.track.inward
        along = way * 0.9
        feet = [at - along, at + along] if mark.number == 0 else [at]
        board.add(Stroke(tuple(polyline(foot, foot + out * reach) for foot in feet), "notch"))
        if mark.number is not None:
            words = str(mark.number)
            half = board.setting.width(words, SIZE) / 2
            middle = at + out * (reach + 0.8 + SIZE * 0.5 + abs(out.real) * half)
            board.write([Text(middle + SIZE * 0.27j, words, "number", SIZE, "middle")])


def tag(
    board: Board,
    grounds: Sequence[Ground],
    rows: Sequence[tuple[str, str]],
    at: Point,
    out: complex,
    least: float = 1.8,
) -> None:
    """Words beside a point, on the side of ``out`` of it as near as there is room; a leader joins
    them where they are not next to it. Words do not stand on hatched cloth."""
    block = label(board.setting, *rows, longest=34.0)
    width, height = block.width(board.setting), block.height
    for far in (least, *(other for other in (4.5, 8.0, 12.0, 17.0, 23.0) if other > least)):
        for turn in (0, 30, -30, 60, -60, 90, -90, 120, -120, 150, -150, 180):
            way = out * cmath.rect(1, math.radians(turn))
            # The block's nearest side or corner is ``far`` from the point.
            centre = (
                at
                + way * far
                + complex(
                    math.copysign(min(abs(way.real) * 1.6, 1.0), way.real) * width / 2,
                    math.copysign(min(abs(way.imag) * 1.6, 1.0), way.imag) * height / 2,
                )
            )
            tile = Tile(centre, width, height)
            if not clear(tile.grown(0.5), board.lines, board.tiles) or _on_cloth(grounds, tile):
                continue
            foot, tip = at + way * max(far - 0.7, 0.0), at + way * 1.6
            wall = (foot, tip)
            if far > 2 and any(touches(other, wall) for other in board.tiles):
                continue
            board.add(*block.items(tile, board.setting))
            if far > 2:
                board.add(Stroke((polyline(foot, tip),), "leader"))
            return
    callout_aside(board, block, [(at, 1 + 0j)])


def _on_cloth(grounds: Sequence[Ground], tile: Tile) -> bool:
    """Whether words there would stand on cloth that is hatched or dotted."""
    points = [*tile.corners, tile.centre]
    hatched = False
    for lines, wash in grounds:
        if any(lines.hold(point) for point in points):
            hatched = wash != "right-side"
    return hatched
