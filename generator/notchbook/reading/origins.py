"""Where the values in a formula come from, for those who have to mend it."""

from __future__ import annotations

import re
from dataclasses import replace

from notchbook.problems import ContentError, Problem
from notchbook.reading.formula import Formula, Name, references
from notchbook.reading.recipe import Recipe


def traced(error: ContentError, formula: Formula, recipe: Recipe) -> ContentError:
    """What is wrong with a formula, each remedy begun with where the workings are defined that the
    sentence names: as often as not it is they that are wrong."""
    names = [node.name for node in references(formula.tree) if isinstance(node, Name)]
    workings = [name for name in dict.fromkeys(names) if name in recipe.workings]

    def told(problem: Problem) -> Problem:
        origins = [
            f"“{name}” is defined on line {recipe.workings[name].formula.place.line} as "
            f"“{recipe.workings[name].formula.text}”."
            for name in sorted(workings)
            if re.search(rf"(?<![\w.]){re.escape(name)}(?![\w.])", problem.what)
        ]
        return replace(problem, remedy=" ".join([*origins, problem.remedy]))

    return ContentError(map(told, error.problems))
