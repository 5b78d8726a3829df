"""Everybody can read it: axe, keyboards, small screens, large letters."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, ViewportSize

from tests.browser.conftest import Open
from tests.browser.pages import KINDS, NAMED, RECIPE

SCREENS = {"desktop": (1280, 900), "phone": (390, 844)}
SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")

# axe has more rules than it runs unasked: 2.5.8, the size of what is touched, is one.
TOLD = {"resultTypes": ["violations", "incomplete"]}  # what passes is not listed, which is quick
LAYOUT: Mapping[str, object] = {
    "rules": {"target-size": {"enabled": True}, "color-contrast": {"enabled": False}},
    **TOLD,
}
COLOURS: Mapping[str, object] = {
    "runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]},
    **TOLD,
}

INCOMPLETE: Mapping[str, str] = {
    "color-contrast": "Letters of the picker stand on drawn lines and gradients, whose ground axe "
    "can't tell. They are set in the theme's own inks, and tests/composing/test_pages.py proves "
    "every ink readable on every ground.",
}
"""What axe can't decide by itself, and why it is right here."""

UNDECIDED = "selectors => selectors.filter(s => !document.querySelector(s).closest('.tape'))"

WHOLE = "html"
KINDS_AND_PARTS = [
    # A page of named sizes is a recipe's page with another picker and table.
    (kind, ".picker, .sizes" if kind == "named sizes" else WHOLE)
    for kind in KINDS
]


LIFT = """() => {
    lifted = [...document.querySelectorAll('svg > :not(title, desc)')].map(e => [e.parentNode, e]);
    for (const [, e] of lifted) e.remove();
}"""
PUT_BACK = "() => { for (const [parent, e] of lifted) parent.append(e) }"


def asked(page: Page, rules: Mapping[str, object], part: str = WHOLE) -> Mapping[str, list[Any]]:
    """What axe says of a part of a page by these rules.

    Drawings are empty meanwhile but for their names. Their letters are looked at elsewhere: of
    their ground axe can tell nothing.
    """
    page.evaluate(LIFT)
    looked_at = {"include": [[one] for one in part.split(", ")]}
    said: Mapping[str, list[Any]] = Axe().run(page, context=looked_at, options=dict(rules)).response
    page.evaluate(PUT_BACK)
    return said


def examine(page: Page, rules: Mapping[str, object], part: str = WHOLE) -> set[str]:
    """The rules that axe tried on a part of a page and found kept, all else as ``INCOMPLETE``
    says."""
    found = asked(page, rules, part)
    assert [(rule["id"], rule["nodes"][0]["html"]) for rule in found["violations"]] == []
    for rule in found["incomplete"]:
        assert rule["id"] in INCOMPLETE
        assert page.evaluate(UNDECIDED, [node["target"][0] for node in rule["nodes"]]) == []
    return {rule["id"] for outcome in ("passes", "incomplete") for rule in found[outcome]}


FIRSTS = "[data-first-of-its-kind]"
MARK = """part => {
    const [walker, seen] = [document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), {}];
    for (const e of document.querySelectorAll('[data-first-of-its-kind]'))
        e.removeAttribute('data-first-of-its-kind');
    for (let node; node = walker.nextNode();) {
        const parent = node.parentElement, style = getComputedStyle(parent);
        if (!node.data.trim() || !parent.closest(part) || parent.closest('svg')) continue;
        if (!parent.checkVisibility()) continue;
        const kind = [parent.tagName, style.color, style.fontSize, style.fontWeight];
        for (let e = parent; e; e = e.parentElement) {
            const ground = getComputedStyle(e);
            kind.push(ground.backgroundColor, ground.backgroundImage, ground.opacity);
        }
        if (!(kind in seen)) parent.setAttribute('data-first-of-its-kind', '');
        seen[kind] = true;
    }
}"""
"""Of all words of one ink, size and weight on one ground, marks the first."""


def firsts(page: Page, part: str = WHOLE) -> str:
    """What has the first words of every kind: axe takes its time with colours."""
    page.evaluate(MARK, part)
    return FIRSTS


UNDECIDED_INKS = """[
    [...document.querySelectorAll('svg text')].map(e => getComputedStyle(e).fill)
        .concat([...document.querySelectorAll('.tape a:not([aria-current])')]
        .map(e => getComputedStyle(e).color)),
    getComputedStyle(document.body).color]"""
"""The inks of letters of drawings and of the picker, and that of the page's words."""


def lettered_as_words_are(page: Page) -> bool:
    """Whether what axe can't tell is set in the ink of the page's words."""
    inks, words = page.evaluate(UNDECIDED_INKS)
    return set(inks) <= {words}


def wide(screen: str) -> ViewportSize:
    width, height = SCREENS[screen]
    return {"width": width, "height": height}


@pytest.mark.parametrize(("kind", "part"), KINDS_AND_PARTS)
def test_axe_finds_nothing_in_light_or_dark(
    kind: str, part: str, served: str, open_page: Open
) -> None:
    page = open_page(served + KINDS[kind], viewport=wide("desktop"))
    tried = examine(page, LAYOUT, part)
    assert ("page-has-heading-one" if part == WHOLE else "list") in tried
    assert "color-contrast" in examine(page, COLOURS, firsts(page, part))
    assert lettered_as_words_are(page)
    # The dark scheme changes colours and nothing else, so only they are looked at again.
    measures = "['scrollHeight', 'scrollWidth'].map(side => document.body[side])"
    light = page.evaluate(measures)
    page.emulate_media(color_scheme="dark")
    assert page.evaluate("getComputedStyle(document.body).color") == "rgb(236, 228, 212)"
    assert page.evaluate(measures) == light
    assert "color-contrast" in examine(page, COLOURS, firsts(page, part))
    assert lettered_as_words_are(page)


INKS = """[...document.querySelectorAll('body *')].map(e => getComputedStyle(e)).map(
    s => [s.color, s.fill, s.backgroundColor, s.backgroundImage, s.opacity].join())"""


@pytest.mark.parametrize(("kind", "part"), KINDS_AND_PARTS)
def test_axe_finds_nothing_on_a_phone(kind: str, part: str, served: str, open_page: Open) -> None:
    page = open_page(served + KINDS[kind], viewport=wide("phone"))
    tried = examine(page, LAYOUT, part)
    assert ("page-has-heading-one" if part == WHOLE else "list") in tried
    # Colours are those of the desktop, where axe has looked at them.
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme)
        page.set_viewport_size(wide("phone"))
        narrow = page.evaluate(INKS)
        page.set_viewport_size(wide("desktop"))
        assert page.evaluate(INKS) == narrow


def test_faint_letters_and_what_is_too_small_to_be_touched_are_noticed(
    served: str, open_page: Open
) -> None:
    page = open_page(served + KINDS["index"])
    page.add_style_tag(
        content="h1 { color: #ccc }"
        "nav ul { display: block !important; line-height: 10px }"
        "nav a { padding: 0 !important; font: 9px/1 serif !important }"
        "svg text { fill: #444 }"
    )
    assert not lettered_as_words_are(page)
    said = asked(page, LAYOUT)["violations"] + asked(page, COLOURS, firsts(page))["violations"]
    assert {rule["id"] for rule in said} >= {"color-contrast", "target-size"}


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_has_to_be_scrolled_sideways(kind: str, served: str, open_page: Open) -> None:
    page = open_page(served + KINDS[kind])
    page.evaluate("document.querySelectorAll('details').forEach(e => { e.open = true })")
    for width in (320, 390, 800, 1280):
        page.set_viewport_size({"width": width, "height": 800})
        wide = page.evaluate(
            "[document.documentElement, ...document.querySelectorAll('.scroll')]"
            ".filter(e => e.scrollWidth > e.clientWidth).map(e => e.outerHTML.slice(0, 120))"
        )
        assert wide == [], width


DRAWN = """[...document.querySelectorAll('.drawn')].map(e => [
    e.scrollWidth > e.clientWidth, e.getAttribute('role'), e.tabIndex,
    document.getElementById(e.getAttribute('aria-labelledby'))?.textContent.length > 0])"""


def test_a_drawing_wider_than_the_screen_can_be_pushed_sideways_from_the_keyboard(
    served: str, open_page: Open
) -> None:
    page = open_page(
        served + NAMED, viewport={"width": 320, "height": 640}, reduced_motion="reduce"
    )
    wide = page.locator(".drawn[tabindex]")
    wide.first.wait_for()
    found = {tuple(drawn) for drawn in page.evaluate(DRAWN)}
    assert found == {(True, "group", 0, True), (False, None, -1, False)}
    wide.first.focus()
    page.keyboard.press("ArrowRight")
    page.wait_for_function("document.activeElement.scrollLeft > 0")
    page.set_viewport_size({"width": 1280, "height": 800})
    page.wait_for_function("!document.querySelector('.drawn[tabindex]')")
    assert not any(wide for wide, *_ in page.evaluate(DRAWN))


LEAST = """(least => [...document.querySelectorAll('.drawn svg')].flatMap(svg => {
    const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    return [...svg.querySelectorAll('text')].filter(text =>
        parseFloat(getComputedStyle(text).fontSize) * scale < least).map(text => text.textContent);
}))"""


@pytest.mark.parametrize("kind", ["recipe", "named sizes"])
def test_a_drawing_fits_a_phone_with_words_that_can_be_read(
    kind: str, served: str, open_page: Open
) -> None:
    page = open_page(served + KINDS[kind], viewport={"width": 390, "height": 844})
    assert page.evaluate(f"{LEAST}(11)") == []
    assert page.evaluate(f"{LEAST}(40)") != []
    assert not any(wide for wide, *_ in page.evaluate(DRAWN))


@pytest.mark.parametrize("kind", KINDS)
def test_letters_twice_as_large_still_fit(kind: str, served: str, open_page: Open) -> None:
    page = open_page(served + KINDS[kind], viewport={"width": 1280, "height": 800})
    page.add_style_tag(content="html { font-size: 200% !important }")
    assert page.evaluate("document.documentElement.scrollWidth") <= 1280


# WCAG 2.2, 1.4.12: readers may set lines, words and letters wider apart.
SPACING = "* { line-height: 1.5 !important; letter-spacing: 0.12em !important; }"
SPACING += "* { word-spacing: 0.16em !important } p { margin-bottom: 2em !important }"

OVERLAPS = """() => {
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const lines = [];
    for (let node; node = walker.nextNode();) {
        const parent = node.parentElement;
        if (!node.data.trim() || !parent.checkVisibility()) continue;
        if (parent.closest('.unseen, .skip, svg, script')) continue;
        const head = parent.closest('thead');
        if (head && getComputedStyle(head).clipPath != 'none') continue;
        const range = document.createRange();
        range.selectNodeContents(node);
        const block = parent.closest('h1, h2, h3, h4, p, li, dt, dd, td, th, [aria-hidden]');
        for (const box of range.getClientRects()) lines.push({node, block, box});
    }
    lines.sort((a, b) => a.box.top - b.box.top);
    const found = [];
    lines.forEach((one, i) => {
        for (const other of lines.slice(i + 1)) {
            const [a, b] = [one.box, other.box];
            if (b.top >= a.bottom) break;
            const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
            const down = Math.min(a.bottom, b.bottom) - b.top;
            // A line's box is taller than its letters: boxes may meet where letters do not.
            if (one.block != other.block && across > 1 && down > 0.4 * Math.min(a.height, b.height))
                found.push(one.node.data.slice(0, 40) + ' | ' + other.node.data.slice(0, 40));
        }
    });
    return found;
}"""
"""Lines of text that lie on one of another paragraph."""


def overlaps(page: Page) -> list[str]:
    """Texts that lie on each other."""
    found: list[str] = page.evaluate(OVERLAPS)
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_no_text_lies_on_another(kind: str, served: str, open_page: Open) -> None:
    page = open_page(served + KINDS[kind])
    for screen, (width, height) in SCREENS.items():
        page.set_viewport_size({"width": width, "height": height})
        assert overlaps(page) == [], screen
    page.set_viewport_size({"width": 690, "height": 1000})  # A4 between its margins
    page.emulate_media(media="print")
    assert overlaps(page) == [], "on paper"
    page.emulate_media(media="screen")
    page.add_style_tag(content=SPACING)
    assert overlaps(page) == [], "spaced"


def test_a_heading_on_another_would_be_seen(served: str, open_page: Open) -> None:
    page = open_page(served + KINDS["text"])
    page.add_style_tag(content="h2 { margin-bottom: -2rem !important }")
    assert overlaps(page)


def test_the_first_stop_of_the_keyboard_skips_to_the_text(served: str, open_page: Open) -> None:
    page = open_page(served + RECIPE)
    page.keyboard.press("Tab")
    skip = page.locator(":focus")
    assert skip.inner_text() == "Skip to the text"
    box = skip.bounding_box()
    assert box is not None
    assert box["x"] >= 0
    assert box["y"] >= 0
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('main') !== null")


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "named sizes"])
def test_every_stop_of_the_keyboard_can_be_seen(kind: str, served: str, open_page: Open) -> None:
    """A page of named sizes has the stops of a recipe's."""
    page = open_page(served + KINDS[kind], reduced_motion="reduce")
    stops = 0
    while True:
        page.keyboard.press("Tab")
        stop = page.evaluate(
            """(() => {
                const e = document.activeElement, s = getComputedStyle(e);
                const box = e.getBoundingClientRect();
                return e === document.body ? null : [e.outerHTML.slice(0, 90), s.outlineStyle,
                    parseFloat(s.outlineWidth), box.bottom > 0 && box.top < innerHeight];
            })()"""
        )
        if stop is None or stops > 300:
            break
        stops += 1
        assert stop[1:] == ["solid", 3, True], stop
    assert stops >= (1 if kind == "missing" else 4)


def test_units_lists_and_constructions_work_from_the_keyboard(served: str, open_page: Open) -> None:
    page = open_page(served + RECIPE)
    page.get_by_label("both", exact=True).focus()
    page.keyboard.press("ArrowRight")
    assert page.get_by_label("cm, mm").is_checked()
    tick = page.get_by_role("checkbox").first
    tick.focus()
    page.keyboard.press("Space")
    assert tick.is_checked()
    page.locator("details:has(ol) summary").first.focus()
    page.keyboard.press("Enter")
    assert page.locator("details ol").first.is_visible()


def test_nothing_moves_where_readers_ask_for_stillness(served: str, open_page: Open) -> None:
    moving = "getComputedStyle(document.documentElement).scrollBehavior"
    assert open_page(served + RECIPE, reduced_motion="reduce").evaluate(moving) == "auto"
    assert open_page(served + RECIPE, reduced_motion="no-preference").evaluate(moving) == "smooth"
