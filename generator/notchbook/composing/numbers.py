"""Numbers as people read them: rounded for the purpose, in both unit systems.

Radii for drawing by hand are printed to 0.5 mm and 1/32 in, other lengths to 1 mm and 1/8 in.
Below 4 mm an eighth of an inch says too little, so finer parts are used; below 2 mm, where nobody
measures with an inch ruler and thickness is sold in millimetres, it is left out.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from typing import NamedTuple

from notchbook.reading.quantity import (
    AREA,
    INCH,
    LENGTH,
    MASS,
    TIME,
    VOLUME,
    Dimension,
    Quantity,
)

OUNCE = 28.349523125
YARD = 36 * INCH
QUART = 57.75 * INCH**3
"""A quarter of the US gallon of 231 cubic inches."""
SPACE = "\u00a0"
_VULGAR = {
    Fraction(1, 8): "⅛",
    Fraction(1, 4): "¼",
    Fraction(3, 8): "⅜",
    Fraction(1, 2): "½",
    Fraction(5, 8): "⅝",
    Fraction(3, 4): "¾",
    Fraction(7, 8): "⅞",
}
_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_LOWERED = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
CHARACTERS = frozenset(
    {*map(chr, range(0x20, 0x7F)), *_VULGAR.values(), SPACE, *"⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉⁄−×°·–’‘”“"}
)
"""All that a number, a unit or a letter beside a drawing may be set in, and what quotes become."""


_UNITS: Mapping[Dimension, tuple[tuple[float, float, str, float, str], ...]] = {
    AREA: (
        (1e6, 1e6, "m²", YARD**2, f"sq{SPACE}yd"),
        (0, 100, "cm²", INCH**2, f"sq{SPACE}in"),
    ),
    VOLUME: (
        (5e5, 1e6, "l", QUART, f"US{SPACE}qt"),
        (0, 1e3, "ml", QUART / 32, f"US{SPACE}fl{SPACE}oz"),
    ),
    MASS: ((1e3, 1e3, "kg", OUNCE, "oz"), (0, 1, "g", OUNCE, "oz")),
    Dimension(-3, 1): ((0, 1e-6, "g/l", OUNCE / QUART, f"oz/US{SPACE}qt"),),
    Dimension(-2, 1): ((0, 1e-6, "g/m²", OUNCE / YARD**2, f"oz/sq{SPACE}yd"),),
    Dimension(-1, 1): ((0, 1e-3, "g/m", OUNCE / YARD, "oz/yd"),),
    Dimension(-1): ((0, 0.1, f"per{SPACE}cm", 1 / INCH, f"per{SPACE}in"),),
}
"""By dimension: from which value on, then the metric unit's size and name, then the inch unit's,
all in mm, g and h."""


class Pair(NamedTuple):
    """One value in both unit systems. The two are equal strings where there is only one way."""

    metric: str
    inch: str


def length(mm: float) -> Pair:
    """A length, to 1 mm and 1/8 in; below 4 mm to 0.5 mm and 1/16 in, below 2 mm to 0.1 mm
    alone."""
    if abs(mm) < 2:
        text = f"{decimal(mm, 0.1)}{SPACE}mm"
        return Pair(text, text)
    if abs(mm) < 4:
        return Pair(f"{decimal(mm, 0.5)}{SPACE}mm", inches(mm, 16))
    return Pair(f"{decimal(mm, 1)}{SPACE}mm", inches(mm, 8))


def radius(mm: float) -> Pair:
    """A radius to draw by hand, to 0.5 mm and 1/32 in."""
    return Pair(f"{decimal(mm, 0.5)}{SPACE}mm", inches(mm, 32))


def extent(width: float, height: float) -> Pair:
    """How wide and high something is: ``146 × 37 mm``, ``5¾ × 1½ in``."""
    wide, high = length(width), length(height)
    return Pair(
        f"{wide.metric.removesuffix(f'{SPACE}mm')}{SPACE}×{SPACE}{high.metric}",
        f"{wide.inch.removesuffix(f'{SPACE}in')}{SPACE}×{SPACE}{high.inch}",
    )


def tape(mm: float) -> Pair:
    """A body measure or a length of cloth: whole centimetres where it is one, else one decimal."""
    return Pair(f"{decimal(mm / 10, 0.1)}{SPACE}cm", inches(mm, 8))


def cloth(mm: float) -> Pair:
    """A length of cloth to ask for in a shop: rounded up to 5 cm, and to an eighth of a yard."""
    metric, eighths = (math.ceil(mm / step - 1e-9) for step in (50, YARD / 8))
    whole, rest = divmod(eighths, 8)
    yards = f"{whole or ''}{fraction(Fraction(rest, 8)) if rest else ''}"
    return Pair(f"{metric * 5}{SPACE}cm", f"{yards or 0}{SPACE}yd")


def thread(mm: float) -> Pair:
    """A length of thread, rounded up to whole metres and yards."""
    metres, yards = (math.ceil(mm / unit - 1e-9) for unit in (1000, YARD))
    return Pair(f"{metres}{SPACE}m", f"{yards}{SPACE}yd")


def quantity(value: Quantity) -> Pair:
    """Any quantity, rounded as its kind is: a ratio as a bare number."""
    number, dimension = value.value, value.dimension
    if dimension == LENGTH:
        return length(number)
    if dimension in _UNITS:
        rows = _UNITS[dimension]
        _, large, metric, small, inch = next(row for row in rows if abs(number) >= row[0])
        return Pair(
            f"{significant(number / large)}{SPACE}{metric}",
            f"{significant(number / small)}{SPACE}{inch}",
        )
    if dimension == TIME:
        text = hours(number)
    else:
        text = SPACE.join(filter(None, (significant(number), _powers(dimension))))
    return Pair(text, text)


def angle(radians: float) -> Pair:
    """An angle, to half a degree; below 4°, to a tenth."""
    degrees = math.degrees(radians)
    text = f"{decimal(degrees, 0.5 if abs(degrees) >= 4 else 0.1)}°"
    return Pair(text, text)


def percent(share: float) -> Pair:
    """A share of a hundred."""
    text = f"{significant(100 * share)}{SPACE}%"
    return Pair(text, text)


def _powers(dimension: Dimension) -> str:
    """A dimension that has no unit of its own, in mm, g and h: ``mm⁴``, ``g/h``; empty for a
    ratio."""
    above, below = (
        "·".join(
            unit + (str(sign * power).translate(_RAISED) if sign * power > 1 else "")
            for unit, power in zip(("mm", "g", "h"), dimension, strict=True)
            if sign * power > 0
        )
        for sign in (1, -1)
    )
    return f"{above or 1}/{below}" if below else above


def inches(mm: float, parts: int) -> str:
    """``mm`` in inches to the nearest 1/``parts``, as a mixed fraction: ``5 ⅝ in``."""
    steps = math.floor(abs(mm) / INCH * parts + 0.5)
    whole, rest = divmod(steps, parts)
    sign = "−" if mm < 0 and steps else ""
    if not rest:
        return f"{sign}{whole}{SPACE}in"
    return f"{sign}{whole or ''}{fraction(Fraction(rest, parts))}{SPACE}in"


def fraction(share: Fraction) -> str:
    """A proper fraction in type: ``⅝``, ``¹¹⁄₃₂``."""
    if share in _VULGAR:
        return _VULGAR[share]
    top = str(share.numerator).translate(_RAISED)
    bottom = str(share.denominator).translate(_LOWERED)
    return f"{top}⁄{bottom}"


def decimal(value: float, step: float) -> str:
    """``value`` to the nearest ``step`` with no idle zeros, a true minus sign."""
    steps = math.floor(abs(value) / step + 0.5)
    places = max(0, -math.floor(math.log10(step)))
    text = f"{steps * step:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"−{text}" if value < 0 and steps else text


def significant(value: float, digits: int = 3) -> str:
    """``value`` to ``digits`` significant digits, whole numbers above that kept whole."""
    if value == 0:
        return "0"
    magnitude = math.floor(math.log10(abs(value)))
    return decimal(value, 10.0 ** min(magnitude - digits + 1, 0))


def hours(value: float) -> str:
    """A time: ``7 h``, ``1 h 30 min``, ``40 min``."""
    minutes = math.floor(value * 60 + 0.5)
    whole, rest = divmod(minutes, 60)
    parts = [f"{whole}{SPACE}h"] * bool(whole) + [f"{rest}{SPACE}min"] * bool(rest or not whole)
    return " ".join(parts)
