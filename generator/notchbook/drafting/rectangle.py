"""A rectangle and the moves that draw it, for every shape that is one when laid flat."""

from __future__ import annotations

from collections.abc import Mapping

from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.moves import Dot, Move, Rule


def rectangle(width: float, height: float) -> tuple[Mapping[str, Path], tuple[Move, ...]]:
    """The sides ``top``, ``right``, ``bottom``, ``left``, clockwise from the top left corner (the
    origin), and the moves for them; mm."""
    a, b, c, d = 0j, complex(width, 0), complex(width, height), complex(0, height)
    paths = {
        "top": polyline(a, b),
        "right": polyline(b, c),
        "bottom": polyline(c, d),
        "left": polyline(d, a),
    }
    moves = (
        Dot("A", a),
        Dot("B", b, "A", across=width),
        Dot("C", c, "A", across=width, down=height),
        Dot("D", d, "A", down=height),
        Rule("A", "B", width, "top"),
        Rule("B", "C", height, "right"),
        Rule("C", "D", width, "bottom"),
        Rule("D", "A", height, "left"),
    )
    return paths, moves
