"""Every figure of a draft drawn once, and everything wrong with any of them told together."""

from __future__ import annotations

import pytest

from notchbook.composing.plates import draw_plates
from notchbook.drafting.engine import draft
from notchbook.problems import ContentError
from tests.composing.sample import setting
from tests.recipes import STEPS, recipe

FIGURES = """
    ```figure
    view: flat
    piece: brin
    ```

    ```figure
    view: layers
    pieces: [shell brim, crwn]
    ```

    ```figure
    view: section
    edge: brim.outr
    pieces: [shell brim, lining brim]
    ```
"""


def test_problems_of_all_figures_are_told_together_each_at_its_place() -> None:
    made = recipe(body=STEPS + FIGURES)
    with pytest.raises(ContentError) as told:
        draw_plates(draft(made, made.sizes[0]), setting())
    said = [problem.what for problem in told.value.problems]
    assert said == [
        "There is no piece “brin” in this recipe.",
        "There is no piece “crwn” in this recipe.",
        "The piece “brim” has no edge “outr”.",
    ]
    assert len({problem.place.line for problem in told.value.problems}) == 3
