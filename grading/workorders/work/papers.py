"""Graded questions of lesson 14: the papers of a valve."""

from __future__ import annotations

from dataclasses import replace

from lessons.practice.charts_asked import chart_of
from lessons.practice.work.papers import (
    DRIVEN,
    KV_PER_CV,
    LINES,
    SHEET_ALT,
    TAGS,
    symbols_variant,
)
from lessons.practice.work.papers import SYMBOLS as PRACTICE_SYMBOLS
from lessons.questions.question import Mistake, Option, Question
from lessons.refinery import VALVES

_ASKED = (
    "valve, controller, air signal, drain, transmitter",
    "bypass valve, block valve, electric signal, converter, strainer",
    "air signal, electric signal, transmitter, controller, converter",
    "strainer, drain, block valve, bypass valve, valve",
    "converter, valve, transmitter, strainer, electric signal",
    "drain, bypass valve, controller, air signal, block valve",
    "electric signal, block valve, valve, transmitter, bypass valve",
    "transmitter, converter, drain, air signal, controller",
    "block valve, strainer, converter, electric signal, valve",
    "controller, valve, bypass valve, drain, air signal",
    "strainer, transmitter, electric signal, block valve, controller",
    "air signal, bypass valve, strainer, valve, converter",
)

SYMBOLS = replace(
    PRACTICE_SYMBOLS,
    id="papers.w1",
    text="Before work on loop {loop} you read its P&ID. What stands at each number?",
    variants=tuple(symbols_variant(TAGS[-k - 1][0] + TAGS[-k - 1][2:], asked) for k, asked in enumerate(_ASKED)),
    step="First sort them: circle, valve symbol or line? Then look at what is drawn in it or across it.",
    example="An empty circle stands in the plant. A circle with a line across it is in the control room.",
    why="The P&ID says which valves and signals belong to the loop, wherever they stand.",
    points=2.0,
)

_PAIRS = (
    "metal, action", "kv, bench", "size, characteristic", "pressure_class, action", "kv, metal", "characteristic, bench",
    "size, pressure_class", "action, bench", "metal, characteristic", "pressure_class, kv", "size, action", "metal, bench",
)  # fmt: skip

DIFFER = Question(
    id="papers.w2",
    kind="several",
    text="The store offers a valve for {tag}. Which lines of the sheet does it not meet?",
    variants=tuple({"tag": DRIVEN[(3 * k + 1) % len(DRIVEN)], "wrong": wrong} for k, wrong in enumerate(_PAIRS)),
    key=lambda n: set(n.wrong.split(", ")),
    options=tuple(Option(name, *words) for name, words in LINES.items()),
    idea="Go line by line, to the end. The first difference may not be the only one.",
    step="Two of the seven do not agree for {tag}. Go through the plate from the top.",
    example="Sheet: class 300, air to open. Plate: class 150, air to close. Both go to the owner of the sheet.",
    why="If you stop at the first difference, you find the second one when the valve is in the line.",
    points=2.0,
    source="own choice, no source: sheets and plates are invented",
    figure=chart_of("data_sheet.held_figure"),
    alt=SHEET_ALT,
)

_SAME = (
    "the plate gives Cv 46.2 where the sheet says Kv 40",
    "the plate says 2 in where the sheet says DN 50",
    "it has another serial number",
    "it is painted grey, and all others in the unit are green",
    "the plate gives its bench set in psi, 8.7 to 20.3, where the sheet says 0.6 to 1.4 bar",
    "the plate gives its travel in inches, 1.18, where the sheet says 30 mm",
)
_OTHER = (
    "it is of class 300 where the sheet says 150",
    "its body is of 316 stainless steel where the sheet says carbon steel",
    "its trim is linear where the sheet says equal percentage",
    "its trim has Kv 25 where the sheet says Kv 40",
    "its packing is graphite where the sheet says PTFE",
    "its bench set is 0.2 to 1.0 bar where the sheet says 0.6 to 1.4",
)

DECIDE = Question(
    id="papers.w3",
    kind="choice",
    text="A valve from the store meets its sheet, but {what}. What do you do?",
    variants=tuple(
        {"what": what, "right": right}
        for pair in zip(_SAME, _OTHER, strict=True)
        for what, right in zip(pair, ("fit", "ask"), strict=True)
    ),
    key=lambda n: n.right,
    options=(
        Option(
            "fit",
            "It may go in: nothing that the sheet asks for differs",
            "A line of the sheet is not met. Whether that does harm is not for the fitter to decide.",
        ),
        Option(
            "ask",
            "Leave it out, and show the difference to the owner of the sheet",
            "Work it out first. Either the sheet does not ask about this, or what it asks for is there, "
            "only written in another way.",
        ),
        Option(
            "better",
            "Put it in where it is better than asked for",
            "Better for what? A heavier flange does not fit the "
            "pipe's, another metal may corrode, and another packing may rub more. The owner of the sheet decides.",
        ),
        Option(
            "note",
            "Put it in, and correct the sheet by hand",
            "Only the owner changes a sheet. Your pencil makes a wrong valve look right to the next person.",
        ),
    ),
    idea="Is it a different thing, or the same thing in other words?",
    step="Read it once more: {what}. Convert the units if there are two. Does anything differ that the sheet asks for?",
    example="Sheet 1 bar, plate 14.5 psi: the same. Sheet 1 bar, plate 20 psi: not the same.",
    why="The owner of the sheet may well say yes. But it has to be the owner, and in writing.",
    points=1.0,
    source="common practice, no source; units: worked by hand",
)

WRONG_ACTION = Question(
    id="papers.w4",
    kind="choice",
    text="The sheet of {tag}, {service}, says: {sheet}. In a hurry, somebody put in a valve that is {fitted}. Then the air fails. "
    "What happens?",
    variants=tuple(
        {
            "tag": tag,
            "service": VALVES[tag].service,
            "sheet": {"open": "air to close", "closed": "air to open"}[VALVES[tag].fails],
            "fitted": {"open": "air to open", "closed": "air to close"}[VALVES[tag].fails],
            "right": {"open": "shuts", "closed": "opens"}[VALVES[tag].fails],
        }
        for tag in TAGS
    ),
    key=lambda n: n.right,
    options=(
        Option("opens", "It opens, where it should have shut", "Air opens this one. Without air its spring shuts it."),
        Option(
            "shuts", "It shuts, where it should have opened", "Air closes this one. Without air its spring opens it."
        ),
        Option("stays", "It stays where it is", "A spring moves it: without air there is nothing to hold it."),
        Option(
            "sheet",
            "It goes where the sheet says, because the controller makes it",
            "Without air no controller moves a valve. The spring does.",
        ),
    ),
    idea="The spring does what air does not.",
    step="This valve is {fitted}. So which way does the spring push?",
    example="If air opens the valve, the spring shuts it. If air closes it, the spring opens it. The sheet cannot change that.",
    why="With air the loop may even run, if somebody reverses the controller's action. The mistake shows on the worst "
    "day.",
    points=1.0,
    source="worked by hand: what air does, the spring undoes; which way each valve goes: own choice, no source",
)

STAMP = Question(
    id="papers.w5",
    kind="number",
    text="The sheet of a valve asks for Kv {kv}. The store's list is in Cv. Which Cv do you look for?",
    variants=tuple({"kv": kv} for kv in (16, 20, 25, 32, 36, 40, 63, 80, 90, 100, 125, 160)),
    key=lambda n: n.kv / KV_PER_CV,
    unit="",
    mistakes=(
        Mistake(
            "multiplied", lambda n: n.kv * KV_PER_CV, "You turned a Cv into a Kv. From Kv to Cv the number gets larger."
        ),
        Mistake(
            "as_it_is", lambda n: float(n.kv), "You left it as it is. Cv counts in gallons and psi, Kv in m³/h and bar."
        ),
    ),
    working=("kv / per_cv",),
    given=lambda _: {"per_cv": KV_PER_CV},
    names={"per_cv": "number of Kv to a Cv", "kv": "Kv"},
    idea="Kv is 0.865 times Cv. So Cv is Kv divided by 0.865.",
    step="Divide the Kv, {kv}, by 0.865.",
    why="A number in the other unit does not make it another valve.",
    plausible=(0.0, 5000.0),
    points=1.0,
    source="computed here from the units of Kv and Cv",
)

QUESTIONS = (SYMBOLS, DIFFER, DECIDE, WRONG_ACTION, STAMP)
