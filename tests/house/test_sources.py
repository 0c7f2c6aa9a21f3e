"""Every source string names a true source of a known form, or says that there is none."""

import importlib
import pkgutil
import re
from pathlib import Path

import pytest

import valvecalc
from grading import workorders
from lessons import cards
from lessons.notebook import bank
from tests import by_hand
from tests.house.published import wrong
from valvecalc.seat_leakage import LEAKAGE_TESTS

ROOT = Path(__file__).parents[2]


def modules(package):
    return [
        importlib.import_module(f"{package.__name__}.{found.name}") for found in pkgutil.iter_modules(package.__path__)
    ]


GRADED = workorders.questions()
QUESTIONS = {**bank.practice_questions(), **GRADED}
CARDS = {name: cards.card_named(name) for name in cards.NAMES}
DOCSTRINGS = {
    f"{module.__name__}.{name}": value.__doc__
    for module in modules(valvecalc)
    for name, value in vars(module).items()
    if callable(value) and getattr(value, "__module__", "") == module.__name__ and "Source:" in (value.__doc__ or "")
}


def test_of_questions():
    assert len(QUESTIONS) > 200
    for name, question in QUESTIONS.items():
        seen = question.kind == "predict" and not question.source  # the picture below it is the answer
        assert seen or not wrong(question.source), name


def test_of_cards():
    assert not [name for name, card in CARDS.items() if wrong(card.source)]


def test_of_leakage_classes():
    assert not [form for form, test in LEAKAGE_TESTS.items() if wrong(test.source)]


def test_of_formulas():
    assert len(DOCSTRINGS) > 100
    assert not [name for name in DOCSTRINGS if not _is_sourced(name)]


def _is_sourced(name):
    """The first sentence counts, those after it explain; a helper needs none, a sister function names its sister."""
    said = " ".join(re.search(r"Source: (.*?)(\n\s*\n|\Z)", DOCSTRINGS[name], re.DOTALL)[1].split())
    first = re.split(r"\.\s+(?=[A-Z])", said)[0].removesuffix(".")
    sister = re.match(r"as `(\w+)`", first)
    if sister:
        return hasattr(importlib.import_module(name.rpartition(".")[0]), sister[1])
    return first == "none needed" or not wrong(first)


HAND_ROWS = [(row[0], row[-1]) for module in modules(by_hand) for row in module.ROWS]


def test_of_worked_rows():
    """A row shows its working, so it has numbers in it, or names its source."""
    assert len(HAND_ROWS) > 100
    assert not [name for name, working in HAND_ROWS if not re.search(r"\d", working) and wrong(working)]


# A list, section or file that is not in the repository; a course or an exercise sheet of somebody else.
ABSENT = re.compile(
    r"\b(reference )?list,? (section )?\d|reference (list|section|values)|NAVEDTRA|training course|tutoring",
    re.IGNORECASE,
)


@pytest.mark.parametrize("folder", ["lessons", "grading", "valvecalc", "tests", "."])
def test_nothing_cites_what_the_reader_cannot_have(folder):
    paths = (ROOT / folder).glob("*.md") if folder == "." else (ROOT / folder).rglob("*.*")
    read = [path for path in paths if path.suffix in (".py", ".ipynb", ".md") and path != Path(__file__)]
    assert read
    assert not [(path.name, found[0]) for path in read if (found := ABSENT.search(path.read_text(encoding="utf-8")))]


@pytest.mark.parametrize("page", sorted(ROOT.glob("lessons/*.ipynb")), ids=lambda path: path.stem)
def test_no_lesson_rests_on_a_course_or_an_exercise_sheet(page):
    assert not re.search(
        r"universit|NAVEDTRA|reference page|\b(Navy|training|open) course|exercise sheet",
        page.read_text(encoding="utf-8"),
    )


# Questions that once claimed a standard for more than it says: what their source has to admit.
ADMITS = {
    "inherent.rangeability": r"ISA-75\.11\.01 \(second-hand\).*permitted deviation: from memory",
    "trim.shapes": r"quick opening: common practice, no source",
    "friction.material": r"rubs less.*: from memory",
    "leakage.order": r"common practice, no source|29 CFR 1910\.147",
    "balance.order": r"29 CFR 1910\.147",
    "capacity.happens": r"common practice, no source|second-hand|from memory",
}


@pytest.mark.parametrize("name", ADMITS)
def test_claims_no_more_than_its_source_says(name):
    assert re.search(ADMITS[name], QUESTIONS[name].source), QUESTIONS[name].source


# What the search has to refuse, and let pass.
@pytest.mark.parametrize("source", [
    "", "statics", "list 5.2, fail-closed", "the drawings of this lesson", "common practice", "FCI 70-2", "ISA-5.1, letters",
    "IEC 60534-2-1, equation 1; some course", "order as in a book", "US Navy training course NAVEDTRA 14104 (Fireman)",
    "ASME/NRC paper PVS2017-3518", "worked out with valvecalc",
])  # fmt: skip
def test_refuses(source):
    assert wrong(source)


@pytest.mark.parametrize(
    "source",
    [
        "IEC 60534-2-1:2011, equation 1",
        "FCI 70-2 (second-hand): 0.5 %",
        "statics, worked by hand",
        "ISA-5.1, from memory",
        "DOE-HDBK-1018/2-93, module 4, p. 47; names: common practice, no source",
        "PVS2017-3518, abstract",
    ],
)
def test_lets_pass(source):
    assert not wrong(source)
