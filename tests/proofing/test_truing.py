"""Every recipe is trued once, whether anybody looks or not, and pages say what is left to do."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from multiprocessing import active_children
from pathlib import Path
from threading import Event, Thread

import pytest

from notchbook.drafting import truing
from notchbook.gathering.recipes import find_recipe
from notchbook.pressing.begin import begin
from notchbook.problems import Problem
from notchbook.proofing.desk import Desk, Shown
from notchbook.proofing.trial import Trial
from notchbook.proofing.truing import true
from notchbook.reading.read import read_recipe
from notchbook.reading.recipe import Recipe

NAMES = ("cosy", "muff", "pouch")


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """A trial of three recipes that nobody looks at."""
    for name in NAMES:
        begin(tmp_path / "content", name)
    desk = Desk(tmp_path / "content", None)
    desk.read()
    yield desk
    desk.close()


@contextmanager
def working(desk: Desk) -> Iterator[Callable[[Callable[[], bool]], None]]:
    """While recipes are trued: what waits until something is so."""

    def until(it_is: Callable[[], bool]) -> None:
        for _ in range(600):
            if it_is():
                return
            desk.wait(desk.news, 0.1)
        raise AssertionError("It never came.")

    thread = Thread(target=desk.true, daemon=True)
    thread.start()
    yield until
    desk.close()
    thread.join()


def test_every_recipe_is_trued_though_no_page_is_open(desk: Desk) -> None:
    file = desk.content / "recipes" / "muff" / "recipe.md"
    text = file.read_text()
    file.write_text(text.replace("girth: length(side.bottom)", "girth: length(side.bottom) + 9 mm"))
    desk.read()
    with working(desk) as until:
        until(lambda: set(desk.trued) == set(NAMES))
    for page in ("index.html", "cosy/index.html", "muff/index.html"):
        assert ">1 problem<" in desk.answer(page).panel
        assert "9.0 mm off" in desk.answer(page).panel


def test_the_home_page_says_how_many_recipes_are_still_to_be_trued(desk: Desk) -> None:
    said = ["truing: 3 recipes to go …", "truing: 2 recipes to go …", "truing: 1 recipe to go …"]
    for words, name in zip(said, NAMES, strict=True):
        assert f">{words}<" in desk.answer("index.html").panel
        recipe = desk.trial.recipes[name].recipe
        assert recipe
        desk.trued[name] = recipe, ()
    assert ">every recipe is true<" in desk.answer("index.html").panel
    assert ">true in every size<" in desk.answer("muff/index.html").panel


def test_a_page_whose_recipe_is_saved_again_meanwhile_does_not_claim_that_it_is_true(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    composed = Desk._composed

    def slowly(desk: Desk, path: str) -> tuple[Trial, Shown]:
        found = composed(desk, path)
        file = desk.content / "recipes" / "muff" / "recipe.md"
        file.write_text(file.read_text().replace("Turn it right side out", "Turn it"))
        desk.read()
        return found

    monkeypatch.setattr(Desk, "_composed", slowly)
    assert ">truing …<" in desk.answer("muff/index.html").panel


def test_the_recipe_that_was_changed_is_trued_first_and_others_wait_for_it(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun: list[str] = []
    changed = Event()

    def trued(recipe: Recipe, wanted: Callable[[], bool]) -> tuple[Problem, ...] | None:
        begun.append(recipe.slug)
        while not changed.is_set() or not wanted():
            if changed.is_set():
                return None
            changed.wait(0.01)
        return ()

    monkeypatch.setattr("notchbook.proofing.desk.true", trued)
    with working(desk) as until:
        until(lambda: bool(begun))
        last = next(name for name in NAMES if name != begun[0])
        file = desk.content / "recipes" / last / "recipe.md"
        file.write_text(file.read_text().replace("Turn it right side out", "Turn it"))
        desk.read()
        changed.set()
        until(lambda: set(desk.trued) == set(NAMES))
    assert begun[1] == last
    assert sorted(begun) == sorted([*NAMES, begun[0]])  # the one that was left is begun again


def test_a_recipe_that_reads_the_same_in_new_settings_is_not_trued_again(desk: Desk) -> None:
    before = {name: kept.recipe for name, kept in desk.trial.recipes.items()}
    settings = desk.content / "workshop.yaml"
    settings.write_text(settings.read_text().replace("units: metric", "units: inch"))
    desk.read()
    assert desk.trial.setting and desk.trial.setting.workshop.units == "inch"
    assert all(desk.trial.recipes[name].recipe is recipe for name, recipe in before.items())


def test_a_process_of_its_own_finds_what_truing_finds_unless_nobody_wants_it(desk: Desk) -> None:
    folder = find_recipe(desk.content, "cosy")
    recipe = read_recipe(folder)
    assert true(recipe, lambda: True) == truing.true(recipe) == ()
    assert true(recipe, lambda: False) is None
    assert not active_children()
