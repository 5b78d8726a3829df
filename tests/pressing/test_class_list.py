"""A class's page, from its table to the file."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from notchbook.gathering.recipes import find_recipe
from notchbook.pressing.class_list import press_class
from notchbook.problems import ContentError
from notchbook.reading.read import read_recipe


def measure(workshop: Path) -> str:
    return next(iter(read_recipe(find_recipe(workshop, "cosy")).measures))


def test_a_class_is_printed_on_one_page_with_everybody_on_it(workshop: Path) -> None:
    table, out = workshop / "class.csv", workshop / "class.pdf"
    table.write_text(f"name,{measure(workshop)}\nAdda,\nBeric,\n")
    assert press_class(workshop, "cosy", table, out) == 2
    pages = pypdfium2.PdfDocument(out)
    text = pages[0].get_textpage().get_text_range()
    assert len(pages) == 1
    assert "Adda" in text and "Beric" in text and "Together" in text


def test_what_is_wrong_with_anybody_is_said_at_that_line_and_nothing_is_written(
    workshop: Path,
) -> None:
    table, out = workshop / "class.csv", workshop / "class.pdf"
    table.write_text(f"name,{measure(workshop)}\nAdda,9 m\nBeric,\nCorro,wide\n")
    with pytest.raises(ContentError) as caught:
        press_class(workshop, "cosy", table, out)
    assert {problem.place.line for problem in caught.value.problems} == {2, 4}
    assert caught.value.problems[0].what.startswith("Adda: ")
    assert not out.exists()


def test_a_table_that_is_not_there_is_a_sentence(workshop: Path) -> None:
    with pytest.raises(ContentError, match="can't be read"):
        press_class(workshop, "cosy", workshop / "none.csv", workshop / "class.pdf")
