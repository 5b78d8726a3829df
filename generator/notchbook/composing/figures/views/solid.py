"""The solid view: the finished thing, or what there is of it after a step, in space.

Keys, all of which may be left out:
- ``after``: the id of a step, such as ``sew-the-brim-2`` (stage and number). What that step's seams
  hold together is shown, as it is by then. Without it, the finished thing.
- ``from``: ``three-quarter``, where nothing is said, ``front``, ``side``, ``back``, ``behind``
  (three-quarter from behind, where centre back is seen) or ``below``.
- ``hidden: dotted`` draws what lies behind as well.
- ``name``: pieces whose names stand on them, on either side that is seen, or beside it.
- ``folded``: strips that are folded along their middle, such as a band.
- ``slip: {crown: up}``: what the step (or the one ``after`` names) is about to join, still apart: a
  piece, with what hangs on it, goes ``up`` or ``down`` to the rest, or ``over`` it: turned upside
  down and then down. The cloth stands in front where the piece is cut from several.
- ``out: wrong``: all of it is wrong side out; ``out: {lining side: wrong}``: that piece is, with
  what hangs on it. Wrong sides are hatched then, as in other figures, and told in words; and what
  is slipped has the double notch, 0, at the edges that are to meet, where it can be seen.

Pieces are put together by their seams; those without a form in space (panels, facings) are left
out. It says how large the thing is.

Example::

    view: solid
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Item, Text, moved
from notchbook.composing.figures import keys
from notchbook.composing.figures.board import Board, bordered
from notchbook.composing.figures.facts import step_of
from notchbook.composing.figures.pointed_out import point_out
from notchbook.composing.figures.size import SIZE
from notchbook.composing.figures.slipped import draw_slipped, with_key
from notchbook.composing.lettering.paragraph import wrapped
from notchbook.composing.lettering.placing import extent
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting
from notchbook.composing.solids.assembly import Ply, Solid
from notchbook.composing.solids.ink import inked, scene_of
from notchbook.composing.solids.sides import hanging, hatched, middle_of
from notchbook.composing.solids.state import (
    after_step,
    before_step,
    finished,
    seams_sewn,
    turned_over,
)
from notchbook.composing.solids.view import VIEWS
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.polygon import box_round
from notchbook.problems import ContentError, Problem, fault, suggestion
from notchbook.reading.recipe import FigureRule, Step, Table
from notchbook.reading.recipe import Text as Words
from notchbook.reading.walk import all_steps

_KEYS = ("after", "from", "hidden", "folded", "slip", "out", "name")
_ROOM = complex(96, 66)
"""What is drawn takes no more, mm: a booklet has room for it and its words."""
_HALF_MADE = complex(70, 44)
"""And no more where a step is done, whose words stand beside it."""
_GAP = 0.08
"""Between things that do not hang together, as a share of all their widths."""


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """The thing in space. Raises ContentError where nothing of it has a form."""
    problems: list[Problem] = []
    keys.check_keys(figure.keys, _KEYS, "A solid figure", problems)
    step = _step(draft, figure, problems)
    seen = keys.one_of(figure.keys, "from", tuple(VIEWS), problems) or "three-quarter"
    dotted = keys.one_of(figure.keys, "hidden", ("dotted", "omitted"), problems) == "dotted"
    folded = find_folded(draft, figure, problems)
    slip = _slip(draft, figure, problems)
    wrong = _wrong(draft, figure, problems)
    named = [
        piece.name
        for word in keys.texts(figure.keys, "name", problems)
        if (piece := keys.find_piece(word, draft, problems))
    ]
    if problems:
        raise ContentError(problems)
    if slip:
        word, ply, way = slip
        step = step or step_of(draft, figure)
        pair = before_step(draft, step, ply, folded) if step else None
        if pair is None:
            what = f"The step sews “{word.value}” to nothing that can be drawn in space."
            raise fault(word.place, what, "Say “after” which step it is joined, or leave it out.")
        joined = [draft.seams[name] for name in seams_sewn(draft, step)] if step else []
        if way == "over":
            pair = turned_over(pair[0]), pair[1]
        return draw_slipped(draft, pair, way == "up", joined, wrong, VIEWS[seen], setting)
    solids = after_step(draft, step, folded) if step else finished(draft, folded)
    if not solids:
        raise _nothing(draft, figure, step)
    return _drawing(draft, solids, seen, dotted, step, wrong, named, setting)


def find_folded(draft: Draft, figure: FigureRule, problems: list[Problem]) -> Collection[str]:
    """The strips that a figure says are folded along their middle."""
    found = set()
    for word in keys.texts(figure.keys, "folded", problems):
        piece = keys.find_piece(word, draft, problems)
        if piece and piece.shape != "strip":
            what = f"The piece “{piece.name}” is no strip."
            problems.append(Problem(word.place, what, "Fold strips only, or leave it out."))
        elif piece:
            found.add(piece.name)
    return found


def _slip(
    draft: Draft, figure: FigureRule, problems: list[Problem]
) -> tuple[Words, Ply, str] | None:
    """The piece that goes to the rest, and its way."""
    entry = figure.keys.entries.get("slip")
    if entry is None:
        return None
    if not isinstance(entry, Table) or len(entry.entries) != 1:
        what = "“slip” takes one piece and the way it goes."
        problems.append(
            Problem(entry.place, what, "Write it as {PIECE: up}, {PIECE: down} or {PIECE: over}.")
        )
        return None
    name = next(iter(entry.entries))
    word = Words(name, entry.keys[name])
    found = keys.find_layer(word, draft, problems)
    way = keys.one_of(entry, name, ("up", "down", "over"), problems)
    return (word, (found[0].name, found[1]), way) if found and way else None


def _wrong(draft: Draft, figure: FigureRule, problems: list[Problem]) -> frozenset[Ply] | None:
    """The plies that are wrong side out; none at all where a figure says nothing of sides."""
    entry = figure.keys.entries.get("out")
    if entry is None:
        return None
    if not isinstance(entry, Table):
        if keys.one_of(figure.keys, "out", ("wrong", "right"), problems) != "wrong":
            return frozenset()
        return frozenset(
            (name, cloth) for name, each in draft.pieces.items() for cloth in each.counts
        )
    found = set()
    for name in entry.entries:
        layer = keys.find_layer(Words(name, entry.keys[name]), draft, problems)
        side = keys.one_of(entry, name, ("wrong", "right"), problems)
        if layer and side == "wrong":
            found.add((layer[0].name, layer[1]))
    return frozenset(found)


def _step(draft: Draft, figure: FigureRule, problems: list[Problem]) -> Step | None:
    steps = {step.id: step for step in all_steps(draft.recipe)}
    for word in keys.texts(figure.keys, "after", problems):
        found = steps.get(word.value.replace("/", "-"))
        if found is None:
            what = f"There is no step “{word.value}” in this recipe."
            problems.append(Problem(word.place, what, suggestion(word.value, steps)))
        return found
    return None


def _nothing(draft: Draft, figure: FigureRule, step: Step | None) -> ContentError:
    bare = [name for name, piece in draft.pieces.items() if piece.form is None]
    why = f" The form of {' and '.join(f'“{name}”' for name in bare)} is not known." if bare else ""
    when = f"After the step “{step.id}”" if step else "Of this recipe"
    what = f"{when} nothing can be drawn in space.{why}"
    return fault(figure.view.place, what, "Show it another way, with “view: pieces” or “flat”.")


def _drawing(
    draft: Draft,
    solids: Sequence[Solid],
    seen: str,
    dotted: bool,
    step: Step | None,
    wrong: frozenset[Ply] | None,
    named: Sequence[str],
    setting: Setting,
) -> Drawing:
    """All of them beside each other, on one ground, as large as there is room."""
    view = VIEWS[seen]
    boxes = [_box(solid, seen) for solid in solids]
    wide = sum(box.width for box in boxes) * (1 + _GAP * (len(boxes) - 1))
    high = max(box.height for box in boxes)
    room = _HALF_MADE if step else _ROOM
    scale = min(room.real / wide, room.imag / high, 1.0)
    gap = sum(box.width for box in boxes) * _GAP * scale
    items: list[Item] = []
    x = 0.0
    shifts = []
    scenes = [scene_of(solid, view) for solid in solids]
    for solid, box, scene in zip(solids, boxes, scenes, strict=True):
        shift = x - complex(box.low.real, box.high.imag) * scale
        shifts.append(shift)
        if wrong is not None:
            hatch = hatched(solid, scene, scale, hanging(solid, wrong), middle_of([solid]))
            items += [moved(stroke, shift=shift) for stroke in hatch]
        items += [
            moved(stroke, shift=shift) for stroke in inked(solid, scene, scale, dotted=dotted)
        ]
        x += box.width * scale + gap
    board = Board(setting)
    board.add(*items)
    for solid, scene, shift in zip(solids, scenes, shifts, strict=True):
        point_out(board, draft, solid, named, scene, scale, shift)
    drawn, items = extent(items, setting), board.items
    words = "; ".join(_size(solid, setting) for solid in solids)
    for k, row in enumerate(wrapped(words, _ROOM.real, SIZE, setting)):
        at = complex(drawn.centre.real, drawn.high.imag + SIZE * (1.9 + 1.4 * k))
        items.append(Text(at, row, "note", SIZE, "middle"))
    if wrong is not None:
        items = with_key(items, setting)
    return bordered(items, _described(draft, solids, seen, step, setting), setting)


def _box(solid: Solid, seen: str) -> Box:
    return box_round([p for p, _ in VIEWS[seen].all_seen(solid.points)])


def _size(solid: Solid, setting: Setting) -> str:
    across, deep, high = (max(v) - min(v) for v in zip(*solid.points, strict=True))
    key = "solid.size.flat" if high < 1 else "solid.size"
    say = {
        "across": both(numbers.tape(across), setting),
        "deep": both(numbers.tape(deep), setting),
        "high": both(numbers.tape(high), setting),
    }
    return setting.say(key, **say)


def _described(
    draft: Draft, solids: Sequence[Solid], seen: str, step: Step | None, setting: Setting
) -> str:
    outer = dict.fromkeys(part.ply[0] for solid in solids for part in solid.parts if not part.inner)
    pieces = ", ".join(draft.pieces[name].title for name in outer)
    title = draft.recipe.title.value
    state = (
        setting.say("solid.alt.after", title=title, step=_called(draft, step))
        if step
        else setting.say("solid.alt.finished", title=title)
    )
    sizes = "; ".join(_size(solid, setting) for solid in solids)
    return setting.say(
        "solid.alt", state=state, seen=setting.say(f"solid.from.{seen}"), size=sizes, pieces=pieces
    )


def _called(draft: Draft, step: Step) -> str:
    stage = next(stage for stage in draft.recipe.stages if step in stage.steps)
    return f"{step.number} ({stage.title})"
