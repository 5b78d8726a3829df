"""Lines and crosses inside a piece: how they are drawn, named and explained.

Each kind has a line of its own, told apart in black and white from cutting, stitching and grain:
stitched ones are short dashes in pairs, folded ones long dashes, those along which something is
placed dots; an arrow is thin and solid with one head.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from notchbook.composing.drawing import Fill, Item, Stroke, Text
from notchbook.composing.pieces.arrows import arrowhead
from notchbook.composing.pieces.words import along_line
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import SMALLEST, line_role
from notchbook.drafting.draft import Draft, InnerLine
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.segments import Line
from notchbook.drafting.geometry.vector import Point

_ARM = 3.0
"""From the middle of a cross to the ends of its arms, across and along, mm."""

_HEAD = 5.0
"""Length of an arrow's head, mm."""


def inner_marks(lines: Sequence[InnerLine], size: float = 1.0) -> Iterator[Item]:
    """What is drawn for each line, crosses and heads ``size`` times as large as on a sheet."""
    for line in lines:
        data, role = {"line": line.name}, line_role(line)
        if line.path is None:
            yield Stroke(tuple(_crosses(line.crosses, size)), role, data)
        elif line.kind == "arrow":
            shaft, head = _arrow(line.path, _HEAD * size)
            yield Stroke((shaft,), role, data)
            yield Fill((head,), "ink")
        else:
            yield Stroke((line.path,), role, data)


def inner_paths(lines: Iterable[InnerLine]) -> Iterator[Path]:
    """What words keep off."""
    for line in lines:
        yield from (line.path,) if line.path else _crosses(line.crosses, 1.0)


def inner_titles(
    lines: Iterable[InnerLine],
    setting: Setting,
    ems: Sequence[float] = (3.0, SMALLEST),
    size: float = 1.0,
) -> Iterator[Iterator[Text]]:
    """Places for each line's title: along it, or beside one of its crosses. ``ems`` are the type
    sizes it may have, mm; ``size``: see ``inner_marks``. No title is nearer to another line."""
    lines = tuple(lines)
    rows = {line.name: _Row.of(line.path) for line in lines if line.path}
    for line in lines:
        if line.path:
            others = [row for name, row in rows.items() if name != line.name]
            places = _along(line.path, line.title, ems, setting)
            own = rows[line.name]
            yield (text for text in places if not others or _nearest(text, own, others))
        else:
            yield _beside(line.crosses, line.title, ems, _ARM * size)


def inner_key(draft: Draft, setting: Setting) -> list[str]:
    """What the lines inside pieces mean, in words: nothing where no piece has any."""
    roles = dict.fromkeys(line_role(line) for each in draft.pieces.values() for line in each.lines)
    said = [setting.say(f"key.{role}") for role in roles]
    return [setting.say("key.inside", lines=" ".join(said))] if said else []


def _crosses(points: Iterable[Point], size: float) -> Iterator[Path]:
    arm = _ARM * size
    for point in points:
        for way in (arm * (1 + 1j), arm * (1 - 1j)):
            yield polyline(point - way, point + way)


def _arrow(path: Path, head: float) -> tuple[Path, Path]:
    """A straight path with a head at its end: its shaft, which stops inside the head, and that."""
    last = path.segments[-1]
    way = last.tangent(1)
    head = min(head, last.length() / 3)
    short = Line(last.start, last.end - way * head * 0.8) if isinstance(last, Line) else last
    return Path((*path.segments[:-1], short)), arrowhead(last.end, way, head)


def _along(path: Path, words: str, ems: Sequence[float], setting: Setting) -> Iterator[Text]:
    for em in ems:
        yield from along_line(path, words, em, setting)


@dataclass(frozen=True, slots=True)
class _Row:
    """Points along a line, none further than ``step`` mm from the one before."""

    points: Sequence[Point]
    step: float

    @staticmethod
    def of(path: Path) -> _Row:
        count = math.ceil(200 / len(path.segments))
        points = [path.start]
        for segment in path.segments:
            points += [segment.point(k / count) for k in range(1, count + 1)]
        return _Row(points, max(abs(b - a) for a, b in pairwise(points)) + 1e-6)

    def nearest(self, place: Point, within: float = math.inf) -> float:
        """How far off the nearest point is; ``within`` where none is nearer than that. As many
        points are passed over as can't be nearer than the nearest so far."""
        points, step, k = self.points, self.step, 0
        while k < len(points):
            far = abs(points[k] - place)
            if far < within:
                within = far
            k += int((far - within) / step) + 1
        return within


def _nearest(text: Text, own: _Row, others: Sequence[_Row]) -> bool:
    """Whether words are nearer to their own line than to others."""
    middle = text.at - 0.35j * text.size * cmath.rect(1, math.radians(text.angle))
    rough = min(abs(point - middle) for point in own.points[::10])
    rivals = [other for other in others if other.nearest(middle, rough) < rough]
    far = own.nearest(middle, rough) if rivals else rough
    return all(other.nearest(middle, far) == far for other in rivals)


def _beside(
    points: Sequence[Point], words: str, ems: Sequence[float], arm: float
) -> Iterator[Text]:
    """Places for words to the right of a cross, to its left, above and below."""
    for point in points:
        for em in ems:
            near, level = arm + 1.2, em * 0.27j
            yield Text(point + near + level, words, "label", em)
            yield Text(point - near + level, words, "label", em, "end")
            yield Text(point - (arm + 1.0) * 1j, words, "label", em, "middle")
            yield Text(point + (arm + 1.0 + em * 0.8) * 1j, words, "label", em, "middle")
