"""Thread, against what textile engineering texts say an inch of seam takes."""

from __future__ import annotations

import pytest

from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft, evaluate_in
from notchbook.drafting.thread import STITCH, WASTE, lockstitch, overedge, thread, times
from notchbook.reading.quantity import INCH
from tests.recipes import HAT, HEAD, recipe


def hat() -> Draft:
    made = recipe(HEAD + HAT)
    return draft(made, made.sizes[0])


@pytest.mark.parametrize("thick", [0.02, 0.05, 0.1])
@pytest.mark.parametrize("stitches", [8, 10, 12])
def test_thread_in_an_inch_is_that_of_the_textbook(thick: float, stitches: int) -> None:
    """Lockstitch 301: 2 + 2 T S; three-thread overedge 504: 5 + 4 S (W + T), in inches (textile
    engineering texts; types of ISO 4915)."""
    stitch = INCH / stitches
    assert lockstitch(thick * INCH, stitch) == pytest.approx(2 + 2 * thick * stitches)
    wide = 0.2
    assert overedge(thick * INCH, wide * INCH, stitch) == pytest.approx(
        5 + 4 * stitches * (wide + thick)
    )
    assert lockstitch(thick * INCH * 1.01, stitch) != pytest.approx(2 + 2 * thick * stitches)


def test_thread_follows_the_drawn_seams_and_the_thickness_of_both_cloths() -> None:
    made = hat()
    found = thread(made)
    assert found.seams == pytest.approx(sum(seam.lengths[0] for seam in made.seams.values()))
    shell, lining = (
        evaluate_in(made, made.recipe.cloths[name].thickness).value for name in ("shell", "lining")
    )
    thick = {
        "brim edge": shell + lining, "point seam": 2 * shell, "crown to brim": 2 * shell,
    }  # fmt: skip
    wanted = sum(
        seam.lengths[0] * (2 + 2 * thick[name] / STITCH) for name, seam in made.seams.items()
    )
    assert found.lockstitch == pytest.approx(wanted * (1 + WASTE))


GORES = """\
  pane:
    title: Pane
    shape: panel
    points: {a: [0 cm, 0 cm], b: [12 cm, 0 cm], c: [6 cm, 20 cm]}
    edges: {base: [a, b], right: [b, c], left: [c, a]}
    cut: {shell: 6}
"""


def test_a_seam_between_six_like_pieces_is_sewn_six_times() -> None:
    front = (HEAD + HAT).replace(
        "seams:\n", f"{GORES}seams:\n  panes: {{join: [pane.left, pane.right]}}\n", 1
    )
    made = draft(recipe(front), recipe(front).sizes[0])
    assert times(made, made.seams["panes"]) == 6
    assert times(made, made.seams["point seam"]) == 1
