"""Prose, limits and lines that are there only when something is chosen."""

from __future__ import annotations

import pytest

from notchbook.problems import ContentError
from notchbook.reading.choosing import choose
from notchbook.reading.recipe import Prose, Recipe
from tests.choosy import choosy

ROUND = {"opening": "round"}


def told(recipe: Recipe, opening: str) -> list[str]:
    """The runs of prose in the last stage of one set."""
    blocks = choose(recipe, {"opening": opening}).stages[-1].blocks
    return ["".join(map(str, b.parts)) for b in blocks if isinstance(b, Prose)]


def test_a_paragraph_is_there_only_when_it_is_chosen() -> None:
    recipe = choosy(
        "With pride.\n", "With pride.\n\n```when: {opening: round}\nPad it.\n```\n\nGo.\n"
    )
    assert told(recipe, "round") == ["With pride.", "Pad it.", "Go."]
    assert told(recipe, "oval") == ["With pride.", "Go."]


def test_rows_of_a_table_go_on_with_the_rows_above_them() -> None:
    rows = [
        *("| a |", "|---|"),
        *("```when: {opening: oval}", "| b |", "```"),
        *("```when: {opening: round}", "| c |", "```"),
        "| d |",
    ]
    recipe = choosy("With pride.\n", "\n".join(rows))
    assert told(recipe, "oval") == ["| a |\n|---|\n| b |\n| d |"]
    assert told(recipe, "round") == ["| a |\n|---|\n| c |\n| d |"]


def test_what_stands_apart_does_not_run_together_when_what_was_between_is_gone() -> None:
    recipe = choosy("With pride.\n", "One.\n\n```when: {opening: round}\nPad it.\n```\nTwo.\n")
    assert told(recipe, "oval") == ["One.", "Two."]
    assert told(recipe, "round") == ["One.", "Pad it.\nTwo."]


def test_prose_inside_a_step_can_depend_on_a_choice() -> None:
    recipe = choosy(
        "3. Sew.\n", "3. Sew.\n\n    ```when: {opening: round}\n    Turn {{ rim }}.\n    ```\n"
    )
    steps = {
        name: choose(recipe, {"opening": name}).stages[0].steps[-1] for name in ("oval", "round")
    }
    assert [sum(isinstance(b, Prose) for b in steps[name].blocks) for name in steps] == [1, 2]


@pytest.mark.parametrize(
    ("block", "what"),
    [
        ("```when\nPad it.\n```\n", "This block does not say when its words are there."),
        ("```when: {opening: rund}\nPad it.\n```\n", "Choice “opening” has no option “rund”."),
        ("```when: {opning: oval}\nPad it.\n```\n", "No choice is called “opning”."),
        ("```when: {opening: oval}\n## Pad it\n```\n", "A stage begins inside a block that"),
        ("```when: {opening: oval}\n{{ rm }}\n```\n", "No measure or working is called “rm”."),
    ],
)
def test_a_block_that_can_not_be_read_says_why(block: str, what: str) -> None:
    with pytest.raises(ContentError) as caught:
        choosy("With pride.\n", block)
    assert caught.value.problems[0].what.startswith(what)


def test_prose_that_needs_what_is_not_there_is_found() -> None:
    with pytest.raises(ContentError, match="this needs piece “ear”, which is only there when"):
        choosy("With pride.\n", "```when: {opening: round}\n{{ area(ear) }}\n```\n")


def test_a_limit_and_a_line_can_depend_on_a_choice() -> None:
    limit = "limits:\n  - {require: head > 1 cm, say: Grow., when: {opening: round}}\ncloths:\n"
    recipe = choosy("cloths:\n", limit)
    assert len(choose(recipe, ROUND).limits) == 1
    assert choose(recipe, {}).limits == ()
    row = "title: row, kind: folded, along: outer, inside: 1 cm, when: {opening: round}"
    inner = f"lines: {{row: {{{row}}}}}"
    recipe = choosy("    oval: ratio\n", f"    oval: ratio\n    {inner}\n")
    assert list(choose(recipe, ROUND).pieces["brim"].lines) == ["row"]
    assert choose(recipe, {}).pieces["brim"].lines == {}
