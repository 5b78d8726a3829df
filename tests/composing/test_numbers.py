"""Numbers as people read them."""

from __future__ import annotations

import math

import pytest

from notchbook.composing import numbers
from notchbook.reading.quantity import AREA, MASS, RATIO, TIME, VOLUME, Dimension, Quantity


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
        (1.2, "1.2 mm", "1.2 mm"),
        (0.5, "0.5 mm", "0.5 mm"),
        (-12, "−12 mm", "−½ in"),
        (0, "0 mm", "0 mm"),
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
        (Quantity(2.5e6, AREA), "2.5 m²", "2.99 sq yd"),
        (Quantity(1.42e6, VOLUME), "1.42 l", "1.5 US qt"),
        (Quantity(5e4, VOLUME), "50 ml", "1.69 US fl oz"),
        (Quantity(28.35, MASS), "28.4 g", "1 oz"),
        (Quantity(1500.0, MASS), "1.5 kg", "52.9 oz"),
        (Quantity(1.5, TIME), "1 h 30 min", "1 h 30 min"),
        (Quantity(20e-6, Dimension(-3, 1)), "20 g/l", "0.668 oz/US qt"),
        (Quantity(200e-6, Dimension(-2, 1)), "200 g/m²", "5.9 oz/sq yd"),
        (Quantity(0.012, Dimension(-1, 1)), "12 g/m", "0.387 oz/yd"),
        (Quantity(0.4, Dimension(-1)), "4 per cm", "10.2 per in"),
        (Quantity(3.0, Dimension(4)), "3 mm⁴", "3 mm⁴"),
        (Quantity(0.5, Dimension(0, 2, -1)), "0.5 g²/h", "0.5 g²/h"),
        (Quantity(7.0, Dimension(0, 0, -1)), "7 1/h", "7 1/h"),
    ],
)
def test_every_kind_of_quantity_has_its_own_units(
    quantity: Quantity, metric: str, inch: str
) -> None:
    assert plain(numbers.quantity(quantity)) == (metric, inch)


@pytest.mark.parametrize(
    ("degrees", "text"), [(35, "35°"), (18.4, "18.5°"), (3.26, "3.3°"), (-90, "−90°"), (0, "0°")]
)
def test_an_angle_is_given_in_degrees(degrees: float, text: str) -> None:
    assert numbers.angle(math.radians(degrees)) == (text, text)


def test_a_share_is_given_in_hundredths() -> None:
    assert plain(numbers.percent(0.035)) == ("3.5 %", "3.5 %")
