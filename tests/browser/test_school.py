"""The school, real from end to end: hub, proxy, PostgreSQL, two browsers; and what one apprentice sees of another."""

from __future__ import annotations

import json
import os
import pwd
import re
import subprocess
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import psutil
import pytest
from playwright.sync_api import Browser, Page, expect

from grading import workorders
from grading.course.course import Course
from grading.course.roster import Apprentice
from grading.demo.demo_class import plan
from grading.given_out.given_out import given_out
from grading.gradebook.gradebook import opened
from grading.report.results import sheets
from lessons.questions import progress
from tests.browser import school as schools
from tests.browser.lab import WAIT
from tests.browser.lessons_lab import answer_card, give_answer, wait_until_ready
from tests.browser.school import BADGES, LESSON, TEACHER, RunningSchool, sign_on
from tests.processes import command, running

ADA, BEN = BADGES
PRACTICE = "04_inherent_characteristic.ipynb"


@pytest.fixture(scope="module")
def school() -> Iterator[RunningSchool]:
    schools.skip_without_hub()
    with schools.running_school() as running:
        schools.hold_drawing(running)  # each lesson draws its own, as on the first morning
        yield running


@pytest.fixture(scope="module")
def pages(browser: Browser, school: RunningSchool) -> dict[str, Page]:
    """Two apprentices who sign on at the same time; each lands in lesson 00."""
    opened_pages = {badge: sign_on(browser, school, badge) for badge in BADGES}
    for page in opened_pages.values():
        wait_until_ready(page)
    return opened_pages


def course(school: RunningSchool) -> Course:
    return Course(school.course, school.gradebook)


def right_answers(school: RunningSchool, badge: str, units: str) -> dict[str, str]:
    questions = given_out(course(school), LESSON).latest.questions
    person = Apprentice(badge, badge, units)
    typed = [(each, plan(each, person, "right").text) for each in questions]
    # On paper somebody writes B; the card is clicked.
    return {each.id: text if each.kind == "number" else text.lower() for each, text in typed}


def test_sign_on_work_hand_in_mark_feedback(school: RunningSchool, browser: Browser, pages: dict[str, Page]) -> None:
    assert {*school.passwords} == {*BADGES, TEACHER}
    known = {badge: progress.load(school.home(badge)) for badge in BADGES}
    assert [(known[each].badge, known[each].units) for each in BADGES] == [(ADA, "si"), (BEN, "us")]

    ada = pages[ADA]
    ada.locator(".ostrel-sent a:visible", has_text="Work order").click()
    ada.wait_for_url(f"**/from_instructor/*/{LESSON}/{PRACTICE}")
    wait_until_ready(ada)
    for question, text in right_answers(school, ADA, "si").items():
        give_answer(ada, question, text)
    ada.get_by_role("button", name="Hand in").first.click()
    ada.get_by_role("button", name="Send it to the instructor").click()
    expect(ada.locator(".ostrel-hand-in")).to_contain_text("Handed in at")

    teacher = sign_on(browser, school, TEACHER, "/services/class/")
    row = teacher.locator("tr", has_text="Ada Example")
    expect(row).to_contain_text("04 Inherent characteristic")
    expect(teacher.locator("tr", has_text="Ben Example")).to_contain_text("not begun")

    assert "1 new hand-in, 0 known already, 0 not taken in." in school.teacher("take-in")
    assert "0 new hand-ins, 1 known already, 0 not taken in." in school.teacher("take-in")
    school.teacher("mark")
    assert f"{LESSON}: 1 page" in school.teacher("hand-back")
    with opened(course(school)) as connection:
        found = {sheet.badge: sheet.score for sheet in sheets(connection, LESSON) if sheet.results}
    assert found == {ADA: sum(each.points for each in workorders.of_lesson(LESSON))}

    ada.reload()
    wait_until_ready(ada)
    with ada.expect_popup() as marked:
        ada.locator(".ostrel-marked").click()
    expect(marked.value.locator("h1")).to_contain_text("Ada Example")
    expect(marked.value.locator("body")).to_contain_text("Well done")
    assert not (school.home(BEN) / "from_instructor/marked").exists()

    teacher.goto(f"{school.url}/user/{TEACHER}/formgrader", wait_until="domcontentloaded", timeout=WAIT)
    expect(teacher.locator("body")).to_contain_text(LESSON)


def server_of(badge: str) -> psutil.Process:
    return running("lessons.jupyter.on_hub", f"ostrel-{badge}")[0]


def as_ada(school: RunningSchool, script: str) -> str:
    """Run a script with everything Ada's server has: her user, her groups, her environment; return what it printed."""
    who, server = pwd.getpwnam(f"ostrel-{ADA}"), server_of(ADA)
    ran = subprocess.run(
        [str(school.place / "app/bin/python"), "-c", script], user=who.pw_uid, group=who.pw_gid,
        extra_groups=os.getgrouplist(who.pw_name, who.pw_gid), env=server.environ(), cwd=who.pw_dir,
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    return ran.stdout.strip() or ran.stderr.strip()[-2000:]


READS = (
    "import pathlib; p = pathlib.Path({!r}); print(sorted(map(str, p.iterdir())) if p.is_dir() else p.read_text()[:40])"
)
WRITES = "import pathlib; pathlib.Path({!r}).write_text('x'); print('written')"


def test_an_apprentice_gets_at_nothing_that_is_anothers(school: RunningSchool, pages: dict[str, Page]) -> None:
    ben = server_of(BEN)
    own = as_ada(school, READS.format(str(school.home(ADA))))
    assert "00_start_here.ipynb" in own  # the attempts can succeed
    exchange = school.school / "exchange/course"
    reads = [
        school.home(BEN), school.home(BEN) / progress.FILE, school.course, school.course / "course.json",
        school.course / "roster.csv", school.place / "project/grading/workorders/__init__.py",
        exchange / "inbound", exchange / f"boxes/ostrel-{BEN}", exchange / "boxes", school.school / "hub",
        school.school / "hub/jupyterhub.sqlite", school.school / "hub/cookie_secret", school.school / "homes",
        f"/proc/{ben.pid}/environ", f"/proc/{school.process.pid}/environ",
    ]  # fmt: skip
    writes = [
        exchange / "outbound/x", exchange / f"boxes/ostrel-{ADA}/about.json", exchange / "x", exchange.parent / "x",
        school.school / "config/jupyter_server_config.py", school.home(BEN) / "x", school.school / "pictures/x",
        next((school.place / "app").glob("lib/python3*/site-packages")) / "x.py",
    ]  # fmt: skip
    tried = {str(path): as_ada(school, READS.format(str(path))) for path in reads}
    tried |= {f"write {path}": as_ada(school, WRITES.format(str(path))) for path in writes}
    assert {what: said for what, said in tried.items() if "PermissionError" not in said} == {}
    # What another handed in cannot be taken away, even by somebody who has guessed its name.
    sent = exchange / "inbound" / f"ostrel-{BEN}+{LESSON}+2030-01-01 00:00:00 UTC"
    sent.mkdir(mode=0o777)
    os.chown(sent, pwd.getpwnam(f"ostrel-{BEN}").pw_uid, -1)
    gone = f"import os; os.rename({str(sent)!r}, {str(sent.with_name('gone'))!r})"
    assert "PermissionError" in as_ada(school, gone)
    assert "ModuleNotFoundError" in as_ada(school, "import grading")
    without = re.sub(":[^:@/]+@", "@", school.gradebook)
    connect = f"from sqlalchemy import create_engine; create_engine({without!r}).connect(); print('in')"
    assert "no password supplied" in as_ada(school, connect)


WANTS = """
import json, os, urllib.error, urllib.request
def get(url, token=os.environ["JUPYTERHUB_API_TOKEN"]):
    request = urllib.request.Request(url, headers={{"Authorization": "token " + token}})
    try:
        return urllib.request.urlopen(request, timeout=10).status
    except urllib.error.HTTPError as problem:
        return problem.code
hub = os.environ["JUPYTERHUB_API_URL"]
print(json.dumps([get(each.replace("HUB", hub)) for each in {urls!r}]))
"""


def test_the_hubs_api_and_the_others_servers_are_closed_to_an_apprentice(
    school: RunningSchool, pages: dict[str, Page]
) -> None:
    ben = f"ostrel-{BEN}"
    plan_data = json.loads((school.school / "hub/plan.json").read_text())
    _hub, proxy, page = plan_data["ports"]
    closed = [
        "HUB/users", f"HUB/users/{ben}", f"HUB/users/{ben}/tokens", "HUB/proxy", "HUB/services", "HUB/groups",
        f"http://127.0.0.1:{proxy}/api/routes", f"{school.url}/user/{ben}/api/contents",
        f"http://127.0.0.1:{page}/services/class/",
    ]  # fmt: skip
    codes = json.loads(as_ada(school, WANTS.format(urls=["HUB/user", *closed])))
    assert codes[0] == 200  # her own
    assert [code in (302, 403, 404) for code in codes[1:]] == [True] * len(closed), codes
    # The same in her browser, with her cookies.
    request = pages[ADA].context.request
    seen = {
        path: request.get(f"{school.url}{path}", max_redirects=5).status
        for path in (f"/user/{ben}/api/contents", f"/user/{ben}/lab", "/services/class/", "/hub/admin", "/hub/signup")
    }
    assert {path: code for path, code in seen.items() if code not in (403, 404)} == {}
    # A form from elsewhere has the cookies but not the page's token.
    moved = request.post(
        f"{school.url}/hub/api/users/ostrel-{ADA}/tokens", headers={"Origin": "https://elsewhere.example"}
    )
    assert moved.status == 403


def culler_token() -> str:
    (culler,) = running("jupyterhub_idle_culler")
    return culler.environ()["JUPYTERHUB_API_TOKEN"]


def test_a_server_that_is_culled_costs_no_letter(school: RunningSchool, pages: dict[str, Page]) -> None:
    ben = pages[BEN]
    question = "start.read"
    card = answer_card(ben, question)
    card.locator(".ostrel-number").fill("37,")  # not checked yet
    hub = json.loads((school.school / "hub/plan.json").read_text())["ports"][0]
    cull = urllib.request.Request(
        f"http://127.0.0.1:{hub}/hub/api/users/ostrel-{BEN}/server", method="DELETE",
        headers={"Authorization": f"token {culler_token()}"},
    )  # fmt: skip
    with urllib.request.urlopen(cull, timeout=60) as answer:  # noqa: S310 - the hub we started
        assert answer.status in (202, 204)
    ben.reload()
    wait_until_ready(ben)
    assert answer_card(ben, question).locator(".ostrel-number").input_value() == "37,"
    give_answer(ben, question, "37.5")
    assert progress.load(school.home(BEN)).answers[question][-1].text.startswith("37.5")


def test_it_stops_clean(school: RunningSchool, browser: Browser) -> None:
    schools.ask_to_stop(school)
    left = [f"{each.pid} {command(each)[:120]}" for each in school.processes()]
    assert left == []
    with pytest.raises((urllib.error.URLError, OSError)):
        urllib.request.urlopen(school.url, timeout=2)  # noqa: S310
    assert (Path(school.school) / f"homes/ostrel-{ADA}/my-lessons" / progress.FILE).exists()


def test_a_start_that_fails_leaves_nothing_running_and_says_why(school: RunningSchool) -> None:
    page = school.place / "project/grading/hub/class_service.py"
    page.write_text("raise SystemExit(1)\n")
    with (school.place / "again.log").open("w") as log:
        again = schools.start(school.place, log)
        assert again.wait(120) == 1
    said = (school.place / "again.log").read_text()
    assert "The hub stopped, because something went wrong: Service class exited with status 1." in said
    assert [each.pid for each in school.processes()] == []
