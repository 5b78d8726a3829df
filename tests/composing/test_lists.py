"""The lists of a recipe."""

from __future__ import annotations

import pytest

from notchbook.composing import lists
from notchbook.composing.lists import SizeEntry
from notchbook.composing.values import Values
from notchbook.drafting.engine import evaluate_in
from notchbook.reading.quantity import LENGTH, Quantity
from tests.composing.bench import made, setting

VALUES = Values("metric")


@pytest.mark.parametrize(
    ("girth", "numbers"),
    [
        (560, ("56", "7", "6⅞")),
        (570, ("57", "7⅛", "7")),
        (580, ("58", "7¼", "7⅛")),
        (600, ("60", "7½", "7⅜")),
    ],
)
def test_hat_numbers_follow_common_practice(girth: float, numbers: tuple[str, str, str]) -> None:
    assert lists.hat_numbers(girth) == numbers


def test_only_measures_that_differ_between_sizes_have_a_column() -> None:
    draft, _ = made()
    entries = tuple(
        SizeEntry(
            size.id,
            size.title,
            f"{size.id}/index.html",
            {"head": evaluate_in(draft, size.measures["head"]), "height": Quantity(300.0, LENGTH)},
        )
        for size in draft.recipe.sizes
    )
    assert lists.size_titles(draft, entries) == ("Head girth",)
    rows = lists.size_rows(draft, entries, VALUES)
    assert [row.name for row in rows] == ["", "", ""]
    assert [row.hats for row in rows] == [
        ("56", "7", "6⅞"),
        ("57", "7⅛", "7"),
        ("58", "7¼", "7⅛"),
    ]


def test_a_size_with_a_name_of_its_own_keeps_it() -> None:
    draft, _ = made()
    head = {"head": Quantity(570.0, LENGTH), "height": Quantity(300.0, LENGTH)}
    entries = [SizeEntry("m", title, "", head) for title in ("medium", "57 cm", "22½ in")]
    rows = lists.size_rows(draft, tuple(entries), VALUES)
    assert [row.name for row in rows] == ["medium", "", ""]


def test_the_sides_of_a_seam_are_called_as_on_the_pieces() -> None:
    draft, _ = made()
    sides = [
        edges for row in lists.seam_rows(draft, setting(), VALUES) for edges, _, _ in row.sides
    ]
    assert "Point, rim" in sides
    assert "Brim (twill), inner" in sides


def test_the_cutting_list_has_a_row_for_each_piece_and_cloth() -> None:
    draft, _ = made()
    rows = lists.cut_rows(draft, setting(), VALUES)
    assert [(row.piece, row.cloth, row.count) for row in rows] == [
        ("Brim", "twill", 1),
        ("Brim", "lawn", 1),
        ("Point", "twill", 1),
    ]
    assert "outer: " in rows[0].allowance
    assert rows[2].allowance.endswith("all round")


def test_cloth_is_bought_by_the_width() -> None:
    draft, lays = made()
    shell, lining = lists.cloth_rows(draft, lays, setting(), VALUES)
    assert shell.title == "twill"
    assert "150\u00a0cm" in shell.amounts[0]
    assert "112\u00a0cm" in lining.amounts[0]


def test_a_working_shows_its_formula_as_written() -> None:
    draft, _ = made()
    (rim,) = lists.working_rows(draft, VALUES)
    assert rim.formula == "head + tau * shell.thickness + 8 mm"
    assert "583\u00a0mm" in rim.result
