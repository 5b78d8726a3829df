"""What a class needs, printed: one page from a table of everybody's measures."""

from __future__ import annotations

from pathlib import Path

from notchbook.composing.errands import PAGE, Member, class_html
from notchbook.composing.setting import Setting
from notchbook.drafting.engine import draft
from notchbook.drafting.packing.cloth import lays_of
from notchbook.gathering.recipes import find_recipe
from notchbook.pressing.manuscript import read_manuscript
from notchbook.pressing.measures import own_choices, own_size
from notchbook.pressing.one_file import write_one
from notchbook.pressing.size import composing
from notchbook.problems import ContentError, Findings, Place, fault
from notchbook.reading.choosing import choose
from notchbook.reading.class_table import Row, at_row, read_class
from notchbook.reading.recipe import Recipe


def press_class(content: Path, name: str, table: Path, out: Path) -> int:
    """Print what everybody in a table needs to make the recipe of that name, and the sum, into a
    file; how many they are. Raises ContentError, nothing written."""
    manuscript = read_manuscript(content, lambda: (find_recipe(content, name),))
    (whole,) = manuscript.recipes.values()
    try:
        data = table.read_bytes()
    except OSError as error:
        what = f"{table.as_posix()} can't be read: {(error.strerror or str(error)).lower()}."
        raise fault(Place(table.as_posix()), what, "Name a table saved as CSV.") from None
    rows = read_class(data, table.as_posix(), whole)
    findings = Findings()
    members = []
    for row in rows:
        try:
            members.append(_member(row, whole, manuscript.setting))
        except ContentError as error:
            findings.problems.extend(at_row(row, error))
    findings.settle()
    # The printing library takes half a second to load.
    from notchbook.pressing.pdf import Printer

    printer = Printer(manuscript.setting.typefaces)
    (printed,) = printer.booklet(class_html(members, manuscript.setting), [PAGE])
    write_one(out, printed.data)
    return len(members)


def _member(row: Row, whole: Recipe, setting: Setting) -> Member:
    chosen = own_choices(whole, tuple(f"{name}={value}" for name, value in row.choices.items()))
    measures = tuple(f"{name}={value}" for name, value in row.measures.items())
    made = draft(choose(whole, chosen), own_size(whole, measures, setting, chosen))
    with composing(made):
        return Member(row.name, made, lays_of(made))
