"""Names questions in words: by their number on the work order and by what they ask."""

from __future__ import annotations

import re
from collections.abc import Iterable

from grading.course import plain
from lessons.questions.question import Question

_NUMBER = re.compile(r"\{[^{}]*\}")
_SENTENCE_END = re.compile(r"(?<=[.?!:])\s")
_ID = re.compile(r"(?:\bquestion )?(?<![\w.])(?P<id>\w++\.\w++)")
_SHORT, _LONGEST = 45, 110  # letters


class QuestionsInWords:
    """The questions of a lesson, as a reader of a report knows them."""

    def __init__(self, questions: Iterable[Question]) -> None:
        listed = list(questions)
        self.number = {question.id: n for n, question in enumerate(listed, start=1)}
        self._asks = {question.id: what_it_asks(question) for question in listed}

    def short(self, question_id: str) -> str:
        """Return the number of a question, such as “question 2”."""
        return f"question {self.number[question_id]}" if question_id in self.number else question_id

    def long(self, question_id: str) -> str:
        """Return the number of a question and what it asks."""
        asks = self._asks.get(question_id)
        return f"{self.number[question_id]}. {asks}" if asks else question_id

    def said(self, sentence: str) -> str:
        """Return a sentence that names questions by number and not by id."""
        return _ID.sub(lambda found: self.short(found["id"]) if found["id"] in self.number else found[0], sentence)


def what_it_asks(question: Question) -> str:
    """Return what a question asks, in its own words and without its numbers.

    >>> what_it_asks(Question("x", "number", "A plug of {area} sees {dp}. What force is left on it?", ()))
    'A plug of … sees … . What force is left on it?'
    """
    words = " ".join(_NUMBER.sub("…", question.text).replace("….", "… .").split())
    sentences = _SENTENCE_END.split(words)
    asks = ([each for each in sentences if each.endswith("?")] or sentences)[-1]
    if len(asks) < _SHORT and asks != sentences[0]:
        room = _LONGEST - len(asks) - 2
        asks = f"{plain.line(sentences[0], room)} {asks}"
    return plain.line(asks, _LONGEST)
