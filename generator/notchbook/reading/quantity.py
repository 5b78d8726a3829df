"""Quantities: a number in base units with its dimension."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple


class Dimension(NamedTuple):
    """Powers of length, mass and time. Angles, percent and counts are plain ratios."""

    length: int = 0
    mass: int = 0
    time: int = 0


RATIO = Dimension()
LENGTH = Dimension(length=1)
AREA = Dimension(length=2)
VOLUME = Dimension(length=3)
MASS = Dimension(mass=1)
TIME = Dimension(time=1)

NAMES: Mapping[Dimension, str] = {
    RATIO: "a plain number",
    LENGTH: "a length",
    AREA: "an area",
    VOLUME: "a volume",
    MASS: "a mass",
    TIME: "a time",
}


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in mm, grams and hours, and their powers."""

    value: float
    dimension: Dimension = RATIO


INCH = 25.4
"""Millimetres, exactly (international yard and pound agreement, 1959)."""

UNITS: Mapping[str, Quantity] = {
    "mm": Quantity(1.0, LENGTH),
    "cm": Quantity(10.0, LENGTH),
    "m": Quantity(1000.0, LENGTH),
    "in": Quantity(INCH, LENGTH),
    "ft": Quantity(304.8, LENGTH),
    "yd": Quantity(914.4, LENGTH),
    "deg": Quantity(0.017453292519943295),
    "%": Quantity(0.01),
    "g": Quantity(1.0, MASS),
    "kg": Quantity(1000.0, MASS),
    "ml": Quantity(1e3, VOLUME),
    "l": Quantity(1e6, VOLUME),
    "min": Quantity(1 / 60, TIME),
    "h": Quantity(1.0, TIME),
}
"""Every unit of the recipe format. The words are reserved."""


MEANT: Mapping[str, str] = {
    **dict.fromkeys(("inch", "inches", '"', "″", "”", "''"), "in"),
    **dict.fromkeys(("foot", "feet", "'", "′", "’"), "ft"),
    **dict.fromkeys(("yard", "yards", "yds"), "yd"),
    **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("degree", "degrees", "°"), "deg"),
    **dict.fromkeys(("percent", "pct"), "%"),
    **dict.fromkeys(("gram", "grams", "gr"), "g"),
    **dict.fromkeys(("kilo", "kilos", "kilogram", "kilograms"), "kg"),
    **dict.fromkeys(("litre", "litres", "liter", "liters"), "l"),
    **dict.fromkeys(("minute", "minutes", "mins"), "min"),
    **dict.fromkeys(("hour", "hours", "hr", "hrs"), "h"),
}
"""Units by other words and signs that people write for them."""

_OFFERED: Mapping[Dimension, tuple[str, ...]] = {
    LENGTH: ("mm", "cm", "in"),
    MASS: ("g", "kg"),
    TIME: ("min", "h"),
    VOLUME: ("ml", "l"),
}


def with_units(number: str, dimension: Dimension) -> str:
    """A bare number with each unit it might have been meant in: ``12 mm, 12 cm or 12 in``. Empty
    where a dimension has no units of its own."""
    *others, last = (f"{number} {unit}" for unit in _OFFERED.get(dimension, ("",)))
    return f"{', '.join(others)} or {last}" if others else ""


def describe(dimension: Dimension) -> str:
    """A dimension in words: ``a length``, or its powers where there is no word for it."""
    if dimension in NAMES:
        return NAMES[dimension]
    powers = [
        f"{unit}^{power}" if power != 1 else unit
        for unit, power in zip(("mm", "g", "h"), dimension, strict=True)
        if power
    ]
    return f"a value in {'·'.join(powers)}"


_LITERAL = re.compile(r"([0-9./⁄\s]*)([¼-¾⅐-⅞]?)\s*(\D*)")


def literal(text: str) -> Quantity:
    """The value of a literal that the grammar has found: ``57cm``, ``1 1/4 in``, ``1½ in``.

    Worked out in whole fractions and rounded once, so that 1.1 cm is 11 mm exactly. Raises
    ZeroDivisionError for ``1/0 in`` and OverflowError for a number beyond all floats.
    """
    parts = _LITERAL.fullmatch(text)
    assert parts is not None
    figures, vulgar, unit = parts.groups()
    number = sum((Fraction(part) for part in figures.replace("⁄", "/").split()), Fraction())
    if vulgar:
        number += Fraction(unicodedata.normalize("NFKC", vulgar).replace("⁄", "/"))
    base = UNITS[unit] if unit else Quantity(1.0)
    factor = Fraction(base.value).limit_denominator(1000)  # exact but for degrees
    if float(factor) != base.value:
        factor = Fraction(base.value)
    return Quantity(float(number * factor), base.dimension)
