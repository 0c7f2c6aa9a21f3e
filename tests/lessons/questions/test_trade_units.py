"""Every trade unit and every way to type it: in a lesson, in the boxes of the job cards, in the marking of a hand-in."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from grading.given_out.judged_answers import judged
from lessons.card_page import boxes
from lessons.card_page.card import Card, Field, defaults
from lessons.cards import NAMES, card_named
from lessons.questions import read_number
from lessons.questions.judge import RIGHT, UNREADABLE, acknowledge, judge
from lessons.questions.question import Question, pose, pose_variant
from lessons.questions.read_number import Unreadable
from lessons.units.quantities import Q, convert, from_base, plain_number, shown_unit, to_base
from lessons.units.trade_units import UNITS, unit_named, unit_spelled

SPELLED = [(unit.name, typed) for unit in UNITS.values() for typed in dict.fromkeys((unit.name, *unit.typed.split()))]
ASKED = [*UNITS, "no unit of ours"]  # the last as a damaged work order might have it
WEIRD = [
    *["0", "-0", "1e999", "-1e999", "1e-999", "1e15", "-1e15", "1e-15", "nan", "inf", "-inf", "٣", "1.7976931e308"],
    "9" * 190,
]
TYPED = [f"{number} {typed}" for number in ("4", *WEIRD) for _, typed in SPELLED]


def asks_for(unit: str) -> Question:
    """Ask for 4 of a unit."""
    return Question(
        "t.w1",
        "number",
        "How much is {a}?",
        ({"a": Q(4, unit)},),
        key=lambda n: n.a,
        unit=unit,
        idea="i",
        step="s",
        example="Here {answer}.",
    )


def is_a_sentence(text: str) -> bool:
    return text.endswith(".") and "Error" not in text and "\n" not in text


@pytest.mark.parametrize(("name", "typed"), SPELLED)
def test_every_spelling_is_read_as_its_unit_in_lesson_and_marking(name: str, typed: str) -> None:
    for written in (typed, typed.upper(), f" {typed}. "):
        assert read_number.number(f"4 {written}", name) == Q(4.0, name)
        assert judge(pose(asks_for(name), "4711"), f"4 {written}").tag == RIGHT
        assert judged(asks_for(name), "4711", "si", f"4 {written}").tag == RIGHT


@pytest.mark.parametrize("asked", ASKED)
def test_every_spelling_gets_a_sentence_whatever_unit_is_asked_for(asked: str) -> None:
    for text in TYPED:
        read = read_number.number(text, asked)
        if isinstance(read, Unreadable):
            assert is_a_sentence(read.reason), read
        else:
            assert math.isfinite(read.value)
            assert read.unit == asked


@pytest.mark.parametrize("asked", UNITS)
@pytest.mark.parametrize("units", ["si", "us"])
def test_every_spelling_gets_a_reply_in_lesson_and_marking(asked: str, units: str) -> None:
    question = asks_for(asked)
    posed = pose_variant(question, 0, units)
    for text in TYPED:
        said = judge(posed, text)
        assert said == judged(question, "4711", units, text)
        assert said.read.endswith(".")
        assert acknowledge(posed.sheet, text).read.endswith(".")


@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("name", NAMES)
def test_every_spelling_in_every_box_of_every_card_is_read_or_refused_with_a_sentence(name: str, units: str) -> None:
    this = card_named(name)
    texts, known = _as_the_page_has_them(this, units)
    assert boxes.read_boxes(this, texts, units)[1] == {}
    for number, (_, typed) in itertools.product(("4", "1e999", "0", "1e15"), SPELLED):
        values, problems = boxes.read_boxes(this, dict.fromkeys(texts, f"{number} {typed}"), units, known)
        assert all(is_a_sentence(said) for said in problems.values()), problems
        assert set(vars(values)) == {field.name for field in this.fields} - set(problems)
        for field in this.fields:
            typed_in = {**texts, **dict.fromkeys(field.keys, f"{number} {typed}")}
            values, problems = boxes.read_boxes(this, typed_in, units, known)
            assert all(is_a_sentence(said) for said in problems.values()), problems
            assert set(problems) <= {field.name}
            assert hasattr(values, field.name) == (field.name not in problems)


def _as_the_page_has_them(this: Card, units: str) -> tuple[dict[str, str], dict[str, tuple[str, Any]]]:
    """Return the text of each box as a card starts, and with it the number behind it."""
    inputs = defaults(this)
    texts = {k: v for f in this.fields for k, v in boxes.write_boxes(f, getattr(inputs, f.name), units).items()}
    behind = {key: value for f in this.fields for key, value in _numbers(f, getattr(inputs, f.name))}
    return texts, {key: (texts[key], value) for key, value in behind.items()}


def _numbers(field: Field, value: Any) -> Iterable[tuple[str, Any]]:
    return () if value is None else zip(field.keys, value if field.boxes else (value,), strict=True)


def test_bubbles_are_told_apart_from_a_volume() -> None:
    said = judged(asks_for("mL/min"), "4711", "si", "3 bubbles")
    assert (said.tag, said.read) == (
        UNREADABLE,
        "3 bubbles/min was read, but this question asks for an answer in mL/min.",
    )


def test_no_spelling_stands_for_two_units() -> None:
    for name, typed in SPELLED:
        unit = unit_spelled(typed)
        assert unit is not None
        assert unit.name == name


def test_twins_are_units_of_one_kind() -> None:
    for name, unit in UNITS.items():
        if unit.twin:
            there = convert(Q(2.0, name), unit.twin)
            assert convert(there, name).value == pytest.approx(2.0, rel=1e-12)
            assert shown_unit(name, "us") == unit.twin
        assert shown_unit(name, "si") == name


@pytest.mark.parametrize("name", UNITS)
@given(value=st.floats(0.01, 1e4))
def test_to_si_and_back(name: str, value: float) -> None:
    assert from_base(to_base(Q(value, name)), name).value == pytest.approx(value, rel=1e-9, abs=1e-9)


@given(value=st.floats(-1e14, 1e14).filter(lambda value: value == 0 or abs(value) > 1e-14))
def test_what_is_written_can_be_typed_again(value: float) -> None:
    read = read_number.number(f"{plain_number(value)} bar", "bar")
    assert isinstance(read, Q)
    assert read.value == pytest.approx(value, rel=5e-3, abs=1e-9)  # plain keeps three digits of a very large number


def test_an_unknown_unit_is_refused_with_the_list() -> None:
    with pytest.raises(ValueError, match="no trade unit “parsec”"):
        unit_named("parsec")
