"""Quantities: a number in base units with its dimension."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
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


UNITS: Mapping[str, Quantity] = {
    "mm": Quantity(1.0, LENGTH),
    "cm": Quantity(10.0, LENGTH),
    "m": Quantity(1000.0, LENGTH),
    # One inch is 25.4 mm exactly (international yard and pound agreement, 1959).
    "in": Quantity(25.4, LENGTH),
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
