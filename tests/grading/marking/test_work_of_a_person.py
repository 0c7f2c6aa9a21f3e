"""What a person marks by: all that is needed beside each other, a key sheet for each badge, and points given by hand told as such."""

from __future__ import annotations

import json
import re
import stat
from html import unescape
from pathlib import Path

import nbformat
import pytest
from nbgrader.api import Gradebook
from traitlets.config.loader import PyFileConfigLoader

from grading.commands import FAILED
from grading.course.course import Course
from grading.course.folder_texts import FEEDBACK_SETTINGS
from grading.given_out.given_out import given_out
from grading.given_out.judged_answers import judged, posed
from grading.given_out.right_answers import right_answer
from grading.marking.beside import FOR
from grading.marking.plain_handin import WithoutKeys
from grading.taking_in.take_in import take_in
from lessons.questions.judge import RIGHT
from tests.grading.classroom import CLASS, LESSON, classroom, made_once, notebook_of, put, run

ADA, BEN, CLEO, _ = CLASS
NUMBER = "inherent.w1"


@made_once
def marked(tmp_path: Path) -> Course:
    """Return a course where one answered all right, one wrong, and one typed what cannot be read."""
    made = classroom(tmp_path)
    for person, way in ((ADA, "right"), (BEN, "mistake"), (CLEO, "unreadable")):
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook_of(made, person, way))
    take_in(made, tmp_path / "back", quiet=True)
    run(made, "mark")
    return made


@pytest.fixture
def course(tmp_path: Path) -> Course:
    return marked(tmp_path)


def by_hand(course: Course, badge: str, question: str, points: float) -> None:
    """Do what the marking page does when the instructor types points."""
    with Gradebook(course.url) as gradebook:
        grade = gradebook.find_grade(question.replace(".", "-"), LESSON, LESSON, badge)
        grade.manual_score, grade.needs_manual_grade = points, False
        gradebook.db.commit()


def shown(course: Course, badge: str, question: str) -> str:
    cells = json.loads(course.autograded(badge, LESSON).read_text(encoding="utf-8"))["cells"]
    outputs = next(cell["outputs"] for cell in cells if cell["source"] == f'ask("{question}")')
    return unescape(str(outputs[0]["data"]["text/html"]))


@pytest.mark.parametrize("person", [ADA, BEN, CLEO], ids=["right", "wrong", "cannot be read"])
def test_question_answer_and_right_answer_stand_beside_each_other(course: Course, person: object) -> None:
    badge = next(each.badge for each in CLASS if each is person)
    typed = {cell["id"]: cell["source"] for cell in json.loads(course.submitted(badge, LESSON).read_text())["cells"]}
    for question in given_out(course, LESSON).latest.questions:
        this = posed(question, badge, given_out(course, LESSON).latest.units[badge])
        columns = re.findall(r"<td[^>]*><div[^>]*>(.*?)</div></td>", shown(course, badge, question.id), re.DOTALL)
        answer = next(text for text in typed.values() if "".join(text).startswith(f"%%answer {question.id}"))
        assert len(columns) == 3
        assert this.sheet.text in columns[0]
        assert "".join(answer).partition("\n")[2].strip() in columns[1]
        assert re.search(r"The program gave [\d.]+ of [\d.]+ points?\.$|It waits for you\.$", columns[1])
        assert right_answer(this) in columns[2]
        assert question.why.format_map(this.words) in columns[2]


def test_the_right_answer_that_is_shown_is_judged_right(course: Course) -> None:
    given = given_out(course, LESSON).latest
    for question in given.questions:
        for badge, units in given.units.items():
            typed = " ".join(re.findall(r"(?:^|; )(\w)\)", right_answer(posed(question, badge, units))))
            if question.kind in ("number", "order", "match"):
                typed = right_answer(posed(question, badge, units))
            assert judged(question, badge, units, typed).tag == RIGHT, (question.id, typed)


def test_the_words_of_an_answer_do_nothing_there(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    notebook = notebook_of(course, ADA)
    for cell in notebook["cells"]:
        if "".join(cell["source"]).startswith(f"%%answer {NUMBER}"):
            cell["source"] = f"%%answer {NUMBER}\n<img src=x onerror=alert(1)></div></td><script>1</script>"
    put(tmp_path / "back", f"{ADA.badge}.ipynb", notebook)
    take_in(course, tmp_path / "back", quiet=True)
    run(course, "mark")
    cells = json.loads(course.autograded(ADA.badge, LESSON).read_text(encoding="utf-8"))["cells"]
    outputs = next(cell["outputs"] for cell in cells if cell["source"] == f'ask("{NUMBER}")')
    html = outputs[0]["data"]["text/html"]
    assert set(re.findall(r"<(\w+)", html)) == {"table", "tr", "th", "td", "div"}
    assert "&lt;script&gt;" in html


def test_the_feedback_of_the_library_leaves_the_key_out(course: Course) -> None:
    notebook = nbformat.read(course.autograded(BEN.badge, LESSON), as_version=4)
    held = [out for cell in notebook.cells for out in cell.get("outputs", []) if out.get("metadata") == FOR]
    assert held
    plain, _ = WithoutKeys().preprocess(notebook, {})
    key = right_answer(posed(given_out(course, LESSON).latest.questions[0], BEN.badge, "si"))
    left = [str(out) for cell in plain.cells for out in cell.get("outputs", [])]
    assert not any(key in each or "right answer" in each for each in left)
    assert "WithoutKeys" in (course.root / "nbgrader_config.py").read_text(encoding="utf-8")


def test_an_earlier_course_gets_the_setting_that_leaves_the_key_out(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    path = course.root / "nbgrader_config.py"
    path.write_text(path.read_text(encoding="utf-8").replace(FEEDBACK_SETTINGS, ""), encoding="utf-8")
    for _ in range(2):  # once is enough
        run(course, "mark")
        assert path.read_text(encoding="utf-8").count("WithoutKeys") == 1
    loaded = PyFileConfigLoader(path.name, path=str(course.root)).load_config()
    assert loaded.GenerateFeedback.preprocessors[0] == "grading.marking.plain_handin.WithoutKeys"


def test_nobody_else_on_the_machine_reads_the_keys(course: Course) -> None:
    assert run(course, "keys", "04", "--badge", ADA.badge)[0] == 0
    (sheet,) = (course.root / "key_sheets").rglob("*.html")
    for path in (sheet, sheet.parent, sheet.parent.parent, course.autograded(BEN.badge, LESSON)):
        assert not stat.S_IMODE(path.stat().st_mode) & 0o077, path


def test_a_key_sheet_holds_the_numbers_of_its_badge(course: Course) -> None:
    assert run(course, "keys")[0] == 0
    given = given_out(course, LESSON).latest
    for badge, units in given.units.items():
        text = unescape((course.root / "key_sheets" / LESSON / f"{badge}.html").read_text(encoding="utf-8"))
        for question in given.questions:
            this = posed(question, badge, units)
            assert this.sheet.text in text
            assert f"<b>{right_answer(this)}</b>" in text
    code, said = run(course, "keys", "04", "--badge", "999")
    assert (code, said) == (FAILED, f"{LESSON} was not given out to 999, so there is no key for them.")


def section(course: Course, badge: str, question: str) -> str:
    run(course, "hand-back")
    page = (course.root / "handed_back" / badge / LESSON / f"{LESSON}.html").read_text(encoding="utf-8")
    return next(each for each in page.split("<section")[1:] if each.startswith(f' id="{question}"')).partition(
        "</section>"
    )[0]


# points by hand -> class of the section, what its head says, words that must not stand there
BY_HAND = [
    ("wrong, but right after all", BEN, 2.0, "right", "2 of 2 points (by your instructor)", "What to do next"),
    ("could not be read, but a person can", CLEO, 2.0, "right", "2 of 2 points (by your instructor)", "look at what you wrote"),
    ("right, but only by chance", ADA, 0.5, "wrong", "0.5 of 2 points (by your instructor)", "Right."),
    ("could not be read, part of the points", CLEO, 1.0, "wrong", "1 of 2 points (by your instructor)", "look at what you wrote"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("person", "points", "look", "head", "absent"), [row[1:] for row in BY_HAND], ids=[row[0] for row in BY_HAND]
)
def test_points_by_hand_are_told_as_such(
    course: Course, person: object, points: float, look: str, head: str, absent: str
) -> None:
    badge = next(each.badge for each in CLASS if each is person)
    assert "Who marked it" not in section(course, badge, NUMBER)
    by_hand(course, badge, NUMBER, points)
    part = section(course, badge, NUMBER)
    assert part.startswith(f' id="{NUMBER}" class="{look}"')
    assert head in part
    assert "Your instructor looked at this answer" in part
    assert absent not in part
    page = (course.root / "handed_back" / badge / LESSON / f"{LESSON}.html").read_text(encoding="utf-8")
    assert ("question 1" in page.partition("Look at again")[2]) is (points < 2.0)
