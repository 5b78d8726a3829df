"""The demo site as it lies on disk: every file listed; every page valid, whole, and with every link
leading somewhere."""

from __future__ import annotations

import hashlib
import json
import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path
from urllib.parse import unquote, urlsplit
from xml.etree.ElementTree import Element

import html5lib
import pytest

HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")
# HTML's content models, as far as a parser lets them pass.
PHRASES = {"p", "span", "label", "legend", "code", "strong", "em", "time", "dt", "caption"}
BLOCKS = {"div", "p", "ul", "ol", "dl", "table", "section", "article", "nav", "header", "footer"}
BLOCKS |= {"figure", "fieldset", "details", "li", *HEADINGS}
CHILDREN = {
    "ul": {"li"},
    "ol": {"li"},
    "dl": {"dt", "dd", "div"},
    "table": {"caption", "thead", "tbody"},
    "tr": {"th", "td"},
}


@cache
def parsed(page: Path) -> tuple[Element, tuple[object, ...]]:
    """A page's tree and what is wrong with its markup."""
    parser = html5lib.HTMLParser(namespaceHTMLElements=False)
    return parser.parse(page.read_text()), tuple(parser.errors)


@cache
def ids(page: Path) -> Counter[str]:
    """The ids of a page, counted."""
    return Counter(e.attrib["id"] for e in parsed(page)[0].iter() if "id" in e.attrib)


@pytest.fixture(scope="module")
def pages(demo_site: Path) -> list[Path]:
    """Every page of the site."""
    found = sorted(demo_site.rglob("*.html"))
    assert len(found) >= 8
    return found


def links(page: Path) -> Iterator[tuple[str, str]]:
    """Everything a page refers to: the attribute and its value."""
    for element in parsed(page)[0].iter():
        for name in ("href", "src"):
            if name in element.attrib:
                yield name, element.attrib[name]


def text(element: Element) -> str:
    return " ".join("".join(element.itertext()).split())


def test_the_list_names_every_file_with_its_hash(demo_site: Path) -> None:
    listed = json.loads((demo_site / "impression.json").read_text())["files"]
    on_disk = {
        path.relative_to(demo_site).as_posix(): path.read_bytes()
        for path in demo_site.rglob("*")
        if path.is_file() and path.name != "impression.json"
    }
    assert {path: entry["sha256"] for path, entry in listed.items()} == {
        path: hashlib.sha256(data).hexdigest() for path, data in on_disk.items()
    }


def test_every_page_is_valid(pages: list[Path]) -> None:
    for page in pages:
        tree, errors = parsed(page)
        assert errors == (), page
        assert tree.tag == "html"
        assert tree.get("lang") == "en"
        assert [id for id, count in ids(page).items() if count > 1] == [], page


def test_elements_hold_only_what_html_lets_them_hold(pages: list[Path]) -> None:
    for page in pages:
        for element in parsed(page)[0].iter():
            inside = {child.tag for child in element if isinstance(child.tag, str)}
            if element.tag in CHILDREN:
                assert inside <= CHILDREN[element.tag], (page, element.tag)
            if element.tag in PHRASES or element.tag in HEADINGS:
                deep = {e.tag for e in element.iter() if e is not element}
                assert not deep & BLOCKS, (page, element.tag, text(element))
            if element.tag == "dl":
                for group in element.findall("div"):
                    tags = [child.tag for child in group]
                    assert re.fullmatch("(dt)+(dd)+", "".join(tags)), (page, text(group))


def test_headings_are_one_title_and_no_level_left_out(pages: list[Path]) -> None:
    for page in pages:
        levels = [int(e.tag[1]) for e in parsed(page)[0].iter() if e.tag in HEADINGS]
        assert levels.count(1) == 1, page
        assert levels[0] == 1, page
        for above, below in pairwise(levels):
            assert below <= above + 1, (page, levels)


def test_every_picture_has_a_name(pages: list[Path]) -> None:
    drawings = 0
    for page in pages:
        tree = parsed(page)[0]
        for picture in tree.iter("img"):
            assert (picture.get("alt") or "").strip()
        by_id = {e.attrib["id"]: e for e in tree.iter() if "id" in e.attrib}
        for drawing in (e for e in tree.iter() if str(e.tag).endswith("svg")):
            drawings += 1
            assert drawing.get("role") == "img", page
            names = (drawing.get("aria-labelledby") or "").split()
            assert names, page
            assert all(text(by_id[name]) for name in names), page
    assert drawings > 40


def test_every_name_an_element_refers_to_is_there(pages: list[Path]) -> None:
    for page in pages:
        for element in parsed(page)[0].iter():
            for name in ("aria-labelledby", "aria-describedby", "for", "headers"):
                for id in element.attrib.get(name, "").split():
                    assert id in ids(page), (page, name, id)


def test_every_link_leads_to_a_file_and_a_place_in_it(pages: list[Path], demo_site: Path) -> None:
    reached = {demo_site / "index.html", demo_site / "404.html"}
    for page in pages:
        for name, link in links(page):
            address = urlsplit(link)
            if address.scheme == "data":
                continue
            assert not address.scheme and not address.netloc, (page, link)
            assert not address.path.startswith("/"), (page, link)
            target = (page.parent / unquote(address.path)).resolve() if address.path else page
            assert target.is_file(), (page, name, link)
            reached.add(target)
            if address.fragment:
                assert unquote(address.fragment) in ids(target), (page, link)
    assert reached >= set(pages)


def test_everything_the_style_sheet_asks_for_is_beside_it(demo_site: Path) -> None:
    sheet = demo_site / "assets/site.css"
    addresses = re.findall(r'url\("?([^")]+)"?\)', sheet.read_text())
    assert len(addresses) >= 6
    for address in addresses:
        assert (sheet.parent / address).is_file()
    assert "@import" not in sheet.read_text()


def test_the_faces_come_with_their_licences(demo_site: Path) -> None:
    fonts = demo_site / "assets/fonts"
    assert {path.suffix for path in fonts.iterdir()} == {".woff2", ".txt"}
    for licence in fonts.glob("*.txt"):
        assert "SIL OPEN FONT LICENSE" in licence.read_text().upper()


def test_machines_can_read_what_a_recipe_makes_of_what_in_which_steps(pages: list[Path]) -> None:
    recipes = [page for page in pages if "lamplighters-hat" in page.parts]
    assert len(recipes) == 1 + 1
    for page in recipes:
        (script,) = (
            e for e in parsed(page)[0].iter("script") if e.get("type") == "application/ld+json"
        )
        facts = json.loads(script.text or "")
        assert facts["@context"] == "https://schema.org"
        assert facts["@type"] == "HowTo"
        assert facts["name"] == "Lamplighter's hat"
        assert facts["totalTime"] == "PT450M"
        assert {"firm cotton twill", "brim wire 1.2 mm (0.047 in) thick, hard spring steel"} <= {
            supply["name"] for supply in facts["supply"]
        }
        assert facts["tool"]
        steps = [step for stage in facts["step"] for step in stage["itemListElement"]]
        assert len(steps) > 30
        for step in steps:
            assert step["url"].removeprefix("#") in ids(page)
            assert step["text"]
            assert "<" not in step["text"]
