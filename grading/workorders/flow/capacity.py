"""Graded questions of lesson 06: capacity, choking, cavitation and flashing."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from lessons.practice.flow.capacity import HOT, happens, kv_for, limit_of
from lessons.questions.question import Mistake, Option, Question
from lessons.refinery import VALVES, pressures_at
from lessons.units.quantities import Q

SIZE = Question(
    id="capacity.w1",
    kind="number",
    text="Order a valve for {flow} of hot condensate (relative density {g}, vapour pressure {pv}, FF {ff}). Inlet {p1}, "
    "outlet {p2}, absolute. The style chosen has FL {fl}. What flow coefficient is needed? Check for choking first.",
    variants=tuple(
        {"flow": Q(flow, "m³/h"), "g": g, "pv": Q(HOT[t][0], "bar"), "ff": HOT[t][1], "p1": Q(p1, "bar"),
         "p2": Q(p2, "bar"), "fl": fl}
        for flow, t, g, p1, p2, fl in (
            (40, 110, 0.95, 5.0, 2.2, 0.68), (55, 110, 0.95, 5.0, 2.3, 0.60), (30, 120, 0.94, 8.0, 3.0, 0.70),
            (25, 130, 0.94, 9.0, 3.5, 0.68), (70, 140, 0.93, 10.0, 5.0, 0.62), (90, 120, 0.94, 5.0, 2.6, 0.60),
            (45, 120, 0.94, 8.0, 2.6, 0.62), (35, 110, 0.95, 5.5, 2.2, 0.70), (60, 120, 0.94, 6.0, 2.5, 0.68),
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
    tolerance=0.01,
    working=("choked [bar] = fl**2 * (p1 - ff * pv)", "drop [bar] = p1 - p2", "counts [bar] = min(drop, choked)", "flow / sqrt(counts / g)"),
    idea="Two drops: the one there is, and the one at which it chokes. The smaller one counts.",
    step="Choked drop: {fl} squared × ({p1} − {ff} × {pv}). Compare it with {p1} − {p2}, then use the smaller.",
    why="If you forget choking, you buy a valve that is too small.",
    plausible=(1.0, 500.0),
    points=2.0,
    source="IEC 60534-2-1, equations 1 to 3, with its examples 1 and 2",
)  # fmt: skip


def _absolute(n: SimpleNamespace) -> str:
    return happens(SimpleNamespace(p1=n.g1 + n.air, p2=n.g2 + n.air, pv=n.pv, xfz=n.xfz))


def _cavitating(cooling: tuple[float, ...], make_up: tuple[float, ...]) -> tuple[dict[str, Any], ...]:
    """Return two water valves past their xFz, at shares of the full flow of their lines; pressures absolute."""
    shares = {"TV-3301": cooling, "LV-3340": make_up}
    return tuple(
        {
            "tag": tag,
            "what": VALVES[tag].service,
            **{
                name: Q(round(gauge + 1.0, 1), "bar")
                for name, gauge in zip(("p1", "p2"), pressures_at(tag, share), strict=True)
            },
        }
        for tag, each in shares.items()
        for share in each
    )


GAUGES = Question(
    id="capacity.w2",
    kind="choice",
    text="As found at {tag}: gauge before it {g1}, gauge after it {g2}, air pressure {air}. The water's vapour pressure is "
    "{pv} absolute; for this opening and inlet pressure the maker states xFz = {xfz}. What does the water do?",
    variants=tuple(
        {
            "tag": tag,
            "g1": Q(g1, "bar"),
            "g2": Q(g2, "bar"),
            "air": Q(1.0, "bar"),
            "pv": Q(pv, "bar"),
            "xfz": VALVES[tag].xfz,
        }
        for tag, g1, g2, pv in (
            ("LV-6120", 6.0, 1.0, 2.70),
            ("LV-6120", 5.5, 1.0, 1.43),
            ("FV-1204", 11.2, 8.2, 0.07),
            ("TV-3301", 3.8, 3.2, 0.03),
            ("TV-3301", 4.2, 1.6, 0.03),
            ("LV-6120", 5.8, 1.1, 3.62),
            ("FV-1204", 11.0, 8.4, 0.07),
            ("LV-6120", 6.0, 1.0, 1.01),
            ("LV-3340", 6.4, 0.8, 0.02),
            ("FV-1204", 10.8, 8.9, 0.07),
            ("FV-1204", 11.6, 7.2, 0.07),
            ("LV-6120", 5.4, 1.0, 2.70),
        )
    ),
    key=_absolute,
    options=(
        Option(
            "none",
            "No cavitation yet, and no flashing",
            "xF has come up to the maker's xFz, or the outlet is below the vapour pressure.",
        ),
        Option(
            "cavitation",
            "It cavitates: bubbles form and collapse",
            "Either xF stays below the maker's xFz, or the outlet is below the vapour pressure.",
        ),
        Option(
            "flashing",
            "It flashes: vapour forms and stays",
            "With the air pressure added, the outlet is above the vapour pressure.",
        ),
    ),
    idea="Gauges count from the air pressure, vapour pressure counts from vacuum. Bring them together first.",
    step="Add {air} to {g1} and {g2}. Compare the outlet with {pv}, then (P1 − P2) ÷ (P1 − {pv}) with {xfz}.",
    example="Outlet below the vapour pressure: flashing. Outlet above it and xF at xFz or more: cavitation. Neither: not yet.",
    why="Compare absolute pressures only. Look at the outlet first, then at xF against xFz.",
    points=1.0,
    source="xF and xFz: IEC 60534-8-4, from memory; its values: own choice, no source; P2 against Pv: common practice, no source",
)

ORDER = ("speeds", "falls", "bubbles", "slows", "collapse", "pits")

EVENTS = Question(
    id="capacity.w3",
    kind="order",
    text="{tag} ({what}) cavitates, with {p1} before it and {p2} after it (absolute). Put in order what happens, from the "
    "inlet on.",
    variants=_cavitating((0.9, 0.85, 0.8, 0.75, 0.7, 0.6), (0.9, 0.85, 0.8, 0.75, 0.7, 0.6)),
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
        Mistake(
            "collapse_first",
            lambda n: ("speeds", "falls", "bubbles", "collapse", "slows", "pits"),  # noqa: ARG005
            "The bubbles collapse because the pressure rises again, not before.",
        ),
    ),
    idea="Speed first, pressure follows; bubbles follow the pressure.",
    step="Faster water has less pressure. Bubbles come when it is low and go when it rises.",
    example="Faster, lower, bubbles; slower, higher, collapse; and last the damage.",
    why="Low pressure makes the bubbles. Rising pressure makes the blows.",
    points=1.0,
    source="common practice, no source",
)

CURES = Question(
    id="capacity.w4",
    kind="several",
    text="{tag} ({what}) cavitates at {p1} before and {p2} after it (absolute). Inlet pressure and flow have to stay. Which of these "
    "lessen the cavitation itself?",
    variants=_cavitating((0.88, 0.83, 0.78, 0.73, 0.66, 0.55), (0.95, 0.88, 0.78, 0.73, 0.65, 0.5)),
    key=lambda n: {"back", "steps", "onset"},  # noqa: ARG005 - the same for all
    options=(
        Option("back", "Raise the pressure after the valve, as with an orifice plate behind it"),
        Option("steps", "A trim that takes the drop in several small steps"),
        Option("onset", "A valve whose xFz is higher at the opening where it will work"),
        Option(
            "hard", "Harder metal for plug and seat", "Harder metal lasts longer, but the bubbles collapse as before."
        ),
        Option("lower", "Lower the pressure after the valve", "That takes the jet down further and makes it worse."),
        Option(
            "muffle",
            "Lagging round the valve and the pipe behind it",
            "That muffles the noise; the bubbles collapse as before.",
        ),
        Option(
            "stiff",
            "A stronger actuator, so that the stem stands still",
            "The plug or disc stands quieter, but the jet is as low as before.",
        ),
    ),
    idea="Cavitation lessens if the jet's pressure comes up, or if the valve stands more before it begins.",
    step="For each, ask whether it lifts the lowest pressure in the valve, or the xF at which cavitation begins. If neither, leave it out.",
    example="Back pressure, a drop in steps and a higher xFz help; harder metal only lasts longer.",
    why="Raise the pressure in the jet, or take a valve that begins to cavitate later. Anything else only treats the damage.",
    points=1.0,
    source="common practice, no source; xFz: IEC 60534-8-4, from memory",
)

QUESTIONS = (SIZE, GAUGES, EVENTS, CURES)
