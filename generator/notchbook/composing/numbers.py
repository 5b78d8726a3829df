"""Numbers as people read them: rounded for the purpose, in both unit systems.

Radii for drawing by hand are printed to 0.5 mm and 1/32 in, other lengths to 1 mm and 1/8 in.
Below 4 mm an eighth of an inch says too little, so finer parts are used.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import NamedTuple

from notchbook.reading.quantity import AREA, LENGTH, MASS, RATIO, TIME, VOLUME, Quantity

INCH = 25.4
OUNCE = 28.349523125
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


class Pair(NamedTuple):
    """One value in both unit systems. The two are equal strings where there is only one way."""

    metric: str
    inch: str


def length(mm: float) -> Pair:
    """A length, to 1 mm and 1/8 in; below 4 mm to 0.5 mm and 1/16 in, below 2 mm to 0.1 mm and
    1/64 in."""
    if abs(mm) < 2:
        return Pair(f"{decimal(mm, 0.1)}{SPACE}mm", inches(mm, 64))
    if abs(mm) < 4:
        return Pair(f"{decimal(mm, 0.5)}{SPACE}mm", inches(mm, 16))
    return Pair(f"{decimal(mm, 1)}{SPACE}mm", inches(mm, 8))


def radius(mm: float) -> Pair:
    """A radius to draw by hand, to 0.5 mm and 1/32 in."""
    return Pair(f"{decimal(mm, 0.5)}{SPACE}mm", inches(mm, 32))


def tape(mm: float) -> Pair:
    """A body measure or a length of cloth: whole centimetres where it is one, else one decimal."""
    return Pair(f"{decimal(mm / 10, 0.1)}{SPACE}cm", inches(mm, 8))


def quantity(value: Quantity) -> Pair:
    """Any quantity, rounded as its kind is."""
    number = value.value
    match value.dimension:
        case d if d == LENGTH:
            return length(number)
        case d if d == AREA:
            return Pair(
                f"{significant(number / 100)}{SPACE}cm²",
                f"{significant(number / INCH**2)}{SPACE}sq{SPACE}in",
            )
        case d if d == VOLUME:
            return Pair(
                f"{significant(number / 1e6)}{SPACE}l",
                f"{significant(number / INCH**3)}{SPACE}cu{SPACE}in",
            )
        case d if d == MASS:
            return Pair(f"{significant(number)}{SPACE}g", f"{significant(number / OUNCE)}{SPACE}oz")
        case d if d == TIME:
            text = hours(number)
            return Pair(text, text)
        case d if d == RATIO:
            text = significant(number)
            return Pair(text, text)
        case _:
            text = significant(number)
            return Pair(text, text)


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
