"""The commands: parse, call, print. What they need is imported when they run, so that
``--help`` answers at once."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import click

from notchbook import __version__

Tick = Callable[[], None]

content_option = click.option(
    "--content",
    type=click.Path(path_type=Path),
    default=Path("content"),
    show_default=True,
    help="The folder with workshop.yaml and recipes/.",
)
jobs_option = click.option(
    "--jobs",
    type=click.IntRange(min=1),
    help="How many processes to use.  [default: one a core]",
)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__)
def main() -> None:
    """Publish sewing recipes as true patterns for every body."""


@main.command()
@content_option
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=Path("site"),
    show_default=True,
    help="Where the site goes.",
)
@click.option("--theme", help="A theme's name, or a folder with one.")
@jobs_option
def press(content: Path, out: Path, theme: str | None, jobs: int | None) -> None:
    """Make the site and everything in it."""
    started = time.perf_counter()
    with _problems("Nothing was pressed."):
        from notchbook.pressing.press import press as run
        from notchbook.pressing.workers import cores

        jobs = jobs or cores()
        with _progress("Pressing") as begin:
            report = run(content, out, theme, jobs, begin)
    seconds = time.perf_counter() - started
    click.echo(
        f"{report.page.as_posix()}: {_count(report.recipes, 'recipe')} in "
        f"{_count(report.sizes, 'size')}, {_count(report.files, 'file')}, pressed in "
        f"{seconds:.1f} s by {_count(jobs, 'process', 'es')}."
    )


@main.command()
@click.argument("recipe")
@click.option(
    "--measure",
    "measures",
    multiple=True,
    metavar="NAME=VALUE",
    help="A measure of this body, as in head=57.5cm. The others stay at their usual values.",
)
@content_option
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="Where the draft goes.  [default: RECIPE-draft]",
)
def draft(recipe: str, measures: tuple[str, ...], content: Path, out: Path | None) -> None:
    """Make one RECIPE (its name, or a path to it) for one body."""
    for measure in measures:
        if "=" not in measure:
            raise click.BadParameter(
                f"{measure!r} has no equals sign.", param_hint="--measure NAME=VALUE"
            )
    with _problems("Nothing was drafted."):
        from notchbook.pressing.press import press_draft as run

        with _progress("Drafting") as begin:
            report = run(content, recipe, measures, out, begin)
    click.echo(f"{report.page.as_posix()}: {_count(report.files, 'file')}.")


@main.command()
@content_option
@jobs_option
def true(content: Path, jobs: int | None) -> None:
    """Say what is wrong with any recipe in any size; write nothing."""
    with _problems(""):
        from notchbook.pressing.press import rehearse as run
        from notchbook.pressing.workers import cores

        with _progress("Truing") as begin:
            report = run(content, jobs or cores(), begin)
    click.echo(
        f"True: {_count(report.recipes, 'recipe')} in {_count(report.sizes, 'size')}, "
        "and at the ends of every range."
    )


@main.command()
@click.argument("name")
@content_option
def begin(name: str, content: Path) -> None:
    """Make a folder for a new recipe called NAME, which already presses."""
    with _problems("Nothing was begun."):
        from notchbook.pressing.begin import begin as run

        made = run(content, name)
    for path in made:
        click.echo(f"Made {path.as_posix()}")
    click.echo("Next: notchbook true, then notchbook press.")


@contextmanager
def _problems(outcome: str) -> Iterator[None]:
    """Whatever is wrong with content, in sentences, and exit status 1."""
    from notchbook.problems import ContentError

    try:
        yield
    except ContentError as error:
        for problem in error.problems:
            click.echo(str(problem), err=True)
        count = _count(len(error.problems), "problem")
        click.echo(f"{count}. {outcome}".rstrip(), err=True)
        sys.exit(1)


@contextmanager
def _progress(doing: str) -> Iterator[Callable[[int], Tick]]:
    """Progress on a terminal; silence in a pipe."""
    if not sys.stderr.isatty():
        yield lambda total: lambda: None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as progress:

        def start(total: int) -> Tick:
            task = progress.add_task(doing, total=total)
            return lambda: progress.advance(task)

        yield start


def _count(number: int, word: str, plural: str = "s") -> str:
    return f"{number} {word}{'' if number == 1 else plural}"
