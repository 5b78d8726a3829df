"""Pages to take along."""

from __future__ import annotations

import math
import re
from dataclasses import replace

from notchbook.composing.errands import Member, class_html, list_html
from notchbook.composing.numbers import cloth
from notchbook.drafting.thread import thread
from notchbook.reading.quantity import LENGTH, RATIO, Quantity
from tests.composing.bench import made, setting


def test_everything_to_buy_and_to_cut_has_a_box_to_tick() -> None:
    draft, lays = made()
    html = list_html(draft, lays, setting())
    cuts = sum(len(piece.counts) for piece in draft.pieces.values())
    recipe = draft.recipe
    bought = len(recipe.cloths) + len(recipe.notions) + len(recipe.tools) + 2  # threads
    assert html.count('class="tick"') == cuts + bought
    assert "Brim (lawn)" in html


def test_a_class_has_a_row_for_each_and_its_sum_is_rounded_once() -> None:
    draft, lays = made()
    lays = tuple(replace(lay, need=201.0) for lay in lays)
    members = [Member(name, draft, lays) for name in ("Adda", "Beric", "Corro")]
    html = class_html(members, setting())
    assert all(html.count(f"</span>{name}</th>") == 3 for name in ("Adda", "Beric", "Corro"))
    assert cloth(201.0).metric == "25\u00a0cm" and cloth(603.0).metric == "65\u00a0cm"
    assert html.count("65\u00a0cm") == len(lays)
    assert "75\u00a0cm" not in html
    assert "What to buy for 3 people" in html


def columns(members: list[Member]) -> dict[str, list[str]]:
    """What is printed in metric units in every column of a class's page, by the column's words."""
    found = {}
    for table in re.findall(r"<table>.*?</table>", class_html(members, setting()), re.DOTALL):
        rows = [re.findall(r"<t[hd].*?</t[hd]>", row, re.DOTALL) for row in table.split("<tr")[1:]]
        for head, *cells in zip(*rows, strict=True):
            title = " ".join(re.sub(r"<[^>]*>", "", head).split())
            found[title] = [part for cell in cells for part in re.findall(r'"mm">(.*?)<', cell)]
    return found


def test_lengths_in_a_column_are_in_one_unit_and_add_up_as_they_are_printed() -> None:
    draft, lays = made()
    title = draft.recipe.notions["wire"].title.value

    def told(*lengths: float) -> list[str]:
        each = [replace(draft, notions={"wire": Quantity(mm, LENGTH)}) for mm in lengths]
        return columns([Member("Adda", one, lays) for one in each])[title]

    # The lengths themselves make 214 mm.
    assert told(64.4, 64.4, 85.4) == [f"{cm}\u00a0cm" for cm in ("6.4", "6.4", "8.5", "21.3")]
    assert told(305, 64) == [f"{cm}\u00a0cm" for cm in ("30.5", "6.4", "36.9")]
    assert told(20, 30) == [f"{mm}\u00a0mm" for mm in (20, 30, 50)]


def test_the_sum_of_the_thread_is_that_of_the_printed_lengths() -> None:
    draft, lays = made()
    members = [Member(f"Hand {number}", draft, lays) for number in range(50)]
    title = setting().catalogue.words["list.thread.lockstitch"]
    *each, total = (int(cell.split("\u00a0")[0]) for cell in columns(members)[title])
    assert math.ceil(50 * thread(draft).lockstitch / 1000) < total  # or this would show nothing
    assert sum(each) == total


def test_what_is_counted_says_how_many_each_and_how_many_in_all() -> None:
    draft, lays = made()
    title = draft.recipe.notions["wire"].title.value

    def told(*counts: float) -> str:
        each = [replace(draft, notions={"wire": Quantity(n, RATIO)}) for n in counts]
        html = class_html([Member("Adda", one, lays) for one in each], setting())
        row = html.partition(f'"what">{title}<')[2].partition("</li>")[0]
        return " ".join(re.sub(r"<[^>]*>?", " ", row).split()).removeprefix("/span> ")

    assert told(1, 1) == "1 each, 2 in all"
    assert told(1, 1, 2) == "4 in all"
