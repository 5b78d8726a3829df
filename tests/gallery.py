"""Contact sheets of everything the demo workshop shows a person, as numbered PNGs in gallery/.

Not a test: ``make gallery`` runs it, and somebody looks. A site pressed already can be named as an
argument; otherwise the demo is pressed, every recipe in its usual size and its last. Every kind of
page at desktop and phone width, in light, dark and on paper; and of every recipe, in its usual
size, the page, every figure and lay in any set of choices, the pattern, every page of every PDF.
Its nest is that of all its sizes. Paper that the demo does not publish is shown with one recipe
each.
"""

from __future__ import annotations

import re
import shutil
import sys
import tempfile
from collections.abc import Iterable, Iterator
from io import BytesIO
from itertools import cycle, pairwise
from pathlib import Path

import pypdfium2
from PIL import Image, ImageDraw, ImageFont, ImageOps
from playwright.sync_api import Browser, sync_playwright

from notchbook.composing.markup.svg import svg
from notchbook.composing.nest import has_nest, nest
from notchbook.composing.paper import PAPERS
from notchbook.composing.sheets.document import sheets_html
from notchbook.drafting.engine import draft
from notchbook.gathering.recipes import gather_recipes
from notchbook.gathering.typefaces import gather_typefaces
from notchbook.pressing.manuscript import read_manuscript
from notchbook.pressing.nested import nest_pdf
from notchbook.pressing.pdf import Printer
from notchbook.problems import Place
from notchbook.reading.choosing import published
from tests.chromium import launched
from tests.collection import CONTENT, SLUGS
from tests.demo import WITH_CHOICES, press_demo

ROOT = Path(__file__).parents[1]
GALLERY = ROOT / "gallery"

View = tuple[str, Image.Image]
"""What is seen, in words, and how it looks."""

VIEWPORTS = {"desktop": (1280, 900), "phone": (390, 844)}
SLICE = 2400
"""Pixels of a long page's height in one view."""
SHEET = 2600
"""Pixels of a contact sheet's height, where no single view is higher."""


def main(site: str = "") -> None:
    """Press the demo, where no site is given, and lay out all its views."""
    shutil.rmtree(GALLERY, ignore_errors=True)
    GALLERY.mkdir()
    if site:
        lay_out(Path(site).resolve())
    else:
        with tempfile.TemporaryDirectory() as folder:
            press_demo(Path(folder) / "site", SLUGS)
            lay_out(Path(folder) / "site")
    for path in sorted(GALLERY.iterdir()):
        print(path.relative_to(ROOT))


def lay_out(site: Path) -> None:
    """All views of a site."""
    with sync_playwright() as playwright:
        browser = launched(playwright)
        for name, (width, _) in VIEWPORTS.items():
            for scheme in ("light", "dark"):
                everything = (name, scheme) == ("desktop", "light")
                views = pages(browser, site, kinds(site, everything), name, scheme)
                contact_sheets(f"pages-{name}-{scheme}", views, 620 if width > 600 else 390, 4)
        contact_sheets("pages-on-paper", on_paper(browser, site), 620, 4)
        for recipe in recipes(site):
            slug = recipe.parent.name
            figure_sheets(f"{slug}-figures", browser, [recipe, *sets(recipe)])
            contact_sheets(
                f"{slug}-pattern", drawings(browser, usual(recipe) / "pattern.svg"), 1800, 1
            )
        lay_out_more(browser)
        browser.close()
    for recipe in recipes(site):
        for pdf in sorted({*recipe.parent.glob("*.pdf"), *usual(recipe).glob("*.pdf")}):
            wide = pdf.stem.endswith("-print")
            name = f"{recipe.parent.name}-{pdf.stem}"
            contact_sheets(name, printed(pdf), 900 if wide else 620, 3 if wide else 4)


def lay_out_more(browser: Browser) -> None:
    """The nest of every recipe in all its sizes, and one recipe after another on every paper that
    the demo does not publish, in its largest size."""
    manuscript = read_manuscript(CONTENT, lambda: gather_recipes(CONTENT))
    setting, printer = manuscript.setting, Printer(manuscript.setting.typefaces)
    drafts = {
        slug: [draft(first, size) for size in first.sizes]
        for slug, recipe in manuscript.recipes.items()
        for first in published(recipe)[:1]
    }
    with tempfile.TemporaryDirectory() as folder:
        for slug, sizes in drafts.items():
            if has_nest(sizes[0].recipe):
                made = nest(sizes, setting)
                drawing, pdf = Path(folder) / "nest.svg", Path(folder) / "nest.pdf"
                drawing.write_text(svg(made.drawing(), standalone=True, setting=setting))
                pdf.write_bytes(nest_pdf(made, setting, printer))
                views = (*drawings(browser, drawing), *printed(pdf))
                contact_sheets(f"{slug}-nest", views, 1800, 1)
        others = [paper for paper in PAPERS.values() if paper.name not in setting.workshop.papers]
        for paper, (slug, sizes) in zip(others, cycle(drafts.items()), strict=False):
            pdf = Path(folder) / f"sheets-{paper.name}.pdf"
            pdf.write_bytes(printer.sheets(sheets_html(sizes[-1], paper, setting)).data)
            contact_sheets(f"{slug}-{pdf.stem}", printed(pdf), 620, 4)


def recipes(site: Path) -> list[Path]:
    """The first page of every recipe."""
    return sorted(site.glob("*/index.html"))


def usual(recipe: Path) -> Path:
    """The folder with the files that a recipe's first page offers."""
    links = re.findall(r'href="([^"]+)/sheets-a4\.pdf"', recipe.read_text())
    return recipe.parent / links[0]


def sets(recipe: Path) -> list[Path]:
    """The first page of every other set of choices in which a recipe is made."""
    pages = sorted(recipe.parent.glob("*/*/index.html"))
    first = {page.parents[1].name: page for page in reversed(pages)}
    return [page for name, page in first.items() if name != usual(recipe).parent.name]


def kinds(site: Path, every_recipe: bool = True) -> Iterator[Path]:
    """One page of every kind, and the first page of every recipe or of one."""
    yield from sorted(site.glob("*.html"))
    yield from recipes(site) if every_recipe else [site / WITH_CHOICES / "index.html"]
    yield min(
        path
        for recipe in recipes(site)
        for path in recipe.parent.rglob("index.html")
        if path.parent not in (recipe.parent, usual(recipe))
    )


def pages(
    browser: Browser, site: Path, shown: Iterable[Path], viewport: str, scheme: str
) -> Iterator[View]:
    """Pages on one screen, long ones in slices."""
    width, height = VIEWPORTS[viewport]
    context = browser.new_context(
        viewport={"width": width, "height": height}, color_scheme=scheme, device_scale_factor=1
    )
    for path in shown:
        page = context.new_page()
        page.goto(path.as_uri())
        page.evaluate("document.fonts.ready")
        whole: int = page.evaluate("document.documentElement.scrollHeight")
        name = path.relative_to(site).as_posix()
        # Slices of a window scrolled down: a whole page would be painted anew for each.
        for top in range(0, whole, SLICE):
            height = min(SLICE, whole - top)
            page.set_viewport_size({"width": width, "height": height})
            page.evaluate("top => scrollTo({top, behavior: 'instant'})", top)
            yield name, Image.open(BytesIO(page.screenshot())).convert("RGB")
        page.close()
    context.close()


def on_paper(browser: Browser, site: Path) -> Iterator[View]:
    """Every kind of page as the browser prints it on A4."""
    for path in kinds(site):
        page = browser.new_page()
        page.goto(path.as_uri())
        page.evaluate("document.fonts.ready")
        for name, image in rendered(page.pdf(format="A4", print_background=False)):
            yield f"{path.relative_to(site).as_posix()}, {name}", image
        page.close()


FIGURES = """() => {
    document.querySelectorAll('details').forEach(closed => { closed.open = true });
    document.querySelectorAll('.alone').forEach(link => link.remove());
    return [...document.querySelectorAll('figure')].filter(figure => figure.checkVisibility())
        .map(figure => figure.outerHTML);
}"""
GRID = """figures => {
    const grid = document.createElement('div');
    grid.style = 'display: grid; grid-template-columns: repeat(3, 1fr); gap: 24px; padding: 24px;';
    grid.innerHTML = figures.map((figure, k) => `<div><b>${k + 1}</b>${figure}</div>`).join('');
    document.body.replaceChildren(grid);
    const tops = [...grid.children].map(tile => Math.floor(tile.getBoundingClientRect().top));
    return [...new Set(tops), document.documentElement.scrollHeight];
}"""


def figure_sheets(name: str, browser: Browser, pages: Iterable[Path]) -> None:
    """Every figure of a recipe's pages, lays too, with its caption: one drawn alike only once."""
    page = browser.new_page(viewport={"width": 2300, "height": SHEET})
    known: dict[str, str] = {}
    for path in pages:
        page.goto(path.as_uri())
        for figure in page.evaluate(FIGURES):
            known.setdefault(re.sub(r' (?:id|aria-\w+)="[^"]*"', "", figure), figure)
    page.evaluate("document.fonts.ready")
    tops: list[int] = page.evaluate(GRID, list(known.values()))
    sheets = [tops[0]]
    for top, below in pairwise(tops):
        if below - sheets[-1] > SHEET and top > sheets[-1]:
            sheets.append(top)
    for number, (top, below) in enumerate(pairwise([*sheets, tops[-1]]), start=1):
        page.set_viewport_size({"width": 2300, "height": below - top})
        page.evaluate("top => scrollTo({top, behavior: 'instant'})", top)
        page.screenshot(path=GALLERY / f"{name}-{number:02}.png")
    page.close()


def drawings(browser: Browser, *files: Path) -> Iterator[View]:
    """Drawings in files of their own, as a browser draws them."""
    page = browser.new_page(viewport={"width": 1800, "height": 1800})
    for file in files:
        drawing = file.read_text()
        opening, rest = drawing[drawing.index("<svg") :].split(">", 1)
        opening = re.sub(r' (?:width|height)="[^"]*"', "", opening)
        white = "<body style='margin:0;background:#fff'>"
        page.set_content(f"{white}{opening} style='width:100vw;height:100vh'>{rest}")
        yield file.name, Image.open(BytesIO(page.screenshot())).convert("RGB")
    page.close()


def printed(pdf: Path) -> Iterator[View]:
    """Every page of a PDF."""
    for name, image in rendered(pdf.read_bytes()):
        yield f"{pdf.name}, {name}", image


def rendered(data: bytes) -> Iterator[View]:
    """Every page of a PDF's bytes."""
    document = pypdfium2.PdfDocument(data)
    for number, page in enumerate(document, start=1):
        # No more pixels than can be seen: a nest and a roll are several metres long.
        scale = min(1.5, 2 * SLICE / max(page.get_size()))
        yield f"page {number}", page.render(scale=scale).to_pil().convert("RGB")


def contact_sheets(name: str, views: Iterable[View], width: int, across: int) -> None:
    """Lay views out in rows, each numbered and named, a dozen or so on a sheet."""
    face = gather_typefaces({"label": ("ibm-plex-sans-condensed",)}, Place("", 1, 1)).label[0]
    type_ = ImageFont.truetype(BytesIO(face.data), 20)
    tiles = []
    for number, (title, image) in enumerate(views, start=1):
        small = ImageOps.contain(image, (width, SLICE))
        tile = Image.new("RGB", (width + 20, small.height + 50), "#777")
        tile.paste(small, (10, 40))
        ImageDraw.Draw(tile).text((10, 8), f"{number}  {title}", "#fff", type_)
        tiles.append(tile)
    rows = [tiles[k : k + across] for k in range(0, len(tiles), across)]
    sheets: list[list[list[Image.Image]]] = [[]]
    for row in rows:
        height = sum(max(tile.height for tile in other) for other in sheets[-1])
        if sheets[-1] and height + max(tile.height for tile in row) > SHEET:
            sheets.append([])
        sheets[-1].append(row)
    for number, sheet in enumerate(sheets, start=1):
        heights = [max(tile.height for tile in row) for row in sheet]
        whole = Image.new("RGB", (across * (width + 20), sum(heights)), "#777")
        for k, row in enumerate(sheet):
            for column, tile in enumerate(row):
                whole.paste(tile, (column * (width + 20), sum(heights[:k])))
        whole.save(GALLERY / f"{name}-{number:02}.png")


if __name__ == "__main__":
    main(*sys.argv[1:2])
