"""The nest of a recipe, pressed: a drawing, and a PDF with a layer for each size."""

from __future__ import annotations

from notchbook.composing.drawing import Stroke
from notchbook.composing.markup.svg import svg
from notchbook.composing.nest import Nest, nest, nest_html
from notchbook.composing.setting import Setting
from notchbook.drafting.engine import draft
from notchbook.pressing.impression import Made, write
from notchbook.pressing.layers import Layer, add_layers
from notchbook.pressing.pdf import Printer
from notchbook.pressing.size import Bench, sources_of
from notchbook.reading.recipe import Recipe


def press_nest(bench: Bench, recipe: Recipe, printer: Printer) -> tuple[Made, ...]:
    """Write ``nest.svg`` and ``nest.pdf`` beside the folders of a recipe's sizes."""
    setting = bench.setting
    made = nest([draft(recipe, size) for size in recipe.sizes], setting)
    files = {
        "nest.svg": svg(made.drawing(), standalone=True, setting=setting).encode(),
        "nest.pdf": nest_pdf(made, setting, printer),
    }
    return tuple(
        write(bench.staged, f"{recipe.home}/{file}", data, sources_of(recipe))
        for file, data in files.items()
    )


def nest_pdf(made: Nest, setting: Setting, printer: Printer) -> bytes:
    """What all sizes share, printed, and a layer for each on top of it."""
    layers = [
        Layer(group.title, tuple(item for item in group.items if isinstance(item, Stroke)))
        for group in made.layers
    ]
    ground = printer.sheets(nest_html(made, setting)).data
    return add_layers(ground, layers, made.ground.box.low, made.unit)
