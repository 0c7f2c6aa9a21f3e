"""Out to learning systems: marks in columns of one's choice, and practice questions as QTI 2.1.

The structure is checked by rules written from the published information model of QTI 2.1 (IMS, final of 31 August 2012),
from memory: its schema is in no package registry. Of that schema (imsqti_v2p1.xsd, final release of 31 July 2012) three
parts were read in a public copy, and the rules are as strict or stricter: the attributes of assessmentItem and of
choiceInteraction, and what is in defaultValue. What an item says to an answer is checked by a small reader of its
response processing written here, against what the lesson itself says.
"""

from __future__ import annotations

import csv
import io
import zipfile
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from grading import workorders
from grading.course.course import Course
from grading.giving_out.qti.items import KINDS, item
from lessons.notebook import bank
from lessons.questions.judge import RIGHT, judge
from lessons.questions.question import Posed, pose_variant
from lessons.units.quantities import from_base
from tests.grading.classroom import CLASS, classroom, full, notebook_of, put, run

ADA, BEN, CLEO, DAN = CLASS
Q = "{http://www.imsglobal.org/xsd/imsqti_v2p1}"
PRACTICE = [each for each in bank.practice_questions().values() if each.kind in KINDS]
OF_EACH_KIND = [[each for each in PRACTICE if each.kind == kind][::5] for kind in KINDS]
SOME = [each for some in OF_EACH_KIND for each in some]


@pytest.fixture(scope="module")
def course(tmp_path_factory: pytest.TempPathFactory) -> Course:
    folder = tmp_path_factory.mktemp("marks")
    course = classroom(folder)
    put(folder / "back", f"{ADA.badge}.ipynb", notebook_of(course, ADA))
    put(folder / "back", f"{BEN.badge}.ipynb", notebook_of(course, BEN, "blank", "blank", "blank"))
    run(course, "due", "04", "2001-01-01 12:00", "--badge", BEN.badge)
    run(course, "take-in", str(folder / "back"))
    run(course, "mark")
    return course


def exported(course: Course, *options: str) -> str:
    code, said = run(course, "marks", *options)
    assert code == 0, said
    return (course.root / "tables" / "marks_for_import.csv").read_bytes().decode("utf-8")


def test_marks_in_the_columns_that_are_asked_for(course: Course) -> None:
    columns = ["ID=badge", "last", "Grade=04%", "04", "Late=04/late", "total", "Part=total%"]
    options = [word for each in columns for word in ("--column", each)]
    text = exported(course, *options, "--separator", "semicolon", "--bom", "--decimal", "comma")
    assert text.startswith("\ufeffID;last;Grade;04;Late;total;Part\r\n")
    rows = list(csv.reader(io.StringIO(text[1:]), delimiter=";"))[1:]
    assert [row[0] for row in rows] == [person.badge for person in CLASS]
    assert rows[0][2:] == ["100,0", f"{full():g}", "no", f"{full():g}", "100,0"]
    earned = float(rows[1][3].replace(",", "."))
    assert rows[1][2] == f"{100 * earned / full():.1f}".replace(".", ",")
    assert rows[1][4] == "yes"
    assert rows[2][2:] == rows[3][2:] == ["", "", "", "", ""]


@pytest.mark.parametrize(("name", "sign"), [("comma", ","), ("semicolon", ";"), ("tab", "\t")])
def test_separators(course: Course, name: str, sign: str) -> None:
    text = exported(course, "--separator", name)
    assert text.startswith(f"badge{sign}name{sign}04\r\n")


@pytest.mark.parametrize("column", ["colour", "05", "04%%", "=", "x=", "total/late"])
def test_a_column_that_is_none_gets_a_sentence(course: Course, column: str) -> None:
    code, said = run(course, "marks", "--column", column)
    assert (code, "There is no column" in said) == (2, True)


# --- QTI -------------------------------------------------------------------------------------------------------------

PARTS = [
    "responseDeclaration",
    "outcomeDeclaration",
    "itemBody",
    "responseProcessing",
    "modalFeedback",
]  # in this order
ATTRIBUTES = {  # what each element has to have; of the parts of the model that are used here
    "assessmentItem": {"identifier", "title", "adaptive", "timeDependent"},
    "responseDeclaration": {"identifier", "cardinality", "baseType"},
    "outcomeDeclaration": {"identifier", "cardinality", "baseType"},
    "choiceInteraction": {"responseIdentifier", "shuffle", "maxChoices"},
    "orderInteraction": {"responseIdentifier", "shuffle"},
    "matchInteraction": {"responseIdentifier", "shuffle", "maxAssociations"},
    "textEntryInteraction": {"responseIdentifier", "expectedLength"},
    "simpleChoice": {"identifier"},
    "simpleAssociableChoice": {"identifier", "matchMax"},
    "equal": {"toleranceMode", "tolerance"},
    "baseValue": {"baseType"},
    "variable": {"identifier"},
    "correct": {"identifier"},
    "setOutcomeValue": {"identifier"},
    "modalFeedback": {"outcomeIdentifier", "identifier", "showHide"},
    "img": {"src", "alt"},
}
INSIDE = {  # which elements may stand in which
    "itemBody": {"p", "choiceInteraction", "orderInteraction", "matchInteraction"},
    "p": {"img", "textEntryInteraction"},
    "choiceInteraction": {"simpleChoice"},
    "orderInteraction": {"simpleChoice"},
    "matchInteraction": {"simpleMatchSet"},
    "simpleMatchSet": {"simpleAssociableChoice"},
    "responseDeclaration": {"correctResponse"},
    "correctResponse": {"value"},
    "outcomeDeclaration": {"defaultValue"},
    "defaultValue": {"value"},
    "responseProcessing": {"responseCondition"},
    "responseCondition": {"responseIf", "responseElseIf", "responseElse"},
    "responseIf": {"equal", "match", "member", "setOutcomeValue"},
    "responseElseIf": {"equal", "match", "member", "setOutcomeValue"},
    "responseElse": {"setOutcomeValue"},
    "setOutcomeValue": {"baseValue"},
    "equal": {"variable", "baseValue"},
    "member": {"variable", "baseValue"},
    "match": {"variable", "correct", "baseValue", "ordered"},
    "ordered": {"baseValue"},
    "modalFeedback": {"p"},
}


def tag(element: ET.Element) -> str:
    return element.tag.removeprefix(Q)


def problems(root: ET.Element) -> list[str]:
    """Return where an item breaks the rules."""
    found = [] if [tag(each) for each in root] == sorted(map(tag, root), key=PARTS.index) else ["the order of parts"]
    for element in root.iter():
        name = tag(element)
        found += [f"{name} without {each}" for each in ATTRIBUTES.get(name, set()) - element.attrib.keys()]
        if element is not root:
            found += [f"{tag(each)} in {name}" for each in element if tag(each) not in INSIDE.get(name, set())]
    declared = {each.get("identifier") for each in root if tag(each).endswith("Declaration")}
    used = [each.get("identifier") for each in root.iter() if tag(each) in ("variable", "correct", "setOutcomeValue")]
    used += [each.get("responseIdentifier") for each in root.iter() if each.get("responseIdentifier")]
    found += [f"{each} is not declared" for each in used if each not in declared]
    choices = [
        each.get("identifier") for each in root.iter() if tag(each).startswith("simple") and each.get("identifier")
    ]
    shown = [each.get("identifier") for each in root.iter(f"{Q}modalFeedback")]
    found += ["an identifier twice"] if len({*choices, *shown}) < len(choices) + len(shown) else []
    return found


def processed(root: ET.Element, response: object) -> tuple[float, str]:
    """Carry out the response processing for a response; return the score and what is said."""
    correct = [each.text for each in root.iter(f"{Q}correctResponse") for each in each]
    for branch in root.find(f"{Q}responseProcessing/{Q}responseCondition") or ():
        if tag(branch) == "responseElse" or _holds(branch[0], response, correct):
            made = {each.get("identifier"): each[0].text for each in branch if tag(each) == "setOutcomeValue"}
            said = [each for each in root.iter(f"{Q}modalFeedback") if each.get("identifier") == made["FEEDBACK"]]
            return float(made.get("SCORE") or 0), "".join(said[0].itertext()).strip()
    raise AssertionError("no branch was taken")


def _holds(test: ET.Element, response: object, correct: list[str | None]) -> bool:
    values = [each.text for each in test.iter(f"{Q}baseValue")]
    if tag(test) == "equal":
        low, high = map(float, (test.get("tolerance") or "").split())
        return float(values[0] or 0) - low <= float(str(response)) <= float(values[0] or 0) + high
    if tag(test) == "member":
        return values[0] in list(response)  # type: ignore[call-overload]
    wanted = correct if test.find(f"{Q}correct") is not None else values
    ordered = test.find(f"{Q}ordered") is not None or isinstance(response, tuple)
    given = [response] if isinstance(response, str) else list(response)  # type: ignore[call-overload]
    return given == wanted if ordered else sorted(given) == sorted(map(str, wanted))


@pytest.mark.parametrize("question", SOME, ids=lambda each: each.id)
def test_items_keep_the_rules_and_say_what_the_lesson_says(question: object) -> None:
    for units in ("si", "us"):
        posed = pose_variant(question, 1, units)  # type: ignore[arg-type]
        root = ET.fromstring(item(posed, "x", "X", "pictures/x.svg"))  # noqa: S314 - our own
        assert problems(root) == []
        score, said = processed(root, _right(posed))
        assert (score, said.startswith("Right.")) == (1.0, True)
        if posed.question.kind == "number":
            _check_numbers(root, posed)
        elif posed.question.kind == "choice":
            for letter, _ in posed.sheet.options:
                reply = judge(posed, letter)
                assert processed(root, letter)[0] == reply.score
                assert reply.means.split()[0] in processed(root, letter)[1]


def _right(posed: Posed) -> object:
    letter, right = {name: letter for letter, name in posed.names.items()}, posed.right
    if posed.question.kind == "number":
        return from_base(float(right), posed.sheet.unit).value if posed.sheet.unit else float(right)
    if posed.question.kind == "match":
        places = {name: number for number, name in posed.places.items()}
        return [f"{letter[option]} P{places[place]}" for place, option in right.items()]
    if posed.question.kind == "choice":
        return letter[right]
    return tuple(letter[name] for name in right) if posed.question.kind == "order" else [letter[name] for name in right]


def _check_numbers(root: ET.Element, posed: Posed) -> None:
    """Every number that an item names a mistake for gets the lesson's own words."""
    named = list(root.iter(f"{Q}equal"))[1:]
    assert named
    for test in named:
        value = str(test[1].text)
        reply = judge(posed, f"{value} {posed.sheet.unit}".strip())
        assert reply.tag != RIGHT
        assert processed(root, value) == (reply.score, reply.means)


def test_the_rules_can_fail() -> None:
    posed = pose_variant(SOME[0], 0)
    root = ET.fromstring(item(posed, "x", "X"))  # noqa: S314
    body = root.find(f"{Q}itemBody")
    assert body is not None
    ET.SubElement(body, f"{Q}simpleChoice")
    root.append(body)
    assert problems(root)


def test_the_package_lists_what_is_in_it_and_holds_nothing_graded(tmp_path: Path) -> None:
    target = tmp_path / "practice.zip"
    code, said = run(Course(tmp_path), "practice", "03", str(target), "--sets", "1")
    assert code == 0, said
    with zipfile.ZipFile(target) as archive:
        names = set(archive.namelist())
        whole = b"".join(archive.read(name) for name in names).decode()
        manifest = ET.fromstring(archive.read("imsmanifest.xml"))  # noqa: S314
    listed = {each.get("href") for each in manifest.iter() if each.tag.endswith("}file")}
    assert listed == names - {"imsmanifest.xml"}
    assert any(name.endswith(".svg") for name in names)
    graded = workorders.of_lesson(next(each for each in workorders.notebooks() if each.startswith("03_")))
    for question in graded:
        assert question.id not in whole and question.id.replace(".", "-") not in whole
        assert question.text.partition("{")[0][:40] not in whole or len(question.text.partition("{")[0]) < 20


@pytest.mark.parametrize(("options", "said"), [(("99",), "no lesson"), (("04", "--sets", "0"), "1 to 12")])
def test_what_cannot_be_written_gets_a_sentence(tmp_path: Path, options: tuple[str, ...], said: str) -> None:
    lesson, *more = options
    code, told = run(Course(tmp_path), "practice", lesson, str(tmp_path / "x.zip"), *more)
    assert (code, said in told) == (2, True)
