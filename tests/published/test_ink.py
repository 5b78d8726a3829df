"""Lines and type on every kind of page, read back from the printed file: nothing is finer or
smaller than any printer shows, and everything is black."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import cast

import pytest

from notchbook.composing import symbols
from notchbook.composing.nest import nest
from notchbook.composing.paper import PAPERS
from notchbook.composing.sheets import document
from notchbook.composing.symbols import SMALLEST, THINNEST, Pen
from notchbook.drafting.engine import draft
from notchbook.pressing.nested import nest_pdf
from tests.lined import ALONG, BODY, PIECES
from tests.published.ink import BLACK, WHITE, Ink, ink
from tests.published.written import print_sheets, printer, read, setting
from tests.recipes import STRIP, text_of

POUCH = text_of(STRIP + (PIECES % ALONG).replace("40 cm", "20 cm"), BODY)

PAGES = ("a4", "letter", "a3", "a0", "roll", "projection", "nest")


def page(kind: str) -> bytes:
    if kind != "nest":
        return print_sheets(POUCH, paper=PAPERS[kind])
    recipe = read(POUCH)
    return nest_pdf(nest([draft(recipe, s) for s in recipe.sizes], setting()), setting(), printer())


def unseen(found: Iterable[Ink]) -> set[tuple[str, float]]:
    """What is finer or smaller than the limits by more than PDF's own rounding, mm."""
    least = {"line": THINNEST, "type": SMALLEST, "area": 0.0}
    return {(each.kind, each.size) for each in found if each.size < least[each.kind] - 0.0015}


@pytest.mark.parametrize("kind", PAGES)
def test_lines_type_and_contrast_are_what_any_printer_shows(kind: str) -> None:
    found = list(ink(page(kind)))
    assert sum(each.kind == "line" for each in found) >= 20
    assert sum(each.kind == "type" for each in found) >= 15
    assert not unseen(found)
    assert {each.colour for each in found} <= {BLACK, WHITE}
    assert {each.colour for each in found if each.kind == "type"} == {BLACK}


def test_lines_and_type_one_per_cent_finer_are_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    pens = cast(dict[str, Pen], symbols.PENS)
    monkeypatch.setitem(pens, "leader", replace(pens["leader"], width=THINNEST * 0.99))
    monkeypatch.setattr(document, "SMALLEST", SMALLEST * 0.99)
    assert {kind for kind, _ in unseen(ink(page("a0")))} == {"line", "type"}
