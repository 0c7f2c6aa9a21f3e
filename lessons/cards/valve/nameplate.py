"""Is the valve from the store the one of the data sheet: line by line, sheet against plate."""

from __future__ import annotations

import functools
from types import SimpleNamespace
from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Polygon, Rectangle

from lessons.card_page.card import Card, CardAnswer, Field
from lessons.cards.valve.plate_lines import AGREES, DIFFERS, LINES, NEAR, NOT_GIVEN, UNSURE, read_line, verdict_of
from lessons.pictures.style import LOOKS
from lessons.pictures.verdicts import BAD, GOOD, SHORT, SIGNS
from lessons.units.readout import counted, to_digits

START = {
    "size": ("DN 50", "NPS 2"),
    "rating": ("class 300", "300#"),
    "metal": ("carbon steel", "A216 WCB"),
    "trim": ("46 mm", ""),
    "kv": ("Kv 32", "Cv 37"),
    "kind": ("equal percentage", "=%"),
    "action": ("air to open", "FC"),
    "bench": ("0.7 to 1.5 bar", "3-15 psi"),
    "supply": ("2 bar", "2 bar"),
}
SIGN_OF = {AGREES: SIGNS[GOOD], DIFFERS: SIGNS[BAD], UNSURE: SIGNS[SHORT], NOT_GIVEN: SIGNS[SHORT]}
WHY_UNSURE = {
    "metal": "one name covers the other and more: ask which grade it is",
    "action": "direct and reverse say what the actuator does; which way the plug goes, the body decides",
}
FIELDS = tuple(
    Field(
        line.name,
        line.label,
        default=START[line.name],
        optional=True,
        boxes=("on the sheet", "on the plate"),
        read=functools.partial(lambda line, text, _: read_line(line, text), line),
        write=lambda text, _: text,
    )
    for line in LINES
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return what each line comes to, and the verdict: good only if all are given and agree."""
    pairs = {line.name: getattr(n, line.name) or ("", "") for line in LINES}
    states = {line.name: verdict_of(line, *pairs[line.name]) for line in LINES}
    found = set(states.values())
    tone = BAD if DIFFERS in found else GOOD if found == {AGREES} else SHORT
    return SimpleNamespace(pairs=pairs, states=states, tone=tone)


VERDICTS = {
    GOOD: "Plate and sheet agree",
    SHORT: "Not certain",
    BAD: "Not the valve of this sheet",
}


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say how many lines agree, and what each difference means."""
    count = {state: [line for line in LINES if r.states[line.name] == state] for state in SIGN_OF}
    rows = [(line.label, _said(line, r)) for line in LINES]
    rows.append(("next", NEXT[r.tone]))
    agree = f"{len(count[AGREES])} of {counted(len(LINES), 'line')} agree"
    wrong = count[DIFFERS] or count[UNSURE] + count[NOT_GIVEN]
    named = ", ".join(line.label.partition(":")[0] for line in wrong)
    formula = (
        f"{counted(len(LINES), 'line')}: {len(count[AGREES])} agree, {len(count[DIFFERS])} differ, "
        f"{len(count[UNSURE])} not certain, {len(count[NOT_GIVEN])} not given",
        f"numbers agree within {to_digits(NEAR, '%')}: Kv 40 and Cv 46 do (Cv = 1.156 · Kv), "
        "0.2 to 1 bar and 3 to 15 psi (0.207 to 1.034 bar) do not",
    )
    return CardAnswer(
        f"{VERDICTS[r.tone]}: {agree}" + (f"; look at {named}" if named else ""), r.tone, tuple(rows), formula
    )


NEXT = {
    GOOD: "tag and serial number next; that plate and sheet agree does not say that the sheet fits the service",
    SHORT: "find what is missing: the maker's papers for the serial number, or measure it on the bench",
    BAD: "do not fit it: tag it, and ask who owns the sheet what counts",
}


def _said(line: Any, r: SimpleNamespace) -> str:
    sheet, plate = r.pairs[line.name]
    state = r.states[line.name]
    sign = SIGN_OF[state]
    if state == AGREES:
        return f"{sign} {sheet} / {plate}"
    if state == NOT_GIVEN:
        places = " and ".join(place for place, text in (("the sheet", sheet), ("the plate", plate)) if not text)
        return f"{sign} not given on {places}"
    means = line.means if state == DIFFERS else WHY_UNSURE[line.name]
    return f"{sign} {sheet} / {plate}: {means}"


# ---- where on the valve it is read ----------------------------------------------------------------------------------

LEFT = {
    "supply": (2.72, (3.45, 2.62)),
    "bench": (2.17, (3.45, 2.32)),
    "action": (1.62, (3.62, 1.75)),
    "size": (0.95, (2.88, 0.55)),
    "metal": (0.35, (3.3, 0.32)),
}
RIGHT = {
    "kind": (2.45, (3.85, 1.62)),
    "kv": (1.85, (3.85, 1.55)),
    "rating": (1.1, (4.32, 0.62)),
    "trim": (0.35, (3.62, 0.62)),
}


def _picture() -> tuple[Any, Any]:
    """Draw a valve with each line at the place where it can be checked."""
    figure = Figure(figsize=(7.2, 3.1))
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set(xlim=(0, 7.2), ylim=(0, 3.1))
    axes.set_axis_off()
    _outline(axes)
    for places, x, side in ((LEFT, 2.35, "right"), (RIGHT, 4.75, "left")):
        for name, (y, at) in places.items():
            axes.plot([x + (0.05 if side == "right" else -0.05), at[0]], [y, at[1]], color="0.45", lw=0.8, zorder=4)
            axes.plot(*at, "o", ms=3, color="0.25", zorder=5)
            axes.text(x, y, "", ha=side, va="center", fontsize=9.5, gid=f"line_{name}")

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        return {f"line_{line.name}": f"{SIGN_OF[r.states[line.name]]} {line.label}" for line in LINES}

    return figure, move


def _outline(axes: Axes) -> None:
    body, yoke = LOOKS["casting"], LOOKS["sheet"].fill
    edge: dict[str, Any] = {"ec": "0.2", "lw": 1.1}
    round_the_plug = [
        (2.9, 0.3),
        (3.3, 0.2),
        (3.94, 0.2),
        (4.34, 0.3),
        (4.34, 0.8),
        (3.94, 0.95),
        (3.3, 0.95),
        (2.9, 0.8),
    ]
    axes.add_patch(Polygon(round_the_plug, fc=body.fill, **edge))
    for x in (2.8, 4.3):
        axes.add_patch(Rectangle((x, 0.12), 0.13, 0.86, fc=body.fill, **edge))
    axes.add_patch(Rectangle((3.35, 0.95), 0.54, 0.3, fc=body.fill, **edge))
    for x in (3.36, 3.8):
        axes.add_patch(Rectangle((x, 1.25), 0.08, 0.75, fc=yoke, **edge))
    axes.plot([3.62, 3.62], [0.6, 2.1], color="0.3", lw=3, zorder=2)
    axes.add_patch(Rectangle((3.5, 0.52), 0.24, 0.14, fc="0.45", **edge))
    axes.add_patch(Polygon([(2.95, 2.42), (3.25, 2.0), (3.99, 2.0), (4.29, 2.42)], fc=yoke, **edge))
    axes.add_patch(Polygon([(2.95, 2.5), (3.3, 2.9), (3.94, 2.9), (4.29, 2.5)], fc=yoke, **edge))
    axes.add_patch(Rectangle((2.85, 2.42), 1.54, 0.08, fc="0.75", **edge))
    axes.add_patch(Rectangle((3.7, 1.48), 0.28, 0.22, fc="#F4E7B0", ec="0.2", lw=0.8, zorder=3))


CARD = Card(
    name="nameplate",
    title="Is this the valve of the data sheet?",
    group="Before you choose or open one",
    symptom="A valve comes from the store. Compare its plate with the sheet, line by line, before it goes in.",
    words=(
        "nameplate name plate data sheet datasheet specification spec store spare replacement tag serial number wrong "
        "valve swap exchange compare check same material class rating Cv Kv characteristic trim bench set supply action"
    ),
    start="an invented sheet and plate",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt="A control valve with the nine lines beside it, each with a sign: agrees, differs, or not certain.",
    source=(
        "Nominal sizes: from memory. That WCB and A105, CF8M and F316 are of one group each: ASME B16.34, second-hand. "
        "Within 1 %: own choice, no source. Words for the action: common practice, no source."
    ),
    changes=(
        "A plate can be an old one: trim, spring and actuator may have been changed since. Papers and bench tell.",
        "Class and PN are two systems; no number of one is the same as a number of the other.",
        "Ends, face to face, packing, bonnet, leakage class: not on this card, but on the sheet.",
        "Air to open and fails closed are one only with a spring: without one look at the accessories.",
        "The sheet itself may be out of date: look at its revision.",
    ),
    cautions=(
        "Never fit a valve on a guess: a line that is not given has to be found out.",
        "A wrong rating, metal or action is a danger: tag the valve, so that nobody else fits it.",
    ),
    lesson="14_papers",
    verdicts=VERDICTS,
)
