"""Docstrings taken apart for the reference."""

from __future__ import annotations

from notchbook.composing.docstring import explained, named

TEXT = """Band: what goes round
the head.

It is cut straight.

Edges, clockwise: ``top`` and ``bottom``.

Parameters, lengths from 1 mm:

- ``length`` in one of two ways:

  - as a number;
  - as a word;

- ``width``, across it,
  where nothing is said 3 cm.

- Not a parameter, but still in the list.

Two things, which are no parameters:
- one;
- the other.

Example::

    band:
      length: 60 cm
"""


def test_a_docstring_comes_apart_into_what_it_says() -> None:
    text = explained(TEXT)
    assert (text.title, text.summary) == ("Band", "What goes round\nthe head.")
    assert text.edges == "Clockwise: `top` and `bottom`."
    assert text.lead == "Lengths from 1 mm."
    assert text.items == (
        "`length` in one of two ways:\n\n- as a number;\n- as a word.",
        "`width`, across it,\nwhere nothing is said 3 cm.",
        "Not a parameter, but still in the list.",
    )
    assert text.example == "band:\n  length: 60 cm\n"


def test_every_other_block_is_kept_in_its_order_and_its_lists_are_lists() -> None:
    assert explained(TEXT).rest == (
        "It is cut straight.",
        "Two things, which are no parameters:",
        "- one;\n- the other.",
    )


def test_names_are_the_first_words_of_what_is_set_as_code() -> None:
    assert named("`arc: [a, b]` or `{edge: waist}`, not `[cape.hem]`; edges of `cape`") == (
        "arc", "edge", "cape",
    )  # fmt: skip
