"""A question as data: every variant with its key and its wrong values, so that no later change touches it."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass, field, fields
from typing import Any

from lessons.questions.foreseen import foreseen
from lessons.questions.progress import UNITS
from lessons.questions.question import (
    Mistake,
    Numbers,
    Option,
    Posed,
    Question,
    pose_variant,
    sheet_from_data,
    variant_index,
)

# Of a question: kept in their own way; a working as what it comes to, in the words and mistakes of each variant.
_APART = {"variants", "key", "figure", "mistakes", "options", "places", "working", "given", "names"}
_FORMER = {"within": "tolerance"}  # names in what an earlier version of this program gave out


@dataclass(frozen=True)
class GivenQuestion(Question):
    """A question as it was given out: who got which variant, and each variant with its key and wrong values as data."""

    dealt: Mapping[str, int] = field(default_factory=dict)
    kept: Sequence[Mapping[str, Any]] = ()  # by variant, then by unit set
    withdrawn: str = ""  # who has its points, if the instructor withdrew it: see decisions
    accepted: tuple[str, ...] = ()  # options that the instructor takes as right too

    def pose(self, index: int, units: str) -> Posed:
        """Return one variant as it was shown."""
        data = self.kept[index][units]
        key = set(data["key"]) if self.kind == "several" else data["key"]
        numbers = Numbers(key=key, wrong=data["wrong"])
        shown = {name: data[name] for name in ("names", "places", "words", "other_words")}
        return Posed(self, sheet_from_data(data["sheet"]), units, numbers, **shown)


def kept(question: Question, badges: Iterable[str]) -> dict[str, Any]:
    """Return a question as data, with every variant in both unit sets: copied answers are told by the others."""
    count = len(question.variants)
    said = {each.name: getattr(question, each.name) for each in fields(Question) if each.name not in _APART}
    mistakes = [{name: value for name, value in vars(each).items() if name != "wrong"} for each in foreseen(question)]
    variants = [{units: _variant(pose_variant(question, i, units)) for units in UNITS} for i in range(count)]
    data = said | {
        "options": [asdict(each) for each in question.options],
        "places": [asdict(each) for each in question.places],
        "mistakes": mistakes,
        "dealt": {badge: variant_index(question.id, badge, 0, count) for badge in badges},
        "variants": variants,
    }
    plain: dict[str, Any] = json.loads(json.dumps(data))  # so that it equals what is read back
    return plain


def _variant(this: Posed) -> dict[str, Any]:
    question, sheet = this.question, this.sheet.as_data()
    return {
        "sheet": {name: value for name, value in sheet.items() if name != "svg"},
        "names": dict(this.names),
        "places": dict(this.places),
        "words": dict(this.words),
        "other_words": dict(this.other_words),
        "key": _plain(question.key(this.numbers)) if question.key else None,
        "wrong": [_plain(mistake.wrong(this.numbers)) for mistake in foreseen(question)],
    }


def _plain(value: Any) -> Any:
    if isinstance(value, (set, frozenset)):
        return sorted(value)
    if isinstance(value, (tuple, list)):
        return [_plain(each) for each in value]
    if isinstance(value, Mapping):
        return {str(name): _plain(each) for name, each in value.items()}
    if isinstance(value, str) or value is None:
        return value
    return float(value) if math.isfinite(value) else None  # a wrong working that comes to nothing


def question_from(data: Mapping[str, Any]) -> GivenQuestion:
    """Return the question that `kept` described; what a later version added to it is left out."""
    data = {_FORMER.get(name, name): value for name, value in data.items()}
    said: dict[str, Any] = {
        each.name: data[each.name] for each in fields(Question) if each.name not in _APART and each.name in data
    }
    said = {name: tuple(value) if isinstance(value, list) else value for name, value in said.items()}
    has_key = data["kind"] not in ("predict", "written")
    return GivenQuestion(
        **said,
        options=tuple(Option(**_known(Option, each)) for each in data["options"]),
        places=tuple(Option(**_known(Option, each)) for each in data["places"]),
        mistakes=tuple(_mistake(each, number) for number, each in enumerate(data["mistakes"])),
        variants=({},) * len(data["variants"]),
        key=(lambda numbers: numbers.key) if has_key else None,
        dealt=data["dealt"],
        kept=data["variants"],
    )


def _mistake(data: Mapping[str, Any], number: int) -> Mistake:
    return Mistake(wrong=lambda numbers: numbers.wrong[number], **_known(Mistake, data))


def _known(kind: type[Option] | type[Mistake], data: Mapping[str, Any]) -> dict[str, Any]:
    return {each.name: data[each.name] for each in fields(kind) if each.name in data}
