"""The figures a recipe asks for: helpful where they can't be drawn."""

from __future__ import annotations

import pytest

from notchbook.composing.figures import view_names
from notchbook.reading.recipe import FigureRule
from tests.composing.figures.drawn import (
    FACE_TO_FACE,
    problems,
)
from tests.composing.sample import (
    figure,
)


def test_views_are_the_files_of_the_folder() -> None:
    assert view_names() == (
        "along", "clip", "compass", "filled", "flat", "fold", "gather", "lay", "layers",
        "measuring", "pieces", "press", "section", "sheets", "solid", "stitch", "turn", "worn",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        (
            figure("flatt", piece="brim"),
            "recipe.md:40:11: There is no figure view “flatt”. Did you mean “flat”?",
        ),
        (
            figure("flat", piece="brm"),
            "recipe.md:41:12: There is no piece “brm” in this recipe. Did you mean “brim”?",
        ),
        (
            figure("flat", peice="brim"),
            "recipe.md:41:5: A flat figure has no “peice”. Did you mean “piece”?",
        ),
        (
            figure("flat"),
            "recipe.md:40:11: A figure of the view “flat” needs “piece”. "
            "Add a line like “piece: brim”.",
        ),
        (
            figure("layers", pieces=["shell brim", "lining brm"]),
            "recipe.md:41:33: There is no piece “brm” in this recipe. Did you mean “brim”?",
        ),
        (
            figure("layers", pieces=["shel brim"]),
            "recipe.md:41:14: The piece “brim” is not cut from “shel”. Did you mean “shell”?",
        ),
        (
            figure("layers", pieces=["brim", "lining brim"]),
            "recipe.md:41:14: The piece “brim” is cut from several cloths. "
            "Say which: “shell brim” or “lining brim” or “interfacing brim”.",
        ),
        (
            figure("layers", pieces=["crown"], together="right side"),
            "recipe.md:42:15: “together” can't be “right side”. Did you mean “right sides”?",
        ),
        (
            figure("layers", pieces=["crown"], stitch="pont seam"),
            "recipe.md:42:13: There is no seam “pont seam” in this recipe. "
            "Did you mean “point seam”?",
        ),
        (
            figure("layers", pieces=["crown"], stitch="brim edge"),
            "recipe.md:42:13: The seam “brim edge” joins none of the pieces shown. "
            "It joins lining brim.outer, shell brim.outer: show those, or name another seam.",
        ),
        (
            figure("layers", pieces=["crown"], stich="point seam"),
            "recipe.md:42:5: A layers figure has no “stich”. Did you mean “stitch”?",
        ),
        (
            figure("layers", pieces=["crown", "shell brim"], together=["nested", "nested"]),
            "recipe.md:42:16: “together” has 2 entries, but 2 layers meet 1 times. "
            "Write one word, or one for each meeting from the lowest up.",
        ),
        (
            figure("layers", pieces=["crown", "shell brim", "lining brim"],
                   together=["right sides", "right sides"]),
            "recipe.md:42:29: Here the layer below lies wrong side up, so “right sides” can't "
            "meet. Write “wrong sides” or “nested”, or change the meetings below it.",
        ),
    ],
)  # fmt: skip
def test_a_word_nobody_knows_is_found_at_its_place_with_a_remedy(
    rule: FigureRule, said: str
) -> None:
    assert problems(rule) == [said]


def test_all_problems_of_a_figure_are_reported_together() -> None:
    rule = figure("layers", pieces=["shel brim", "crwn"], stitch="brim edg", togehter="nested")
    found = problems(rule)
    assert [line.split(":")[1] for line in found] == ["41", "41", "42", "43"]


def test_a_figure_that_can_be_drawn_has_no_problems() -> None:
    assert problems(FACE_TO_FACE) == []
