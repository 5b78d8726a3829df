"""The stitch view: where the needle goes on a seam, from start to stop.

Keys, all of which may be left out inside a step that sews one seam:
- ``seam``: which, where the step sews several or the figure stands in no step.
- ``top``: the piece that lies uppermost under the needle. Without it, the one that is gathered, or
  else the seam's first side.
- ``together: wrong sides`` where they are not right sides together; of more than two a list, one
  for each meeting from the lowest up. The lowest is the first of the seam that is not on top.
- ``lines``: lines inside the uppermost piece to be shown, such as ``band.ribbon``, where what was
  sewn on along them has to meet.
- ``halves: yes`` where a seam without a gap is sewn from both its ends to its middle.
- ``start``: an edge, such as ``cape.opening``, at whose end of the seam the stitching starts.

The pieces lie on each other as they are sewn, seen from above: a right side is plain, a wrong side
hatched. What the step leaves open is open. A seam whose pieces can't lie flat on each other is laid
straight, and the figure says so. In a draft for the left hand (``notchbook draft --hand left``) the
needle goes the other way, unless ``start`` says where it begins.

Example::

    view: stitch
    seam: brim edge
    top: under_brim
"""

from __future__ import annotations

from collections.abc import Sequence

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Stroke, Text
from notchbook.composing.figures import keys
from notchbook.composing.figures.board import Board, fitting, framed
from notchbook.composing.figures.laid import Laid
from notchbook.composing.figures.layered import edges_in, layer_words
from notchbook.composing.figures.legend import legend, notes
from notchbook.composing.figures.pleat import draw_run
from notchbook.composing.figures.seam_ends import TOUCHES, end_edge, starts_at_end
from notchbook.composing.figures.sewing import (
    Ground,
    Sewn,
    draw_marks,
    draw_plies,
    draw_runs,
    ply_title,
    read_sewn,
    tag,
)
from notchbook.composing.figures.size import SIZE
from notchbook.composing.figures.told_gap import draw_near_end, name_gap, near_end
from notchbook.composing.figures.track import Points
from notchbook.composing.names import plain
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, InnerLine, Seam
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.problems import ContentError, Problem
from notchbook.reading.recipe import FigureRule

_ROOM = complex(64, 54)
_TRIES = (1.0, 0.85, 0.7, 0.55)
"""Shares of the room to draw it in: the first that fits."""


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """The seam under the needle. Raises ContentError."""
    sewn = read_sewn(draft, figure, "stitch", ("start", "halves", "lines"), made=False)
    laid = sewn.laid(_ROOM)
    # The pieces stay as they lie: mirrored, each would be one with its other side up.
    other = setting.left_handed and "start" not in figure.keys.entries
    if other or starts_at_end(sewn.seam, figure, draft):
        laid = laid.turned()
    if _in_halves(sewn, figure):
        laid = laid.in_halves()
    lines = _lines(sewn, laid, figure)
    told = _told(sewn, laid, setting) + ([setting.say("stitch.left")] if other else [])
    board = fitting(
        _composed(sewn, laid.scaled(share), lines, told, draft, setting) for share in _TRIES
    )
    return framed(board, _described(sewn, laid, setting))


def _in_halves(sewn: Sewn, figure: FigureRule) -> bool:
    """Whether a figure wants the seam sewn from both ends to the middle."""
    problems: list[Problem] = []
    halves = keys.one_of(figure.keys, "halves", ("yes", "no"), problems) == "yes"
    if halves and sewn.opening:
        what = f"The seam “{sewn.seam.name}” has a gap, so it is not sewn in halves."
        problems.append(Problem(figure.keys.entries["halves"].place, what, "Leave “halves” out."))
    if problems:
        raise ContentError(problems)
    return halves


def _lines(sewn: Sewn, laid: Laid, figure: FigureRule) -> tuple[InnerLine, ...]:
    """The lines of the uppermost piece that are to be shown."""
    problems: list[Problem] = []
    piece, seen = sewn.layers[-1].piece, laid.plies[-1].lines
    known = {f"{piece.name}.{line.name}": line for line in piece.lines if line.name in seen}
    words = keys.texts(figure.keys, "lines", problems)
    found = [keys.find_word(word, known, "lines", problems) for word in words]
    if problems:
        raise ContentError(problems)
    return tuple(known[name] for name in found if name)


def _composed(
    sewn: Sewn,
    laid: Laid,
    lines: Sequence[InnerLine],
    told: Sequence[str],
    draft: Draft,
    setting: Setting,
) -> Board:
    board = Board(setting)
    whole = sewn.seam.round and sewn.opening is None
    grounds = draw_plies(board, laid)
    for line in lines:
        path = polyline(*laid.plies[-1].lines[line.name])
        board.add(Stroke((path,), f"line-{line.kind}"))
    draw_runs(board, laid, whole)
    draw_marks(board, laid)
    if laid.straight and len(laid.plies) > 2:
        _name_bands(board, sewn.seam, laid, draft)
    # A gap in a round has both ends of the stitching beside it, closer than its own words.
    near = sewn.seam.round and not laid.straight
    if near:
        _name_ends(board, grounds, laid, whole)
    end = near_end(laid) if sewn.opening else None
    if sewn.opening and end is None:
        words = both(numbers.length(sewn.opening.length), setting)
        if laid.straight:
            name_gap(board, laid, words)
        else:
            rows = [(setting.say("layers.open"), "label"), (words, "strong")]
            gap = max(laid.gaps, key=len)
            middle = gap[len(gap) // 2] if len(gap) > 2 else (gap[0] + gap[-1]) / 2
            out = _outward(gap, laid.track.inward)
            tag(board, grounds, rows, middle, out, 4.5 if near else 1.8)
    if not near:
        _name_ends(board, grounds, laid, whole, end)
    if sewn.opening and end is not None:
        draw_near_end(board, laid, end, sewn.seam, sewn.opening, end_edge(sewn, draft))
    for crease in laid.creases:
        rows = [(setting.say("layers.fold"), "label")]
        tag(board, grounds, rows, (crease[0] + crease[-1]) / 2, -1 + 0j)
    if laid.folds:
        titles = [ply_title(sewn.seam, ply.layer, draft) for ply in laid.plies]
        draw_run(board, titles[-1], titles[0], laid.plies[-1].layer.side == "wrong")
    signs = _signs(sewn.seam, laid, draft, setting)
    signs += [
        (f"line-{line.kind}", setting.say("stitch.key.line", line=line.title)) for line in lines
    ]
    legend(board, signs)
    notes(board, told)
    return board


def _outward(run: Points, inward: float) -> complex:
    """Away from the cloth at a run's end."""
    return -unit(run[-1] - run[-2]) * 1j * inward


def _name_ends(
    board: Board, grounds: Sequence[Ground], laid: Laid, whole: bool, large: Point | None = None
) -> None:
    """Where it starts and stops; but for what lies round the end that is drawn ``large``."""
    many = len(laid.runs) > 1
    for number, run in enumerate(laid.runs, start=1):
        closed = whole and not laid.straight and not laid.halves
        for key in ("start",) if closed else ("start", "stop"):
            words = board.setting.say(f"stitch.{key}.{'many' if many else 'one'}", number=number)
            ends = run if key == "stop" else (run[1], run[0])
            at, way = ends[-1], unit(ends[-1] - ends[-2])
            if at == large or (large is not None and at not in _ends(laid)):
                continue
            inward = laid.inward(number - 1) * (1 if key == "stop" else -1)
            middle = laid.halves and key == "stop"
            out = unit(_outward(ends, inward) + way * (-0.6 if middle else 0.6))
            if laid.straight and not middle:
                # Beside the strip; within it above the cut edge.
                out = way if min(abs(at - end) for end in _ends(laid)) < TOUCHES else -1j
            tag(board, grounds, [(words, "strong")], at, out, 2.6 if out == way else 1.8)


def _ends(laid: Laid) -> tuple[Point, Point]:
    return laid.track.points[0], laid.track.points[-1]


def _name_bands(board: Board, seam: Seam, laid: Laid, draft: Draft) -> None:
    """The name of each of several cloths, beside what is seen of it."""
    right = max(p.real for p in laid.plies[0].loops[0])
    for k, ply in enumerate(laid.plies):
        foot = max(p.imag for p in ply.loops[0])
        high = max(p.imag for p in laid.plies[k + 1].loops[0]) if k + 1 < len(laid.plies) else 0.0
        y = max((foot + high) / 2, foot - 4.6) + SIZE * 0.3
        title, side = ply_title(seam, ply.layer, draft), ply.layer.side
        up = board.setting.say(f"stitch.up.{side}") if side else plain(ply.layer.cloth)
        words = f"{title}, {up}"
        board.add(Text(complex(right + 2, y), words, "label", SIZE))


def _signs(seam: Seam, laid: Laid, draft: Draft, setting: Setting) -> list[tuple[str, str]]:
    found = [
        (
            f"{ply.layer.side}-side",
            f"{ply_title(seam, ply.layer, draft)}, {layer_words(ply.layer, setting)}",
        )
        for ply in reversed(laid.plies)
        if ply.layer.side
    ]
    found.append(("seam", setting.say("layers.key.stitch")))
    found.append(("back", setting.say("stitch.key.back")))
    found.append(("layer", setting.say("stitch.key.raw")))
    if laid.folds:
        found.append(("line-folded", setting.say("stitch.key.fold")))
    if any(ply.sewn for ply in laid.plies):
        found.append(("stitch", setting.say("stitch.key.sewn")))
    return found


def _told(sewn: Sewn, laid: Laid, setting: Setting) -> list[str]:
    seam = sewn.seam
    long = seam.lengths[0] - (sewn.opening.length if sewn.opening else 0.0)
    values = {"seam": seam.name, "length": both(numbers.length(long), setting)}
    top = sewn.layers[-1]
    allowance = top.piece.cut_line(top.cloth).allowance
    widths = {round(allowance[edge], 2) for edge in edges_in(seam, top)}
    if len(widths) == 1 and min(widths) > 0.05:
        width = both(numbers.length(min(widths)), setting)
        said = [setting.say("stitch.told", width=width, **values)]
    else:
        said = [setting.say("stitch.told.line", **values)]
    if laid.halves:
        said.append(setting.say("stitch.halves"))
    elif seam.round and sewn.opening is None:
        said.append(setting.say("stitch.round"))
    if laid.straight:
        said.append(setting.say("stitch.straight.round" if seam.round else "stitch.straight"))
    if laid.straight and seam.round and sewn.opening:
        said.append(setting.say("stitch.straight.gap"))
    if laid.folds:
        said.append(setting.say("stitch.pleats"))
    said.append(setting.say("stitch.wider"))
    return said


def _described(sewn: Sewn, laid: Laid, setting: Setting) -> str:
    seam = sewn.seam
    layers = "; ".join(
        setting.say("layers.layer", piece=ply.layer.piece.title,
                    cloth=layer_words(ply.layer, setting))
        for ply in laid.plies
    )  # fmt: skip
    kind = "straight" if laid.straight else "flat"
    said = [setting.say(f"stitch.alt.{kind}", seam=seam.name, layers=layers)]
    length = both(numbers.length(seam.lengths[0]), setting)
    if sewn.opening:
        gap = both(numbers.length(sewn.opening.length), setting)
        key = "stitch.alt.open" if seam.round else "stitch.alt.parts"
        said.append(setting.say(key, length=length, gap=gap))
    elif laid.halves:
        said.append(setting.say("stitch.alt.halves", length=length))
    else:
        said.append(setting.say("stitch.alt.whole", length=length))
    return " ".join(said)
