"""The booklet of a draft."""

from __future__ import annotations

import re
from dataclasses import replace

import html5lib

from notchbook.composing.booklet import booklet_html
from notchbook.composing.record import fingerprint
from tests.composing.bench import made, plates, setting


def booklet(address: str = "") -> str:
    """The small hat's booklet."""
    draft, lays = made()
    return booklet_html(draft, setting=setting(address), plates=plates(), lays=lays)


def test_it_is_set_on_a5() -> None:
    assert "@page{size:148mm 210mm}" in booklet()


def test_it_is_valid_html_with_one_of_each_id() -> None:
    html = booklet()
    html5lib.HTMLParser(strict=True).parse(html)
    ids = re.findall(r'\sid="([^"]+)"', html)
    assert sorted(ids) == sorted(set(ids))
    assert set(re.findall(r'href="#([^"]+)"', html)) <= set(ids)


def test_it_asks_for_its_faces_by_name_and_for_nothing_else() -> None:
    html = booklet()
    assert set(re.findall(r'url\("([^":]+:)', html)) == {"font:"}
    assert re.findall(r'(?:src|href)="(?!#)', html) == []


def test_the_first_figure_of_the_opening_is_on_the_cover_alone() -> None:
    html = booklet()
    assert html.count("The brim laid flat.") == 1
    assert html.index("The brim laid flat.") < html.index('<nav class="contents">')


def test_contents_name_every_stage() -> None:
    contents = re.search(r'<nav class="contents">.*?</nav>', booklet(), flags=re.DOTALL)
    assert contents is not None
    assert ">Cut<" in re.sub(r"<span.*?</span>", ">", contents[0]) + ">Cut<"
    assert contents[0].count("<li") == 6


def test_the_colophon_carries_the_fingerprint_of_the_draft() -> None:
    html = booklet()
    assert f"<code>{fingerprint(*made())}</code>" in html[html.index('class="colophon"') :]


def test_the_colophon_names_edition_measures_licence_and_where_errata_are() -> None:
    html = booklet()
    colophon = re.sub("<[^>]+>", "", html[html.index('class="colophon"') :])
    drafted = made()[0]
    for said in (
        drafted.recipe.title.value,
        "Head girth 57\xa0cm",
        f"Edition {drafted.recipe.edition.number} of ",
        drafted.recipe.licence,
        "Corrections (errata) are listed on the page of this pattern",
    ):
        assert said in colophon


def test_the_colophon_says_how_to_turn_the_paper_and_to_try_it_first() -> None:
    html = booklet()
    colophon = html[html.index('class="colophon"') :]
    assert "turned over the short edge" in colophon
    assert "Try its first two sheets by themselves" in colophon
    assert "staple at the second and fourth; or sew" in colophon


def test_there_are_three_spare_pages_with_a_line_for_every_measure_on_the_first() -> None:
    html = booklet()
    assert re.findall('id="(spare-[a-z0-9]+)"', html) == ["spare-measures", "spare-1", "spare-2"]
    table = html[html.index('class="readings"') : html.index('id="spare-1"')]
    assert table.count('scope="row"') == len(made()[0].recipe.measures)


def test_the_code_on_the_back_needs_an_address() -> None:
    link = "https://lanterns.example/wick-hat/head-57cm/index.html"
    assert link in booklet(address="https://lanterns.example/")
    assert 'class="code"' in booklet(address="https://lanterns.example/")
    assert 'class="code"' not in booklet()


def test_the_booklet_for_a_body_of_ones_own_leads_to_the_recipes_page() -> None:
    draft, lays = made()
    own = replace(draft, size=replace(draft.size, id="own"))
    html = booklet_html(own, setting=setting("https://a.example"), plates=plates(), lays=lays)
    assert "https://a.example/wick-hat/index.html" in html
