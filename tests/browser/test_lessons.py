"""One lesson from first click to class mark: worked in a real JupyterLab, saved, handed in and marked."""

from __future__ import annotations

import csv
import getpass
import re
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from grading import commands
from grading.course.course import open_course
from grading.course.roster import Apprentice
from grading.demo.demo_class import Planned, plan
from grading.given_out.given_out import given_out
from lessons.notebook import bank
from lessons.questions.question import pose
from lessons.units.quantities import Q, from_base
from tests.browser import lab as labs
from tests.browser.lessons_lab import answer_card, give_answer, go_to, open_lesson, own_copy
from tests.lessons.notebooks.test_notebooks import right_answer

LESSON = "04_inherent_characteristic"
BADGE = "4711"


def class_room(course: Path, *arguments: str) -> str:
    said: list[str] = []
    code = commands.main(["--course", str(course), *arguments], said.append)
    assert code in (0, 1), said
    return "\n".join(said)


@pytest.fixture(scope="module")
def course(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A course of one apprentice, with the lesson given out."""
    folder = tmp_path_factory.mktemp("course") / "spring"
    assert commands.main(["new", str(folder)]) == 0
    (folder / "roster.csv").write_text(f"badge,name,units\n{BADGE},Ina Vale,si\n", encoding="utf-8")
    class_room(folder, "give-out", LESSON)
    return folder


@pytest.fixture(scope="module")
def own(lab: labs.Lab, course: Path) -> labs.Lab:
    """A working copy with the instructor's zip unpacked in it; nobody has signed on."""
    copy = own_copy(lab, "apprentice", badge="")
    with zipfile.ZipFile(course / "to_send" / LESSON / f"{BADGE}.zip") as handout:
        handout.extractall(copy.folder / "from_instructor")
    return copy


def as_given_out(course: Path) -> list[Planned]:
    """Return right answers to the numbers the course has dealt to this badge."""
    ina = Apprentice(BADGE, "Ina Vale")
    return [plan(each, ina, "right") for each in given_out(open_course(course), LESSON).latest.questions]


def wrong_answer() -> str:
    """The answer of somebody who takes the trim for a linear one, by hand: Kv times travel."""
    question = bank.question("inherent.coefficient")
    assert question
    numbers = pose(question, BADGE).numbers
    return str(Q(round(from_base(numbers.kv * numbers.travel, "Kv").value, 4), "Kv"))


@pytest.fixture(scope="module")
def page(browser: Browser, own: labs.Lab) -> Iterator[Page]:
    """The first lesson, as it is opened on the first day."""
    page = open_lesson(browser, own, "00_start_here.ipynb")
    yield page
    page.context.close()


def test_lesson_from_first_click_to_class_mark(page: Page, own: labs.Lab, course: Path) -> None:
    go_to(page, own, "00_start_here.ipynb")
    sign_on(page)
    (notebook,) = (own.folder / "from_instructor").rglob(f"{LESSON}.ipynb")
    go_to(page, own, str(notebook.relative_to(own.folder)))
    picture = page.locator(".ostrel-page .ostrel-live").first
    slider = picture.get_by_role("slider").first
    expect(slider).to_be_disabled()
    # The badge of the sign-on holds for the whole working copy, also in the folder of the instructor's zip.
    assert "written down" in give_answer(page, "inherent.predict", "c")
    expect(slider).to_be_enabled()

    dot = picture.locator("[data-part='equal_dot']")
    before = dot.evaluate("e => e.getBoundingClientRect().x")
    slider.focus()
    for _ in range(20):
        page.keyboard.press("ArrowRight")
    expect(slider).to_have_attribute("aria-valuetext", re.compile(r"40 %"))
    page.wait_for_function("([e, x]) => e.getBoundingClientRect().x > x + 20", arg=[dot.element_handle(), before])
    assert "9.6 %" in picture.inner_text() or "9.6 %" in (picture.text_content() or "")  # 100 · 50^-0.6 = 9.56 %
    labs.screenshot(page, "04-slider-moved")

    assert "That would be a linear trim" in give_answer(page, "inherent.coefficient", wrong_answer())
    assert "Right." in give_answer(page, "inherent.coefficient", right_answer("inherent.coefficient", "si"))
    for planned in as_given_out(course)[:3]:
        letter = planned.text.lower() if len(planned.text) == 1 else ""
        reply = give_answer(page, planned.question, letter or planned.text)
        assert "marked after you hand it in" in reply
        assert "Right" not in reply
    give_answer(page, "inherent.w4", "1 %")
    answer_card(page, "inherent.w4").scroll_into_view_if_needed()
    labs.screenshot(page, "04-answered")

    assert handed_in_as_a_file(page) == notebook
    inbox = handed_in_through_an_exchange(page, own.folder.parents[1] / "exchange")
    (sent,) = inbox.rglob(f"{LESSON}.ipynb")
    assert sent.read_bytes() == notebook.read_bytes()
    by_login = sent.parent.rename(inbox / sent.parent.name.replace(getpass.getuser(), BADGE, 1))
    assert by_login.is_dir()  # the exchange names who sent it by the login, which is the badge in a class
    for command in (["take-in", str(inbox)], ["mark"], ["tables"]):
        class_room(course, *command)
    table = (course / "tables" / f"{LESSON}_apprentices.csv").read_text(encoding="utf-8-sig")
    row = next(row for row in csv.DictReader(table.splitlines()) if row["badge"] == BADGE)
    # By hand: w1 2 points, w2 2, w3 1 are right; w4 with 2 points is wrong.
    assert float(row["points"]) == 5.0
    assert "No difference." in class_room(course, "compare", LESSON)  # from the marks of nbgrader's own autograde


def sign_on(page: Page) -> None:
    page.get_by_placeholder("your badge number").fill(BADGE)
    page.get_by_role("button", name="Sign on").click()
    expect(page.get_by_text(f"Signed on with badge {BADGE}")).to_be_visible()
    expect(page.locator(".ostrel-page .ostrel-bar")).to_contain_text(f"Badge {BADGE}")
    assert "written down" in give_answer(page, "start.first", "b")
    labs.screenshot(page, "00-signed-on")


def handed_in_as_a_file(page: Page) -> Path:
    """Press the button where no exchange knows the lesson; return the file it names."""
    page.get_by_role("button", name="Hand in").click()
    said = page.get_by_role("dialog", name="Hand in")
    expect(said).to_contain_text("All work order questions have an answer.")
    file = Path(said.locator(".ostrel-file").inner_text())
    with page.expect_download() as taken:
        said.get_by_role("link", name="Save a copy").click()
    assert Path(taken.value.path()).read_bytes() == file.read_bytes()
    said.get_by_role("button", name="Done").click()
    return file


def handed_in_through_an_exchange(page: Page, root: Path) -> Path:
    """Press it again, where the instructor's exchange has given the lesson out; return where hand-ins arrive."""
    (root / "spring" / "outbound" / LESSON).mkdir(parents=True)
    inbox = root / "spring" / "inbound"
    inbox.mkdir()
    page.get_by_role("button", name="Hand in").click()
    said = page.get_by_role("dialog", name="Hand in")
    said.get_by_role("button", name="Send it to the instructor").click(timeout=labs.WAIT)
    expect(said).to_contain_text("Handed in at")
    labs.screenshot(page, "04-handed-in")
    said.get_by_role("button", name="Done").click()
    return inbox


def test_a_note_of_some_sentences_is_read_as_it_is_typed(page: Page, lab: labs.Lab) -> None:
    go_to(page, own_copy(lab, "note"), "13_troubleshooting.ipynb")
    note = "It's short and the loop is not in automatic: " + "one sentence after the other in one line. " * 8
    assert "A person will mark it" in give_answer(page, "trouble.w6", note)
    labs.screenshot(page, "13-note")
