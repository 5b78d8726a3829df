"""One size on its own: which pages it gets, and that the printer has nothing to say about it."""

from __future__ import annotations

import logging
import re
from dataclasses import replace
from pathlib import Path

import pytest

from notchbook.drafting.engine import draft
from notchbook.gathering.recipes import gather_recipes
from notchbook.pressing.manuscript import Manuscript, read_manuscript
from notchbook.pressing.pdf import Printer
from notchbook.pressing.size import Bench, compose, press_size, usual_size
from notchbook.problems import ContentError


@pytest.fixture
def manuscript(workshop: Path) -> Manuscript:
    settings = workshop / "workshop.yaml"
    settings.write_text(settings.read_text().replace("[a4]", "[a4, letter]"))
    return read_manuscript(workshop, lambda: gather_recipes(workshop))


def bench(manuscript: Manuscript, staged: Path) -> Bench:
    return Bench(
        setting=manuscript.setting,
        recipes=manuscript.recipes,
        photographs={slug: {} for slug in manuscript.recipes},
        texts=(),
        characters=manuscript.characters,
        staged=staged,
    )


def test_weasyprint_warns_of_nothing_on_sheets_and_booklets(
    manuscript: Manuscript, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    recipe = manuscript.recipes["cosy"]
    composed = compose(recipe, recipe.sizes[0], manuscript.setting)
    printer = Printer(manuscript.setting.typefaces)
    with caplog.at_level(logging.WARNING, logger="weasyprint"):
        made = press_size(bench(manuscript, tmp_path), composed, printer)
    assert [record.getMessage() for record in caplog.records] == []
    page = (tmp_path / "cosy/usual/index.html").read_text()
    assert re.findall('<a href="([a-z0-9-]+[.][a-z]+)">', page.partition("<nav")[2]) == [
        "sheets-a4.pdf",
        "sheets-letter.pdf",
        "booklet-a5.pdf",
        "booklet-a5-print.pdf",
        "booklet-half-letter.pdf",
        "booklet-half-letter-print.pdf",
        "list.pdf",
        "pattern.svg",
        "draft.json",
    ]
    assert "cosy/usual/sheets-a4.pdf" in {file.path for file in made}
    shared = (tmp_path / "cosy/figures/cut-2-flat.svg").read_text()
    assert '<title id="title">The side laid flat' in shared
    link = 'href="figures/cut-2-flat.svg"'
    assert link in (tmp_path / "cosy/index.html").read_text()
    assert link not in page


def test_the_usual_size_is_the_one_whose_measures_are_all_usual(manuscript: Manuscript) -> None:
    recipe = manuscript.recipes["cosy"]
    made = draft(recipe, recipe.sizes[-1])
    assert usual_size(recipe, made).id == "usual"
    named = replace(
        next(size for size in recipe.sizes if size.id == "small"),
        measures={name: measure.usual for name, measure in recipe.measures.items()},
    )
    assert usual_size(replace(recipe, sizes=(named,)), made).id == "small"


def test_a_piece_too_wide_for_its_cloth_is_a_sentence_at_the_cloth(workshop: Path) -> None:
    path = workshop / "recipes" / "cosy" / "recipe.md"
    path.write_text(path.read_text().replace("widths: [90 cm]", "widths: [25 cm]"))
    manuscript = read_manuscript(workshop, lambda: gather_recipes(workshop))
    recipe = manuscript.recipes["cosy"]
    with pytest.raises(ContentError) as caught:
        compose(recipe, recipe.sizes[0], manuscript.setting)
    (problem,) = caught.value.problems
    assert problem.place == recipe.cloths["felt"].place
    assert "Piece “side” does not fit on felt 250 mm wide: it is " in problem.what
