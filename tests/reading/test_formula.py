"""The formula language: what its texts mean and how its mistakes read."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.problems import ContentError, Place
from notchbook.reading import formula as language
from notchbook.reading.formula import (
    Binary,
    Call,
    Geometry,
    Minus,
    Name,
    Node,
    Number,
    parse,
    parse_condition,
    references,
)
from notchbook.reading.quantity import LENGTH, MASS, RATIO, TIME, UNITS, VOLUME, Quantity
from notchbook.reading.shown import show

HERE = Place("recipe.md", 3, 5)


def value(text: str) -> Quantity:
    tree = parse(text, HERE).tree
    assert isinstance(tree, Number)
    return tree.quantity


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("12 mm", 12),
        ("57cm", 570),
        ("57 cm", 570),
        ("57\u00a0cm", 570),
        ("1.1 cm", 11),
        (".5 m", 500),
        ("1 1/4 in", 31.75),
        ("1 1/4in", 31.75),
        ("5/8 in", 15.875),
        ("1½ in", 38.1),
        ("½ in", 12.7),
        ("1 1⁄2 in", 38.1),
        ("2 ft", 609.6),
        ("1 yd", 914.4),
    ],
)
def test_a_length_is_a_number_and_a_unit(text: str, mm: float) -> None:
    assert value(text) == Quantity(mm, LENGTH)


@pytest.mark.parametrize(
    ("text", "quantity"),
    [
        ("35 deg", Quantity(math.radians(35))),
        ("180 deg", Quantity(math.pi)),
        ("3 %", Quantity(0.03)),
        ("3%", Quantity(0.03)),
        ("20 g", Quantity(20, MASS)),
        ("1.5 kg", Quantity(1500, MASS)),
        ("1 l", Quantity(1e6, VOLUME)),
        ("250 ml", Quantity(250e3, VOLUME)),
        ("3 min", Quantity(0.05, TIME)),
        ("7 h", Quantity(7, TIME)),
        ("0.5", Quantity(0.5)),
        ("½", Quantity(0.5)),
        ("pi", Quantity(math.pi)),
        ("τ", Quantity(math.tau)),
    ],
)
def test_other_units_and_plain_numbers(text: str, quantity: Quantity) -> None:
    found = value(text)
    assert found.dimension == quantity.dimension
    assert found.value == pytest.approx(quantity.value, rel=1e-15)


def test_a_fraction_is_one_number_only_where_a_unit_follows() -> None:
    assert isinstance(parse("1/4", HERE).tree, Binary)
    assert isinstance(parse("1 / 4 in", HERE).tree, Binary)
    assert show(parse("20 g / 1 l", HERE).tree) == "20 g / 1 l"


@pytest.mark.parametrize(
    ("text", "meaning"),
    [
        ("a - b - c", "(a - b) - c"),
        ("a / b * c", "(a / b) * c"),
        ("a + b * c", "a + (b * c)"),
        ("a ^ b ^ c", "a ^ (b ^ c)"),
        ("-a ^ b", "-(a ^ b)"),
        ("-a * b", "(-a) * b"),
        ("a ^ -b ^ c", "a ^ (-(b ^ c))"),
        ("a − b × c ÷ d", "a - ((b * c) / d)"),
        ("a\n  + b", "a + b"),
    ],
)
def test_operators_bind_as_in_arithmetic(text: str, meaning: str) -> None:
    assert _bare(parse(text, HERE).tree) == _bare(parse(meaning, HERE).tree)


def test_min_is_minutes_after_a_number_and_the_least_before_a_parenthesis() -> None:
    tree = parse("min(90 min, 1 h)", HERE).tree
    assert isinstance(tree, Call)
    assert tree.function == "min"
    assert [value.quantity.value for value in tree.arguments if isinstance(value, Number)] == [
        1.5,
        1,
    ]


def test_every_node_has_its_place() -> None:
    tree = parse("head + -max(2 mm,\n  length(brim.outer))", HERE).tree
    assert isinstance(tree, Binary)
    assert tree.place == Place("recipe.md", 3, 10)
    assert tree.left == Name("head", HERE)
    assert isinstance(tree.right, Minus)
    assert tree.right.place == Place("recipe.md", 3, 12)
    call = tree.right.of
    assert isinstance(call, Call)
    assert call.place == Place("recipe.md", 3, 13)
    assert call.arguments[0].place == Place("recipe.md", 3, 17)
    assert call.arguments[1] == Geometry("length", "brim", "outer", Place("recipe.md", 4, 3))


def test_references_finds_what_a_formula_depends_on() -> None:
    tree = parse("hypot(head / tau, shell.thickness) - -length(brim.outer) + 2 mm", HERE).tree
    names = {node.name if isinstance(node, Name) else node.piece for node in references(tree)}
    assert names == {"head", "shell.thickness", "brim"}


def test_names_may_be_in_any_script() -> None:
    assert parse("голова + größe_2", HERE).text == "голова + größe_2"


def test_a_condition_compares() -> None:
    tree = parse_condition("a < b and b ≤ c or a == c", HERE).tree
    assert show(tree) == "a < b and b <= c or a == c"
    assert isinstance(tree, Binary)
    assert tree.operator == "or"


def test_every_unit_and_function_of_the_tables_is_in_the_grammar() -> None:
    for unit in UNITS:
        assert value(f"3 {unit}").dimension == UNITS[unit].dimension
    for function, (least, _) in language.FUNCTIONS.items():
        tree = parse(f"{function}({', '.join(['1'] * least)})", HERE).tree
        assert isinstance(tree, Call)


@pytest.mark.parametrize("word", sorted(language.RESERVED))
def test_reserved_words_name_nothing(word: str) -> None:
    try:
        tree = parse(word, HERE).tree
    except ContentError:
        return
    assert not isinstance(tree, Name)


@pytest.mark.parametrize(
    ("text", "column", "what", "remedy"),
    [
        ("", 5, "There is no formula here.", "Write a value there"),
        ("head + ", 11, "“head + ” stops where a value should follow.", "Write a value there"),
        ("head head", 10, "“head” and “head” stand side by side", "Write what joins them"),
        ("57 parsec", 8, "“parsec” is no unit.", "Use one of: %, cm, deg"),
        ("1 1/4", 7, "“1” and “1” stand side by side", "A mixed fraction needs its unit"),
        ("5 in.", 7, "A full stop after “in” is no part", "Write 5 in without it."),
        ("squrt(3)", 5, "“squrt” is no function.", "Did you mean “sqrt”?"),
        ("2 * (a + b", 9, "This parenthesis is never closed.", "Close it with “)”."),
        ("a)", 6, "This “)” closes nothing.", "Delete it, or open one before it."),
        ("()", 6, "“)” stands where a value should.", "Write a value there"),
        ("1,5 cm", 6, "A comma separates the values of a function", "Write decimals with a point"),
        ("a § b", 7, "“§” means nothing in a formula.", "Use numbers with units"),
        ("sqrt + 1", 10, "“sqrt” is a function, and no parenthesis", "Write sqrt(…)."),
        ("3 + mm", 9, "“mm” is a unit, and no number", "Write how many: 1 mm."),
        ("area(a.b)", 5, "An edge has no area; a whole piece has.", "Write area(a)."),
        ("length(1)", 12, "“length” reads a piece, and “1” is none.", "Write length(piece.edge)"),
        ("hypot(1)", 5, "“hypot” takes 2 or more values, not 1.", "Separate values with commas"),
        ("sin(1, 2)", 5, "“sin” takes 1 value, not 2.", "Separate values with commas"),
        ("1/0 in", 5, "“1/0 in” divides by zero.", "Write a number that can be measured."),
        ('5"', 6, '“"” is no unit.', "Write “in” instead."),
        ("a = b", 7, "A single “=” means nothing here.", "Write == to compare."),
        ("a.b.c", 5, "“a.b.c” has more than one full stop.", "Write a cloth and its property"),
        ("x" * 1001, 5, "A formula of 1001 characters is too long", "Name its parts"),
        ("+".join("a" * 60), 22, "More than 50 operations stand inside each other", "Name some"),
        ("(" * 400, 405, "“((((", "Write a value there"),
    ],
)
def test_what_is_no_formula_is_said_in_a_sentence(
    text: str, column: int, what: str, remedy: str
) -> None:
    with pytest.raises(ContentError) as caught:
        parse(text, HERE)
    (problem,) = caught.value.problems
    assert problem.place == Place("recipe.md", 3, column)
    assert problem.what.startswith(what)
    assert problem.remedy.startswith(remedy)


def test_comparisons_are_not_chained() -> None:
    with pytest.raises(ContentError, match="Only two values can be compared at a time") as caught:
        parse_condition("a < b < c", HERE)
    assert caught.value.problems[0].place.column == 11


numbers = st.builds(
    Number,
    st.builds(
        Quantity,
        st.floats(0, 1e6) | st.integers(0, 999).map(float),
        st.sampled_from([RATIO, LENGTH, MASS, TIME, VOLUME]),
    ),
    st.just(HERE),
)
names = st.builds(Name, st.sampled_from(["head", "rim_2", "shell.thickness"]), st.just(HERE))
edges = st.builds(
    Geometry, st.just("length"), st.just("brim"), st.sampled_from(["outer", "in"]), st.just(HERE)
)


def _inner(nodes: st.SearchStrategy[Node]) -> st.SearchStrategy[Node]:
    return (
        st.builds(Minus, nodes, st.just(HERE))
        | st.builds(Binary, st.sampled_from("+-*/^"), nodes, nodes, st.just(HERE))
        | st.builds(
            Call,
            st.just("hypot"),
            st.lists(nodes, min_size=2, max_size=3).map(tuple),
            st.just(HERE),
        )
    )


trees = st.recursive(numbers | names | edges, _inner, max_leaves=12)


@given(trees)
@settings(max_examples=200, deadline=None)
def test_what_is_shown_reads_as_the_same_tree(tree: Node) -> None:
    assert show(parse(show(tree), HERE).tree) == show(tree)
    assert _bare(parse(show(tree), HERE).tree) == _bare(tree)


def _bare(node: Node) -> object:
    """A tree without places."""
    match node:
        case Number(quantity=quantity):
            return quantity
        case Name(name=name):
            return name
        case Geometry(piece=piece, edge=edge):
            return piece, edge
        case Minus(of=of):
            return "-", _bare(of)
        case Binary(operator=operator, left=left, right=right):
            return operator, _bare(left), _bare(right)
        case Call(function=function, arguments=arguments):
            return function, *map(_bare, arguments)


SIGNS = st.sampled_from("()+-^/,<.%π\n é\0½{")
WORDS = st.sampled_from(["head", "12 mm", "1 1/4 in", "sqrt(", "length(", "min", "and", "b.outer"])


@given(st.text(max_size=40) | st.lists(WORDS | SIGNS, max_size=12).map(" ".join))
@settings(max_examples=300, deadline=None)
def test_any_text_is_a_formula_or_a_problem(text: str) -> None:
    for read in (parse, parse_condition):
        try:
            read(text, HERE)
        except ContentError as error:
            assert error.problems[0].place.line >= 3
            assert error.problems[0].what.endswith(".")
