"""Gathers and pleats: how much longer a side may be, and where its pleats are marked."""

from __future__ import annotations

import pytest

from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.drafting.joins import check_joins
from notchbook.problems import ContentError
from tests.recipes import HEAD, recipe

STEPS = "## Make it\n\n1. Cut.\n\n    ```step\n    cut: [top, band]\n    ```\n"


def cap(join: str, girth: str) -> Draft:
    """A round top sewn into a band."""
    front = f"""{HEAD}allowance: 10 mm
pieces:
  top: {{title: Top, shape: disc, girth: {girth}, cut: {{shell: 1, lining: 1}}}}
  band: {{title: Band, shape: tube, girth: head, height: 4 cm, cut: {{shell: 1}}}}
seams:
  band seam: {{join: [band.left, band.right]}}
  top to band: {{join: [band.top, shell top.edge], {join}}}
"""
    made = recipe(front, STEPS)
    return draft(made, made.sizes[0])


def faults(made: Draft) -> list[str]:
    return [problem.what for problem, _ in check_joins(made)]


def test_a_gathered_side_is_as_many_times_as_long_as_is_declared() -> None:
    made = cap("gather: {top: 1.8}", "1.8 * head")
    seam = made.seams["top to band"]
    assert seam.lengths[1] == pytest.approx(1.8 * seam.lengths[0])
    assert seam.gathers == (1.0, 1.8)
    assert seam.miss < 1e-3
    assert not faults(made)


def test_gathers_that_do_not_come_out_are_told_with_the_numbers() -> None:
    made = cap("gather: {top: 1.8}", "1.79 * head")
    assert faults(made) == [
        "The sides of seam “top to band” do not meet: band.top 560.0 mm against "
        "shell top.edge 1002.4 mm, 5.6 mm off."
    ]


def test_pleats_take_twice_their_depth_each() -> None:
    made = cap("pleats: {top: {count: 16, depth: 15 mm}}, notches: 4", "head + 32 * 15 mm")
    assert made.seams["top to band"].miss < 1e-3
    assert not faults(made)


def test_pleats_are_marked_evenly_and_leave_the_notches_free() -> None:
    made = cap("pleats: {top: {count: 16, depth: 15 mm}}, notches: 4", "head + 32 * 15 mm")
    top = made.pieces["top"]
    length = top.flat.edges["edge"].length()
    assert len(top.pleats) == 16 and not made.pieces["band"].pleats
    for k, pleat in enumerate(top.pleats):
        middle = length * (k + 0.5) / 16
        for (at, _), along in ((pleat.fold, middle - 15), (pleat.onto, middle + 15)):
            assert abs(top.flat.edges["edge"].path.point_at(along) - at) < 1e-6
        for notch in top.notches:
            assert min(abs(notch.at - at) for at, _ in (pleat.onto, pleat.fold)) > 10


@pytest.mark.parametrize(
    ("join", "what"),
    [
        ("gather: {top: 20 mm}", "“top” takes a plain number, and “20 mm” is a length."),
        ("gather: {top: 0.5}", "“0.5” comes to 0.5, which is out of reach."),
        ("gather: {tip: 2}", "“tip” names no side of “top to band”."),
        ("gather: {band: 2}", "“band” is the first side of “top to band”"),
        ("gather: {top: 2}, pleats: {top: {count: 2, depth: 1 cm}}", "both gathered and pleated"),
        ("pleats: {top: {count: 0, depth: 1 cm}}", "“count” takes a whole number"),
        ("pleats: {top: {count: 4}}", "“top” has no “depth”."),
        ("pleats: {top: {count: 4, depth: 1}}", "“depth” takes a length"),
        ("pleats: {top: {count: 4, depth: 9 m}}", "“9 m” comes to 9000 mm, which is out of reach."),
        ("pleats: {top: {count: 6, depth: 1 cm}}, notches: 4",
         "6 pleats can't be shared out evenly over the 4 stretches between the notches"),
        ("pleats: {top: {count: 2, depth: 49 cm}}", "A pleat would fall across the end of"),
    ],
)  # fmt: skip
def test_fullness_that_can_not_be_sewn_is_told(join: str, what: str) -> None:
    with pytest.raises(ContentError) as caught:
        cap(join, "1.8 * head")
    said = [problem.what for problem in caught.value.problems]
    assert any(what in each for each in said), said
