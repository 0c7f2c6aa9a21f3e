"""Hand-ins are judged by what was given out, whatever becomes of the questions, the class list or the program."""

from __future__ import annotations

import json
import shutil
import stat
import zipfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from grading import workorders
from grading.commands import DONE, FAILED, LOOK
from grading.course.course import Course, write_safely
from grading.course.folder_texts import FOLDER_SETTINGS
from grading.course.roster import Apprentice
from grading.demo.demo import roster_csv
from grading.demo.demo_class import WAYS, people, plan
from grading.given_out.given_out import given_out
from grading.given_out.judged_answers import posed, posed_variant
from grading.given_out.kept_question import GivenQuestion, kept, question_from
from grading.giving_out.correcting import changes
from grading.marking import oracle
from lessons.questions.judge import Reply, judge
from lessons.questions.question import Question
from lessons.units.quantities import Q
from tests.grading.classroom import (
    CLASS,
    LESSON,
    QUESTIONS,
    answers_of,
    classroom,
    full,
    made_once,
    marks,
    notebook_of,
    points,
    put,
    run,
    scores,
)

ADA, BEN, CLEO, DAN = CLASS
W1, W2, W3, W4 = QUESTIONS
WAYS_OF = {ADA: (), BEN: ("mistake", "other"), CLEO: ("other",), DAN: ("right", "mistake", "other")}
EXPECTED = {person.badge: points(answers_of(person, *ways)) for person, ways in WAYS_OF.items()}


@made_once
def came_back(tmp_path: Path) -> Course:
    """Return a course whose hand-ins came back and are not marked yet."""
    course = classroom(tmp_path)
    for person, ways in WAYS_OF.items():
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook_of(course, person, *ways))
    assert run(course, "take-in", str(tmp_path / "back"))[0] == DONE
    return course


def with_questions(monkeypatch: pytest.MonkeyPatch, *changed: Question, gone: tuple[Question, ...] = ()) -> None:
    """Let the project be updated: some questions are others now."""
    known = {**workorders.questions(), **{question.id: question for question in changed}}
    left = {name: question for name, question in known.items() if name not in {each.id for each in gone}}
    monkeypatch.setattr(workorders, "questions", lambda: left)
    monkeypatch.setattr(workorders, "code", lambda: "that of another version")


def _not_compared(*_: object) -> None:
    raise AssertionError("the questions were compared once more")


def with_roster(course: Course, class_list: list[Apprentice]) -> None:
    write_safely(course.root / "roster.csv", roster_csv(class_list))


def _other_numbers(question: Question) -> Question:
    moved = tuple(
        {n: Q(v.value * 1.5, v.unit) if isinstance(v, Q) else v for n, v in each.items()} for each in question.variants
    )
    return replace(question, variants=moved)


Change = Callable[[Course, pytest.MonkeyPatch], None]
CHANGES: dict[str, Change] = {
    "variants in another order": lambda _c, m: with_questions(
        m, *(replace(q, variants=q.variants[::-1]) for q in QUESTIONS)
    ),
    "one variant more": lambda _c, m: with_questions(
        m, *(replace(q, variants=(*q.variants, q.variants[3])) for q in QUESTIONS)
    ),
    "other numbers": lambda _c, m: with_questions(m, _other_numbers(W1), _other_numbers(W2), _other_numbers(W4)),
    "another key": lambda _c, m: with_questions(
        m, replace(W1, key=lambda n: 7 * n.g), replace(W3, key=lambda _n: W3.options[0].name)
    ),
    "no mistakes": lambda _c, m: with_questions(m, *(replace(q, mistakes=()) for q in QUESTIONS)),
    "another credit": lambda _c, m: with_questions(
        m, replace(W1, mistakes=tuple(replace(each, credit=1.0) for each in W1.mistakes))
    ),
    "a tolerance of nothing": lambda _c, m: with_questions(m, *(replace(q, tolerance=1e-12) for q in QUESTIONS)),
    "other options": lambda _c, m: with_questions(
        m,
        replace(
            W3, options=tuple(replace(o, name=f"x{o.name}") for o in W3.options[::-1]), key=lambda n: f"x{n.right}"
        ),
    ),
    "other points": lambda _c, m: with_questions(m, *(replace(q, points=q.points + 3) for q in QUESTIONS)),
    "another unit": lambda _c, m: with_questions(m, replace(W2, unit="%")),
    "another kind": lambda _c, m: with_questions(m, replace(W1, kind="written", key=None)),
    "a question gone": lambda _c, m: with_questions(m, gone=(W2,)),
    "all questions gone": lambda _c, m: with_questions(m, gone=QUESTIONS),
    "other units in the class list": lambda c, _m: with_roster(
        c, [replace(person, units="us" if person.units == "si" else "si") for person in CLASS]
    ),
    "the class list in another order": lambda c, _m: with_roster(c, CLASS[::-1]),
    "a question taken out of source/": lambda c, _m: _without_question(c.source(LESSON)),
    "another way to deal": lambda _c, m: m.setattr("grading.given_out.judged_answers.variant_index", lambda *_: 5),
}


def _without_question(path: Path) -> None:
    notebook = json.loads(path.read_text(encoding="utf-8"))
    notebook["cells"] = [cell for cell in notebook["cells"] if W2.id not in "".join(cell["source"])]
    path.write_text(json.dumps(notebook), encoding="utf-8")


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
@pytest.mark.parametrize("marked_before", [False, True], ids=["not yet marked", "marked before"])
def test_marks_stand_on_what_was_given_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, change: Change, marked_before: bool
) -> None:
    course = came_back(tmp_path)
    text = posed(W2, BEN.badge, BEN.units).sheet.text
    if marked_before:
        run(course, "mark")
    change(course, monkeypatch)
    course = Course(course.root)
    code, said = run(course, "mark", "--again")
    assert code == DONE, said
    assert {badge: scores(sheet) for badge, sheet in marks(course).items()} == EXPECTED
    assert run(course, "hand-back")[0] == DONE
    page = (course.root / "handed_back" / BEN.badge / LESSON / f"{LESSON}.html").read_text(encoding="utf-8")
    assert text in page
    assert run(course, "tables")[0] == DONE
    assert f"{LESSON} (of {full():g})" in (course.root / "tables" / "marks.csv").read_text(encoding="utf-8")


def test_what_comes_back_after_an_update_is_judged_alike(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    course = classroom(tmp_path)
    notebooks = {person.badge: notebook_of(course, person, *ways) for person, ways in WAYS_OF.items()}
    with_questions(monkeypatch, *(replace(q, variants=q.variants[::-1]) for q in QUESTIONS[1:]), gone=(W1,))
    for badge, notebook in notebooks.items():
        put(tmp_path / "back", f"{badge}.ipynb", notebook)
    assert run(course, "take-in", str(tmp_path / "back"))[0] == DONE
    code, said = run(course, "mark")
    assert code == DONE
    assert "inherent.w1, inherent.w2, inherent.w3, inherent.w4 changed since" in said
    monkeypatch.setattr("grading.giving_out.correcting._pairs", _not_compared)
    assert run(course, "mark")[1] == said.replace("4 marked, 0 unchanged", "0 marked, 4 unchanged")
    path = course.root / "given_out" / LESSON / "compared.json"
    for damaged in ("", "[1]", '{"of": 1}', "{"):
        path.write_text(damaged, encoding="utf-8")
        with pytest.raises(AssertionError, match="compared"):
            changes(course, LESSON)
    assert {badge: scores(sheet) for badge, sheet in marks(course).items()} == EXPECTED


def test_two_givings_out_each_judge_their_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    course = classroom(tmp_path)
    first = {person: notebook_of(course, person, *WAYS_OF[person]) for person in (ADA, BEN)}
    with_questions(monkeypatch, *(changed := [_other_numbers(W1), _other_numbers(W2)]))
    assert run(course, "give-out", "04")[0] == DONE
    second = {person: notebook_of(course, person) for person in (CLEO, DAN)}
    for person, notebook in second.items():
        for question in changed:
            answer = plan(question, person, "right").text
            for cell in notebook["cells"]:
                if "".join(cell["source"]).startswith(f"%%answer {question.id}"):
                    cell["source"] = f"%%answer {question.id}\n{answer}"
    for person, notebook in (first | second).items():
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook)
    assert run(course, "take-in", str(tmp_path / "back"))[0] == DONE
    assert run(course, "mark")[0] == DONE
    found = {badge: scores(sheet) for badge, sheet in marks(course).items()}
    assert {badge: found[badge] for badge in (ADA.badge, BEN.badge)} == {p.badge: EXPECTED[p.badge] for p in (ADA, BEN)}
    assert marks(course)[CLEO.badge].score == marks(course)[DAN.badge].score == full()


def test_new_numbers_in_an_old_notebook_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    course = classroom(tmp_path)
    notebook = notebook_of(course, ADA)
    changed = _other_numbers(W1)
    with_questions(monkeypatch, changed)
    run(course, "give-out", "04")
    shown = {"text/plain": posed(changed, ADA.badge, ADA.units).sheet.text}
    for cell in notebook["cells"]:
        if "".join(cell["source"]) == f'ask("{W1.id}")':  # the new workorder.json was put beside the old notebook
            cell["outputs"] = [{"output_type": "display_data", "data": shown, "metadata": {}}]
    put(tmp_path / "back", f"{ADA.badge}.ipynb", notebook)
    run(course, "take-in", str(tmp_path / "back"))
    code, said = run(course, "mark")
    assert code == LOOK
    assert "the saved question 1 shows the numbers of" in said


@pytest.mark.parametrize(("name", "said"), [("", "does not say which"), ("9-ffffffff", "not kept here (9-ffffffff)")])
def test_a_hand_in_of_an_uncertain_giving_out_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, said: str
) -> None:
    course = classroom(tmp_path)
    notebook = notebook_of(course, ADA)
    with_questions(monkeypatch, _other_numbers(W1))
    run(course, "give-out", "04")
    notebook["metadata"]["work_order"] = {"lesson": LESSON, "given_out": name}
    put(tmp_path / "back", f"{ADA.badge}.ipynb", notebook)
    run(course, "take-in", str(tmp_path / "back"))
    code, told = run(course, "mark")
    assert code == LOOK
    assert said in told


def test_given_out_once_a_lost_name_does_no_harm(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    notebook = notebook_of(course, ADA)
    notebook["metadata"] = {}  # another editor left them out
    put(tmp_path / "back", f"{ADA.badge}.ipynb", notebook)
    run(course, "take-in", str(tmp_path / "back"))
    assert run(course, "mark")[0] == DONE
    assert marks(course)[ADA.badge].score == full()


def test_a_newcomer_is_told_and_marked_after_a_new_giving_out(tmp_path: Path) -> None:
    course = came_back(tmp_path)
    eve = people(5)[4]
    with_roster(course, [*CLASS, eve])
    put(tmp_path / "back", f"{eve.badge}.ipynb", notebook_of(course, eve))
    assert run(course, "take-in", str(tmp_path / "back"))[0] == DONE
    code, said = run(course, "mark")
    assert code == LOOK
    assert f"badge {eve.badge} was not in roster.csv when {LESSON} was given out" in said
    assert run(course, "give-out", "04")[0] == DONE
    put(tmp_path / "back", f"{eve.badge}.ipynb", notebook_of(course, eve))
    run(course, "take-in", str(tmp_path / "back"))
    run(course, "mark")
    assert marks(course)[eve.badge].score == full()
    assert {person.badge: scores(marks(course)[person.badge]) for person in CLASS} == EXPECTED


def test_a_mended_key_is_taken_only_when_asked_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    course = came_back(tmp_path)
    run(course, "mark")
    wrong = W1.mistakes[0].wrong
    with_questions(monkeypatch, replace(W1, key=wrong, mistakes=()), _other_numbers(W2))
    assert run(course, "mark", "--again")[0] == DONE
    assert {badge: scores(sheet) for badge, sheet in marks(course).items()} == EXPECTED
    code, said = run(course, "mark", "--corrected")
    assert code == LOOK
    assert "inherent.w2: what was given out on " in said  # it is not what they saw, so it stays
    assert "the same answers got other points: question 1 from 2 to 0" in said
    now = {badge: scores(sheet) for badge, sheet in marks(course).items()}
    assert now[ADA.badge] == EXPECTED[ADA.badge] | {W1.id: 0.0}
    assert now[BEN.badge] == EXPECTED[BEN.badge] | {W1.id: W1.points}  # whose “mistake” was right after all


def test_a_program_that_judges_otherwise_does_not_do_it_silently(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    course = came_back(tmp_path)
    run(course, "mark")
    monkeypatch.setattr("grading.given_out.judged_answers.judge", lambda *_: Reply(0.0, "other", "Read."))
    code, said = run(course, "mark", "--again")
    assert code == LOOK
    assert (
        f"Look at: {ADA.badge} {ADA.name}, {LESSON}: when it was marked again, the same answers got other points"
        in said
    )


def test_nbgraders_own_autograde_asks_by_what_was_given_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    course = came_back(tmp_path)
    run(course, "mark")
    with_questions(monkeypatch, *(replace(q, variants=q.variants[::-1], points=9.0) for q in QUESTIONS))
    for person in CLASS:
        folder = course.autograded(person.badge, LESSON).parent
        shutil.copy(course.submitted(person.badge, LESSON), folder)
        shutil.copy(course.source(LESSON).with_name("workorder.json"), folder)
        assert {q.id: oracle.marks_in(folder, q.id) for q in QUESTIONS} == EXPECTED[person.badge]


GRADED = list(workorders.questions().values())


@pytest.mark.parametrize("question", GRADED, ids=[question.id for question in GRADED])
def test_a_question_read_back_judges_as_it_did(question: Question) -> None:
    class_list = people(24)
    back = question_from(json.loads(json.dumps(kept(question, [person.badge for person in class_list]))))
    assert isinstance(back, GivenQuestion)
    for index in range(len(question.variants)):
        for units in ("si", "us"):
            assert posed_variant(back, index, units).sheet == posed_variant(question, index, units).sheet
    for person in class_list:
        one, other = (posed(each, person.badge, person.units) for each in (question, back))
        for way in WAYS:
            text = plan(question, person, way).text
            for tries in range(4):
                assert judge(other, text, tries) == judge(one, text, tries)


def test_what_a_later_version_adds_to_a_question_does_no_harm() -> None:
    data = json.loads(json.dumps(kept(W1, [ADA.badge])))
    data["colour"] = data["mistakes"][0]["colour"] = "blue"
    back = question_from(data)
    assert judge(posed(back, ADA.badge, "si"), plan(W1, ADA, "right").text).score == 1.0


def test_what_an_earlier_version_gave_out_keeps_its_tolerance() -> None:
    data = json.loads(json.dumps(kept(replace(W1, tolerance=0.125), [ADA.badge])))
    data["within"] = data.pop("tolerance")  # as it was called there
    assert question_from(data).tolerance == 0.125


@pytest.mark.parametrize("spoil", ["missing", "cut short", "of a later version"])
def test_keys_out_of_reach_are_a_sentence_and_no_mark(tmp_path: Path, spoil: str) -> None:
    course = came_back(tmp_path)
    (path,) = (course.root / "given_out" / LESSON).glob("*/keys.json")
    data: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    if spoil == "missing":
        edited = json.loads((path.parent / "workorder.json").read_text(encoding="utf-8"))
        shutil.rmtree(course.root / "given_out")
        edited["badges"][ADA.badge]["sheets"][0]["text"] += " Hurry."
        (course.root / "as_sent" / LESSON / "workorder.json").write_text(json.dumps(edited), encoding="utf-8")
    elif spoil == "cut short":
        path.write_text(path.read_text(encoding="utf-8")[:500], encoding="utf-8")
    else:
        path.write_text(json.dumps(data | {"form": 99}), encoding="utf-8")
    for command in ("mark", "hand-back", "tables"):
        code, said = run(course, command)
        assert code == FAILED
        assert {"missing": "cannot be judged", "cut short": "is damaged", "of a later version": "a later version"}[
            spoil
        ] in said
    assert marks(course) == {}


def test_a_course_of_before_keys_were_kept_goes_on(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    course = classroom(tmp_path)
    _as_before(course)
    for person, ways in WAYS_OF.items():
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook_of(course, person, *ways))
    run(course, "take-in", str(tmp_path / "back"))  # the first command keeps what is still as it was given out
    with_questions(monkeypatch, *(replace(q, variants=q.variants[::-1]) for q in QUESTIONS))
    assert run(course, "mark")[0] == DONE
    assert {badge: scores(sheet) for badge, sheet in marks(course).items()} == EXPECTED


def test_a_course_of_before_whose_questions_changed_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    course = classroom(tmp_path)
    _as_before(course)
    old = notebook_of(course, ADA)
    with_questions(monkeypatch, _other_numbers(W1))
    code, said = run(course, "take-in", str(tmp_path))
    assert code == FAILED
    assert "mark with that version" in said
    assert run(course, "give-out", "04")[0] == DONE  # and an old hand-in is not taken for one of the new
    put(tmp_path / "back", f"{ADA.badge}.ipynb", old)
    run(course, "take-in", str(tmp_path / "back"))
    code, said = run(course, "mark")
    assert code == LOOK
    assert "by an earlier version of this program, which kept no keys" in said


def test_what_was_changed_in_source_before_keys_were_kept_stays(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    _as_before(course)
    assert "your own version" not in run(course, "give-out", "04")[1]
    shutil.rmtree(course.root / "given_out")
    own = json.loads(course.source(LESSON).read_text(encoding="utf-8"))
    own["cells"].insert(1, {"cell_type": "markdown", "id": "own", "metadata": {}, "source": "Mine."})
    course.source(LESSON).write_text(json.dumps(own), encoding="utf-8")
    assert "your own version" in run(course, "give-out", "04")[1]
    assert "Mine." in course.source(LESSON).read_text(encoding="utf-8")


def _as_before(course: Course) -> None:
    """Make a course as the program left it before it kept keys."""
    (order,) = (course.root / "given_out" / LESSON).glob("*/workorder.json")
    for folder in ("as_sent", "lessons"):
        shutil.copy(order, course.root / folder / LESSON)
    shutil.rmtree(course.root / "given_out")
    for folder in ("as_sent", "lessons"):
        path = course.root / folder / LESSON / f"{LESSON}.ipynb"
        notebook = json.loads(path.read_text(encoding="utf-8"))
        del notebook["metadata"]["work_order"]["given_out"]
        path.write_text(json.dumps(notebook), encoding="utf-8")


FORMER = {
    "lessons": "source",
    "as_sent": "release",
    "handed_in": "submitted",
    "marked": "autograded",
    "handed_back": "feedback",
    "to_send": "handout",
    "tables": "report",
    "received/not_taken_in": "received/not_filed",
}


def test_folders_of_an_older_course_get_their_names_of_today(tmp_path: Path) -> None:
    course = came_back(tmp_path)
    put(tmp_path / "back", "nobody.ipynb", b"{}")
    for command in (["take-in", str(tmp_path / "back")], ["mark"], ["hand-back"], ["tables"]):
        run(course, *command)
    before = {path.relative_to(course.root) for path in course.root.rglob("*") if path.is_file()}
    settings = course.root / "nbgrader_config.py"
    settings.write_text(settings.read_text().replace(FOLDER_SETTINGS, ""), encoding="utf-8")
    for now, former in FORMER.items():
        (course.root / now).rename(course.root / former)
    assert run(course, "mark")[0] == LOOK  # the file of nobody
    assert {path.relative_to(course.root) for path in course.root.rglob("*") if path.is_file()} == before
    assert FOLDER_SETTINGS in settings.read_text(encoding="utf-8")
    assert {badge: scores(sheet) for badge, sheet in marks(course).items()} == EXPECTED


def test_keys_stay_with_the_instructor(tmp_path: Path) -> None:
    course = came_back(tmp_path)
    for command in ("mark", "hand-back", "tables"):
        run(course, command)
    kept_there = course.root / "given_out"
    assert not stat.S_IMODE(kept_there.stat().st_mode) & 0o077  # nobody else on this machine reads it
    assert all(not stat.S_IMODE(path.stat().st_mode) & 0o077 for path in kept_there.rglob("*.json"))
    (path,) = kept_there.glob("*/*/keys.json")
    telling = [f'"{name}":' for name in ("dealt", "wrong", "other_words", "tolerance")]
    assert all(word in path.read_text(encoding="utf-8") for word in telling)
    with zipfile.ZipFile(course.root / "to_send" / LESSON / f"{ADA.badge}.zip") as archive:
        sent = {name: archive.read(name).decode() for name in archive.namelist()}
    assert set(sent) == {f"{LESSON}/{LESSON}.ipynb", f"{LESSON}/workorder.json"}
    others = {
        str(path): path.read_text(encoding="utf-8")
        for name in ("as_sent", "lessons", "marked", "handed_back")
        for path in (course.root / name).rglob("*")
        if path.is_file()
    }
    for name, text in (sent | others).items():
        assert not any(word in text for word in telling), name


def test_what_is_kept_of_a_giving_out_names_it(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    latest = given_out(course, LESSON).latest
    assert latest.number == 1
    assert (
        json.loads((latest.folder / f"{LESSON}.ipynb").read_text())["metadata"]["work_order"]["given_out"] == latest.id
    )
    assert latest.units == {person.badge: person.units for person in CLASS}
