"""Sizes: runs, tables, and the usual values."""

from __future__ import annotations

import pytest

from notchbook.problems import ContentError
from notchbook.reading.formula import Number
from notchbook.reading.recipe import Size
from tests.reading.test_recipe import HAT, read

RUN = "sizes: {measure: head, from: 52 cm, to: 64 cm, step: 1 cm}"


def sizes(text: str) -> tuple[Size, ...]:
    return read(HAT.replace(RUN, text)).sizes


def mm(size: Size, measure: str = "head") -> float:
    tree = size.measures[measure].tree
    assert isinstance(tree, Number)
    return tree.quantity.value


def test_a_run_has_both_its_ends() -> None:
    found = sizes(RUN)
    assert [size.id for size in found] == [f"head-{cm}cm" for cm in range(52, 65)]
    assert [mm(size) for size in found] == [10 * cm for cm in range(52, 65)]
    assert found[0].title == "52 cm"


def test_a_run_in_half_centimetres_has_ids_without_a_point() -> None:
    found = sizes("sizes: {measure: head, from: 56 cm, to: 57 cm, step: 0.5 cm}")
    assert [size.id for size in found] == ["head-56cm", "head-56-5cm", "head-57cm"]


def test_a_run_in_inches_is_named_in_inches() -> None:
    found = sizes("sizes: {measure: head, from: 22 in, to: 23 in, step: 1/2 in}")
    assert [size.id for size in found] == ["usual", "head-22in", "head-22-5in", "head-23in"]
    assert [size.title for size in found[1:]] == ["22 in", "22 1/2 in", "23 in"]
    assert mm(found[2]) == pytest.approx(571.5)


def test_usual_values_come_first_unless_a_size_has_them() -> None:
    assert [size.id for size in sizes("")] == ["usual"]
    assert sizes("sizes: {measure: head, from: 56 cm, to: 58 cm, step: 2 cm}")[0].id == "usual"
    assert "usual" not in [size.id for size in sizes(RUN)]


def test_a_table_names_its_sizes() -> None:
    small, wide = sizes(
        "sizes:\n  small: {title: For small heads, head: 54 cm}\n  wide-brim: {head: 57 cm}"
    )[0:2]
    assert (small.id, small.title, mm(small)) == ("small", "For small heads", 540)
    assert (wide.id, wide.title) == ("wide-brim", "wide-brim")


@pytest.mark.parametrize("key", ["Small", "größe", "a b", "a--b", "-a", "a/b", "a.b", '""'])
def test_a_size_is_named_in_lower_case_ascii(key: str) -> None:
    with pytest.raises(ContentError, match="can't be the name of a size"):
        sizes(f"sizes:\n  {key}: {{head: 54 cm}}")


def test_a_size_of_an_unknown_measure() -> None:
    with pytest.raises(ContentError, match="Did you mean “head”") as caught:
        sizes("sizes:\n  small: {haed: 54 cm}")
    assert [problem.what for problem in caught.value.problems] == ["“small” has no “haed”."]


def test_usual_is_no_name_for_other_values() -> None:
    with pytest.raises(ContentError, match="The size “usual” has values of its own"):
        sizes("sizes:\n  usual: {head: 54 cm}")
    assert [size.id for size in sizes("sizes:\n  usual: {head: 57 cm}")] == ["usual"]


@pytest.mark.parametrize(
    ("run", "what"),
    [
        ("from: 64 cm, to: 52 cm, step: 1 cm", "Steps of 1 cm do not lead from 64 cm to 52 cm."),
        ("from: 52 cm, to: 64 cm, step: 0 cm", "Steps of 0 cm do not lead from 52 cm to 64 cm."),
        ("from: 52, to: 64 cm, step: 1 cm", "“from” takes a length, and “52” is a plain number."),
        ("from: 52 cm, to: 64 cm", "“Sizes” has no “step”."),
        ("from: 50 cm + 2 cm, to: 64 cm, step: 1 cm", "“50 cm + 2 cm” is a formula"),
    ],
)
def test_a_run_that_is_none(run: str, what: str) -> None:
    with pytest.raises(ContentError) as caught:
        sizes(f"sizes: {{measure: head, {run}}}")
    assert [problem.what[: len(what)].lower() for problem in caught.value.problems] == [
        what.lower()
    ]
