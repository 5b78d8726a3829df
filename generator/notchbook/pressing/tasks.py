"""The tasks of a press run, as its processes do them: a size of a recipe, the nest of all its
sizes, a page that draws every example, or a face for the web."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from notchbook.composing.figure_reference import figures_page
from notchbook.composing.pages import Frame
from notchbook.composing.reference import PAGE as SHAPES
from notchbook.composing.reference import reference_page
from notchbook.pressing.impression import Made, write
from notchbook.pressing.nested import press_nest
from notchbook.pressing.pdf import Printer
from notchbook.pressing.size import OF_SITE, Bench, compose, press_size
from notchbook.pressing.webfonts import characters_of, web_font


class NestOf(NamedTuple):
    """The nest of the recipe with this home."""

    home: str


class Reference(NamedTuple):
    """The page with this path, which draws an example of every shape or of every view."""

    path: str


Task = tuple[str, str] | NestOf | Reference | str
"""A recipe's home and the id of one of its sizes; its nest; a page; or the file of a face."""


def start(bench: Bench) -> Callable[[Task], tuple[Made, ...]]:
    """Get ready for tasks. What is returned does one and gives what it wrote."""
    printer = Printer(bench.setting.typefaces)
    kinds = bench.setting.typefaces
    faces = {face.file: face for face in (*kinds.text, *kinds.label, *kinds.others)}

    def do(task: Task) -> tuple[Made, ...]:
        if isinstance(task, str):
            face = faces[task]
            font = web_font(face.data, characters_of(face, kinds, bench.characters))
            return (write(bench.staged, f"assets/fonts/{task}", font, ("fonts",)),)
        if isinstance(task, NestOf):
            return press_nest(bench, bench.recipes[task.home], printer)
        if isinstance(task, Reference):
            draw = reference_page if task.path == SHAPES else figures_page
            html = draw(setting=bench.setting, frame=Frame("", bench.texts))
            return (write(bench.staged, task.path, html.encode(), OF_SITE),)
        home, id = task
        recipe = bench.recipes[home]
        return press_size(
            bench, compose(recipe, recipe.size(id), bench.setting, bench.lays.get(task)), printer
        )

    return do
