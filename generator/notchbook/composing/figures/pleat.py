"""A pleat cut across, as it is folded: the fold view of a pleated seam."""

from __future__ import annotations

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Fill, Item, Stroke, Text, moved
from notchbook.composing.figures import keys
from notchbook.composing.figures.before_after import cloth_line, half_turn, in_a_row, over
from notchbook.composing.figures.board import Board, framed
from notchbook.composing.figures.legend import arrow, legend, notes
from notchbook.composing.figures.ruled import dimension
from notchbook.composing.figures.size import SIZE
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Seam
from notchbook.drafting.engine import evaluate_in
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.vector import Point
from notchbook.problems import ContentError, Problem
from notchbook.reading.recipe import Text as Words

_TAKEN, _REST, _GAP = 16.0, 9.0, 1.7
"""How wide what a pleat takes up is drawn, the cloth beside it, and between cloths that lie on each
other, mm on the page."""


def draw_pleat(word: Words, draft: Draft, setting: Setting) -> Drawing:
    """One of the pleats of a seam, before and after. Raises ContentError."""
    problems: list[Problem] = []
    seam = keys.find_seam(word, draft, problems)
    if seam and not draft.recipe.seams[seam.name].pleats:
        remedy = "Name a seam that has “pleats”, or an “edge” or a “line” instead."
        problems.append(Problem(word.place, f"The seam “{seam.name}” has no pleats.", remedy))
    if problems or seam is None:
        raise ContentError(problems)
    title, count, taken = _pleat(seam, draft)
    states = [
        (_before(taken, setting), setting.say("fold.before")),
        (_after(setting), setting.say("fold.pleat")),
    ]
    board = in_a_row(states, setting)
    signs = [("wrong", setting.say("layers.key.wrong")), ("stitch", setting.say("fold.marks"))]
    legend(board, signs)
    values = {
        "piece": title,
        "count": f"{count}",
        "taken": both(numbers.length(taken), setting),
        "deep": both(numbers.length(taken / 2), setting),
    }
    told = setting.say("fold.told.pleat", **values)
    notes(board, [told])
    return framed(board, f"{setting.say('fold.alt.pleat', **values)} {told}")


def _pleat(seam: Seam, draft: Draft) -> tuple[str, int, float]:
    """The piece's title, how many pleats there are, and how much of its edge each takes, mm."""
    number, rule = next(iter(draft.recipe.seams[seam.name].pleats.items()))
    piece = draft.pieces[seam.sides[number][0].piece]
    return piece.title, rule.count, 2 * evaluate_in(draft, rule.depth).value


def _before(taken: float, setting: Setting) -> list[Item]:
    """The cloth flat, right side up, seen towards its edge: what is folded on the left comes over
    to the right, as pleats are laid."""
    board = Board(setting)
    board.add(*cloth_line([complex(-_REST, 0), complex(_TAKEN + _REST, 0)], 1))
    board.add(*(Stroke((polyline(x - 4.4j, x + 4.4j),), "stitch") for x in (0.0, _TAKEN)))
    board.add(*over(-4.8j, _TAKEN))
    board.add(
        Text(-1.5 - 3.2j, setting.say("fold.folded"), "label", SIZE, "end"),
        Text(_TAKEN + 1.5 - 3.2j, setting.say("fold.onto"), "label", SIZE),
    )
    a, b = complex(0, 6), complex(_TAKEN, 6)
    dimension(board, a, b, numbers.length(taken), 1j, extend=(4.4j, _TAKEN + 4.4j))
    return board.items


def _after(setting: Setting) -> list[Item]:
    """What was folded lies on its partner, and what lay between inside, in two layers."""
    board = Board(setting)
    deep = _TAKEN / 2
    points: list[Point] = [
        complex(-_REST, -2 * _GAP),
        *half_turn(complex(deep, -2 * _GAP), complex(deep, -_GAP), 1),
        *half_turn(complex(0, -_GAP), 0j, -1),
        complex(deep + _REST, 0),
    ]
    mark = polyline(deep - 6.4j, deep + 3.0j)
    board.add(*cloth_line(points, 1), Stroke((mark,), "stitch"))
    return board.items


def draw_run(board: Board, upper: str, lower: str, wrong: bool) -> None:
    """Pleats under the foot of a machine, below what is drawn: cut across along their seam, the
    pleated cloth uppermost with its ``wrong`` side up or its right one. Titles of both cloths."""
    box = board.box()
    origin = complex(box.low.real + 14, box.high.imag + 17)
    deep, pitch = 9.0, 24.0
    points: list[Point] = [0j]
    for k in range(2):
        x = 6.0 + k * pitch
        points += [
            complex(x - 3, 0),
            complex(x, -2 * _GAP),
            *half_turn(complex(x + deep, -2 * _GAP), complex(x + deep, -_GAP), 1),
            *half_turn(complex(x, -_GAP), complex(x, 0), -1),
        ]
    end = 6.0 + 2 * pitch - 3
    points.append(complex(end, 0))
    items = [
        *cloth_line(points, -1 if wrong else 1),
        *cloth_line([complex(0, _GAP), complex(end, _GAP)], 1 if wrong else -1),
    ]
    # The foot stands on a pleat, its toe past the fold.
    heel, toe = 6.0 + 1.0, 6.0 + deep + 5.0
    sole = -2 * _GAP - 1.8
    shape = polyline(
        complex(heel, sole), complex(toe - 2.5, sole), complex(toe, sole - 1.6),
        complex(heel, sole - 1.6), complex(heel, sole),
    )  # fmt: skip
    shank = complex((heel + toe) / 2 - 2, sole - 1.6)
    items += [
        Fill((shape,), "ink"),
        Stroke((polyline(shank, shank - 4.4j),), "solid-outline"),
        *arrow(complex(toe + 2, sole - 3), complex(toe + 12, sole - 3)),
        Text(shank - 2 - 2.4j, board.setting.say("stitch.foot"), "label", SIZE, "end"),
        Text(complex(end + 2, -_GAP), upper, "label", SIZE),
        Text(complex(end + 2, _GAP + SIZE), lower, "label", SIZE),
    ]
    board.add(*(moved(item, shift=origin) for item in items))
