"""The lists of a recipe."""

from __future__ import annotations

from dataclasses import replace

import pytest

from notchbook.composing import lists
from notchbook.composing.lists import SizeEntry
from notchbook.composing.meeting import counted, seam_rows
from notchbook.composing.values import Values
from notchbook.drafting.engine import evaluate_in
from notchbook.reading.formula import parse
from notchbook.reading.quantity import LENGTH, Quantity
from tests.composing.bench import FRONT, made, setting
from tests.recipes import STEPS

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


def test_what_is_said_of_cloths_fits_how_they_are_sold_and_whether_they_shrink() -> None:
    draft, _ = made()
    (name, cloth), *_ = draft.recipe.cloths.items()

    def notes(widths: tuple[str, ...], shrinkage: str) -> str:
        sold = tuple(parse(width, cloth.place) for width in widths)
        changed = replace(cloth, widths=sold, shrinkage=parse(shrinkage, cloth.place))
        recipe = replace(draft.recipe, cloths={name: changed})
        return " ".join(lists.cloth_notes(replace(draft, recipe=recipe), setting()))

    assert notes(("90 cm",), "0 %") == ""
    assert "buy one" in notes(("90 cm", "112 cm"), "0 %")
    shrinks = notes(("90 cm",), "4 %")
    assert f"as its maker says: {cloth.title}." in shrinks
    assert "buy one" not in shrinks


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
    assert all(row.hats for row in rows)
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
    sides = [edges for row in seam_rows(draft, setting(), VALUES) for edges, _, _ in row.sides]
    assert "Point, rim" in sides
    assert "Brim (twill), inner" in sides


def test_the_cutting_list_has_a_row_for_each_piece_and_cloth() -> None:
    draft, _ = made()
    rows = lists.cut_rows(draft, setting(), VALUES)
    assert [(row.piece, row.cloth, int(row.count)) for row in rows] == [
        ("Brim", "twill", 1),
        ("Brim", "lawn", 1),
        ("Point", "twill", 1),
    ]
    assert "outer: " in rows[0].allowance
    assert rows[2].allowance.endswith("all round")


def test_a_working_shows_its_formula_as_written() -> None:
    draft, _ = made()
    (rim,) = lists.working_rows(draft, VALUES)
    assert rim.formula == "head + tau * shell.thickness + 8 mm"
    assert "583\u00a0mm" in rim.result


def test_hat_numbers_are_for_recipes_that_ask_for_them() -> None:
    renamed = FRONT.replace("head:", "girth:").replace("measure: head", "measure: girth")
    asked = renamed.replace("rim: head", "rim: girth")
    for front, wanted in ((asked, True), (asked.replace("    numbers: hat\n", ""), False)):
        draft, _ = made(front, STEPS)
        measures = {name: draft.values[name] for name in draft.recipe.measures}
        (row,) = lists.size_rows(draft, (SizeEntry("m", "m", "", measures),), VALUES)
        assert bool(row.hats) == wanted


def test_an_angle_among_the_workings_is_in_degrees() -> None:
    front = FRONT.replace("workings:\n", "workings:\n  lean: atan(1 / 3)\n")
    (lean, _) = lists.working_rows(made(front, STEPS)[0], VALUES)
    assert "18.5°" in lean.result


def test_edges_that_follow_themselves_are_counted() -> None:
    assert list(counted(["Pane, base"] * 6 + ["Band, top"])) == ["6 × Pane, base", "Band, top"]
