"""The lists of a recipe: measures, shopping, cutting, workings and sizes, a row each."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from markupsafe import Markup, escape

from notchbook.composing import numbers
from notchbook.composing.kinds import kind
from notchbook.composing.names import plain
from notchbook.composing.numbers import Pair
from notchbook.composing.setting import Setting
from notchbook.composing.values import Values, words
from notchbook.drafting.draft import CutLine, Draft, Piece
from notchbook.drafting.engine import evaluate_in
from notchbook.reading.quantity import INCH, LENGTH, Quantity


@dataclass(frozen=True, slots=True)
class MeasureRow:
    """What to measure, how, this size's value and what the recipe allows."""

    title: str
    ask: str
    value: Markup
    range: Markup


@dataclass(frozen=True, slots=True)
class ChoiceRow:
    """What to choose, what speaks for what, and what was chosen here."""

    title: str
    ask: str
    value: Markup


@dataclass(frozen=True, slots=True)
class ShopRow:
    """One thing to buy: what, and how much of it (one line for each width of a cloth)."""

    title: str
    amounts: tuple[Markup, ...]


@dataclass(frozen=True, slots=True)
class CutRow:
    """One piece from one cloth: how often (in words where it is in pairs), and what allowance its
    line leaves."""

    piece: str
    cloth: str
    count: str
    allowance: Markup
    notches: int


@dataclass(frozen=True, slots=True)
class WorkingRow:
    """A working: its formula as written, and what comes out."""

    name: str
    why: str
    formula: Markup
    result: Markup


@dataclass(frozen=True, slots=True)
class SizeEntry:
    """A published size: where its page is, seen from this one, and its measures."""

    id: str
    title: str
    href: str
    measures: Mapping[str, Quantity]


@dataclass(frozen=True, slots=True)
class SetEntry:
    """A published set of choices: where its page is, seen from this one, and whether it is this
    page's. ``size`` is the title of its page's size, where that is not this page's."""

    title: str
    size: str
    href: str
    here: bool


@dataclass(frozen=True, slots=True)
class SizeRow:
    """A size, its measures and, where the recipe asks for them, its hat numbers. ``name`` is
    empty where the size is called after its first measure."""

    entry: SizeEntry
    name: str
    values: tuple[Markup, ...]
    hats: tuple[str, ...]


def measure_rows(draft: Draft, values: Values) -> tuple[MeasureRow, ...]:
    """Every measure in the order the recipe gives them."""
    return tuple(
        MeasureRow(
            measure.title.value,
            measure.ask.value,
            values.body(draft.values[name]),
            values.span(evaluate_in(draft, measure.low), evaluate_in(draft, measure.high)),
        )
        for name, measure in draft.recipe.measures.items()
    )


def choice_rows(draft: Draft, values: Values) -> tuple[ChoiceRow, ...]:
    """Every choice in the order the recipe gives them, as it is settled here."""
    recipe, rows = draft.recipe, []
    for name, option in recipe.chosen.items():
        choice = recipe.choices[name]
        title = choice.options[option].value
        rows.append(
            ChoiceRow(choice.title.value, choice.ask.value, values.pair(Pair(title, title)))
        )
    return tuple(rows)


def cloth_notes(draft: Draft, setting: Setting) -> tuple[Markup, ...]:
    """What to know about the cloths before buying: their widths, and which are to be shrunk."""
    say, cloths = setting.catalogue.words, draft.recipe.cloths.values()
    shrinking = [c.title.value for c in cloths if evaluate_in(draft, c.shrinkage).value > 0]
    notes = []
    if any(len(cloth.widths) > 1 for cloth in cloths):
        notes.append(words(say["list.cloths.widths"]))
    if shrinking:
        notes.append(words(say["list.cloths.shrink"], cloths=", ".join(shrinking)))
    return tuple(notes)


def notion_rows(draft: Draft, values: Values) -> tuple[ShopRow, ...]:
    """Every notion with its amount, where it has one."""
    return tuple(
        ShopRow(notion.title.value, (values.bought(amount),) if amount else ())
        for name, notion in draft.recipe.notions.items()
        for amount in (draft.notions[name],)
    )


def tool_rows(draft: Draft) -> tuple[ShopRow, ...]:
    """Every tool, to have rather than to buy."""
    return tuple(ShopRow(tool.value, ()) for tool in draft.recipe.tools)


def cut_rows(draft: Draft, setting: Setting, values: Values) -> tuple[CutRow, ...]:
    """Every piece from every cloth it is cut from."""
    return tuple(
        CutRow(
            piece.title,
            draft.recipe.cloths[cloth].title.value,
            _count(piece, cloth, setting),
            _allowance(piece.cut_line(cloth), piece, setting, values),
            piece.marks,
        )
        for piece in draft.pieces.values()
        for cloth in piece.counts
    )


def _count(piece: Piece, cloth: str, setting: Setting) -> str:
    if cloth in piece.pairs:
        return setting.say_count("list.cutting.pairs", piece.pairs[cloth])
    return str(piece.counts[cloth])


def _allowance(line: CutLine, piece: Piece, setting: Setting, values: Values) -> Markup:
    """An allowance in words: ``12 mm all round``, or each edge's."""

    def width(mm: float) -> Markup:
        catalogue = setting.catalogue.words
        if abs(mm) < 0.05:
            return words(catalogue["list.allowance.none"])
        if mm < 0:
            return words(catalogue["list.allowance.inside"], width=values.length(-mm))
        return values.length(mm)

    catalogue = setting.catalogue.words
    widths = {edge: line.allowance[edge] for edge in piece.flat.edges}
    if len({round(mm, 3) for mm in widths.values()}) == 1:
        return words(catalogue["list.allowance.round"], width=width(next(iter(widths.values()))))
    return Markup("; ").join(
        words(catalogue["list.allowance.edge"], edge=plain(edge), width=width(mm))
        for edge, mm in widths.items()
    )


def working_rows(draft: Draft, values: Values) -> tuple[WorkingRow, ...]:
    """Every working, in the order the recipe gives them."""
    return tuple(
        WorkingRow(
            name,
            working.why.value if working.why else "",
            escape(working.formula.text),
            values.quantity(draft.values[name], kind(working.formula.tree, draft.recipe)),
        )
        for name, working in draft.recipe.workings.items()
    )


def size_titles(draft: Draft, sizes: tuple[SizeEntry, ...]) -> tuple[str, ...]:
    """The measures that differ between the sizes, by title: the columns of ``size_rows``."""
    return tuple(draft.recipe.measures[name].title.value for name in _differing(draft, sizes))


def size_rows(draft: Draft, sizes: tuple[SizeEntry, ...], values: Values) -> tuple[SizeRow, ...]:
    """Every published size, with hat numbers where a measure asks for them."""
    first = next(iter(draft.recipe.measures), "")
    head = next((name for name, measure in draft.recipe.measures.items() if measure.hat), "")
    return tuple(
        SizeRow(
            entry,
            "" if first and _is_called_after(entry, entry.measures[first]) else entry.title,
            tuple(values.body(entry.measures[name]) for name in _differing(draft, sizes)),
            hat_numbers(entry.measures[head].value) if head else (),
        )
        for entry in sizes
    )


def _differing(draft: Draft, sizes: tuple[SizeEntry, ...]) -> list[str]:
    return [
        name
        for number, name in enumerate(draft.recipe.measures)
        if number == 0 or len({entry.measures[name] for entry in sizes}) > 1
    ]


def _is_called_after(entry: SizeEntry, measure: Quantity) -> bool:
    pair = numbers.tape(measure.value) if measure.dimension == LENGTH else numbers.quantity(measure)
    return entry.title.replace(" ", numbers.SPACE) in pair


def hat_numbers(girth: float) -> tuple[str, str, str]:
    """Metric, US and UK hat size of a head ``girth`` mm round (common practice): the girth in cm;
    the girth in inches ÷ π to the nearest eighth; the US number less an eighth."""
    eighths = math.floor(girth / INCH / math.pi * 8 + 0.5)
    return numbers.decimal(girth / 10, 0.5), _eighths(eighths), _eighths(eighths - 1)


def _eighths(count: int) -> str:
    whole, rest = divmod(count, 8)
    return f"{whole}{numbers.fraction(Fraction(rest, 8)) if rest else ''}"
