"""Walks over the text of a recipe, in its order."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from notchbook.reading.recipe import FigureRule, GapRule, Inline, Picture, Prose, Stage, Step


class Written(Protocol):
    """A recipe, or the body of one."""

    @property
    def opening(self) -> tuple[Prose | FigureRule, ...]: ...

    @property
    def stages(self) -> tuple[Stage, ...]: ...


def all_steps(text: Written) -> Iterator[Step]:
    """Every step."""
    for stage in text.stages:
        yield from stage.steps


def all_gaps(text: Written) -> Iterator[GapRule]:
    """Everything that a step leaves open."""
    return (gap for step in all_steps(text) for gap in step.facts.leave)


def all_blocks(text: Written) -> Iterator[Prose | FigureRule]:
    """Every run of prose and every figure, those inside steps too."""
    return (block for _, block in placed_blocks(text))


def placed_blocks(text: Written) -> Iterator[tuple[str, Prose | FigureRule]]:
    """Every block, with the id of the step or else the stage it stands in; empty in the opening."""
    yield from (("", block) for block in text.opening)
    for stage in text.stages:
        for part in stage.blocks:
            if isinstance(part, Step):
                yield from ((part.id, block) for block in part.blocks)
            else:
                yield stage.id, part


def all_figures(text: Written) -> Iterator[FigureRule]:
    """Every figure."""
    return (block for block in all_blocks(text) if isinstance(block, FigureRule))


def all_inlines(text: Written) -> Iterator[Inline]:
    """Every formula in the prose."""
    return (part for part in _parts(text) if isinstance(part, Inline))


def all_pictures(text: Written) -> Iterator[Picture]:
    """Every photograph in the prose."""
    return (part for part in _parts(text) if isinstance(part, Picture))


def _parts(text: Written) -> Iterator[str | Inline | Picture]:
    for block in all_blocks(text):
        if isinstance(block, Prose):
            yield from block.parts
