"""Boxes: what lies in them."""

from __future__ import annotations

from notchbook.drafting.geometry.box import Box

BOX = Box(1 + 2j, 5 + 4j)


def test_a_box_has_its_corners_in_order_clockwise_from_the_top_left() -> None:
    assert BOX.corners == (1 + 2j, 5 + 2j, 5 + 4j, 1 + 4j)


def test_a_box_holds_its_border_and_nothing_beside_it_unless_asked_to() -> None:
    assert all(BOX.holds(corner) for corner in BOX.corners)
    assert not BOX.holds(0.9 + 3j)
    assert BOX.holds(0.9 + 3j, 0.2)
    assert not BOX.holds(3 + 4.3j, 0.2)
