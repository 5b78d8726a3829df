"""How a command ends and how far it is, told to whoever gave it."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click

from notchbook import __version__
from notchbook.pressing.signals import answered, heard

Tick = Callable[[], None]


@contextmanager
def outcome(nothing: str) -> Iterator[None]:
    """Whatever is wrong with content, in sentences, and exit status 1. A fault of the program is
    said to be one, with exit status 70 (EX_SOFTWARE of BSD's sysexits). Ctrl-C and what else asks
    it to end give 128 and the number of the signal, as shells do."""
    from notchbook.problems import ContentError

    try:
        with _cleared_up():
            yield
    except ContentError as error:
        for problem in error.problems:
            click.echo(str(problem), err=True)
        found = counted(len(error.problems), "problem")
        click.echo(f"{found}. {nothing}".rstrip(), err=True)
        sys.exit(1)
    except KeyboardInterrupt as error:
        click.echo(f"\nStopped. {nothing}".rstrip(), err=True)
        sys.exit(128 + next(iter(error.args), signal.SIGINT))
    except Exception as error:
        import traceback

        said = "".join(traceback.format_exception_only(error)).strip().splitlines()[0]
        click.echo(f"Notchbook itself has failed: {said[:200]}", err=True)
        click.echo(f"    Your content is not to blame. {_kept(traceback.format_exc())}", err=True)
        if nothing:
            click.echo(nothing, err=True)
        sys.exit(70)


@contextmanager
def _cleared_up() -> Iterator[None]:
    """Whoever ends the program, or the terminal it runs in, ends it as Ctrl-C does: with nothing
    half made left behind."""

    def end(number: int, _: object) -> None:
        raise KeyboardInterrupt(number)

    # What is not to be heard, as SIGHUP under nohup, is left so.
    ending = [s for s in heard("SIGTERM", "SIGHUP") if signal.getsignal(s) == signal.SIG_DFL]
    with answered(ending, end):
        yield


def _kept(details: str) -> str:
    """Put the details of a fault into a file, and say where they are."""
    import tempfile

    try:
        with tempfile.NamedTemporaryFile(
            "w", encoding="utf-8", prefix="notchbook-", suffix=".txt", delete=False
        ) as file:
            file.write(f"notchbook {__version__}\n\n{details}")
    except OSError:
        return f"Show this to whoever keeps the program:\n{details}"
    return f"Show this file to whoever keeps the program: {file.name}"


@contextmanager
def progress(doing: str) -> Iterator[Callable[[int], Tick]]:
    """Progress on a terminal; silence in a pipe."""
    if not sys.stderr.isatty():
        yield lambda total: lambda: None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as shown:

        def start(total: int) -> Tick:
            task = shown.add_task(doing, total=total)
            return lambda: shown.advance(task)

        yield start


def counted(number: int, word: str, plural: str = "s") -> str:
    return f"{number} {word}{'' if number == 1 else plural}"
