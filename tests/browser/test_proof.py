"""A trial copy in a real browser: the page follows the author by itself."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.browser.conftest import Open
from tests.browser.pages import faults
from tests.proofing.author import PAGE, Author, author


@pytest.fixture(scope="module")
def at_work(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Author]:
    """A trial of the starter recipe."""
    with author(tmp_path_factory.mktemp("author")) as there:
        yield there


def test_the_page_reloads_by_itself_and_shows_a_problem_beside_its_place(
    at_work: Author, open_page: Open
) -> None:
    page = open_page(at_work.address + PAGE)
    with faults(page, at_work.address) as found:
        status = page.locator("#notchbook-proof [role=status]")
        page.get_by_text("true in every size").wait_for()
        step = page.locator("#sew-1")
        at_work.change("Fold the side", "Fold the sleeve")
        step.get_by_text("Fold the sleeve").wait_for()

        at_work.change("from the edge. Press", "from the {{ edge }}. Press")
        note = step.get_by_role("note").filter(has_text="“edge”")
        note.wait_for()
        assert "recipe.md:" in note.inner_text()
        assert status.inner_text() == "1 problem"
        assert "Fold the sleeve" in step.inner_text()
        words, below = step.locator(".words .prose").bounding_box(), note.bounding_box()
        assert words and below
        assert below["y"] >= words["y"] + words["height"]
        page.get_by_role("link", name="Show its place").click()
        assert page.url.endswith("#notchbook-problem-1")

        at_work.change("from the {{ edge }}. Press", "from the edge. Press")
        note.wait_for(state="detached")
        page.get_by_text("true in every size").wait_for()
    # A page that reloads hangs up on the events it was told.
    assert [fault for fault in found if "/.proof/events" not in fault] == []
