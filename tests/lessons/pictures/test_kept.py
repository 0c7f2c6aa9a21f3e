"""Pictures kept as files: what comes from one is what would be drawn, and whatever is wrong with one it is drawn."""

from __future__ import annotations

import asyncio
import json
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lessons.live import kept
from lessons.live.engine import LivePicture
from lessons.notebook import bank, figures, still
from lessons.questions.question import pose_variant

SHOWN = ("inherent", "choked", "bench_set", "globe_single")  # plain axes, a curved one, units, a cut-away
ROOT = Path(__file__).parents[3]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that keeps some pictures, drawn as `draw_all` draws them all."""
    made = tmp_path_factory.mktemp("pictures")
    for name in SHOWN:
        for units in ("si", "us"):
            kept.keep_in(made, figures.view_name(name, units), figures._view(name, units))
    return made


@pytest.fixture
def known(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    monkeypatch.setenv(kept.FOLDER, str(folder))
    return folder


def seen(picture: LivePicture) -> dict[str, Any]:
    """Return all that a page gets of a picture, but for the names that are new each time it is shown."""
    bundle, _ = picture._repr_mimebundle_()
    told = {kind: re.sub(r"ostrel-[0-9a-f]{32}", "", data) for kind, data in bundle.items() if isinstance(data, str)}
    state = {name: picture.get_state()[name] for name in ("_page", "_frame", "_shown", "locked")}
    return {**told, **state, "values": picture.values, "units": picture.units}


@pytest.mark.slow
@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("name", SHOWN)
def test_what_comes_from_a_file_is_what_is_drawn(
    known: Path, name: str, units: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    from_file = figures.live_picture(name, units)
    monkeypatch.delenv(kept.FOLDER)
    drawn = figures.live_picture(name, units)
    for locked in (True, False):
        from_file.locked = drawn.locked = locked
        assert seen(from_file) == seen(drawn)
    assert "_moving" not in from_file.__dict__  # nothing of that was drawn
    for positions in ([0, 0, 0], [3, 1, 2]):
        ask = {"kind": "ask", "from": "page", "seq": 1, "units": units}
        for each in (from_file, drawn):
            each._heard(None, {**ask, "positions": positions[: len(each._page["sliders"])]}, None)
        assert seen(from_file) == seen(drawn)


# Run apart, for here matplotlib is loaded already. Opening a lesson, answering and its picture; then a slider moves.
OPENS = """
import sys
from lessons.notebook import figures
from lessons.notebook.calls import answer, ask, begin, live
begin("inherent"), ask("inherent.predict"), answer("inherent.predict", "b")
picture = figures.live_picture("inherent", "si")
picture._repr_mimebundle_()
print("matplotlib" in sys.modules)
picture._heard(None, {"kind": "ask", "from": "page", "seq": 1, "positions": [80, 0], "units": "si"}, None)
print("matplotlib" in sys.modules, picture._shown["problem"])
"""


def test_a_lesson_opens_without_matplotlib_and_loads_it_for_the_first_move(folder: Path, tmp_path: Path) -> None:
    environment = {**os.environ, kept.FOLDER: str(folder), "PYTHONPATH": str(ROOT)}
    said = subprocess.run(
        [sys.executable, "-c", OPENS], cwd=tmp_path, env=environment, capture_output=True, text=True, check=True
    )
    assert said.stdout.splitlines()[-2:] == ["False", "True "]


TEXTS = st.text(max_size=30)
FILES = settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60, deadline=None)


@FILES
@given(name=TEXTS, data=st.recursive(TEXTS | st.floats(allow_nan=False) | st.none(), st.lists), other=TEXTS)
def test_what_is_written_is_read_under_its_name_only(tmp_path: Path, name: str, data: object, other: str) -> None:
    kept.keep_in(tmp_path, name, data)
    assert kept.kept_in(tmp_path, name) == data
    if other != name:
        kept.path_of(tmp_path, name).replace(kept.path_of(tmp_path, other))
        assert kept.kept_in(tmp_path, other) is None  # one picture's file under another's name


@FILES
@given(cut=st.integers(0, 10_000), put=st.binary(max_size=3))
def test_a_damaged_file_is_no_file(tmp_path: Path, cut: int, put: bytes) -> None:
    kept.keep_in(tmp_path, "a picture", {"svg": "<svg/>", "numbers": [1.5, -0.25]})
    path = kept.path_of(tmp_path, "a picture")
    whole = path.read_bytes()
    at = cut % len(whole)
    for damaged in (whole[:at], whole[:at] + put + whole[at + len(put) :], whole[:at] + put + whole[at:]):
        path.write_bytes(damaged)
        assert damaged == whole or kept.kept_in(tmp_path, "a picture") is None


def test_a_file_of_other_code_is_drawn_anew(known: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert kept.kept_data(figures.view_name("inherent", "si"))
    monkeypatch.setattr(kept, "code_mark", lambda: "the mark of another release")
    assert kept.kept_data(figures.view_name("inherent", "si")) is None
    assert figures.live_picture("inherent", "si")._page["svg"].startswith("<svg")


@pytest.mark.parametrize("change", ["lessons/pictures/style.py", "valvecalc/characteristic.py", "lessons/new.py"])
def test_any_change_of_the_code_changes_its_mark(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, change: str) -> None:
    monkeypatch.setattr(kept, "_HOUSE", tmp_path)
    for each in ("lessons/pictures/style.py", "valvecalc/characteristic.py"):
        (tmp_path / each).parent.mkdir(parents=True)
        (tmp_path / each).write_text("a = 1\n")
    before = kept.code_mark.__wrapped__()
    assert kept.code_mark.__wrapped__() == before
    (tmp_path / change).write_text("a = 2\n")
    assert kept.code_mark.__wrapped__() != before


def test_a_missing_folder_is_no_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(kept.FOLDER, str(tmp_path / "nothing"))
    assert kept.kept_data("anything") is None


def test_the_picture_of_a_practice_question_comes_from_its_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    question = bank.practice_questions()["trouble.zero"]
    posed, other = (pose_variant(question, index, "si") for index in (0, 1))
    kept.keep_in(tmp_path, still.drawing_name(posed), "<svg>kept</svg>")
    monkeypatch.setenv(kept.FOLDER, str(tmp_path))
    assert still.drawing_of(posed) == "<svg>kept</svg>"
    assert still.drawing_of(other).startswith("<svg role")  # other numbers: not on file
    own = pose_variant(replace(question), 0, "si")  # an instructor's own question may bear the same name
    assert still.drawing_of(own).startswith("<svg role")


def test_all_are_drawn_once_and_what_is_old_goes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[str] = []

    def draw(name: str) -> dict[str, str]:
        drawn.append(name)
        return {"svg": name}

    monkeypatch.setattr(figures, "_views", lambda: [("one", lambda: draw("one"))])
    monkeypatch.setattr(figures, "_drawings", lambda: [("two", lambda: draw("two"))])
    kept.keep_in(tmp_path, "a picture that no lesson shows any more", {})
    figures.draw_all(tmp_path)
    figures.draw_all(tmp_path)
    assert drawn == ["one", "two"]
    assert {json.loads(each.read_text().partition("\n")[2])["svg"] for each in tmp_path.iterdir()} == {"one", "two"}


def test_every_picture_and_every_drawing_has_a_name_of_its_own() -> None:
    views, drawings = list(figures._views()), list(figures._drawings())
    names = [name for name, _ in (*views, *drawings)]
    assert len(set(names)) == len(names)
    assert {name.split()[1] for name, _ in views} >= set(figures.LIVE)
    assert not [
        name for name in names if " at 0x" in name
    ]  # no name of a place in memory: it would never be found again


def test_a_picture_that_is_unlocked_is_drawn_before_its_slider_moves(
    known: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("lessons.live.engine._READING", 0.0)
    picture = figures.live_picture("inherent", "si")
    picture.locked = True

    async def unlock() -> bool:
        picture.locked = False
        before = "_moving" in picture.__dict__
        await asyncio.sleep(0.01)
        return before

    assert (asyncio.run(unlock()), "_moving" in picture.__dict__) == (False, True)
