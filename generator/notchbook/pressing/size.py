"""Everything of one recipe in one size: drafted, composed, printed and written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple
from urllib.parse import quote

from pypdf import PdfReader

from notchbook.composing.booklet import booklet_html
from notchbook.composing.called import size_title
from notchbook.composing.errands import PAGE, list_html
from notchbook.composing.interchange import interchange
from notchbook.composing.lists import SetEntry, SizeEntry
from notchbook.composing.markup.svg import svg
from notchbook.composing.nest import has_nest
from notchbook.composing.pages import Download, Frame, Link, recipe_page
from notchbook.composing.paper import PAPERS
from notchbook.composing.pattern import pattern
from notchbook.composing.plates import Plates, draw_plates
from notchbook.composing.record import record
from notchbook.composing.setting import MissingCharacter, Setting
from notchbook.composing.shared import FOLDER, figure_files, shared
from notchbook.composing.sheets.arranging import NoRoom
from notchbook.composing.sheets.document import sheets_html
from notchbook.drafting.draft import Draft, Lay
from notchbook.drafting.engine import draft, evaluate_in
from notchbook.drafting.packing.cloth import TooWide, lays_of
from notchbook.drafting.packing.folding import unfolded
from notchbook.pressing.dxf import dxf
from notchbook.pressing.imposition import Extent, impose, saddle, thickness
from notchbook.pressing.impression import Made, write
from notchbook.pressing.pictures import picture_name
from notchbook.problems import ContentError, fault
from notchbook.reading.choosing import chosen_title
from notchbook.reading.quantity import INCH
from notchbook.reading.recipe import Recipe, Size
from notchbook.reading.workshop import Workshop

if TYPE_CHECKING:
    from notchbook.pressing.pdf import Printer


class Page(NamedTuple):
    """A booklet's page."""

    name: str
    extent: Extent


BOOKLETS: Mapping[str, Page] = {
    "a4": Page("a5", (148, 210)),
    "letter": Page("half-letter", (5.5 * INCH, 8.5 * INCH)),
}
"""The page that two of make one sheet of each paper (ISO 216, ANSI/ASME Y14.1)."""


def booklet_papers(workshop: Workshop) -> tuple[str, ...]:
    """The papers booklets are printed on: those published that fold to one; where none does, the
    one that is at hand where the workshop's units are."""
    found = tuple(paper for paper in workshop.papers if paper in BOOKLETS)
    return found or (("letter",) if workshop.units == "inch" else ("a4",))


Lays = Mapping[tuple[str, str], tuple[Lay, ...]]
"""The lays of sizes, by their recipe's home and their own id."""


@dataclass(frozen=True, slots=True)
class Bench:
    """What every process needs: the recipes by their homes, their choices settled, what they are
    set with, their photographs ready for publishing by slug, links to the workshop's own texts,
    the characters its fonts must have, and the folder to write into. A draft for one body is
    ``alone``: it has no site round it. With ``dxf``, its pieces are also written as that."""

    setting: Setting
    recipes: Mapping[str, Recipe]
    photographs: Mapping[str, Mapping[str, bytes]]
    texts: tuple[Link, ...]
    characters: frozenset[str]
    staged: Path
    alone: bool = False
    dxf: bool = False
    lays: Lays = field(default_factory=dict)
    """Of all sizes that are pressed together."""


@dataclass(frozen=True, slots=True)
class Composed:
    """One size, composed. ``sheets`` maps file names to HTML to print, as ``booklet`` and
    ``list`` are."""

    draft: Draft
    plates: Plates
    lays: tuple[Lay, ...]
    pattern: str
    record: str
    sheets: Mapping[str, str]
    booklet: str
    list: str


def compose(
    recipe: Recipe, size: Size, setting: Setting, lays: tuple[Lay, ...] | None = None
) -> Composed:
    """Draft one size and compose everything of it but its pages; ``lays`` are those already found.
    Raises ContentError."""
    return compose_draft(draft(recipe, size), setting, setting.workshop.papers, lays)


def compose_draft(
    made: Draft, setting: Setting, papers: tuple[str, ...], lays: tuple[Lay, ...] | None = None
) -> Composed:
    """As ``compose``, of a draft already made, with sheets for these papers."""
    with composing(made):
        lays = lays_of(made) if lays is None else lays
        plates = draw_plates(made, setting, lays=lays)
        photographs = {path: f"picture:{quote(path)}" for path in made.recipe.pictures}
        return Composed(
            draft=made,
            plates=plates,
            lays=lays,
            pattern=svg(pattern(made, setting), standalone=True, setting=setting),
            record=record(made, lays),
            sheets={
                f"sheets-{paper}.pdf": sheets_html(made, PAPERS[paper], setting) for paper in papers
            },
            booklet=booklet_html(
                made, setting=setting, plates=plates, lays=lays, pictures=photographs
            ),
            list=list_html(made, lays, setting),
        )


@contextmanager
def composing(made: Draft) -> Iterator[None]:
    """While a draft is composed: what can't be is raised as ContentError."""
    recipe = made.recipe
    if problems := tuple(unfolded(made)):
        raise ContentError(problems)
    try:
        yield
    except TooWide as wide:
        raise ContentError([wide.problem(recipe)]) from None
    except NoRoom as none:
        raise fault(recipe.place, none.what, none.remedy) from None
    except MissingCharacter as missing:
        what = f"No label font has the character “{missing.character}”, in “{missing.text}”."
        remedy = "Use another, or name a font that has it under fonts: others: in workshop.yaml."
        raise fault(recipe.place, what, remedy) from None


def press_size(bench: Bench, composed: Composed, printer: Printer) -> tuple[Made, ...]:
    """Print a composed size and write all its files: what pages link to, then the pages."""
    recipe, size = composed.draft.recipe, composed.draft.size
    photographs = {quote(path): data for path, data in bench.photographs[recipe.slug].items()}
    files: dict[str, bytes] = {
        "pattern.svg": composed.pattern.encode(),
        "draft.json": composed.record.encode(),
    }
    counts: dict[str, int] = {}
    for file, html in composed.sheets.items():
        files[file], counts[file] = printer.sheets(html)
    ((files["list.pdf"], counts["list.pdf"]),) = printer.booklet(composed.list, [PAGE])
    papers = booklet_papers(bench.setting.workshop)
    extents = [BOOKLETS[paper].extent for paper in papers]
    loose, *booklets = printer.booklet(composed.booklet, extents, photographs, loose=True)
    reader = PdfReader(BytesIO(loose.data))
    for paper, booklet in zip(papers, booklets, strict=True):
        page = BOOKLETS[paper]
        file, imposed = (f"booklet-{page.name}{end}.pdf" for end in ("", "-print"))
        files[file], counts[file] = booklet
        # Two pages upright make one sheet of the paper on its side.
        across = PAPERS[paper].height
        title = f"{recipe.title}, {size_title(composed.draft, bench.setting)}"
        thick = thickness(bench.setting.workshop.paper_weight)
        files[imposed] = impose(reader, title, page.extent, across, thick)
        counts[imposed] = len(saddle(booklet.pages))
    downloads = downloads_of(bench.setting.workshop, counts)
    if bench.dxf:
        files["pattern.dxf"] = dxf(interchange(composed.draft, bench.setting))
        downloads += (Download("pattern.dxf"),)
    folder = "" if bench.alone else f"{recipe.home}/{size.id}/"
    written = {
        **{folder + file: data for file, data in files.items()},
        **{path: text.encode() for path, text in figures(bench, composed).items()},
        **{path: html.encode() for path, html in pages(bench, composed, downloads).items()},
    }
    made_from = sources_of(recipe)
    return tuple(write(bench.staged, path, data, made_from) for path, data in written.items())


def downloads_of(workshop: Workshop, counts: Mapping[str, int]) -> tuple[Download, ...]:
    """The files beside a size's page in the order readers want them in, a booklet to read before
    the same one to print, and how many pages each has, where that is known."""
    booklets = sorted(f"booklet-{BOOKLETS[paper].name}" for paper in booklet_papers(workshop))
    files = [
        *(f"sheets-{paper}.pdf" for paper in sorted(workshop.papers)),
        *(f"{name}{end}.pdf" for name in booklets for end in ("", "-print")),
        "list.pdf",
        "pattern.svg",
        "draft.json",
    ]
    return tuple(Download(file, counts.get(file)) for file in files)


def pages(
    bench: Bench, composed: Composed, downloads: tuple[Download, ...]
) -> Mapping[str, str]:  # fmt: skip
    """The size's page, and the same as the recipe's first page where the size is the usual one
    and its set of choices the first, by path below the site's top."""
    made = composed.draft
    recipe = made.recipe
    paths = ["index.html" if bench.alone else f"{recipe.home}/{made.size.id}/index.html"]
    if not bench.alone and is_first(made):
        paths.append(f"{recipe.slug}/index.html")
    plates, lays = composed.plates, composed.lays
    return {path: page(bench, made, plates, lays, downloads, path) for path in paths}


def figures(bench: Bench, composed: Composed) -> Mapping[str, str]:
    """The figures of the recipe's first page, or of a draft alone, each in a file, by path."""
    made = composed.draft
    if not bench.alone and not is_first(made):
        return {}
    folder = f"{FOLDER}/" if bench.alone else f"{made.recipe.slug}/{FOLDER}/"
    drawings = composed.plates.drawings
    return {
        folder + file: shared(made, drawings[place], bench.setting)
        for place, file in figure_files(made.recipe).items()
    }


def is_first(made: Draft) -> bool:
    """Whether this is the usual size of the recipe's first set of choices."""
    recipe = made.recipe
    first = not recipe.sets or recipe.sets[0].chosen == recipe.chosen
    return first and usual_size(recipe, made) == made.size


def page(
    bench: Bench,
    made: Draft,
    plates: Plates,
    lays: tuple[Lay, ...],
    downloads: tuple[Download, ...],
    path: str,
) -> str:
    """The page of a size that is to stand at ``path``: in the size's own folder, or as the
    recipe's first."""
    recipe = made.recipe
    first = path == f"{recipe.slug}/index.html"
    root = "../" * path.count("/")
    to_recipe = "" if bench.alone else "../" * (path.count("/") - 1)
    return recipe_page(
        made,
        setting=bench.setting,
        frame=Frame(root, bench.texts, bench.alone),
        sizes=() if bench.alone else _entries(made, to_recipe),
        sets=() if bench.alone else _sets(bench, made, to_recipe),
        plates=plates,
        lays=lays,
        all_lays={
            size.id: bench.lays[recipe.home, size.id]
            for size in recipe.sizes
            if (recipe.home, size.id) in bench.lays
        },
        downloads=downloads,
        folder=f"{recipe.home}/{made.size.id}/".partition("/")[2] if first else "",
        nest=f"{_home(made, to_recipe)}nest" if has_nest(recipe) and not bench.alone else "",
        pictures={
            picture: f"{to_recipe}pictures/{quote(picture_name(picture))}"
            for picture in recipe.pictures
        },
        files={place: f"{FOLDER}/{quote(file)}" for place, file in figure_files(recipe).items()}
        if first or bench.alone
        else {},
    )


def usual_size(recipe: Recipe, made: Draft) -> Size:
    """The size all of whose measures are at their usual values; ``made`` is any draft of it."""

    def values(size: Size | None) -> list[float]:
        given = size.measures if size else {}
        formulas = [given.get(name, measure.usual) for name, measure in recipe.measures.items()]
        return [round(evaluate_in(made, formula).value, 6) for formula in formulas]

    return next(size for size in recipe.sizes if values(size) == values(None))


OF_SITE = ("fonts", "pages", "recipes", "theme", "words", "workshop.yaml")
"""The groups of sources a site's own pages are made from."""


def sources_of(recipe: Recipe) -> tuple[str, ...]:
    """The groups of sources everything of a recipe is made from."""
    return ("fonts", f"recipes/{recipe.slug}", "theme", "words", "workshop.yaml")


def _sets(bench: Bench, made: Draft, to_recipe: str) -> tuple[SetEntry, ...]:
    """Every published set of choices, each with its page in this size or, where it has none, in
    the usual one."""
    found = []
    for each in (r for r in bench.recipes.values() if r.slug == made.recipe.slug and r.chosen):
        sizes = [size for size in each.sizes if size.id == made.size.id]
        size = sizes[0] if sizes else usual_size(each, draft(each, each.sizes[0]))
        folder = f"{each.home}/{size.id}".partition("/")[2]
        title = size.title if not sizes else ""
        here = each.chosen == made.recipe.chosen
        found.append(SetEntry(chosen_title(each), title, f"{to_recipe}{folder}/index.html", here))
    return tuple(found)


def _entries(made: Draft, to_recipe: str) -> tuple[SizeEntry, ...]:
    folder = _home(made, to_recipe)
    return tuple(
        SizeEntry(
            size.id,
            size.title,
            f"{folder}{size.id}/index.html",
            {
                name: evaluate_in(made, size.measures.get(name, measure.usual))
                for name, measure in made.recipe.measures.items()
            },
        )
        for size in made.recipe.sizes
    )


def _home(made: Draft, to_recipe: str) -> str:
    """What leads to the folder with a recipe's sizes."""
    return to_recipe + f"{made.recipe.home}/".partition("/")[2]
