"""The worn view: the finished thing at true proportion on a neutral figure, from the front and from
the side, beside a scale.

Keys, all of which may be left out:
- ``on``: ``head``, where nothing is said, for what has a head girth among its measures, or
  ``shoulders``, for what hangs from its smallest round seam.
- ``also``: other measures to choose between, seen from the front: one or several sets such as
  ``{height: 35 cm}``, the rest as it is; or names of published sizes.
- ``folded``: as in a solid figure.

The scale stands on the level of the thing's lowest point, or of the line round the head.

Example::

    view: worn
    also: {height: 13 cm}
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Item, Stroke, Text, moved
from notchbook.composing.figures import keys
from notchbook.composing.figures.board import MARGIN, bordered
from notchbook.composing.figures.scale import upright_scale
from notchbook.composing.figures.size import HIGHEST, SIZE, WIDEST
from notchbook.composing.figures.views.solid import find_folded
from notchbook.composing.lettering.paragraph import wrapped
from notchbook.composing.lettering.placing import Lines, walls
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting
from notchbook.composing.solids.assembly import Line, Part, Solid
from notchbook.composing.solids.body import HEAD, NECK_SHARE, Body, body
from notchbook.composing.solids.ink import inked, scene_of, smooth
from notchbook.composing.solids.state import finished
from notchbook.composing.solids.surface import Line3, Place3, centre, length, placed
from notchbook.composing.solids.view import Seen, View, degrees
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft as drafted
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.vector import Point
from notchbook.problems import ContentError, Problem, fault, suggestion
from notchbook.reading.recipe import Entry, FigureRule, Scalar, Series, Size, Table

FRONT, SIDE = degrees(0, 0), degrees(90, 0)
_ROOM = complex(WIDEST - 2 * MARGIN, HIGHEST - 2 * MARGIN - 9)
_RULER = 30.0
"""What the scale takes of the width, mm."""
_GAP = 5.0


@dataclass(frozen=True, slots=True)
class _Worn:
    """A thing in its place on a figure: the line round the head is at height 0."""

    solid: Solid
    girth: float
    down: tuple[float, float] | None
    words: str


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """Front and side, and others from the front. Raises ContentError."""
    problems: list[Problem] = []
    keys.check_keys(figure.keys, ("on", "also", "folded"), "A worn figure", problems)
    on = keys.one_of(figure.keys, "on", ("head", "shoulders"), problems) or "head"
    folded = find_folded(draft, figure, problems)
    others = _others(draft, figure, problems)
    if problems:
        raise ContentError(problems)
    own = _worn(draft, on, folded, "", figure)
    also = []
    for size in others:
        other = drafted(draft.recipe, size)
        also.append(_worn(other, on, folded, _differing(draft, other, setting), figure))
    return _drawing(draft, own, also, on, setting)


def _others(draft: Draft, figure: FigureRule, problems: list[Problem]) -> list[Size]:
    entry = figure.keys.entries.get("also")
    if entry is None:
        return []
    return [
        size
        for one in (entry.entries if isinstance(entry, Series) else (entry,))
        if (size := _other(draft, one, problems))
    ]


def _other(draft: Draft, entry: Entry, problems: list[Problem]) -> Size | None:
    recipe = draft.recipe
    if isinstance(entry, Scalar):
        named = {size.id: size for size in recipe.sizes}
        if entry.text in named:
            return named[entry.text]
        what = f"There is no size “{entry.text}” in this recipe."
        problems.append(Problem(entry.place, what, suggestion(entry.text, named)))
    elif isinstance(entry, Table):
        measures = dict(draft.size.measures)
        for name, value in entry.entries.items():
            if name not in recipe.measures:
                what = f"There is no measure “{name}” in this recipe."
                place = entry.keys.get(name, entry.place)
                problems.append(Problem(place, what, suggestion(name, recipe.measures)))
            elif isinstance(value, Scalar) and value.formula:
                measures[name] = value.formula
            else:
                what = f"“{name}” has to be a length."
                problems.append(Problem(value.place, what, "Write a length such as 35 cm."))
        return replace(draft.size, measures=measures)
    else:
        what = "“also” takes sets of measures."
        problems.append(Problem(entry.place, what, "Write them as [{height: 35 cm}]."))
    return None


def _differing(draft: Draft, other: Draft, setting: Setting) -> str:
    """What is measured otherwise."""
    return ", ".join(
        f"{measure.title} {both(numbers.tape(other.measures[name]), setting)}"
        for name, measure in draft.recipe.measures.items()
        if name in other.measures and other.measures[name] != draft.measures.get(name)
    )


# In place.


def _worn(draft: Draft, on: str, folded: Collection[str], words: str, figure: FigureRule) -> _Worn:
    solids = finished(draft, folded)
    if not solids:
        what = "Nothing of this can be drawn in space, and so it can't be shown worn."
        raise fault(figure.view.place, what, "Show its pieces instead.")
    solid = solids[0]
    if on == "shoulders":
        rounds = [line for line in solid.lines if line.kind == "seam" and _is_round(line.points)]
        if not rounds:
            what = "It has no round seam by which it could hang from the shoulders."
            raise fault(figure.view.place, what, "Leave the figure out.")
        neck = min(rounds, key=lambda line: length(line.points)).points
        girth = max(HEAD, length(neck) / NECK_SHARE / 1.15)
        put = _moved(solid, neck, -body(girth, False).base)
        hem = -min(z for _, _, z in put.points)
        return _Worn(put, girth, (hem, hem + 0.3 * girth), words)
    head = next((n for n, measure in draft.recipe.measures.items() if measure.hat), None)
    if head is None or head not in draft.measures:
        what = "It can't be shown on a head: none of its measures is a head girth."
        remedy = "Write “numbers: hat” below that measure, or “on: shoulders” here."
        raise fault(figure.view.place, what, remedy)
    girth = draft.measures[head]
    rounds = [
        line
        for line in solid.lines
        if _is_round(line.points) and 0.97 * girth < length(line.points) < 1.15 * girth
    ]
    if not rounds:
        what = "It has no round edge that fits a head of this girth."
        raise fault(figure.view.place, what, "Leave the figure out.")
    rim = min(rounds, key=lambda line: centre(line.points)[2]).points
    return _Worn(_moved(solid, rim, 0.0), girth, None, words)


def _is_round(points: Line3) -> bool:
    heights = [z for _, _, z in points]
    level = max(heights) - min(heights) < 1.0
    return len(points) > 8 and level and math.dist(points[0], points[-1]) < 1e-3


def _moved(solid: Solid, edge: Line3, height: float) -> Solid:
    """The whole with a round edge level at a height, about the axis."""
    x, y, z = centre(edge)
    place = Place3(shift=(-x, -y, height - z))
    return Solid(
        tuple(
            Part(part.ply, tuple(placed(s, place) for s in part.surfaces), part.inner)
            for part in solid.parts
        ),
        tuple(Line(place.line(line.points), line.kind, line.parts) for line in solid.lines),
    )


# On the page.


def _drawing(draft: Draft, own: _Worn, also: Sequence[_Worn], on: str, setting: Setting) -> Drawing:
    shown = [(own, FRONT, setting.say("worn.front")), (own, SIDE, setting.say("worn.side"))]
    shown += [(other, FRONT, other.words) for other in also]
    boxes = [_box(worn, view) for worn, view, _ in shown]
    high = max(box.high.imag for box in boxes)
    low = min(box.low.imag for box in boxes)
    free = _ROOM.real - _RULER - _GAP * (len(shown) - 1)
    scale = min(free / sum(box.width for box in boxes), _ROOM.imag / (high - low), 1.0)
    items: list[Item] = []
    x = 0.0
    for (worn, view, words), box in zip(shown, boxes, strict=True):
        wide = max(box.width * scale, 14.0)
        shift = complex(x - box.low.real * scale + (wide - box.width * scale) / 2, 0)
        items += [moved(stroke, shift=shift) for stroke in _strokes(worn, view, scale)]
        for k, row in enumerate(wrapped(words, wide + _GAP - 2, SIZE, setting)):
            at = complex(x + wide / 2, high * scale + SIZE * (1.9 + 1.4 * k))
            items.append(Text(at, row, "label", SIZE, "middle"))
        x += wide + _GAP
    lowest, highest = (f(z for _, _, z in own.solid.points) for f in (min, max))
    foot = lowest if on == "shoulders" else 0.0
    top = max(max(z for _, _, z in worn.solid.points) for worn in (own, *also))
    items += upright_scale(complex(-8.0, -foot * scale), max(top, highest) - foot, scale, setting)
    return bordered(items, _described(draft, own, also, on, setting), setting)


def _figure(worn: _Worn, view: View) -> Body:
    return body(worn.girth, view is SIDE, worn.down)


def _box(worn: _Worn, view: View) -> Box:
    figure = _figure(worn, view)
    points = [p for p, _ in view.all_seen(worn.solid.points)]
    points += [p for path in (figure.head, *figure.rest) for p in path.points(1.0)]
    return box_round(points)


def _strokes(worn: _Worn, view: View, scale: float) -> list[Stroke]:
    """The figure where nothing covers it, and the thing where the head does not."""
    figure = _figure(worn, view)
    head = Lines.of(walls([figure.head], 0.5))
    brow = -math.inf if worn.down else 0.0  # What is above is in the hat.

    def behind(p: Seen) -> bool:
        return p[1] < 0 and p[0].imag > brow and head.hold(p[0])

    scene = scene_of(worn.solid, view)

    def covered(p: Point) -> bool:
        return scene.nearest(p, frozenset(), 0.0, 0.0)

    paths: list[Path] = []
    for path in (figure.head, *figure.rest):
        run: list[Point] = []
        points = _finely(path.points(0.2))
        for p in points:
            if p.imag < brow or covered(p) or (path is not figure.head and head.hold(p)):
                paths += _inked(run, scale)
                run = []
            else:
                run.append(p)
        paths += _inked(run, scale)
    thing = inked(worn.solid, scene, scale, hides=behind)
    return [Stroke(tuple(paths), "body"), *thing] if paths else thing


def _inked(run: Sequence[Point], scale: float) -> list[Path]:
    path = smooth([p * scale for p in run]) if len(run) > 1 else None
    return [path] if path else []


def _finely(points: Sequence[Point]) -> list[Point]:
    """The same line with no step longer than 2 mm."""
    found = [points[0]]
    for a, b in pairwise(points):
        count = max(1, math.ceil(abs(b - a) / 2))
        found += [a + (b - a) * k / count for k in range(1, count + 1)]
    return found


def _described(draft: Draft, own: _Worn, also: Sequence[_Worn], on: str, setting: Setting) -> str:
    across, deep, high = (
        both(numbers.tape(max(v) - min(v)), setting) for v in zip(*own.solid.points, strict=True)
    )
    girth = both(numbers.tape(own.girth), setting)
    said = [
        setting.say(f"worn.alt.{on}", title=draft.recipe.title.value, girth=girth),
        setting.say("worn.alt.size", across=across, deep=deep, high=high),
    ]
    if also:
        others = "; ".join(other.words for other in also)
        said.append(setting.say("worn.alt.also", also=others))
    return " ".join(said)
