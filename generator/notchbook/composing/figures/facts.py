"""What the step says that a figure stands in: which seam it sews, leaves open or turns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from notchbook.composing.figures import keys
from notchbook.composing.solids.state import seams_sewn
from notchbook.drafting.draft import Draft, Seam
from notchbook.problems import Problem
from notchbook.reading.recipe import FigureRule, Step
from notchbook.reading.walk import all_steps


def step_of(draft: Draft, figure: FigureRule) -> Step | None:
    """The step that a figure stands in."""
    for step in all_steps(draft.recipe):
        if figure in step.blocks:
            return step
    return None


def seams_until(draft: Draft, step: Step | None) -> Iterator[str]:
    """The seams sewn up to a step and in it, in their order; all of them where there is none."""
    for each in all_steps(draft.recipe):
        yield from seams_sewn(draft, each)
        if step and each.id == step.id:
            return


def sewn_before(draft: Draft, step: Step | None, seam: Seam) -> frozenset[str]:
    """The seams sewn before a seam is, in steps before a figure's or earlier in it."""
    found: list[str] = []
    for name in seams_until(draft, step):
        if name == seam.name:
            break
        found.append(name)
    return frozenset(found)


def seam_sewn(draft: Draft, figure: FigureRule, view: str, problems: list[Problem]) -> Seam | None:
    """The seam a figure shows being sewn: the one it names, or the only one its step sews."""
    if "seam" in figure.keys.entries:
        return _named(draft, figure, view, problems)
    step = step_of(draft, figure)
    names = seams_sewn(draft, step) if step else []
    return _only(draft, figure, view, names, problems)


def seam_made(draft: Draft, figure: FigureRule, view: str, problems: list[Problem]) -> Seam | None:
    """The seam a figure shows made: the one it names, or what its step or the last one before it
    that sews anything has sewn."""
    if "seam" in figure.keys.entries:
        return _named(draft, figure, view, problems)
    step = step_of(draft, figure)
    names: list[str] = []
    for each in all_steps(draft.recipe) if step else ():
        names = seams_sewn(draft, each) or names
        if step and each.id == step.id:
            break
    return _only(draft, figure, view, names, problems)


def _named(draft: Draft, figure: FigureRule, view: str, problems: list[Problem]) -> Seam | None:
    found = [keys.find_seam(w, draft, problems) for w in keys.texts(figure.keys, "seam", problems)]
    if not found and not problems:
        problems.append(keys.missing(figure, "seam", view, next(iter(draft.seams), "NAME")))
    return found[0] if found else None


def _only(
    draft: Draft,
    figure: FigureRule,
    view: str,
    names: Sequence[str],
    problems: list[Problem],
) -> Seam | None:
    if len(names) == 1:
        return draft.seams[names[0]]
    if names:
        said = ", ".join(f"“{name}”" for name in names)
        what = f"Several seams are sewn here: {said}, and a {view} figure shows one."
        remedy = f"Say which with a line like “seam: {names[0]}”."
        problems.append(Problem(figure.view.place, what, remedy))
    elif not problems:
        problems.append(keys.missing(figure, "seam", view, next(iter(draft.seams), "NAME")))
    return None
