"""The body of a recipe, ready for a template."""

from __future__ import annotations

from notchbook.composing.chapters import body, check_care
from tests.composing.bench import BODY, FRONT, made, plates, setting
from tests.recipes import recipe, text_of


def test_stages_and_steps_keep_their_order_and_numbers() -> None:
    text = body(made()[0], setting(), plates(), {})
    assert [stage.title for stage in text.stages] == ["Cut", "Sew & wear"]
    kinds = [block.kind for block in text.stages[0].blocks]
    assert kinds == ["prose", "step", "step", "prose"]
    assert "30\u00a0min" in text.stages[0].time


def test_a_steps_words_come_before_its_first_figure() -> None:
    text = body(made()[0], setting(), plates(), {})
    step = text.stages[0].blocks[1].step
    assert step is not None
    assert [block.kind for block in step.words] == ["prose"]
    assert [block.kind for block in step.rest] == ["figure"]
    assert step.facts == (("cut", "Brim, Point"),)


def test_a_measure_is_printed_as_a_tape_shows_it_and_other_lengths_in_millimetres() -> None:
    html = body(made()[0], setting(), plates(), {}).stages[0].blocks[1].step
    assert html is not None
    assert "57\u00a0cm" in html.words[0].html
    assert "583\u00a0mm" in html.words[0].html


def test_a_count_is_printed_as_one_number() -> None:
    step = body(made()[0], setting(), plates(), {}).stages[1].blocks[0].step
    assert step is not None
    assert 'with <span class="q">2</span> pins' in step.words[0].html


def test_a_caution_is_printed_in_full_the_first_time_and_named_after() -> None:
    text = body(made()[0], setting(), plates(), {})
    first = text.stages[0].blocks[1].step
    later = text.stages[1].blocks[0].step
    assert first is not None and later is not None
    assert [care.earlier for care in first.cautions] == [""]
    assert [care.earlier for care in later.cautions] == [first.id, ""]
    assert [care.again for care in later.cautions] == ["as said in stage 1, step 1", ""]
    assert text.cautions == (("Sharp points", first.id), ("Wire ends fly", later.id))


def test_a_misspelt_caution_is_a_problem_wherever_it_stands() -> None:
    front, text = (part.replace("shears, wire]", "shears, wier]") for part in (FRONT, BODY))
    listed, named = check_care(recipe(front, text), setting().catalogue)
    lines = text_of(front, text).splitlines()
    assert (listed.place.line, listed.place.column) == (
        lines.index("care: [shears, wier]") + 1,
        16,
    )
    assert named.place.line == lines.index("    care: [shears, wier]") + 1
    assert named.what == "There is no caution called “wier”."
    assert named.remedy == "Did you mean “wire”?"


def test_every_caution_has_a_title_and_a_text() -> None:
    words = setting().catalogue.words
    titles = {key.split(".")[1] for key in words if key.startswith("care.") and ".title" in key}
    texts = {key.split(".")[1] for key in words if key.startswith("care.") and ".text" in key}
    assert titles == texts
    assert {"wire", "needle", "iron", "steam", "blade", "flame", "sight", "cords"} <= titles


def test_what_comes_after_the_last_step_is_no_stage_of_the_work() -> None:
    draft, _ = made(body=BODY + "\n## For teachers\n\nPhotocopy the sheets.\n")
    stages = body(draft, setting(), plates(), {}).stages
    assert [stage.number for stage in stages] == [1, 2, 0]
