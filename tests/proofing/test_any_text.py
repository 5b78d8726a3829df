"""Whatever is saved as a recipe, its page is a page."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.resources import files

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.pressing.begin import begin
from notchbook.proofing.desk import Desk

STARTER = (files("notchbook") / "starter" / "recipe.md").read_bytes()
PAGES = ("cosy/index.html", "cosy/small/index.html", "index.html")


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A trial that was whole once."""
    content = tmp_path_factory.mktemp("desk") / "content"
    begin(content, "cosy")
    desk = Desk(content, None)
    desk.read()
    assert all(desk.answer(path).status == 200 for path in PAGES)
    yield desk
    desk.close()


def check(desk: Desk, data: bytes) -> None:
    (desk.content / "recipes" / "cosy" / "recipe.md").write_bytes(data)
    desk.read(settings=False)
    for path in PAGES:
        answer = desk.answer(path)
        said = answer.data.decode()
        assert answer.status == 200
        assert "<main" in said
        assert "itself has failed" not in said
    assert b"Lantern" in desk.answer(PAGES[0]).data or "class=remedy" in said or data == STARTER


@given(st.binary(max_size=40) | st.text(max_size=40).map(lambda t: t.encode("utf-8", "replace")))
@settings(max_examples=20)
def test_any_bytes(desk: Desk, data: bytes) -> None:
    check(desk, data)


@given(st.integers(0, len(STARTER)), st.binary(max_size=8), st.integers(0, 60))
@settings(max_examples=20)
def test_the_recipe_cut_short_or_typed_over_anywhere(
    desk: Desk, at: int, typed: bytes, lost: int
) -> None:
    check(desk, STARTER[:at])
    check(desk, STARTER[:at] + typed + STARTER[at + lost :])
