"""Choices: read with what depends on them, settled one way or another, and all that can be wrong
with them."""

from __future__ import annotations

import pytest

from notchbook.gathering.source import Source
from notchbook.problems import ContentError, Problem
from notchbook.reading.choosing import (
    MOST_SETS,
    choose,
    chosen_title,
    option_sets,
    published,
    within,
)
from notchbook.reading.read import read_recipe
from notchbook.reading.recipe import Recipe
from notchbook.reading.walk import all_figures, all_steps
from tests.choosy import choosy, text
from tests.recipes import HAT, HEAD, recipe, text_of

OVAL = {"opening": "oval", "edge": "soft"}
WIRED = {"opening": "round", "edge": "wired"}


def parsed(text: str) -> Recipe:
    """The recipe of a whole file."""
    return read_recipe(Source("wick-hat", "wick-hat", {"recipe.md": text.encode()}))


def ids(recipe: Recipe) -> list[str]:
    return [size.id for size in recipe.sizes]


def test_choosing_leaves_what_is_chosen_and_nothing_else() -> None:
    oval, wired = choose(choosy(), OVAL), choose(choosy(), WIRED)
    assert list(oval.pieces) == ["brim", "crown", "ear", "wad"]
    assert list(wired.pieces) == ["brim", "crown"]
    assert "ear seam" in oval.seams
    assert "ear seam" not in wired.seams
    assert (list(oval.notions), list(wired.notions)) == ([], ["wire"])
    assert ("felt" in oval.cloths, "felt" in wired.cloths) == (True, False)
    assert [word.value for word in oval.care] == ["needle"]
    assert [word.value for word in wired.care] == ["wire"]
    assert (len(list(all_figures(oval))), len(list(all_figures(wired)))) == (0, 1)


def test_a_working_that_goes_by_a_choice_has_its_plain_formula() -> None:
    assert choose(choosy(), OVAL).workings["ratio"].formula.text == "1.29"
    wired = choose(choosy(), WIRED)
    assert wired.workings["ratio"].formula.text == "1"
    assert str(wired.workings["ratio"].why) == "Heads are oval."
    assert wired.workings["channel"].formula.text == "7 mm"


def test_what_is_not_said_is_as_usual() -> None:
    assert choose(choosy(), {}) == choose(choosy(), OVAL)
    assert choose(choosy(), {"edge": "wired"}).chosen == {"opening": "oval", "edge": "wired"}
    assert choosy().sets[0].chosen == OVAL


def test_a_stage_left_without_a_step_is_gone_and_one_that_never_had_any_stays() -> None:
    assert [stage.id for stage in choose(choosy(), OVAL).stages] == ["make-it", "wear-it"]
    assert [s.id for s in choose(choosy(), WIRED).stages] == ["make-it", "wire-it", "wear-it"]


def test_steps_are_numbered_anew_and_keep_their_ids() -> None:
    steps = list(all_steps(choose(choosy(), {"opening": "round"})))
    assert [(step.id, step.number) for step in steps] == [("make-it-1", 1), ("make-it-3", 2)]


def test_a_recipe_without_choices_and_one_whose_choices_are_settled_stay_as_they_are() -> None:
    plain, settled = recipe(), choose(choosy(), WIRED)
    assert choose(plain, {}) is plain
    assert choose(settled, OVAL) is settled
    assert published(plain) == (plain,)
    assert option_sets(plain) == ({},)


def test_a_set_may_be_published_in_some_sizes_and_always_is_in_the_usual_one() -> None:
    oval, wired = published(choosy())
    assert ids(oval) == ["head-56cm", "head-57cm", "head-58cm"]
    assert ids(wired) == ["head-56cm", "head-57cm"]
    assert (oval.home, wired.home) == ("wick-hat/oval", "wick-hat/round-wired")
    assert (chosen_title(oval), chosen_title(wired)) == ("oval, soft", "round, wired")


def test_where_no_set_is_listed_the_usual_one_is_published() -> None:
    text = (
        "publish:\n  oval: {opening: oval}\n"
        "  round-wired: {opening: round, edge: wired, sizes: [head-56cm]}\n"
    )
    (only,) = published(choosy(text, ""))
    assert (only.home, only.chosen) == ("wick-hat/usual", OVAL)


def test_what_is_not_published_has_its_recipes_folder() -> None:
    assert choose(choosy(), {"opening": "round"}).home == "wick-hat"


def test_a_measure_that_is_not_asked_for_is_gone_from_the_sizes_too() -> None:
    added = (
        "    range: [25 cm, 60 cm]\n  lean: {title: Lean, ask: Back., usual: 5 cm, "
        "range: [1 cm, 9 cm], when: {edge: wired}}\n"
    )
    found = choosy("    range: [25 cm, 60 cm]\n", added)
    assert "lean" not in choose(found, OVAL).measures
    assert "lean" in choose(found, WIRED).measures


def test_all_sets_of_options_are_visited_the_published_ones_first() -> None:
    sets = option_sets(choosy())
    assert sets[:2] == (OVAL, WIRED)
    assert len(sets) == 4
    assert within(choosy(), WIRED) == "in the set round-wired"
    assert within(choosy(), sets[2]) == "with opening: oval, edge: wired"


def test_where_sets_are_too_many_every_option_is_visited() -> None:
    more = "".join(
        f"  c{k}: {{title: C, ask: C, options: {{a: a, b: b, c: c}}, usual: a}}\n" for k in range(4)
    )
    workings = "".join(f"  w{k}: {{by: c{k}, a: 1, b: 2, c: 3}}\n" for k in range(4))
    front = text().replace("publish:\n", f"{more}publish:\n")
    front = front.replace("workings:\n", f"workings:\n{workings}")
    found = parsed(front)
    sets = option_sets(found)
    assert len(sets) < MOST_SETS
    for name, choice in found.choices.items():
        assert {each[name] for each in sets} == set(choice.options)


BAD = {
    "an option misspelt in a when": (
        "ear seam: {when: {opening: oval}",
        "ear seam: {when: {opening: ‸ovl}",
        "Choice “opening” has no option “ovl”.",
        "Did you mean “oval”?",
    ),
    "a choice misspelt in a when": (
        "wire: {when: {edge: wired}",
        "wire: {when: {‸egde: wired}",
        "No choice is called “egde”.",
        "Did you mean “edge”?",
    ),
    "a choice misspelt at a step": (
        "    when: {edge: wired}\n    use",
        "    when: {‸edg: wired}\n    use",
        "No choice is called “edg”.",
        "Did you mean “edge”?",
    ),
    "an option misspelt at a figure": (
        "    when: {opening: round}\n    view",
        "    when: {opening: [‸roundish]}\n    view",
        "Choice “opening” has no option “roundish”.",
        "Did you mean “round”?",
    ),
    "a when that is no table": (
        "    when: {edge: wired}\n    use",
        "    when: ‸edge\n    use",
        "“when” takes a table of names, and one value stands here.",
        "Write each name with its value: {edge: …}.",
    ),
    "a working that lacks an option": (
        "channel: {by: edge, soft: 0 mm, wired: 7 mm}",
        "‸channel: {by: edge, soft: 0 mm}",
        "“channel” goes by “edge” and has no formula for “wired”.",
        "Write one for each option: {by: edge, wired: …}.",
    ),
    "a working with an option too many": (
        "channel: {by: edge, soft: 0 mm, wired: 7 mm}",
        "channel: {by: edge, soft: 0 mm, wired: 7 mm, ‸cord: 3 mm}",
        "Choice “edge” has no option “cord”.",
        "Use one of: soft, wired.",
    ),
    "a working by no choice": (
        "channel: {by: edge,",
        "channel: {by: ‸egde,",
        "No choice is called “egde”.",
        "Did you mean “edge”?",
    ),
    "a choice in a formula": (
        "rim: head + tau",
        "rim: ‸edge + tau",
        "“edge” is a choice, and a value is wanted here.",
        "Name a working that goes by it: {by: edge, soft: …, wired: …}.",
    ),
    "a name that is taken": (
        "  channel: {by: edge",
        "  ‸opening: {by: edge",
        "“opening” is a choice already, on line 28.",
        "Give the working another name.",
    ),
    "a usual option there is none of": (
        "usual: soft",
        "usual: ‸softer",
        "The usual option “softer” is not among those of “edge”.",
        "Did you mean “soft”?",
    ),
    "options as a list": (
        "options: {soft: soft, wired: wired}",
        "options: ‸[soft, wired]",
        "“options” takes a table of names, and a list stands here.",
        "Write each name with its value: {soft: …, wired: …}.",
    ),
    "a set nobody chose for": (
        "  oval: {opening: oval}",
        "  oval: {‸openning: oval}",
        "“oval” has no “openning”.",
        "Did you mean “opening”?",
    ),
    "an option misspelt in a set": (
        "round-wired: {opening: round, edge: wired,",
        "round-wired: {opening: round, edge: ‸wire,",
        "Choice “edge” has no option “wire”.",
        "Did you mean “wired”?",
    ),
    "a size there is none of": (
        "sizes: [head-56cm]",
        "sizes: [‸head-55cm]",
        "No size is called “head-55cm”.",
        "Did you mean “head-58cm”?",
    ),
    "two sets the same": (
        "round-wired: {opening: round, edge: wired, sizes: [head-56cm]}",
        "‸other: {edge: soft}",
        "Sets “oval” and “other” are the same choices.",
        "Change one of them, or delete it.",
    ),
    "a set whose name is no address": (
        "round-wired: {",
        "‸Round wired: {",
        "“Round wired” can't be the name of a set, which is part of a web address.",
        "Use a to z, 0 to 9 and single hyphens.",
    ),
    "a seam without a partner": (
        "ear seam: {when: {opening: oval}, join: [ear.edge",
        "ear seam: {join: [‸ear.edge",
        "In the set round-wired, seam “ear seam” has no partner: “ear” is only there when opening "
        "is oval.",
        "Give the seam “when: {opening: oval}” too.",
    ),
    "a step that uses what is not there": (
        "    when: {edge: wired}\n    use: [wire]",
        "    use: [‸wire]",
        "In the set oval, “wire” is not there; it is when edge is wired.",
        "Give the step “when: {edge: wired}”, or name it in another one.",
    ),
    "a formula over what is not there": (
        "length(brim.outer) + 125 mm",
        "‸length(ear.edge) + 125 mm",
        "In the set round-wired, this needs piece “ear”, which is only there when opening is oval.",
        "Let this depend on it too: “when: {opening: oval}”, or a working “by” it.",
    ),
    "a cloth that nothing is cut from": (
        "rim: head + tau * shell.thickness",
        "rim: head + tau * ‸felt.thickness",
        "In the set round-wired, this needs cloth “felt”, and no piece is cut from it.",
        "Put it into a working that goes “by” the choice.",
    ),
}


def problems(text: str) -> tuple[Problem, ...]:
    with pytest.raises(ContentError) as caught:
        parsed(text)
    return caught.value.problems


@pytest.mark.parametrize("case", BAD)
def test_a_problem_has_its_sentence_place_and_remedy(case: str) -> None:
    old, new, what, remedy = BAD[case]
    assert text().count(old) == 1
    marked = text().replace(old, new)
    lines = marked[: marked.index("‸")].split("\n")
    found = problems(marked.replace("‸", ""))
    assert [(problem.what, problem.remedy) for problem in found] == [(what, remedy)]
    assert (found[0].place.line, found[0].place.column) == (len(lines), len(lines[-1]) + 1)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("options: {soft: soft, wired: wired}", "options: {soft: soft}", "“edge” has 1 option, so"),
        ("options: {soft: soft, wired: wired}", "options: {}", "“edge” has no option, so"),
        ("options: {soft: soft,", "options: {by: soft,", "“by” can't be the name of an option."),
        ("  edge:\n    title", "  sizes:\n    title", "“sizes” can't be a choice"),
        ("channel: {by: edge", "channel: {why: edge", "“channel” has no “soft”"),
    ],
)
def test_what_can_t_be_chosen_is_told(old: str, new: str, says: str) -> None:
    assert text().count(old) == 1
    assert any(says in problem.what for problem in problems(text().replace(old, new)))


def test_a_choice_that_changes_nothing_is_told() -> None:
    added = "  brim_side: {title: S, ask: S, options: {a: a, b: b}, usual: a}\npublish:\n"
    (found,) = problems(text().replace("publish:\n", added))
    assert found.what == "Nothing depends on the choice “brim_side”."


def test_sets_of_a_recipe_without_choices_are_told() -> None:
    (found,) = problems(text_of(HEAD + HAT + "publish:\n  a: {}\n"))
    assert found.what == "“publish” names sets of choices, and this recipe has no choices."
