"""An upright scale beside what is drawn smaller than it is."""

from __future__ import annotations

import math

from notchbook.composing.drawing import Item, Stroke, Text, moved
from notchbook.composing.figures.size import SIZE
from notchbook.composing.setting import Setting
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.vector import Point
from notchbook.reading.quantity import INCH


def upright_scale(foot: Point, high: float, scale: float, setting: Setting) -> list[Item]:
    """Centimetres on one side and inches on the other, from ``foot`` up; a number at every so many
    that they do not touch."""
    items: list[Item] = []
    marks: list[Path] = []
    tallest = 0.0
    for unit, parts, way, key in (
        (10.0, (5, 10, 20, 50), -1, "worn.cm"),
        (INCH, (2, 4, 8, 20), 1, "worn.inch"),
    ):
        every = next((n for n in parts if n * unit * scale > SIZE * 1.3), parts[-1])
        between = every / (5 if every in (5, 50) else 2)
        count = math.ceil(high / (every * unit) - 1e-6)
        tallest = max(tallest, count * every * unit)
        for k in range(math.floor(count * every / between) + 1):
            at = foot - 1j * k * between * unit * scale
            whole = abs(k * between % every) < 1e-9
            marks.append(polyline(at, at + way * (1.8 if whole else 1.0)))
            if whole:
                number = f"{round(k * between)}"
                last = round(k * between) == count * every
                text = f"{number}\u00a0{setting.say(key)}" if last else number
                where = at + way * 2.4 + 1j * SIZE * 0.35
                items.append(Text(where, text, "number", SIZE, "end" if way < 0 else "start"))
    marks.insert(0, polyline(foot, foot - 1j * tallest * scale))
    wide = max(setting.width(item.text, SIZE) for item in items if isinstance(item, Text))
    shift = complex(-wide, 0)
    return [moved(item, shift=shift) for item in (Stroke(tuple(marks), "ruler"), *items)]
