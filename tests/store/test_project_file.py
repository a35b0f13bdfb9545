"""A project file is read whole or refused in one clear line, and written whole or not at all."""

import os
import stat
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given

from tests.permissions import bound
from tests.store.bad_files import BAD_FILES, GOOD, BadFile
from tests.store.strategies import projects
from workbench.craft.card import Place
from workbench.craft.mixing import FixedCard, Mixing
from workbench.craft.paper import Back, Offcut, Size
from workbench.craft.project import Project
from workbench.measure.length import Length
from workbench.store.codecs import Codec, Listed
from workbench.store.dump import project_text
from workbench.store.errors import ProjectFileError
from workbench.store.load import project_from_text
from workbench.store.project_file import read_project, write_project
from workbench.store.schema import PROJECT
from workbench.store.tables import Table

SAMPLES = sorted((Path(__file__).parents[2] / "sample_projects").glob("*.toml"))


def inches(number: int | str) -> Length:
    return Length.of(number, "in")


def mm(number: int | str) -> Length:
    return Length.of(number, "mm")


def test_what_is_saved_is_loaded_whatever_key_it_says() -> None:
    said: set[str] = set()

    @given(projects())
    def law(project: Project) -> None:
        text = project_text(project)
        assert project_from_text(text, "it") == project
        said.update(_said(PROJECT, tomllib.loads(text)))

    law()
    assert set(_sayable(PROJECT)) - said == set()


def _sayable(table: Table, place: str = "") -> Iterator[str]:
    """Every key that a file may hold: "title", "papers.strip.edge"."""
    for one in table.keys:
        yield f"{place}{one.key.name}"
        if inner := _inner(one.codec):
            yield from _sayable(inner, f"{place}{one.key.name}.")


def _said(table: Table, data: Any, place: str = "") -> Iterator[str]:
    """The keys that a table of a file holds."""
    for one in table.keys:
        if one.key.name not in data:
            continue
        yield f"{place}{one.key.name}"
        held, inner = data[one.key.name], _inner(one.codec)
        for each in held if isinstance(one.codec, Listed) else (held,):
            if inner:
                yield from _said(inner, each, f"{place}{one.key.name}.")


def _inner(codec: Codec) -> Table | None:
    inner = codec.each if isinstance(codec, Listed) else codec
    return inner if isinstance(inner, Table) else None


@given(projects())
def test_saving_what_was_loaded_changes_nothing(project: Project) -> None:
    text = project_text(project)
    assert project_text(project_from_text(text, "it")) == text


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_samples_come_back_the_same(sample: Path, tmp_path: Path) -> None:
    project = read_project(sample)
    write_project(tmp_path / "copy.toml", project)
    assert read_project(tmp_path / "copy.toml") == project


def test_every_key_reaches_its_noun() -> None:
    project = project_from_text(GOOD, "it")
    assert (project.title, project.units) == ("Lantern walk", "in")
    assert project.card.size == Size(inches("17/4"), inches("11/2"))
    assert (project.card.fold, project.card.paper, project.card.count) == ("top", "cream card", 4)
    dots = project.paper("moth dot")
    assert (dots.kind, dots.sheets, dots.print, dots.run) == ("patterned", 1, "dot", "along")
    assert dots.colours == ("#2f6f8f", "#f4efe4")
    assert (dots.weight, dots.thickness) == ("70 lb text", "0.15 mm")
    panel = project.piece("panel")
    assert (panel.papers, panel.place) == (("moth dot",), Place("centre", inches("1/8")))
    assert panel.rounding is not None
    assert (panel.rounding.corners, panel.rounding.radius) == (("top right",), inches("1/4"))
    assert (panel.per_card, panel.needed, panel.on) == (1, True, "card")


def test_offcuts_are_kept() -> None:
    text = GOOD + '\n[[offcuts]]\npaper = "moth dot"\nsize = ["75 mm", 3.5]\ncount = 2\n'
    assert project_from_text(text, "it").offcuts == (
        Offcut("moth dot", Size(mm(75), inches("7/2")), 2),
    )


RULED = """\

[mixing]
wish = "all different"
deal = 3
apart = [["cream card", "moth back"]]
together = [["moth dot", "moth back"]]

[[mixing.cards]]
number = 2
shows = { panel = "moth back", "panel 2" = "moth dot" }
"""


def test_backs_spares_and_rules_are_kept_and_written_as_by_hand() -> None:
    back = 'back = { name = "moth back", print = "dot", run = "up" }\n'
    text = GOOD.replace("\n[[pieces]]", back + "\n[[pieces]]") + "per_card = 2\nspare = 1\n" + RULED
    project = project_from_text(text, "it")
    assert project.paper("moth dot").back == Back("moth back", "dot", (), "up")
    assert project.piece("panel").spare == 1
    assert project.mixing == Mixing(
        (("cream card", "moth back"),),
        (("moth dot", "moth back"),),
        (FixedCard(2, {"panel": "moth back", "panel 2": "moth dot"}),),
        "all different",
        3,
    )
    assert project_text(project) == text


def test_a_decimal_is_what_it_says_and_not_its_binary_neighbour() -> None:
    project = project_from_text(GOOD.replace('[4, "5 1/4"]', "[4.1, 5.25]"), "it")
    assert project.piece("panel").size.width.inches == Fraction(41, 10)
    assert project.piece("panel").size.height.inches == Fraction(21, 4)


def test_a_bare_number_takes_the_unit_of_the_file() -> None:
    project = project_from_text(
        GOOD.replace('"in"', '"mm"').replace('[4, "5 1/4"]', '[4, "1/4 in"]'), "it"
    )
    assert project.piece("panel").size == Size(mm(4), inches("1/4"))


def test_a_byte_order_mark_and_windows_lines_do_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "notepad.toml"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert read_project(path) == project_from_text(GOOD, "it")


def test_the_written_file_reads_like_one_written_by_hand() -> None:
    text = project_text(project_from_text(GOOD, "it"))
    assert text == GOOD


@pytest.mark.parametrize("bad", BAD_FILES, ids=lambda bad: bad.kind)
def test_a_bad_file_is_refused_in_one_clear_line(bad: BadFile, tmp_path: Path) -> None:
    path = tmp_path / "bad.toml"
    path.write_bytes(bad.content)
    with pytest.raises(ProjectFileError) as refused:
        read_project(path)
    said = str(refused.value)
    assert said.startswith(f"{path}: ")
    assert said.isprintable()
    assert len(said) < len(str(path)) + 660
    assert "msgspec" not in said
    assert "`" not in said
    for words in bad.says:
        assert words in said


def test_missing_files_folders_and_impossible_names_are_refused(tmp_path: Path) -> None:
    for path, words in (
        (tmp_path / "nowhere.toml", "no such file"),
        (tmp_path, "folder"),
        (tmp_path / "x.toml" / "y", "no such file"),
        (tmp_path / ("n" * 5000), "cannot be read"),
        (tmp_path / "nul\0.toml", "cannot be read"),
    ):
        with pytest.raises(ProjectFileError, match=words):
            read_project(path)


@pytest.fixture
def pipe(tmp_path: Path) -> Path:
    path = tmp_path / "pipe.toml"
    os.mkfifo(path)
    return path


@pytest.mark.skipif(os.name == "nt", reason="no such pipes there")
def test_pipes_and_devices_are_not_read(pipe: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def opened(*_: object) -> None:
        raise AssertionError("opening it would wait for a writer")

    monkeypatch.setattr(os, "open", opened)
    for path in (pipe, Path(os.devnull), Path("/dev/zero")):
        with pytest.raises(ProjectFileError, match="a pipe or a device and not a file; a project"):
            read_project(path)


@pytest.mark.skipif(os.name == "nt", reason="no such pipes there")
def test_nothing_takes_the_place_of_a_pipe(pipe: Path) -> None:
    with pytest.raises(ProjectFileError, match="cannot be written"):
        write_project(pipe, project_from_text(GOOD, "it"))
    assert pipe.is_fifo()


def test_a_file_of_many_gigabytes_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "huge.toml"
    path.touch()
    os.truncate(path, 1 << 40)
    with pytest.raises(ProjectFileError, match="larger than 1 MB"):
        read_project(path)


def test_a_file_name_cannot_break_the_line(tmp_path: Path) -> None:
    path = tmp_path / "two\nlines\x1b[31m.toml"
    path.write_text("", encoding="utf-8")
    with pytest.raises(ProjectFileError) as refused:
        read_project(path)
    assert str(refused.value).isprintable()


def test_a_file_that_may_not_be_read_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "locked.toml"
    path.write_text(GOOD, encoding="utf-8")
    path.chmod(0)
    check = "import sys; from workbench.cli import main; sys.exit(main(['check', sys.argv[1]]))"
    command = [*bound(), sys.executable, "-c", check, str(path)]
    ran = subprocess.run(command, check=False, capture_output=True, text=True)
    assert (ran.returncode, ran.stderr.count("\n")) == (2, 1)
    assert "cannot be read" in ran.stderr


def test_a_failing_write_leaves_the_old_file_and_no_draft(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "kept.toml"
    path.write_text(GOOD, encoding="utf-8")
    project = project_from_text(GOOD.replace("Lantern", "Candle"), "it")

    def fail(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", fail)
    with pytest.raises(ProjectFileError, match="no room is left"):
        write_project(path, project)
    assert path.read_text(encoding="utf-8") == GOOD
    assert list(tmp_path.iterdir()) == [path]


def test_a_file_that_is_marked_read_only_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "kept.toml"
    path.write_text(GOOD, encoding="utf-8")
    path.chmod(0o444)
    with pytest.raises(ProjectFileError, match="marked read-only"):
        write_project(path, project_from_text(GOOD.replace("Lantern", "Candle"), "it"))
    assert path.read_text(encoding="utf-8") == GOOD


def test_writing_where_there_is_no_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ProjectFileError, match="cannot be written"):
        write_project(tmp_path / "no" / "folder.toml", project_from_text(GOOD, "it"))


def test_writing_keeps_links_and_permissions(tmp_path: Path) -> None:
    real, link = tmp_path / "real.toml", tmp_path / "link.toml"
    real.write_text("", encoding="utf-8")
    real.chmod(0o640)
    link.symlink_to(real)
    write_project(link, project_from_text(GOOD, "it"))
    assert link.is_symlink()
    assert real.read_text(encoding="utf-8") == GOOD
    assert stat.S_IMODE(real.stat().st_mode) == 0o640


def test_what_could_not_be_read_back_is_not_written(tmp_path: Path) -> None:
    good = project_from_text(GOOD, "it")
    unreadable = Project(
        good.title,
        good.units,
        good.card,
        good.papers,
        offcuts=(Offcut("moth dot", Size(mm(200_000), mm(1))),),
    )
    with pytest.raises(ProjectFileError, match="100 m"):
        write_project(tmp_path / "long.toml", unreadable)
    assert not list(tmp_path.iterdir())
