"""What a plain number means, from its formula."""

from __future__ import annotations

import pytest

from notchbook.composing.kinds import Kind, kind
from notchbook.problems import Place
from notchbook.reading.formula import parse
from tests.composing.bench import FRONT
from tests.recipes import recipe

READ = recipe(FRONT.replace("workings:\n", "workings:\n  lean: atan(1 / 3)\n  half: lean / 2\n"))


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("35 deg", "angle"),
        ("-35 deg", "angle"),
        ("atan2(1 cm, 2 cm)", "angle"),
        ("lean", "angle"),
        ("half", "angle"),
        ("2 * lean", "angle"),
        ("90 deg - lean", "angle"),
        ("round_down(lean, 1 deg)", "angle"),
        ("lean / 1 deg", "number"),
        ("1 / lean", "number"),
        ("lean ^ 2", "number"),
        ("sin(lean)", "number"),
        ("length(crown.rim) / head", "number"),
        ("head", "number"),
        ("3 %", "percent"),
        ("shell.shrinkage", "percent"),
        ("shell.shrinkage + 1 %", "percent"),
        ("1 - 3 %", "number"),
        ("3 % * head", "number"),
    ],
)
def test_angles_and_percentages_are_known_by_their_formulas(text: str, meant: Kind) -> None:
    assert kind(parse(text, Place("recipe.md", 1, 1)).tree, READ) == meant
