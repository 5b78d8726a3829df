"""What it costs, as ratios taken in one run: ``make bench`` prints the table.

Seconds differ from machine to machine and from hour to hour; the ratio of two things timed side by
side differs little. Nothing here is a test, and nothing fails.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from notchbook.composing.paper import PAPERS
from notchbook.drafting.engine import draft
from notchbook.drafting.truing import check
from notchbook.gathering.recipes import find_recipe
from notchbook.pressing.workers import cores
from notchbook.reading.choosing import published
from notchbook.reading.read import read_recipe
from notchbook.reading.recipe import Recipe, Size
from tests.benchmarks.figures import figures
from tests.benchmarks.growth import TIMES, growth
from tests.benchmarks.lays import SECONDS, SEEDS, compare
from tests.benchmarks.printing import printing, stored
from tests.benchmarks.proofing import waiting
from tests.benchmarks.sheets import count
from tests.collection import CONTENT, recipes
from tests.demo import press_demo

HAT = "lamplighters-hat"


class Row(NamedTuple):
    """One line of the table."""

    what: str
    measured: str
    beside: str
    ratio: float
    aim: str


def main() -> None:
    """Measure everything and print the table."""
    rows = [
        *starting(),
        *drafting(),
        *growing(),
        *reading(),
        *drawing(),
        *sheets(),
        *proofing(),
        *pressing(),
    ]
    rows += lays(*map(int, sys.argv[1:]))
    wide = [max(len(str(row[k])) for row in rows) for k in range(3)]
    for row in rows:
        told = [f"{text:<{width}}" for text, width in zip(row[:3], wide, strict=True)]
        print("  ".join([*told, f"{row.ratio:6.2f}", row.aim]))


# A trial copy, against composing its page afresh.


def proofing() -> list[Row]:
    """From saving a word of the hat's text to the event that its page is told by."""
    with tempfile.TemporaryDirectory() as folder:
        seconds, beside = waiting(CONTENT, HAT, Path(folder))
    told = f"{beside:.2f} s to compose the page with everything drawn again"
    what, aim = "a word of the hat changed, to its event", "aim: under 1 s"
    return [Row(what, f"{seconds:.2f} s", told, seconds / beside, aim)]


# A whole press run, against what WeasyPrint alone needs to print the same HTML.


def pressing() -> list[Row]:
    """WeasyPrint is measured before and after, since machines warm up and slow down."""
    jobs = cores()
    documents, typefaces = stored(CONTENT)
    before = printing(documents, typefaces, jobs)
    with tempfile.TemporaryDirectory() as folder:
        began = time.perf_counter()
        press_demo(Path(folder) / "site")
        whole = time.perf_counter() - began
    floor = (before + printing(documents, typefaces, jobs)) / 2
    what = f"a whole press run of few sizes, {jobs} processes"
    beside = f"{floor:.1f} s for WeasyPrint's {len(documents)} documents"
    return [Row(what, f"{whole:.1f} s", beside, whole / floor, "aim: 1.2 or less")]


# The engine.


def drafting() -> list[Row]:
    """The middle size of every recipe drafted and trued from what is published, and then all
    recipes in every size, nothing kept from one time to the next."""
    beside = median(loop, 100)
    told = f"{beside * 1000:.1f} ms for a loop of 100 000"
    rows, everything = [], 0.0
    collection = [published(recipe) for recipe in recipes()]
    for first, *others in collection:
        seconds = median(lambda made=first: list(check(draft(made, middle(made)))), 20)
        what, found = f"drafting and truing {first.slug}", f"{seconds * 1000:.1f} ms"
        rows.append(Row(what, found, told, seconds / beside, "aim: under 10 ms"))
        began = time.process_time()
        for recipe in (first, *others):
            for size in recipe.sizes:
                list(check(draft(recipe, size)))
        everything += time.process_time() - began
    sizes = sum(len(recipe.sizes) for sets in collection for recipe in sets)
    what = f"all recipes in all {sizes} sizes"
    return [*rows, Row(what, f"{everything * 1000:.0f} ms", told, everything / beside, "")]


def growing() -> list[Row]:
    """What a draft takes with several times as many parts, against what it takes with few."""
    return [
        Row(
            f"drafting and truing {each.few * TIMES} {each.what}",
            f"{each.after * 1000:.0f} ms",
            f"{each.before * 1000:.0f} ms for {each.few}, times {TIMES}",
            each.against_linear,
            "aim: 1.1 or less, no worse than linear",
        )
        for each in growth(median)
    ]


def middle(recipe: Recipe) -> Size:
    """The size in the middle of those published."""
    return recipe.sizes[len(recipe.sizes) // 2]


def reading() -> list[Row]:
    """The hat's recipe, from bytes to the whole of it."""
    source = find_recipe(CONTENT, HAT)
    seconds, beside = median(lambda: read_recipe(source), 10), median(loop, 20)
    size = len(source.files["recipe.md"]) / 1000
    told = f"{beside * 1000:.1f} ms for a loop of 100 000"
    what = f"reading the hat, {size:.0f} kB"
    return [Row(what, f"{seconds * 1000:.0f} ms", told, seconds / beside, "")]


def drawing() -> list[Row]:
    """Every figure of the collection in all its sizes, by views; the loop before and after."""
    before = median(loop, 20)
    drawn = figures(CONTENT, median)
    beside = (before + median(loop, 20)) / 2
    return [
        Row(
            f"drawing a figure, {each.view}, {each.drawn} of them",
            f"{each.median * 1000:.1f} ms",
            f"{beside * 1000:.1f} ms for a loop of 100 000; "
            f"the slowest {each.slowest * 1000:.0f} ms, {each.worst}",
            each.median / beside,
            f"aim: under {200 if each.view == 'solid' else 20} ms",
        )
        for each in drawn
    ]


def sheets() -> list[Row]:
    """How many sheets carry ink, over all recipes in all sizes, against laying pieces side by side
    as they are drawn, and against what their area would need if paper could be poured."""
    rows = []
    for paper in (PAPERS["a4"], PAPERS["letter"]):
        counts = [
            count(draft(settled, size), paper)
            for recipe in recipes()
            for settled in published(recipe)
            for size in settled.sizes
        ]
        used, plain, least = (sum(each[k] for each in counts) for k in range(3))
        worse = sum(each.used > each.plain for each in counts)
        seconds = statistics.median(each.seconds for each in counts)
        what = f"sheets for {paper.name}, all {len(counts)} sizes; more than plain in {worse}"
        beside = f"{plain} side by side, {least} by area; {seconds:.2f} s to arrange one size"
        rows.append(Row(what, f"{used}", beside, used / plain, "aim: 0.75 or less, and 0"))
    return rows


def lays(seconds: int = SECONDS, seeds: int = SEEDS) -> list[Row]:
    """How much cloth lays take, against a packer of strips that is given far longer."""
    return [
        Row(
            f"cloth for {row.strips} {row.kind} lays, {row.least} as short as can be",
            f"{row.ours / 1000:.2f} m",
            f"{row.theirs / 1000:.2f} m by spyrrow in {seconds} s and {seeds} seeds a lay, "
            f"worst lay {row.worst:.2f}; ours in at most {row.slowest:.2f} s",
            row.ours / row.theirs,
            "aim: 1.05 or less, under 0.5 s",
        )
        for row in compare(recipes(), seconds, seeds)
    ]


# The command line.


def starting() -> list[Row]:
    """``notchbook --help`` against the least that click can do."""
    command = "import click; click.command()(lambda: None)(['--help'], standalone_mode=False)"
    own = quickest([str(Path(sys.executable).with_name("notchbook")), "--help"])
    least = quickest([sys.executable, "-c", command])
    told = f"{least * 1000:.0f} ms for click alone"
    return [Row("notchbook --help", f"{own * 1000:.0f} ms", told, own / least, "aim: under 1.5")]


def quickest(command: list[str], times: int = 12) -> float:
    """The shortest time a command took, seconds."""
    found = []
    for _ in range(times):
        began = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True)
        found.append(time.perf_counter() - began)
    return min(found)


def median(work: Callable[[], object], times: int) -> float:
    """The median time of some work, seconds of this process, once it has been done to warm up."""
    work()
    found = []
    for _ in range(times):
        began = time.process_time()
        work()
        found.append(time.process_time() - began)
    return statistics.median(found)


def loop() -> int:
    """A yardstick: what Python itself takes for something fixed."""
    total = 0
    for number in range(100_000):
        total += number * number
    return total


if __name__ == "__main__":
    main()
