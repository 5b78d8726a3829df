"""Two check rulers, which tell whether a pattern came out at its true size, and a picture of how
they do."""

from __future__ import annotations

from notchbook.composing.drawing import Drawing, Item, Stroke, Text
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import SMALLEST
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.vector import Point
from notchbook.reading.quantity import INCH

METRIC, INCHES = 150.0, 5 * INCH
"""The two check lengths: they can't be taken for each other, as 100 mm and 4 in can."""

SCALED = 0.94
"""What A4 sheets shrink to where they are fitted to US Letter: 11 in are 0.94 of 297 mm."""


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


def laid_rulers(at: Point, wide: float, step: complex, size: float, setting: Setting) -> list[Item]:
    """Two small pictures of a ruler laid on the check line, the second ``step`` from the first, of
    a true sheet and of one that was scaled. Each is ``wide`` mm wide and as high as
    ``laid_height``, its top left corner at ``at``; words are ``size`` mm high."""
    items: list[Item] = []
    for corner, share, key in (
        (at, 1.0, "printing.scaled.right"),
        (at + step, SCALED, "printing.scaled.short"),
    ):
        zero, mm = corner + 0.09 * wide, 0.78 * wide / METRIC
        line, body = zero + 1.05j * size, corner + 1.7j * size
        end = line + METRIC * mm * share
        tick = 0.3j * size
        right, low = body + wide, body + 1.7j * size
        marks = [
            polyline(foot, foot + size * (0.4j if k % 5 == 0 else 0.22j))
            for k in range(16)
            for foot in (complex(zero.real + 10 * k * mm, body.imag),)
        ]
        items += (
            Stroke((polyline(line - tick, line, end, end - tick),), "layer"),
            Stroke((polyline(end, complex(end.real, body.imag)),), "helping"),
            Stroke((polyline(body, right, right + 1.7j * size, low, body), *marks), "leader"),
            *(
                centred(complex(zero.real + length * mm, low.imag - 0.6 * size), f"{length:g}",
                        "number", size)
                for length in (0.0, METRIC)
            ),
            Text(zero + METRIC * mm / 2 + 0.8j * size, setting.say(key), "strong", size, "middle"),
        )  # fmt: skip
    return items


def laid_height(size: float) -> float:
    """Height of a ruler laid on a check line, with its word above, mm."""
    return 3.4 * size


def laid_drawing(setting: Setting) -> Drawing:
    """Both pictures beside each other, as a figure."""
    wide, size, gap = 55.0, 3.4, 6.0
    box = Box(-1 - 1j, complex(2 * wide + gap, laid_height(size)) + 1 + 1j)
    items = laid_rulers(0, wide, wide + gap, size, setting)
    return Drawing(box, tuple(items), setting.say("printing.scaled.alt"))


def centred(at: Point, words: str, role: str, size: float) -> Text:
    """One line of words whose capitals are centred on ``at``."""
    return Text(at + 1j * size * 0.35, words, role, size, "middle")
