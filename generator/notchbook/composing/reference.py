"""The reference for authors: every shape, told from the code itself.

Titles, derivations and what each parameter means are the module's own docstring; which parameters
there are, of what kind, and what holds without them, is the signature of its ``draft``; and the
docstring's example is drafted and drawn. Nothing here can say what the code does not do.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib import import_module
from typing import get_args, get_type_hints

from markupsafe import Markup, escape

from notchbook.composing import numbers
from notchbook.composing.docstring import (
    Explained,
    capital,
    docstring_of,
    explained,
    named,
    setter,
)
from notchbook.composing.drawing import Drawing
from notchbook.composing.markup.html import render
from notchbook.composing.markup.svg import svg
from notchbook.composing.pages import Frame
from notchbook.composing.plates import draw_pieces
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.drafting.limits import plain
from notchbook.drafting.shape import Angle, Shape
from notchbook.drafting.shapes import shapes
from notchbook.drafting.signature import signature
from notchbook.gathering.source import Source
from notchbook.reading.quantity import LENGTH
from notchbook.reading.read import read_recipe

PAGE = "shapes.html"
"""The page's name at the top of a site."""

_NOTE = re.compile(r"see\s+`drafting/([\w/]+)\.py`")
"""A parameter with so much to it that a module explains it."""

_PIECE = re.compile(r"^\w.*\n(?: .*\n)*", re.MULTILINE)
_OPENING = re.compile(r"`\w+`[,:] ")

_RECIPE = """\
---
format: 1
title: An example
summary: One piece, or one and what is made from it.
editions: [{number: 1, date: 2026-11-24, note: First edition.}]
licence: CC-BY-4.0
measures: {head: {title: Head girth, ask: Level., usual: 57 cm, range: [50 cm, 66 cm]}}
cloths: {shell: {title: cloth, thickness: 0.5 mm, widths: [150 cm]}}
allowance: 10 mm
pieces:
"""
_STEPS = "---\n\n## Make it\n\n1. Cut it out.\n"


@dataclass(frozen=True, slots=True)
class Parameter:
    """A key a shape takes: its kind (``length``, ``angle`` …) and what is said of leaving it
    out."""

    name: str
    kind: str
    without: str


@dataclass(frozen=True, slots=True)
class Meaning:
    """Parameters that are explained together, and their explanation in Markdown."""

    parameters: tuple[Parameter, ...]
    text: str


@dataclass(frozen=True, slots=True)
class Example:
    """A piece of that shape, as a recipe has it and drawn flat; or one that it is made from."""

    piece: str
    recipe: str
    drawing: Drawing


@dataclass(frozen=True, slots=True)
class Entry:
    """A shape. ``notes`` are the modules that explain more."""

    name: str
    text: Explained
    meanings: tuple[Meaning, ...]
    notes: tuple[Explained, ...]
    examples: tuple[Example, ...]


def entries(setting: Setting) -> Iterator[Entry]:
    """Every shape, in name order."""
    for name, shape in shapes().items():
        text = explained(docstring_of(shape.__module__))
        examples = tuple(
            Example(piece, recipe, drawing)
            for recipe, (piece, drawing) in zip(
                _PIECE.findall(text.example),
                draw_pieces(draft_example(text), setting).items(),
                strict=True,
            )
        )
        meanings = tuple(_meanings(shape, text, setting))
        notes = tuple(explained(docstring_of(module)) for module in _notes(text))
        yield Entry(name, text, meanings, notes, examples)


def draft_example(text: Explained) -> Draft:
    """The pieces of a shape's example, drafted. Raises ContentError."""
    pieces = "".join(f"  {line}\n" for line in text.example.splitlines())
    data = f"{_RECIPE}{pieces}{_STEPS}".encode()
    recipe = read_recipe(Source("example", "example", {"recipe.md": data}))
    return draft(recipe, recipe.sizes[0])


def reference_page(*, setting: Setting, frame: Frame) -> str:
    """The page for authors: all shapes with their drawings."""

    def plate(entry: Entry, example: Example) -> Markup:
        prefix = f"{entry.name}-{example.piece}-"
        return Markup(svg(example.drawing, prefix=prefix, setting=setting))

    return render(
        setting,
        PAGE,
        frame=frame,
        here=PAGE,
        shapes=list(entries(setting)),
        html=setter(),
        plate=plate,
        verbatim=escape,
    )


def reference_text() -> str:
    """All the words of the reference that are no drawing's and in no catalogue."""
    modules = [shape.__module__ for shape in shapes().values()]
    modules += [note for module in modules for note in _notes(explained(docstring_of(module)))]
    return "\n".join(map(docstring_of, modules))


def _notes(text: Explained) -> Iterator[str]:
    """The modules that the explanations of parameters send to."""
    for item in text.items:
        yield from map(_module, _NOTE.finditer(item))


def _module(note: re.Match[str]) -> str:
    return f"notchbook.drafting.{note[1].replace('/', '.')}"


def _meanings(shape: Callable[..., Shape], text: Explained, setting: Setting) -> Iterator[Meaning]:
    """The items of the docstring's list, each with the parameters that it names first."""

    def title(note: re.Match[str]) -> str:
        return f"see “{explained(docstring_of(_module(note))).title}” below"

    left = {parameter.name: parameter for parameter in _parameters(shape, setting)}
    for item in text.items:
        here = tuple(left.pop(name) for name in dict.fromkeys(named(item)) if name in left)
        if len(here) == 1:  # it stands beside its name
            item = capital(_OPENING.sub("", item, count=1) if _OPENING.match(item) else item)
        yield Meaning(here, _NOTE.sub(title, item))


def _parameters(shape: Callable[..., Shape], setting: Setting) -> Iterator[Parameter]:
    hints = get_type_hints(shape, include_extras=True)
    own = hasattr(import_module(shape.__module__), "read_parameters")
    for name, parameter in inspect.signature(shape).parameters.items():
        kind = "own" if own else _kind(shape, name, hints[name])
        without = _without(kind, parameter.default, setting)
        yield Parameter(name, setting.say(f"reference.kind.{kind}"), without)


def _kind(shape: Callable[..., Shape], name: str, hint: object) -> str:
    if Angle in (hint, *get_args(hint)):
        return "angle"
    parameter = signature(shape)[name]
    if parameter.kind == "number":
        return "length" if parameter.dimension == LENGTH else "ratio"
    return parameter.kind


def _without(kind: str, default: object, setting: Setting) -> str:
    if default is inspect.Parameter.empty:
        return setting.say("reference.needed")
    if not isinstance(default, int | float | str):
        return setting.say("reference.optional")
    match kind, default:
        case "length", float(mm):
            value = f"{plain(mm)}{numbers.SPACE}mm"
        case "angle", float(radians):
            value = numbers.angle(radians).metric
        case _, int() | float():
            value = plain(default)
        case _:
            value = str(default)
    return setting.say("reference.default", value=value)
