"""The pages of a site: a recipe in one size, the index, printing help, texts, feed and map."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlsplit

from markupsafe import Markup

from notchbook.composing import hand, lists
from notchbook.composing.amounts import amounts, cloth_rows, narrow_notes, thread_rows
from notchbook.composing.called import size_title
from notchbook.composing.chapters import body
from notchbook.composing.howto import howto
from notchbook.composing.lists import SetEntry, SizeEntry
from notchbook.composing.markup.css import font_css, token_css
from notchbook.composing.markup.html import render
from notchbook.composing.markup.svg import svg
from notchbook.composing.meeting import seam_rows
from notchbook.composing.numbers import hours
from notchbook.composing.plates import Plates
from notchbook.composing.prose import markdown_html, press_type
from notchbook.composing.record import fingerprint
from notchbook.composing.rulers import laid_drawing
from notchbook.composing.setting import Setting
from notchbook.composing.values import Values, glued
from notchbook.drafting.draft import Draft, Lay
from notchbook.drafting.engine import evaluate_in
from notchbook.problems import Place
from notchbook.reading.recipe import Recipe
from notchbook.reading.walk import all_figures


@dataclass(frozen=True, slots=True)
class Link:
    """Where a link goes, seen from the page it stands on, and its words."""

    href: str
    title: str


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands round every page. ``root`` leads from the page to the site's top (``../``, or
    nothing at the top). ``texts`` are the workshop's own pages, seen from the site's top. A draft
    in a folder of its own is ``alone``: it has no index to go back to. A page that may be shown
    anywhere is ``lost``: it has no links, and brings its style along."""

    root: str = ""
    texts: tuple[Link, ...] = ()
    alone: bool = False
    lost: bool = False


@dataclass(frozen=True, slots=True)
class Download:
    """A file beside the page of a size, with its number of pages where it has pages."""

    file: str
    pages: int | None = None


@dataclass(frozen=True, slots=True)
class Entry:
    """A recipe as the index shows it. ``drawing`` is SVG, or empty; ``sets`` are the pages of its
    sets of choices, seen from the site's top."""

    recipe: Recipe
    hours: float | None = None
    drawing: str = ""
    sets: tuple[Link, ...] = ()


def site_assets(setting: Setting) -> Mapping[str, str]:
    """The site's own texts by path: style sheet and script. Faces lie in ``assets/fonts/``."""
    theme = setting.theme
    style = (
        font_css(setting.typefaces, lambda face: f"fonts/{face.file}")
        + token_css(theme.tokens, dark=True)
        + theme.styles["site.css"]
    )
    return {"assets/site.css": style, "assets/site.js": theme.scripts["site.js"]}


def recipe_page(
    draft: Draft,
    *,
    setting: Setting,
    frame: Frame,
    sizes: tuple[SizeEntry, ...],
    plates: Plates,
    lays: tuple[Lay, ...],
    sets: tuple[SetEntry, ...] = (),
    downloads: tuple[Download, ...] = (),
    folder: str = "",
    nest: str = "",
    all_lays: Mapping[str, tuple[Lay, ...]] | None = None,
    pictures: Mapping[str, str] | None = None,
    files: Mapping[Place, str] | None = None,
) -> str:
    """A recipe in one size. ``folder`` leads from the page to the folder with its downloads,
    ``nest`` to the files of its nest, without their endings, where it has one; ``all_lays`` are
    those of every size by its id; ``pictures`` maps photographs to their addresses, seen from the
    page, and ``files`` the places of figures to those of their own files."""
    recipe = draft.recipe
    values = Values(setting.workshop.units)
    time = values.quantity(evaluate_in(draft, recipe.time)) if recipe.time else ""
    text = body(draft, setting, plates, pictures or {}, files)
    notions = lists.notion_rows(draft, values)
    cloths = cloth_rows(draft, lays, setting, values)
    return render(
        setting,
        "recipe.html",
        frame=frame,
        here="recipe",
        recipe=recipe,
        size=draft.size,
        called=size_title(draft, setting),
        choices=lists.choice_rows(draft, values),
        sets=sets,
        time=time,
        body=text,
        howto=howto(draft, text, (*cloths, *notions)),
        folder=folder,
        nest=nest,
        downloads=downloads,
        sizes=sizes,
        size_titles=lists.size_titles(draft, sizes),
        size_rows=lists.size_rows(draft, sizes, values),
        measures=lists.measure_rows(draft, values),
        cloths=cloths,
        cloth_notes=lists.cloth_notes(draft, setting),
        notions=notions,
        tools=lists.tool_rows(draft),
        thread=thread_rows(draft, setting, values),
        amounts=amounts(draft, all_lays or {}, values),
        lays=plates.lays,
        narrow=narrow_notes(draft, setting, values),
        cuts=lists.cut_rows(draft, setting, values),
        workings=lists.working_rows(draft, values),
        seams=seam_rows(draft, setting, values),
        pieces=[
            (piece, Markup(plates.pieces[name]), hand.sentences(piece.moves, setting, values))
            for name, piece in draft.pieces.items()
        ],
        fingerprint=fingerprint(draft, lays),
        stitched=any(rule.view.value == "stitch" for rule in all_figures(recipe)),
    )


def index_page(entries: tuple[Entry, ...], *, setting: Setting, frame: Frame) -> str:
    """The front page: every recipe of the workshop."""
    rows = [
        (entry.recipe, Markup(entry.drawing), hours(entry.hours) if entry.hours else "", entry.sets)
        for entry in entries
    ]
    return render(setting, "index.html", frame=frame, here="index", entries=rows)


def printing_page(*, setting: Setting, frame: Frame) -> str:
    """How to print sheets and booklets, and how to find out whether they came out true."""
    scaled = Markup(svg(laid_drawing(setting), prefix="scaled-", setting=setting))
    return render(setting, "printing.html", frame=frame, here="printing", scaled=scaled)


def text_page(link: Link, text: str, *, setting: Setting, frame: Frame) -> str:
    """A page of the workshop's own words, in Markdown. ``link`` is its own, as in the frame."""
    html = markdown_html(glued(text), press_type(), top=2)
    return render(setting, "text.html", frame=frame, here=link.href, title=link.title, html=html)


def not_found_page(*, setting: Setting, texts: tuple[Link, ...] = ()) -> str:
    """What a host shows for an address with nothing at it, at whatever depth: its links start
    from the site's own address. Where that is not known, there are none."""
    address = setting.workshop.address
    root = urlsplit(address).path.rstrip("/") + "/"
    frame = Frame(root, texts) if address else Frame(lost=True)
    style = (
        ":root{--text:serif;--label:sans-serif}\n"
        + token_css(setting.theme.tokens, dark=True)
        + setting.theme.styles["site.css"]
    )
    return render(setting, "missing.html", frame=frame, here="missing", style=Markup(style))


def feed_xml(recipes: tuple[Recipe, ...], *, setting: Setting) -> str:
    """An Atom feed (RFC 4287) of every edition, newest first. Needs the workshop's address."""
    editions = sorted(
        ((edition, recipe) for recipe in recipes for edition in recipe.editions),
        key=lambda pair: (pair[0].date, pair[1].slug, pair[0].number),
        reverse=True,
    )
    return render(setting, "feed.xml", address=_address(setting), editions=editions)


def sitemap_xml(paths: tuple[str, ...], *, setting: Setting) -> str:
    """A sitemap of pages given by their paths below the site's top. Needs the address."""
    return render(setting, "sitemap.xml", address=_address(setting), paths=sorted(paths))


def _address(setting: Setting) -> str:
    return setting.workshop.address.rstrip("/") + "/"
