"""The commands as people use them: what they print, where, and with which exit status."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from fnmatch import fnmatch
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from notchbook.cli import main
from notchbook.pressing.impression import write
from notchbook.pressing.size import Bench
from tests.blank import printed_blank
from tests.choosy import text as choosy_text
from tests.starter import begin_small


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Result]:
    """Runs a command in an empty folder."""
    monkeypatch.chdir(tmp_path)
    quickly(monkeypatch)
    return call


def call(*words: str) -> Result:
    return CliRunner().invoke(main, words)


def quickly(patch: pytest.MonkeyPatch) -> None:
    """What is the same for every recipe, and is proved elsewhere, is left out of presses: faces for
    the web are not cut down, and nothing is drawn for the pages of all shapes and figures."""
    patch.setattr("notchbook.pressing.tasks.web_font", lambda face, characters: face)
    for page in ("reference_page", "figures_page"):
        patch.setattr(f"notchbook.pressing.tasks.{page}", lambda **_: "<p>")


@pytest.fixture
def blank() -> Iterator[None]:
    """PDFs of this test are printed blank."""
    with printed_blank():
        yield


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, Callable[..., Result]]]:
    """A folder in which a recipe was begun, trued and pressed, and what each command said. Look, do
    not touch."""
    folder = tmp_path_factory.mktemp("begun")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        quickly(patch)
        said = {"begin": call("begin", "cosy"), "true": call("true", "--jobs", "1")}
        assert [path.name for path in folder.iterdir()] == ["content"]
        with printed_blank():
            said["press"] = call("press", "--jobs", "1")
    yield folder, said.__getitem__


@pytest.fixture(scope="module")
def drafted(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Result]:
    """A folder with a draft of the small starter for one body, made by the recipe's path and with
    every extra, and what the command said. Look, do not touch."""
    folder = tmp_path_factory.mktemp("drafted")
    begin_small(folder / "content")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        quickly(patch)
        return folder, call(
            "draft", "content/recipes/cosy", "--measure", "round=31.5cm",
            "--measure", "height=5 1/2 in", "--paper", "a4", "--format", "dxf",
        )  # fmt: skip


def change(content: Path, old: str, new: str) -> None:
    """Change the starter recipe in one place."""
    recipe = content / "recipes" / "cosy" / "recipe.md"
    text = recipe.read_text()
    assert text.count(old) == 1
    recipe.write_text(text.replace(old, new))


def place_of(content: Path, words: str) -> tuple[int, int]:
    """Line and column of some words in the starter recipe."""
    lines = (content / "recipes" / "cosy" / "recipe.md").read_text().split("\n")
    line = next(number for number, text in enumerate(lines, start=1) if words in text)
    return line, lines[line - 1].index(words) + 1


def test_begin_makes_a_recipe_that_is_true_and_presses(
    begun: tuple[Path, Callable[..., Result]],
) -> None:
    folder, said = begun
    assert said("begin").exit_code == 0
    assert said("begin").stdout == (
        "Made content/recipes/cosy/recipe.md\n"
        "Made content/workshop.yaml\n"
        "Next: notchbook proof, whose page follows every change you make.\n"
    )
    trued, pressed = said("true"), said("press")
    assert (trued.exit_code, trued.stderr) == (0, "")
    assert trued.stdout.startswith("True: 1 recipe in 3 sizes")
    assert (pressed.exit_code, pressed.stderr) == (0, "")
    assert pressed.stdout.startswith("1 recipe in 3 sizes, ")
    assert "pressed in " in pressed.stdout
    assert pressed.stdout.endswith("\nOpen site/index.html\n")
    listed = json.loads((folder / "site" / "impression.json").read_text())["files"]
    assert {"cosy/nest.svg", "cosy/nest.pdf"} < set(listed)
    for nest in ("../nest.svg", "../nest.pdf"):
        assert f'href="{nest}"' in (folder / "site/cosy/small/index.html").read_text()
        assert f'href="{nest[3:]}"' in (folder / "site/cosy/index.html").read_text()
    for size in ("usual", "small", "large"):
        for file in (
            "index.html", "pattern.svg", "draft.json", "sheets-a4.pdf", "sheets-letter.pdf",
            "booklet-a5.pdf", "booklet-a5-print.pdf",
            "booklet-half-letter.pdf", "booklet-half-letter-print.pdf",
            "list.pdf",
        ):  # fmt: skip
            assert f"cosy/{size}/{file}" in listed
    on_disk = {
        path.relative_to(folder / "site").as_posix()
        for path in (folder / "site").rglob("*")
        if path.is_file()
    }
    assert on_disk == {*listed, "impression.json"}


def test_the_starter_s_step_names_as_many_notches_as_its_table_and_pieces_have(
    begun: tuple[Path, Callable[..., Result]],
) -> None:
    page = (begun[0] / "site" / "cosy" / "usual" / "index.html").read_text()
    rows = re.findall(r'row">(Side|Base)</th>[^\n]*data-name="Notches">(\d+)<', page)
    assert dict(rows) == {"Side": "3", "Base": "4"}
    said = (
        "three along the bottom of the side, where its own seam is the fourth, and four round the"
    )
    assert said in " ".join(page.split())


def test_begin_keeps_what_is_there(run: Callable[..., Result], tmp_path: Path) -> None:
    run("begin", "cosy")
    (tmp_path / "content" / "workshop.yaml").write_text("mine")
    again = run("begin", "cosy")
    assert (again.exit_code, again.stdout) == (1, "")
    assert again.stderr == (
        "content/recipes/cosy: content/recipes/cosy is there already.\n"
        "    Choose another name, or go on with content/recipes/cosy/recipe.md.\n"
        "1 problem. Nothing was begun.\n"
    )
    assert run("begin", "pouch").exit_code == 0
    assert (tmp_path / "content" / "workshop.yaml").read_text() == "mine"


@pytest.mark.parametrize(
    ("name", "remedy"),
    [
        ("Rain Hat", "Say: notchbook begin rain-hat. Its title can be anything you like."),
        ("hüt", "Say: notchbook begin hut. Its title can be anything you like."),
        ("../hat", "Say: notchbook begin hat. Its title can be anything you like."),
        ("assets", "Choose another name."),
        ("", "Use small letters a to z, digits and single hyphens: rain-cape."),
        ("帽", "Use small letters a to z, digits and single hyphens: rain-cape."),
    ],
)
def test_begin_refuses_names_that_can_t_be_addresses(
    run: Callable[..., Result], tmp_path: Path, name: str, remedy: str
) -> None:
    refused = run("begin", name)
    assert refused.exit_code == 1
    assert refused.stderr.startswith(
        f"begin {name}: “" if name != "assets" else "begin assets: The"
    )
    assert f"\n    {remedy}\n" in refused.stderr
    assert list(tmp_path.iterdir()) == []


def test_begin_takes_the_title_from_the_name(run: Callable[..., Result], tmp_path: Path) -> None:
    assert run("begin", "rain-cape").exit_code == 0
    recipe = tmp_path / "content" / "recipes" / "rain-cape" / "recipe.md"
    assert "\ntitle: Rain cape\n" in recipe.read_text()


def test_begin_in_another_folder_says_the_next_commands_for_that_folder(
    run: Callable[..., Result],
) -> None:
    said = run("begin", "cape", "--content", "my bench").stdout
    assert said.endswith(
        "Next: notchbook proof --content 'my bench', whose page follows every change you make.\n"
    )


def test_true_counts_the_problems_and_says_each_with_its_place(
    run: Callable[..., Result], workshop: Path
) -> None:
    change(workshop, "girth: length(side.bottom)", "girth: length(side.botom)")
    change(workshop, "seam: {join: [side.left", "seam: {jion: [side.left")
    result = run("true", "--content", str(workshop))
    assert (result.exit_code, result.stdout) == (1, "")
    line, column = place_of(workshop, "jion")
    assert f"recipe.md:{line}:{column}: " in result.stderr
    assert "Did you mean “join”?" in result.stderr
    assert result.stderr.rstrip().endswith(("problem.", "problems."))
    places = [row for row in result.stderr.splitlines() if row.startswith(str(workshop))]
    assert places == sorted(places)


def test_true_finds_what_is_wrong_with_shapes_seams_and_figures_in_one_run(
    run: Callable[..., Result], workshop: Path
) -> None:
    change(workshop, "girth: length(side.bottom)", "girth: length(side.bottom) + 9 mm")
    change(workshop, "    piece: side\n", "    piece: syde\n")
    change(workshop, "    sew: [side seam]\n    use: [thread]\n", "    use: [thread]\n")
    result = run("true", "--content", str(workshop), "--jobs", "1")
    assert result.exit_code == 1
    assert "9.0 mm off" in result.stderr
    assert "Did you mean “side”?" in result.stderr
    assert "Seam “side seam” is never sewn." in result.stderr
    assert result.stderr.endswith("3 problems.\n")


def test_press_leaves_an_earlier_site_alone_when_something_is_wrong(
    run: Callable[..., Result], tmp_path: Path, begun: tuple[Path, Callable[..., Result]]
) -> None:
    shutil.copytree(begun[0], tmp_path, dirs_exist_ok=True)

    def held() -> dict[Path, bytes]:
        files = (path for path in (tmp_path / "site").rglob("*") if path.is_file())
        return {path: path.read_bytes() for path in files}

    before = held()
    assert before
    change(tmp_path / "content", "girth: length(side.bottom)", "girth: length(side.bottom) + 9 mm")
    result = run("press", "--jobs", "1")
    assert result.exit_code == 1
    line, _ = place_of(tmp_path / "content", "base seam: {join")
    assert f"recipe.md:{line}:" in result.stderr
    assert "9.0 mm off" in result.stderr
    assert "1 problem. Nothing was pressed.\n" in result.stderr
    assert held() == before


def test_draft_makes_one_body_s_files_in_a_folder_of_its_own(drafted: tuple[Path, Result]) -> None:
    folder, result = drafted
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout.endswith("files for one body.\nOpen cosy-draft/index.html\n")
    out = folder / "cosy-draft"
    record = json.loads((out / "draft.json").read_text())
    assert record["measures"]["round"]["value"] == 315
    assert record["measures"]["height"]["value"] == pytest.approx(139.7)
    for file in ("index.html", "pattern.svg", "sheets-a4.pdf", "booklet-a5-print.pdf",
                 "printing.html", "assets/site.css", "impression.json"):  # fmt: skip
        assert (out / file).is_file()
    assert "31.5" in (out / "index.html").read_text()
    assert "nest." not in (out / "index.html").read_text()


def test_draft_format_dxf_adds_a_file_that_its_page_links_to(drafted: tuple[Path, Result]) -> None:
    out = drafted[0] / "cosy-draft"
    assert (out / "pattern.dxf").read_bytes().startswith(b"  0\nSECTION\n")
    page = (out / "index.html").read_text()
    assert '<a href="pattern.dxf">All pieces for cutting-room programs (DXF)</a>' in page


def test_without_the_package_that_writes_dxf_draft_says_what_to_install(
    run: Callable[..., Result], workshop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    result = run("draft", "cosy", "--content", str(workshop), "--format", "dxf")
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr == (
        "--format dxf: DXF files are written by the package ezdxf, which is not installed.\n"
        "    Install it with: pip install 'notchbook[dxf]'\n"
        "1 problem. Nothing was drafted.\n"
    )
    assert not (tmp_path / "cosy-draft").exists()


@pytest.mark.parametrize(
    ("measure", "place", "said", "remedy"),
    [
        (
            "round=90cm",
            "--measure round=90cm",
            "Girth of the lantern 90cm is out of range.",
            "Give it between 18 cm and 50 cm.",
        ),
        (
            "rond=30cm",
            "--measure rond=30cm",
            "cosy has no measure called “rond”.",
            "Did you mean “round”?",
        ),
        (
            "round=wide",
            "--measure round=wide",
            "“wide” is no quantity.",
            "Write a number and a unit, as in round=57.5cm or round='5 1/2 in'.",
        ),
        (
            "round=30",
            "--measure round=30",
            "“30” has no unit.",
            "Write it: round=30cm.",
        ),
        (
            "round=11.50",
            "--measure round=11.50",
            "“11.50” has no unit.",
            "Write it: round=11.50in.",
        ),
        (
            "round=30 g",
            "--measure round=30 g",
            "Girth of the lantern is a length; “30 g” is not.",
            "Give it between 18 cm and 50 cm.",
        ),
    ],
)
def test_a_measure_that_can_t_be_used_is_a_sentence(
    run: Callable[..., Result], workshop: Path, measure: str, place: str, said: str, remedy: str
) -> None:
    result = run("draft", "cosy", "--content", str(workshop), "--measure", measure)
    assert result.exit_code == 1
    assert result.stderr == f"{place}: {said}\n    {remedy}\n1 problem. Nothing was drafted.\n"
    assert not Path("cosy-draft").exists()


def test_a_draft_is_made_the_way_it_is_chosen(
    run: Callable[..., Result], workshop: Path, tmp_path: Path, blank: None
) -> None:
    (workshop / "recipes" / "cosy" / "recipe.md").write_text(choosy_text())
    chosen = ("--choice", "opening=round", "--choice", "edge = wired")
    result = run("draft", "cosy", "--content", str(workshop), *chosen)
    assert (result.exit_code, result.stderr) == (0, "")
    record = json.loads((tmp_path / "cosy-draft" / "draft.json").read_text())
    assert record["choices"] == {"opening": "round", "edge": "wired"}
    assert "ear" not in record["pieces"]
    page = (tmp_path / "cosy-draft" / "index.html").read_text()
    assert "round, wired</h2>" in page
    assert "Choose how it is made" not in page


def test_a_choice_that_can_t_be_made_is_a_sentence(
    run: Callable[..., Result], workshop: Path
) -> None:
    (workshop / "recipes" / "cosy" / "recipe.md").write_text(choosy_text())
    result = run("draft", "cosy", "--content", str(workshop), "--choice", "opening=rund")
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr == (
        "--choice opening=rund: “opening” can't be “rund”.\n"
        "    Did you mean “round”?\n"
        "1 problem. Nothing was drafted.\n"
    )


def test_a_choice_where_there_is_none_is_a_sentence(
    run: Callable[..., Result], workshop: Path
) -> None:
    result = run("draft", "cosy", "--content", str(workshop), "--choice", "opening=round")
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr == (
        "--choice opening=round: cosy has no choice called “opening”.\n"
        "    It leaves nothing to choose: say it again without --choice.\n"
        "1 problem. Nothing was drafted.\n"
    )


def test_a_measure_given_twice_is_a_sentence(run: Callable[..., Result], workshop: Path) -> None:
    words = ("--measure", "round=30cm", "--measure", "round=31cm")
    result = run("draft", "cosy", "--content", str(workshop), *words)
    assert "The measure “round” is given twice." in result.stderr


@pytest.mark.parametrize(
    "words",
    [
        ("draft", "cosy", "--measure", "round"),
        ("draft", "cosy", "--choice", "opening"),
        ("draft", "cosy", "--hand", "both"),
        ("draft",),
        ("begin",),
        ("press", "--jobs", "0"),
        ("press", "--jobs", "many"),
        ("press", "content"),
        ("print",),
        ("true", "--out", "x"),
    ],
)
def test_wrong_usage_has_exit_status_2(run: Callable[..., Result], words: tuple[str, ...]) -> None:
    result = run(*words)
    assert result.exit_code == 2
    assert "Usage:" in result.stderr


def test_a_content_folder_that_is_not_there_is_a_sentence(run: Callable[..., Result]) -> None:
    result = run("press", "--content", "nowhere")
    assert result.exit_code == 1
    assert result.stderr == (
        "nowhere: The content folder “nowhere” is not there.\n"
        "    Name the right folder with --content DIR, or make a workshop: notchbook begin NAME.\n"
        "1 problem. Nothing was pressed.\n"
    )


def test_a_theme_nobody_knows_is_said_of_the_option(
    run: Callable[..., Result], workshop: Path
) -> None:
    result = run("press", "--content", str(workshop), "--theme", "brodside")
    assert result.exit_code == 1
    assert result.stderr.startswith("--theme brodside: There is no theme “brodside”.\n")
    assert "Did you mean “broadside”?" in result.stderr


def test_a_folder_that_is_not_ours_is_refused(
    run: Callable[..., Result], workshop: Path, tmp_path: Path
) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "thesis.txt").write_text("mine")
    result = run("press", "--content", str(workshop))
    assert result.exit_code == 1
    assert "site is not empty, and holds nothing that this program made." in result.stderr
    assert [path.name for path in (tmp_path / "site").iterdir()] == ["thesis.txt"]


def test_a_draft_by_a_path_is_replaced_by_a_draft_and_by_nothing_else(
    run: Callable[..., Result],
    workshop: Path,
    tmp_path: Path,
    drafted: tuple[Path, Result],
    blank: None,
) -> None:
    shutil.copytree(drafted[0] / "cosy-draft", tmp_path / "cosy-draft")
    words = ("draft", "cosy", "--content", str(workshop))
    assert run(*words, "--measure", "round=31cm").exit_code == 0
    record = json.loads((tmp_path / "cosy-draft" / "draft.json").read_text())
    assert record["measures"]["round"]["value"] == 310
    assert not (tmp_path / "cosy-draft" / "pattern.dxf").exists()
    (tmp_path / "notes").mkdir()
    (tmp_path / "notes" / "mine.txt").write_text("mine")
    assert "notes is not empty" in run(*words, "--out", "notes").stderr
    pressed = run("press", "--content", str(workshop), "--out", "cosy-draft")
    assert (pressed.exit_code, pressed.stderr) == (
        1,
        "cosy-draft: cosy-draft holds a draft, and a site would take its place.\n"
        "    Choose another folder with --out.\n"
        "1 problem. Nothing was pressed.\n",
    )


def test_a_fault_of_the_program_is_said_to_be_one_and_leaves_nothing_behind(
    run: Callable[..., Result], workshop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(bench: Bench, *_: object) -> None:
        write(bench.staged, "cosy/index.html", b"half a site", ())
        raise KeyError("needle")

    monkeypatch.setattr("notchbook.pressing.press._share_out", fail)
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    result = run("press", "--content", str(workshop), "--jobs", "1")
    assert (result.exit_code, result.stdout) == (70, "")
    (details,) = tmp_path.glob("notchbook-*.txt")
    assert result.stderr == (
        "Notchbook itself has failed: KeyError: 'needle'\n"
        "    Your content is not to blame. Show this file to whoever keeps the program: "
        f"{details}\n"
        "Nothing was pressed.\n"
    )
    assert "Traceback" in details.read_text() and "in fail" in details.read_text()
    assert not (tmp_path / "site").exists()


def test_a_theme_that_can_t_be_filled_is_a_sentence_at_its_line(
    run: Callable[..., Result], workshop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The page of all recipes is made after their sizes, which need not be pressed to try it.
    monkeypatch.setattr("notchbook.pressing.press._share_out", lambda *_: [])
    theme = tmp_path / "own"
    shutil.copytree(Path(__file__).parents[1] / "themes" / "broadside", theme)
    for wrong, said in (
        ("{{ recipe.colour }}", "This template can't be filled: "),
        ("{{ say('no.such') }}", "This template can't be filled: the words “no.such” are in no"),
    ):
        text = (theme / "parts.html").read_text()
        (theme / "index.html").write_text(f"<p>\n\n{wrong}")
        result = run(
            "press", "--content", str(workshop), "--theme", str(theme), "--jobs", "1", "--out", "s"
        )
        assert result.exit_code == 1
        assert result.stderr.startswith(f"own/index.html:3:1: {said}"), result.stderr
        assert not (tmp_path / "s").exists()
        (theme / "parts.html").write_text(text)


@pytest.mark.parametrize("key", ["theme", "language", "fonts"])
def test_what_the_settings_name_and_is_not_there_is_told_at_its_line(
    run: Callable[..., Result], workshop: Path, key: str
) -> None:
    settings = workshop / "workshop.yaml"
    kept = [row for row in settings.read_text().splitlines() if not row.startswith(f"{key}:")]
    wrong = {
        "theme": "theme: brodside",
        "language": "language: eo",
        "fonts": "fonts: {text: vellum}",
    }
    settings.write_text("\n".join([*kept, wrong[key], ""]))
    result = run("true", "--content", str(workshop))
    assert result.exit_code == 1
    assert result.stderr.startswith(f"{settings.as_posix()}:{len(kept) + 1}:1: ")


def test_the_sides_of_a_seam_are_laid_along_each_other_in_a_file(
    run: Callable[..., Result], workshop: Path, tmp_path: Path
) -> None:
    where = ("--content", str(workshop))
    laid = run("true", *where, "--lay", "cosy", "base seam", "--out", "base.svg")
    assert (laid.exit_code, laid.stderr) == (0, "")
    assert laid.stdout == (
        "Seam “base seam” meets in every size. Drawn at the usual measures.\nOpen base.svg\n"
    )
    assert 'data-side="2"' in (tmp_path / "base.svg").read_text()
    change(workshop, "girth: length(side.bottom)", "girth: length(side.bottom) + round / 50")
    worst = run("true", *where, "--lay", "cosy", "base seam", "--out", "base.svg")
    assert worst.stdout.startswith(
        "Seam “base seam” does not meet: 10.0 mm off. Drawn where it is worst, at round 50 cm"
    )
    assert "They do not meet" in (tmp_path / "base.svg").read_text()
    none = run("true", *where, "--lay", "cosy", "hem", "--out", "hem.svg")
    assert none.exit_code == 1
    assert "There is no seam “hem” in this recipe." in none.stderr
    assert not (tmp_path / "hem.svg").exists()


def test_help_says_that_true_may_write_a_drawing(run: Callable[..., Result]) -> None:
    said = " ".join(run("true", "--help").stdout.split())
    assert "Only --lay writes anything: a drawing." in said
    assert "write nothing" not in said


@pytest.mark.parametrize("name", ["site", "cape-draft", "cape-class.pdf", "seam.svg"])
def test_what_commands_make_beside_the_content_is_kept_out_of_the_repository(name: str) -> None:
    ignored = (Path(__file__).parents[1] / ".gitignore").read_text().split()
    assert any(fnmatch(f"/{name}", row.rstrip("/")) for row in ignored)


def test_help_says_what_each_command_does(run: Callable[..., Result]) -> None:
    said = run("--help").stdout
    assert all(f"\n  {name} " in said for name in ("begin", "draft", "press", "true"))


def test_as_a_program_it_says_problems_on_the_error_stream_and_shows_no_traceback(
    tmp_path: Path,
) -> None:
    command = [sys.executable, "-m", "notchbook", "true", "--content", str(tmp_path / "nowhere")]
    done = subprocess.run(command, capture_output=True, text=True)
    assert (done.returncode, done.stdout) == (1, "")
    assert "Traceback" not in done.stderr
    assert done.stderr.endswith("1 problem.\n")
