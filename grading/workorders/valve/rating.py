"""Graded questions of lesson 15: body, rating, ends, gaskets."""

from __future__ import annotations

from dataclasses import replace

from lessons.practice.cases import in_turn
from lessons.practice.valve.rating import BOLT, NUMBERS, STAINLESS, STEEL, between
from lessons.practice.valve.rating import CLASS as PRACTICE_CLASS
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.plug_forces import circle_area


def _room(t1: float, t2: float, t: float, cooler: float, hotter: float, p: float) -> dict[str, Q]:
    warm = {"t1": Q(t1, "°C"), "t2": Q(t2, "°C"), "t": Q(t, "°C")}
    return warm | {"cooler": Q(cooler, "bar"), "hotter": Q(hotter, "bar"), "p": Q(p, "bar")}


ROOM = Question(
    id="rating.w1",
    kind="number",
    text="The table gives {cooler} at {t1} and {hotter} at {t2} for a body. Its line can reach {p} at {t}. How much more may the body hold "
    "there than the line can reach?",
    variants=(
        _room(150, 200, 190, 15.8, 13.8, 8),
        _room(100, 150, 140, 17.7, 15.8, 10),
        _room(200, 250, 240, 13.8, 12.1, 5),
        _room(250, 300, 280, 12.1, 10.2, 6),
        _room(300, 350, 330, 10.2, 8.4, 5),
        _room(350, 400, 380, 8.4, 6.5, 4),
        _room(50, 100, 90, 48.1, 42.2, 30),
        _room(100, 150, 140, 42.2, 38.5, 25),
        _room(150, 200, 190, 38.5, 35.7, 24),
        _room(200, 250, 240, 35.7, 33.4, 22),
        _room(50, 100, 95, 50.1, 46.6, 32),
        _room(350, 400, 390, 37.6, 34.7, 22),
    ),
    key=lambda n: between(n) - n.p,
    unit="bar",
    mistakes=(
        Mistake(
            "cooler_row",
            lambda n: n.cooler - n.p,
            "You took the row for the lower temperature. At {t} the body may hold less.",
        ),
    ),
    working=(
        "part [] = (t - t1) / (t2 - t1)",
        "loss [bar] = part * (cooler - hotter)",
        "rated [bar] = cooler - loss",
        "rated - p",
    ),
    names=NUMBERS | {"rated": "rating at that temperature"},
    idea="First find the rating at the temperature of the line, on a straight line between the rows. Then take off the pressure of the line.",
    step="{t} lies part of the way from {t1} to {t2}. Take that part of the fall from {cooler} to {hotter}, then take off {p}.",
    why="That is room for a pump at no flow or for a blocked line. The piping class says whether it is enough.",
    plausible=(-100.0, 200.0),
    points=2.0,
    source="ASME B16.34, second-hand; the straight line: worked by hand",
)


def _needs(metal: str, bar: float, celsius: float) -> dict[str, object]:
    return {"metal": metal, "p": Q(bar, "bar"), "t": Q(celsius, "°C")}


CLASS = replace(
    PRACTICE_CLASS,
    id="rating.w2",
    text="A valve with a body of {metal} is to be ordered for a line that reaches {p} at {t}. Which is the lightest class for it?",
    variants=(
        _needs(STEEL, 11, 250),
        _needs(STEEL, 13, 250),
        _needs(STEEL, 37, 300),
        _needs(STEEL, 42, 300),
        _needs(STEEL, 85, 300),
        _needs(STEEL, 8, 400),
        _needs(STEEL, 6, 400),
        _needs(STAINLESS, 9, 300),
        _needs(STAINLESS, 45, 100),
        _needs(STAINLESS, 34, 200),
        _needs(STAINLESS, 65, 300),
        _needs(STAINLESS, 60, 300),
    ),
    example="316 stainless steel, 20 bar at 350 °C: class 150 holds 8.4 bar, class 300 holds 30.3 bar. So take class 300.",
    why="The stamp on the body gives its cold rating at best. The line is hot.",
    points=1.0,
)


def left_on_gasket(n: object) -> float:
    """Return what the bolts press more than the line pushes [N]."""
    count, torque, k, size, p, gasket = (getattr(n, name) for name in ("count", "torque", "k", "size", "p", "gasket"))
    return float(count * torque / (k * size) - p * circle_area(gasket))


LEFT = Question(
    id="rating.w3",
    kind="number",
    text="A bonnet has {count} bolts of {size}, all tightened to {torque}, with a nut factor K of {k}. The gasket is {gasket} across, and inside it the line has "
    "{p}. With how much force is the gasket still pressed?",
    variants=tuple(
        {
            "count": count,
            "size": Q(size, "mm"),
            "torque": Q(torque, "N·m"),
            "k": k,
            "gasket": Q(gasket, "mm"),
            "p": Q(p, "bar"),
        }
        for count, size, torque, k, gasket, p in (
            (8, 16, 100, 0.20, 130, 60),
            (8, 16, 120, 0.16, 140, 85),
            (6, 16, 90, 0.15, 110, 70),
            (8, 20, 160, 0.18, 160, 50),
            (12, 20, 150, 0.20, 200, 45),
            (8, 24, 240, 0.20, 180, 60),
            (6, 12, 45, 0.15, 90, 75),
            (12, 16, 110, 0.17, 170, 65),
            (8, 20, 180, 0.16, 150, 80),
            (6, 20, 150, 0.15, 140, 60),
            (12, 24, 260, 0.18, 240, 55),
            (8, 12, 50, 0.20, 100, 50),
        )
    ),
    key=left_on_gasket,
    unit="kN",
    mistakes=(
        Mistake(
            "one_bolt",
            lambda n: n.torque / (n.k * n.size) - n.p * circle_area(n.gasket),
            "You took only one bolt. All {count} pull together.",
        ),
    ),
    working=(
        "each [kN] = torque / (k * size)",
        "all_bolts [kN] = count * each",
        "line [kN] = p * circle(gasket)",
        "all_bolts - line",
    ),
    names=BOLT,
    idea="All bolts together pull the bonnet down, and the line pushes it up. What is left presses the gasket.",
    step="For one bolt, divide {torque} by {k} times {size}. Multiply by {count}. Then take off {p} on a circle of {gasket}.",
    why="A stiff joint loses some of this when the pressure comes. The gasket's maker says how much it needs at least.",
    plausible=(0.0, 5000.0),
    points=2.0,
    source="NASA RP-1228, from memory, not read: T = K·D·F; the balance: worked by hand",
)

_FOUND = {
    "grease": (
        "the sheet gives a torque for dry bolts, and the bolts had been greased",
        "threads and nuts were greased, but the torque was the one for dry bolts",
        "a new grease with half the friction was used, at the old torque",
    ),
    "old": (
        "the old gasket looked fine and went in again",
        "the gasket of the last repair was turned over and used once more",
        "the old spiral-wound gasket was wiped and laid in",
    ),
    "once": (
        "each nut was tightened to full torque, once round the circle",
        "the nuts were tightened one after the other, and nobody went back",
        "all nuts got full torque in one go, round the circle",
    ),
    "rusty": (
        "rusty nuts on rusty threads were tightened to the torque for greased ones",
        "threads full of paint were tightened to the torque on the sheet",
        "dry, scored nuts were tightened to the torque that the sheet gives for the named grease",
    ),
}

FOUND = Question(
    id="rating.w4",
    kind="choice",
    text="At a flange joint, {found}. What is wrong now?",
    variants=in_turn("found", _FOUND),
    key=lambda n: n.right,
    options=(
        Option("grease", "The bolts are loaded far higher than meant", "Here the friction was not less than meant."),
        Option("rusty", "The bolts are loaded far less than meant", "Here the friction was not more than meant."),
        Option(
            "once",
            "The load is uneven: the first bolts went slack as the others were tightened",
            "Nothing is said here about the order of the nuts.",
        ),
        Option(
            "old",
            "The gasket was pressed flat once and will not fill the faces again",
            "Here the gasket is not what is wrong.",
        ),
    ),
    idea="Torque, friction, order or gasket: which of the four was not as the sheet asks?",
    step="Less friction than meant gives more load, and more friction gives less. One round only leaves the load uneven.",
    example="Rusty bolts get the torque for greased ones. Friction takes it, the load is small, and the joint weeps.",
    why="Each of these joints can pass a leak test cold, and weep when the line gets hot.",
    points=1.0,
    source="NASA RP-1228, from memory, not read: load = torque/(K·D); new gaskets: NAVFAC MO-209; rounds: ASME PCC-1, from memory",
)

TESTED = Question(
    id="rating.w5",
    kind="several",
    text="The body of a valve, DN {dn} ({nps} in), was welded and its seat lapped. Shell and seat are to be tested. What is true?",
    variants=tuple(
        {"dn": dn, "nps": nps}
        for dn, nps in (
            (15, "½"),
            (20, "¾"),
            (25, "1"),
            (32, "1¼"),
            (40, "1½"),
            (50, "2"),
            (65, "2½"),
            (80, "3"),
            (100, "4"),
            (150, "6"),
            (200, "8"),
            (250, "10"),
        )
    ),
    key=lambda _: {"open", "water", "two"},
    options=(
        Option("open", "For the shell test the valve stands part open, so that all of the body sees the pressure"),
        Option("water", "Shell tests are done with water, all air let out first"),
        Option("two", "They are two tests: a tight shell says nothing about the seat, and the other way round"),
        Option(
            "line",
            "A shell test in the line will do, against the block valves",
            "1.5 times the rating may be more than pipe, block valves and "
            "gauges around it can take. It is a job for a test bench.",
        ),
        Option(
            "air",
            "Air is better: it finds the smallest leak",
            "Air at that pressure stores energy like a bomb. Water springs back very little.",
        ),
        Option(
            "service",
            "The shell is tested at the pressure of its line",
            "It is tested at 1.5 times its own cold rating, whatever the line.",
        ),
    ),
    idea="The shell test asks whether the walls hold. The seat test asks how much passes the shut plug.",
    step="Three of the six are true. Each time, ask what would happen if something gave way.",
    example="For the shell: part open, ends closed, full of water. For the seat: shut with its normal force, one side open to see the leak.",
    why="The site and licensed people decide who may do it, and where. Nobody stands in line with a joint.",
    points=2.0,
    source="ASME B16.34, second-hand for 1.5 times; how it is done: from memory",
)

QUESTIONS = (ROOM, CLASS, LEFT, FOUND, TESTED)
