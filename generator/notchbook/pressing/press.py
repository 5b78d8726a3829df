"""Press runs: a whole site, one recipe for one body, or a rehearsal that writes nothing."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from notchbook.composing.figure_reference import PAGE as FIGURES
from notchbook.composing.figures import draw_figure
from notchbook.composing.nest import has_nest
from notchbook.composing.pages import (
    Entry,
    Frame,
    Link,
    feed_xml,
    index_page,
    not_found_page,
    printing_page,
    site_assets,
    sitemap_xml,
    text_page,
)
from notchbook.composing.plates import Draw, draw_cover
from notchbook.composing.reference import PAGE as SHAPES
from notchbook.composing.setting import Setting
from notchbook.drafting.engine import draft, evaluate_in
from notchbook.drafting.steps import check_steps
from notchbook.drafting.truing import check
from notchbook.gathering.recipes import find_recipe, gather_recipes
from notchbook.gathering.typefaces import gather_font_licences
from notchbook.pressing import rehearsal
from notchbook.pressing.dxf import library
from notchbook.pressing.impression import Made, staging, swap_in, write
from notchbook.pressing.laying import lays_of_all
from notchbook.pressing.manuscript import Manuscript, faults, read_manuscript
from notchbook.pressing.measures import own_choices, own_papers, own_size
from notchbook.pressing.pictures import picture, picture_name
from notchbook.pressing.size import OF_SITE, Bench, sources_of, usual_size
from notchbook.pressing.workers import get_ready, share_out
from notchbook.problems import ContentError, Problem
from notchbook.reading.choosing import choose, chosen_title, published
from notchbook.reading.recipe import Recipe
from notchbook.reading.walk import all_pictures

Begin = Callable[[int], Callable[[], None]]
"""Told how many tasks there are; what it returns is called after each."""


@dataclass(frozen=True, slots=True)
class Report:
    """What a press run made: its first page, and how much of what."""

    page: Path
    recipes: int
    sizes: int
    files: int


def press(content: Path, out: Path, theme: str | None, jobs: int, begin: Begin) -> Report:
    """Make the whole site of a workshop in ``out``. Raises ContentError, ``out`` untouched."""
    get_ready("notchbook.pressing.tasks", jobs)
    manuscript = read_manuscript(content, lambda: gather_recipes(content), theme)
    if found := faults(manuscript, jobs):  # then say all that is wrong, in figures too
        _rehearse(manuscript, found, jobs, begin)
    recipes = manuscript.recipes
    with staging(out, "site") as staged:
        bench = _bench(manuscript, staged)
        sizes = _sizes(bench)
        lays = lays_of_all(bench.recipes, sizes, jobs, begin(len(sizes)))
        bench = replace(bench, lays=lays)
        made = _share_out(bench, jobs, begin)
        made += _site(manuscript, bench)
        swap_in(out, staged, "site", tuple(made), manuscript.sources)
    return Report(out / "index.html", len(recipes), len(sizes), len(made))


def press_draft(
    content: Path,
    name: str,
    measures: tuple[str, ...],
    choices: tuple[str, ...],
    out: Path | None,
    begin: Begin,
    papers: tuple[str, ...] = (),
    dxf: bool = False,
    left_handed: bool = False,
) -> Report:
    """Make one recipe for one body in a folder of its own: ``out``, or ``SLUG-draft`` here.
    ``measures`` are written ``head=57.5cm``, ``choices`` ``opening=round``; sheets are made for
    ``papers``, or for the workshop's, and with ``dxf`` a file of its pieces as that. Seams are
    drawn as the right hand sews, or the left. Raises ContentError, ``out`` untouched."""
    papers = own_papers(papers)
    if dxf:
        library()
    manuscript = read_manuscript(content, lambda: (find_recipe(content, name),))
    (whole,) = manuscript.recipes.values()
    chosen = own_choices(whole, choices)
    recipe = choose(whole, chosen)
    size = own_size(whole, measures, manuscript.setting, chosen)
    problems = check_steps(recipe) + tuple(p for p, _ in check(draft(recipe, size)))
    if problems:
        raise ContentError(problems)
    recipe = replace(recipe, sizes=(size,))
    workshop = manuscript.setting.workshop
    workshop = replace(workshop, papers=papers or workshop.papers)
    setting = replace(manuscript.setting, workshop=workshop, left_handed=left_handed)
    manuscript = replace(manuscript, setting=setting, recipes={recipe.slug: recipe}, texts=())
    out = out or Path(f"{recipe.slug}-draft")
    with staging(out, "draft") as staged:
        bench = replace(_bench(manuscript, staged), alone=True, dxf=dxf)
        made = _share_out(bench, 1, begin)
        made += _help(manuscript, bench)
        swap_in(out, staged, "draft", tuple(made), manuscript.sources)
    return Report(out / "index.html", 1, 1, len(made))


def rehearse(content: Path, jobs: int, begin: Begin) -> Report:
    """Read, draft, true and compose everything in every size, and write nothing. Raises
    ContentError with all that is wrong."""
    get_ready("notchbook.pressing.rehearsal", jobs)
    manuscript = read_manuscript(content, lambda: gather_recipes(content))
    sizes = _rehearse(manuscript, faults(manuscript, jobs), jobs, begin)
    return Report(Path(), len(manuscript.recipes), sizes, 0)


def _rehearse(manuscript: Manuscript, found: tuple[Problem, ...], jobs: int, begin: Begin) -> int:
    """How many sizes there are. Raises ContentError with what truing has ``found`` and all else
    that is wrong in any."""
    problems = list(found)
    try:
        bench = _bench(manuscript, Path())
        sizes = _sizes(bench)
        share_out(rehearsal.start, (bench,), sizes, jobs, begin(len(sizes)))
    except ContentError as error:
        problems += error.problems
    if problems:
        raise ContentError(problems)
    return len(sizes)


def _bench(manuscript: Manuscript, staged: Path) -> Bench:
    return Bench(
        setting=manuscript.setting,
        recipes={
            settled.home: settled
            for recipe in manuscript.recipes.values()
            for settled in published(recipe)
        },
        photographs={slug: photographs_of(r) for slug, r in manuscript.recipes.items()},
        texts=tuple(text.link for text in manuscript.texts),
        characters=manuscript.characters,
        staged=staged,
    )


def photographs_of(recipe: Recipe) -> Mapping[str, bytes]:
    """The recipe's photographs, ready for publishing, by their paths."""
    places = {part.path: part.place for part in all_pictures(recipe)}
    problems: list[Problem] = []
    ready = {}
    for path, data in recipe.pictures.items():
        try:
            ready[path] = picture(data, path, places.get(path, recipe.place))
        except ContentError as error:
            problems += error.problems
    if problems:
        raise ContentError(problems)
    return ready


def _sizes(bench: Bench) -> list[tuple[str, str]]:
    """Every size of every recipe, each by its recipe's home and its own id. The longest recipes
    take longest, so they come first."""
    longest_first = sorted(
        bench.recipes.values(), key=lambda recipe: (-len(recipe.stages), recipe.home)
    )
    return [(recipe.home, size.id) for recipe in longest_first for size in recipe.sizes]


def _share_out(bench: Bench, jobs: int, begin: Begin) -> list[Made]:
    from notchbook.pressing import tasks  # the printing library, which a rehearsal never needs

    faces = bench.setting.typefaces
    files = dict.fromkeys(face.file for face in (*faces.text, *faces.label, *faces.others))
    nests = [tasks.NestOf(home) for home, recipe in bench.recipes.items() if has_nest(recipe)]
    pages = [] if bench.alone else [tasks.Reference(SHAPES), tasks.Reference(FIGURES)]
    work: list[tasks.Task] = [*_sizes(bench), *pages, *nests, *files]
    done = share_out(tasks.start, (bench,), work, jobs, begin(len(work)))
    return [made for some in done for made in some]


def _help(manuscript: Manuscript, bench: Bench) -> list[Made]:
    """What stands round recipes everywhere: style sheet, script, licences of the fonts,
    photographs, and the page on printing."""
    setting = manuscript.setting
    frame = Frame("", bench.texts, bench.alone)
    files = {
        **{path: text.encode() for path, text in site_assets(setting).items()},
        **{
            f"assets/fonts/{name}-licence.txt": text
            for name, text in gather_font_licences(setting.workshop.fonts).items()
        },
        "printing.html": printing_page(setting=setting, frame=frame).encode(),
    }
    made_from = ("fonts", "theme", "words", "workshop.yaml")
    made = [write(bench.staged, path, data, made_from) for path, data in files.items()]
    for slug, pictures in bench.photographs.items():
        folder = "pictures/" if bench.alone else f"{slug}/pictures/"
        for path, data in pictures.items():
            name = folder + picture_name(path)
            made.append(write(bench.staged, name, data, sources_of(manuscript.recipes[slug])))
    return made


def _site(manuscript: Manuscript, bench: Bench) -> list[Made]:
    """The pages round all recipes but those that are tasks, and what needs the site's address
    where there is one."""
    setting = manuscript.setting
    recipes = tuple(manuscript.recipes.values())
    frame = Frame("", bench.texts)
    files = {
        "index.html": index_page(tuple(entry_of(r, setting) for r in recipes),
                                 setting=setting, frame=frame),
        "404.html": not_found_page(setting=setting, texts=bench.texts),
        **{
            text.link.href: text_page(text.link, text.text, setting=setting, frame=frame)
            for text in manuscript.texts
        },
    }  # fmt: skip
    made = _help(manuscript, bench)
    if setting.workshop.address:
        texts = [text.link.href for text in manuscript.texts]
        paths = ["index.html", SHAPES, FIGURES, *texts, "printing.html"]
        for recipe in recipes:
            paths.append(f"{recipe.slug}/index.html")
        paths += [f"{home}/{size}/index.html" for home, size in _sizes(bench)]
        files["sitemap.xml"] = sitemap_xml(tuple(paths), setting=setting)
        files["feed.xml"] = feed_xml(recipes, setting=setting)
    return made + [
        write(bench.staged, path, text.encode(), OF_SITE) for path, text in files.items()
    ]


def entry_of(recipe: Recipe, setting: Setting, draw: Draw = draw_figure) -> Entry:
    """A recipe on the index, with its cover in its first set of choices at the usual size."""
    sets = published(recipe)
    first = sets[0]
    made = draft(first, usual_size(first, draft(first, first.sizes[0])))
    hours = evaluate_in(made, first.time).value if first.time else None
    links = tuple(
        Link(
            f"{each.home}/{usual_size(each, draft(each, each.sizes[0])).id}/index.html"
            if number
            else f"{each.slug}/index.html",
            chosen_title(each),
        )
        for number, each in enumerate(sets)
        if each.chosen
    )
    return Entry(first, hours, draw_cover(made, setting, draw), links)
