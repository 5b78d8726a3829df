"""The two files an author writes, from bytes to what they mean."""

from __future__ import annotations

from notchbook.gathering.source import Source
from notchbook.problems import ContentError, Findings, Place, fault
from notchbook.reading import body, choosing, front_matter, names, workshop
from notchbook.reading.plain_text import decode
from notchbook.reading.recipe import Recipe
from notchbook.tree import load

_FENCE = "---"


def read_recipe(source: Source) -> Recipe:
    """The recipe of a folder. Raises ContentError with every problem of its text."""
    file = f"{source.folder}/recipe.md"
    lines = decode(source.files["recipe.md"], file).split("\n")
    end = _front(lines, file)
    findings = Findings()
    text = "\n".join(lines[end + 1 :])
    below = body.read(text, end + 2, file, source.files, findings)
    tree = load("\n".join([*lines[1:end], ""]), Place(file, 2, 1), findings)
    if tree is None:
        raise ContentError(findings.problems)
    pictures = body.pictures(below, source.files)
    recipe = front_matter.read(tree, source.slug, Place(file, 1, 1), below, pictures, findings)
    names.check(recipe, tree, findings)
    findings.settle()
    choosing.check(recipe, findings)
    findings.settle()
    return recipe


def read_workshop(data: bytes, file: str) -> workshop.Workshop:
    """The workshop of a ``workshop.yaml``. Raises ContentError with every problem of its text."""
    findings = Findings()
    tree = load(decode(data, file), Place(file, 1, 1), findings)
    if tree is None:
        raise ContentError(findings.problems)
    found = workshop.read(tree, Place(file, 1, 1), findings)
    findings.settle()
    return found


def _front(lines: list[str], file: str) -> int:
    """The index of the line that ends the front matter."""
    if lines[0].rstrip() != _FENCE:
        what = "The recipe does not begin with its front matter."
        remedy = "Write --- on the first line, then title and all, then --- again."
        raise fault(Place(file, 1, 1), what, remedy)
    for number, line in enumerate(lines[1:], start=1):
        if line.rstrip() == _FENCE:
            return number
    what = "The front matter that begins here never ends."
    raise fault(Place(file, 1, 1), what, "Write --- on a line below it.")
