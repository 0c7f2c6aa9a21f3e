"""Turns a handed-in notebook, as data, into marks. Runs nothing that was handed in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from grading.course.roster import Apprentice
from grading.given_out.decisions import EVERYBODY, NOBODY
from grading.given_out.kept_question import GivenQuestion
from grading.handins.handin import HandIn, answers
from lessons.questions.judge import RIGHT, UNREADABLE, Reply, judge, read_answer
from lessons.questions.question import Posed, Question, pose_variant, variant_index
from lessons.questions.reading import asks_for_hint
from lessons.units.readout import counted

BLANK = "blank"
MISSING = "missing"
WRITTEN = "written"
WITHDRAWN = "withdrawn"
LONGEST = 4_000  # characters; a written answer is a paragraph, any other a line
_SHORT, _MOST_REPLIES = 40, 4_000  # characters of an answer whose reply is kept; replies kept
_TAKEN = "Right: your instructor takes this answer as right too."
_WITHDRAWN = {
    NOBODY: Reply(0.0, WITHDRAWN, "", "Your instructor withdrew this question. It does not count for anybody."),
    EVERYBODY: Reply(1.0, WITHDRAWN, "", "Your instructor withdrew this question. Everybody has its points."),
}


@dataclass(frozen=True)
class Mark:
    """The marks of one question, and why."""

    question: str
    text: str
    reply: Reply
    points: float  # to be had
    remark: str = ""
    asked: Posed | None = None  # the question with this badge's numbers, where a person may look at it

    @property
    def score(self) -> float:
        """The points earned; nbgrader takes neither less than none nor more than all."""
        return min(max(self.points * self.reply.score, 0.0), self.points)

    @property
    def waits(self) -> bool:
        """Whether a person has to read this answer."""
        return self.reply.tag in (UNREADABLE, WRITTEN)


def mark_answers(handin: HandIn, questions: Sequence[Question], person: Apprentice) -> list[Mark]:
    """Mark every graded question of a lesson."""
    found = answers(handin, [question.id for question in questions])
    marks = []
    for question in questions:
        answer = found[question.id]
        if answer.found or _withdrawn(question):
            reply = judged(question, person.badge, person.units, answer.text)
        else:
            reply = Reply(0.0, MISSING, "The notebook you handed in has no cell for this answer.")
        this = posed(question, person.badge, person.units)
        marks.append(Mark(question.id, answer.text[:LONGEST], reply, question.points, answer.remark, this))
    return marks


def judged(question: Question, badge: str, units: str, text: str) -> Reply:
    """Judge one answer with the numbers of one badge; the same for the marking and for the oracle."""
    if _withdrawn(question):
        return _WITHDRAWN[_withdrawn(question)]
    if is_blank(question, text):
        return Reply(0.0, BLANK, "No answer.")
    if question.kind == WRITTEN:
        return Reply(
            0.0, WRITTEN, f"Read: {counted(len(text.split()), 'word')}.", "Your instructor will read this answer."
        )
    if len(text) > LONGEST:
        return Reply(
            0.0,
            UNREADABLE,
            f"The answer has {counted(len(text), 'character')}, more than {LONGEST}, so it was not read.",
        )
    this = posed(question, badge, units)
    reply = _reply(this, text)
    return Reply(1.0, RIGHT, reply.read, _TAKEN) if _accepted(question, this, reply, text) else reply


def _reply(this: Posed, text: str) -> Reply:
    """Return the reply to an answer; a short one, which many of a class give, is judged once."""
    key = (id(this), text)  # stays true: what is posed is kept too, see posed_variant
    reply = _replies.get(key)
    if reply is None:
        reply = judge(this, text)
        if len(_replies) >= _MOST_REPLIES:
            _replies.clear()
        if len(text) <= _SHORT:
            _replies[key] = reply
    return reply


def is_blank(question: Question, text: str) -> bool:
    """Tell whether nothing was answered: no words, or a cry for help only."""
    return not text.strip() or (question.kind != WRITTEN and asks_for_hint(text))


def _withdrawn(question: Question) -> str:
    return question.withdrawn if isinstance(question, GivenQuestion) else ""


def _accepted(question: Question, this: Posed, reply: Reply, text: str) -> bool:
    """Tell whether an answer is one that the instructor takes as right too."""
    if not isinstance(question, GivenQuestion) or not question.accepted or reply.tag in (RIGHT, UNREADABLE):
        return False
    picked = read_answer(this.sheet, text)
    return isinstance(picked, tuple) and len(picked) == 1 and this.names[picked[0]] in question.accepted


def forget_replies() -> None:
    """Begin anew: replies are kept for one marking run."""
    _replies.clear()


def judged_variant(question: Question, index: int, units: str, text: str) -> Reply:
    """Judge one answer with the numbers of one variant."""
    return _reply(posed_variant(question, index, units), text)


def posed(question: Question, badge: str, units: str) -> Posed:
    """Return the question with the numbers of one badge."""
    return posed_variant(question, index_of(question, badge), units)


def index_of(question: Question, badge: str) -> int:
    """Return which variant a badge has: the one it was given, where the question was given out."""
    if isinstance(question, GivenQuestion):
        return question.dealt[badge]
    return variant_index(question.id, badge, 0, len(question.variants))


def posed_variant(question: Question, index: int, units: str) -> Posed:
    """Return one variant, worked out once; a class shares the few there are."""
    key = (
        id(question),
        index,
        units,
    )  # stays true: what is kept holds the question, so its id is not given again
    if key not in _variants:
        pose = question.pose if isinstance(question, GivenQuestion) else partial(pose_variant, question)
        _variants[key] = pose(index, units)
    return _variants[key]


_variants: dict[tuple[int, int, str], Posed] = {}
_replies: dict[tuple[int, str], Reply] = {}
