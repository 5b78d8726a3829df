"""Flat YAML files: one mapping of texts, as word catalogues, tokens and page heads are."""

from __future__ import annotations

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError
from ruamel.yaml.nodes import MappingNode, ScalarNode

from notchbook.problems import ContentError, Place, Problem


def flat(text: str, file: str, first_line: int = 1) -> dict[str, str]:
    """The keys and texts of a YAML mapping without nesting.

    ``first_line`` is the line of ``file`` on which ``text`` begins. Raises ContentError.
    """
    yaml = YAML(typ="base", pure=True)
    try:
        node = yaml.compose(text)
    except MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line, column = (mark.line, mark.column) if mark else (0, 0)
        place = Place(file, first_line + line, column + 1)
        raise ContentError([_broken(place, str(error.problem or "it breaks off"))]) from None
    if node is None:
        return {}
    if not isinstance(node, MappingNode):
        raise ContentError([_broken(Place(file, first_line, 1), "it is not a list of keys")])
    words: dict[str, str] = {}
    problems = []
    for key, value in node.value:
        place = Place(file, first_line + key.start_mark.line, key.start_mark.column + 1)
        if not isinstance(value, ScalarNode):
            problems.append(_broken(place, f"“{key.value}” holds more than one text"))
        elif key.value in words:
            what = f"“{key.value}” stands here a second time."
            problems.append(Problem(place, what, "Keep one of the two."))
        else:
            words[key.value] = value.value
    if problems:
        raise ContentError(problems)
    return words


def _broken(place: Place, why: str) -> Problem:
    return Problem(
        place,
        f"This can't be read as YAML: {why}.",
        "Write one “key: text” a line, with quotation marks round texts that hold a colon.",
    )
