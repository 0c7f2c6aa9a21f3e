"""Lesson 14: the papers of a valve, from the tag on the P&ID to the plate of the one in the store."""

from __future__ import annotations

from collections.abc import Mapping
from types import SimpleNamespace
from typing import Any

from lessons.practice.charts_asked import chart_of
from lessons.questions.question import Mistake, Option, Question
from lessons.refinery import VALVES

LESSON = "14_papers"
TERMS: dict[str, str] = {
    "P&ID": "Piping and instrumentation diagram: every pipe, valve and instrument of a plant, and what is joined to what.",
    "loop number": "The number that all instruments of one loop share. It follows the letters of their tags.",
    "data sheet": "Everything that was asked for when a valve was bought, line by line. Only its owner may change it.",
    "nameplate": "The plate on a valve that says what was built and how it was set.",
    "body marks": "What is cast or stamped on the body itself: size, class, metal, maker's mark, arrow.",
}
TAGS = tuple(tag for tag in VALVES if tag[0] in "FLPT")
DRIVEN = tuple(tag for tag in TAGS if VALVES[tag].drive)
GOES = {"open": "opens", "closed": "shuts"}
KV_PER_CV = 0.865
SHEET_ALT = (
    "A valve's data sheet of fifteen numbered lines, from tag and service to packing and flow; beside it the plate of a "
    "valve in the store, with size, body, metal, class, trim, travel, action without air, bench set and flow."
)
FLOW_SHEET_ALT = (
    "One line of a P&ID with its loop: circles with letters, a square, solid, dashed and crossed lines, and the symbols of "
    "several valves. Some of them carry a number."
)


PREDICT = Question(
    id="papers.predict",
    kind="predict",
    text="On the P&ID the arrow on the stem of FV-6204 points down, to the body. The air fails. Where does the valve go?",
    variants=({},),
    options=(
        Option("opens", "It opens"),
        Option("shuts", "It shuts"),
        Option("stays", "It stays where it is"),
    ),
    why="Now follow the loop with the first slider, up to the valve. Then change how it fails, and watch the arrow.",
)

# ---- tags and symbols ------------------------------------------------------------------------------------------------

LETTERS = Question(
    id="papers.letters",
    kind="choice",
    text="The P&ID shows a circle with the tag {tag}. What does this instrument do?",
    variants=tuple(
        {"tag": f"{first}{after}{tag[2:]}", "right": right}
        for tag, first, after, right in (
            ("FV-2107", "F", "T", "send"),
            ("LV-2112", "L", "IC", "control"),
            ("TV-3301", "T", "Y", "convert"),
            ("TV-3318", "T", "V", "throttle"),
            ("LV-3340", "L", "T", "send"),
            ("PV-4015", "P", "IC", "control"),
            ("FV-1204", "F", "Y", "convert"),
            ("PV-5102", "P", "V", "throttle"),
            ("FV-6204", "F", "IC", "control"),
            ("LV-6120", "L", "Y", "convert"),
            ("FV-2135", "F", "V", "throttle"),
            ("PV-7110", "P", "T", "send"),
            ("TV-3301", "T", "IC", "control"),
            ("FV-1204", "F", "T", "send"),
        )
    ),
    key=lambda n: n.right,
    options=(
        Option("send", "It measures and sends the value on", "That is a transmitter: T after the first letter."),
        Option("control", "It shows the value and controls it", "That is an indicating controller: I and C."),
        Option("convert", "It turns one signal into another", "That is a relay or converter: Y."),
        Option("throttle", "It is the valve", "That is a valve: V after the first letter."),
    ),
    idea="The first letter says what is measured. The letters after it say what the instrument does.",
    step="Cover the first letter of {tag}. What is left: T, IC, Y or V?",
    example="PIC-4015: P pressure, I shows it, C controls it.",
    why="The same letters hold in every plant that goes by ISA-5.1, whatever the maker.",
    source="ISA-5.1, letters, from memory",
)

NAMES = {
    "transmitter": "transmitter, in the plant",
    "controller": "controller, on a shared screen",
    "converter": "converter, current to air",
    "valve": "control valve with diaphragm actuator",
    "block valve": "block valve",
    "strainer": "strainer",
    "bypass valve": "bypass valve, a globe valve",
    "drain": "drain valve",
    "electric signal": "electric signal",
    "air signal": "air signal",
}
_ASKED = (
    "transmitter, air signal, block valve, bypass valve, drain",
    "controller, electric signal, strainer, valve, bypass valve",
    "converter, electric signal, air signal, drain, strainer",
    "electric signal, transmitter, converter, block valve, drain",
    "air signal, controller, strainer, bypass valve, transmitter",
    "strainer, valve, block valve, controller, air signal",
    "bypass valve, converter, transmitter, electric signal, valve",
    "drain, air signal, controller, block valve, converter",
    "block valve, electric signal, bypass valve, transmitter, air signal",
    "valve, drain, electric signal, converter, strainer",
    "controller, transmitter, drain, bypass valve, air signal",
    "converter, strainer, bypass valve, controller, electric signal",
)


def symbols_variant(loop: str, asked: str) -> dict[str, Any]:
    """Return one variant: a loop, what is asked, and what is offered, two of it too many."""
    names = asked.split(", ")
    spare = [name for name in NAMES if name not in names][:2]
    offered = {f"part{k}": NAMES[name] for k, name in enumerate(names, start=1)}
    return {"loop": loop, "asked": asked} | offered | {f"spare{k}": NAMES[s] for k, s in enumerate(spare, start=1)}


def symbols_key(_: SimpleNamespace) -> Mapping[str, str]:
    """Return which option stands at each number."""
    return {str(k): f"part{k}" for k in range(1, 6)}


SYMBOL_PLACES = tuple(Option(str(k), "") for k in range(1, 6))
SYMBOL_OPTIONS = tuple(Option(name, f"{{{name}}}") for name in (*(f"part{k}" for k in range(1, 6)), "spare1", "spare2"))

SYMBOLS = Question(
    id="papers.symbols",
    kind="match",
    text="Loop {loop} on the P&ID. What stands at each number?",
    variants=tuple(symbols_variant(TAGS[k][0] + TAGS[k][2:], asked) for k, asked in enumerate(_ASKED)),
    key=symbols_key,
    options=SYMBOL_OPTIONS,
    places=SYMBOL_PLACES,
    idea="Circles are instruments, two cones tip to tip are valves, and the kind of line says what it carries.",
    step="First sort them: circle, valve symbol or line? Then look at what is drawn in it or across it.",
    example="Two cones with a black dot between them are a globe valve. A line with pairs of strokes is air.",
    why="If you can read the P&ID, you can find every valve that has to be shut before the first tool is lifted.",
    source="ISA-5.1, from memory",
    figure=chart_of("flow_sheet.asked_figure"),
    alt=FLOW_SHEET_ALT,
)

FAILS = Question(
    id="papers.fails",
    kind="choice",
    text="{tag}, {service}: without air it {goes}. What do its papers say?",
    variants=tuple(
        {"tag": tag, "service": VALVES[tag].service, "goes": GOES[VALVES[tag].fails], "right": VALVES[tag].fails}
        for tag in TAGS
    ),
    key=lambda n: n.right,
    options=(
        Option("closed", "Sheet: air to open. Arrow on the stem: down", "That valve shuts without air."),
        Option("open", "Sheet: air to close. Arrow on the stem: up", "That valve opens without air."),
        Option(
            "mixed",
            "Sheet: air to open. Arrow on the stem: up",
            "The two contradict each other: air opens it, so without air it shuts, and the arrow points down.",
        ),
        Option(
            "other",
            "Sheet: air to close. Arrow on the stem: down",
            "The two contradict each other: air closes it, so without air it opens, and the arrow points up.",
        ),
    ),
    idea="The arrow shows which way the valve goes without air. “Air to …” says the opposite: what air does.",
    step="Without air it {goes}. So what must air do, and which way does the arrow point?",
    example="A valve shuts without air. So air has to open it, and the arrow points down to the body.",
    why="Where two papers contradict each other, do not guess. Ask the owner of the sheet.",
    source="ISA-5.1, arrows, from memory; what each valve does: own choice, no source",
)

# ---- sheet and plate -------------------------------------------------------------------------------------------------

LINES = {
    "size": ("Line 4: size and body", "Sizes and bodies agree."),
    "metal": ("Line 5: body metal", "The metals agree."),
    "pressure_class": ("Line 6: class", "The classes agree."),
    "kv": ("Line 8: the flow coefficient of the trim", "The flow coefficients agree."),
    "characteristic": ("Line 8: the characteristic of the trim", "The characteristics agree."),
    "action": ("Line 11: where it goes without air", "Both go the same way without air."),
    "bench": ("Line 12: the bench set", "The bench sets agree."),
}
NONE = Option("none", "None: sheet and plate agree", "One line does not agree. Go through the plate from the top.")

HELD = Question(
    id="papers.held",
    kind="choice",
    text="{tag} needs another valve, and there is one in the store. Compare its plate with the sheet. Which line does it not meet?",
    variants=tuple(
        {"tag": tag, "wrong": wrong}
        for tag, wrong in zip(
            (*DRIVEN, *DRIVEN)[:16],
            (
                "action", "kv", "bench", "metal", "pressure_class", "", "characteristic", "size", "bench", "metal",
                "pressure_class", "size", "action", "kv", "bench", "",
            ),
            strict=True,
        )
    ),
    key=lambda n: n.wrong or "none",
    options=(*(Option(name, *words) for name, words in LINES.items()), NONE),
    idea="Go line by line, not by looks: size, metal, class, trim, action, spring.",
    step="Put a finger on each line of the plate and find its line on the sheet of {tag}.",
    example="Sheet: Kv 40, linear. Plate: Kv 25, linear. The trim is a smaller one; everything else may still agree.",
    why="Two valves can look alike to the last bolt and differ in one line that matters.",
    source="own choice, no source: sheets and plates are invented",
    figure=chart_of("data_sheet.held_figure"),
    alt=SHEET_ALT,
)  # fmt: skip

STAMP = Question(
    id="papers.stamp",
    kind="number",
    text="The sheet of {tag} gives the trim as a Kv. The valve in the store is stamped Cv {cv}. How much is that as a Kv?",
    variants=tuple(
        {"tag": tag, "cv": cv}
        for tag, cv in zip(TAGS, (92, 46, 728, 92, 46, 104, 29, 116, 37, 42, 58, 145), strict=True)
    ),
    key=lambda n: KV_PER_CV * n.cv,
    unit="",
    mistakes=(
        Mistake(
            "divided", lambda n: n.cv / KV_PER_CV, "You turned a Kv into a Cv. From Cv to Kv the number gets smaller."
        ),
        Mistake(
            "as_it_is", lambda n: float(n.cv), "You left it as it is. Cv counts in gallons and psi, Kv in m³/h and bar."
        ),
    ),
    working=("cv * per_cv",),
    given=lambda _: {"per_cv": KV_PER_CV},
    names={"per_cv": "number of Kv to a Cv", "cv": "Cv"},
    idea="Kv is 0.865 times Cv: m³/h at 1 bar against US gallons a minute at 1 psi.",
    step="Multiply the Cv, {cv}, by 0.865.",
    why="The same trim has two numbers. Before you say that a plate does not agree, look which of the two it gives.",
    plausible=(0.0, 5000.0),
    source="computed here from the units of Kv and Cv",
)

MARKS = Question(
    id="papers.marks",
    kind="several",
    text="You are standing at the valve for {tag} without any papers. What can you read on its body and plate?",
    variants=tuple({"tag": tag} for tag in TAGS),
    key=lambda _: {"class", "metal", "arrow", "bench"},
    options=(
        Option("class", "Its size and class"),
        Option("metal", "The metal of its body"),
        Option("arrow", "Which way the fluid has to flow"),
        Option("bench", "Its bench set, travel and what air does"),
        Option(
            "flow", "The flow it has to pass on a quiet day", "That is what is asked of the valve. It is on the sheet."
        ),
        Option(
            "hot",
            "How hot its line can get",
            "The plate may say how hot the valve may get, but not how hot the line gets. That is on the sheet.",
        ),
    ),
    idea="The valve says what it is. The sheet says what is wanted of it.",
    step="Ask each time: could the maker know it when the plate was stamped?",
    example="The maker knows the metal. Only the plant knows how hot your line gets.",
    why="So the plate alone never says that a valve is the right one. You need both.",
    source="MSS SP-25, body marks, from memory; plates: common practice, no source",
)

_STEPS = (
    Option("tag", "Read the tag on the work order, and on the valve in the line"),
    Option("sheet", "Get the sheet for that tag, and make sure that it is the newest"),
    Option("plate", "Compare plate and body marks with the sheet, line by line"),
    Option("open", "Look at what is on no plate: packing, flange faces, arrow, test papers"),
    Option("ask", "Show the owner of the sheet what does not agree, and wait for the answer"),
    Option("fit", "Take the valve to the line"),
)

ORDER = Question(
    id="papers.order",
    kind="order",
    text="{tag} is to get a valve from the store. In which order do you do it?",
    variants=tuple({"tag": tag} for tag in TAGS),
    key=lambda _: tuple(step.name for step in _STEPS),
    options=_STEPS,
    mistakes=(
        Mistake(
            "fit_first",
            lambda _: ("tag", "sheet", "plate", "open", "fit", "ask"),
            "You asked when the valve was already at the line. By then everybody wants it in, right or wrong.",
        ),
        Mistake(
            "plate_first",
            lambda _: ("tag", "plate", "sheet", "open", "ask", "fit"),
            "You read the plate before the sheet. So you had nothing to compare it with.",
        ),
    ),
    idea="First what is wanted, then what is there, then the difference.",
    step="The tag leads to the sheet, and the sheet to the valve.",
    example="You need a key for a door. Which door is it, which lock? Only then do you open the box of keys.",
    why="A difference found in the store costs a walk. Found in the line it costs a shutdown.",
    source="common practice, no source, and the site's procedure decides",
)

QUESTIONS = (PREDICT, LETTERS, SYMBOLS, FAILS, HELD, STAMP, MARKS, ORDER)
