"""Pages to take along."""

from __future__ import annotations

from dataclasses import replace

from notchbook.composing.errands import Member, class_html, list_html
from notchbook.composing.numbers import cloth
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
