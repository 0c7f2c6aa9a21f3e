"""What the lesson page gets as data: questions without their keys, how the course stands, what a word finds."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from lessons.jupyter.lesson_page import EXTENSIONS, exchange, page_calls
from lessons.notebook import bank
from lessons.questions import progress
from lessons.questions.page_data import MIME, question_data
from lessons.questions.question import pose

NAME = "ostrel-lesson-page"


@pytest.fixture
def copy(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working copy, with the kernel in the folder of a work order."""
    (tmp_path / progress.WORKING_COPY).mkdir()
    order = tmp_path / "from_instructor"
    order.mkdir()
    (order / "04_inherent_characteristic.ipynb").write_text("{}")
    monkeypatch.chdir(order)
    return tmp_path


def told(answer: page_calls.Told) -> Any:
    return json.loads(json.dumps(answer._repr_mimebundle_()[MIME]))


def lesson(topic: str, here: str = "inherent") -> dict[str, Any]:
    return next(each for each in told(page_calls.course(here))["lessons"] if each["topic"] == topic)


def test_the_course_tells_what_is_solved_here_and_what_comes_next(copy: Path) -> None:
    progress.keep_sign_on(copy, "4711", "us")
    progress.record(copy, "inherent.step", "5 %", "right", 1.0, progress.load(copy).present("inherent.step"))
    stands = told(page_calls.course("inherent"))
    assert (stands["badge"], stands["units"]) == ("4711", "us")
    assert lesson("inherent")["solved"] == 1
    assert lesson("inherent")["asked"] == sum(
        each.kind != "predict" for each in bank.practice_questions().values() if each.id.startswith("inherent.")
    )
    assert [each["topic"] for each in stands["lessons"] if each["here"]] == ["inherent"]
    assert stands["next"]["topic"] == "installed"


def test_links_lead_to_the_file_beside_the_lesson_or_back_to_the_working_copy(copy: Path) -> None:
    assert lesson("inherent")["path"] == "04_inherent_characteristic.ipynb"
    assert lesson("installed")["path"] == "../05_installed_flow.ipynb"
    assert told(page_calls.course("inherent"))["cards"] == "../job_cards/index.ipynb"
    (found,) = (each for each in told(page_calls.find("hunting")) if each["kind"] == "lessons")
    assert found["found"][0]["path"] == "../09_packing_friction_hunting.ipynb"


def test_what_went_wrong_more_than_once_is_to_be_looked_at_again(copy: Path) -> None:
    assert lesson("inherent")["again"] == []
    for text in ("1 %", "2 %", "3 %"):
        progress.record(copy, "inherent.step", text, "other", 0.0, progress.load(copy).present("inherent.step"))
    assert [each["question"] for each in lesson("inherent")["again"]] == ["inherent.step"]


@pytest.mark.parametrize(("badge", "refused"), [("4711", False), ("", False), ("47 11", True)])
def test_signing_on_says_what_is_wrong_with_a_badge(copy: Path, badge: str, refused: bool) -> None:
    assert bool(told(page_calls.take_sign_on(badge, "us"))["wrong"]) == refused
    assert progress.load(copy).units == ("si" if refused else "us")


@pytest.mark.parametrize("question", bank.practice_questions().values(), ids=lambda question: question.id)
def test_a_question_as_data_holds_no_key(question: Any) -> None:
    posed = pose(question, "4711")
    data = json.loads(json.dumps(question_data(posed.sheet, posed)))
    assert set(data) == {
        "what", "kind", "text", "options", "places", "unit", "units", "digits", "hints", "renewable",
    }  # fmt: skip
    assert data["text"] == posed.sheet.text
    assert [letter for letter, _ in data["options"]] == sorted(letter for letter, _ in data["options"])
    if question.kind == "number":
        assert data["unit"] in (data["units"] or [""])
        assert data["digits"] == question.digits


def test_handing_in_through_an_exchange_where_there_is_one(copy: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert exchange.course_of(Path.cwd()) == ""
    config, root = copy / "config", copy / "exchange"
    for each in (config, root / "spring" / "inbound", root / "spring" / "outbound" / "from_instructor"):
        each.mkdir(parents=True)
    (root / "spring" / "inbound").chmod(0o733)
    (config / "nbgrader_config.json").write_text(json.dumps({"Exchange": {"root": str(root)}}))
    monkeypatch.setenv("JUPYTER_CONFIG_DIR", str(config))
    assert exchange.course_of(Path.cwd()) == "spring"
    told_at, wrong = exchange.put_into_exchange(Path.cwd())
    assert (bool(told_at), wrong) == (True, "")
    (sent,) = (root / "spring" / "inbound").iterdir()
    assert (sent / "04_inherent_characteristic.ipynb").read_text() == "{}"


def test_the_extension_is_as_jupyterlab_wants_it() -> None:
    folder = EXTENSIONS / NAME
    package = json.loads((folder / "package.json").read_text(encoding="utf-8"))
    assert package["name"] == NAME
    script = (folder / package["jupyterlab"]["_build"]["load"]).read_text(encoding="utf-8")
    # Without it JupyterLab stops at its start with a blank page.
    assert "__esModule: true" in script
    assert f'["{NAME}"]' in script
