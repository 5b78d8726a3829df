"""The stitch view: where the needle goes on a seam, from start to stop.

Keys, all of which may be left out inside a step that sews one seam:
- ``seam``: which, where the step sews several or the figure stands in no step.
- ``top``: the piece that lies uppermost under the needle. Without it, the one that is gathered, or
  else the seam's first side.
- ``together: wrong sides`` where they are not right sides together.
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
from notchbook.composing.drawing import Drawing, Text
from notchbook.composing.figures import keys
from notchbook.composing.figures.board import Board, fitting, framed
from notchbook.composing.figures.laid import Laid
from notchbook.composing.figures.layered import edges_in, layer_words
from notchbook.composing.figures.legend import legend, notes
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
from notchbook.composing.figures.track import Points
from notchbook.composing.pairs import both
from notchbook.composing.pieces.text import cloth_word
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Seam
from notchbook.drafting.geometry.path import unit
from notchbook.problems import ContentError, Problem
from notchbook.reading.recipe import FigureRule

_ROOM = complex(64, 54)
TOUCHES = 0.5
"""An edge ends where a seam does if it ends as near to that, mm."""

_TRIES = (1.0, 0.85, 0.7, 0.55)
"""Shares of the room to draw it in: the first that fits."""


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """The seam under the needle. Raises ContentError."""
    sewn = read_sewn(draft, figure, "stitch", ("start", "halves"), made=False)
    laid = sewn.laid(_ROOM)
    # The pieces stay as they lie: mirrored, each would be one with its other side up.
    other = setting.left_handed and "start" not in figure.keys.entries
    if other or _starts_at_end(sewn.seam, figure, draft):
        laid = laid.turned()
    if _in_halves(sewn, figure):
        laid = laid.in_halves()
    told = _told(sewn, laid, setting) + ([setting.say("stitch.left")] if other else [])
    board = fitting(_composed(sewn, laid.scaled(share), told, draft, setting) for share in _TRIES)
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


def _starts_at_end(seam: Seam, figure: FigureRule, draft: Draft) -> bool:
    """Whether a figure wants the stitching to start where its seam ends."""
    problems: list[Problem] = []
    for word in keys.texts(figure.keys, "start", problems):
        found = keys.find_edge(word, draft, problems)
        side = [s for s in seam.laid[0] if found and s.name.piece == found[0].name]
        if found is None:
            break
        ends = [_end(seam, last) for last in (False, True)]
        near = found[0].flat.edges[found[1]].path
        touched = [
            bool(side) and min(abs(near.start - end), abs(near.end - end)) < TOUCHES for end in ends
        ]
        if sum(touched) == 1 and not seam.round:
            return touched[1]
        piece = draft.pieces[seam.laid[0][0].name.piece]
        beside = [
            f"{piece.name}.{name}"
            for name, edge in piece.flat.edges.items()
            if not any(s.name.edge == name for s in seam.laid[0])
            and sum(min(abs(edge.path.start - e), abs(edge.path.end - e)) < TOUCHES for e in ends)
            == 1
        ]
        what = f"The seam “{seam.name}” has no end at “{word.value}”."
        remedy = f"Name an edge at one of its ends: {' or '.join(beside)}." if beside else (
            "Leave “start” out."
        )  # fmt: skip
        problems.append(Problem(word.place, what, remedy))
    if problems:
        raise ContentError(problems)
    return False


def _end(seam: Seam, last: bool) -> complex:
    """The first or the last point of a seam on its first side."""
    stretch = seam.laid[0][-1 if last else 0]
    path = stretch.edge.path
    return path.end if last != stretch.backwards else path.start


def _composed(sewn: Sewn, laid: Laid, told: Sequence[str], draft: Draft, setting: Setting) -> Board:
    board = Board(setting)
    whole = sewn.seam.round and sewn.opening is None
    grounds = draw_plies(board, laid)
    draw_runs(board, laid, whole)
    draw_marks(board, laid)
    if laid.straight and len(laid.plies) > 2:
        _name_bands(board, sewn.seam, laid, draft)
    # A gap in a round has both ends of the stitching beside it, closer than its own words.
    near = sewn.seam.round and not laid.straight
    if near:
        _name_ends(board, grounds, laid, whole)
    if sewn.opening:
        words = both(numbers.length(sewn.opening.length), setting)
        rows = [(setting.say("layers.open"), "label"), (words, "strong")]
        gap = max(laid.gaps, key=len)
        middle = gap[len(gap) // 2] if len(gap) > 2 else (gap[0] + gap[-1]) / 2
        tag(board, grounds, rows, middle, _outward(gap, laid.track.inward), 4.5 if near else 1.8)
    if not near:
        _name_ends(board, grounds, laid, whole)
    for crease in laid.creases:
        rows = [(setting.say("layers.fold"), "label")]
        tag(board, grounds, rows, (crease[0] + crease[-1]) / 2, -1 + 0j)
    legend(board, _signs(sewn.seam, laid, draft, setting))
    notes(board, told)
    return board


def _outward(run: Points, inward: float) -> complex:
    """Away from the cloth at a run's end."""
    return -unit(run[-1] - run[-2]) * 1j * inward


def _name_ends(board: Board, grounds: Sequence[Ground], laid: Laid, whole: bool) -> None:
    many = len(laid.runs) > 1
    for number, run in enumerate(laid.runs, start=1):
        closed = whole and not laid.straight and not laid.halves
        for key in ("start",) if closed else ("start", "stop"):
            words = board.setting.say(f"stitch.{key}.{'many' if many else 'one'}", number=number)
            ends = run if key == "stop" else (run[1], run[0])
            at, way = ends[-1], unit(ends[-1] - ends[-2])
            inward = laid.inward(number - 1) * (1 if key == "stop" else -1)
            middle = laid.halves and key == "stop"
            out = unit(_outward(ends, inward) + way * (-0.6 if middle else 0.6))
            if laid.straight and not middle:
                out = way
            tag(board, grounds, [(words, "strong")], at, out)


def _name_bands(board: Board, seam: Seam, laid: Laid, draft: Draft) -> None:
    """The name of each of several cloths, beside what is seen of it."""
    right = max(p.real for p in laid.plies[0].loops[0])
    for k, ply in enumerate(laid.plies):
        foot = max(p.imag for p in ply.loops[0])
        high = max(p.imag for p in laid.plies[k + 1].loops[0]) if k + 1 < len(laid.plies) else 0.0
        y = max((foot + high) / 2, foot - 4.6) + SIZE * 0.3
        words = f"{ply_title(seam, ply.layer, draft)}, {cloth_word(ply.layer.cloth)}"
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
