"""What a lesson notebook calls: `begin`, `ask`, `%%answer`, `live`, `sign_on`. The only module that imports IPython."""

from __future__ import annotations

import importlib
import os
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from IPython.core.getipython import get_ipython
from IPython.display import HTML, DisplayHandle, Markdown, display

from lessons import bank, figures, overview, progress, question_html, safety, slips
from lessons.judge import RECORDED, UNREADABLE, Reply, acknowledge, judge
from lessons.question import Posed, Sheet, pose
from lessons.repetition import NOTHING_DUE, is_place, question_at
from lessons.sign_on import sign_on_form
from lessons.still import drawing_of

__all__ = ["ask", "begin", "card", "dashboard", "glossary", "isolation", "job_cards", "live", "picture", "sign_on"]

# Set by the instructor's side while nbgrader runs a hand-in: "module:function" from question id to marks. A name and
# not an import, because the lessons never import the instructor's side.
MARKER = "LESSONS_MARKER"

_waiting: dict[str, list[Any]] = {}  # prediction id -> live pictures that unlock when it is answered
_headers: dict[str, DisplayHandle] = {}
_questions: dict[str, DisplayHandle] = {}


def begin(topic: str) -> None:
    """Show the header line of a lesson; its topic is the first part of its questions' ids."""
    ready()
    _headers[topic] = display(HTML(_header(topic)), display_id=f"header-{topic}")
    if not bank.on_the_list(Path.cwd(), _badge()):
        _say("This work order knows another badge. Sign on, then choose Run, Run All Cells once more.")
        sign_on()


def ready() -> None:
    """Make `%%answer` known to this kernel, and have slips of the hand answered with a sentence."""
    shell = get_ipython()
    if shell is not None and "answer" not in shell.magics_manager.magics["cell"]:
        shell.register_magic_function(_answer_magic, "cell", "answer")
        slips.answer_with_a_sentence(shell, lambda said: _say(said))


def isolation() -> None:
    """Show the one order of isolation."""
    display(Markdown(safety.as_markdown()))


def sign_on() -> None:
    """Show the form for badge number and units."""
    display(sign_on_form(_folder(), _refresh))


def dashboard() -> None:
    """Show what is done in all lessons, what is due again and which ideas look shaky."""
    display(Markdown(overview.dashboard(progress.load(_folder()), datetime.now().astimezone())))


def glossary() -> None:
    """Show every word the lessons explain."""
    display(Markdown(overview.glossary()))


def card(name: str) -> None:
    """Show a job card."""
    from lessons import card_page, cards_of  # here, because lessons do without

    try:
        units = progress.load(_folder()).units
        display(card_page.CardPage(cards_of.card(name), units, _folder(), lab=not _code_free()))
    except ValueError as problem:
        _say(str(problem))


def job_cards() -> None:
    """Show the job cards by what is in front of the reader, and a box to find them by a word."""
    from lessons import card_index

    display(card_index.search_box(lab=not _code_free()))
    display(Markdown(card_index.index()))


def ask(question_id: str) -> float | None:
    """Show a question with this apprentice's numbers; under marking, end with the marks instead."""
    marker = os.environ.get(MARKER)
    if marker and bank.is_work_order(question_id):
        module, _, function = marker.partition(":")
        return float(getattr(importlib.import_module(module), function)(question_id))
    try:
        _questions[question_id] = display(_card(_sheet(question_id)), display_id=f"ask-{question_id}")
    except ValueError as problem:
        _say(str(problem))
    return None


def live(name: str, after: str = "") -> None:
    """Show a live picture; with `after`, its sliders unlock once that prediction is written down."""
    known = progress.load(_folder())
    shown = figures.live_picture(name, known.units)
    if after:
        shown.locked = not known.of(after).recorded
        _waiting.setdefault(after, []).append(shown)
    display(shown)
    if name in safety.BESIDE:
        display(Markdown(f"*{safety.BESIDE[name]}*"))


def picture(name: str, *, travel: float = 0.5, names: bool = True) -> None:
    """Show a still cut-away."""
    display(HTML(figures.still_picture(name, travel=travel, names=names)))


def answer(question_id: str, text: str) -> None:
    """Judge an answer, write it down and show the reply; a blank one says nothing."""
    text = text.strip()
    if os.environ.get(MARKER) or not text:
        return
    try:
        released = bank.released_sheet(Path.cwd(), _badge(), question_id)
        if released:
            _reply(question_id, text, acknowledge(released, text))
        elif text.lower() == "new":
            _give_new_numbers(question_id)
        else:
            _judge(_posed(question_id), text)
    except ValueError as problem:
        _say(str(problem))
    _refresh()


def _judge(posed: Posed, text: str) -> None:
    """Judge by the key; running the same answer again is answered again, but is no new try."""
    known = progress.load(_folder()).of(posed.question.id)
    if text in known.old_texts and text not in known.texts:
        _say("That is your answer to the earlier numbers. This question has new ones: type a new answer over it.")
        return
    reply = judge(posed, text, known.texts.index(text) if text in known.texts else known.tries)
    _reply(posed.question.id, text, reply)
    if reply.fresh and text not in known.texts:
        _give_new_numbers(posed.question.id)


def _reply(question_id: str, text: str, reply: Reply) -> None:
    display(HTML(question_html.reply_html(reply)))
    if reply.tag == UNREADABLE:
        return
    if text not in progress.load(_folder()).of(question_id).texts:
        progress.record(_folder(), question_id, text, reply.tag, reply.score)
    if reply.tag == RECORDED:
        for waiting in _waiting.get(question_id, ()):
            waiting.locked = False


def _give_new_numbers(question_id: str) -> None:
    # An unknown question is refused here, before anything is written down.
    progress.new_numbers(_folder(), _posed(question_id).question.id)
    card = _card(_sheet(question_id))
    display(card)
    if question_id in _questions:
        _questions[question_id].update(card)


def _answer_magic(line: str, cell: str) -> None:
    """`%%answer <question id>` and below it the answer in plain words."""
    answer(line.strip(), cell) if line.strip() else _say(slips.LOST_NAME)


def _sheet(question_id: str) -> Sheet:
    released = bank.released_sheet(Path.cwd(), _badge(), question_id)
    if released:
        return released
    posed = _posed(question_id)
    return replace(posed.sheet, svg=drawing_of(posed))


def _posed(question_id: str) -> Posed:
    if is_place(question_id):
        question_id = _comes_back(question_id)
    question = bank.question(question_id)
    if question is None:
        raise ValueError(bank.why_missing(question_id))
    known = progress.load(_folder())
    return pose(question, known.badge, known.units, known.of(question_id).turn)


def _comes_back(place: str) -> str:
    """Return the question of an earlier lesson that a place points to; put one there if one is due."""
    known, now = progress.load(_folder()), datetime.now().astimezone()
    found = question_at(place, bank.earlier_questions(place.partition(".")[0]), known, now)
    if found is None:
        raise ValueError(NOTHING_DUE)
    question_id, newly = found
    if newly:
        progress.put_in_place(_folder(), place, question_id)
    return question_id


def _card(sheet: Sheet) -> HTML:
    graded = bank.is_work_order(sheet.id)
    heading = question_html.heading(sheet, graded)
    return _Card(sheet, question_html.question_html(sheet, heading, _badge() if graded else ""))


class _Card(HTML):
    """A question card that also has words for places without HTML."""

    def __init__(self, sheet: Sheet, html: str) -> None:
        super().__init__(html)
        self._text = question_html.question_text(sheet)

    def __repr__(self) -> str:
        return self._text


def _header(topic: str) -> str:
    known = progress.load(_folder())
    return question_html.header_html(known.badge, known.units, bank.tally(topic, known))


def _refresh() -> None:
    for topic, handle in _headers.items():
        handle.update(HTML(_header(topic)))


def _say(sentence: str) -> None:
    display(HTML(question_html.note_html(sentence)))


def _code_free() -> bool:
    """Tell whether only the cards are served, as pages without code."""
    return os.environ.get("SERVER_SOFTWARE", "").startswith("voila")


def _badge() -> str:
    return progress.load(_folder()).badge


def _folder() -> Path:
    return progress.home(Path.cwd())
