"""A pleat cut across, as it is folded: the fold view of a pleated seam."""

from __future__ import annotations

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Item, Stroke, Text
from notchbook.composing.figures import keys
from notchbook.composing.figures.before_after import cloth_line, half_turn, in_a_row, over
from notchbook.composing.figures.board import Board, framed
from notchbook.composing.figures.legend import legend, notes
from notchbook.composing.figures.ruled import dimension
from notchbook.composing.figures.size import SIZE
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Seam
from notchbook.drafting.engine import evaluate_in
from notchbook.drafting.geometry.path import polyline
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
    """The cloth flat, right side up: what is folded on the right comes over to the left."""
    board = Board(setting)
    board.add(*cloth_line([complex(-_REST, 0), complex(_TAKEN + _REST, 0)], 1))
    board.add(*(Stroke((polyline(x - 4.4j, x + 4.4j),), "stitch") for x in (0.0, _TAKEN)))
    board.add(*over(complex(_TAKEN, -4.8), 0.0))
    board.add(
        Text(-1.5 - 3.2j, setting.say("fold.onto"), "label", SIZE, "end"),
        Text(_TAKEN + 1.5 - 3.2j, setting.say("fold.folded"), "label", SIZE),
    )
    a, b = complex(0, 6), complex(_TAKEN, 6)
    dimension(board, a, b, numbers.length(taken), 1j, extend=(4.4j, _TAKEN + 4.4j))
    return board.items


def _after(setting: Setting) -> list[Item]:
    """What was folded lies on its partner, and what lay between inside, in two layers."""
    board = Board(setting)
    deep = _TAKEN / 2
    points = [
        complex(-_REST, 0),
        *half_turn(complex(deep, 0), complex(deep, -_GAP), 1),
        *half_turn(complex(0, -_GAP), complex(0, -2 * _GAP), -1),
        complex(deep + _REST, -2 * _GAP),
    ]
    board.add(*cloth_line(points, 1), Stroke((polyline(-6.4j, 3.0j),), "stitch"))
    return board.items
