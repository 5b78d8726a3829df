"""The measuring view: where the tape goes for each measure, on a neutral head, leg or hand,
with the measure's name and the value of the size at hand.

Keys: ``measures``, or all that say where they are taken (``taken:`` in the front matter) where it
is left out. What the tape goes round has an arrow along it; what it is laid along has two.

Example::

    view: measuring
    measures: head
"""

from __future__ import annotations

from collections.abc import Sequence

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Fill, Item, Stroke, moved
from notchbook.composing.figures import keys
from notchbook.composing.figures.board import (
    HEAD,
    MARGIN,
    Board,
    bordered,
    callout,
    callout_aside,
    label,
)
from notchbook.composing.figures.size import HIGHEST, TALLEST, WIDEST
from notchbook.composing.figures.taken import GIRTHS, Seen, seen_for
from notchbook.composing.lettering.placing import walls
from notchbook.composing.pairs import both
from notchbook.composing.pieces.arrows import arrowhead
from notchbook.composing.pieces.text import Label
from notchbook.composing.setting import Setting
from notchbook.composing.solids import body
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import Box, bounds
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.scale import scaled
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.problems import ContentError, Problem, fault, suggestion
from notchbook.reading.recipe import FigureRule, Measure

_TAPE = 2.4
"""How wide a tape is drawn, mm."""
_TICK = 2.0
"""From mark to mark on it, mm."""
_APART = 7.0
"""Between one thing and the next, mm."""
_LONGEST = 32.0
"""No row of words is longer, mm."""


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """All measures, each at its place. Raises ContentError."""
    problems: list[Problem] = []
    keys.check_keys(figure.keys, ("measures",), "A measuring figure", problems)
    measures = _measures(draft, figure, problems)
    if problems:
        raise ContentError(problems)
    if not measures:
        what = "None of this recipe’s measures says where it is taken."
        raise fault(figure.view.place, what, "Write “taken: head” below one, or another place.")
    girth = next(
        (draft.measures[m.name] for m in measures if m.taken in ("head", "forehead")), body.HEAD
    )
    kinds = seen_for([measure.taken for measure in measures], girth)
    highest = HIGHEST if len(kinds) == 1 else TALLEST
    high = (highest - 2 * MARGIN - _APART * (len(kinds) - 1)) / len(kinds)
    items: list[Item] = []
    top = 0.0
    for seen in kinds:
        board = _fitted(draft, measures, seen, high, setting)
        box = board.box()
        shift = complex(-box.centre.real, top - box.low.imag)
        items += [moved(item, shift=shift) for item in board.items]
        top += box.height + _APART
    said = "; ".join(
        setting.say(f"measuring.{m.taken}", measure=m.title.value, value=_value(draft, m, setting))
        for m in measures
    )
    title = setting.say("measuring.alt", measures=said)
    return bordered(items, title, setting)


def _measures(draft: Draft, figure: FigureRule, problems: list[Problem]) -> list[Measure]:
    known = {name: m for name, m in draft.recipe.measures.items() if name in draft.measures}
    words = keys.texts(figure.keys, "measures", problems)
    if "measures" not in figure.keys.entries:
        return [measure for measure in known.values() if measure.taken]
    found = []
    for word in words:
        measure = known.get(word.value)
        if measure is None:
            what = f"There is no measure “{word.value}” in this recipe."
            problems.append(Problem(word.place, what, suggestion(word.value, known)))
        elif not measure.taken:
            what = f"The measure “{word.value}” does not say where it is taken."
            remedy = "Write “taken: head”, or another place, below it, or leave it out here."
            problems.append(Problem(word.place, what, remedy))
        else:
            found.append(measure)
    return found


def _value(draft: Draft, measure: Measure, setting: Setting) -> str:
    return both(numbers.tape(draft.measures[measure.name]), setting)


def _fitted(
    draft: Draft, measures: Sequence[Measure], seen: Sequence[Seen], high: float, setting: Setting
) -> Board:
    """One kind of thing as large as its words leave room for."""
    boxes = [bounds([*each.outlines, *each.aids, *each.tapes.values()]) for each in seen]
    wide = WIDEST - 2 * MARGIN
    here = [measure for measure in measures if any(measure.taken in each.tapes for each in seen)]
    words = sorted(_label(draft, measure, setting).width(setting) for measure in here)[-2:]
    free = wide - _APART * (len(seen) - 1) - 2.0 * len(words) - sum(words) * 0.7
    largest = min(free / sum(box.width for box in boxes), high / max(box.height for box in boxes))
    for smaller in (1.0, 0.9, 0.8, 0.7, 0.6, 0.5):
        board = _board(draft, here, seen, boxes, largest * smaller, setting)
        box = board.box()
        if box.width <= wide and box.height <= high:
            break
    return board


def _label(draft: Draft, measure: Measure, setting: Setting) -> Label:
    rows = (measure.title.value, "strong"), (_value(draft, measure, setting), "label")
    return label(setting, *rows, longest=_LONGEST)


def _board(
    draft: Draft,
    measures: Sequence[Measure],
    seen: Sequence[Seen],
    boxes: Sequence[Box],
    scale: float,
    setting: Setting,
) -> Board:
    board = Board(setting)
    anchors: dict[str, list[tuple[Point, complex]]] = {m.taken: [] for m in measures}
    x = 0.0
    for each, box in zip(seen, boxes, strict=True):
        shift = complex(x - box.low.real * scale, -box.low.imag * scale)

        def small(path: Path, shift: complex = shift) -> Path:
            return scaled(path, scale).moved(1, shift)

        board.add(Stroke(tuple(small(path) for path in each.outlines), "body"))
        if each.aids:
            board.add(Stroke(tuple(small(path) for path in each.aids), "drawn"))
        for place in anchors:
            if place in each.tapes:
                path = small(each.tapes[place])
                _tape(board, path, place in GIRTHS)
                ways = -unit(path.tangent_at(0.0)), unit(path.tangent_at(path.length()))
                if place in GIRTHS:
                    ends = [(path.start, ways[0]), (path.end, ways[1])]
                else:
                    middle, along = path.at(path.length() / 2)
                    out = along * 1j if (along * 1j).real > 0 else along * -1j
                    ends = [(middle + out * _TAPE / 2, out)]
                anchors[place] += ends
        x += box.width * scale + _APART
    drawn = board.box()
    region = Box(drawn.low - complex(36, 6), drawn.high + complex(36, 6))
    for measure in measures:
        block = _label(draft, measure, setting)
        if not callout(board, block, anchors[measure.taken], region):
            callout_aside(board, block, anchors[measure.taken])
    return board


def _tape(board: Board, path: Path, girth: bool) -> None:
    """A band with marks along one edge. An arrow above it says that it goes round; arrowheads at
    both its ends, that it is laid along."""
    length = path.length()
    count = max(8, round(length / 2))
    places = path.places([length * k / count for k in range(count + 1)])
    half = _TAPE / 2
    one = [at + way * 1j * half for at, way in places]
    other = [at - way * 1j * half for at, way in places]
    outline = polyline(*one, *reversed(other), one[0])
    board.add(Fill((outline,), "paper"), Stroke((outline,), "tape"))
    marks = path.places([_TICK * k for k in range(1, int(length / _TICK - 0.2) + 1)])
    ticks = [
        polyline(at + way * 1j * half, at + way * 1j * half * (-0.1 if k % 5 == 4 else 0.35))
        for k, (at, way) in enumerate(marks)
    ]
    board.items.append(Stroke(tuple(ticks), "dimension"))  # Inside the band, in nobody's way.
    board.fences.add(walls((outline,)))
    if girth:
        above = path.places([length * share for share in (0.3, 0.4, 0.5, 0.6, 0.7)])
        line = [at - way * 1j * (half + 1.4) for at, way in above]
        way = unit(line[-1] - line[-2])
        board.add(Stroke((polyline(*line),), "dimension"))
        board.add(Fill((arrowhead(line[-1] + way * HEAD, way, HEAD),), "ink"))
    else:
        (start, first), *_, (end, last) = places
        heads = arrowhead(start, -first, HEAD), arrowhead(end, last, HEAD)
        board.add(Fill(heads, "ink"))
