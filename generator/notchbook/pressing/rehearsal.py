"""Everything but the printing, thrown away, for what is found wrong.

What is wrong with a recipe's pages and booklet is wrong in every size of a set of choices, so one
size stands for all. Only figures may be wrong in a single one: a gap may be longer than its edge.
And sheets and labels can only want a character that no face has. Where the faces have every
character there is, that needs no looking for; otherwise every size is composed whole.
"""

from __future__ import annotations

from collections.abc import Callable

from notchbook.composing import numbers
from notchbook.composing.figures import draw_figure
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.drafting.packing.cloth import too_wide
from notchbook.pressing.size import Bench, compose_draft, composing, pages
from notchbook.problems import ContentError, Findings
from notchbook.reading.walk import all_figures


def start(bench: Bench) -> Callable[[tuple[str, str]], None]:
    """Get ready for sizes, each given by its recipe's home and its own id. A size that can't be
    drafted or laid on its cloth is passed over: truing has said why."""
    setting = bench.setting
    papers = () if _lettered(bench) else setting.workshop.papers

    def do(task: tuple[str, str]) -> None:
        home, id = task
        recipe = bench.recipes[home]
        try:
            made = draft(recipe, recipe.size(id))
        except ContentError:
            return
        if any(too_wide(made)):
            return
        if papers or made.size == recipe.sizes[0]:
            pages(bench, compose_draft(made, setting, papers), ())
            return
        with composing(made):
            _draw(made, setting)

    return do


def _lettered(bench: Bench) -> bool:
    """Whether every label face, with the others to fall back on, has every character that the
    workshop's texts and the tool's words and numbers use."""
    faces = bench.setting.typefaces
    spare = {character for face in faces.others for character in face.advances}
    wanted = (bench.characters | numbers.CHARACTERS) - spare - set("\r\n\t\ufeff")
    return all(wanted <= face.advances.keys() for face in faces.label)


def _draw(made: Draft, setting: Setting) -> None:
    """Every figure but the flat ones, which take no numbers. Raises ContentError with what is wrong
    in all of them."""
    findings = Findings()
    for rule in all_figures(made.recipe):
        if rule.view.value != "flat":
            try:
                draw_figure(made, rule, setting)
            except ContentError as error:
                findings.take(error)
    findings.settle()
