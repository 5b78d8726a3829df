"""docs/shapes.md and docs/figures.md with their drawings, told by the code of shapes and views.

Not a test: ``make reference`` runs it, and tests/composing/test_reference.py says when to.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from notchbook.composing.figure_reference import View, figure_views
from notchbook.composing.figures.example import RECIPE
from notchbook.composing.markup.svg import svg
from notchbook.composing.reference import Entry, Meaning, entries
from notchbook.composing.setting import Setting
from notchbook.composing.shared import on_paper
from tests.composing.sample import setting

DOCS = Path(__file__).parents[1] / "docs"
SHAPES, FIGURES = "shapes", "figures"
"""A page and a folder with its drawings, each."""


def main() -> None:
    """Write the pages and their drawings, and remove drawings of what is no more."""
    made = files()
    for path in set(written()) - set(made):
        (DOCS / path).unlink()
    for path, text in made.items():
        (DOCS / path).parent.mkdir(exist_ok=True)
        (DOCS / path).write_text(text, encoding="utf-8")
        print(f"docs/{path}")


def written() -> Mapping[str, str]:
    """The pages and their drawings as they lie in docs/, by their paths below it."""
    found = [
        path
        for name in (SHAPES, FIGURES)
        for path in [*sorted((DOCS / name).glob("*")), *DOCS.glob(f"{name}.md")]
    ]
    return {path.relative_to(DOCS).as_posix(): path.read_text(encoding="utf-8") for path in found}


def files() -> Mapping[str, str]:
    """The pages and their drawings as the code tells them."""
    said = setting()
    shapes, views = tuple(entries(said)), tuple(figure_views(said))
    drawings = {
        **{
            f"{SHAPES}/{entry.name}-{example.piece}.svg": example.drawing
            for entry in shapes
            for example in entry.examples
        },
        **{f"{FIGURES}/{view.name}.svg": view.drawing for view in views},
    }
    pages = {
        SHAPES: [*_head("reference", said), *(_entry(entry, said) for entry in shapes)],
        FIGURES: [*_head("figures", said), *map(_view, views), *_recipe(said)],
    }
    texts = {
        path: svg(on_paper(drawing), standalone=True, setting=said)
        for path, drawing in drawings.items()
    } | {f"{name}.md": "\n\n".join(blocks) for name, blocks in pages.items()}
    return {path: text + "\n" for path, text in texts.items()}


def _head(page: str, said: Setting) -> Iterator[str]:
    yield f"# {said.say(f'{page}.title')}"
    yield "<!-- Made by `make reference` from the code: mend its docstrings, not this page. -->"
    yield said.say(f"{page}.summary")
    yield said.say(f"{page}.about")


def _entry(entry: Entry, said: Setting) -> str:
    text = entry.text
    blocks = [f"## {text.title}", text.summary]
    for example in entry.examples:
        path = f"{SHAPES}/{entry.name}-{example.piece}.svg"
        blocks += [f"![{example.drawing.title}]({path})", f"```yaml\n{example.recipe}```"]
    blocks += [f"### {said.say('reference.parameters')}", text.lead]
    blocks += ["\n".join(map(_meaning, entry.meanings))]
    blocks += [f"### {said.say('reference.edges')}", text.edges]
    for note in entry.notes:
        blocks += [f"### {note.title}", note.summary, *note.rest]
    blocks += [f"### {said.say('reference.rest')}", *text.rest] if text.rest else []
    return "\n\n".join(filter(None, blocks))


def _meaning(meaning: Meaning) -> str:
    names = ", ".join(f"**`{p.name}`** ({p.kind}, {p.without})" for p in meaning.parameters)
    return f"- {names}: {meaning.text}".replace("\n", "\n  ").replace("\n  \n", "\n\n")


def _view(view: View) -> str:
    shown = f"![{view.drawing.title}]({FIGURES}/{view.name}.svg)"
    block = f"````markdown\n{view.block}````"
    return "\n\n".join((f"## {view.text.title}", view.text.summary, shown, block, *view.text.rest))


def _recipe(said: Setting) -> Iterator[str]:
    yield f"## {said.say('figures.recipe')}"
    yield said.say("figures.recipe.about")
    yield f"````markdown\n{RECIPE}````"


if __name__ == "__main__":
    main()
