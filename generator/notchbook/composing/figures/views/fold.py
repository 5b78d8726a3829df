"""The fold view: an edge turned over by what it has outside its line, before and after.

Keys, all of which may be left out where the step folds a line of a piece:
- ``edge``: an edge that is turned on its stitching line, such as ``cape.hem``, the cloth in front
  where the piece is cut from several.
- ``line``: a line inside a piece, such as ``band.fold``, where the step follows several.
- ``under``: how much of an edge's allowance is turned in first, where it is turned twice.
- ``pleat``: instead of an edge or a line, a seam one of whose sides is pleated: one of its pleats.
- ``dart``: or a dart of a piece, such as ``top.dart``: folded leg on leg and sewn to its point.
- ``then: opened`` where a line is only creased: folded, pressed and opened again; ``then: later``
  where it is not folded yet.
- ``on``: a piece that lies on the wrong side of the cloth, from the stitching line of the edge that
  is turned to the fold, such as a stiffening.
- ``to: right`` where it is turned to the right side of the cloth and not to the wrong one.

The cloth is cut across, drawn thicker and shorter than it is; what is turned is to scale. Of a line
in the middle of a strip both halves are, one edge on the other.

Example::

    view: fold
    edge: lining.bottom
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Fill, Item, Stroke, Text
from notchbook.composing.figures import keys
from notchbook.composing.figures.before_after import cloth_line, half_turn, in_a_row, over
from notchbook.composing.figures.board import Board, framed
from notchbook.composing.figures.dart_folded import draw_dart
from notchbook.composing.figures.facts import step_of
from notchbook.composing.figures.legend import legend, notes
from notchbook.composing.figures.pleat import draw_pleat
from notchbook.composing.figures.ruled import dimension
from notchbook.composing.figures.size import SIZE
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Piece
from notchbook.drafting.engine import evaluate_in
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.vector import Point, dot, unit
from notchbook.problems import ContentError, Problem, suggestion
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import FigureRule, Parallel
from notchbook.reading.recipe import Text as Words

_FLAP, _REST = 17.0, 13.0
"""How wide what is turned is drawn at most, and how much cloth beside it, mm on the page."""

_WIDE = {"opened": 13.5, "later": 46.0}
"""How wide what is turned is drawn where there are three states, or one alone, mm on the page."""

_LEVEL = 1.0
"""Edges that are no further apart when they are folded are level, mm."""

_GAP = 1.7
"""Between cloths that lie on each other, mm on the page."""


@dataclass(frozen=True, slots=True)
class _Turned:
    """What is turned: ``depth`` mm of a piece outside its ``place``, an edge or a line, of it
    ``under`` mm first; to the wrong side of the cloth, or to the right one. ``inner`` says that it
    is a line inside the piece, with ``rest`` mm of cloth on its other side if that is told, and
    ``then`` that it is opened again or folded later. ``on`` is the piece on its wrong side, and
    ``reach`` mm what is outside the stitching line."""

    piece: Piece
    place: str
    depth: float
    under: float
    wrong: bool
    inner: bool
    rest: float | None
    then: str
    on: Piece | None
    reach: float

    @property
    def halved(self) -> bool:
        """Whether edge comes to lie on edge."""
        return self.rest is not None and abs(self.rest - self.depth) < _LEVEL


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """Before and after. Raises ContentError."""
    for key, drawn in (("pleat", draw_pleat), ("dart", draw_dart)):
        if word := _alone(key, figure):
            return drawn(word, draft, setting)
    plan = _plan(draft, figure)
    scale = _WIDE.get(plan.then, _FLAP) / plan.depth
    depth, under = plan.depth * scale, plan.under * scale
    first = setting.say("fold.later" if plan.then == "later" else "fold.before")
    states: list[tuple[list[Item], str]] = [(_before(plan, depth, under, setting), first)]
    if plan.under:
        states.append((_once(plan, depth, under), setting.say("fold.under")))
    key = "fold.wrong" if plan.wrong else "fold.right"
    states.append((_after(plan, depth, under, setting), setting.say(key)))
    if plan.then == "later":
        states = states[:1]
    if plan.then == "opened":
        states.append((_creased(plan, depth), setting.say("fold.opened")))
    board = in_a_row(states, setting)
    signs = [("wrong", setting.say("layers.key.wrong"))]
    if plan.then != "later":
        signs.append(("stitch", setting.say("fold.here")))
    if plan.on:
        signs.append(("either-side", plan.on.title))
    legend(board, signs)
    notes(board, [_told(plan, setting)])
    return framed(board, _described(plan, setting))


def _alone(key: str, figure: FigureRule) -> Words | None:
    """The word of a key that no other key can stand beside. None where the key is not there."""
    problems: list[Problem] = []
    words = keys.texts(figure.keys, key, problems)
    if words:
        keys.check_keys(figure.keys, (key,), f"A fold figure with “{key}”", problems)
    if problems:
        raise ContentError(problems)
    return words[0] if words else None


def _plan(draft: Draft, figure: FigureRule) -> _Turned:
    problems: list[Problem] = []
    table = figure.keys
    keys.check_keys(
        table,
        ("edge", "line", "under", "then", "on", "to", "pleat", "dart"),
        "A fold figure",
        problems,
    )
    under = keys.value(table, "under", LENGTH, draft, problems) or 0.0
    to = keys.one_of(table, "to", ("wrong", "right"), problems) or "wrong"
    then = keys.one_of(table, "then", ("opened", "later"), problems) or ""
    words = keys.texts(table, "on", problems)
    on = keys.find_piece(words[0], draft, problems) if words else None
    found = None
    edges = keys.texts(table, "edge", problems)
    lines = keys.texts(table, "line", problems)
    if edges:
        found = _edge(edges[0], draft, problems)
    elif not problems:
        found = _line(lines, draft, figure, problems)
    if problems or found is None:
        raise ContentError(problems)
    piece, place, depth, rest, reach = found
    inner = reach < depth
    if not 0 <= under < depth:
        given, most = (numbers.length(mm).metric for mm in (under, depth))
        what = f"{given} can't be turned in first of {most}."
        problems.append(Problem(table.entries["under"].place, what, f"Write less than {most}."))
        raise ContentError(problems)
    return _Turned(piece, place, depth, under, to == "wrong", inner, rest, then, on, reach)


_Found = tuple[Piece, str, float, float | None, float]


def _edge(word: Words, draft: Draft, problems: list[Problem]) -> _Found | None:
    found = keys.find_cut_edge(word, draft, problems)
    if found is None:
        return None
    piece, cloth, edge = found
    depth = piece.cut_line(cloth).allowance[edge]
    if depth <= 0:
        what = f"The edge “{word.value}” has no allowance that could be turned."
        problems.append(Problem(word.place, what, "Give it one, or name another edge."))
        return None
    return piece, edge, depth, None, depth


def _line(
    words: Sequence[Words], draft: Draft, figure: FigureRule, problems: list[Problem]
) -> _Found | None:
    """A line to fold along: the one named, or the only such one that the step follows."""
    step = step_of(draft, figure)
    folded = {
        f"{piece.name}.{line.name}": (piece, line.title)
        for piece in draft.pieces.values()
        for line in piece.lines
        if line.kind == "folded"
    }
    names = [word.value for word in step.facts.lines if word.value in folded] if step else []
    name = words[0].value if words else names[0] if len(names) == 1 else ""
    if words and name not in folded:
        what = f"There is no line “{name}” to fold along in this recipe."
        remedy = suggestion(name, folded) if folded else "Name an edge instead: “edge: PIECE.EDGE”."
        problems.append(Problem(words[0].place, what, remedy))
        return None
    if not name:
        example = next(iter(draft.pieces), "PIECE")
        edge = next(iter(draft.pieces[example].flat.edges)) if example in draft.pieces else "EDGE"
        problems.append(keys.missing(figure, "edge", "fold", f"{example}.{edge}"))
        return None
    piece, title = folded[name]
    drawn = draft.recipe.pieces[piece.name].lines[name.rpartition(".")[2]].drawn
    if not isinstance(drawn, Parallel):
        what = f"The line “{name}” does not run along an edge, so that no depth can be told."
        place = words[0].place if words else figure.view.place
        problems.append(Problem(place, what, "Show the piece in a flat view."))
        return None
    inside = evaluate_in(draft, drawn.inside).value
    reach = piece.cut_lines[0].allowance[drawn.edge.value]
    reach = max(reach, 0.0)
    depth = inside + reach
    return piece, title, depth, _beyond(piece, drawn.edge.value, depth), reach


def _beyond(piece: Piece, name: str, depth: float) -> float | None:
    """How much cloth there is beyond a line so far inside the cut edge at a straight edge, mm."""
    path = piece.flat.edges[name].path
    if path.closed or abs(path.length() - abs(path.end - path.start)) > 0.01:
        return None
    inwards = unit(path.end - path.start) * 1j
    reach = [dot(p, inwards) for loop in piece.cut_lines[0].loops for p in loop.points()]
    return max(reach) - min(reach) - depth


def _rest(plan: _Turned, depth: float) -> float:
    """How much of the cloth beside the fold is drawn, mm on the page: all of it if it is no more
    than what is turned."""
    return depth if plan.halved else _REST


def _before(plan: _Turned, depth: float, under: float, setting: Setting) -> list[Item]:
    board = Board(setting)
    rest = _rest(plan, depth)
    board.add(*cloth_line([complex(-depth, 0), complex(rest, 0)], -1 if plan.wrong else 1))
    board.add(*_laid_on(plan, depth, -1.0))
    marks = [0.0, *([under - depth] if under else [])]
    board.add(*(Stroke((polyline(complex(x, -4.4), complex(x, 4.4)),), "stitch") for x in marks))
    # The way the edge goes: over itself, or first under itself.
    x = under - depth if under else 0.0
    if plan.then != "later":
        board.add(*over(complex(-depth, -2.6), 2 * x + depth))
    if plan.on and plan.then == "later":
        line = -depth * (1 - plan.reach / plan.depth)
        board.add(Stroke((polyline(line - 4.4j, line + 4.4j),), "stitch"))
        for x, key in ((line, "along.line"), (0.0, "layers.fold")):
            board.add(Text(complex(x, -5.6), setting.say(key), "label", SIZE, "middle"))
        _measure(board, line, 0.0, plan.depth - plan.reach)
    else:
        _measure(board, -depth, 0.0, plan.depth)
    if plan.halved:
        _measure(board, 0.0, depth, plan.depth)
    return board.items


def _creased(plan: _Turned, depth: float) -> list[Item]:
    """Opened again, with the crease standing in it."""
    rest = _rest(plan, depth)
    rise = -2.6 if not plan.wrong else 2.6
    on = _laid_on(plan, depth, -1.0, short=3.5)
    points = [complex(-depth, 0), complex(-3.5, 0), complex(0, rise), complex(3.5, 0), rest + 0j]
    return [*cloth_line(points, -1 if plan.wrong else 1), *on]


def _laid_on(
    plan: _Turned, depth: float, level: float, short: float = 0.0, folded: bool = False
) -> list[Item]:
    """The piece on the wrong side of what is turned, cut across, its end ``short`` of the fold."""
    if plan.on is None:
        return []
    far = depth - plan.reach * depth / plan.depth
    way = 1 if folded else -1
    side = level if plan.wrong else -level
    a, b = complex(way * far, side), complex(way * max(short, 0.4), side)
    bar = polyline(a - 0.6j, b - 0.6j, b + 0.6j, a + 0.6j, a - 0.6j)
    return [Fill((bar,), "either-side"), Stroke((bar,), "leader")]


def _once(plan: _Turned, depth: float, under: float) -> list[Item]:
    """What is turned in first, turned."""
    left = under - depth
    points = [complex(left + under, -_GAP), *half_turn(complex(left, -_GAP), 0j + left, -1),
              complex(_REST, 0)]  # fmt: skip
    fold = Stroke((polyline(-4.4j, 4.4j),), "stitch")
    return [*cloth_line(points, -1 if plan.wrong else 1), fold,
            *over(complex(left, -3.6), -left)]  # fmt: skip


def _after(plan: _Turned, depth: float, under: float, setting: Setting) -> list[Item]:
    board = Board(setting)
    rest = complex(depth + (0.0 if plan.halved else _REST), 0)
    points: list[Point]
    if under:
        deep = depth - under
        points = [
            complex(deep - under, -_GAP),
            *half_turn(complex(deep, -_GAP), complex(deep, -2 * _GAP), 1),
            *half_turn(complex(0, -2 * _GAP), 0j, -1),
            rest,
        ]
    else:
        deep = depth
        points = [complex(depth, -_GAP), *half_turn(complex(0, -_GAP), 0j, -1), rest]
    board.add(*cloth_line(points, -1 if plan.wrong else 1))
    board.add(*_laid_on(plan, depth, -_GAP / 2, folded=True))
    _measure(board, 0.0, deep, plan.depth - plan.under)
    return board.items


def _measure(board: Board, low: float, high: float, mm: float) -> None:
    """How deep it is, below it."""
    feet = complex(low, 1.5), complex(high, 1.5)
    dimension(board, low + 6j, high + 6j, numbers.length(mm), 1j, extend=feet)


def _told(plan: _Turned, setting: Setting) -> str:
    values = {"piece": plan.piece.title, "place": plan.place,
              "depth": both(numbers.length(plan.depth), setting)}  # fmt: skip
    if plan.under:
        first, then = (
            both(numbers.length(mm), setting) for mm in (plan.under, plan.depth - plan.under)
        )
        return setting.say("fold.told.twice", first=first, then=then, **values)
    if plan.then == "later":
        return setting.say("fold.told.later", **values)
    key = "half" if plan.halved else "line" if plan.inner else "edge"
    return setting.say(f"fold.told.{key}", **values)


def _described(plan: _Turned, setting: Setting) -> str:
    key = "fold.alt.twice" if plan.under else "fold.alt.once"
    if plan.then == "later":
        key = "fold.alt.later"
    side = setting.say(f"layers.key.{'wrong' if plan.wrong else 'right'}")
    return " ".join([setting.say(key, piece=plan.piece.title, side=side), _told(plan, setting)])
