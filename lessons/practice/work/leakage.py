"""Lesson 11: seat leakage classes and shut-off."""

from __future__ import annotations

from types import SimpleNamespace
from typing import TYPE_CHECKING

from lessons import safety
from lessons.questions.question import Mistake, Option, Question, by_family
from lessons.units.quantities import Q
from valvecalc.seat_leakage import BUBBLE, ML_PER_MIN, allowed_leakage, leak_verdict, water_test_capacity

if TYPE_CHECKING:
    from matplotlib.figure import Figure

LESSON = "11_seat_leakage"
TERMS: dict[str, str] = {
    "seat leakage": "What passes through a valve that is shut with its normal closing force.",
    "leakage class": "How much a shut valve may leak in a fixed test: class II most, class VI least.",
    "rated capacity": "The flow of a valve wide open at the drop of the leak test; classes II to IV are shares of it.",
}

SHARES = {"II": 0.5, "III": 0.1, "IV": 0.01}  # per cent of rated capacity
PER_MINUTE = "1 m³/h is 16 667 mL/min; 1 US gpm is 3785 mL/min or 231 in³/min"


def share_limit(n: SimpleNamespace) -> float:
    """Return what the class allows of a rated capacity [m³/s]."""
    return float(allowed_leakage(n.form, capacity=n.flow))


def strictest(leak: float, capacity: float) -> str:
    """Return the strictest of classes II to IV that a leak meets, or "none"."""
    met = [c for c in SHARES if str(leak_verdict(leak, allowed_leakage(c, capacity=capacity))) == "pass"]
    return met[-1] if met else "none"


PREDICT = Question(
    id="leakage.predict",
    kind="predict",
    text="Wide open, FV-1204 passes 46.8 m³/h (206 gpm) at the test pressure. Shut, class IV lets it leak 0.01 % of that. "
    "How much is that in one minute?",
    variants=({},),
    options=(
        Option("drops", "A few drops"),
        Option("glass", "About a third of a glass"),
        Option("bucket", "Most of a bucket"),
    ),
    why="The picture shows it: look at the bar of class IV.",
)

CAPACITY = Question(
    id="leakage.capacity",
    kind="number",
    text="A valve on the bench has a flow coefficient of {kv} wide open. Its leak test is done with water at a drop of {dp}. Of what flow "
    "(its rated capacity) does the class take its share?",
    variants=tuple(
        {"kv": Q(kv, "Kv"), "dp": Q(dp, "bar")}
        for kv, dp in zip(
            (25, 100, 40, 36, 63, 16, 160, 80, 10, 50, 125, 31.5),
            (3.5, 3.2, 3.0, 2.5, 3.6, 3.8, 3.4, 2.0, 4.0, 2.8, 3.1, 3.3),
            strict=True,
        )
    ),
    key=lambda n: water_test_capacity(n.kv, n.dp),
    unit="m³/h",
    mistakes=(
        Mistake("no_root", by_family, "You left out the root. Flow = flow coefficient × √drop."),
        Mistake(
            "left_out_sqrt_dp",
            by_family,
            "That is the flow at a drop of 1, which is what the coefficient means. The test has {dp}.",
        ),
    ),
    working=("kv * sqrt(dp)",),
    idea="The valve wide open, at the drop of the test: flow = flow coefficient × √drop (lesson 06).",
    step="Take the root of {dp} and multiply by {kv}.",
    why="Rated capacity means: wide open, but at the pressure of the leak test.",
    plausible=(1.0, 500.0),
    source="definition of Kv, worked by hand; that classes II to IV take a share of it: FCI 70-2 and GB/T 4213 (second-hand)",
)

LIMIT = Question(
    id="leakage.limit",
    kind="number",
    text="Wide open at the test pressure, a valve passes {flow}. It was ordered to class {form}: {share} of that. How much may "
    "it leak in a minute?",
    variants=tuple(
        {"flow": Q(flow, "m³/h"), "form": form, "share": Q(SHARES[form], "%")}
        for flow, form in zip(
            (46, 180, 72, 60, 115, 30, 290, 110, 20, 90, 220, 55),
            ("IV", "II", "III", "IV", "III", "IV", "IV", "II", "IV", "II", "IV", "III"),
            strict=True,
        )
    ),
    key=share_limit,
    unit="mL/min",
    mistakes=(
        Mistake(
            "percent_as_number",
            lambda n: share_limit(n) * 100,
            "You took {share} as the plain number. Per cent means: divide by a hundred first.",
        ),
        Mistake(
            "one_zero_lost",
            lambda n: share_limit(n) * 10,
            "Ten times too much: a zero is lost. 0.01 % is 0.0001, and 0.1 % is 0.001.",
        ),
        Mistake("one_zero_more", lambda n: share_limit(n) / 10, "Ten times too little: there is a zero too many."),
        Mistake("per_hour", lambda n: share_limit(n) * 60, "That is what may leak in an hour."),
    ),
    working=("flow * share",),
    names={"flow": "rated capacity"},
    idea="A small share of a large flow. Write the per cent as a plain number first: 0.01 % = 0.0001.",
    step="{share} as a plain number, times {flow}. Then into a minute: " + PER_MINUTE + ".",
    why="Look once more at the zeros before you sign: one lost zero is a whole class.",
    plausible=(0.01, 1e5),
    source="FCI 70-2 and GB/T 4213 (second-hand): II 0.5 %, III 0.1 %, IV 0.01 % of rated capacity",
)

CLASSES = (
    Option(
        "II",
        "Class II (0.5 %)",
        "Work out the leak as a share of the rated capacity, and compare it with 0.5, 0.1 and 0.01 %.",
    ),
    Option(
        "III",
        "Class III (0.1 %)",
        "Work out the leak as a share of the rated capacity, and compare it with 0.5, 0.1 and 0.01 %.",
    ),
    Option("IV", "Class IV (0.01 %)", "For class IV the leak must be no more than one part in ten thousand."),
    Option("none", "None of the three", "There is one it still meets: half a per cent is five parts in a thousand."),
)

STRICTEST = Question(
    id="leakage.strictest",
    kind="choice",
    text="On the bench {tag} leaks {leak}. Wide open at the same pressure it would pass {flow}. Which is the strictest class "
    "it meets?",
    variants=tuple(
        {"tag": tag, "flow": Q(flow, "m³/h"), "leak": Q(leak, "mL/min")}
        for tag, flow, leak in (
            ("FV-1204", 46, 60),
            ("FV-1204", 46, 400),
            ("FV-1204", 46, 2500),
            ("FV-1204", 46, 6000),
            ("FV-2107", 150, 180),
            ("FV-2107", 150, 1500),
            ("FV-2107", 150, 7500),
            ("FV-2107", 150, 20000),
            ("LV-2112", 72, 90),
            ("LV-2112", 72, 700),
            ("LV-2112", 72, 4200),
            ("LV-2112", 72, 9600),
        )
    ),
    key=lambda n: strictest(n.leak, n.flow),
    options=CLASSES,
    idea="Bring both to the same unit and divide: leak over flow. Then compare with the three shares.",
    step="{flow} in the unit of the leak: " + PER_MINUTE + ". Divide {leak} by that.",
    example="A leak of 0.05 % meets class III (0.1 %), but not class IV (0.01 %).",
    why="A class is met up to and at its limit; the strictest met is the one to report.",
    source="FCI 70-2 and GB/T 4213 (second-hand): II 0.5 %, III 0.1 %, IV 0.01 % of rated capacity",
)

FIVE = Question(
    id="leakage.five",
    kind="number",
    text="Class V: a seat of {d0} tested with water at {p0} may leak {l0}; the limit goes in proportion to the seat's "
    "diameter and to the drop. Another valve has a seat of {d} and is tested at its full drop of {p}. How much may it leak?",
    variants=tuple(
        {"d0": Q(25, "mm"), "p0": Q(10, "bar"), "l0": Q(0.075, "mL/min"), "d": Q(d, "mm"), "p": Q(p, "bar")}
        for d, p in zip(
            (50, 40, 80, 65, 46, 35, 100, 70, 60, 40, 90, 150),
            (24, 12, 8, 16, 22, 15, 7.5, 25, 13, 30, 12, 8.5),
            strict=True,
        )
    ),
    key=lambda n: allowed_leakage("V", dp=n.p, port=n.d),
    unit="mL/min",
    mistakes=(
        Mistake("only_seat", lambda n: n.l0 * n.d / n.d0, "You left out the drop: it counts too."),
        Mistake("only_drop", lambda n: n.l0 * n.p / n.p0, "You left out the seat's diameter: it counts too."),
        Mistake(
            "area",
            lambda n: n.l0 * (n.d / n.d0) ** 2 * n.p / n.p0,
            "You squared the diameter. The leak runs along the rim, and the rim grows with the diameter itself.",
        ),
    ),
    working=("l0 * (d / d0) * (p / p0)",),
    names={"p": "drop at this seat"},
    idea="Two proportions, one after the other: so many times the diameter, so many times the drop.",
    step="{l0} × ({d} ÷ {d0}) × ({p} ÷ {p0}).",
    why="Class V is tested with water at the full drop it will see, not at the usual test pressure.",
    plausible=(0.0001, 10.0),
    source="GB/T 4213-92 (second-hand): 1.8e-7·Δp(kPa)·D(mm) L/h; the inch form of FCI 70-2 (second-hand) gives 5 % less",
)

BUBBLES = Question(
    id="leakage.bubbles",
    kind="number",
    text="Class VI, air. {n} bubbles rise from the tube in {t} minutes; each holds about 0.15 mL (0.00915 in³). How much does "
    "the valve leak?",
    variants=tuple(
        {"n": n, "t": t}
        for n, t in (
            (12, 4),
            (9, 2),
            (30, 5),
            (8, 10),
            (45, 3),
            (14, 5),
            (24, 10),
            (66, 4),
            (5, 2),
            (36, 8),
            (21, 3),
            (50, 2),
        )
    ),
    key=lambda n: BUBBLE * n.n / n.t / 60,
    unit="mL/min",
    mistakes=(
        Mistake("per_bubble", lambda n: ML_PER_MIN * n.n / n.t, "Those are bubbles a minute. Each holds only 0.15 mL."),
        Mistake("no_time", lambda n: BUBBLE * n.n / 60, "That is all of it. Divide by the minutes."),
    ),
    working=("gas [mL] = n * bubble", "gas / time"),
    given=lambda n: {"bubble": Q(0.15, "mL"), "time": Q(n.t, "min")},
    idea="How much gas rose in all, and in how many minutes?",
    step="{n} × 0.15 mL (0.00915 in³), divided by {t}.",
    why="Bubbles are a handy measure; the limit itself is a volume.",
    plausible=(0.001, 20.0),
    source="GB/T 4213-92 and FCI 70-2 (second-hand): about 0.15 mL a bubble from a 6 × 1 mm tube",
)

MATCH = Question(
    id="leakage.match",
    kind="match",
    text="A valve passes {flow} wide open at the test pressure. Five limits for it are written on the shop's board. Which "
    "class does each belong to?",
    variants=tuple(
        {
            "flow": Q(flow, "m³/h"),
            "two": Q(flow * 250 / 3, "mL/min"),
            "three": Q(flow * 50 / 3, "mL/min"),
            "four": Q(flow * 5 / 3, "mL/min"),
        }
        for flow in (48, 180, 72, 60, 120, 30, 300, 90, 24, 150, 210, 54)
    ),
    key=lambda n: {"a": "IV", "b": "VI", "c": "II", "d": "V", "e": "III"},  # noqa: ARG005 - the same for all
    places=(
        Option("a", "{four}"),
        Option("b", "by seat diameter, air, counted in bubbles"),
        Option("c", "{two}"),
        Option("d", "by seat diameter and full service drop, water"),
        Option("e", "{three}"),
    ),
    options=tuple(Option(name, f"class {name}") for name in ("II", "III", "IV", "V", "VI")),
    idea="The three volumes are shares of the rated capacity: 0.5, 0.1 and 0.01 %. The other two go by the seat.",
    step="Sort the volumes: the largest is class II, the smallest of them class IV.",
    example="Largest II, then III, then IV; water at full drop V; bubbles VI.",
    why="II, III and IV are shares of the flow; V and VI go by the seat.",
    source="FCI 70-2 and GB/T 4213-92 (second-hand)",
)


def _rig(n: SimpleNamespace, _units: str) -> Figure:
    from lessons.pictures.charts.leak_rig import leak_rig

    return leak_rig(n.order.split())


RIG = Question(
    id="leakage.rig",
    kind="match",
    text="{tag} on the test bench. What is at each number?",
    variants=tuple(
        {"tag": tag, "order": order}
        for tag, order in zip(
            ("FV-1204", "FV-2107", "LV-2112", "LV-6120") * 3,
            (
                "supply gauge plug outlet cylinder",
                "plug supply outlet gauge cylinder",
                "outlet cylinder supply gauge plug",
                "cylinder gauge plug supply outlet",
                "gauge outlet cylinder plug supply",
                "plug cylinder gauge outlet supply",
                "supply outlet gauge cylinder plug",
                "cylinder plug supply outlet gauge",
                "gauge supply plug cylinder outlet",
                "outlet plug cylinder supply gauge",
                "cylinder supply outlet plug gauge",
                "outlet gauge supply plug cylinder",
            ),
            strict=True,
        )
    ),
    key=lambda n: {str(number): name for number, name in enumerate(n.order.split(), start=1)},
    places=tuple(Option(str(number), f"marked {number} in the picture") for number in range(1, 6)),
    options=(
        Option("supply", "water under pressure comes from here"),
        Option("gauge", "shows the test pressure"),
        Option("plug", "shut with its normal force: plug and seat are tested"),
        Option("outlet", "must stay open to the air, so that all the leak comes out"),
        Option("cylinder", "the leak is measured here, against the clock"),
    ),
    figure=_rig,
    alt="A leak test drawn as a flow sheet: from a tank through a pump and past a gauge to a shut control valve, and from "
    "there to an open pipe end that drips into a measuring cylinder. Five numbers point at parts.",
    idea="Follow the water from left to right.",
    step="Tank, gauge, shut valve, open pipe end, measuring cylinder: in this order along the pipe.",
    example="The tank gives the water; the round dial is the gauge; the two cones are the valve.",
    why="Pressure on one side, air on the other, and nothing in between but plug and seat.",
    source="procedure 1 (A) of IEC 60534-4 and FCI 70-2 (second-hand), in a drawing of our own",
)

STEPS = ("permit", "connect", "fill", "shut", "press", "wait", "collect", "let_off")

ORDER = Question(
    id="leakage.order",
    kind="order",
    text="{tag}, out of its line, is to be tested on the bench to class {form} with water at {dp}. Put the steps in order.",
    variants=tuple(
        {"tag": tag, "form": form, "dp": Q(dp, "bar")}
        for tag, form, dp in zip(
            ("FV-1204", "FV-2107", "LV-2112", "LV-6120") * 3,
            ("IV", "III", "IV", "II", "III", "IV", "II", "IV", "IV", "IV", "III", "III"),
            (3.5, 3.4, 3.2, 3.5, 3.6, 3.3, 3.5, 4.0, 3.8, 3.5, 3.5, 3.2),
            strict=True,
        )
    ),
    key=lambda n: STEPS,  # noqa: ARG005 - the same for all
    options=(
        Option(
            "permit", f"Permit in hand; the valve came out of its line {safety.DONE}; now it is clamped on the bench"
        ),
        Option("connect", "Water to the inlet; outlet open, measuring cylinder under it"),
        Option("fill", "Fill body and pipe with water and let the air out"),
        Option("shut", "Stroke the valve shut with its normal closing force, and no more"),
        Option("press", "Bring the pressure up slowly to the test pressure; stand clear"),
        Option("wait", "Wait until the leak is steady"),
        Option("collect", "Collect and time the leak, and compare it with the limit"),
        Option("let_off", "Let the pressure off, drain, prove that none is left; only then undo a connection"),
    ),
    mistakes=(
        Mistake(
            "shut_before_filled",
            lambda n: ("permit", "connect", "shut", "fill", *STEPS[4:]),  # noqa: ARG005
            "Fill first, then stroke it shut: water behind a shut plug and air in front of it give a false reading.",
        ),
        Mistake(
            "no_patience",
            lambda n: (*STEPS[:5], "collect", "wait", "let_off"),  # noqa: ARG005
            "Wait before you collect: at first the leak is not steady.",
        ),
    ),
    idea="Safe first; then connect, fill, shut; pressure; patience before the clock; and pressure off before a spanner.",
    step="Permit first. Body filled before it is shut; pressure only when it is shut; the clock only when the leak is steady.",
    example="Permit, connect, fill, shut, pressure, wait, collect, let off.",
    why="Only then does the reading belong to plug and seat. " + safety.LEAK_TEST,
    source="body filled first, then stroked shut, and a steady leak before the clock: FCI 70-2 (second-hand); the rest of the "
    "order: common practice, no source, and the site's procedure decides",
)

DOUBLE = Question(
    id="leakage.double",
    kind="number",
    text="A double-seated valve is sold as class II (0.5 %). At the drop of the test it passes {flow} wide open. Shut, it "
    "lets {p} of that through. How many times the limit is that?",
    variants=tuple(
        {"flow": Q(flow, "m³/h"), "p": Q(p, "%")}
        for flow, p in zip(
            (120, 210, 150, 90, 260, 180, 75, 310, 140, 220, 60, 280),
            (0.2, 0.25, 0.3, 0.4, 0.6, 0.7, 0.75, 0.8, 0.9, 1.0, 1.2, 1.5),
            strict=True,
        )
    ),
    key=lambda n: n.p / 0.005,
    mistakes=(
        Mistake("upside_down", lambda n: 0.005 / n.p, "Turn it over: the leak divided by the limit."),
        Mistake("percent_mixed", lambda n: n.p / 0.5, "One was taken in per cent, the other as a plain number."),
    ),
    working=("p / allowed",),
    given=lambda _: {"allowed": Q(0.5, "%")},
    names={"p": "share that leaks", "allowed": "share allowed"},
    idea="Divide one share by the other. The flow itself does not matter.",
    step="Divide {p} by 0.5 %.",
    why="Above 1 it fails, at 1 and below it passes. A share of the flow can be told without knowing the flow.",
    plausible=(0.1, 10.0),
    source="worked by hand, one share over the other; class II 0.5 %: FCI 70-2 (second-hand)",
)

QUESTIONS = (PREDICT, CAPACITY, LIMIT, STRICTEST, FIVE, BUBBLES, MATCH, RIG, ORDER, DOUBLE)
