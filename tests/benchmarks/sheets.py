"""How many sheets a pattern takes, beside two other ways of counting."""

from __future__ import annotations

import math
import time
from typing import NamedTuple

from notchbook.composing.lettering.placing import Lines, Tile, walls
from notchbook.composing.paper import Paper
from notchbook.composing.sheets.taping import plan
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.packing.raster import outermost
from notchbook.drafting.packing.sheets import GAP


class Count(NamedTuple):
    """Sheets that carry ink, the cover left out; of the plain arrangement; and what the area of the
    whole pieces over a sheet's comes to, rounded up. Seconds to arrange the first."""

    used: int
    plain: int
    least: int
    seconds: float


def count(made: Draft, paper: Paper) -> Count:
    """All of it for one size."""
    began = time.process_time()
    planned = plan(made, paper)
    seconds = time.process_time() - began
    width, height = planned.width, planned.height
    area = sum(loop.area() for piece in made.pieces.values() for loop in outermost(piece)[0])
    return Count(
        len(planned.numbers), _plain(made, width, height), math.ceil(area / width / height), seconds
    )


def _plain(made: Draft, width: float, height: float) -> int:
    """Pieces as they are drawn, one beside the other from the left in the recipe's order, with as
    much paper round each; sheets that no line crosses are not counted here either."""
    used: set[tuple[int, int]] = set()
    right = 0.0
    for piece in made.pieces.values():
        loops = [loop for region in outermost(piece) for loop in region]
        box = bounds(loops)
        shift = complex(right + GAP / 2, GAP / 2) - box.low
        lines = Lines.of(walls(loop.moved(1, shift) for loop in loops))
        for column in range(int(right / width), math.ceil((right + box.width + GAP) / width)):
            for row in range(math.ceil((box.height + GAP) / height)):
                centre = complex((column + 0.5) * width, (row + 0.5) * height)
                if lines.touch(Tile(centre, width, height)):
                    used.add((column, row))
        right += box.width + GAP
    return len(used)
