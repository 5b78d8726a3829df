"""Gathering recipe folders: what is taken, what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from notchbook.gathering import recipes
from notchbook.gathering.recipes import find_recipe, gather_pages, gather_recipes, gather_workshop
from notchbook.problems import ContentError


def folder(content: Path, slug: str) -> Path:
    made = content / "recipes" / slug
    made.mkdir(parents=True)
    (made / "recipe.md").write_bytes(b"---\n---\n")
    return made


def complaint(content: Path) -> str:
    with pytest.raises(ContentError) as caught:
        gather_recipes(content)
    return str(caught.value)


def test_a_recipe_is_its_folder_s_files_by_path_in_name_order(tmp_path: Path) -> None:
    hat = folder(tmp_path, "hat")
    (hat / "views").mkdir()
    (hat / "views" / "side.jpg").write_bytes(b"picture")
    (hat / ".draft").write_bytes(b"hidden")
    (hat / ".git").mkdir()
    (hat / ".git" / "config").write_bytes(b"hidden")
    folder(tmp_path, "cape")
    cape, found = gather_recipes(tmp_path)
    assert (cape.slug, found.slug) == ("cape", "hat")
    assert found.folder == hat.as_posix()
    assert found.files == {"recipe.md": b"---\n---\n", "views/side.jpg": b"picture"}


def test_links_inside_the_folder_are_followed_and_links_out_of_it_refused(tmp_path: Path) -> None:
    hat = folder(tmp_path, "hat")
    (hat / "again.md").symlink_to("recipe.md")
    assert gather_recipes(tmp_path)[0].files["again.md"] == b"---\n---\n"
    (tmp_path / "secret").write_bytes(b"secret")
    (hat / "photo.jpg").symlink_to(tmp_path / "secret")
    (hat / "more").symlink_to(tmp_path)
    said = complaint(tmp_path)
    assert f"{hat.as_posix()}/photo.jpg: photo.jpg is a link that leads out" in said
    assert f"{hat.as_posix()}/more: more is a link that leads out" in said


def test_files_that_can_t_be_read_are_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hat = folder(tmp_path, "hat")
    (tmp_path / "pages").mkdir()
    for path in (tmp_path / "workshop.yaml", tmp_path / "pages" / "about.md"):
        path.write_bytes(b"")

    def refuse(path: Path) -> bytes:
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr(Path, "read_bytes", refuse)
    said = f"{hat.as_posix()}/recipe.md: recipe.md can't be read: permission denied."
    assert said in complaint(tmp_path)
    for gather, name in ((gather_workshop, "workshop.yaml"), (gather_pages, "about.md")):
        with pytest.raises(ContentError, match=f"{name} can't be read: permission denied"):
            gather(tmp_path)


def test_a_broken_link_is_no_crash(tmp_path: Path) -> None:
    hat = folder(tmp_path, "hat")
    (hat / "gone.jpg").symlink_to(hat / "nowhere.jpg")
    assert "The link gone.jpg leads nowhere." in complaint(tmp_path)


def test_an_enormous_file_is_refused_with_both_numbers(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(recipes, "LARGEST", 1_000_000)
    (folder(tmp_path, "hat") / "film.png").write_bytes(bytes(1_500_000))
    assert "film.png has 1.5 MB; a file of a recipe may have 1 MB." in complaint(tmp_path)


@pytest.mark.parametrize(
    ("name", "instead"),
    [
        ("Rain Hat", "rain-hat"),
        ("rain_hat", "rain-hat"),
        ("hat--two", "hat-two"),
        ("-hat", "hat"),
        ("Łódź Håt", "lodz-hat"),
        ("Tom’s hat", "toms-hat"),
        ("帽", "rain-cape"),
    ],
)
def test_a_folder_that_can_t_be_an_address_is_told_a_name_that_can(
    tmp_path: Path, name: str, instead: str
) -> None:
    folder(tmp_path, name)
    said = complaint(tmp_path)
    assert f"recipes/{name}: “{name}” can't be part of an address." in said
    assert f"single hyphens: {instead}." in said


def test_two_folders_that_make_one_address_are_named_together(tmp_path: Path) -> None:
    folder(tmp_path, "hat")
    folder(tmp_path, "Hat")
    assert "The folders Hat and hat make one address." in complaint(tmp_path)


def test_a_name_the_site_needs_itself_is_refused(tmp_path: Path) -> None:
    folder(tmp_path, "assets")
    assert "The site keeps “assets” for itself." in complaint(tmp_path)


def test_every_folder_without_a_recipe_is_named(tmp_path: Path) -> None:
    (tmp_path / "recipes" / "cape").mkdir(parents=True)
    (tmp_path / "recipes" / "hat").mkdir()
    said = complaint(tmp_path)
    assert said.count("There is no recipe.md in this folder.") == 2


def test_an_empty_workshop_says_how_to_begin(tmp_path: Path) -> None:
    assert "Begin one: notchbook begin NAME." in complaint(tmp_path)
    with pytest.raises(ContentError, match=r"There is no .*workshop\.yaml"):
        gather_workshop(tmp_path)


def test_a_recipe_is_found_by_slug_by_folder_and_by_file(tmp_path: Path) -> None:
    hat = folder(tmp_path, "hat")
    for name in ("hat", str(hat), str(hat / "recipe.md")):
        assert find_recipe(tmp_path, name).slug == "hat"
    with pytest.raises(ContentError, match="Did you mean “hat”"):
        find_recipe(tmp_path, "hta")


def test_pages_are_gathered_by_the_name_the_author_knows(tmp_path: Path) -> None:
    assert gather_pages(tmp_path) == {}
    (tmp_path / "pages").mkdir()
    page = tmp_path / "pages" / "about.md"
    page.write_bytes(b"text")
    assert gather_pages(tmp_path) == {page.as_posix(): b"text"}
    (tmp_path / "pages" / "About us.md").write_bytes(b"text")
    with pytest.raises(ContentError, match="About us"):
        gather_pages(tmp_path)
