"""Lesson 13: troubleshooting on work orders with as-found data."""

from __future__ import annotations

from typing import Any

from lessons import safety
from lessons.practice.charts_asked import chart_of
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.actuator import actuator_from_bench_set
from valvecalc.force_balance import free_travel

LESSON = "13_troubleshooting"
TERMS: dict[str, str] = {
    "symptom": "What you see going wrong, not yet why.",
    "cause": "What makes the symptom, and so what to put right.",
    "converter": "Turns the current from the controller into an air pressure.",
    "zero shift": "An error that is the same at every signal.",
    "play": "Free movement between two parts that should move as one, such as a loose stem connector.",
    "air leak": "Air lost on the way to the actuator or through its diaphragm, so that less of it arrives.",
}
TAGS = ("FV-1204", "LV-2112", "PV-4015", "LV-6120", "PV-5102", "TV-3301")

PREDICT = Question(
    id="trouble.predict",
    kind="predict",
    text="The converter of FV-1204 has drifted: at every signal it sends 8 % too little air. Chart B shows "
    "the stem against the air that really arrives in the actuator. What is to be seen there?",
    variants=({},),
    options=(
        Option("moved", "The whole line has moved sideways"),
        Option("short", "It lies on its old line, but ends early"),
        Option("loop", "It has opened to a loop"),
    ),
    why="Now shift the zero and watch both charts. Put it back, and try the other two.",
)


BOTH_ALT = (
    "Two charts, A travel against signal, B travel against air, up and down; dotted, how the valve was left last time."
)
AIR_ALT = "Chart B: travel against air in the actuator, up and down, on a fine grid; dotted, how it was left last time."
SIGNAL_ALT = "Chart A: travel against signal, up and down, on a fine grid; dotted, how it was left last time."

FAULTS = (
    Option("friction", "Too much friction", "Friction opens a loop in both charts, because the stem really "
           "waits for more air. Is there a loop in B as wide as in A?"),
    Option("bench", "The bench set is wrong", "With a wrong bench set the same air no longer makes the same "
           "travel: chart B leaves its dotted line sideways. Look whether it does."),
    Option("seat", "Something keeps the plug off its seat", "Then the travel stops above zero, in both "
           "charts, with a level stretch at the bottom and nothing else."),
    Option("zero", "The converter's zero has shifted", "Then chart B lies on its line, and chart A is off by "
           "the same amount at every signal."),
    Option("leak", "Air is lost on the way", "Then chart B lies on its line but stops early, and chart A is "
           "off by more the more air there is."),
    Option("play", "There is play between actuator stem and valve stem", "Then A has a loop and B has none: "
           "the actuator stem follows the air, the valve stem comes later."),
)  # fmt: skip
SIZES: dict[str, tuple[float, ...]] = {
    "friction": (180.0, 240.0, 300.0),
    "bench": (0.10e5, 0.13e5, 0.16e5),
    "seat": (0.08, 0.11, 0.15),
    "zero": (-0.09, 0.08, -0.07),
    "leak": (0.16, 0.22, 0.30),
    "play": (0.08, 0.11, 0.14),
}


def traced(sizes: dict[str, tuple[float, ...]], seed: int) -> tuple[dict[str, Any], ...]:
    """Return one variant for each fault and size, on FV-1204 [SI]."""
    return tuple(
        {"fault": fault, "size": each[i], "seed": seed + 10 * k + i, "low": 0.2e5, "high": 1.0e5, "area": 0.032}
        for i in range(len(sizes["friction"]))
        for k, (fault, each) in enumerate(sizes.items())
    )


DIAGNOSE = Question(
    id="trouble.diagnose",
    kind="choice",
    text="Work order: “FV-1204 does not follow its signal.” It has no positioner. As found, by a slow stroke "
    "up and down; dotted, as left last time. What is wrong?",
    variants=traced(SIZES, 100),
    key=lambda n: n.fault,
    options=FAULTS,
    idea="First chart B: does it lie on its dotted line? That tells which half of the valve to look at.",
    step="On its line: before the air or after the stem. Off its line: the actuator, the packing or the seat.",
    example="B on its line but short, A flatter than its line: air is lost on the way.",
    why="Nobody has opened anything yet, and half of the valve is ruled out.",
    source="computed here: strokes simulated with one fault each",
    figure=chart_of("fault_charts.both_figure"),
    alt=BOTH_ALT,
)

HALF = Question(
    id="trouble.half",
    kind="several",
    text="{tag}, {how}. Which faults leave chart B, stem against air, on its dotted line?",
    variants=tuple(
        {"tag": tag, "how": how} for tag in TAGS[:4] for how in ("no positioner", "stroked slowly", "as found")
    ),
    key=lambda _: {"zero", "leak", "play"},
    options=(
        Option("zero", "Converter drifted"),
        Option("leak", "Leak in the air tubing"),
        Option("play", "Stem connector loose"),
        Option("friction", "Packing too tight", "Friction makes the stem wait for more air: B opens to a loop."),
        Option(
            "bench",
            "Spring adjuster turned",
            "A turned adjuster changes how much air the same travel needs: B moves sideways.",
        ),
        Option("seat", "Scale under the plug", "Scale stops the stem: B gets a level stretch at the bottom."),
    ),
    idea="Chart B knows only what lies between the air in the actuator and the actuator stem.",
    step="Three lie outside that stretch: two before it, one after it.",
    example="A kink in the signal cable cannot be seen in B at all.",
    why="One chart cuts the valve in two halves; that is most of troubleshooting.",
    source="worked by hand: statics, as in the picture of this lesson",
)


def air_at_half(n: Any) -> dict[str, Q]:
    """Return the air at which a rising and a falling stroke pass half travel, and where the dotted line does."""
    shift, rubbing = (n.size, n.rubbing) if n.fault == "bench" else (0.0, n.size)
    dotted = (n.low + n.high) / 2
    air = {"going_up": dotted + shift + rubbing / n.area, "coming_down": dotted + shift - rubbing / n.area}
    return {name: Q(round(value / 1e5, 4), "bar") for name, value in {**air, "dotted": dotted}.items()}


def air_at_start(n: Any) -> dict[str, Q]:
    """Return the air at which a rising stroke begins and a falling one ends."""
    air = {"going_up": n.low + n.size + n.rubbing / n.area, "coming_down": n.low + n.size - n.rubbing / n.area}
    return {name: Q(round(value / 1e5, 4), "bar") for name, value in air.items()}


def travel_at_half(n: Any) -> dict[str, Q]:
    """Return the travel at half signal, going up and coming down."""
    half_width = n.rubbing / n.area / (n.high - n.low)
    travel = {"going_up": 0.5 + n.size - half_width, "coming_down": 0.5 + n.size + half_width}
    return {name: Q(round(100 * value, 2), "%") for name, value in travel.items()}


FRICTION = Question(
    id="trouble.friction",
    kind="number",
    text="Chart B of a valve, as found. Its diaphragm has an effective area of {area}. Read the loop and work "
    "out the friction.",
    variants=tuple(
        {
            "fault": "friction",
            "size": float(size),
            "seed": 200 + i,
            "area": Q(area, "cm²"),
            "low": Q(0.2, "bar"),
            "high": Q(1.0, "bar"),
        }
        for i, (size, area) in enumerate(
            (
                (210, 320),
                (330, 480),
                (150, 200),
                (270, 320),
                (405, 480),
                (190, 200),
                (240, 320),
                (360, 480),
                (170, 200),
                (300, 320),
                (450, 480),
                (180, 200),
            )
        )
    ),
    key=lambda n: n.size,
    unit="N",
    tolerance=0.12,
    mistakes=(
        Mistake(
            "whole_width",
            lambda n: 2 * n.size,
            "You took the whole width of the loop. It holds the "
            "friction twice: once for going up, once for coming down.",
        ),
        Mistake(
            "halved_twice",
            lambda n: n.size / 2,
            "You halved twice. Half of the loop's width, times the area, is the friction.",
        ),
    ),
    working=("width [bar] = going_up - coming_down", "width / 2 * area"),
    given=air_at_half,
    idea="At one travel, read the air going up and the air coming down. Half the difference is what friction takes.",
    step="Read both at 50 % travel, take one from the other, halve, and multiply by {area}.",
    why="Now you have measured the friction of the packing from the outside.",
    plausible=(0.0, 5000.0),
    source="computed here: a stroke with Coulomb friction; F = A Δp ÷ 2, worked by hand",
    figure=chart_of("fault_charts.air_figure"),
    alt=AIR_ALT,
)

BENCH = Question(
    id="trouble.bench",
    kind="number",
    text="Nameplate of FV-1204: bench set {low} to {high}. This is chart B, as found. At what air does the "
    "spring really begin to give, friction left out?",
    variants=tuple(
        {
            "fault": "bench",
            "size": shift * 1e5,
            "rubbing": float(rubbing),
            "seed": 300 + i,
            "area": 0.032,
            "low": Q(0.2, "bar"),
            "high": Q(1.0, "bar"),
        }
        for i, (shift, rubbing) in enumerate(
            (
                (0.11, 195),
                (0.12, 200),
                (0.14, 205),
                (0.16, 195),
                (0.13, 190),
                (0.17, 205),
                (0.15, 190),
                (0.18, 200),
                (0.12, 185),
                (0.13, 205),
                (0.16, 205),
                (0.14, 190),
            )
        )
    ),
    key=lambda n: n.low + n.size,
    unit="bar",
    tolerance=0.08,
    mistakes=(
        Mistake(
            "going_up",
            lambda n: n.low + n.size + n.rubbing / n.area,
            "That is where the stem starts on its way up: the friction is in it.",
        ),
        Mistake(
            "coming_down",
            lambda n: n.low + n.size - n.rubbing / n.area,
            "That is where the stem comes to rest on its way down: friction has held it up.",
        ),
        Mistake(
            "nameplate", lambda n: n.low, "That is the nameplate. The dotted line shows it; the valve does otherwise."
        ),
    ),
    working=("(going_up + coming_down) / 2",),
    given=air_at_start,
    idea="Draw the middle line of the loop in your mind, and follow it down to travel zero.",
    step="Read where the right and the left side of the loop meet travel 0 %, and take the middle.",
    why="Somebody has turned the spring adjuster, or the spring is not the one on the nameplate. " + safety.ADJUSTER,
    plausible=(0.0, 10.0),
    source="computed here: a stroke with a shifted bench set and Coulomb friction",
    figure=chart_of("fault_charts.air_figure"),
    alt=AIR_ALT,
)

ZERO = Question(
    id="trouble.zero",
    kind="number",
    text="Chart A of FV-1204, as found; chart B lies on its line. By how much is the travel off at 50 % "
    "signal, friction left out? Too little counts as minus.",
    variants=tuple(
        {
            "fault": "zero",
            "size": size / 100,
            "rubbing": 150.0,
            "seed": 400 + i,
            "low": 0.2e5,
            "high": 1.0e5,
            "area": 0.032,
        }
        for i, size in enumerate((-8, 8, 10, -10, 12, -12, 9, -9, 11, -11, 7, -7))
    ),
    key=lambda n: n.size,
    unit="%",
    tolerance=0.15,
    mistakes=(
        Mistake(
            "going_up",
            lambda n: n.size - n.rubbing / n.area / (n.high - n.low),
            "That is read on the way up only. Friction holds the stem back there: take the middle of up and down.",
        ),
        Mistake(
            "coming_down",
            lambda n: n.size + n.rubbing / n.area / (n.high - n.low),
            "That is read on the way down only. Friction holds the stem up there: take the middle of up and down.",
        ),
    ),
    working=("(going_up + coming_down) / 2 - 0.5",),
    given=travel_at_half,
    names={"going_up": "travel going up", "coming_down": "travel coming down"},
    idea="At 50 % signal read the travel going up and coming down. The middle should be 50 %.",
    step="Add both readings, halve, take 50 % away.",
    why="It is off by the same at every signal, so it is a zero shift. Calibrate it. There is nothing to repair.",
    plausible=(-40.0, 40.0),
    source="computed here: a stroke with a zero error and Coulomb friction",
    figure=chart_of("fault_charts.signal_figure"),
    alt=SIGNAL_ALT,
)


def _opened(n: Any) -> float:
    """Return how far the air that arrives opens the valve, without friction [-]."""
    actuator = actuator_from_bench_set("reverse", 0.032, n.low, n.high, 0.02)  # area and travel drop out
    return float(free_travel(actuator, n.found))


LEAK = Question(
    id="trouble.leak",
    kind="number",
    text="A valve, bench set {low} to {high}, no positioner. At full signal the converter sends {high}; the "
    "gauge on the actuator shows {found}. How far does the valve open, friction left out?",
    variants=tuple(
        {"low": Q(low, "bar"), "high": Q(high, "bar"), "found": Q(found, "bar")}
        for low, high, found in (
            (0.2, 1.0, 0.7),
            (0.4, 2.0, 1.5),
            (0.2, 1.0, 0.74),
            (0.8, 2.4, 1.85),
            (0.4, 1.2, 0.9),
            (0.2, 1.0, 0.66),
            (0.4, 2.0, 1.45),
            (0.8, 2.4, 1.9),
            (0.4, 1.2, 0.95),
            (0.2, 1.0, 0.62),
            (0.4, 2.0, 1.3),
            (0.8, 2.4, 2.0),
        )
    ),
    key=_opened,
    unit="%",
    tolerance=0.02,
    mistakes=(
        Mistake(
            "share_of_top",
            lambda n: n.found / n.high,
            "That is the share of the pressure. The travel begins only at the lower end of the bench set.",
        ),
        Mistake(
            "missing",
            lambda n: (n.high - n.found) / (n.high - n.low),
            "That is the part of the travel that is missing.",
        ),
    ),
    working=("span [bar] = high - low", "(found - low) / span"),
    idea="The travel goes with the air above the lower end of the bench set.",
    step="{found} less {low}, over {high} less {low}.",
    why="Two gauges and one subtraction show it: the air is lost between them.",
    plausible=(0.0, 100.0),
    source="worked by hand: Hooke's law, (found − low) ÷ (high − low)",
)

CHECKS = (
    Option("soap", "Read the gauges at converter and actuator; soap tubing, fittings and casing"),
    Option("steps", "In manual, small signal steps: how large before the stem stirs?"),
    Option("zero", "Reference gauge on the converter: what does it send at five signals?"),
    Option("connector", "Hands out of the yoke: look at connector and pointer while the signal turns round"),
    Option("seat", "With the line isolated by others: measure the leak through the seat"),
    Option("tune", "Double the controller gain and see"),
)

MATCH = Question(
    id="trouble.checks",
    kind="match",
    text="Night shift notes on {tag}, {day}. Which check comes first for each? One is left over.",
    variants=tuple({"tag": tag, "day": day} for tag in TAGS for day in ("Monday", "Thursday")),
    key=lambda _: {"hiss": "soap", "swings": "steps", "off": "zero", "stands": "connector", "passes": "seat"},
    places=(
        Option("hiss", "Opens slowly and never fully; something hisses"),
        Option("swings", "Flow swings in automatic, calm in manual"),
        Option("off", "Travel 7 % too high at every signal"),
        Option("stands", "Actuator stem turns round at once, valve stem later"),
        Option("passes", "Pointer at zero, but flow still passes"),
    ),
    options=CHECKS,
    idea="The check that costs least and proves or clears one cause.",
    step="A hiss is air; a swing that stops in manual may be a stem that sticks.",
    example="“Pointer at zero, but flow”: the stem did its part, so look at the seat.",
    why="From symptom to check to cause: three different things.",
    source="common practice, no source",
)

STEPS = (
    Option("ask", "Ask the operator: since when, what was done before, what does it do in manual?"),
    Option("look", "Walk there and look: air supply, gauges, leaks, pointer, packing; touch nothing"),
    Option("permit", "Get the permit for a stroke test: loop in manual, bypass, hands out of the yoke"),
    Option("stroke", "Stroke it slowly up and down and write down as found"),
    Option("half", "Compare with the last as left: which half is it?"),
    Option("mend", f"Mend the one cause that is left. Isolation first: {safety.IN_SHORT}"),
    Option("prove", "Stroke it again, write down as left, hand it back"),
)
_ORDER = tuple(step.name for step in STEPS)

ORDER = Question(
    id="trouble.order",
    kind="order",
    text="A work order for {tag}: “{words}”. Put your day in order.",
    variants=tuple({"tag": tag, "words": words} for tag in TAGS for words in ("sluggish", "does not open fully")),
    key=lambda _: _ORDER,
    options=STEPS,
    mistakes=(
        Mistake(
            "mend_first",
            lambda _: ("ask", "look", "permit", "mend", "stroke", "half", "prove"),
            "You mended before you had measured. As found is lost, and with it the proof that the cause was the cause.",
        ),
        Mistake(
            "no_permit",
            lambda _: ("ask", "look", "stroke", "permit", "half", "mend", "prove"),
            "A stroke test moves the process: permit and operator first.",
        ),
    ),
    idea="Ask, look, measure, think, mend, prove. What disturbs the plant comes after what does not.",
    step="First the operator, then your eyes; a stroke test needs a permit.",
    example="A doctor asks, looks and measures before the knife.",
    why="Most work orders end before the toolbox is opened.",
    source="common practice, no source, and the site's procedure decides",
)

QUESTIONS = (PREDICT, HALF, DIAGNOSE, FRICTION, BENCH, ZERO, LEAK, MATCH, ORDER)
