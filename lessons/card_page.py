"""A job card on the page: boxes for its inputs, the answer large, a picture that moves, a page to take along."""

from __future__ import annotations

import time
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from lessons import card_ahead, card_files, card_inputs, card_sliders
from lessons.answering import Answering
from lessons.card import DECIDES, SIGNS, Answer, BadInputError, Card, Field, defaults
from lessons.card_files import Filled
from lessons.sliders import UNIT_SETS
from lessons.svg_parts import Picture

_HERE = Path(__file__).parent
Answered = tuple[bytes, list[str], dict[str, Any]]
_STALE = "This answer is for the numbers that could be read last."


class CardPage(Answering):
    """A job card; shown by being the last value of a cell, or by display()."""

    _esm = "".join((_HERE / name).read_text("utf-8") for name in ("drawing.js", "card_boxes.js", "card.js"))
    _css = _HERE / "card.css"

    def __init__(self, card: Card, units: str, folder: Path, *, lab: bool = True) -> None:
        self._card, self._folder = card, folder
        self._known: dict[str, tuple[str, Any]] = {}  # box -> text written by us and the number behind it
        self._inputs = defaults(card)
        self._results = card.compute(self._inputs)
        figure, self._move = card.picture()
        self._picture = Picture(figure, self._move(self._inputs, self._results, units), card.alt)
        self._latest = self._answered(self._inputs, self._results, units)
        shown = self._message(self._write(self._inputs, units), units, {}, "", 0, 0, write=True)
        page = _page_data(card, self._picture, lab)
        super().__init__(_page=page, _frame=self._latest[0], _shown=shown)
        self.on_msg(self._heard)

    @property
    def filled(self) -> Filled:
        """The card as it is answered now."""
        units = self._shown["units"]
        inputs = tuple(
            (_label(f), card_inputs.said(f, getattr(self._inputs, f.name), units)) for f in self._card.fields
        )
        answer = self._card.answer(self._inputs, self._results, units)
        svg = self._picture.draw(self._move(self._inputs, self._results, units))
        record = self._card.record(self._inputs, self._results) if self._card.record else None
        return Filled(self._card, inputs, answer, svg, self._picture.figure, record)

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        """Give the widget, and for places without a kernel the card as it is now."""
        bundle = super()._repr_mimebundle_(**kwargs)
        data, metadata = bundle if isinstance(bundle, tuple) else (bundle, {})
        return {
            **data,
            "text/html": card_files.still_html(self.filled),
            "text/plain": self._card.title,
        }, metadata

    def _heard(self, _widget: object, message: dict[str, Any], _buffers: object) -> None:
        """Answer the page."""
        if message["kind"] == "type":
            self._type(message["texts"], message["units"], message["from"], message["seq"])
        elif message["kind"] == "units":
            self._switch(message["texts"], message["units"], message["from"], message["seq"])
        elif message["kind"] == "ahead":
            self.in_slices(self._ahead(message))
        elif message["kind"] == "save":
            self._save(message)

    def _type(self, texts: Mapping[str, str], units: str, sender: str, seq: int) -> None:
        inputs, problems = card_inputs.read(self._card, texts, units, self._known)
        problems = problems or self._take(inputs, units)
        self._show(dict(texts), units, problems, sender, seq, write=False)

    def _switch(self, texts: Mapping[str, str], units: str, sender: str, seq: int) -> None:
        """Write the numbers in the other unit set; a box that cannot be read keeps its text."""
        inputs, problems = card_inputs.read(self._card, texts, self._shown["units"], self._known)
        problems = problems or self._take(inputs, units)
        self._show({**texts, **self._write(inputs, units)}, units, problems, sender, seq, write=True)

    def _take(self, inputs: SimpleNamespace, units: str) -> dict[str, str]:
        """Take the inputs if they go together, else say which does not; whatever happens, the page stays."""
        try:
            results = self._card.compute(inputs)
            latest = self._answered(inputs, results, units)
        except BadInputError as problem:
            return {problem.name: str(problem)}
        except (ValueError, ArithmeticError) as problem:
            return {"": f"These numbers do not go together: {problem}"}
        self._inputs, self._results, self._latest = inputs, results, latest
        return {}

    def _answered(self, inputs: SimpleNamespace, results: SimpleNamespace, units: str) -> Answered:
        """Return coordinates and words of the picture, and the answer."""
        frame, words = self._picture.frame(self._move(inputs, results, units))
        return frame.tobytes(), words, _plain(self._card.answer(inputs, results, units))

    def _ahead(self, message: Mapping[str, Any]) -> Iterator[bool]:
        """Send what the card would say along a slider that was taken in hand."""
        name, units, texts = message["field"], message["units"], message["texts"]
        field = next(field for field in self._card.fields if field.name == name)
        now = card_sliders.places((field,), self._inputs, units)[name]

        def answer(text: str) -> card_ahead.Answer | None:
            there = {**texts, name: text}
            inputs, problems = card_inputs.read(self._card, there, units, self._known)
            if problems:
                return None
            try:
                latest = self._answered(inputs, self._card.compute(inputs), units)
            except (ValueError, ArithmeticError):  # asked for alone, it gives its sentence
                return None
            return latest[0], self._said(latest, inputs, there, units, {})

        for content, frames in card_ahead.messages(answer, card_ahead.spots(field, units, now), message["key"]):
            self.send(content, [frames])
            yield True

    def _write(self, inputs: SimpleNamespace, units: str) -> dict[str, str]:
        texts: dict[str, str] = {}
        self._known = {}  # what was written in the other units counts no more
        for field in self._card.fields:
            if not hasattr(inputs, field.name):
                continue
            value = getattr(inputs, field.name)
            written = card_inputs.write(field, value, units)
            numbers = value if field.boxes and value is not None else (value,) * len(written)
            self._known |= {key: (text, n) for (key, text), n in zip(written.items(), numbers, strict=True)}
            texts |= written
        return texts

    def _show(
        self,
        texts: dict[str, str],
        units: str,
        problems: dict[str, str],
        sender: str,
        seq: int,
        *,
        write: bool,
    ) -> None:
        if problems:
            self._latest = self._answered(self._inputs, self._results, units)
        count = self._shown["count"] + 1
        self.answer(self._latest[0], self._message(texts, units, problems, sender, seq, count, write=write))

    def _message(
        self, texts: dict[str, str], units: str, problems: dict[str, str], sender: str, seq: int, count: int,
        *, write: bool,
    ) -> dict[str, Any]:  # fmt: skip
        """Return what the page shows, and what of the page's it answers."""
        said = self._said(self._latest, self._inputs, texts, units, problems)
        return {**said, "from": sender, "seq": seq, "count": count, "write": write}

    def _said(
        self, latest: Answered, inputs: SimpleNamespace, texts: dict[str, str], units: str, problems: dict[str, str]
    ) -> dict[str, Any]:
        _, words, answer = latest
        places = card_sliders.places(self._card.fields, inputs, units)
        said = {"answer": answer, "words": words, "stale": _STALE if problems else "", "problems": problems}
        return {**said, "texts": texts, "places": places, "units": units}

    def _save(self, message: Mapping[str, Any]) -> None:
        """Write the page to take along into the working copy, and hand the files to the browser too."""
        if self._shown["problems"]:
            self.send({"kind": "saved", "files": [], "said": "First mend the boxes marked above."})
            return
        about = {each: str(message.get(each, ""))[:80] for each in ("tag", "who")}
        try:
            files = card_files.take_along(
                self.filled, self._folder, message.get("paper", "A4"), time.localtime(), **about
            )
        except OSError as problem:
            self.send({"kind": "saved", "files": [], "said": f"The files cannot be written: {problem.strerror}."})
            return
        names = [path.name for path in files]
        said = f"Saved in {files[0].parent.relative_to(self._folder)} of your lessons folder."
        self.send({"kind": "saved", "files": names, "said": said}, [path.read_bytes() for path in files])


def _plain(answer: Answer) -> dict[str, Any]:
    return {
        "headline": answer.headline,
        "tone": answer.tone,
        "rows": [list(row) for row in answer.rows],
        "formula": list(answer.formula),
        "steps": list(answer.steps),
    }


def _label(field: Field) -> str:
    boxes = f" ({'; '.join(field.boxes)})" if field.boxes else ""
    return f"{field.label}{', ' + field.pressure if field.pressure else ''}{boxes}"


def _page_data(card: Card, picture: Picture, lab: bool) -> dict[str, Any]:
    return {
        "title": card.title,
        "lead": card.symptom,
        "start": card.start,
        "svg": picture.svg,
        "parts": picture.specs,
        "fields": [_field_data(field) for field in card.fields],
        "source": card.source,
        "changes": card.changes,
        "cautions": [*card.cautions, *DECIDES],
        "learn": _learn(card, lab),
        "signs": SIGNS,
        "record": card.record is not None,
    }


def _field_data(field: Field) -> dict[str, Any]:
    pressure = f", {field.pressure}" if field.pressure else ""
    units = {units: (field.unit_in(units) if not field.write else "") for units in UNIT_SETS}
    return {
        "name": field.name,
        "label": field.label + pressure,
        "keys": field.keys,
        "boxes": field.boxes,
        "choices": list(field.choices.items()),
        "units": units,
        "optional": field.optional,
        "slider": card_sliders.slider(field),
    }


def _learn(card: Card, lab: bool) -> dict[str, str]:
    """Return the lesson's title and where it is; without a link where only cards are served."""
    number, _, words = card.lesson.partition("_")
    title = f"lesson {number}, {words.replace('_', ' ')}"
    return {"words": title, "path": f"{card.lesson}.ipynb" if lab else ""}
