"""docs/shapes.md and its drawings, told by the code of the shapes and the views.

Not a test: ``make reference`` runs it, and tests/composing/test_reference.py says when to.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path

from notchbook.composing.docstring import Explained
from notchbook.composing.drawing import Drawing, Fill
from notchbook.composing.markup.svg import svg
from notchbook.composing.reference import Entry, Meaning, entries, figure_views
from notchbook.composing.setting import Setting
from notchbook.drafting.geometry.path import polyline
from tests.composing.sample import setting

DOCS = Path(__file__).parents[1] / "docs"
PAGE, DRAWINGS = "shapes.md", "shapes"


def main() -> None:
    """Write the page and its drawings, and remove drawings of what is no more."""
    made = files()
    for path in set(written()) - set(made):
        (DOCS / path).unlink()
    (DOCS / DRAWINGS).mkdir(exist_ok=True)
    for path, text in made.items():
        (DOCS / path).write_text(text, encoding="utf-8")
        print(f"docs/{path}")


def written() -> Mapping[str, str]:
    """The page and its drawings as they lie in docs/, by their paths below it."""
    found = [*sorted((DOCS / DRAWINGS).glob("*")), *DOCS.glob(PAGE)]
    return {path.relative_to(DOCS).as_posix(): path.read_text(encoding="utf-8") for path in found}


def files() -> Mapping[str, str]:
    """The page and its drawings as the code tells them."""
    said = setting()
    shapes = tuple(entries(said))
    drawings = {
        f"{DRAWINGS}/{entry.name}-{example.piece}.svg": example.drawing
        for entry in shapes
        for example in entry.examples
    }
    page = "\n\n".join([*_head(said), *(_entry(entry, said) for entry in shapes), *_views(said)])
    texts = {
        path: svg(_on_paper(drawing), standalone=True, setting=said) + "\n"
        for path, drawing in drawings.items()
    }
    return {**texts, PAGE: page + "\n"}


def _on_paper(drawing: Drawing) -> Drawing:
    """The drawing on a white ground, for those who read in the dark."""
    low, high = drawing.box.low, drawing.box.high
    corners = (low, complex(high.real, low.imag), high, complex(low.real, high.imag), low)
    return replace(drawing, items=(Fill((polyline(*corners),), "paper"), *drawing.items))


def _head(said: Setting) -> Iterator[str]:
    yield f"# {said.say('reference.title')}"
    yield "<!-- Made by `make reference` from the code: mend its docstrings, not this page. -->"
    yield said.say("reference.summary")
    yield said.say("reference.about")


def _entry(entry: Entry, said: Setting) -> str:
    text = entry.text
    blocks = [f"## {text.title}", text.summary]
    for example in entry.examples:
        path = f"{DRAWINGS}/{entry.name}-{example.piece}.svg"
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


def _views(said: Setting) -> Iterator[str]:
    yield f"## {said.say('reference.views')}"
    yield said.say("reference.views.about")
    for name, text in figure_views():
        yield _view(name, text, said)


def _view(name: str, text: Explained, said: Setting) -> str:
    title = f"### {text.title}: `{said.say('reference.view', name=name)}`"
    return "\n\n".join((title, text.summary, *text.rest))


if __name__ == "__main__":
    main()
