"""Job cards whatever is typed: an answer for these boxes or a sentence, never an old answer and never a dead page."""

from __future__ import annotations

import json
import random
import re
import time
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from lessons.card_page import boxes
from lessons.card_page.card import Card, Field, defaults
from lessons.card_page.page import CardPage
from lessons.card_page.page_files import FOLDER
from lessons.cards import NAMES, card_named
from lessons.cards.work.seat_leakage import _ten

INPUTS, AT_LEAST_ANSWERED = 1000, 100  # a card
SHEETS = (1, 35, 70, 100)  # which of the answered inputs go on into the files to take along
TYPED = {"studs": ["2 × M10", "4 x 1/2 in"], "output": ["0.2 to 1 bar", "1-0.2 bar", "0.25 to 0.9 bar", "3 to 15 psi"]}
PLATE = {
    "size": ["DN 50", "NPS 2", "1 1/2 in", "1½ in"],
    "rating": ["300#", "class 150", "PN 40"],
    "metal": ["WCB", "carbon steel", "316"],
    "trim": ["46 mm", "", "TR-7"],
    "kv": ["Kv 32", "Cv 37", ""],
    "kind": ["linear", "=%", "mod. parabolic"],
    "action": ["FC", "ATO", "reverse", ""],
    "bench": ["3-15 psi", "0.2 to 1.0 bar", ""],
    "supply": ["20 psi", "1.4 bar", ""],
}
ODD = ("", " ", "0", "-0", "-1", "nan", "NaN", "inf", "-inf", "1e308", "1e-308", "1e400", "9" * 40, "9" * 190, "9" * 300,
       "0." + "0" * 60 + "1", "1,5", "1,200", "-", "%", "½", "٣", "x", "12 bar", "5 %", "3 bubbles", "1\n2", "\ud800", "\x00",
       "1 000", "−3", "+4", "<b>1</b>", "°C", "20 °C", "5 parsec")  # fmt: skip


def ask(page: CardPage, texts: dict[str, str], units: str, to: str = "", seq: int = 1) -> dict[str, Any]:
    """Ask as the page does: what stands in its boxes, their units, and the units wanted."""
    message = {"kind": "ask", "texts": texts, "units": units, "to": to or units, "from": "me", "seq": seq}
    page._heard(None, message, None)
    return page._shown


def number(rng: random.Random, field: Field) -> float:
    """A number near the one to start with, at a limit, anywhere between them, or of any size."""
    start = rng.choice(field.default) if isinstance(field.default, tuple) else field.default
    high = field.high if field.high < 1e300 else 1e12
    between = rng.uniform(max(field.low, -1e12), high)
    sizes = [10 ** rng.uniform(-12, 12), field.low, high, high * 10 ** rng.uniform(-9, 0), between]
    near = [start * 10 ** rng.uniform(-1, 1), start * rng.uniform(0.8, 1.2)] if start else []
    return float(rng.choice([*sizes, *near, *near]))


def row(rng: random.Random, numbers: list[float]) -> list[float]:
    """Mostly rising numbers, as along a travel."""
    return sorted(numbers) if rng.random() < 0.8 else numbers


def texts_of(rng: random.Random, each: Card, units: str) -> dict[str, str]:
    """What may stand in the boxes of a card."""
    wild, start = rng.random() < 0.7, defaults(each)
    texts: dict[str, str] = {}
    for field in each.fields:
        texts |= (written := boxes.write_boxes(field, getattr(start, field.name), units))
        if field.choices:
            texts[field.name] = rng.choice(list(field.choices))
        elif field.optional and rng.random() < 0.5:
            texts |= dict.fromkeys(field.keys, "")
        elif field.read:
            signals = [f"{rng.uniform(-5, 120):.4g} %", f"{rng.uniform(2, 22):.4g} mA", "9 psi"]
            typed = {**TYPED, **{key: PLATE[field.name] for key in field.keys if field.name in PLATE}}
            texts |= {key: rng.choice(typed.get(key, signals)) for key in field.keys}
        elif field.boxes and rng.random() < 0.8 and field.default:  # readings that go on from those to start with
            shift = rng.choice([0.001, 0.02, 0.3])
            texts |= {k: f"{float(written[k]) * (1 + rng.gauss(0, shift)):.5g}" for k in field.keys}
        elif wild:
            numbers = row(rng, [number(rng, field) for _ in field.keys])
            texts |= {k: boxes._text(x, field.shown_unit(units)) for k, x in zip(field.keys, numbers, strict=True)}
    for key in rng.sample(sorted(texts), rng.choice([0, 0, 0, 1, 2])):
        texts[key] = rng.choice(ODD)
    return texts


@pytest.mark.parametrize("name", NAMES)
def test_a_thousand_inputs_give_an_answer_or_a_sentence(name: str, tmp_path: Path) -> None:
    rng = random.Random(f"card {name}")  # noqa: S311  the same numbers in each run
    page, answered = CardPage(card_named(name), "si", tmp_path), 0
    for seq in range(INPUTS):
        units, to = rng.choice(["si", "us"]), rng.choice(["si", "us"])
        texts = texts_of(rng, page._card, units)
        with np.errstate(all="ignore"):
            said = ask(page, texts, units, to, seq)
        assert (said["seq"], said["units"], said["write"]) == (seq, to, to != units)
        assert units != to or said["texts"] == {k: t.replace("\ud800", "?") for k, t in texts.items()}
        json.dumps(said, allow_nan=False, ensure_ascii=False).encode()  # as it goes to the page
        if said["problems"]:
            assert said["answer"] is None, texts
            assert "" not in said["problems"], (texts, said["problems"])
            assert all(re.search(r"[.!?]$", sentence) for sentence in said["problems"].values()), said["problems"]
            continue
        answered += 1
        answer = said["answer"]
        words = " ".join(
            [answer["headline"], *(w for r in answer["rows"] for w in r), *answer["formula"], *said["words"]]
        )
        assert not re.search(r"\b(nan|inf)\b", words), (texts, words)
        assert not np.isinf(np.frombuffer(page._frame, np.float32)).any(), texts
        if answered in SHEETS:
            sentence, files = page._saved(
                {"texts": said["texts"], "units": to, "tag": texts.get("\x00", ""), "who": "I. Vale"}
            )
            assert sentence.startswith("Saved"), (texts, sentence)
            assert files[0][1].startswith(b"%PDF")
    assert answered >= AT_LEAST_ANSWERED, "too few were drawn for the test to mean much"


@pytest.mark.parametrize("test", ["II air", "III water", "III air", "IV air", "V water", "VI air"])
@pytest.mark.parametrize("leak", ["14000", "0", "6e6", "6000000"])
@pytest.mark.parametrize("kv", ["0.01", "86.5", "20000"])
def test_leaks_of_any_size_are_drawn(test: str, leak: str, kv: str, tmp_path: Path) -> None:
    page = CardPage(card_named("seat_leakage"), "si", tmp_path)
    said = ask(
        page,
        {**page._shown["texts"], "test": test, "leak": leak, "kv": kv, "dp": "3.5" if test == "VI air" else "400"},
        "si",
    )
    assert "" not in said["problems"]
    assert (said["answer"] is None) == bool(said["problems"])


@pytest.mark.parametrize(
    ("tick", "words"),
    [
        ("0", "0.001"),
        ("3", "1"),
        ("7", "10000"),
        ("8", "10⁵"),
        ("12", "10⁹"),
        ("13", "10¹⁰"),
        ("25", "10²²"),
        ("2.5", ""),
    ],
)
def test_powers_of_ten_on_a_scale(tick: str, words: str) -> None:
    assert _ten(tick) == words  # the scale starts at a thousandth of a mL/min


# ---- faults -------------------------------------------------------------------------------------------------------

FAULTS = [
    IndexError("string index out of range"),
    KeyError("x"),
    TypeError("no"),
    AttributeError("no"),
    RuntimeError("no"),
    ZeroDivisionError("division by zero"),
    OverflowError("too large"),
    ValueError("p1 must be above p2."),
    AssertionError(),
]


def broken(where: str, fault: Exception, on: list[bool]) -> Card:
    """A card that breaks in one place while `on` holds True."""
    good = card_named("stroke_errors")

    def breaks(function: Any) -> Any:
        def call(*given: Any) -> Any:
            if on[0]:
                raise fault
            return function(*given)

        return call

    def picture() -> Any:
        figure, move = good.picture()
        return figure, breaks(move)

    changed = {"picture": picture} if where == "picture" else {where: breaks(getattr(good, where))}
    return replace(good, **changed)


@pytest.mark.parametrize("where", ["compute", "answer", "picture"])
@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: type(fault).__name__)
def test_a_fault_of_the_card_is_a_sentence_and_leaves_no_answer(where: str, fault: Exception, tmp_path: Path) -> None:
    on = [False]
    page = CardPage(broken(where, fault, on), "si", tmp_path)
    texts, headline = page._shown["texts"], page._shown["answer"]["headline"]
    on[0] = True
    said = ask(page, texts, "si", seq=2)
    assert said["answer"] is None
    assert said["seq"] == 2
    assert re.fullmatch(
        r"(This card cannot work these numbers out|These numbers do not go together).*\.", said["problems"][""]
    )
    on[0] = False
    said = ask(page, texts, "si", seq=3)
    assert (said["problems"], said["answer"]["headline"]) == ({}, headline)


@pytest.mark.parametrize("where", ["compute", "answer", "picture", "record"])
def test_a_fault_while_saving_is_a_sentence(where: str, tmp_path: Path) -> None:
    on, sent = [False], []
    page = CardPage(broken(where, FAULTS[0], on), "si", tmp_path)
    page.send = lambda content, buffers=None: sent.append((content, buffers))  # type: ignore[method-assign]
    on[0] = True
    page._heard(None, {"kind": "save", "seq": 5, "texts": page._shown["texts"], "units": "si"}, None)
    ((content, buffers),) = sent
    assert content["said"].startswith("Nothing was saved")
    assert (content["seq"], content["files"], buffers) == (5, [], [])
    assert not list(tmp_path.rglob("*.*"))


def test_a_sheet_that_cannot_be_drawn_is_a_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("lessons.card_page.pdf_page.pdf", lambda *_: [][0])
    page = CardPage(card_named("packing"), "si", tmp_path)
    said, files = page._saved({"texts": page._shown["texts"], "units": "si"})
    assert (said[:17], files) == ("Nothing was saved", [])


def test_half_of_what_is_taken_along_is_taken_away_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    page, real = CardPage(card_named("packing"), "si", tmp_path), Path.open

    def full(path: Path, *given: Any, **options: Any) -> Any:
        if path.suffix == ".html":
            raise OSError(28, "No space left on device")
        return real(path, *given, **options)

    monkeypatch.setattr(Path, "open", full)
    said, files = page._saved({"texts": page._shown["texts"], "units": "si"})
    assert (said, files) == ("The files cannot be written: No space left on device.", [])
    assert list((tmp_path / FOLDER).iterdir()) == []


def test_a_fault_along_a_slider_is_left_out(tmp_path: Path) -> None:
    on, sent = [False], []
    page = CardPage(broken("answer", FAULTS[0], on), "si", tmp_path)
    page.send = lambda content, buffers=None: sent.append(content["at"])  # type: ignore[method-assign]
    on[0] = True
    page._heard(
        None, {"kind": "ahead", "key": "k", "field": "limit", "texts": page._shown["texts"], "units": "si"}, None
    )
    assert sent
    assert not any(sent)


# ---- an answer belongs to what stands in the boxes ------------------------------------------------------------------


def test_what_is_saved_is_what_stands_in_the_boxes_now(tmp_path: Path) -> None:
    page = CardPage(card_named("packing"), "si", tmp_path)
    texts = {**page._shown["texts"], "rings": "8"}
    _, files = page._saved({"texts": texts, "units": "si"})  # Python was not told before
    # By hand: friction = π · 12 mm · 8 · 6 mm · 10 MPa · 0.05 · 0.5
    assert "friction 452 N" in dict(files)[files[1][0]].decode()
    assert page._saved({"texts": {**texts, "rings": "many"}, "units": "si"}) == (
        "Nothing was saved. First correct what is marked above.",
        [],
    )


def test_a_text_is_read_in_the_units_it_stands_in_whatever_was_answered_last(tmp_path: Path) -> None:
    page = CardPage(card_named("bench_set"), "si", tmp_path)
    start = {**page._shown["texts"], "travel": "1.5"}
    us = dict(ask(page, {**start, "travel": "38.1"}, "si", "us")["texts"])
    assert us["travel"] == "1.5"  # 38.1 mm
    ask(page, start, "si")  # that reply was lost: the boxes still say mm
    assert page._worked.inputs.travel == pytest.approx(1.5e-3)


def test_a_page_opened_after_a_refusal_has_no_answer(tmp_path: Path) -> None:
    page = CardPage(card_named("packing"), "si", tmp_path)
    ask(page, {**page._shown["texts"], "stem": "thick"}, "si")
    state = page.get_state()["_shown"]
    assert (state["answer"], set(state["problems"])) == (None, {"stem"})


def test_time_to_answer_stays_short(tmp_path: Path) -> None:
    """The page gives up after 2.5 s: every card answers far within it, even on a loaded machine."""
    for name in NAMES:
        page = CardPage(card_named(name), "si", tmp_path)
        start = time.perf_counter()
        ask(page, dict(page._shown["texts"]), "us", "si")
        assert time.perf_counter() - start < 0.5, name


def test_fields_that_fail_to_read_say_so_themselves() -> None:
    def fails(_text: str, _units: str) -> Any:
        raise IndexError("no")

    field = Field("signal", "signal", default=0.5, read=fails, write=lambda value, units: str(value))
    inputs, problems = boxes.read_boxes(replace(card_named("packing"), fields=(field,)), {"signal": "x"}, "si")
    assert (inputs, set(problems)) == (SimpleNamespace(), {"signal"})
