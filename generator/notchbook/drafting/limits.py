"""What no shape can be drafted from: lengths out of reach, words it does not know."""

from __future__ import annotations

import math

from notchbook.drafting.shape import Refusal
from notchbook.problems import suggestion

LEAST, MOST = 1.0, 20_000.0
"""The shortest and the longest length, mm, that a shape's parameter may have."""


def mm(value: float) -> str:
    """A length inside a sentence: ``576 mm``, ``0.25 mm``, and ``25.5 m`` where it is long."""
    if abs(value) > MOST:
        return f"{plain(value / 1000)} m"
    return f"{plain(value)} mm"


def plain(value: float) -> str:
    """A number inside a sentence, to a hundredth; beyond a million it is only said to be huge."""
    if not abs(value) <= 1e6:
        return "over a million" if value > 0 else "an endless number of"
    return f"{value:.2f}".rstrip("0").rstrip(".").replace("-", "−")


def check_lengths(**lengths: float | None) -> None:
    """Every length that is given lies between ``LEAST`` and ``MOST``, or a ``Refusal``."""
    for name, value in lengths.items():
        if value is not None and not LEAST <= value <= MOST:
            raise Refusal(
                f"“{name}” comes to {mm(value)}, which nobody can cut.",
                f"Make it {mm(LEAST)} or more and {MOST / 1000:g} m or less.",
                name,
            )


def check_one(**parameters: object) -> None:
    """Exactly one of two parameters is given, or a ``Refusal``."""
    first, second = parameters
    given = [name for name, value in parameters.items() if value is not None]
    if not given:
        raise Refusal(
            f"Neither “{first}” nor “{second}” is given.", f"Give “{first}” or “{second}”.", first
        )
    if len(given) > 1:
        raise Refusal(
            f"Both “{first}” and “{second}” are given, but one follows from the other.",
            f"Give “{first}” or “{second}”, not both.",
            second,
        )


def check_ratio(name: str, value: float, low: float, high: float) -> None:
    """A plain number lies between two others, or a ``Refusal``."""
    if not low <= value <= high:
        raise Refusal(
            f"“{name}” comes to {plain(value)}, which is out of reach.",
            f"Make it {low:g} or more and {high:g} or less.",
            name,
        )


def check_angle(**angles: float) -> None:
    """Every direction is a whole turn or less, either way, or a ``Refusal``."""
    for name, value in angles.items():
        if not abs(value) <= math.tau + 1e-9:
            raise Refusal(
                f"“{name}” comes to {plain(math.degrees(value))}°, more than a whole turn.",
                "Give a direction from 0 deg to 360 deg.",
                name,
            )


def check_word(name: str, value: str, known: tuple[str, ...]) -> None:
    """A word is one of those known, or a ``Refusal``."""
    if value not in known:
        raise Refusal(f"“{name}” can't be “{value}”.", suggestion(value, known), name)
