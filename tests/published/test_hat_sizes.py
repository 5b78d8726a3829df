"""Hat numbers in the size table of a recipe's page (common practice): the metric size is the girth
in centimetres, the US size the girth in inches ÷ π to the nearest eighth, the UK size an eighth
less."""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from unicodedata import numeric

import html5lib
import pytest

from notchbook.composing import lists
from tests.published.checks import INCH
from tests.published.written import page
from tests.recipes import HAT, HEAD, text_of

KNOWN = {"56 cm": "7", "57 cm": "7⅛", "58 cm": "7¼", "60 cm": "7½"}
"""US sizes as hatters list them."""

BETWEEN = {"56.3 cm": "7", "56.4 cm": "7⅛", "57.3 cm": "7⅛", "57.4 cm": "7¼", "58.3 cm": "7¼"}
"""Girths just before and after a number changes: 7 1/16 in × π is 56.36 cm."""

Row = tuple[Fraction, Fraction, Fraction]
"""Metric, US and UK size."""


def table(girths: Mapping[str, str], factor: float = 1) -> dict[str, Row]:
    """The hat numbers on the page of a recipe with a size for each girth."""
    sizes = "".join(f"  head-{k}: {{head: {girth} * {factor}}}\n" for k, girth in enumerate(girths))
    run = "sizes: {measure: head, from: 56 cm, to: 58 cm, step: 1 cm}\n"
    assert run in HEAD
    front = HEAD.replace(run, f"sizes:\n{sizes}")
    front = front.replace("title: Head girth\n", "title: Head girth\n    numbers: hat\n")
    text = text_of(front + HAT)
    html = html5lib.parse(page(text), namespaceHTMLElements=False)
    tables = (table for table in html.iter("table") if "sizes" in table.get("class", "").split())
    (body,) = (body for table in tables for body in table.iterfind("tbody"))
    # The usual size comes first where the recipe gives it no name.
    rows = [["".join(cell.itertext()) for cell in row] for row in body][-len(girths) :]
    return {
        girth: (number(metric), number(us), number(uk))
        for girth, (*_, metric, us, uk) in zip(girths, rows, strict=True)
    }


def number(text: str) -> Fraction:
    """``7⅛`` or ``57.5``."""
    whole = text.rstrip("⅛¼⅜½⅝¾⅞")
    return Fraction(whole or 0) + sum(Fraction(numeric(part)) for part in text[len(whole) :])


def as_published(rows: Mapping[str, Row], published: Mapping[str, str]) -> bool:
    """Whether every row has the published US size, an eighth less for the UK, and the girth."""
    eighth = Fraction(1, 8)
    return all(
        rows[girth][1:] == (number(us), number(us) - eighth)
        and abs(float(rows[girth][0]) - float(girth.removesuffix(" cm"))) <= 0.25
        for girth, us in published.items()
    )


@pytest.mark.parametrize("published", [KNOWN, BETWEEN])
def test_the_size_table_has_the_numbers_hatters_list(published: Mapping[str, str]) -> None:
    assert as_published(table(published), published)


def test_the_numbers_between_follow_the_rule() -> None:
    for girth, us in BETWEEN.items():
        inches = float(girth.removesuffix(" cm")) / 2.54 / math.pi
        assert abs(inches - float(number(us))) < 1 / 16


@pytest.mark.parametrize("factor", [1.01, 0.99])
def test_girths_off_by_one_per_cent_are_noticed(factor: float) -> None:
    assert not as_published(table(KNOWN, factor), KNOWN)


@pytest.mark.parametrize("factor", [1.01, 0.99])
def test_an_inch_off_by_one_per_cent_is_noticed(
    factor: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lists, "INCH", INCH * factor)
    assert not as_published(table(BETWEEN), BETWEEN)
