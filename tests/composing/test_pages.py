"""The pages of a site."""

from __future__ import annotations

import json
import re
from functools import cache
from xml.etree import ElementTree

import html5lib
import pytest

from notchbook.composing.lists import SizeEntry
from notchbook.composing.pages import (
    Download,
    Entry,
    Frame,
    Link,
    feed_xml,
    index_page,
    not_found_page,
    printing_page,
    recipe_page,
    site_assets,
    sitemap_xml,
    text_page,
)
from notchbook.composing.plates import draw_plates
from notchbook.drafting.engine import evaluate_in
from tests.composing.bench import FRONT, made, plates, setting

ADDRESS = "https://lanterns.example/patterns/"
ABOUT = Link("about.html", "About")
FRAME = Frame("../../", (ABOUT,))


def hat_page(address: str = "", frame: Frame = FRAME, front: str = FRONT) -> str:
    """The small hat's page in its middle size."""
    draft, lays = made(front)
    sizes = tuple(
        SizeEntry(
            size.id,
            size.title,
            f"../{size.id}/index.html",
            {
                name: evaluate_in(draft, size.measures.get(name, measure.usual))
                for name, measure in draft.recipe.measures.items()
            },
        )
        for size in draft.recipe.sizes
    )
    return recipe_page(
        draft,
        setting=setting(address),
        frame=frame,
        sizes=sizes,
        plates=plates() if front == FRONT else draw_plates(draft, setting()),
        lays=lays,
        downloads=(Download("sheets-a4.pdf", 9), Download("pattern.svg")),
    )


KINDS = ("recipe", "alone", "index", "empty index", "printing", "text", "missing")


@cache
def every_page() -> dict[str, str]:
    """One page of each kind."""
    draft, _ = made()
    frame = Frame()
    return {
        "recipe": hat_page(ADDRESS),
        "alone": hat_page(frame=Frame(alone=True)),
        "index": index_page((Entry(draft.recipe, 2.0),), setting=setting(), frame=frame),
        "empty index": index_page((), setting=setting(), frame=frame),
        "printing": printing_page(setting=setting(), frame=frame),
        "text": text_page(ABOUT, "Words & *more*.", setting=setting(), frame=frame),
        "missing": not_found_page(setting=setting(ADDRESS)),
    }


@pytest.mark.parametrize("kind", KINDS)
def test_every_page_is_valid_html_with_one_of_each_id(kind: str) -> None:
    html = every_page()[kind]
    html5lib.HTMLParser(strict=True).parse(html)
    ids = re.findall(r'\sid="([^"]+)"', html)
    assert sorted(ids) == sorted(set(ids))
    assert set(re.findall(r'href="#([^"]+)"', html)) <= set(ids)
    assert set(re.findall(r'aria-labelledby="([^" ]+)"', html)) <= set(ids)


@pytest.mark.parametrize("kind", KINDS)
def test_every_page_has_a_language_a_title_landmarks_and_one_main_heading(kind: str) -> None:
    html = every_page()[kind]
    assert '<html lang="en">' in html
    assert re.search("<title>.+</title>", html)
    assert html.count("<main") == html.count("<h1") == html.count('class="skip"') == 1


@pytest.mark.parametrize("kind", KINDS)
def test_no_page_asks_another_place_for_anything(kind: str) -> None:
    html = every_page()[kind]
    links = re.findall(r'(?:href|src)="([^"]+)"', html)
    outside = [link for link in links if re.match(r"(https?:)?//", link)]
    assert outside == []


def test_the_current_size_is_marked_and_the_others_are_links() -> None:
    html = hat_page()
    assert '<a href="../head-57cm/index.html" aria-current="page"><span class="q">' in html
    assert re.search(r'<a href="../head-56cm/index.html"><span .*56\u00a0cm.*22\u00a0in', html)


RUN = "sizes: {measure: head, from: 56 cm, to: 58 cm, step: 1 cm}\n"
TABLE = """\
sizes:
  s: {title: small, head: 55 cm, height: 28 cm}
  m: {title: middle, head: 57 cm, height: 30 cm}
"""


def test_sizes_with_names_are_chosen_by_them_and_show_all_they_differ_in() -> None:
    html = hat_page(front=FRONT.replace(RUN, TABLE))
    picker = html[html.index('<nav class="picker"') :].partition("</nav>")[0]
    assert "Choose your size: Head girth, Height" in picker
    words = " ".join(re.sub("<[^>]+>", "", picker).replace("\u00a0", " ").split())
    assert words.endswith("small 55 cm 21⅝ in 28 cm 11 in middle 57 cm 22½ in 30 cm 11¾ in")


def test_a_size_with_a_name_among_a_run_leaves_no_row_of_the_table_short() -> None:
    html = hat_page(front=FRONT.replace(RUN, RUN.replace("56 cm", "55 cm").replace("1 cm", "3 cm")))
    table = html[html.index('<table class="sizes named">') :].partition("</table>")[0]
    rows = re.findall("<tr.*?</tr>", table, flags=re.DOTALL)
    assert len(rows) == 4
    assert {len(re.findall("<t[hd]", row)) for row in rows} == {5}


def test_one_size_is_no_choice() -> None:
    html = hat_page(front=FRONT.replace(RUN, ""))
    assert "picker" not in html
    assert 'class="sizes' not in html


def test_only_what_a_recipe_says_of_itself_is_printed() -> None:
    bare = FRONT.replace("skill: beginner\n", "").replace("time: 2 h\n", "")
    bare = bare.replace("tags: [hat]\n", "tags: [hat, for wind]\n")
    draft, _ = made(bare)
    index = index_page((Entry(draft.recipe),), setting=setting(), frame=Frame())
    for html in (hat_page(front=bare), index):
        facts = "".join(re.findall('<dl class="particulars">.*?</dl>', html, flags=re.DOTALL))
        assert "<dt>For</dt>" not in facts
        assert "<dt>Time</dt>" not in facts
        assert "<dt>Kind</dt><dd>hat, for wind</dd>" in facts
    assert "<dt>Cloth</dt><dd>twill, lawn</dd>" in index


def test_downloads_stand_beside_the_page_with_their_number_of_pages() -> None:
    html = hat_page()
    assert '<a href="sheets-a4.pdf">Pattern sheets for A4, full size</a>' in html
    assert "9 pages" in html
    assert '<a href="pattern.svg">' in html


def test_units_can_be_chosen_without_a_script() -> None:
    html = hat_page()
    assert re.findall(r'name="units" id="units-(\w+)"', html) == ["both", "metric", "inch"]
    style = site_assets(setting())["assets/site.css"]
    assert ":root:has(#units-metric:checked) .q > .in" in style


def test_the_words_of_an_author_are_escaped() -> None:
    assert "Sew &amp; wear" in hat_page()


def test_cautions_stand_at_their_step_and_the_rules_come_once() -> None:
    html = hat_page().partition("<main")[2]
    assert html.count("Local rules and the material’s own instructions come first.") == 1
    assert html.index('role="note"') < html.index("Cut along")


def test_every_table_has_a_caption_and_scoped_heads() -> None:
    tables = re.findall(r"<table class=.*?</table>", hat_page(), flags=re.DOTALL)
    assert len(tables) == 4
    for table in tables:
        assert "<caption>" in table
        assert re.findall(r"<th(?! scope)\b(?!ead)", table) == []


def test_a_draft_alone_has_no_index_to_go_back_to() -> None:
    html = hat_page(frame=Frame(alone=True))
    assert "index.html" not in re.sub(r"\.\./head[^\"]+", "", html)
    assert 'href="printing.html"' in html


def test_a_missing_page_links_from_any_depth_where_the_address_is_known() -> None:
    html = not_found_page(setting=setting(ADDRESS))
    assert 'href="/patterns/assets/site.css"' in html
    assert 'href="/patterns/index.html"' in html


def test_a_missing_page_that_cannot_know_its_depth_has_no_links_and_its_own_style() -> None:
    html = not_found_page(setting=setting(), texts=(Link("about.html", "About"),))
    assert re.findall(r'(?:href|src)="(?!#|data:)', html) == []
    assert "--ink:#1d1a17" in html


def test_machines_read_the_recipe_too() -> None:
    html = hat_page()
    (text,) = re.findall(r'<script type="application/ld\+json">(.*?)</script>', html)
    facts = json.loads(text)
    assert facts["@type"] == "HowTo"
    assert [supply["name"] for supply in facts["supply"]] == ["twill", "lawn", "brim wire"]
    (cut, sew) = facts["step"]
    assert (cut["name"], sew["name"]) == ("Cut", "Sew & wear")
    step = cut["itemListElement"][0]
    assert step["text"] == "Cut along 583 mm (23 in) at 57 cm (22½ in)."
    assert f'id="{step["url"][1:]}"' in html


def test_a_text_pages_headings_begin_below_its_title() -> None:
    html = text_page(ABOUT, "### One\n\n##### Two", setting=setting(), frame=Frame())
    assert "<h2>One</h2>" in html
    assert "<h3>Two</h3>" in html


def test_a_text_page_is_marked_as_the_current_one() -> None:
    frame = Frame("", (ABOUT, Link("bench.html", "Bench")))
    html = text_page(ABOUT, "Words.", setting=setting(), frame=frame)
    assert html.count('aria-current="page"') == 1
    assert '<a href="about.html" aria-current="page">About</a>' in html


def test_the_feed_is_atom_with_an_entry_for_each_edition() -> None:
    draft, _ = made()
    feed = ElementTree.fromstring(feed_xml((draft.recipe,), setting=setting(ADDRESS)))
    atom = "{http://www.w3.org/2005/Atom}"
    assert feed.findtext(f"{atom}updated") == "2026-11-24T00:00:00Z"
    (entry,) = feed.findall(f"{atom}entry")
    assert entry.findtext(f"{atom}id") == f"{ADDRESS}wick-hat/index.html#edition-1"
    assert 'id="edition-1"' in hat_page()


def test_the_sitemap_lists_pages_by_their_address() -> None:
    text = sitemap_xml(("index.html", "a/index.html"), setting=setting(ADDRESS))
    places = [loc.text for loc in ElementTree.fromstring(text).iter() if loc.tag.endswith("loc")]
    assert places == [f"{ADDRESS}a/index.html", f"{ADDRESS}index.html"]


def test_the_style_sheet_names_every_face_and_both_schemes() -> None:
    style = site_assets(setting())["assets/site.css"]
    faces = setting().typefaces
    for face in (*faces.text, *faces.label, *faces.others):
        assert f'src:url("fonts/{face.file}")' in style
    assert "@media screen and (prefers-color-scheme:dark)" in style


def contrast(first: str, second: str) -> float:
    """WCAG 2.2 contrast ratio of two ``#rrggbb`` colours."""

    def luminance(colour: str) -> float:
        parts = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
        red, green, blue = (
            part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
        )
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    low, high = sorted((luminance(first), luminance(second)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("scheme", ["", "dark."])
@pytest.mark.parametrize("ground", ["paper", "plate", "wash"])
@pytest.mark.parametrize("ink", ["ink", "quiet", "rubric"])
def test_every_ink_is_readable_on_every_ground(scheme: str, ground: str, ink: str) -> None:
    tokens = setting().theme.tokens
    assert contrast(tokens[scheme + ink], tokens[scheme + ground]) >= 4.5


def test_every_word_a_template_asks_for_is_in_the_catalogue() -> None:
    words = setting().catalogue.words
    for name, template in setting().theme.templates.items():
        for key in re.findall(r'say\("([a-z0-9.-]+)"[,)]', template):
            assert key in words, (name, key)
        for key in re.findall(r'say_count\("([a-z0-9.-]+)"', template):
            assert {f"{key}.one", f"{key}.other"} <= set(words), (name, key)
