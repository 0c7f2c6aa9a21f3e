"""A job card on the page: boxes for its inputs, the answer large, a picture that moves, a page to take along."""

from __future__ import annotations

import logging
import re
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np

from lessons.card_page import ahead, box_sliders, boxes, data, page_files
from lessons.card_page.card import BadInputError, Card, CardAnswer, defaults
from lessons.card_page.page_files import Filled
from lessons.live.page_script import page_script
from lessons.live.page_widget import PageWidget
from lessons.live.svg_parts import MovingSvg

_PAGE_SIDE = Path(__file__).parent / "page_side"
_LOG = logging.getLogger(__name__)
_NO_NUMBER = re.compile(r"\b(nan|inf)\b")
_TOO_FAR = "One of these numbers is too large or too small to work with."
_FAULT = "The fault is the card's, not yours; tell whoever looks after the lessons"
Problems = dict[str, str]  # field -> what is wrong there; "" where it is no single field's


@dataclass(frozen=True)
class _Worked:
    """What the card makes of its inputs: coordinates and words of the picture, and the answer."""

    inputs: SimpleNamespace
    results: SimpleNamespace
    frame: bytes
    words: list[str]
    answer: CardAnswer


class CardPage(PageWidget):
    """A job card; shown by being the last value of a cell, or by display()."""

    _esm = page_script(_PAGE_SIDE / "card.js")
    _css = _PAGE_SIDE / "card.css"

    def __init__(self, card: Card, units: str, folder: Path, *, lab: bool = True) -> None:
        self._card, self._folder = card, folder
        self._known: dict[str, tuple[str, Any]] = {}  # box -> text written by us and the number behind it
        self._known_in = units
        inputs = defaults(card)
        results = card.compute(inputs)
        figure, self._move = card.picture()
        self._picture = MovingSvg(figure, self._move(inputs, results, units), card.alt)
        self._worked = self._work_out(inputs, results, units)  # the last that could be answered
        said = self._said(self._worked, self._write(inputs, units), units, {})
        shown = {**said, "from": "", "seq": 0, "count": 0, "write": True}
        page = data.page_data(card, self._picture, lab)
        super().__init__(_page=page, _frame=self._worked.frame, _shown=shown)
        self.on_msg(self._heard)

    @property
    def filled(self) -> Filled:
        """The card as it could be answered last."""
        return self._filled(self._worked, self._shown["units"])

    def _filled(self, worked: _Worked, units: str) -> Filled:
        n, r = worked.inputs, worked.results
        inputs = tuple((data.label(f), boxes.said(f, getattr(n, f.name), units)) for f in self._card.fields)
        answer = self._card.answer(n, r, units)
        svg = self._picture.draw(self._move(n, r, units))
        record = self._card.record(n, r) if self._card.record else None
        return Filled(self._card, inputs, answer, svg, self._picture.figure, record)

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        """Give the widget, and for places without a kernel the card as it is now."""
        bundle = super()._repr_mimebundle_(**kwargs)
        data, metadata = bundle if isinstance(bundle, tuple) else (bundle or {}, {})
        return {
            **data,
            "text/html": page_files.still_html(self.filled),
            "text/plain": self._card.title,
        }, metadata

    def _heard(self, _widget: object, message: dict[str, Any], _buffers: object) -> None:
        """Answer the page."""
        if message["kind"] == "ask":
            self._ask(message)
        elif message["kind"] == "ahead":
            self.in_slices(self._ahead(message))
        elif message["kind"] == "save":
            self._save(message)

    def _ask(self, message: Mapping[str, Any]) -> None:
        """Answer what stands in the boxes; where other units are wanted write the numbers in them.

        A box that cannot be read keeps its text.
        """
        units, to = message["units"], message["to"]
        texts = {key: _clean(text) for key, text in message["texts"].items()}
        inputs, found = self._found(texts, units, to)
        if to != units:
            texts |= self._write(inputs, to)
        worked, problems = (found, {}) if isinstance(found, _Worked) else (None, found)
        self._worked = worked or self._worked
        said = self._said(worked, texts, to, problems)
        about = {"from": message["from"], "seq": message["seq"], "count": self._shown["count"] + 1}
        self.answer(self._worked.frame, {**said, **about, "write": to != units})

    def _found(self, texts: Mapping[str, str], units: str, to: str) -> tuple[SimpleNamespace, _Worked | Problems]:
        """Read the boxes and work them out, with no word to the page; whatever happens becomes a sentence."""
        inputs = SimpleNamespace()
        try:
            known = self._known if units == self._known_in else {}
            inputs, problems = boxes.read_boxes(self._card, texts, units, known)
            return inputs, problems or self._work_out(inputs, self._card.compute(inputs), to)
        except BadInputError as problem:
            return inputs, {problem.name: str(problem)}
        except (ValueError, ArithmeticError) as problem:
            return inputs, {"": f"These numbers do not go together: {str(problem).rstrip('.')}."}
        except Exception as problem:
            _LOG.debug("card %s, boxes %s in %s", self._card.name, texts, units, exc_info=True)
            return inputs, {"": f"This card cannot work these numbers out. {_fault(problem)}"}

    def _work_out(self, inputs: SimpleNamespace, results: SimpleNamespace, units: str) -> _Worked:
        frame, words = self._picture.frame(self._move(inputs, results, units))
        answer = self._card.answer(inputs, results, units)
        if np.isinf(frame).any() or _NO_NUMBER.search(f"{answer.headline} {answer.rows} {answer.formula}"):
            raise BadInputError("", _TOO_FAR)
        return _Worked(inputs, results, frame.tobytes(), words, answer)

    def _ahead(self, message: Mapping[str, Any]) -> Iterator[bool]:
        """Send what the card would say along a slider that was taken in hand."""
        name, units, texts = message["field"], message["units"], message["texts"]
        field = next(field for field in self._card.fields if field.name == name)
        now = box_sliders.slider_places((field,), self._worked.inputs, units)[name]

        def answer(text: str) -> ahead.Answer | None:
            there = {**texts, name: text}
            _, found = self._found(there, units, units)
            if not isinstance(found, _Worked):
                return None  # asked for alone, it gives its sentence
            return found.frame, self._said(found, there, units, {})

        for content, frames in ahead.messages(answer, ahead.spots(field, units, now), message["key"]):
            self.send(content, [frames])
            yield True

    def _write(self, inputs: SimpleNamespace, units: str) -> dict[str, str]:
        texts: dict[str, str] = {}
        self._known, self._known_in = {}, units  # what was written in the other units counts no more
        for field in self._card.fields:
            if not hasattr(inputs, field.name):
                continue
            value = getattr(inputs, field.name)
            written = boxes.write_boxes(field, value, units)
            numbers = value if field.boxes and value is not None else (value,) * len(written)
            self._known |= {key: (text, n) for (key, text), n in zip(written.items(), numbers, strict=True)}
            texts |= written
        return texts

    def _said(self, worked: _Worked | None, texts: dict[str, str], units: str, problems: Problems) -> dict[str, Any]:
        """Return what the page shows: no answer where there is none, never the last one."""
        places = box_sliders.slider_places(self._card.fields, (worked or self._worked).inputs, units)
        answer, words = (data.plain(worked.answer), worked.words) if worked else (None, [])
        said = {"answer": answer, "words": words, "problems": problems}
        return {**said, "texts": texts, "places": places, "units": units}

    def _save(self, message: Mapping[str, Any]) -> None:
        """Write the page to take along into the working copy, and hand the files to the browser too."""
        said, files = self._saved(message)
        content = {"kind": "saved", "seq": message["seq"], "files": [name for name, _ in files], "said": said}
        self.send(content, [content for _, content in files])

    def _saved(self, message: Mapping[str, Any]) -> tuple[str, list[tuple[str, bytes]]]:
        """Write what stands in the boxes now, which may not be what was answered last; say so, and return the files."""
        units = message["units"]
        _, found = self._found(message["texts"], units, units)
        if not isinstance(found, _Worked):
            return "Nothing was saved. First correct what is marked above.", []
        about = {each: _clean(message.get(each, ""))[:80] for each in ("tag", "who")}
        paper, now = message.get("paper", "A4"), time.localtime()
        try:
            paths = page_files.take_along(self._filled(found, units), self._folder, paper, now, **about)
            written = [(path.name, path.read_bytes()) for path in paths]
        except OSError as problem:
            return f"The files cannot be written: {problem.strerror}.", []
        except Exception as problem:
            _LOG.debug("page of card %s", self._card.name, exc_info=True)
            return f"Nothing was saved: the page cannot be made. {_fault(problem)}", []
        return f"Saved in {paths[0].parent.relative_to(self._folder)} of your lessons folder.", written


def _clean(text: Any) -> str:
    """Take out of a text what cannot be written or sent on: halves of a character."""
    return str(text).encode("utf-8", "replace").decode("utf-8")


def _fault(problem: Exception) -> str:
    return f"{_FAULT}: {type(problem).__name__} {problem}".rstrip(" .") + "."
