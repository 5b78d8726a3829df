"""The commands: parse, call, print. What they need is imported when they run, so that
``--help`` answers at once."""

from __future__ import annotations

import shlex
import time
from pathlib import Path

import click

from notchbook import __version__
from notchbook.cli_outcome import counted, outcome, progress

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
    with outcome("Nothing was pressed."):
        from notchbook.pressing.press import press as run
        from notchbook.pressing.workers import cores

        jobs = jobs or cores()
        with progress("Pressing") as begin:
            report = run(content, out, theme, jobs, begin)
    seconds = time.perf_counter() - started
    click.echo(
        f"{counted(report.recipes, 'recipe')} in {counted(report.sizes, 'size')}, "
        f"{counted(report.files, 'file')}, pressed in {seconds:.1f} s by "
        f"{counted(jobs, 'process', 'es')}."
    )
    click.echo(f"Open {report.page.as_posix()}")


@main.command()
@click.argument("recipe")
@click.option(
    "--measure",
    "measures",
    multiple=True,
    metavar="NAME=VALUE",
    help="A measure of this body, as in head=57.5cm. The others stay at their usual values.",
)
@click.option(
    "--choice",
    "choices",
    multiple=True,
    metavar="NAME=OPTION",
    help="A choice of this reader, as in opening=round. The others are made as usual.",
)
@click.option(
    "--paper",
    "papers",
    multiple=True,
    metavar="NAME",
    help="Sheets for this paper instead of the workshop's: a4, letter, a3, tabloid, a2, a1, a0, "
    "roll (36 in) or projection. Give it once for each.",
)
@click.option(
    "--format",
    "form",
    type=click.Choice(["dxf"]),
    help="Also the pieces in this form, for cutting-room programs.",
)
@click.option(
    "--hand",
    type=click.Choice(["left", "right"]),
    default="right",
    help="Which hand sews by hand: figures show seams from where it starts.  [default: right]",
)
@content_option
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="Where the draft goes.  [default: RECIPE-draft]",
)
def draft(
    recipe: str,
    measures: tuple[str, ...],
    choices: tuple[str, ...],
    papers: tuple[str, ...],
    form: str | None,
    hand: str,
    content: Path,
    out: Path | None,
) -> None:
    """Make one RECIPE (its name, or a path to it) for one body."""
    for given, hint in ((measures, "--measure NAME=VALUE"), (choices, "--choice NAME=OPTION")):
        for each in given:
            if "=" not in each:
                raise click.BadParameter(f"{each!r} has no equals sign.", param_hint=hint)
    with outcome("Nothing was drafted."):
        from notchbook.pressing.press import press_draft as run

        with progress("Drafting") as begin:
            report = run(
                content, recipe, measures, choices, out, begin,
                papers, form == "dxf", hand == "left",
            )  # fmt: skip
    click.echo(f"{counted(report.files, 'file')} for one body.")
    click.echo(f"Open {report.page.as_posix()}")


@main.command()
@content_option
@jobs_option
@click.option(
    "--lay",
    "seam",
    nargs=2,
    metavar="RECIPE SEAM",
    help="Instead, draw the sides of a seam along each other, in the size where they miss by most.",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Where that drawing goes.  [default: seam.svg]",
)
def true(content: Path, jobs: int | None, seam: tuple[str, str] | None, out: Path | None) -> None:
    """Say what is wrong with any recipe in any size. Only --lay writes anything: a drawing."""
    if out and not seam:
        raise click.UsageError("Only a drawing goes to --out: say which seam with --lay.")
    if seam:
        out = out or Path("seam.svg")
        with outcome("Nothing was drawn."):
            from notchbook.pressing.laid import lay

            said = lay(content, *seam, out)
        click.echo(said)
        click.echo(f"Open {out.as_posix()}")
        return
    with outcome(""):
        from notchbook.pressing.press import rehearse as run
        from notchbook.pressing.workers import cores

        with progress("Truing") as begin:
            report = run(content, jobs or cores(), begin)
    click.echo(
        f"True: {counted(report.recipes, 'recipe')} in {counted(report.sizes, 'size')}, "
        "at the corners of every range and at sets between."
    )


@main.command()
@click.argument("name")
@content_option
def begin(name: str, content: Path) -> None:
    """Make a folder for a new recipe called NAME, which already presses."""
    with outcome("Nothing was begun."):
        from notchbook.pressing.begin import begin as run

        made = run(content, name)
    for path in made:
        click.echo(f"Made {path.as_posix()}")
    where = "" if content == Path("content") else f" --content {shlex.quote(content.as_posix())}"
    click.echo(f"Next: notchbook proof{where}, whose page follows every change you make.")


@main.command("class")
@click.argument("recipe")
@click.argument("table", type=click.Path(path_type=Path, dir_okay=False))
@content_option
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Where the page goes.  [default: RECIPE-class.pdf]",
)
def class_(recipe: str, table: Path, content: Path, out: Path | None) -> None:
    """Print what a class needs to make RECIPE on one page: what everybody buys, and the sum.

    TABLE is a CSV file with a line for each person. Its first line names the columns: first people,
    then measures and choices as the recipe names them, in any order. Cells are written as in
    57.5cm; what is left empty is as usual.
    """
    out = out or Path(f"{Path(recipe).name}-class.pdf")
    with outcome("Nothing was printed."):
        from notchbook.pressing.class_list import press_class as run

        people = run(content, recipe, table, out)
    click.echo(f"What {'1 person needs' if people == 1 else f'{people} people need'}, on one list.")
    click.echo(f"Open {out.as_posix()}")


@main.command()
@click.argument("folder", required=False, type=click.Path(path_type=Path), metavar="[CONTENT]")
@content_option
@click.option("--theme", help="A theme's name, or a folder with one.")
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=0,
    help="Where the trial copy is served.  [default: a port that is free]",
)
def proof(folder: Path | None, content: Path, theme: str | None, port: int) -> None:
    """Show a trial copy of the site in CONTENT that follows every change and says what is wrong."""
    with outcome("Nothing was served."):
        import threading

        from notchbook.proofing.proof import proof as run

        with run(folder or content, theme, port) as address:
            click.echo(f"Open {address}")
            click.echo("Change what you like; the page follows. Ctrl-C ends it.")
            try:
                threading.Event().wait()
            except KeyboardInterrupt:
                click.echo("\nThe trial has ended. Nothing was written.")
