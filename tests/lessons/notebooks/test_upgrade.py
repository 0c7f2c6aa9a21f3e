"""A newer package brings its text to a working copy: what was typed is never lost, whatever stops it half-way."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from lessons.jupyter import carrying_over, launch, working_copy
from lessons.jupyter.carrying_over import answers_in, read_notebook
from lessons.jupyter.working_copy import CAME, PUT_ASIDE, Made
from lessons.questions import progress, renamed
from lessons.questions.progress import WORKING_COPY

Text = list[str]
# Three versions of a small course: lesson -> its cells, where "?x" is a question and its answer box.
FIRST = {
    "01_drop": ["# Drop", "?drop.flow", "?drop.root"],
    "02_trim": ["# Trim", "?trim.predict2", "?trim.gone"],
    "03_air": ["# Air", "?air.dry"],
    "job_cards/packing": ["# Packing"],
}
SECOND = {  # new words in 01 and in the card; a question of 02 has another name, one is gone; 03 is as it was
    "01_drop": ["# Drop of pressure", "?drop.root", "New words", "?drop.flow"],
    "02_trim": ["# Trim", "?trim.jet"],
    "03_air": ["# Air", "?air.dry"],
    "job_cards/packing": ["# Packing, three kinds"],
}
THIRD = {  # 03 has another file name; a question of 01 has moved to 02; there is a lesson more
    "01_drop": ["# Drop of pressure", "?drop.root"],
    "02_trim": ["# Trim", "?trim.jet", "?drop.flow"],
    "03_supply": ["# Air supply", "?air.dry"],
    "04_noise": ["# Noise", "?noise.why"],
    "job_cards/packing": ["# Packing, three kinds"],
}


@pytest.fixture(autouse=True)
def _renamed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(renamed._RENAMED, "trim.predict2", "trim.jet")


def cells(texts: Text) -> Iterator[dict[str, Any]]:
    for text in texts:
        if text.startswith("?"):
            yield code(f'ask("{text[1:]}")')
            yield code(f"%%answer {text[1:]}\n")
        else:
            yield {"cell_type": "markdown", "metadata": {}, "source": text}


def code(source: str) -> dict[str, Any]:
    return {"cell_type": "code", "execution_count": None, "metadata": {}, "outputs": [], "source": source}


def package(folder: Path, course: dict[str, Text]) -> Path:
    for name, texts in course.items():
        path = folder / f"{name}.ipynb"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(json.dumps({"cells": list(cells(texts)), "metadata": {}, "nbformat": 4, "nbformat_minor": 5}))
    return folder


@pytest.fixture(scope="module")
def versions(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    folder = tmp_path_factory.mktemp("packages")
    return [package(folder / str(k), course) for k, course in enumerate((FIRST, SECOND, THIRD))]


def mine(folder: Path, name: str) -> dict[str, Any]:
    read: dict[str, Any] = json.loads((folder / f"{name}.ipynb").read_text("utf-8"))
    return read


def sources(folder: Path, name: str) -> Text:
    return ["".join(cell["source"]) for cell in mine(folder, name)["cells"]]


def type_in(folder: Path, name: str, **answers: str) -> None:
    """Answer as JupyterLab saves it: lines in a list, and what was shown in the outputs."""
    notebook = mine(folder, name)
    for cell in notebook["cells"]:
        question_id = cell["source"].partition("%%answer ")[2].strip()
        if text := answers.get(question_id.replace(".", "_")):
            cell["source"] = [f"%%answer {question_id}\n", *text.splitlines(keepends=True)]
            cell["outputs"] = [{"output_type": "stream", "name": "stdout", "text": "Right."}]
    (folder / f"{name}.ipynb").write_text(json.dumps(notebook))


def everything_typed(folder: Path) -> set[str]:
    """Read every file that a reader could open, also those put aside; each has to be whole."""
    found: set[str] = set()
    for path in folder.rglob("*.ipynb"):
        notebook = read_notebook(path.read_bytes())
        assert notebook is not None, f"{path} is half a file"
        found |= set(answers_in(notebook).values())
    return found


def answered_first(folder: Path, first: Path) -> None:
    working_copy.working_copy(folder, lessons=first)
    type_in(folder, "01_drop", drop_flow="60 m³/h\nas read", drop_root="3")
    type_in(folder, "02_trim", trim_predict2="b", trim_gone="it wore")
    (folder / "notes.ipynb").write_text("my own")


def aside(folder: Path, made: Made) -> set[str]:
    return {str(path.relative_to(made.aside_in))[:-6] for path in made.aside_in.rglob("*.ipynb")}


def test_three_versions_one_after_the_other(tmp_path: Path, versions: list[Path]) -> None:
    first, second, third = versions
    answered_first(tmp_path, first)
    before = (tmp_path / "01_drop.ipynb").read_bytes()

    made = working_copy.working_copy(tmp_path, lessons=second)

    assert (made.new, made.kept, made.renewed, made.carried, made.homeless, made.aside) == (0, 1, 3, 3, 1, 2)
    assert sources(tmp_path, "01_drop") == [
        "# Drop of pressure",
        'ask("drop.root")',
        "%%answer drop.root\n3",
        "New words",
        'ask("drop.flow")',
        "%%answer drop.flow\n60 m³/h\nas read",
    ]
    assert sources(tmp_path, "02_trim") == ["# Trim", 'ask("trim.jet")', "%%answer trim.jet\nb"]
    assert sources(tmp_path, "job_cards/packing") == ["# Packing, three kinds"]
    assert aside(tmp_path, made) == {"01_drop", "02_trim"}, "nobody touched the card, so it leaves no old file"
    assert (made.aside_in / "01_drop.ipynb").read_bytes() == before
    assert all(cell["metadata"]["deletable"] is False for cell in mine(tmp_path, "01_drop")["cells"])

    type_in(tmp_path, "03_air", air_dry="-40 °C")
    made = working_copy.working_copy(tmp_path, lessons=third)

    assert (made.new, made.kept, made.renewed, made.carried, made.homeless) == (2, 1, 2, 4, 0)
    assert (made.gone, made.aside) == (1, 3)
    assert sources(tmp_path, "01_drop")[-1] == "%%answer drop.root\n3"
    assert sources(tmp_path, "02_trim")[-1] == "%%answer drop.flow\n60 m³/h\nas read", "it moved with its question"
    assert sources(tmp_path, "03_supply")[-1] == "%%answer air.dry\n-40 °C", "it followed the lesson to its new name"
    assert not (tmp_path / "03_air.ipynb").exists()
    assert aside(tmp_path, made) == {"01_drop", "02_trim", "03_air"}
    assert (tmp_path / "notes.ipynb").read_text() == "my own"

    again = working_copy.working_copy(tmp_path, lessons=third)
    assert (again.kept, again.new, again.renewed, again.aside) == (5, 0, 0, 0)
    assert everything_typed_but_notes(tmp_path) == {"60 m³/h\nas read", "3", "b", "it wore", "-40 °C"}


def everything_typed_but_notes(folder: Path) -> set[str]:
    (folder / "notes.ipynb").unlink(missing_ok=True)
    return everything_typed(folder)


def test_two_versions_at_once(tmp_path: Path, versions: list[Path]) -> None:
    answered_first(tmp_path, versions[0])
    type_in(tmp_path, "03_air", air_dry="-40 °C")
    made = working_copy.working_copy(tmp_path, lessons=versions[2])
    assert (made.renewed, made.new, made.gone, made.carried, made.homeless) == (3, 2, 1, 4, 1)
    assert sources(tmp_path, "02_trim")[2::2] == ["%%answer trim.jet\nb", "%%answer drop.flow\n60 m³/h\nas read"]


def test_what_a_reader_changed_stays_while_the_package_stays(tmp_path: Path, versions: list[Path]) -> None:
    working_copy.working_copy(tmp_path, lessons=versions[0])
    notebook = mine(tmp_path, "01_drop")
    notebook["cells"] = notebook["cells"][:1] + [code("my own cell")]
    (tmp_path / "01_drop.ipynb").write_text(json.dumps(notebook))
    assert working_copy.working_copy(tmp_path, lessons=versions[0]).kept == 4
    assert sources(tmp_path, "01_drop") == ["# Drop", "my own cell"]
    made = working_copy.working_copy(tmp_path, lessons=versions[1])
    assert sources(made.aside_in, "01_drop") == ["# Drop", "my own cell"]
    assert len(sources(tmp_path, "01_drop")) == 6


# ---- what a working copy can look like after a year -----------------------------------------------------------------


def _no_record(folder: Path) -> None:
    (folder / WORKING_COPY / CAME).unlink()


def _damaged_record(folder: Path) -> None:
    (folder / WORKING_COPY / CAME).write_text("[1")


def _no_locks(folder: Path) -> None:
    _change(folder, lambda cell: {**cell, "metadata": {}})


def _lost_questions(folder: Path) -> None:
    _change(folder, lambda cell: {} if "ask(" in "".join(cell["source"]) else cell)


def _box_twice(folder: Path) -> None:
    notebook = mine(folder, "01_drop")
    notebook["cells"].append(code("%%answer drop.flow\n"))
    (folder / "01_drop.ipynb").write_text(json.dumps(notebook))


def _utf16(folder: Path) -> None:
    path = folder / "01_drop.ipynb"
    path.write_bytes(json.dumps(mine(folder, "01_drop"), ensure_ascii=False).encode("utf-16"))


def _format_three(folder: Path) -> None:
    """As nbformat 3 had it: worksheets, and `input` where `source` is today."""
    old = [
        {
            "cell_type": "code",
            "collapsed": False,
            "input": cell["source"],
            "language": "python",
            "metadata": {},
            "outputs": [],
        }
        for cell in mine(folder, "01_drop")["cells"]
    ]
    notebook = {
        "metadata": {"name": ""},
        "nbformat": 3,
        "nbformat_minor": 0,
        "worksheets": [{"cells": old, "metadata": {}}],
    }
    (folder / "01_drop.ipynb").write_text(json.dumps(notebook))


def _change(folder: Path, change: Callable[[dict[str, Any]], dict[str, Any]]) -> None:
    notebook = mine(folder, "01_drop")
    notebook["cells"] = [new for cell in notebook["cells"] if (new := change(cell))]
    (folder / "01_drop.ipynb").write_text(json.dumps(notebook))


@pytest.mark.parametrize(
    "age", [_no_record, _damaged_record, _no_locks, _lost_questions, _box_twice, _utf16, _format_three]
)
def test_an_older_or_damaged_working_copy_keeps_its_answers(
    age: Callable[[Path], None], tmp_path: Path, versions: list[Path]
) -> None:
    answered_first(tmp_path, versions[0])
    age(tmp_path)
    before = (tmp_path / "01_drop.ipynb").read_bytes()
    made = working_copy.working_copy(tmp_path, lessons=versions[1])
    assert answers_in(mine(tmp_path, "01_drop")) == {"drop.flow": "60 m³/h\nas read", "drop.root": "3"}
    assert (made.aside_in / "01_drop.ipynb").read_bytes() == before


@pytest.mark.parametrize(
    "content", [b"", b"my work", b"[]", b'{"cells": 3}', b'{"cells": [1]}', b'{"nbformat": 2}', b"\xff\xfe\x00"]
)
def test_what_is_no_notebook_is_put_aside_as_it_is(content: bytes, tmp_path: Path, versions: list[Path]) -> None:
    working_copy.working_copy(tmp_path, lessons=versions[0])
    (tmp_path / "01_drop.ipynb").write_bytes(content)
    assert working_copy.working_copy(tmp_path, lessons=versions[0]).aside == 0
    made = working_copy.working_copy(tmp_path, lessons=versions[1])
    assert (made.aside_in / "01_drop.ipynb").read_bytes() == content
    assert sources(tmp_path, "01_drop")[0] == "# Drop of pressure"


def test_what_was_answered_under_an_earlier_name_still_counts(tmp_path: Path) -> None:
    progress.record(tmp_path, "trim.predict2", "b", "recorded", 1.0, progress.Variant("trim.predict2"))
    known = progress.load(tmp_path)
    assert (known.answered("trim.jet"), known.of("trim.jet").texts) == (True, ("b",))


# ---- stopped half-way ---------------------------------------------------------------------------------------------


class Killed(BaseException):
    """Stands for a kill: nothing of the project catches it."""


def _stop_at(monkeypatch: pytest.MonkeyPatch, step: int, stop: BaseException) -> None:
    """Let the step-th change of a file or folder fail; a write that fails has written half."""
    steps = count(1)

    def watched(real: Callable[..., Any]) -> Callable[..., Any]:
        def call(path: Path, *arguments: Any, **options: Any) -> Any:
            if next(steps) != step:
                return real(path, *arguments, **options)
            if real.__name__.startswith("write"):
                real(path, arguments[0][: len(arguments[0]) // 2])
            raise stop

        return call

    for name in ("write_bytes", "write_text", "replace", "rename", "unlink", "mkdir"):
        monkeypatch.setattr(Path, name, watched(getattr(Path, name)))


FULL, READ_ONLY = OSError(28, "No space left on device"), OSError(30, "Read-only file system")


@pytest.mark.parametrize("stop", [Killed(), FULL, READ_ONLY], ids=["killed", "full", "read-only"])
def test_stopped_at_any_step_nothing_is_lost_and_the_next_start_goes_on(
    stop: BaseException, tmp_path: Path, versions: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    for step in count(1):
        folder = tmp_path / str(step)
        answered_first(folder, versions[0])
        type_in(folder, "03_air", air_dry="-40 °C")
        (folder / "notes.ipynb").unlink()
        with monkeypatch.context() as patched:
            _stop_at(patched, step, stop)
            try:
                working_copy.working_copy(folder, lessons=versions[2])
                break
            except (Killed, OSError) as problem:
                assert problem is stop
        assert everything_typed(folder) == {"60 m³/h\nas read", "3", "b", "it wore", "-40 °C"}
        working_copy.working_copy(folder, lessons=versions[2])
        assert answers_in(mine(folder, "01_drop")) == {"drop.root": "3"}
        assert answers_in(mine(folder, "02_trim"))["trim.jet"] == "b"
        assert answers_in(mine(folder, "03_supply")) == {"air.dry": "-40 °C"}
        assert everything_typed(folder) >= {"60 m³/h\nas read", "it wore"}
        assert not (folder / "03_air.ipynb").exists()
    assert step > 15


def test_a_full_disk_is_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def full(folder: Path, *, fresh: bool) -> Made:
        raise FULL

    monkeypatch.setattr(launch, "working_copy", full)
    assert launch.main(["--to", str(tmp_path)]) == 1
    assert "cannot be made" in capsys.readouterr().out
    (tmp_path / WORKING_COPY).mkdir()
    assert launch.main(["--to", str(tmp_path)]) == 1
    assert "Nothing you typed is lost" in capsys.readouterr().out


def test_a_line_says_what_was_done(tmp_path: Path) -> None:
    made = Made(new=1, kept=2, renewed=3, carried=4, homeless=5, gone=6, aside=7, aside_in=tmp_path / PUT_ASIDE)
    said = launch.told_at_start(tmp_path, made)
    assert "1 new, 2 kept as you left them, 3 with new text" in said[0]
    for number, line in zip((4, 5, 6, 7), said[1:], strict=False):
        assert str(number) in line
    assert str(tmp_path / PUT_ASIDE) in said[4]
    assert carrying_over.read_notebook(b"{}") is None
