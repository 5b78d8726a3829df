"""How every role looks: pens, washes and type, the same on sheets, figures and pages.

Everything is told apart in black and white, by width, dash and form, never by colour: a cutting
line is solid and heavy, a stitching line dashed, a grain line arrowed. Where cloths of one piece
are cut along different lines, the second and third are broken by one dot and by two, and carry
the cloth's name. Inside a piece, what is stitched is drawn as short dashes in pairs, what is
folded as long dashes, and where something is placed as dots or a cross. Widths and dashes are in
millimetres of the finished print.

These are the printed looks: pure black on white. A page may give each class its own colour, or
all at once through ``[stroke="#000"]``, ``[fill="#000"]`` and ``[fill="#fff"]``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from notchbook.composing.dashes import dashes
from notchbook.drafting.draft import InnerLine

BLACK = "#000"
WHITE = "#fff"

THINNEST = 0.2
"""No stroke is thinner (mm). A laser of 600 dots to the inch shows lines of three dots, 0.13 mm,
unbroken; on plain paper an ink-jet, above all one that mixes its black of colours, loses or frays
lines below about 0.2 mm: *common practice*. What is printed is read back in tests/published/."""

SMALLEST = 2.5
"""No type is smaller (em in mm): 7 points, below which an ink-jet on plain paper closes the eyes of
letters and arm's length is too far to read them: *common practice*."""


@dataclass(frozen=True, slots=True)
class Pen:
    """How a line looks: ``width`` and ``dash`` (stroke, gap, …) in mm; ``classes`` in markup."""

    classes: str
    width: float
    dash: tuple[float, ...] = ()
    cap: Literal["butt", "round"] = "butt"
    colour: str = BLACK


@dataclass(frozen=True, slots=True)
class Texture:
    """Ruled lines ``step`` mm apart at ``angle`` degrees, drawn with a pen as wide as ``width``;
    a ``dash`` that fits ``step`` makes dots of them."""

    step: float
    angle: float
    width: float
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Wash:
    """How an area looks: one flat colour, and perhaps a texture over it."""

    classes: str
    colour: str
    texture: Texture | None = None


@dataclass(frozen=True, slots=True)
class Type:
    """How words look: the weight of the label face, and the class in markup."""

    classes: str
    weight: int = 400


_PENS: Mapping[str, Pen] = {
    "cut": Pen("cut", 0.5),
    "cut-2": Pen("cut cut-2", 0.5, (8.0, 1.6, 1.0, 1.6)),
    "cut-3": Pen("cut cut-3", 0.5, (8.0, 1.6, 1.0, 1.6, 1.0, 1.6)),
    "bare": Pen("bare", 0.9, colour=WHITE),
    "stitch": Pen("stitch", 0.3, (3.0, 1.8)),
    "dart": Pen("dart", 0.3, (3.0, 1.8)),
    "pleat": Pen("pleat", 0.3),
    "line-stitched": Pen("line line-stitched", 0.3, (1.6, 0.8, 1.6, 3.6)),
    "line-folded": Pen("line line-folded", 0.3, (9.0, 2.2)),
    "line-placed": Pen("line line-placed", 0.5, (0.5, 1.5)),
    "line-arrow": Pen("line line-arrow", 0.3),
    "line-cross": Pen("line line-cross", 0.3),
    "notch": Pen("notch", 0.4),
    "nest-notch": Pen("notch", THINNEST),
    "grain": Pen("grain", 0.3),
    "centre": Pen("centre", THINNEST, (5.0, 1.2, 0.6, 1.2)),
    "fold": Pen("fold", 0.35, (14.0, 1.5, 3.0, 1.5, 3.0, 1.5)),
    "dimension": Pen("dimension", THINNEST),
    "leader": Pen("leader", THINNEST),
    "seam": Pen("seam", 0.55, (2.6, 1.5), "round"),
    "layer": Pen("layer", 0.4),
    "ruler": Pen("ruler", 0.25),
    "frame": Pen("frame", 0.25),
    "join": Pen("join", 0.25),
    "solid-outline": Pen("solid-outline", 0.6, cap="round"),
    "solid-edge": Pen("solid-edge", 0.35, cap="round"),
    "solid-seam": Pen("solid-seam", 0.25, cap="round"),
    "solid-fold": Pen("solid-fold", THINNEST, cap="round"),
    "solid-hidden": Pen("solid-hidden", THINNEST, (0.3, 1.1), "round"),
    "body": Pen("body", 0.3, cap="round"),
    "drawing": Pen("drawing", 0.7, cap="round"),
    "drawn": Pen("drawn", 0.25, cap="round"),
    "helping": Pen("helping", THINNEST, (1.2, 0.8)),
    "tape": Pen("tape", 0.35, cap="round"),
}

NESTED: Mapping[str, Pen] = {
    f"nest-{k}": Pen(f"cut nest-{k}", (0.35, 0.7)[k % 2], dash) for k, dash in enumerate(dashes())
}
"""The cutting lines of the sizes of a nest, in their order. No two are broken alike, and next to
each other one is light, one heavy."""

PENS: Mapping[str, Pen] = {**_PENS, **NESTED}

WASHES: Mapping[str, Wash] = {
    "ink": Wash("ink", BLACK),
    "paper": Wash("paper", WHITE),
    "right-side": Wash("right-side", WHITE),
    "wrong-side": Wash("wrong-side", WHITE, Texture(1.7, -45, THINNEST)),
    "either-side": Wash("either-side", WHITE, Texture(2.0, 45, 0.45, (0.45, 1.55))),
}

TYPES: Mapping[str, Type] = {
    "label": Type("label"),
    "name": Type("name", 700),
    "strong": Type("strong", 700),
    "note": Type("note"),
    "number": Type("number"),
}

CUTTING_LINES = ("cut", "cut-2", "cut-3")


def line_role(line: InnerLine) -> str:
    """The role of a line inside a piece, by what is done there."""
    return f"line-{line.kind}" if line.path else "line-cross"


def cutting_line(index: int) -> str:
    """The role of a piece's cutting line number ``index`` (from 0); from the third on, the last.

    >>> cutting_line(0), cutting_line(7)
    ('cut', 'cut-3')
    """
    return CUTTING_LINES[min(index, len(CUTTING_LINES) - 1)]
