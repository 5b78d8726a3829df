"""The turn view: what was sewn right sides together, turned right side out, before and after.

Keys, all of which may be left out:
- ``seam``: which, where its step sews several; without it the step's, or the last that was sewn.
- ``through``: the edge it is pulled out through, such as ``brim.inner``. Without it, the gap that
  was left in the seam, or else the longest edge that is sewn to nothing yet.
- ``top``: which piece lies uppermost.

Two things that go round, such as a bag and its lining, are cut down their middle, and turned
through a gap that is open by then. Other pieces that can't lie flat on each other can't be shown
so: a solid view shows what they become.

Example::

    view: turn
    seam: brim edge
"""

from __future__ import annotations

from dataclasses import dataclass

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Fill, Item, Stroke
from notchbook.composing.figures import keys
from notchbook.composing.figures.before_after import in_a_row
from notchbook.composing.figures.board import Board, framed
from notchbook.composing.figures.facts import step_of
from notchbook.composing.figures.laid import Laid
from notchbook.composing.figures.legend import arrow, legend, notes
from notchbook.composing.figures.sewing import Sewn, draw_plies, read_sewn
from notchbook.composing.figures.track import Points
from notchbook.composing.figures.turned_round import Turning, states, turning
from notchbook.composing.names import plain
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Opening
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.problems import ContentError, Problem, fault
from notchbook.reading.recipe import FigureRule
from notchbook.reading.walk import all_steps

_ROOM = complex(43, 50)

_IN, _OUT = 8.0, 7.0
"""How far the arrow reaches into the thing and out of it, mm on the page."""


@dataclass(frozen=True, slots=True)
class _Way:
    """Through what it is turned: an edge of a piece, or without one the seam's gap."""

    piece: str = ""
    edge: str = ""


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """Before and after. Raises ContentError."""
    sewn = read_sewn(draft, figure, "turn", ("through",), made=True)
    before, after = sewn.flat(_ROOM), sewn.flat(_ROOM, bare=True)
    round_ = _round(draft, figure, sewn) if before is None or after is None else None
    if round_:
        return _drawn_round(round_[0], round_[1], sewn, setting)
    if before is None or after is None:
        what = f"The pieces of “{sewn.seam.name}” can't lie flat on each other, so turning them"
        remedy = "Show what they become with “view: solid”."
        raise fault(figure.view.place, f"{what} can't be drawn flat.", remedy)
    way = _way(draft, figure, sewn)
    shown = [
        (_inside_out(sewn, before, way, setting), setting.say("turn.before")),
        (_turned(after), setting.say("turn.after")),
    ]
    board = in_a_row(shown, setting)
    signs = [
        ("wrong-side", setting.say("layers.key.wrong")),
        ("right-side", setting.say("layers.key.right")),
        ("seam", setting.say("layers.key.stitch")),
    ]
    legend(board, signs)
    said = _through(sewn, way, setting)
    notes(board, [said, setting.say("stitch.wider")])
    titles = [layer.piece.title for layer in sewn.layers]
    key = "turn.alt.one" if len(titles) == 1 else "turn.alt.two"
    told = setting.say(key, seam=sewn.seam.name, one=titles[-1], other=titles[0])
    return framed(board, f"{told} {said}")


def _round(draft: Draft, figure: FigureRule, sewn: Sewn) -> tuple[Turning, Opening] | None:
    """How two things that go round are turned through a gap that is open in the figure's step."""
    step = step_of(draft, figure)
    order = [each.id for each in all_steps(draft.recipe)]
    for opening in draft.openings.values():
        spell = [order.index(id) for id in (opening.left, opening.closed) if id in order]
        now = order.index(step.id) if step else spell[0]
        if len(spell) == 2 and spell[0] <= now <= spell[1]:
            found = turning(draft, sewn.seam, opening)
            if found:
                return found, opening
    return None


def _drawn_round(plan: Turning, opening: Opening, sewn: Sewn, setting: Setting) -> Drawing:
    """Three states of what goes round, cut down its middle."""
    words = [
        setting.say("turn.round.before"),
        setting.say("turn.round.pulled"),
        setting.say("turn.round.after", inner=plan.names[1]),
    ]
    board = in_a_row(zip(states(plan), words, strict=True), setting)
    legend(
        board,
        [("wrong", setting.say("layers.key.wrong")), ("crossed", setting.say("turn.round.seam"))],
    )
    one, other = plan.titles
    gap = both(numbers.length(opening.length), setting)
    said = setting.say("turn.round.edge", one=one, other=other, gap=gap)
    notes(board, [said])
    alt = setting.say("turn.round.alt", one=one, other=other, seam=sewn.seam.name)
    return framed(board, f"{alt} {said}")


def _way(draft: Draft, figure: FigureRule, sewn: Sewn) -> _Way:
    problems: list[Problem] = []
    pieces = {layer.piece.name for layer in sewn.layers}
    joined = {
        (name.piece, name.edge)
        for seam in (sewn.seam, *sewn.before)
        for side in seam.sides
        for name in side
    }
    free = {
        f"{layer.piece.name}.{name}": edge.length()
        for layer in sewn.layers
        for name, edge in layer.piece.flat.edges.items()
        if (layer.piece.name, name) not in joined
    }
    for word in keys.texts(figure.keys, "through", problems):
        found = keys.find_edge(word, draft, problems)
        if found and f"{found[0].name}.{found[1]}" not in free:
            what = f"Nothing can be pulled out through “{word.value}”: it is sewn or not here."
            remedy = f"Name an open edge: {' or '.join(free)}." if free else "Leave a gap."
            problems.append(Problem(word.place, what, remedy))
        elif found and found[0].name in pieces:
            return _Way(found[0].name, found[1])
    if problems:
        raise ContentError(problems)
    if sewn.opening:
        return _Way()
    if not free:
        what = (
            f"There is no way out of what “{sewn.seam.name}” joins: it has no open edge and no gap."
        )
        raise fault(figure.view.place, what, "Let the step that sews it leave a gap.")
    longest = max(free, key=lambda name: (round(free[name], 3), name))
    piece, _, edge = longest.rpartition(".")
    return _Way(piece, edge)


def _inside_out(sewn: Sewn, laid: Laid, way: _Way, setting: Setting) -> list[Item]:
    board = Board(setting)
    draw_plies(board, laid)
    board.add(Stroke(tuple(polyline(*run) for run in laid.runs), "seam"))
    at, out = _exit(laid, way)
    board.add(*_pull(at, out))
    return board.items


def _pull(at: Point, out: complex) -> list[Item]:
    """A hand's way: an arrow out of the thing at a point."""
    bare = polyline(at - out * (_IN + 0.8), at + out * (_OUT - 2))
    return [Stroke((bare,), "bare"), *arrow(at - out * _IN, at + out * _OUT, 3.4)]


def _exit(laid: Laid, way: _Way) -> tuple[Point, complex]:
    """Where on the page it comes out, and the direction out of the cloth there."""
    if not way.edge:
        gap = max(laid.gaps, key=len)
        middle, along = _halfway(gap)
        return middle, -along * 1j * laid.track.inward
    ply = next(
        ply
        for ply in laid.plies
        if ply.layer.piece.name == way.piece and len(ply.edges[way.edge]) > 1
    )
    run = ply.edges[way.edge]
    closed = abs(run[0] - run[-1]) < 0.01
    middle, along = _halfway(run[: len(run) // 2 + 1] if closed else run)
    # The cloth lies to the right of the way along its edge, unless it is seen mirrored.
    return middle, along * 1j * (1 if ply.mirrored else -1)


def _halfway(run: Points) -> tuple[Point, complex]:
    """The middle of a line, and the way along it there."""
    if len(run) == 2:
        return (run[0] + run[1]) / 2, unit(run[1] - run[0])
    k = len(run) // 2
    return run[k], unit(run[min(k + 1, len(run) - 1)] - run[k - 1])


def _turned(laid: Laid) -> list[Item]:
    """The upper cloth alone, right side up, its seam at its edge."""
    top = laid.plies[-1]
    loops = tuple(polyline(*loop, loop[0]) for loop in top.loops)
    return [Fill(loops, "right-side"), Stroke(loops, "solid-outline")]


def _through(sewn: Sewn, way: _Way, setting: Setting) -> str:
    if way.edge:
        piece = next(layer.piece for layer in sewn.layers if layer.piece.name == way.piece)
        return setting.say("turn.edge", piece=piece.title, edge=plain(way.edge))
    length = sewn.opening.length if sewn.opening else 0.0
    return setting.say("turn.gap", gap=both(numbers.length(length), setting))
