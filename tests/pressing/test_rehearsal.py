"""What a rehearsal finds without printing, composing one size of a set alone as a whole."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from notchbook.gathering.recipes import gather_recipes
from notchbook.pressing import press
from notchbook.pressing.manuscript import read_manuscript
from notchbook.pressing.rehearsal import start
from notchbook.pressing.size import Bench
from notchbook.problems import ContentError
from tests.recipes import HAT, HEAD, STEPS, text_of

BenchOf = Callable[[str], Bench]


@pytest.fixture
def bench_of(workshop: Path, tmp_path: Path) -> BenchOf:
    """Gives the bench of a workshop with one recipe in it, from the recipe's text."""

    def read(recipe: str) -> Bench:
        (workshop / "recipes/cosy/recipe.md").write_text(recipe, encoding="utf-8")
        return press._bench(read_manuscript(workshop, lambda: gather_recipes(workshop)), tmp_path)

    return read


def test_a_figure_wrong_in_one_size_alone_is_found(bench_of: BenchOf) -> None:
    figure = """
    ```figure
    view: section
    edge: brim.outer
    pieces: [shell brim, lining brim]
    channel: 7 mm
    wire: (head - 55.9 cm) / 3
    alt: The brim's edge with a wire that grows with the head.
    ```
"""
    rehearse = start(bench_of(text_of(body=STEPS + figure)))
    rehearse(("cosy", "head-56cm"))
    rehearse(("cosy", "head-57cm"))
    with pytest.raises(ContentError) as caught:
        rehearse(("cosy", "head-58cm"))
    (problem,) = caught.value.problems
    assert problem.what.startswith("Fold and wire need a channel of")


def test_a_character_that_only_one_size_has_is_missed_by_no_label(bench_of: BenchOf) -> None:
    sizes = "sizes: {small: {title: small, head: 56 cm}, lamp: {title: “Ω”, head: 58 cm}}"
    front = HEAD.replace("sizes: {measure: head, from: 56 cm, to: 58 cm, step: 1 cm}", sizes) + HAT
    bench = bench_of(text_of(front))
    start(bench)(("cosy", "lamp"))

    faces = bench.setting.typefaces
    label = tuple(
        replace(face, advances={c: width for c, width in face.advances.items() if c != "Ω"})
        for face in faces.label
    )
    without = replace(bench.setting, typefaces=replace(faces, label=label, others=()))
    rehearse = start(replace(bench, setting=without))
    rehearse(("cosy", "small"))
    with pytest.raises(ContentError, match="No label font has the character “Ω”"):
        rehearse(("cosy", "lamp"))


def test_what_is_wrong_with_a_page_is_found_once_a_set(bench_of: BenchOf) -> None:
    bench = bench_of(text_of())
    theme = bench.setting.theme
    broken = {**theme.templates, "recipe.html": "{{ nobody.knows }}"}
    setting = replace(bench.setting, theme=replace(theme, templates=broken))
    rehearse = start(replace(bench, setting=setting))
    rehearse(("cosy", "head-58cm"))
    with pytest.raises(ContentError, match=r"recipe\.html:1:1"):
        rehearse(("cosy", "head-56cm"))
