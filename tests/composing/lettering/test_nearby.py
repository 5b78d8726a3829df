"""Where a tile may lie nearest to a point, against a look at every place there is."""

from __future__ import annotations

from random import Random

import pytest

from notchbook.composing.lettering.room import Spots


def _nearest_of_all(spots: Spots, x: float, y: float, most: int) -> list[tuple[int, int]]:
    """Of each row the last free cell up to the point and the first beyond it, the nearest first."""
    middle = max(int(x + 0.5), 0) if x >= -0.5 else 0
    found = []
    for row, bits in enumerate(spots.rows):
        cells = [column for column in range(bits.bit_length()) if bits >> column & 1]
        ends = [max((c for c in cells if c <= middle), default=None)]
        ends.append(min((c for c in cells if c > middle), default=None))
        found += [((c - x) ** 2 + (row - y) ** 2, row, c) for c in ends if c is not None]
    return [(row, column) for _, row, column in sorted(found)[:most]]


@pytest.mark.parametrize("most", [1, 5, 12])
@pytest.mark.parametrize("share", [0.02, 0.3, 0.9])
def test_the_nearest_places_are_those_that_a_look_at_all_finds(share: float, most: int) -> None:
    draw = Random(f"{share} {most}")
    for _ in range(20):
        rows = tuple(
            sum((draw.random() < share) << column for column in range(30)) for _ in range(25)
        )
        spots = Spots(2.0, 1.0, 1, 0, 1.0, rows)
        x, y = draw.choice([draw.uniform(-8, 40), draw.randrange(30)]), draw.uniform(-8, 35)
        found = spots.nearby(complex(x, y), most)
        at = [(round(tile.centre.imag), round(tile.centre.real)) for tile in found]
        assert at == _nearest_of_all(spots, x, y, most)
