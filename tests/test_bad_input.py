"""What can be wrong with a recipe, from its text to its drawings: for each, one clear sentence at
the exact place with a remedy, wherever in the file it stands."""

from __future__ import annotations

from typing import NamedTuple

import pytest

from notchbook.composing.chapters import check_care
from notchbook.drafting.engine import draft
from notchbook.drafting.truing import true
from notchbook.gathering.source import Source
from notchbook.problems import ContentError, Problem
from notchbook.reading.read import read_recipe
from notchbook.reading.walk import all_figures
from tests.composing.sample import figure_problems, setting
from tests.recipes import HAT, HEAD, STEPS, text_of

SETTING = setting()
FIGURE = "    ```figure\n    view: flat\n    piece: brim\n    ```\n"
GOOD = text_of(HEAD + HAT, STEPS + "\n" + FIGURE)


class Bad(NamedTuple):
    """``old`` in the good recipe becomes ``new``; the problem stands where ``at`` does."""

    old: str
    new: str
    at: str
    says: str
    remedy: str


BAD = {
    "broken YAML": Bad("tags: [hat]", "tags: [hat", "[hat", "not closed", "]"),
    "an alias": Bad("title: Wick hat", "title: *wick", "*wick", "alias", "Write"),
    "a tag": Bad("title: Wick hat", "title: !!str Wick hat", "!!str", "tag", "Delete it"),
    "an unknown key": Bad("summary:", "sumary:", "sumary:", "“sumary”", "Did you mean “summary”?"),
    "a duplicate key": Bad(
        "skill: beginner",
        "skill: beginner\nskill: expert",
        "skill: expert",
        "second time",
        "Keep one",
    ),
    "a misspelt name": Bad(
        "rim: head + tau", "rim: hed + tau", "hed + tau", "“hed”", "Did you mean “head”?"
    ),
    "a misspelt name in a piece": Bad(
        "inner: rim", "inner: rimm", "rimm", "“rimm”", "Did you mean “rim”?"
    ),
    "a misspelt piece in a piece": Bad(
        "inner: rim", "inner: length(crwn.rim)", "length(crwn", "“crwn”", "Did you mean “crown”?"
    ),
    "a time that is a length": Bad("time: 2 h", "time: head", "head\n", "a time belongs", "units"),
    "cloths that need each other": Bad(
        "thickness: 0.8 mm", "thickness: shell.thickness", "shell: {title", "circle", "Give one"
    ),
    "a cloth nothing is cut from": Bad(
        "cloths:\n",
        "cloths:\n  felt: {title: felt, thickness: 1 mm, widths: [90 cm]}\n",
        "felt: {title",
        "No piece is cut from",
        "delete it",
    ),
    "a missing value": Bad("    usual: 57 cm\n", "", "head:", "“usual”", "usual:"),
    "a length and an area": Bad(
        "* shell.thickness + 8 mm", "* shell.thickness + 8 mm * 1 mm", "+ 8 mm *", "an area", "unit"
    ),
    "a length and a bare number": Bad(
        "shell.thickness + 8 mm", "shell.thickness + 8", "+ 8\n", "a plain number", "unit"
    ),
    "an absurd power": Bad(
        "shell.thickness + 8 mm",
        "shell.thickness + 8 mm * 10 ^ 9 ^ 9",
        "^ 9 ^",
        "absurd",
        "some other way",
    ),
    "a huge number": Bad(
        "width: 8 cm", f"width: 1{'0' * 400} cm", "1000", "too large", "can be measured"
    ),
    "a working of the wrong kind, where it is used": Bad(
        "workings:\n  rim: head + tau * shell.thickness + 8 mm",
        "workings:\n  ease: tau * shell.thickness * 8 mm\n  rim: head + ease",
        "+ ease",
        "This adds a length (“head”) to an area (“ease”).",
        "as “tau * shell.thickness * 8 mm”. Check the units",
    ),
    "a working of the wrong kind, in a piece": Bad(
        "rim: head + tau * shell.thickness + 8 mm",
        "rim: head * 8 mm",
        "rim\n    oval",
        "“rim” is an area; a length belongs here.",
        "as “head * 8 mm”.",
    ),
    "a working of the wrong kind, in the text": Bad(
        "{{ rim }}", "{{ rim + 2 }}", "+ 2 }}", "a plain number (“2”)", "2 mm, 2 cm or 2 in"
    ),
    "a bare number in a piece": Bad(
        "width: 8 cm", "width: 8.50", "8.50", "“8.50” is a plain", "8.50 mm, 8.50 cm or 8.50 in."
    ),
    "a misspelt parameter": Bad(
        "width: 8 cm", "widht: 8 cm", "widht", "nothing called “widht”", "Did you mean “width”?"
    ),
    "a circle": Bad("rim: head + tau", "rim: rim + tau", "rim: rim", "rim → rim", "Give one"),
    "a circle through an edge": Bad(
        "rim: head + tau", "rim: length(brim.outer) + tau", "rim: length", "rim → piece brim", "one"
    ),
    "division by zero at one end": Bad(
        "width: 8 cm",
        "width: 8 cm * 1 cm / (height - 25 cm)",
        "/ (height",
        "(At head 52 cm, height 25 cm",
        "a limit",
    ),
    "a cone whose rim outruns its slant": Bad(
        "height: height, cut",
        "slant: 9 cm, cut",
        "rim, slant",
        "outruns its slant of 90 mm",
        "94 mm",
    ),
    "an allowance larger than its edge": Bad(
        "{outer: 6 mm}", "{inner: 30 cm}", "30 cm}", "can't be given its allowance", "smaller"
    ),
    "a seam that does not meet": Bad(
        "inner: rim", "inner: rim + 3 mm", "crown to brim: {", "3.0 mm off", "ease"
    ),
    "a piece never cut": Bad(
        "cut: [brim, crown]", "cut: [brim]", "crown: {title", "never cut", "[shell crown]"
    ),
    "a seam never sewn": Bad(
        "sew: [brim edge, ", "sew: [", "brim edge: {", "never sewn", "sew: [brim edge]"
    ),
    "a figure of an unknown piece": Bad(
        "piece: brim", "piece: brin", "brin", "no piece “brin”", "Did you mean “brim”?"
    ),
    "an unknown view": Bad("view: flat", "view: flatt", "flatt", "“flatt”", "“flat”"),
    "an unknown key in a figure": Bad(
        "piece: brim", "pice: brim", "pice", "has no “pice”", "Did you mean “piece”?"
    ),
    "text that is no formula": Bad("{{ rim }}", "{{ rim + }}", " }}.\n", "stops", "a value there"),
    "raw HTML": Bad("2. Sew.", "2. <b>Sew.</b>", "<b>", "HTML", "Markdown"),
    "a picture outside the folder": Bad(
        "2. Sew.", "2. Sew. ![a hat](../hat.jpg)", "![a", "../hat.jpg", "beside the recipe"
    ),
    "a picture from elsewhere": Bad(
        "2. Sew.",
        "2. Sew. ![a hat](https://example.org/hat.jpg)",
        "![a",
        "example.org",
        "beside the recipe",
    ),
    "a caution nobody knows": Bad(
        "tags: [hat]", "tags: [hat]\ncare: [wyre]", "wyre", "wyre", "“wire”"
    ),
}


def problems_of(text: str) -> tuple[Problem, ...]:
    """All that the phases find wrong with a recipe."""
    try:
        made = read_recipe(Source("wick-hat", "wick-hat", {"recipe.md": text.encode()}))
    except ContentError as error:
        return error.problems
    found = check_care(made, SETTING.catalogue) or true(made)
    if found:
        return found
    drawn = draft(made, made.sizes[0])
    return tuple(problem for rule in all_figures(made) for problem in figure_problems(drawn, rule))


def test_the_good_recipe_is_good() -> None:
    assert problems_of(GOOD) == ()


@pytest.mark.parametrize("shift", [0, 3])
@pytest.mark.parametrize("name", BAD)
def test_bad_input_is_a_sentence_at_its_place_with_a_remedy(name: str, shift: int) -> None:
    bad = BAD[name]
    assert GOOD.count(bad.old) == 1
    text = GOOD.replace(bad.old, bad.new).replace("---\n", "---\n" + "# a comment\n" * shift, 1)
    before = text[: text.index(bad.at)]
    line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
    problems = problems_of(text)
    told = "\n".join(str(problem) for problem in problems)
    here = [p for p in problems if (p.place.line, p.place.column) == (line, column)]
    assert here, f"nothing at {line}:{column}, but\n{told}"
    assert any(bad.says in problem.what and bad.remedy in problem.remedy for problem in here), told
    for problem in problems:
        assert problem.what.rstrip(")")[-1] in ".?!”" and problem.remedy[-1] in ".?!:”", told


def test_the_line_a_working_is_defined_on_is_told_where_it_is_used() -> None:
    bad = BAD["a working of the wrong kind, where it is used"]
    text = GOOD.replace(bad.old, bad.new)
    line = text[: text.index("ease: tau")].count("\n") + 1
    (problem,) = problems_of(text)
    assert problem.remedy.startswith(f"“ease” is defined on line {line} as “tau * ")


def test_a_misspelt_parameter_is_not_missing_too() -> None:
    bad = BAD["a misspelt parameter"]
    assert len(problems_of(GOOD.replace(bad.old, bad.new))) == 1


def test_several_problems_are_told_together_and_none_twice() -> None:
    text = GOOD
    for name in ("an unknown key", "a missing value", "raw HTML", "text that is no formula"):
        text = text.replace(BAD[name].old, BAD[name].new)
    problems = problems_of(text)
    assert len(problems) == len(set(problems)) == 4


def test_windows_line_ends_a_byte_order_mark_and_other_alphabets_simply_work() -> None:
    text = GOOD.replace("title: Wick hat", "title: Шапка фонарщика").replace("\n", "\r\n")
    assert problems_of("\ufeff" + text) == ()
