"""A table of a class: a row for each person, a column for each measure or choice, as text that any
spreadsheet writes."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from notchbook.problems import ContentError, Findings, Place, Problem, fault, suggestion
from notchbook.reading.recipe import Recipe

_MOST = 200


@dataclass(frozen=True, slots=True)
class Row:
    """One person: a name, and what stands in the columns of measures and of choices; empty cells
    are left out."""

    name: str
    measures: Mapping[str, str]
    choices: Mapping[str, str]
    place: Place


def read_class(data: bytes, file: str, whole: Recipe) -> tuple[Row, ...]:
    """Read a table whose first line names its columns: first what people are called, then measures
    and choices by their names in the recipe. Cells are parted by commas, semicolons or tabs.

    Raises ContentError with everything that is wrong with it.
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        what = "This table is not UTF-8 text."
        raise fault(Place(file, 1, 1), what, "Save it as CSV in UTF-8.") from None
    first = text.partition("\n")[0]
    mark = max(",;\t", key=first.count)
    reader = csv.reader(text.splitlines(keepends=True), delimiter=mark)
    try:
        lines = [(reader.line_num, [" ".join(cell.split()) for cell in row]) for row in reader]
    except csv.Error as error:
        what = f"This line can't be read: {error}."
        raise fault(Place(file, reader.line_num, 1), what, "Save the table as CSV again.") from None
    lines = [(number, cells) for number, cells in lines if any(cells)]
    if len(lines) < 2 or len(lines) > _MOST:
        what = "This table has no person in it." if len(lines) < 2 else "This table is too long."
        remedy = f"Name the columns in the first line, and write a line for each of up to {_MOST}."
        raise fault(Place(file, 1, 1), what, remedy)
    (_, heads), *people = lines
    findings = Findings()
    findings.problems.extend(_unknown(heads, file, whole))
    for number, cells in people:
        if len(cells) > len(heads):
            what = f"This line has {len(cells)} cells, but there are {len(heads)} columns."
            remedy = "Write a decimal with a point, or put the cell in quotation marks."
            findings.problems.append(Problem(Place(file, number, 1), what, remedy))
    findings.settle()
    return tuple(_row(heads, cells, whole, Place(file, number, 1)) for number, cells in people)


def _unknown(heads: list[str], file: str, whole: Recipe) -> Iterator[Problem]:
    """Columns after the first that are no measure and no choice, or are there already."""
    for number, head in enumerate(heads[1:], start=1):
        place = Place(file, 1, 1)
        if head not in whole.measures and head not in whole.choices:
            what = f"{whole.slug} has no measure and no choice called “{head}”."
            yield Problem(place, what, suggestion(head, [*whole.measures, *whole.choices]))
        elif head in heads[1:number]:
            yield Problem(place, f"There are two columns “{head}”.", "Keep one of them.")


def _row(heads: list[str], cells: list[str], whole: Recipe, place: Place) -> Row:
    given = {head: cell for head, cell in zip(heads[1:], cells[1:], strict=False) if cell}
    return Row(
        cells[0] or str(place.line - 1),
        {name: cell for name, cell in given.items() if name in whole.measures},
        {name: cell for name, cell in given.items() if name in whole.choices},
        place,
    )


def at_row(row: Row, error: ContentError) -> list[Problem]:
    """What is wrong with a person, said at that line of the table."""
    return [
        Problem(row.place, f"{row.name}: {problem.what}", problem.remedy)
        for problem in error.problems
    ]
