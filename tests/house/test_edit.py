"""The author's way in: JupyterLab on links to the notebooks of the project, with all that is private to it elsewhere."""

from __future__ import annotations

import asyncio
import json
import os
from pathlib import Path

import pytest
from jupyter_server.services.contents.filemanager import AsyncFileContentsManager

from lessons.jupyter.working_copy import LESSONS, packaged
from lessons.questions import progress
from tests import edit


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of two notebooks in place of the project's."""
    lessons = tmp_path / "lessons"
    for name in ("14_x.ipynb", "job_cards/card.ipynb"):
        (lessons / name).parent.mkdir(parents=True, exist_ok=True)
        (lessons / name).write_text(json.dumps({"cells": [], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}))
    monkeypatch.setattr(edit, "LESSONS", lessons)
    monkeypatch.setattr(edit, "packaged", lambda: sorted(lessons.rglob("*.ipynb")))
    return tmp_path


def test_every_notebook_of_the_project_is_linked(tmp_path: Path) -> None:
    folder = edit.linked(tmp_path / "author")
    for notebook in packaged():
        assert (folder / notebook.relative_to(LESSONS)).resolve() == notebook
    assert progress.home(folder / "job_cards") == folder, "answers typed to try a lesson stay there"


def test_links_follow_the_notebooks(project: Path) -> None:
    folder = edit.linked(project / "author")
    (project / "lessons" / "14_x.ipynb").rename(project / "lessons" / "15_x.ipynb")
    (folder / "notes.ipynb").write_text("my own", encoding="utf-8")
    edit.linked(folder)
    assert {path.name for path in folder.rglob("*.ipynb")} == {"15_x.ipynb", "card.ipynb", "notes.ipynb"}


def test_a_save_in_jupyterlab_reaches_the_notebook_itself(project: Path) -> None:
    """Through the contents manager that JupyterLab's server uses; the link stays a link."""
    folder = edit.linked(project / "author")
    manager = AsyncFileContentsManager(root_dir=str(folder))
    cell = {"cell_type": "markdown", "id": "a", "metadata": {}, "source": "new words"}
    content = {"cells": [cell], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}
    asyncio.run(manager.save({"type": "notebook", "format": "json", "content": content}, "14_x.ipynb"))
    assert (folder / "14_x.ipynb").is_symlink()
    assert "new words" in (project / "lessons" / "14_x.ipynb").read_text(encoding="utf-8")
    assert {path.name for path in (project / "lessons").iterdir()} == {"14_x.ipynb", "job_cards"}


def test_the_command_opens_the_links(
    project: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    opened = []
    monkeypatch.setattr(edit, "open_lab", lambda folder, **how: opened.append((folder, how)) or 0)
    monkeypatch.setattr(edit, "FOLDER", project / "author")
    assert edit.main(["--no-browser", "--port", "9999"]) == 0
    assert opened == [(project / "author", {"browser": False, "port": 9999})]
    assert "python -m tests.tidy" in capsys.readouterr().out


def test_what_is_private_is_not_in_git() -> None:
    ignored = (edit.FOLDER.parent / ".gitignore").read_text(encoding="utf-8").splitlines()
    assert f"/{edit.FOLDER.name}/" in ignored
    assert progress.FILE in ignored
    assert os.fspath(edit.FOLDER.parent) == os.fspath(LESSONS.parent)
