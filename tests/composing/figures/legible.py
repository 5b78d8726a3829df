"""How large the words of a figure come out where it is shown smallest."""

from __future__ import annotations

from notchbook.composing.drawing import Drawing
from notchbook.composing.lettering.placing import text_items

BOOKLET = complex(88, 78)
"""What a booklet of A5 has for a figure, mm."""

PHONE = complex(374, 640)
"""What a telephone 390 px wide has for it, px."""

LEAST_PRINTED = 2.3
"""No type is smaller in a booklet, mm (6½ point)."""

LEAST_SHOWN = 10.5
"""No type is smaller on a telephone, px."""


def type_printed(drawing: Drawing) -> float:
    """The smallest type of a figure in a booklet, mm."""
    return _smallest(drawing) * min(_share(drawing, BOOKLET), 1.0)


def type_shown(drawing: Drawing) -> float:
    """The smallest type of a figure on a telephone, px."""
    return _smallest(drawing) * _share(drawing, PHONE)


def _smallest(drawing: Drawing) -> float:
    return min(text.size for text in text_items(drawing.items))


def _share(drawing: Drawing, room: complex) -> float:
    return min(room.real / drawing.box.width, room.imag / drawing.box.height)
