"""Values in both unit systems as plain text, the workshop's own system first."""

from __future__ import annotations

from notchbook.composing.numbers import SPACE, Pair
from notchbook.composing.setting import Setting


def ordered(pair: Pair, setting: Setting) -> tuple[str, str]:
    """The two ways of writing a value."""
    metric, inch = pair
    return (inch, metric) if setting.workshop.units == "inch" else (metric, inch)


def both(pair: Pair, setting: Setting) -> str:
    """One behind the other: ``57 cm (22½ in)``."""
    own, other = ordered(pair, setting)
    return own if own == other else f"{own}{SPACE}({other})"
