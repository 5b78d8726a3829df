"""Values in HTML."""

from __future__ import annotations

from markupsafe import Markup

from notchbook.composing.numbers import Pair
from notchbook.composing.values import Values, curled, day, words
from notchbook.reading.quantity import LENGTH, Quantity


def test_both_unit_systems_stand_side_by_side_the_workshops_own_first() -> None:
    pair = Pair("144 mm", "5⅝ in")
    assert Values("metric").pair(pair) == (
        '<span class="q"><span class="mm">144 mm</span> <span class="in">5⅝ in</span></span>'
    )
    assert Values("inch").pair(pair).startswith('<span class="q"><span class="in">')


def test_a_value_with_one_way_to_write_it_is_one_span() -> None:
    assert Values("metric").pair(Pair("7 h", "7 h")) == '<span class="q">7 h</span>'


def test_a_span_says_its_unit_once() -> None:
    html = Values("metric").span(Quantity(520.0, LENGTH), Quantity(660.0, LENGTH))
    assert "52–66\u00a0cm" in html
    assert "20½–26\u00a0in" in html


def test_words_escape_what_is_plain_and_keep_what_is_markup() -> None:
    html = words("{a} & {b}", a="<i>", b=Markup("<b>x</b>"))
    assert html == "&lt;i&gt; &amp; <b>x</b>"


def test_straight_quotation_marks_become_printers_ones() -> None:
    assert curled('the maker\'s "best" \'hat\' ("so")') == "the maker’s “best” ‘hat’ (“so”)"
    assert curled(Markup('<a href="x">')) == '<a href="x">'
    assert curled(12) == 12


def test_a_date_is_written_out() -> None:
    months = "January February March April May June July August September October November December"
    catalogue = {"date": "{day} {month} {year}", "date.months": months}
    assert day("2026-11-04", catalogue) == "4 November 2026"
