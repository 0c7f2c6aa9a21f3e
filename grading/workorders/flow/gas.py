"""Graded questions of lesson 19: gas, steam, noise."""

from __future__ import annotations

from lessons.practice.flow.gas import GASES, WATER
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.gas import gas_kv

SIZE = Question(
    id="gas.w1",
    kind="number",
    text="Choose a valve for {flow} of {what} (ratio of specific heats {gamma}, {rho} before the valve), from {p1} to {p2}, both "
    "absolute. The body style chosen has xT {xt}. What flow coefficient is needed? Check for choking first.",
    variants=tuple(
        {
            "what": what,
            "gamma": GASES[what][0],
            "flow": Q(flow, "kg/h"),
            "rho": Q(rho, "kg/m³"),
            "p1": Q(p1, "bar"),
            "p2": Q(p2, "bar"),
            "xt": xt,
        }
        for what, flow, rho, p1, p2, xt in (
            ("air", 4000, 9.5, 8.0, 3.0, 0.50),
            ("nitrogen", 2500, 6.9, 6.0, 1.5, 0.60),
            ("fuel gas", 3000, 6.9, 9.0, 2.0, 0.65),
            ("methane", 1800, 7.6, 12.0, 4.0, 0.60),
            ("air", 1500, 5.9, 5.0, 2.2, 0.72),
            ("fuel gas", 5200, 5.4, 7.0, 2.0, 0.60),
            ("nitrogen", 900, 11.5, 10.0, 6.0, 0.68),
            ("methane", 2600, 5.1, 8.0, 2.0, 0.65),
            ("air", 7000, 13.1, 11.0, 3.0, 0.55),
            ("fuel gas", 1200, 3.8, 5.0, 2.6, 0.70),
            ("nitrogen", 3600, 8.0, 7.0, 2.0, 0.50),
            ("methane", 4400, 6.3, 10.0, 3.0, 0.60),
        )
    ),
    key=lambda n: float(gas_kv(n.flow, n.p1, n.p2, rho=n.rho, gamma=n.gamma, xt=n.xt)),
    unit="Kv",
    tolerance=0.015,
    points=2.0,
    working=(
        "chokes [] = gamma / 1.4 * xt",
        "x [] = min((p1 - p2) / p1, chokes)",
        "y [] = 1 - x / (3 * chokes)",
        "flow / (y * sqrt(water * x * p1 * rho))",
    ),
    given=lambda n: WATER,  # noqa: ARG005 - the same for all
    names={
        "x": "share that counts",
        "y": "Y",
        "chokes": "share at which it chokes",
        "rho": "density of the gas",
        "water": "density of water",
    },
    mistakes=(
        Mistake(
            "no_y",
            lambda n: n.flow * 3600 / (1000 * min(n.p1 - n.p2, n.gamma / 1.4 * n.xt * n.p1) / 1e5 * n.rho) ** 0.5,
            "Y was left out. Gas grows thinner on its way through, so a larger valve is needed.",
            credit=0.5,
        ),
    ),
    idea="Flow coefficient = flow ÷ (Y × √(1000 × drop that counts × density)); a drop beyond choking does not count.",
    step="It chokes at x = {gamma} ÷ 1.4 × {xt}. Compare ({p1} − {p2}) ÷ {p1} with that. Use the smaller one for Y and for the drop.",
    why="If you forget Y or choking, you buy a valve that is too small or too large.",
    plausible=(1.0, 500.0),
    source="IEC 60534-2-1, equations 8 to 12, with its example 3",
)

START = Question(
    id="gas.w2",
    kind="order",
    text="The line of PV-7110 is cold: {why}. It is to be put back into service. Put the steps in order.",
    variants=tuple(
        {"why": why}
        for why in (
            "a trap has been renewed", "the plug has been changed", "a flange has a new gasket", "the packing is new",
            "the strainer has been cleaned", "the header was shut down over the weekend", "a drain valve has been changed",
            "the cage has been changed", "insulation has been renewed", "a gauge has been fitted", "a weld has been tested",
            "the block valve has been repacked",
        )
    ),
    key=lambda n: ("tell", "drain", "warm", "dry", "open", "hand_over"),  # noqa: ARG005 - the same for all
    options=(
        Option("tell", "Tell the board; permit signed off, hearing protection on, nobody at an open end"),
        Option("drain", "Open the drains before and behind the valve"),
        Option("warm", "Crack the block valve open and let the pipe warm through"),
        Option("dry", "When dry steam comes, leave the draining to the traps"),
        Option("open", "Open the block valve all the way, slowly"),
        Option("hand_over", "Open the control valve slowly by hand signal, then hand over to the controller"),
    ),
    mistakes=(
        Mistake("warm_first", lambda n: ("tell", "warm", "drain", "dry", "open", "hand_over"),  # noqa: ARG005
                "The first steam turns to water in the cold pipe. The drains have to stand open before it comes."),
        Mistake("open_first", lambda n: ("tell", "drain", "warm", "open", "dry", "hand_over"),  # noqa: ARG005
                "You opened the block valve before the pipe was dry. The rush of steam drives the water along."),
    ),
    idea="First let the water out. Then warm the pipe, wait for dry steam, and open.",
    step="The first steam turns to water in the cold pipe. The water needs a way out before the steam comes.",
    example="Tell, drain, warm, dry, open, hand over.",
    why="Water that fast steam drives along breaks fittings.",
    source="common practice, no source",
)  # fmt: skip

QUIET = Question(
    id="gas.w3",
    kind="several",
    text="PV-7110 gets a cage with {holes} holes in place of four windows. Open area, flow and pressures stay the same. Why is it quieter "
    "beside the pipe?",
    variants=tuple({"holes": holes} for holes in (120, 144, 160, 180, 196, 216, 240, 256, 288, 324, 360, 400)),
    key=lambda n: {"high", "wall", "ear"},  # noqa: ARG005 - the same for all
    options=(
        Option("high", "Small jets make a higher sound"),
        Option("wall", "High sound goes through the pipe wall less easily"),
        Option("ear", "The ear hears very high sound less, or not at all"),
        Option(
            "energy", "Less energy is lost in the valve", "Flow and pressures are the same, so the same energy is lost."
        ),
        Option(
            "slow", "The steam goes through small holes more slowly", "The drop is the same, so the jets are as fast."
        ),
        Option(
            "thin", "The steam behind the valve is thinner", "Its pressure is the same, so it is as dense as before."
        ),
        Option(
            "stiff",
            "A drilled cage shakes less than one with windows",
            "What is heard comes from the jets, not from a cage that shakes.",
        ),
    ),
    idea="Follow the sound: the jet, the wall, the ear. What does a smaller jet change at each?",
    step="A jet half as wide has twice the frequency. Now ask what the wall and the ear do with a higher frequency.",
    example="From 27 mm to 2.7 mm the frequency goes from 6.7 to 67 kHz: no ear hears that.",
    why="The sound is moved to frequencies that hardly get through the wall or reach the ear.",
    source="IEC 60534-8-3, second-hand",
)

HOURS = Question(
    id="gas.w4",
    kind="number",
    text="Beside a valve a sound level meter shows {level} dB(A). This site's rule allows 8 hours a day at 90 dB(A), and half the time for "
    "each 5 dB more. By this rule, how long may somebody be exposed to that level in a day?",
    variants=tuple({"level": level} for level in (92, 92.5, 93, 93.5, 95, 96.5, 97, 97.5, 98.5, 99, 101, 104)),
    key=lambda n: 8 * 3600 / 2 ** ((n.level - 90) / 5),
    unit="h",
    working=("halvings [] = (level - 90) / 5", "day / 2 ** halvings"),
    given=lambda n: {"day": Q(8, "h")},  # noqa: ARG005 - the same for all
    names={"level": "level", "halvings": "number of halvings", "day": "time at 90 dB(A)"},
    mistakes=(
        Mistake(
            "per_three",
            lambda n: 8 * 3600 / 2 ** ((n.level - 90) / 3),
            "You halved for each 3 dB. Some countries do so; the rule here says 5 dB.",
        ),
    ),
    idea="The time halves with each 5 dB above 90.",
    step="Work out ({level} − 90) ÷ 5. The 8 hours are halved that many times.",
    why="Hearing protection is worn all the same, and from well below 90 dB(A). The rule of your own site counts.",
    plausible=(0.1, 8.0),
    source="29 CFR 1910.95, second-hand",
)

QUESTIONS = (SIZE, START, QUIET, HOURS)
