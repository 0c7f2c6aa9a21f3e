"""The command that opens the lessons: what it copies, what it leaves alone, and what it says."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import nbformat
import pytest

from lessons.jupyter import launch
from lessons.jupyter.locks import locked
from lessons.jupyter.working_copy import LESSONS, PUT_ASIDE, Made, packaged, working_copy
from lessons.questions import progress


def test_makes_a_working_copy(tmp_path: Path) -> None:
    made = working_copy(tmp_path / "mine")
    names = {path.name for path in (tmp_path / "mine").rglob("*.ipynb")}
    assert (made.new, made.kept) == (len(names), 0)
    assert {"00_start_here.ipynb", "04_inherent_characteristic.ipynb", "05_installed_flow.ipynb"} <= names


def test_never_overwrites_work(tmp_path: Path) -> None:
    working_copy(tmp_path)
    mine = tmp_path / "00_start_here.ipynb"
    mine.write_text("my work", encoding="utf-8")
    (tmp_path / "05_installed_flow.ipynb").unlink()
    made = working_copy(tmp_path)
    assert mine.read_text(encoding="utf-8") == "my work"
    assert (made.new, (tmp_path / "05_installed_flow.ipynb").exists()) == (1, True)
    assert made.kept == len(packaged()) - 1


# ---- locks: none in the project, all of them in what a reader gets -------------------------------------------------


def cells(path: Path) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(path.read_text(encoding="utf-8"))["cells"]
    return found


@pytest.mark.parametrize("path", packaged(), ids=lambda path: path.stem)
def test_the_author_finds_no_locks(path: Path) -> None:
    assert [cell["metadata"] for cell in cells(path) if cell["metadata"]] == []


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("copy")
    working_copy(folder)
    return folder


@pytest.mark.parametrize("path", packaged(), ids=lambda path: path.stem)
def test_the_reader_can_only_type_answers(path: Path, copy: Path) -> None:
    """What differs from the packaged lesson is the locks alone, as nbformat has them (`editable`, `deletable`)."""
    mine = copy / path.relative_to(LESSONS)
    nbformat.validate(nbformat.read(mine, as_version=4))
    assert [{**cell, "metadata": {}} for cell in cells(mine)] == cells(path)
    for cell in cells(mine):
        assert cell["metadata"]["deletable"] is False
        is_answer = "".join(cell["source"]).startswith("%%answer ")
        assert cell["metadata"].get("editable", True) is is_answer
        is_hidden = cell["metadata"].get("jupyter", {}).get("source_hidden", False)
        assert is_hidden is (cell["cell_type"] == "code" and not is_answer)


SOURCES = {
    "ask": ("code", 'ask("trim.parts")', False),
    "begin": ("code", 'from lessons.notebook import *\nbegin("trim")', False),
    "words": ("markdown", "Words", False),
    "raw": ("raw", "Words", False),
    "blank": ("code", "", False),
    "told of": ("markdown", "%%answer trim.parts\n", False),
    "named late": ("code", "1\n%%answer trim.parts", False),
    "answer": ("code", "%%answer trim.parts\n", True),
    "typed": ("code", "%%answer trim.parts\n1a 2b", True),
    "a line above": ("code", "\n%%answer trim.parts\n", True),
}
BEFORE = {
    "none": {},
    "locked": {"editable": False, "deletable": False, "jupyter": {"source_hidden": True}},
    "open": {"editable": True, "deletable": True, "jupyter": {"source_hidden": False}},
}


@pytest.mark.parametrize("before", BEFORE)
@pytest.mark.parametrize("kind", SOURCES)
def test_locks_depend_on_what_stands_in_a_cell_alone(kind: str, before: str) -> None:
    cell_type, source, is_open = SOURCES[kind]
    given = {"cells": [{"cell_type": cell_type, "source": source, "metadata": {**BEFORE[before], "tags": ["a"]}}]}
    was = json.dumps(given)
    metadata = locked(given)["cells"][0]["metadata"]
    assert json.dumps(given) == was, "the notebook given is left as it is"
    assert metadata.pop("tags") == ["a"]
    assert metadata.pop("deletable") is False
    assert metadata.pop("editable", True) is is_open
    assert metadata == ({"jupyter": {"source_hidden": True}} if cell_type == "code" and not is_open else {})


# ---- the lessons anew ---------------------------------------------------------------------------------------------


def test_fresh_shows_the_lessons_as_they_come_and_loses_nothing(tmp_path: Path) -> None:
    working_copy(tmp_path)
    progress.record(tmp_path, "trim.shapes", "1a 2b 3c", "right", 1.0)
    written = {"03_trim.ipynb": "my work", "job_cards/packing.ipynb": "older", "notes.ipynb": "my own"}
    for name, text in written.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    known = progress.load(tmp_path)

    made = working_copy(tmp_path, fresh=True)

    assert (made.new, made.kept, made.aside) == (2, len(packaged()) - 2, 2)
    assert made.aside_in.parent == tmp_path / PUT_ASIDE
    aside = {str(path.relative_to(made.aside_in)): path.read_text("utf-8") for path in made.aside_in.rglob("*.ipynb")}
    assert aside == {name: written[name] for name in ("03_trim.ipynb", "job_cards/packing.ipynb")}
    assert (tmp_path / "notes.ipynb").read_text(encoding="utf-8") == "my own"
    for path in packaged():
        assert [cell["source"] for cell in cells(tmp_path / path.relative_to(LESSONS))] == [
            c["source"] for c in cells(path)
        ]
    assert progress.load(tmp_path) == known, "answers come back from what is written down"
    assert progress.home(made.aside_in) == tmp_path, "what was put aside still knows who works here"


def test_fresh_leaves_alone_what_is_as_it_comes(tmp_path: Path) -> None:
    working_copy(tmp_path)
    before = {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*") if path.is_file()}
    made = working_copy(tmp_path, fresh=True)
    assert (made.new, made.aside) == (0, 0)
    assert not (tmp_path / PUT_ASIDE).exists()
    startup = next(tmp_path.rglob("00_lessons.py"))
    assert {path: path.stat().st_mtime_ns for path in before if path != startup} == {
        path: at for path, at in before.items() if path != startup
    }


def test_twice_fresh_in_one_second_keeps_both(tmp_path: Path) -> None:
    working_copy(tmp_path)
    for text in ("first", "second", "third"):
        (tmp_path / "03_trim.ipynb").write_text(text, encoding="utf-8")
        working_copy(tmp_path, fresh=True)
    assert {path.read_text(encoding="utf-8") for path in (tmp_path / PUT_ASIDE).rglob("*.ipynb")} == {
        "first",
        "second",
        "third",
    }


def test_a_lesson_that_could_not_be_written_is_not_kept_as_work(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_path: Path, _data: bytes) -> int:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(Path, "write_bytes", full)
        with pytest.raises(OSError, match="No space"):
            working_copy(tmp_path)
    assert working_copy(tmp_path).kept == 0


def test_what_was_put_aside_is_told(tmp_path: Path) -> None:
    assert len(launch.told_at_start(tmp_path, Made(new=3, kept=2))) == 1
    first, where, answers = launch.told_at_start(tmp_path, Made(new=2, kept=1, aside=2, aside_in=tmp_path / "there"))
    assert "2 new, 1 kept" in first
    assert str(tmp_path / "there") in where
    assert "comes back" in answers


def test_settings_the_reader_changed_stay(tmp_path: Path) -> None:
    working_copy(tmp_path)
    settings = next(tmp_path.rglob("tracker.jupyterlab-settings"))
    settings.write_text(json.dumps({"windowingMode": "full"}), encoding="utf-8")
    working_copy(tmp_path)
    assert json.loads(settings.read_text(encoding="utf-8")) == {"windowingMode": "full"}


def test_a_folder_that_cannot_be_is_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert launch.main(["--to", str(tmp_path / "file")]) == 1
    assert "cannot be made" in capsys.readouterr().out


def test_command_line_of_the_server(tmp_path: Path) -> None:
    arguments = launch.lab_arguments(tmp_path, browser=False, port=9999)
    assert {"--no-browser", "--ServerApp.port=9999", f"--ServerApp.root_dir={tmp_path}"} <= set(arguments)
    assert "--no-browser" not in launch.lab_arguments(tmp_path, browser=True, port=9999)
    assert ("--allow-root" in arguments) == (hasattr(os, "geteuid") and os.geteuid() == 0)


def test_marking_without_the_clone_is_a_sentence(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(launch, "find_spec", lambda name: None)
    assert launch.classroom([]) == 1
    assert "needs a clone" in capsys.readouterr().out


def test_help_needs_no_server(tmp_path: Path) -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "lessons", "--help"], capture_output=True, text=True, cwd=tmp_path, check=True
    )
    assert "--no-browser" in ran.stdout
    assert list(tmp_path.iterdir()) == []


HOMES = ("JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "JUPYTER_CONFIG_DIR", "MPLCONFIGDIR")


@pytest.mark.parametrize("is_there", [True, False], ids=["a home", "no home that can be written"])
def test_a_home_that_cannot_be_written_is_not_written(
    is_there: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file in its place stands for a read-only home here: root may write into any folder."""
    home = tmp_path / "home"
    home.mkdir() if is_there else home.write_text("")
    monkeypatch.setenv("HOME", str(home))
    for name in (*HOMES, "XDG_DATA_HOME", "XDG_RUNTIME_DIR"):
        monkeypatch.setenv(name, "")  # so that it is put back at the end
        monkeypatch.delenv(name)
    launch.stay_off_home(tmp_path / "hidden")
    inside = [str(tmp_path / "hidden") in os.environ.get(name, "") for name in HOMES]
    assert inside == [not is_there] * 4
