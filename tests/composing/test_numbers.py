"""Numbers as people read them."""

from __future__ import annotations

import pytest

from notchbook.composing import numbers
from notchbook.reading.quantity import AREA, MASS, RATIO, TIME, VOLUME, Quantity


def plain(pair: numbers.Pair) -> tuple[str, str]:
    """A pair with ordinary spaces."""
    return pair.metric.replace("\u00a0", " "), pair.inch.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("mm", "metric", "inch"),
    [
        (585.4, "585 mm", "23 in"),
        (12, "12 mm", "½ in"),
        (6, "6 mm", "¼ in"),
        (143.6, "144 mm", "5⅝ in"),
        (2.5, "2.5 mm", "⅛ in"),
        (1.2, "1.2 mm", "³⁄₆₄ in"),
        (0.5, "0.5 mm", "¹⁄₆₄ in"),
        (-12, "−12 mm", "−½ in"),
        (0, "0 mm", "0 in"),
    ],
)
def test_a_length_is_rounded_to_what_a_reader_can_measure(
    mm: float, metric: str, inch: str
) -> None:
    assert plain(numbers.length(mm)) == (metric, inch)


def test_a_radius_keeps_half_millimetres_and_thirty_seconds() -> None:
    assert plain(numbers.radius(64.3)) == ("64.5 mm", "2¹⁷⁄₃₂ in")


def test_a_tape_reads_in_centimetres() -> None:
    assert plain(numbers.tape(575)) == ("57.5 cm", "22⅝ in")


@pytest.mark.parametrize(
    ("quantity", "metric", "inch"),
    [
        (Quantity(2.0, RATIO), "2", "2"),
        (Quantity(25000.0, AREA), "250 cm²", "38.8 sq in"),
        (Quantity(1.42e6, VOLUME), "1.42 l", "86.7 cu in"),
        (Quantity(28.35, MASS), "28.4 g", "1 oz"),
        (Quantity(1.5, TIME), "1 h 30 min", "1 h 30 min"),
    ],
)
def test_every_kind_of_quantity_has_its_own_units(
    quantity: Quantity, metric: str, inch: str
) -> None:
    assert plain(numbers.quantity(quantity)) == (metric, inch)
