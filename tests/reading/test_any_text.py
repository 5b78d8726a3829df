"""Whatever an author's editor or cat does to a recipe, it is a recipe or a list of problems."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.gathering.source import Source
from notchbook.problems import ContentError
from notchbook.reading.read import read_recipe, read_workshop
from notchbook.reading.recipe import Recipe
from tests.reading.test_recipe import FILES, HAT

LINES = HAT.split("\n")
SNIPPETS = st.sampled_from(
    [
        "---",
        "```",
        "    ```figure",
        "## ",
        "1. ",
        "{{",
        "}}",
        "&a",
        "*a",
        "!x",
        "|",
        ">",
        "? ",
        ": ",
    ]
) | st.text(max_size=6)


@st.composite
def spoilt(draw: st.DrawFn) -> str:
    """The good recipe with a few things cut out, doubled, swapped or typed over."""
    lines = list(LINES)
    for _ in range(draw(st.integers(1, 3))):
        at = draw(st.integers(0, len(lines) - 1))
        match draw(st.sampled_from(["cut", "double", "swap", "type", "break"])):
            case "cut":
                del lines[at]
                lines = lines or [""]
            case "double":
                lines.insert(at, lines[at])
            case "swap":
                other = draw(st.integers(0, len(lines) - 1))
                lines[at], lines[other] = lines[other], lines[at]
            case "break":
                lines[at] = lines[at][: draw(st.integers(0, len(lines[at])))]
            case _:
                column = draw(st.integers(0, len(lines[at])))
                lines[at] = lines[at][:column] + draw(SNIPPETS) + lines[at][column:]
    return "\n".join(lines)


def check(data: bytes) -> None:
    try:
        recipe = read_recipe(Source("hat", "recipes/hat", {"recipe.md": data, **FILES}))
    except ContentError as error:
        assert error.problems
        lines = data.count(b"\n") + data.count(b"\r") + 2
        for problem in error.problems:
            assert 1 <= problem.place.line <= lines
            assert problem.place.column >= 1
            assert problem.what[-1] in ".?”"
            assert problem.remedy.strip()
    else:
        assert isinstance(recipe, Recipe)
        assert "" not in [formula.formula.text for formula in recipe.workings.values()]


@given(spoilt())
@settings(max_examples=120, deadline=None)
def test_a_spoilt_recipe_is_a_recipe_or_problems(text: str) -> None:
    check(text.encode("utf-8", "replace"))


@given(st.binary(max_size=60) | st.text(max_size=60).map(lambda text: text.encode()))
@settings(max_examples=100, deadline=None)
def test_any_bytes_are_no_traceback(data: bytes) -> None:
    check(data)
    check(b"---\n" + data + b"\n---\n" + data)
    try:
        read_workshop(data, "workshop.yaml")
    except ContentError as error:
        assert error.problems
