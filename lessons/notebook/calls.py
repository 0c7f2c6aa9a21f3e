"""What a lesson notebook calls: `begin`, `ask`, `%%answer`, `live`, `sign_on`. The only module that imports IPython."""

from __future__ import annotations

import importlib
import os
from datetime import datetime
from pathlib import Path
from typing import Any, NamedTuple

from IPython.core.getipython import get_ipython
from IPython.core.magic import no_var_expand
from IPython.display import HTML, Markdown, display

from lessons import safety
from lessons.notebook import bank, figures, hand_in_by, lesson_file, overview, slips
from lessons.notebook.asked import Asked
from lessons.notebook.on_screen import OnScreen, folder, note
from lessons.notebook.sign_on_form import sign_on_form
from lessons.questions import progress, reading
from lessons.questions.judge import HINT, RECORDED, UNREADABLE, Reply, acknowledge, judge
from lessons.questions.renamed import present_id

__all__ = ["ask", "begin", "card", "dashboard", "glossary", "isolation", "job_cards", "live", "picture", "sign_on"]

OTHER_NUMBERS = ("other numbers", "new")  # what is typed to get them; "new" as in earlier working copies
# Set by the instructor's side while nbgrader runs a hand-in: "module:function" from question id to marks. A name and
# not an import, because the lessons never import the instructor's side.
MARKER = "LESSONS_MARKER"
_TO_EARLIER = (
    "That is your answer to the earlier numbers. This question has new ones: type a new answer over it, or press "
    "Shift+Enter once more if it is your answer to these too."
)
_SIGNED_ON_SINCE = (
    "That was read as an answer to the numbers you saw. Since then the badge or the units have changed. "
    "The question now shows the present numbers: answer those too."
)

MOST_HINTS = 2  # after the idea and the step with these numbers, the example stays


class Typed(NamedTuple):
    """An answer as it was given: its text, and how sure it was said to be."""

    text: str
    sure: bool | None


_screen = OnScreen(display)
_waiting: dict[str, list[Any]] = {}  # prediction id -> live pictures that unlock when it is answered
_guard = slips.Guard(__all__)


def begin(topic: str) -> None:
    """Show the header line of a lesson; its topic is the first part of its questions' ids."""
    ready()
    _guard.on = True
    _screen.begin(topic)
    if not bank.on_the_list(Path.cwd(), progress.load(folder()).badge):
        _say("This work order knows another badge. Sign on with the badge it was given out for.")
        sign_on()


def ready() -> None:
    """Make `%%answer` known to this kernel, and have slips of the hand answered with a sentence."""
    shell = get_ipython()
    if shell is not None and "answer" not in shell.magics_manager.magics["cell"]:
        shell.register_magic_function(_answer_magic, "cell", "answer")  # type: ignore[arg-type]  # typed as a shell
        _guard.stand_before(shell, lambda said: _say(said))
        _guard.on = lesson_file.is_lesson()


def isolation() -> None:
    """Show the one order of isolation."""
    display(Markdown(safety.as_markdown()))


def sign_on() -> None:
    """Show the form for badge number and units."""
    display(sign_on_form(folder(), _screen.redraw))


def dashboard() -> None:
    """Show what is done in all lessons, what comes back today and what needs another look."""
    _screen.show_counts("dashboard", _dashboard, Markdown)


def _dashboard() -> str:
    known = progress.load(folder())
    hand_in = hand_in_by.all_due(folder(), known.badge)
    return overview.dashboard_text(known, datetime.now().astimezone(), hand_in)


def glossary() -> None:
    """Show every word the lessons explain."""
    display(Markdown(overview.glossary_text()))


def card(name: str) -> None:
    """Show a job card."""
    from lessons import cards  # here, because lessons do without
    from lessons.card_page import page  # here, because lessons do without

    try:
        units = progress.load(folder()).units
        display(page.CardPage(cards.card_named(name), units, folder()))
    except ValueError as problem:
        _say(str(problem))


def job_cards() -> None:
    """Show the job cards by what is in front of the reader, and a box to find them by a word."""
    from lessons.notebook import search

    display(search.search_box())
    display(Markdown(search.index()))


def ask(question_id: str) -> float | None:
    """Show a question with this apprentice's numbers; under marking, end with the marks instead."""
    question_id = present_id(question_id)
    marker = os.environ.get(MARKER)
    if marker and bank.is_work_order(question_id):
        module, _, function = marker.partition(":")
        return float(getattr(importlib.import_module(module), function)(question_id))
    _screen.show_question(question_id)
    return None


def live(name: str, after: str = "") -> None:
    """Show a live picture; with `after`, its sliders unlock once that prediction is written down."""
    name = figures.FORMER.get(name, name)
    shown = _screen.show_picture(name, after)
    if after:
        _waiting.setdefault(after, []).append(shown)
    if name in safety.BESIDE:
        display(Markdown(f"*{safety.BESIDE[name]}*"))


def picture(name: str, *, travel: float = 0.5, names: bool = True) -> None:
    """Show a still cut-away."""
    display(HTML(figures.still_picture(name, travel=travel, names=names)))


def answer(question_id: str, text: str) -> None:
    """Judge an answer by the numbers it was given to, write it down and show the reply."""
    question_id, text = present_id(question_id), text.strip()
    if os.environ.get(MARKER) or not (text or _screen.shows(question_id)):
        return
    try:
        given_to = _screen.asked(question_id, text)
        _screen.redraw()
        if text:
            _answer(question_id, given_to, text)
        else:
            _show_again(question_id, given_to)
    except ValueError as problem:
        _say(str(problem))
    _screen.redraw_counts()


def _answer(question_id: str, given_to: Asked, text: str) -> None:
    known = progress.load(folder()).on(given_to.variant)
    text, sure = (text, None) if given_to.sheet.kind == "written" else reading.sureness(text)
    if text.lower() in OTHER_NUMBERS and given_to.posed:
        _give_new_numbers(question_id, given_to)
    elif _is_to_earlier(question_id, known, text):
        _screen.told[question_id] = text
        _say(_TO_EARLIER)
    else:
        reply = _reply_to(given_to, known, text)
        _screen.show_reply(question_id, reply)
        _count(question_id, given_to, known, Typed(text, sure), reply)
    if _screen.is_behind(question_id, given_to):
        _say(_SIGNED_ON_SINCE)


def _is_to_earlier(question_id: str, known: progress.QuestionHistory, text: str) -> bool:
    """Tell whether running all cells may have brought an answer to other numbers here once more."""
    return text in known.old_texts and text not in known.texts and _screen.told.get(question_id) != text


def _reply_to(given_to: Asked, known: progress.QuestionHistory, text: str) -> Reply:
    """Judge by the key, where it is here; the same answer run again is answered as it was, but is no new try."""
    if given_to.posed is None:
        return acknowledge(given_to.sheet, text)
    tries = known.texts.index(text) if text in known.texts else known.tries
    return judge(given_to.posed, text, tries, min(known.hints, MOST_HINTS))


def _show_again(question_id: str, given_to: Asked) -> None:
    """Answer an empty box with what was answered before, as its text may have been lost; a blank one says nothing."""
    known = progress.load(folder()).on(given_to.variant)
    if known.texts:
        reply = _reply_to(given_to, known, known.texts[-1])
        _screen.show_reply(question_id, reply)
        _say(f"This is your last answer, kept from before: “{known.texts[-1]}”.")


def _count(question_id: str, given_to: Asked, known: progress.QuestionHistory, given: Typed, reply: Reply) -> None:
    """Write an answer down that could be read, or that a hint was asked for, and do what follows from it."""
    text, variant = given.text, given_to.variant
    if reply.tag == UNREADABLE:
        return
    if reply.tag == HINT:
        if known.hints < MOST_HINTS:
            progress.record_hint(folder(), variant)
        return
    if text not in known.texts:
        progress.record(folder(), variant.question, text, reply.tag, reply.score, variant, sure=given.sure)
        _screen.counted()
    if reply.tag == RECORDED:
        for waiting in _waiting.get(question_id, ()):
            waiting.locked = False
    if reply.fresh and text not in known.texts:
        _give_new_numbers(question_id, given_to)


def _give_new_numbers(question_id: str, given_to: Asked) -> None:
    progress.new_numbers(folder(), given_to.variant.question)
    _screen.show_question(question_id)


@no_var_expand  # what is typed is never run, not even in braces
def _answer_magic(line: str, cell: str) -> None:
    """`%%answer <question id>` and below it the answer in plain words."""
    question_id, _, beside = line.strip().partition(" ")
    if beside.strip():
        _say(slips.BESIDE)
    elif question_id:
        answer(question_id, cell)
    else:
        _say(slips.LOST_NAME)


def _say(sentence: str) -> None:
    display(note(sentence))
