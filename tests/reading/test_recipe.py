"""A good recipe, read: everything the author wrote is there, with its place."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from notchbook.gathering.source import Source
from notchbook.problems import ContentError, Place
from notchbook.reading.formula import Formula, Name, Number
from notchbook.reading.quantity import LENGTH, Quantity
from notchbook.reading.read import read_recipe
from notchbook.reading.recipe import (
    EdgeName,
    FigureRule,
    Inline,
    Picture,
    Prose,
    Recipe,
    Scalar,
    Series,
    Stage,
)
from tests.recipes import HAT as REST
from tests.recipes import HEAD, recipe

FILE = "recipes/hat/recipe.md"
HAT = Path(__file__).with_name("hat.md").read_text(encoding="utf-8")
FILES = {"brim.jpg": b"\xff\xd8\xff\xe0 and so on"}


def read(text: str | bytes) -> Recipe:
    data = text.encode() if isinstance(text, str) else text
    return read_recipe(Source("hat", "recipes/hat", {"recipe.md": data, **FILES}))


def mm(formula: Formula) -> float:
    assert isinstance(formula.tree, Number)
    assert formula.tree.quantity.dimension == LENGTH
    return formula.tree.quantity.value


SEW = "## Sew\n\n1. Sew.\n"
"""A recipe needs a step somewhere."""


def body(text: str) -> tuple[Stage, ...]:
    return read(HAT[: HAT.index("A hat for the long walk")] + text).stages


def words(prose: object) -> str:
    assert isinstance(prose, Prose)
    return "".join(part if isinstance(part, str) else "…" for part in prose.parts)


def test_facts_of_the_whole_recipe() -> None:
    hat = read(HAT)
    assert (hat.slug, hat.title.value, hat.licence) == ("hat", "Lamplighter's hat", "CC-BY-4.0")
    assert hat.title.place == Place(FILE, 3, 8)
    assert hat.skill == "confident beginner"
    assert hat.tags == ("hat", "wired brim")
    assert hat.time is not None
    assert hat.time.text == "7 h"
    assert (hat.edition.number, hat.edition.date) == (1, "2026-11-24")
    assert [tool.value for tool in hat.tools] == ["fabric shears", "steam iron"]


def test_measures_cloths_and_workings() -> None:
    hat = read(HAT)
    head = hat.measures["head"]
    assert [mm(value) for value in (head.low, head.usual, head.high)] == [520, 570, 660]
    assert head.usual.place == Place(FILE, 16, 12)
    shell, interfacing = hat.cloths["shell"], hat.cloths["interfacing"]
    assert [mm(width) for width in shell.widths] == [1120, 1500]
    assert shell.shrinkage.tree == Number(Quantity(0.03), Place(FILE, 29, 92))
    assert isinstance(interfacing.shrinkage.tree, Number)
    assert interfacing.shrinkage.tree.quantity == Quantity(0.0)
    assert not shell.nap
    assert list(hat.workings) == ["ease", "rim", "lining_top"]
    assert str(hat.workings["rim"].why) == "The cloth has to go round the head too."


def test_nap_is_yes_or_no() -> None:
    velvet = HAT.replace("thickness: 0.8 mm,", "thickness: 0.8 mm, nap: yes,")
    assert read(velvet).cloths["shell"].nap
    with pytest.raises(ContentError, match="“nap” can't be “true”"):
        read(velvet.replace("nap: yes", "nap: true"))


def test_scalars_stay_what_was_written() -> None:
    text = HAT.replace("title: Lamplighter's hat", "title: no").replace("oval: 1.29", "oval: 1.10")
    hat = read(text)
    assert hat.title.value == "no"
    oval = hat.pieces["brim"].parameters.entries["oval"]
    assert isinstance(oval, Scalar)
    assert oval.text == "1.10"


def test_a_piece_keeps_its_shapes_parameters_unread() -> None:
    brim = read(HAT).pieces["brim"]
    assert list(brim.parameters.entries) == ["inner", "oval", "width"]
    assert brim.parameters.keys["oval"] == Place(FILE, 44, 5)
    inner = brim.parameters.entries["inner"]
    assert isinstance(inner, Scalar)
    assert inner.formula is not None
    assert inner.formula.tree == Name("rim", Place(FILE, 43, 12))
    assert {edge: mm(value) for edge, value in brim.allowance.items()} == {"outer": 6}
    assert brim.allowance_keys == {"outer": Place(FILE, 46, 17)}
    assert [(cut.cloth, cut.count, list(cut.allowance)) for cut in brim.cut] == [
        ("shell", 1, []),
        ("lining", 1, []),
        ("interfacing", 1, ["inner", "outer"]),
    ]


def test_one_allowance_stands_for_every_edge() -> None:
    text = HAT.replace("allowance: {outer: 6 mm}", "allowance: 6 mm")
    assert list(read(text).pieces["brim"].allowance) == [""]


def test_parameters_may_be_lists_and_tables() -> None:
    text = HAT.replace(
        "    oval: 1.29", "    points: [[0 mm, 0 mm], {x: centre back, y: head / 2}]"
    )
    points = read(text).pieces["brim"].parameters.entries["points"]
    assert isinstance(points, Series)
    assert points.place == Place(FILE, 44, 13)
    first = points.entries[0]
    assert isinstance(first, Series)
    assert [isinstance(each, Scalar) and each.text for each in first.entries] == ["0 mm", "0 mm"]


def test_seams_join_sides_of_one_or_more_edges() -> None:
    hat = read(HAT.replace("[crown.left, crown.right]", "[[crown.left, crown.top], crown.right]"))
    seam = hat.seams["point seam"]
    assert [[str(edge) for edge in side] for side in seam.sides] == [
        ["crown.left", "crown.top"],
        ["crown.right"],
    ]
    assert seam.notches == 0
    lining = hat.seams["lining to brim"]
    assert lining.sides[1] == (EdgeName("brim", "inner", "lining", Place(FILE, 61, 46)),)
    assert {number: mm(ease) for number, ease in lining.ease.items()} == {1: 1}


def test_notions_may_be_used_often_or_have_no_amount() -> None:
    notions = read(HAT).notions
    assert [notion.often for notion in notions.values()] == [False, False, True]
    assert notions["thread"].amount is None


def test_stages_hold_steps_and_what_stands_between_them() -> None:
    hat = read(HAT)
    brim, point = hat.stages
    assert (brim.id, brim.title, brim.place) == ("the-brim", "The brim", Place(FILE, 73, 1))
    assert brim.time is not None
    assert brim.time.text == "90 min"
    assert [step.id for step in brim.steps] == ["the-brim-1", "the-brim-2", "the-brim-3"]
    assert words(brim.blocks[0]) == "Twill frays; *go gently*."
    assert words(brim.blocks[3]) == "A word between steps, with `<code>` and …."
    assert (point.id, point.title, point.steps[0].number) == ("точка", "Точка", 1)
    assert words(hat.opening[0]) == "A hat for the long walk home. The rim comes to …."


def test_a_step_holds_words_facts_figures_and_pictures() -> None:
    step = read(HAT).stages[0].steps[0]
    assert step.place == Place(FILE, 81, 1)
    first, figure, last = step.blocks
    assert words(first) == (
        "Lay the two brims right sides together. Stitch the outer edge, leaving\n"
        "… open at centre back."
    )
    assert isinstance(figure, FigureRule)
    assert (figure.view.value, list(figure.keys.entries)) == (
        "layers",
        ["pieces", "together", "stitch"],
    )
    assert figure.view.place == Place(FILE, 92, 11)
    assert isinstance(last, Prose)
    assert last.parts == (Picture("brim.jpg", "A finished brim on a table", Place(FILE, 99, 5)),)
    assert [text.value for text in step.facts.cut] == ["shell brim", "lining brim"]
    assert [text.value for text in step.facts.use] == ["thread", "steam iron"]
    assert step.facts.sew[0].place == Place(FILE, 86, 11)
    assert [text.value for text in step.facts.care] == ["needle"]


def test_a_formula_in_the_text_has_its_own_place() -> None:
    prose = read(HAT).stages[0].steps[1].blocks[0]
    assert isinstance(prose, Prose)
    (inline,) = (part for part in prose.parts if isinstance(part, Inline))
    assert inline.formula.text == "length(brim.outer) + 125 mm"
    assert inline.formula.place == Place(FILE, 101, 25)
    assert inline.formula.tree.place == Place(FILE, 102, 4)


def test_a_plain_fence_is_prose_and_left_alone() -> None:
    prose = read(HAT).stages[1].steps[0].blocks[0]
    assert words(prose) == "Sew the point.\n\n```\n1. {{ this stays }} <as it is>\n```"


def test_only_pictures_that_are_shown_are_kept() -> None:
    source = Source("hat", "recipes/hat", {"recipe.md": HAT.encode(), **FILES, "x.png": b""})
    assert dict(read_recipe(source).pictures) == FILES


def test_lists_in_a_step_keep_their_own_indentation() -> None:
    (stage,) = body("## Cut\n\n1. Cut:\n\n    - the brim,\n        - twice\n    - the point.\n")
    assert words(stage.steps[0].blocks[0]) == "Cut:\n\n- the brim,\n    - twice\n- the point."


def test_a_line_that_goes_on_without_indentation_stays_in_its_step() -> None:
    (stage,) = body("## Cut\n1. Cut the brim\nand the point.\n\nThen rest.\n")
    assert words(stage.steps[0].blocks[0]) == "Cut the brim\nand the point."
    assert words(stage.blocks[1]) == "Then rest."


def test_a_list_after_a_step_belongs_to_the_stage() -> None:
    (stage,) = body("## Cut\n1. Cut the brim.\n- not a step\n2. Cut the point.\n")
    assert [getattr(block, "id", None) for block in stage.blocks] == ["cut-1", None, "cut-2"]


def test_headings_inside_a_stage_are_prose() -> None:
    (stage,) = body("## Cut ##\n\n### By hand\n\n1. Cut.\n\n### By machine\n\nDo not.\n")
    assert stage.title == "Cut"
    assert [words(block) for block in stage.blocks if isinstance(block, Prose)] == [
        "### By hand",
        "### By machine\n\nDo not.",
    ]


def test_ids_are_unique_even_for_stages_named_alike() -> None:
    stages = body("## Cut\n1. One.\n\n## Cut\n1. Two.\n\n## Cut 1\n\n## ❧\n")
    assert [stage.id for stage in stages] == ["cut", "cut-again", "cut1", "stage"]
    ids = [step.id for stage in stages for step in stage.steps] + [stage.id for stage in stages]
    assert len(set(ids)) == len(ids)


@pytest.mark.parametrize(
    "markdown",
    [
        "[notes](https://example.org/a_(b)?c=d#e)",
        "[below](#the-brim), [a page](../printing/index.html)",
        "<https://example.org>",
        "1 < 2, a<1 and `<b>` or ``a `<i>` b``",
        r"\<b and \{{ rim }}",
        "&lt;b&gt; Ümläute &amp; ½",
    ],
)
def test_harmless_markdown_passes(markdown: str) -> None:
    stage, _ = body(f"## Cut\n\n{markdown}\n\n{SEW}")
    assert words(stage.blocks[0]) == markdown


@pytest.mark.parametrize(
    ("markdown", "what"),
    [
        ("a `\n<div>\n` b", "Raw HTML"),
        ("<!-- hidden -->", "Raw HTML"),
        ("</p>", "Raw HTML"),
        ("[x](JavaScript:alert(1))", "A link to"),
        ("[x](<data:text/html,x>)", "A link to"),
        ("[a [b] c](vbscript:x)", "A link to"),
        ("[x][y]\n\n[y]: javascript:x", "A link to"),
        ("<javascript:x>", "A link to"),
        ("<someone@example.org>", "A link to"),
        ('![x](brim.jpg "title")', "This picture is not written"),
        ("![x][brim]", "This picture is not written"),
        ("![x](brim.svg)", "There is no picture"),
        ("![x](/etc/brim.jpg)", "The picture “/etc/brim.jpg” is outside"),
        ("![x](//example.org/brim.jpg)", "The picture “//example.org/brim.jpg” is from elsewhere"),
        ("Words\n---", "This line makes a heading"),
        ("1. Cut.\n\n    ## Sew\n", "A heading stands inside a step."),
        ("##\n", "This stage has no title."),
        ("1.\n", "This step has no words."),
    ],
)
def test_harmful_markdown_is_refused(markdown: str, what: str) -> None:
    with pytest.raises(ContentError) as caught:
        body(f"## Cut\n\n{markdown}\n\n{SEW}")
    assert [problem.what[: len(what)] for problem in caught.value.problems] == [what]


def test_windows_line_ends_and_a_byte_order_mark_change_nothing() -> None:
    windows = b"\xef\xbb\xbf" + HAT.replace("\n", "\r\n").encode()
    assert read(windows) == read(HAT)


def test_titles_in_other_scripts_simply_work() -> None:
    assert read(HAT.replace("Lamplighter's hat", "帽子 قبعة टोपी")).title.value == "帽子 قبعة टोपी"


def test_a_recipe_of_600_lines_is_read_while_nobody_notices() -> None:
    step = HAT[HAT.index("1. Lay the two") : HAT.index("    ![A finished")]
    long = HAT + "\n## Again\n\n" + step * 27
    assert long.count("\n") > 600
    read(HAT)
    start = time.process_time()
    read(long)
    # A tenth of a second is the aim; the margin is for a busy machine.
    assert time.process_time() - start < 0.5


def test_a_measure_asks_for_hat_numbers_and_for_no_others() -> None:
    asked = HEAD.replace("[52 cm, 66 cm]\n", "[52 cm, 66 cm]\n    numbers: hat\n", 1)
    assert [measure.hat for measure in recipe(asked + REST).measures.values()] == [True, False]
    with pytest.raises(ContentError) as caught:
        recipe(asked.replace("numbers: hat", "numbers: shoe") + REST)
    (problem,) = caught.value.problems
    assert (problem.place.line, problem.place.column) == (17, 14)
    assert "“numbers”" in problem.what


def test_a_head_girth_has_a_fitting_strip_and_what_else_asks_for_one() -> None:
    def strips(front: str) -> list[bool]:
        return [measure.strip for measure in recipe(front + REST).measures.values()]

    def asking(line: str) -> str:
        return HEAD.replace("[52 cm, 66 cm]\n", f"[52 cm, 66 cm]\n    {line}\n", 1)

    assert strips(HEAD) == [False, False]
    assert strips(asking("numbers: hat")) == [True, False]
    assert strips(asking("strip: yes")) == [True, False]
    assert strips(asking("strip: no")) == [False, False]
    with pytest.raises(ContentError, match="“strip” can't be “round”"):
        strips(asking("strip: round"))
