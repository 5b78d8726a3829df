"""What to buy of each cloth, as shops cut it: for one draft, and for all sizes of a recipe."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from notchbook.composing.lists import ShopRow
from notchbook.composing.setting import Setting
from notchbook.composing.values import Values, words
from notchbook.drafting.draft import Draft, Lay
from notchbook.drafting.packing.cloth import TooWide, widths_of, widths_sold
from notchbook.drafting.thread import BITE, STITCH, WASTE, thread


@dataclass(frozen=True, slots=True)
class Amounts:
    """How much of each cloth on each width every size takes. ``columns`` are each cloth's
    title and its widths, ``rows`` what to buy, by the size's id; empty where the size needs a wider
    one."""

    columns: tuple[tuple[str, tuple[Markup, ...]], ...]
    rows: Mapping[str, tuple[Markup, ...]]

    @property
    def names(self) -> tuple[str, ...]:
        """Of each cell of a row, which cloth it is about, and how wide."""
        return tuple(
            f"{cloth}, {width.striptags()}" for cloth, widths in self.columns for width in widths
        )


def cloth_rows(
    draft: Draft, lays: tuple[Lay, ...], setting: Setting, values: Values
) -> tuple[ShopRow, ...]:
    """Every cloth, with what to buy of each width that has room."""
    say = setting.catalogue.words["list.cloth.buy"]
    return tuple(
        ShopRow(
            cloth.title.value,
            tuple(
                words(say, length=values.cloth(lay.need), width=values.tape(lay.width))
                for lay in lays
                if lay.cloth == cloth.name
            ),
        )
        for cloth in draft.recipe.cloths.values()
    )


def narrow_notes(draft: Draft, setting: Setting, values: Values) -> tuple[Markup, ...]:
    """Which widths have no room, for which piece, by how much, and which to take instead."""
    notes = []
    for cloth in draft.recipe.cloths.values():
        widths = widths_of(draft, cloth)
        least = min((width for width, wide in widths if wide is None), default=None)
        if least is not None:
            notes += [_narrow(draft, wide, least, setting, values) for _, wide in widths if wide]
    return tuple(notes)


def _narrow(
    draft: Draft, wide: TooWide, least: float, setting: Setting, values: Values
) -> Markup:  # fmt: skip
    cloth = draft.recipe.cloths[wide.cloth]
    turn = ("grain", "nap")[cloth.nap] if wide.across else ""
    say = setting.catalogue.words
    parts = ["list.lay.narrow", f"list.lay.narrow.{turn}", "list.lay.narrow.take"]
    return Markup(" ").join(
        words(
            say[part],
            cloth=cloth.title,
            piece=draft.pieces[wide.piece].title,
            width=values.tape(wide.width),
            by=values.length(wide.by),
            least=values.tape(least),
        )
        for part in parts
        if part in say
    )


def amounts(
    draft: Draft, lays: Mapping[str, tuple[Lay, ...]], values: Values
) -> Amounts | None:  # fmt: skip
    """The table of all sizes, from the lays of each by its id; none of a single size."""
    if len(lays) < 2:
        return None
    laid = {
        size: {(lay.cloth, lay.width): values.cloth(lay.need) for lay in found}
        for size, found in lays.items()
    }
    used = {key for found in laid.values() for key in found}
    columns = [
        (cloth, [width for width in widths_sold(draft, cloth) if (cloth.name, width) in used])
        for cloth in draft.recipe.cloths.values()
    ]
    return Amounts(
        tuple(
            (cloth.title.value, tuple(values.tape(width) for width in widths))
            for cloth, widths in columns
            if widths
        ),
        {
            size: tuple(
                found.get((cloth.name, width), Markup(""))
                for cloth, widths in columns
                for width in widths
            )
            for size, found in laid.items()
        },
    )


@dataclass(frozen=True, slots=True)
class ThreadRows:
    """Thread by the type of stitch, and how it was reckoned."""

    rows: tuple[ShopRow, ...]
    note: Markup


def thread_rows(draft: Draft, setting: Setting, values: Values) -> ThreadRows | None:
    """What thread the seams take; none where nothing is sewn."""
    found, say = thread(draft), setting.catalogue.words
    if not found.seams:
        return None
    kinds = (("lockstitch", found.lockstitch), ("overedge", found.overedge))
    return ThreadRows(
        tuple(
            ShopRow(say[f"list.thread.{kind}"], (values.thread(mm),)) for kind, mm in kinds if mm
        ),
        words(
            say["list.thread.note"],
            seams=values.thread(found.seams),
            edges=values.thread(found.edges),
            stitch=values.length(STITCH),
            bite=values.length(BITE),
            waste=round(100 * WASTE),
        ),
    )
