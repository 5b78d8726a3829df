"""What to buy of each cloth, and of thread."""

from __future__ import annotations

from dataclasses import replace

import pytest
from markupsafe import Markup

from notchbook.composing import numbers
from notchbook.composing.amounts import amounts, cloth_rows, narrow_notes, thread_rows
from notchbook.composing.numbers import YARD, Pair
from notchbook.composing.values import Values
from notchbook.drafting.draft import Draft
from notchbook.drafting.packing.cloth import lays_of
from notchbook.reading.formula import parse
from tests.composing.bench import made, setting

VALUES = Values("metric")


@pytest.mark.parametrize(
    ("mm", "asked"),
    [
        (1, ("5 cm", "⅛ yd")),
        (50, ("5 cm", "⅛ yd")),
        (50.1, ("10 cm", "⅛ yd")),
        (114.3, ("15 cm", "⅛ yd")),
        (115, ("15 cm", "¼ yd")),
        (YARD, ("95 cm", "1 yd")),
        (YARD + 1, ("95 cm", "1⅛ yd")),
        (1234, ("125 cm", "1⅜ yd")),
    ],
)
def test_cloth_is_asked_for_in_5_cm_and_eighths_of_a_yard_rounded_up(
    mm: float, asked: tuple[str, str]
) -> None:
    assert numbers.cloth(mm) == Pair(*(text.replace(" ", "\u00a0") for text in asked))


def test_cloth_is_bought_by_the_width() -> None:
    draft, lays = made()
    shell, lining = cloth_rows(draft, lays, setting(), VALUES)
    assert shell.title == "twill"
    assert "150\u00a0cm" in shell.amounts[0]
    assert "112\u00a0cm" in lining.amounts[0]


def sold(*widths: str) -> Draft:
    draft, _ = made()
    shell = draft.recipe.cloths["shell"]
    shell = replace(shell, widths=tuple(parse(width, shell.place) for width in widths))
    cloths = {**draft.recipe.cloths, "shell": shell}
    return replace(draft, recipe=replace(draft.recipe, cloths=cloths))


def test_a_width_without_room_is_told_in_words_with_one_that_has_room() -> None:
    draft = sold("30 cm", "150 cm")
    (note,) = narrow_notes(draft, setting(), VALUES)
    told = note.striptags()
    assert "twill 30 cm" in told and "too narrow for this size" in told
    assert "wants" in told and "Take 150 cm" in told
    assert not narrow_notes(sold("150 cm"), setting(), VALUES)


def test_all_sizes_stand_in_one_table_and_a_width_without_room_stays_empty() -> None:
    small, large = sold("30 cm", "150 cm"), sold("112 cm", "150 cm")
    table = amounts(large, {"s": lays_of(small), "l": lays_of(large)}, VALUES)
    assert table is not None
    assert [(title, len(widths)) for title, widths in table.columns] == [("twill", 2), ("lawn", 1)]
    assert table.rows["s"][0] == Markup("")
    assert all(table.rows["l"])
    assert amounts(large, {"l": lays_of(large)}, VALUES) is None


def test_thread_says_what_it_was_reckoned_from() -> None:
    draft, _ = made()
    found = thread_rows(draft, setting(), VALUES)
    assert found is not None
    assert "301" in found.rows[0].title and "504" in found.rows[1].title
    assert "15 % more" in found.note.striptags()
    assert thread_rows(replace(draft, seams={}), setting(), VALUES) is None
