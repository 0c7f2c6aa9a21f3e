"""What readers are told of signals, bench set, hysteresis and trapped air: every cause named, every term one meaning."""

from __future__ import annotations

import math
import re
from types import SimpleNamespace

import pytest

from grading.workorders.drive.actuator import DIAGNOSE
from lessons.practice.drive.stroke import CURRENT, TERMS
from lessons.units.quantities import Q
from tests.lessons.cards.test_job_cards import answered
from tests.plant.reader_text import reader_text
from valvecalc.actuator import trapped_air_energy
from valvecalc.units import SIGNAL_STATES, signal_state


def sentences(words: str) -> list[str]:
    return re.split(r"(?<=[.!?:])\s+", words)


# ---- 4 to 20 mA: NAMUR NE 43, from memory: values from 3.8 to 20.5 mA, faults up to 3.6 and from 21 ------------------


@pytest.mark.parametrize(
    ("milliamp", "state"),
    [
        (0, "fault low"),
        (3.5, "fault low"),
        (3.6, "fault low"),
        (3.61, "doubtful low"),
        (3.79, "doubtful low"),
        (3.8, "in range"),
        (4, "in range"),
        (12, "in range"),
        (20, "in range"),
        (20.5, "in range"),
        (20.51, "doubtful high"),
        (20.99, "doubtful high"),
        (21, "fault high"),
        (24, "fault high"),
    ],
)
def test_state_of_a_current(milliamp: float, state: str) -> None:
    assert signal_state(milliamp / 1000) == state
    assert state in SIGNAL_STATES
    assert answered("signals", signal=(milliamp - 4) / 16)[1].state == state


def test_a_current_no_loop_can_have_is_refused() -> None:
    with pytest.raises(ValueError, match=r"signal must be from 0 to 0\.024 A"):
        signal_state(12)


def alone(words: str) -> bool:
    """Tell whether no current is put down to the wire, and to nothing else."""
    dead = re.search(r"(?<![\d.])(?<!from )0 mA|[Ll]ess than 4 mA|broken wire", words)
    return bool(dead) and not all(cause in words for cause in ("supply", "fuse", "card"))


def test_no_current_has_more_causes_than_a_broken_wire() -> None:
    assert [place for place, words in reader_text() if alone(words)] == []


@pytest.mark.parametrize(
    "words",
    [
        "4 mA is 0 %, so 0 mA can only be a broken wire.",
        "Less than 4 mA is never a travel: it is a broken wire.",
    ],
)
def test_the_search_for_it_finds(words: str) -> None:
    assert alone(words)


def test_lesson_question_and_card_tell_value_from_fault() -> None:
    lesson = "\n".join(words for place, words in reader_text() if place.startswith("lessons/10_"))
    for limit in ("3.8", "20.5", "3.6", "21", "NE 43"):
        assert limit in lesson
    assert "3.8 mA" in CURRENT.why
    assert "3.6 mA" in CURRENT.why
    assert "fault" in TERMS["live zero"]


# ---- bench set: its span is k X / A, so spring rate, travel and area each change it ---------------------------------


def blames_the_spring_alone(sentence: str) -> bool:
    off = re.search(
        r"[Ss]pan (is |was )?(off|wrong)|end that is not|span by the spring|spring sets (the|its) span", sentence
    )
    return bool(off) and "spring" in sentence and not ("travel" in sentence or "Look for" in sentence)


def test_a_span_that_is_off_is_not_put_down_to_the_spring_alone() -> None:
    found = [
        place for place, words in reader_text() for sentence in sentences(words) if blames_the_spring_alone(sentence)
    ]
    assert found == []
    (checking,) = (
        words for place, words in reader_text() if place.startswith("lessons/07_") and "Checking a bench set" in words
    )
    assert all(cause in checking for cause in ("rated travel", "diaphragm", "right spring", "broken"))


@pytest.mark.parametrize(
    "sentence",
    [
        "If the span is off, it is the spring.",
        "Span wrong: spring.",
        "A start that is right and an end that is not can only be the spring.",
        "The adjuster sets the start; the spring sets the span.",
        "Start by the adjuster, span by the spring.",
    ],
)
def test_the_search_for_that_finds(sentence: str) -> None:
    assert blames_the_spring_alone(sentence)


@pytest.mark.parametrize(
    ("at", "to", "key"),
    [
        (0.2, 1.3, "span"),
        (0.2, 0.95, "span"),
        (0.08, 0.88, "in"),
        (0.32, 1.12, "out"),
        (0.2, 1.0, "nothing"),
    ],
)
def test_what_an_as_found_bench_set_asks_for(at: float, to: float, key: str) -> None:
    """Nameplate 0.2 to 1.0 bar: a span of 0.8, of which 5 % is let pass."""
    read = {"low": 0.2e5, "high": 1.0e5, "at": at * 1e5, "to": to * 1e5}
    assert DIAGNOSE.key(SimpleNamespace(**read)) == key
    assert "spring fitted" not in " ".join(option.text for option in DIAGNOSE.options)


# ---- hysteresis and dead band: IEC 61298-2, from memory: hysteresis is what is left of the gap less the dead band -----


def test_hysteresis_is_never_told_without_the_dead_band_that_is_not_part_of_it() -> None:
    spoken = [(place, words) for place, words in reader_text() if re.search("hysteresis", words, re.I) and " " in words]
    assert len(spoken) >= 3
    assert [place for place, words in spoken if "dead band" not in words] == []
    assert "dead band" in TERMS["hysteresis"]


def test_a_handbook_figure_of_hysteresis_does_not_stand_under_dead_band() -> None:
    """MIL-HDBK-1003/7, 11.12: 2 to 10 % of hysteresis without a positioner."""
    figure = [(place, words) for place, words in reader_text() if "2 to 10 %" in words]
    assert figure
    for place, words in figure:
        assert "hysteresis" in words, place
        assert not place.startswith("lessons/09_"), "lesson 09 is about dead band"


# ---- trapped air: one number everywhere -----------------------------------------------------------------------------


def test_trapped_air_is_the_same_in_lesson_and_card() -> None:
    """10 L at 6 bar gauge: 7013.25 · ln(7.01325 / 1.01325) = 13 568 J of work, less 6000 J on the atmosphere: 7.57 kJ."""
    by_hand = 7013.25 * math.log(7.01325 / 1.01325) - 6000
    said = [
        found for _, words in reader_text() for found in re.findall(r"10 litres at 6 bar.{0,60}?([\d.]+) kJ", words)
    ]
    assert said
    assert [float(each) for each in said] == pytest.approx([by_hand / 1000] * len(said), abs=0.05)
    _, r = answered("tear_down", air=Q(6, "bar"), volume=Q(10, "L"))
    assert r.air == pytest.approx(by_hand, rel=1e-5)
    assert trapped_air_energy(6e5, 0.01) == pytest.approx(by_hand, rel=1e-5)
    assert trapped_air_energy(0.0, 0.01) == 0.0
