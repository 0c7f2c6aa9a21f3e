"""The command that opens the lessons: what it copies, what it leaves alone, and what it says."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from lessons.jupyter import launch


def test_makes_a_working_copy(tmp_path: Path) -> None:
    new, kept = launch.working_copy(tmp_path / "mine")
    names = {path.name for path in (tmp_path / "mine").rglob("*.ipynb")}
    assert (new, kept) == (len(names), 0)
    assert {"00_start_here.ipynb", "04_inherent_characteristic.ipynb", "05_installed_flow.ipynb"} <= names


def test_never_overwrites_work(tmp_path: Path) -> None:
    launch.working_copy(tmp_path)
    mine = tmp_path / "00_start_here.ipynb"
    mine.write_text("my work", encoding="utf-8")
    (tmp_path / "05_installed_flow.ipynb").unlink()
    new, kept = launch.working_copy(tmp_path)
    assert mine.read_text(encoding="utf-8") == "my work"
    assert (new, (tmp_path / "05_installed_flow.ipynb").exists()) == (1, True)
    assert kept >= 2


def test_settings_the_reader_changed_stay(tmp_path: Path) -> None:
    launch.working_copy(tmp_path)
    settings = next(tmp_path.rglob("tracker.jupyterlab-settings"))
    settings.write_text(json.dumps({"windowingMode": "full"}), encoding="utf-8")
    launch.working_copy(tmp_path)
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


def test_marking_without_the_clone_is_a_sentence(monkeypatch: pytest.MonkeyPatch,
                                                 capsys: pytest.CaptureFixture[str]) -> None:  # fmt: skip
    monkeypatch.setattr(launch, "find_spec", lambda name: None)
    assert launch.classroom([]) == 1
    assert "needs a clone" in capsys.readouterr().out


def test_help_needs_no_server(tmp_path: Path) -> None:
    ran = subprocess.run([sys.executable, "-m", "lessons", "--help"], capture_output=True, text=True, cwd=tmp_path,
                         check=True)  # fmt: skip
    assert "--no-browser" in ran.stdout
    assert list(tmp_path.iterdir()) == []
