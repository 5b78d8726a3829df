"""A rectangle and the moves that draw it, for every shape that is one when laid flat."""

from __future__ import annotations

import math
from collections.abc import Mapping

from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.moves import Dot, Move, Rule


def rectangle(
    width: float, height: float, shear: float = 0.0
) -> tuple[Mapping[str, Path], tuple[Move, ...]]:
    """The sides ``top``, ``right``, ``bottom``, ``left``, clockwise from the top left corner (the
    origin), and the moves for them; mm. ``shear`` sets the bottom that far to the right, which
    makes the ends slant."""
    a, b = 0j, complex(width, 0)
    c, d = complex(width + shear, height), complex(shear, height)
    end = math.hypot(height, shear)
    paths = {
        "top": polyline(a, b),
        "right": polyline(b, c),
        "bottom": polyline(c, d),
        "left": polyline(d, a),
    }
    moves = (
        Dot("A", a),
        Dot("B", b, "A", across=width),
        Dot("C", c, "A", across=width + shear, down=height),
        Dot("D", d, "A", across=shear, down=height),
        Rule("A", "B", width, "top"),
        Rule("B", "C", end, "right"),
        Rule("C", "D", width, "bottom"),
        Rule("D", "A", end, "left"),
    )
    return paths, moves
