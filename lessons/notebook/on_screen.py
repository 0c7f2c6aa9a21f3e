"""What stands on the page of this kernel, with whose numbers; redrawn when somebody signs on, in whichever lesson."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lessons.live.engine import LivePicture
from lessons.live.page_link import PageLink
from lessons.notebook import asked, bank, figures, hand_in_by, lesson_file
from lessons.notebook.asked import Asked
from lessons.questions import markup, progress
from lessons.questions.judge import RIGHT, Reply, judge
from lessons.questions.page_data import MIME, header_data, note_data, question_data, reply_data
from lessons.questions.repetition import NOTHING_DUE

_LOOK_EVERY = 0.5  # s between looks at the two files; a look is two calls of stat
EARLIER = "The reply here was to the earlier numbers. The question above has new ones. Type a new answer."
ONLY_NOW = "This question has only now come up. Read it above, then press Shift+Enter again."


Display = Callable[..., Any]  # IPython's `display`: gives a handle, by which what was shown can be changed


class Html:
    """A piece of a page, with words for places that show no HTML, and as data for a page with controls of its own."""

    def __init__(self, html: str, words: str = "", data: Mapping[str, Any] | None = None) -> None:
        self._html, self._words, self._data = html, words, data

    def _repr_html_(self) -> str:
        return self._html

    def _repr_mimebundle_(self, **_kwargs: Any) -> dict[str, Any]:
        return {MIME: dict(self._data)} if self._data else {}

    def __repr__(self) -> str:
        return self._words


def note(sentence: str) -> Html:
    """Return a sentence to the apprentice."""
    data = {"what": "nothing"} if sentence == NOTHING_DUE else note_data(sentence)
    return Html(markup.note_html(sentence), "", data)


@dataclass
class _Counts:
    handle: Any
    made: str
    make: Callable[[], str]
    wrap: Callable[[str], Any]


@dataclass
class _Question:
    handle: Any
    asked: Asked | None  # None: a sentence stands there, why it cannot be asked
    before: Asked | None = None  # what stood there until it was redrawn, as long as the new numbers have no answer


class OnScreen:
    """The page of one lesson."""

    def __init__(self, display: Display) -> None:
        self._display = display
        self.told: dict[str, str] = {}  # question -> answer that was said to be to earlier numbers
        self._questions: dict[str, _Question] = {}
        self._replies: dict[str, Any] = {}
        self._pictures: dict[tuple[str, str], tuple[LivePicture, Any]] = {}
        self._counts: dict[str, _Counts] = {}
        self._link: PageLink | None = None
        self._timer: asyncio.TimerHandle | None = None
        self._seen: object = None  # the two files as they were at the last look
        self._drawn_for: tuple[str, str] | None = None  # badge and units

    def begin(self, topic: str) -> None:
        """Show the header line, bring lost answers back, and watch for changes from now on."""
        self._drawn_for = self._drawn_for or _who_now()
        self.show_counts(f"header-{topic}", lambda: _header(topic), lambda made: _with_header_data(topic, made))
        if self._link is not None:
            self._link.close()
        self._link = PageLink(answers=self._answers())
        self._watch()

    def show_counts(self, name: str, make: Callable[[], str], wrap: Callable[[str], Any]) -> None:
        """Show counts as `make` says them and `wrap` makes them fit to display; they follow what is written down."""
        made = make()
        self._counts[name] = _Counts(self._display(wrap(made), display_id=name), made, make, wrap)

    def show_question(self, question_id: str) -> None:
        """Show a question with the numbers of whoever works here, or say why it cannot be shown.

        Where it stands already it changes too: both have one display id.
        """
        self._drawn_for = self._drawn_for or _who_now()
        found, shown = _question(question_id)
        handle = self._display(shown, display_id=f"ask-{question_id}", metadata=_mark(found))
        self._questions[question_id] = _Question(handle, found)
        self.told.pop(question_id, None)

    def show_picture(self, name: str, after: str) -> LivePicture:
        """Show a live picture; with `after`, it is locked until that prediction is written down."""
        self._drawn_for = self._drawn_for or _who_now()
        known = progress.load(folder())
        picture = figures.live_picture(name, known.units)
        picture.locked = bool(after) and not known.of(after).recorded
        self._pictures[name, after] = (picture, self._display(picture, display_id=f"live-{name}-{after}"))
        return picture

    def show_reply(self, question_id: str, reply: Reply) -> None:
        """Show what an answer came to, below its box."""
        shown = Html(markup.reply_html(reply), "", reply_data(reply))
        self._replies[question_id] = self._display(shown, display_id=True)

    def asked(self, question_id: str, text: str) -> Asked:
        """Return the question that an answer was given to: as it stands on the page, put there by whichever kernel.

        Raises
        ------
        ValueError
            If it cannot be asked, or was not on the page until now.
        """
        on_page = self._questions.get(question_id)
        if on_page and on_page.asked:
            before, on_page.before = on_page.before, None if text else on_page.before
            return before if before and _was_meant(before, on_page.asked, text) else on_page.asked
        if not on_page and (variant := lesson_file.shown_variant(question_id)):
            return asked.asked_with(Path.cwd(), variant, progress.load(folder()))
        now = asked.asked_now(Path.cwd(), folder(), question_id)
        if on_page:
            self._update(question_id, now, _card(now))
            raise ValueError(ONLY_NOW)
        return now

    def shows(self, question_id: str) -> bool:
        """Tell whether this kernel has put a question on the page."""
        on_page = self._questions.get(question_id)
        return bool(on_page and on_page.asked)

    def is_behind(self, question_id: str, judged: Asked) -> bool:
        """Tell whether somebody else has signed on since the question was shown; then show it as it is now."""
        if question_id not in self._questions and _who(judged) != _who(_question(judged.variant.question)[0]):
            self.show_question(question_id)
        on_page = self._questions.get(question_id)
        return on_page is not None and _who(on_page.asked) != _who(judged)

    def counted(self) -> None:
        """Bring the header up to date and the answers into the lesson's file."""
        self.redraw_counts()
        if self._link is not None:
            self._link.save(self._answers())

    def redraw(self) -> None:
        """Redraw all that has other numbers or units than whoever works here now."""
        now = _who_now()
        if self._drawn_for not in (None, now):
            self._redraw_questions()
            self._redraw_pictures(now[1])
            self.counted()
        self._drawn_for = now
        self.redraw_counts()

    def _redraw_questions(self) -> None:
        for question_id, on_page in self._questions.items():
            # A place keeps the question it has.
            now, shown = _question(on_page.asked.variant.question if on_page.asked else question_id)
            if now is None or _who(now) != _who(on_page.asked):
                self._update(question_id, now, shown)

    def _redraw_pictures(self, units: str) -> None:
        for picture, handle in self._pictures.values():
            if picture.units != units:
                picture.units = units
                handle.update(picture)  # also what is saved of it, for a page without a kernel

    def redraw_counts(self) -> None:
        """Redraw what is counted, where it changed."""
        for counts in self._counts.values():
            if (made := counts.make()) != counts.made:
                counts.made = made
                counts.handle.update(counts.wrap(made))

    def _update(self, question_id: str, now: Asked | None, shown: Html) -> None:
        on_page = self._questions[question_id]
        on_page.before, on_page.asked = on_page.asked, now
        on_page.handle.update(shown, metadata=_mark(now))
        self.told.pop(question_id, None)
        if question_id in self._replies:
            self._replies.pop(question_id).update(note(EARLIER))

    def _answers(self) -> dict[str, str]:
        """Return what was last answered to the present numbers, by the name of its box."""
        known = progress.load(folder())
        boxes = {**{each: each for each in known.answers}, **known.places}
        return {box: texts[-1] for box, each in boxes.items() if (texts := known.of(each).texts)}

    def _watch(self) -> None:
        """Look for changes of the progress and of the lesson's file, as long as the kernel runs."""
        if self._timer is not None:
            self._timer.cancel()
        try:
            self._timer = asyncio.get_running_loop().call_later(_LOOK_EVERY, self._watch)
        except RuntimeError:  # no kernel: a test
            return
        seen = [lesson_file.stamp(each) for each in (folder() / progress.FILE, lesson_file.path())]
        if seen != self._seen:
            self._seen = seen
            self.redraw()


def folder() -> Path:
    """Return the folder whose progress counts here."""
    return progress.home(Path.cwd())


def _who_now() -> tuple[str, str]:
    known = progress.load(folder())
    return known.badge, known.units


def _question(question_id: str) -> tuple[Asked | None, Html]:
    try:
        found = asked.asked_now(Path.cwd(), folder(), question_id)
        return found, _card(found)
    except ValueError as problem:
        return None, note(str(problem))


def _mark(of: Asked | None) -> dict[str, Any]:
    return {lesson_file.VARIANT: of.variant.as_data()} if of else {}


def _was_meant(before: Asked, now: Asked, text: str) -> bool:
    """Tell whether somebody answered the numbers that stood here until a moment ago, and answered them rightly."""
    if before.posed is None or now.posed is None or before.posed.question.kind != "number":
        return False
    return judge(now.posed, text).tag != RIGHT and judge(before.posed, text).tag == RIGHT


def _who(of: Asked | None) -> tuple[str, str] | None:
    return (of.variant.badge, of.variant.units) if of else None


def _card(of: Asked) -> Html:
    sheet, graded = of.drawn, bank.is_work_order(of.variant.question)
    when = hand_in_by.time_for(Path.cwd(), of.variant.badge) if graded else None
    heading = markup.heading(sheet, graded, hand_in_by.in_words(when) if when else "")
    badge = of.variant.badge if graded else ""
    texts = progress.load(folder()).on(of.variant).texts
    data = question_data(
        of.sheet, of.posed, heading=heading, badge=badge, graded=graded, answered=texts[-1] if texts else ""
    )
    return Html(markup.question_html(sheet, heading, badge), markup.question_text(sheet), data)


def _header(topic: str) -> str:
    known = progress.load(folder())
    counts = bank.topic_tally(topic, known, lesson_file.missing(known, topic))
    return markup.header_html(known.badge, known.units, counts)


def _with_header_data(topic: str, html: str) -> Html:
    known = progress.load(folder())
    return Html(html, "", header_data(topic, known.badge, known.units))
