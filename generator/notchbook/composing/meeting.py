"""What meets what: every seam with its sides, a row each, and what readers call an edge."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from markupsafe import Markup

from notchbook.composing.names import plain
from notchbook.composing.setting import Setting
from notchbook.composing.values import Values, words
from notchbook.drafting.draft import Draft, Seam
from notchbook.reading.recipe import EdgeName


@dataclass(frozen=True, slots=True)
class SeamRow:
    """A seam: each side with its length and, beyond the first, what of that is taken up and how."""

    name: str
    sides: tuple[tuple[str, Markup, Markup], ...]


def seam_rows(draft: Draft, setting: Setting, values: Values) -> tuple[SeamRow, ...]:
    """Every seam as it measures on the drafted pieces."""
    return tuple(
        SeamRow(
            seam.name,
            tuple(
                (
                    " + ".join(counted(edge_title(draft, edge, setting) for edge in side)),
                    values.length(seam.lengths[number]),
                    _fullness(draft, seam, number, setting, values),
                )
                for number, side in enumerate(seam.sides)
            ),
        )
        for seam in draft.seams.values()
    )


def _fullness(draft: Draft, seam: Seam, number: int, setting: Setting, values: Values) -> Markup:
    """What a side is longer or shorter by, and how it is taken up; nothing where it is neither."""
    ease, rule = seam.ease[number], draft.recipe.seams[seam.name]
    if not ease:
        return Markup("")
    how = "gathers" if number in rule.gather else "pleats" if number in rule.pleats else "ease"
    key = how if ease > 0 else "stretch"
    return words(setting.catalogue.words[f"list.seams.{key}"], extra=values.length(abs(ease)))


def ply_title(draft: Draft, piece: str, cloth: str | None, setting: Setting) -> str:
    """A piece as a reader knows it, with the cloth where one is said: ``Brim (firm twill)``."""
    title = draft.pieces[piece].title
    if not cloth:
        return title
    return setting.say("list.ply", piece=title, cloth=draft.recipe.cloths[cloth].title)


def edge_title(draft: Draft, edge: EdgeName, setting: Setting) -> str:
    """``shell brim.outer`` as a reader knows it: ``Brim (firm twill), outer``."""
    piece = ply_title(draft, edge.piece, edge.cloth, setting)
    return setting.say("list.seams.edge", piece=piece, edge=plain(edge.edge))


def counted(names: Iterable[str]) -> Iterator[str]:
    """Names in order, those that follow themselves said once: ``6 × Pane, base``."""
    for name, same in groupby(names):
        count = len(list(same))
        yield f"{count} × {name}" if count > 1 else name
