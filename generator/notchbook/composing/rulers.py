"""Two check rulers, which tell whether a pattern came out at its true size."""

from __future__ import annotations

from notchbook.composing.drawing import Item, Stroke, Text
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import SMALLEST
from notchbook.drafting.geometry.path import Point, polyline
from notchbook.reading.quantity import INCH

METRIC, INCHES = 150.0, 5 * INCH
"""The two check lengths: they can't be taken for each other, as 100 mm and 4 in can."""


def rulers(at: Point, along: complex, setting: Setting) -> list[Item]:
    """Two check rulers back to back along a direction: millimetres on one side, inches on the
    other. Each is one line exactly as long as it says, with marks."""
    out = along * -1j
    metric, inch = at, at - out * 2
    items: list[Item] = []
    for start, step, count, parts, towards, end, key in (
        (metric, 1.0, 150, (10, 5), out, METRIC, "ruler.metric"),
        (inch, INCH / 8, 40, (8, 4), -out, INCHES, "ruler.inch"),
    ):
        marks = [polyline(start, start + along * end)]
        for k in range(count + 1):
            reach = 4.5 if k % parts[0] == 0 else 3.0 if k % parts[1] == 0 else 1.8
            foot = start + along * k * step
            marks.append(polyline(foot, foot + towards * reach))
        items.append(Stroke((marks[0],), "ruler", {"ruler": setting.say(key)}))
        items.append(Stroke(tuple(marks[1:]), "ruler"))
        for k in range(0, count + 1, parts[0]):
            number = str(k if parts[0] == 10 else k // parts[0])
            spot = start + along * k * step + towards * 6.6
            items.append(centred(spot, number, "number", SMALLEST))
        # The name stands on the marks' side, beyond the last of them.
        beyond = setting.width(setting.say(key), 4.0, 700) / 2 + 2 if along == 1 else 4.0
        spot = start + along * (end + beyond) + towards * 2.6
        items.append(centred(spot, setting.say(key), "name", 4.0))
    return items


def centred(at: Point, words: str, role: str, size: float) -> Text:
    """One line of words whose capitals are centred on ``at``."""
    return Text(at + 1j * size * 0.35, words, role, size, "middle")
