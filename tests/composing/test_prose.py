"""The author's Markdown as HTML."""

from __future__ import annotations

import re

import pytest
from markupsafe import Markup

from notchbook.composing.prose import markdown_html, press_type, prose_html
from notchbook.problems import Place
from notchbook.reading.formula import Formula, Number
from notchbook.reading.quantity import Quantity
from notchbook.reading.recipe import Inline, Picture, Prose

HERE = Place("recipe.md", 1, 1)
RIM = Formula("rim", Number(Quantity(1.0), HERE), HERE)


def set_in_type(*parts: str | Inline | Picture) -> str:
    """Prose whose values all read ``144 mm``."""
    return prose_html(
        Prose(parts, HERE),
        press_type(),
        value=lambda formula: Markup('<span class="q">144 mm</span>'),
        picture=lambda picture: Markup('<img src="{}" alt="{}">').format(picture.path, picture.alt),
    )


def test_a_value_stands_where_its_formula_stood() -> None:
    html = set_in_type("Cut **", Inline(RIM), "** of tape.")
    assert html == '<p>Cut <strong><span class="q">144 mm</span></strong> of tape.</p>'


def test_a_value_in_a_table_stays_in_its_cell() -> None:
    html = set_in_type("| a |\n|---|\n| ", Inline(RIM), " |\n")
    assert '<th scope="col">a</th>' in html
    assert '<td data-name="a"><span class="q">144 mm</span></td>' in html


def test_every_cell_knows_the_name_of_its_column() -> None:
    html = markdown_html("| *Sign* | A & b |\n|---|--:|\n| 1 | 2 |\n| 3 | 4 |", press_type())
    cells = re.findall(r'<td.*?data-name="([^"]*)".*?>(.)</td>', html)
    assert cells == [("Sign", "1"), ("A &amp; b", "2"), ("Sign", "3"), ("A &amp; b", "4")]


@pytest.mark.parametrize(("columns", "broad"), [(4, False), (5, True)])
def test_a_table_too_broad_for_a_booklet_says_so(columns: int, broad: bool) -> None:
    row, rule = "| a " * columns + "|\n", "|---" * columns + "|\n"
    assert ('<table class="broad">' in set_in_type(row + rule + row)) == broad


def test_a_value_in_the_head_of_a_table_does_not_break_its_cells() -> None:
    html = set_in_type("| at ", Inline(RIM), " |\n|---|\n| x |\n")
    assert '<td data-name="at">x</td>' in html


@pytest.mark.parametrize(
    ("text", "levels"),
    [
        ("# A\n\n# B", [3, 3]),
        ("### A\n\n#### B\n\n### C", [3, 4, 3]),
        ("## A\n\n#### B\n\n### C", [3, 4, 4]),
        ("#### A\n\n## B\n\n###### C", [3, 3, 4]),
    ],
)
def test_headings_leave_out_no_level(text: str, levels: list[int]) -> None:
    html = markdown_html(text, press_type())
    assert [int(level) for level in re.findall(r"<h(\d)>", html)] == levels
    assert re.findall(r"</h(\d)>", html) == [str(level) for level in levels]


def test_a_number_stays_with_its_unit() -> None:
    assert "30\u00a0cm ruler, 5 cushions" in set_in_type("a 30 cm ruler, 5 cushions")


def test_a_picture_keeps_its_words() -> None:
    html = set_in_type(Picture("a b.jpg", 'the "edge"', HERE))
    assert html == '<p><img src="a b.jpg" alt="the &#34;edge&#34;"></p>'


def test_quotation_marks_in_prose_are_printers_ones() -> None:
    assert "“so” it’s" in markdown_html('"so" it\'s', press_type()).replace("&ldquo;", "“").replace(
        "&rdquo;", "”"
    ).replace("&rsquo;", "’")


def test_html_in_the_text_is_shown_and_never_passed_on() -> None:
    html = set_in_type("<script>x</script>\n\na <b>bold</b> word")
    assert "<script" not in html
    assert "<b>" not in html
    assert "&lt;b&gt;" in html


def test_one_converter_serves_a_whole_page() -> None:
    converter = press_type()
    first = markdown_html("*a*", converter)
    assert markdown_html("*a*", converter) == first == "<p><em>a</em></p>"
