"""What a step leaves open of a seam: where it is, and that it is closed again."""

from __future__ import annotations

import pytest

from notchbook.drafting.truing import true
from notchbook.problems import ContentError
from tests.lined import drafted, lined

GAP = "leave: {base: {length: 8 cm}}"


def test_a_gap_lies_round_the_start_of_a_round_seam_where_nothing_else_is_said() -> None:
    gap = drafted().openings["base"]
    assert (gap.start, gap.end) == (pytest.approx(360), pytest.approx(40))
    assert (gap.length, gap.notch) == (80, 0)
    assert (gap.left, gap.closed) == ("make-it-2", "make-it-3")


def test_a_gap_lies_round_the_middle_of_an_open_seam() -> None:
    made = drafted(old=GAP, new="leave: {base: {length: 8 cm}, back: {length: 5 cm, stays: yes}}")
    gap = made.openings["back"]
    assert (gap.start, gap.end) == (pytest.approx(75), pytest.approx(125))
    assert (gap.notch, gap.closed) == (None, None)


@pytest.mark.parametrize(("at", "notch", "start"), [("0.25", 1, 60), ("20 cm", 2, 160)])
def test_a_gap_lies_where_it_is_said_to(at: str, notch: int, start: float) -> None:
    gap = drafted(old=GAP, new=f"leave: {{base: {{length: 8 cm, at: {at}}}}}").openings["base"]
    assert (gap.notch, gap.start) == (notch, pytest.approx(start))


@pytest.mark.parametrize(
    ("told", "what"),
    [
        ("base: {length: 45 cm}", "A gap of 450 mm is left in seam “base”, which is 400 mm long."),
        ("base: {length: 2 mm}", "A gap of 2 mm is left in seam “base”, which is 400 mm long."),
        ("back: {length: 5 cm, at: 0}", "would run from −25 mm to 25 mm, and the seam is 200 mm"),
        ("back: {length: 5 cm, at: 1.5}", "comes to 1.5, which is no share of seam “back”."),
    ],
)
def test_a_gap_that_a_seam_has_no_room_for_is_refused(told: str, what: str) -> None:
    with pytest.raises(ContentError) as caught:
        drafted(old=GAP, new=f"leave: {{{told}}}")
    (problem,) = caught.value.problems
    assert what in problem.what


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        (
            "    close: [base]\n",
            "    cut: []\n",
            "The gap that is left here in seam “base” is never closed.",
        ),
        (GAP, "", "Seam “base” is closed here, and no step before this leaves it open."),
        ("length: 8 cm", "length: 8 cm, stays: yes", "Seam “base” is closed here, but its gap"),
        ("close: [base]", "close: [base, base]", "Seam “base” is closed here, and already at "),
        (
            "    lines: [side.row]\n    sew: [back, lining back, base, lining base, top]\n",
            "    sew: [back, lining back, lining base, top]\n    ```\n\n3. Go on.\n\n    ```step\n"
            "    lines: [side.row]\n    sew: [base]\n    ```\n\n4. Leave.\n\n    ```step\n",
            "A gap is left in seam “base”, which this step does not sew.",
        ),
    ],
)
def test_what_is_left_open_is_sewn_there_and_closed_later(old: str, new: str, what: str) -> None:
    (problem,) = true(lined(old=old, new=new))
    assert problem.what.startswith(what)


def test_the_gap_of_a_seam_nobody_knows_is_told_the_nearest() -> None:
    with pytest.raises(ContentError, match="No seam is called “bsae”"):
        lined(old=GAP, new="leave: {bsae: {length: 8 cm}}")
