"""Graded questions of lesson 06: capacity, choking, cavitation and flashing."""

from __future__ import annotations

from types import SimpleNamespace

from lessons.practice.capacity import HOT, happens, kv_for, limit_of
from lessons.quantities import Q
from lessons.question import Mistake, Option, Question

SIZE = Question(
    id="capacity.w1",
    kind="number",
    text="Order a valve for {flow} of hot condensate (relative density {g}, vapour pressure {pv}, FF {ff}). Inlet {p1}, "
    "outlet {p2}, absolute. The style chosen has FL {fl}. What flow coefficient is needed? Check for choking first.",
    variants=tuple(
        {"flow": Q(flow, "m³/h"), "g": g, "pv": Q(HOT[t][0], "bar"), "ff": HOT[t][1], "p1": Q(p1, "bar"),
         "p2": Q(p2, "bar"), "fl": fl}
        for flow, t, g, p1, p2, fl in (
            (40, 110, 0.95, 6.0, 2.2, 0.68), (55, 110, 0.95, 7.0, 2.5, 0.60), (30, 120, 0.94, 8.0, 3.0, 0.70),
            (25, 130, 0.94, 9.0, 3.5, 0.68), (70, 140, 0.93, 10.0, 5.0, 0.62), (90, 120, 0.94, 5.0, 2.6, 0.60),
            (45, 120, 0.94, 8.0, 2.6, 0.62), (35, 110, 0.95, 9.0, 3.0, 0.70), (60, 120, 0.94, 10.0, 4.0, 0.68),
            (20, 130, 0.94, 7.0, 3.4, 0.60), (80, 140, 0.93, 12.0, 5.5, 0.70), (50, 140, 0.93, 9.0, 4.8, 0.60),
        )
    ),
    key=lambda n: kv_for(n.flow, min(n.p1 - n.p2, limit_of(n)), n.g),
    unit="Kv",
    mistakes=(
        Mistake("ignored_choking", lambda n: kv_for(n.flow, n.p1 - n.p2, n.g), "The whole drop was used, but the valve "
                "chokes earlier: this one would be too small.", credit=0.25),
        Mistake("no_density", lambda n: kv_for(n.flow, min(n.p1 - n.p2, limit_of(n))), "The relative density was left "
                "out.", credit=0.5),
        Mistake("not_squared", lambda n: kv_for(n.flow, n.fl * (n.p1 - n.ff * n.pv), n.g), "FL was not squared.",
                credit=0.25),
    ),
    within=0.01,
    idea="Two drops: the one there is, and the one at which it chokes. The smaller one counts.",
    step="Choked drop: {fl} squared × ({p1} − {ff} × {pv}). Compare it with {p1} − {p2}, then use the smaller.",
    example="With {flow}, {p1}, {p2} and FL {fl} it is {answer}.",
    why="Who forgets choking buys a valve that is too small.",
    plausible=(1.0, 500.0),
    points=2.0,
    source="IEC 60534-2-1, equations 1 to 3, with its examples 1 and 2",
)  # fmt: skip


def _absolute(n: SimpleNamespace) -> str:
    return happens(SimpleNamespace(p1=n.g1 + n.air, p2=n.g2 + n.air, pv=n.pv, fl=n.fl))


GAUGES = Question(
    id="capacity.w2",
    kind="choice",
    text="As found at {tag}: gauge before it {g1}, gauge after it {g2}, air pressure {air}. The water's vapour pressure is "
    "{pv} absolute, FL is {fl}. What does the water do?",
    variants=tuple(
        {"tag": tag, "g1": Q(g1, "bar"), "g2": Q(g2, "bar"), "air": Q(1.0, "bar"), "pv": Q(pv, "bar"), "fl": fl}
        for tag, g1, g2, pv, fl in (
            ("LV-6120", 6.0, 1.0, 1.43, 0.85), ("LV-6120", 5.0, 0.6, 1.99, 0.90), ("LV-6120", 7.0, 4.5, 1.99, 0.90),
            ("TV-3301", 3.6, 3.0, 0.03, 0.62), ("TV-3301", 3.8, 1.2, 0.03, 0.62), ("LV-6120", 4.5, 1.5, 1.99, 0.80),
            ("LV-6120", 8.0, 1.2, 2.70, 0.90), ("LV-6120", 9.0, 6.0, 1.99, 0.90), ("LV-6120", 6.5, 2.2, 2.70, 0.85),
            ("LV-6120", 5.5, 0.7, 1.99, 0.90), ("TV-3301", 4.0, 3.0, 0.04, 0.68), ("LV-6120", 7.5, 1.4, 3.62, 0.85),
        )
    ),
    key=_absolute,
    options=(
        Option("none", "Liquid all the way", "The jet, or the outlet, is below the vapour pressure."),
        Option("cavitation", "Cavitation: bubbles form and collapse", "Either the jet stays above the vapour pressure, or "
               "the outlet is below it too."),
        Option("flashing", "Flashing: vapour forms and stays", "With the air pressure added, the outlet is above the "
               "vapour pressure."),
    ),
    idea="Gauges count from the air pressure, vapour pressure counts from vacuum. Bring them together first.",
    step="Add {air} to {g1} and {g2}. Then compare the outlet with {pv}, then the jet.",
    example="Outlet below the vapour pressure: flashing. Only the jet below it: cavitation. Neither: liquid all the way.",
    why="Absolute with absolute: then outlet first, jet second.",
    points=1.0,
    source="IEC 60534-2-1, equation 3, for FL at choking; that FL tells the jet's pressure before choking, and P2 against Pv: "
    "common practice, no source",
)  # fmt: skip

ORDER = ("speeds", "falls", "bubbles", "slows", "collapse", "pits")

EVENTS = Question(
    id="capacity.w3",
    kind="order",
    text="{tag} cavitates, with {p1} before it and {p2} after it (absolute). Put in order what happens, from the inlet on.",
    variants=tuple(
        {"tag": tag, "p1": Q(p1, "bar"), "p2": Q(p2, "bar")}
        for tag, p1, p2 in zip(
            ("TV-3301", "FV-1204") * 6,
            (5.0, 10.0, 4.8, 9.5, 4.6, 11.0, 5.2, 9.0, 4.4, 10.5, 5.4, 11.5),
            (2.0, 1.5, 1.8, 1.2, 1.6, 1.8, 2.2, 1.1, 1.5, 1.4, 2.4, 1.9),
            strict=True,
        )
    ),
    key=lambda n: ORDER,  # noqa: ARG005 - the order is the same for all
    options=(
        Option("speeds", "The water speeds up through the narrow place"),
        Option("falls", "Its pressure falls below the vapour pressure"),
        Option("bubbles", "Bubbles of vapour form"),
        Option("slows", "Behind the jet the water slows down and its pressure rises"),
        Option("collapse", "The bubbles collapse with sharp blows"),
        Option("pits", "The metal near them is pitted"),
    ),
    mistakes=(
        Mistake("collapse_first", lambda n: ("speeds", "falls", "bubbles", "collapse", "slows", "pits"),  # noqa: ARG005
                "The bubbles collapse because the pressure rises again, not before."),
    ),
    idea="Speed first, pressure follows; bubbles follow the pressure.",
    step="Faster water has less pressure. Bubbles come when it is low and go when it rises.",
    example="Faster, lower, bubbles; slower, higher, collapse; and last the damage.",
    why="Low pressure makes the bubbles; rising pressure makes the blows.",
    points=1.0,
    source="common practice, no source",
)  # fmt: skip

CURES = Question(
    id="capacity.w4",
    kind="several",
    text="{tag} ({what}) cavitates at {p1} before and {p2} after it (absolute). Inlet pressure and flow have to stay. Which of these "
    "lessen the cavitation itself?",
    variants=tuple(
        {"tag": tag, "what": what, "p1": Q(p1, "bar"), "p2": Q(p2, "bar")}
        for tag, what, p1, p2 in zip(
            ("TV-3301", "FV-1204") * 6,
            ("cooling water", "wash water") * 6,
            (4.9, 9.8, 4.7, 9.4, 4.5, 10.8, 5.1, 8.9, 4.3, 10.4, 5.3, 11.4),
            (1.9, 1.4, 1.7, 1.1, 1.5, 1.7, 2.1, 1.0, 1.4, 1.3, 2.3, 1.8),
            strict=True,
        )
    ),
    key=lambda n: {"back", "steps", "fl", "cool"},  # noqa: ARG005 - the same for all
    options=(
        Option("back", "Raise the pressure after the valve, as with an orifice plate behind it"),
        Option("steps", "A trim that takes the drop in several small steps"),
        Option("fl", "A valve with a higher FL"),
        Option("cool", "Fit the valve where the water is cooler"),
        Option("hard", "Harder metal for plug and seat", "Harder metal lasts longer, but the bubbles collapse as before."),
        Option("lower", "Lower the pressure after the valve", "That takes the jet down further and makes it worse."),
        Option("again", "A larger valve of the same style, throttled to the same flow", "Same pressures, same FL: the jet "
               "is as low as before."),
    ),
    idea="Cavitation lessens if the jet's pressure comes up or the vapour pressure goes down.",
    step="Ask of each: does it lift the lowest pressure, or lower the vapour pressure? If neither, leave it out.",
    example="Back pressure, a drop in steps, a higher FL and cooler water help; harder metal only lasts longer.",
    why="Lift the jet or lower the vapour pressure; all else treats the scars.",
    points=1.0,
    source="common practice, no source, with Pvc = P1 − Δp/FL² against the vapour pressure",
)  # fmt: skip

QUESTIONS = (SIZE, GAUGES, EVENTS, CURES)
