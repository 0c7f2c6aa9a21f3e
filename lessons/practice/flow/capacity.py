"""Lesson 06: capacity, choking, cavitation and flashing."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import TYPE_CHECKING

from lessons.questions.question import Mistake, Option, Question, by_family
from lessons.refinery import VALVES
from lessons.units.quantities import Q
from valvecalc.cavitation import differential_pressure_ratio
from valvecalc.units import BAR

if TYPE_CHECKING:
    from matplotlib.figure import Figure

LESSON = "06_capacity_and_choking"
TERMS: dict[str, str] = {
    "relative density": "How heavy a liquid is compared with water: kerosene about 0.8.",
    "absolute pressure": "Pressure counted from vacuum: gauge pressure plus the pressure of the atmosphere.",
    "choked flow": "Flow that no longer rises, however low the pressure after the valve becomes.",
    "choked drop": "The pressure drop above which a larger drop brings no more flow: FL² times (P1 − FF·Pv).",
    "recovery factor": "FL: square root of the whole drop over the drop from inlet to jet. A low FL means much is recovered.",
    "FF": "Pressure in the choked jet over the vapour pressure: 0.96 for cold water, less for hot.",
    "vena contracta": "The narrowest place of the jet, a little after the narrowest place of the valve. The pressure is lowest there.",
    "vapour pressure": "The pressure below which a liquid boils at its temperature.",
    "cavitation": "Bubbles form in the jet and collapse where the pressure rises again.",
    "xF": "Of a liquid: the pressure drop over the inlet pressure less the vapour pressure, (P1 − P2) ÷ (P1 − Pv).",
    "xFz": "The xF at which a valve is heard to begin to cavitate, as its maker states it for an opening and an inlet pressure.",
    "flashing": "The pressure after the valve is below the vapour pressure: the vapour stays.",
    "x": "Of a gas: the pressure drop as a share of the absolute inlet pressure.",
    "expansion factor": "Y: allows for gas getting thinner as its pressure falls. It goes from 1 down to 2/3, where the gas chokes.",
}

ROOT = "You left out the root. Four times the drop gives only twice the flow."


def by_root(kv: float, dp: float, g: float = 1.0) -> float:
    """Return the flow of a liquid that does not choke: Kv √(Δp/G) [m³/s]."""
    return kv / 3600 * math.sqrt(dp / BAR / g)


def kv_for(flow: float, dp: float, g: float = 1.0) -> float:
    """Return the Kv that passes a flow that does not choke."""
    return flow * 3600 / math.sqrt(dp / BAR / g)


def limit_of(n: SimpleNamespace) -> float:
    """Return the choked drop with the FF that the question gives [Pa]."""
    return float(n.fl**2 * (n.p1 - n.ff * n.pv))


def happens(n: SimpleNamespace) -> str:
    """Return none, cavitation (from the maker's xFz on) or flashing; whether it also chokes is another question."""
    if n.p2 < n.pv:
        return "flashing"
    return "cavitation" if differential_pressure_ratio(n.p1, n.p2, n.pv) >= n.xfz else "none"


PREDICT = Question(
    id="capacity.predict",
    kind="predict",
    text="TV-3301 stands at one opening; the pressure before it is held. The pressure after it is let down further and "
    "further, so that the drop grows. What does the flow do?",
    variants=({},),
    options=(
        Option("proportion", "Twice the drop, twice the flow, all the way"),
        Option("root", "It rises more and more slowly, but it always rises"),
        Option("choked", "It rises more and more slowly, and from some drop on it stays where it is"),
    ),
    why="Now raise the drop with the slider, from left to right.",
)

FLOW = Question(
    id="capacity.flow",
    kind="number",
    text="A valve stands where its flow coefficient is {kv}. The liquid has a relative density of {g}, and the gauges show "
    "a drop of {dp}. It does not choke. What is the flow?",
    variants=tuple(
        {"kv": Q(kv, "Kv"), "dp": Q(dp, "bar"), "g": g}
        for kv, dp, g in zip(
            (63, 30, 16, 80, 25, 10, 50, 36, 20, 71, 22, 14),
            (1.6, 3.2, 4.0, 2.2, 0.3, 6.0, 0.4, 2.6, 3.5, 0.6, 5.0, 1.8),
            (0.68, 0.75, 0.80, 0.70, 0.72, 0.82, 0.66, 0.78, 0.84, 0.74, 0.80, 0.68),
            strict=True,
        )
    ),
    key=lambda n: by_root(n.kv, n.dp, n.g),
    unit="m³/h",
    mistakes=(
        Mistake("no_root", by_family, ROOT),
        Mistake(
            "no_density",
            lambda n: by_root(n.kv, n.dp),
            "That would be water. A lighter liquid flows faster: divide the drop by the relative density.",
        ),
        Mistake(
            "times_density",
            lambda n: by_root(n.kv, n.dp * n.g),
            "You multiplied by the relative density. A lighter liquid flows faster: divide.",
        ),
    ),
    working=("kv * sqrt(dp / g)",),
    idea="Flow = flow coefficient × √(drop ÷ relative density).",
    step="Divide {dp} by {g}, take the root, multiply by {kv}.",
    why="The flow goes with the root of the drop, as long as nothing chokes.",
    plausible=(1.0, 500.0),
    source="IEC 60534-2-1, equation 1 with line-size pipe: Q = C·√(Δp/(ρ/ρ0))",
)

NEED = Question(
    id="capacity.kv",
    kind="number",
    text="A new line must pass {flow} of a product with relative density {g}. Before the valve there will be {p1}, after "
    "it {p2} (both absolute); it will not choke. What flow coefficient is needed?",
    variants=tuple(
        {"flow": Q(flow, "m³/h"), "g": g, "p1": Q(p1, "bar"), "p2": Q(p2, "bar")}
        for flow, g, p1, p2 in (
            (60, 0.70, 7.0, 5.4),
            (35, 0.80, 9.0, 6.6),
            (90, 0.75, 5.0, 3.6),
            (24, 0.66, 6.0, 3.8),
            (120, 0.82, 8.4, 6.6),
            (48, 0.72, 4.5, 3.1),
            (75, 0.68, 6.8, 5.6),
            (18, 0.85, 9.5, 7.1),
            (110, 0.78, 7.6, 5.8),
            (42, 0.74, 5.6, 5.2),
            (65, 0.84, 6.4, 4.6),
            (28, 0.70, 8.0, 6.4),
        )
    ),
    key=lambda n: kv_for(n.flow, n.p1 - n.p2, n.g),
    unit="Kv",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "inlet_pressure",
            lambda n: kv_for(n.flow, n.p1, n.g),
            "You used the inlet pressure. What drives the flow is the drop: inlet less outlet.",
        ),
        Mistake("no_root", by_family, ROOT),
        Mistake(
            "no_density",
            lambda n: kv_for(n.flow, n.p1 - n.p2),
            "That would be water: divide the drop by the relative density.",
        ),
    ),
    working=("drop [bar] = p1 - p2", "flow / sqrt(drop / g)"),
    idea="Turn the equation round: flow coefficient = flow ÷ √(drop ÷ relative density).",
    step="The drop is {p1} less {p2}. Divide it by {g}, take the root, and divide {flow} by that.",
    why="A valve is bought somewhat larger, so that it does this part open.",
    plausible=(1.0, 1000.0),
    source="IEC 60534-2-1, equation 1 solved for C, line-size pipe",
)

# Water: temperature [°C], vapour pressure [bar], FF; IAPWS-95 and IEC 60534-2-1 equation 4, rounded.
HOT = {
    90: (0.702, 0.944),
    100: (1.01, 0.941),
    110: (1.43, 0.937),
    120: (1.99, 0.933),
    130: (2.70, 0.929),
    140: (3.62, 0.924),
}

CHOKED = Question(
    id="capacity.choked",
    kind="number",
    text="A valve takes condensate of {t}: vapour pressure {pv}, FF {ff}. Before it there are {p1} (absolute). Its FL is "
    "{fl}. From what pressure drop on does it choke?",
    variants=tuple(
        {"t": Q(t, "°C"), "pv": Q(HOT[t][0], "bar"), "ff": HOT[t][1], "p1": Q(p1, "bar"), "fl": fl}
        for t, p1, fl in (
            (130, 6.0, 0.75),
            (110, 7.0, 0.85),
            (120, 8.0, 0.80),
            (130, 9.0, 0.80),
            (140, 10.0, 0.62),
            (90, 2.6, 0.60),
            (110, 5.0, 0.68),
            (110, 6.0, 0.68),
            (120, 10.0, 0.60),
            (130, 7.5, 0.85),
            (140, 12.0, 0.90),
            (120, 6.0, 0.60),
        )
    ),
    key=limit_of,
    unit="bar",
    tolerance=0.015,
    mistakes=(
        Mistake("not_squared", lambda n: n.fl * (n.p1 - n.ff * n.pv), "FL comes in squared."),
        Mistake(
            "no_recovery",
            lambda n: n.p1 - n.ff * n.pv,
            "That is how far the pressure may fall in the jet. Part of it comes back: multiply by FL squared.",
        ),
        Mistake(
            "no_vapour",
            lambda n: n.fl**2 * n.p1,
            "You left out the vapour pressure. Hot water boils long before its pressure is zero.",
        ),
    ),
    working=("in_jet [bar] = ff * pv", "fl**2 * (p1 - in_jet)"),
    idea="In the jet the pressure can fall to about the vapour pressure and no further. FL tells how much of that fall "
    "comes back.",
    step="FF times vapour pressure: {ff} × {pv}. Take that from {p1}, and multiply by {fl} squared.",
    why="A hot liquid chokes early, and so does a valve with a low FL.",
    plausible=(0.1, 20.0),
    source="IEC 60534-2-1, equation 3, line-size pipe; vapour pressures IAPWS-95",
)

LIMIT = Question(
    id="capacity.limit",
    kind="number",
    text="A valve stands where its flow coefficient is {kv}, in cold water with {p1} absolute before it. Its choked drop "
    "here is {limit}. The gauges show a drop of {dp}. What is the flow?",
    variants=tuple(
        {"kv": Q(kv, "Kv"), "p1": Q(p1, "bar"), "limit": Q(limit, "bar"), "dp": Q(dp, "bar")}
        for kv, p1, limit, dp in (
            (100, 6.0, 2.3, 3.5),
            (16, 10.0, 8.1, 9.2),
            (160, 5.5, 2.1, 1.2),
            (20, 8.5, 6.9, 8.0),
            (63, 6.2, 2.4, 4.0),
            (25, 9.0, 7.3, 4.6),
            (125, 4.2, 1.6, 3.1),
            (10, 12.0, 9.7, 11.2),
            (80, 5.0, 1.9, 0.9),
            (12.5, 7.0, 5.0, 6.2),
            (200, 4.6, 1.8, 2.6),
            (22, 8.4, 6.8, 3.4),
        )
    ),
    key=lambda n: by_root(n.kv, min(n.dp, n.limit)),
    unit="m³/h",
    mistakes=(
        Mistake(
            "larger_drop",
            lambda n: by_root(n.kv, max(n.dp, n.limit)),
            "You took the larger of the two drops. Only "
            "the drop up to choking brings flow, and never more than there is.",
        ),
        Mistake("no_root", by_family, ROOT),
    ),
    working=("counts [bar] = min(dp, limit)", "kv * sqrt(counts)"),
    idea="The flow goes with the root of the drop, but only up to the choked drop.",
    step="Which is smaller, {dp} or {limit}? Take the root of that and multiply by {kv}.",
    why="Always compare the drop with the choked drop before you reckon.",
    plausible=(1.0, 1000.0),
    source="IEC 60534-2-1, equations 1 and 2: the smaller of Δp and Δp_choked",
)

PREDICT_JET = Question(
    id="capacity.jet",
    kind="predict",
    text="Water flows through a butterfly valve: 6 bar before it, 5 bar after it (87 and 73 psi, absolute). Where is the pressure "
    "lowest?",
    variants=({},),
    options=(
        Option("outlet", "After the valve: it falls steadily from the inlet pressure to the outlet pressure"),
        Option("seat", "Inside the valve, but not below the outlet pressure"),
        Option("jet", "Inside the valve, and there it is well below the outlet pressure"),
    ),
    why="Now look at the picture, and then take the outlet pressure down.",
)


def _points(n: SimpleNamespace, _units: str) -> Figure:
    from lessons.pictures.charts.pressure_points import pressure_points

    return pressure_points(n.order.split(), n.inlet, n.jet, n.outlet, n.vapour)


POINTS = Question(
    id="capacity.points",
    kind="match",
    text="The pressure along the way through {tag}. What is at each number?",
    variants=tuple(
        {"tag": tag, "order": order, "inlet": inlet, "jet": jet, "outlet": outlet, "vapour": vapour}
        for tag, order, inlet, jet, outlet, vapour in zip(
            ("TV-3301", "LV-3340", "FV-1204") * 4,
            (
                "inlet vena outlet vapour recovery",
                "vapour inlet vena recovery outlet",
                "outlet recovery inlet vena vapour",
                "vena vapour recovery outlet inlet",
                "recovery outlet vapour inlet vena",
                "inlet outlet vena vapour recovery",
                "outlet vapour recovery vena inlet",
                "vena inlet vapour recovery outlet",
                "vapour recovery outlet inlet vena",
                "recovery vena inlet outlet vapour",
                "inlet recovery vapour vena outlet",
                "outlet vena inlet vapour recovery",
            ),
            (0.90, 0.86, 0.92, 0.88) * 3,
            (0.30, 0.26, 0.34) * 4,
            (0.66, 0.58, 0.70, 0.62) * 3,
            (0.12, 0.10, 0.14) * 4,
            strict=True,
        )
    ),
    key=lambda n: {str(number): name for number, name in enumerate(n.order.split(), start=1)},
    places=tuple(Option(str(number), f"marked {number} in the picture") for number in range(1, 6)),
    options=(
        Option("inlet", "inlet pressure P1"),
        Option("vena", "vena contracta: the jet at its narrowest"),
        Option("outlet", "outlet pressure P2"),
        Option("vapour", "vapour pressure: below it the liquid boils"),
        Option("recovery", "pressure recovery: what comes back after the jet"),
    ),
    figure=_points,
    alt="A pressure curve along a valve: level, down to a lowest point, up again, level. A dashed level line lies below it, "
    "an arrow points upwards at its end. Five numbers mark places on it.",
    idea="Go along the curve from the left: in, down into the jet, up again, out. The dashed line belongs to the liquid.",
    step="The lowest point of the curve is the vena contracta; the arrow shows what comes back behind it.",
    example="In the picture of the lesson: left level P1, lowest point vena contracta, right level P2.",
    why="A low FL means that the curve dips far and much comes back.",
    source="IEC 60534-2-1 for the terms; the shape of the curve: own choice, no source",
)

HAPPENS = Question(
    id="capacity.happens",
    kind="choice",
    text="{tag}: {p1} before it, {p2} after it (both absolute). At its temperature the water has a vapour pressure of {pv}, "
    "and for this opening and inlet pressure the maker states xFz = {xfz}. What does the water do?",
    variants=tuple(
        {"tag": tag, "p1": Q(p1, "bar"), "p2": Q(p2, "bar"), "pv": Q(pv, "bar"), "xfz": VALVES[tag].xfz}
        for tag, p1, p2, pv in (
            ("TV-3301", 4.8, 4.2, 0.03),
            ("TV-3301", 5.1, 3.2, 0.03),
            ("LV-6120", 7.0, 2.0, 2.70),
            ("FV-1204", 11.6, 10.3, 0.07),
            ("TV-3301", 5.2, 2.5, 0.03),
            ("LV-6120", 6.5, 2.1, 3.62),
            ("FV-1204", 12.0, 9.4, 0.07),
            ("FV-1204", 12.8, 8.0, 0.07),
            ("LV-6120", 6.8, 2.0, 2.70),
            ("FV-1204", 11.9, 9.7, 0.07),
            ("LV-3340", 7.2, 2.2, 0.02),
            ("LV-6120", 7.0, 2.0, 1.43),
        )
    ),
    key=happens,
    options=(
        Option(
            "none",
            "No cavitation yet, and no flashing",
            "Work out xF = (P1 − P2) ÷ (P1 − Pv) and compare it with {xfz}; look at the outlet too.",
        ),
        Option(
            "cavitation",
            "It cavitates: bubbles form and collapse",
            "For that xF must have come up to {xfz}, with the outlet still above the vapour pressure. Check both.",
        ),
        Option(
            "flashing",
            "It flashes: vapour forms and stays",
            "For that the outlet must be below the vapour pressure. Compare {p2} with {pv}.",
        ),
    ),
    idea="Two questions. Is the outlet below the vapour pressure? If not: has xF come up to xFz?",
    step="Compare {p2} with {pv}. Then work out ({p1} − {p2}) ÷ ({p1} − {pv}) and compare it with {xfz}.",
    example="Outlet below the vapour pressure: flashing. Outlet above it and xF at xFz or more: cavitation. Neither: not yet.",
    why="Outlet first, then xF against the maker's xFz. Whether it chokes is a third question, with FL.",
    source="xF and xFz: IEC 60534-8-4, from memory; its values: own choice, no source; P2 against Pv: common practice, no source",
)

SIGNS = Question(
    id="capacity.signs",
    kind="match",
    text="Four reports from the field. Which goes with what?",
    variants=tuple(
        {"quiet": quiet, "rough": rough, "smooth": smooth, "gas": gas}
        for quiet, rough, smooth, gas in zip(
            (
                "Cold wash water, a low hum; four times the drop gave twice the flow",
                "Kerosene, hardly a sound; more drop, more flow",
                "Cold water, a quiet rush; the flow still rises with the drop",
            )
            * 4,
            (
                "Cooling water, as if gravel went through; plug pitted like cinder",
                "Boiler feed water, crackling; the pipe behind has a rough, spongy patch",
                "Cold water, rattling; small craters in the seat ring",
                "Wash water, a noise of stones; disc eaten rough on its low pressure side",
            )
            * 3,
            (
                "Hot condensate, even hiss; plug worn smooth and shiny",
                "Hot condensate into the flash drum; the elbow behind is thin and polished",
                "Water above 100 °C let down to open air; seat ground as if by fine sand",
            )
            * 4,
            (
                "Steam vent, a roar; the flow does not care what the header behind does",
                "Fuel gas, a shriek; letting the outlet down further brings no more",
                "Air, a howl far down the pipe; flow goes with the inlet pressure only",
                "Spill valve to the flare, a roar; the outlet pressure fell, the flow stayed",
            )
            * 3,
            strict=True,
        )
    ),
    key=lambda n: {"quiet": "none", "rough": "cavitation", "smooth": "flashing", "gas": "choked_gas"},  # noqa: ARG005 - the same for all
    places=(
        Option("rough", "{rough}."),
        Option("gas", "{gas}."),
        Option("quiet", "{quiet}."),
        Option("smooth", "{smooth}."),
    ),
    options=(
        Option("none", "Nothing wrong"),
        Option("cavitation", "Cavitation"),
        Option("flashing", "Flashing"),
        Option("choked_gas", "Choked gas or steam"),
    ),
    idea="Ask first: gas or liquid? Then: hot or cold? Then: rough or smooth?",
    step="Collapsing bubbles hammer: gravel noise, rough pits. Vapour that stays drags drops along: hiss, smooth wear.",
    example="Rough like cinder is cavitation, smooth and shiny is flashing, a roar on gas is choking.",
    why="Cavitation leaves rough pits, flashing wears the metal smooth, and choked gas roars.",
    source="common practice, no source",
)

GAS = Question(
    id="capacity.gas",
    kind="number",
    text="A valve takes {gas} (ratio of specific heats {gamma}) from {p1} absolute. Its xT is {xt}. At what outlet pressure, "
    "absolute, does it begin to choke?",
    variants=tuple(
        {"gas": gas, "gamma": gamma, "p1": Q(p1, "bar"), "xt": xt}
        for gas, gamma, p1, xt in (
            ("fuel gas", 1.30, 6.0, 0.70),
            ("fuel gas", 1.28, 5.0, 0.75),
            ("hydrocarbon vapour", 1.15, 4.0, 0.68),
            ("methane", 1.32, 8.0, 0.65),
            ("dry steam", 1.30, 11.0, 0.72),
            ("fuel gas", 1.25, 7.0, 0.72),
            ("hydrocarbon vapour", 1.20, 3.0, 0.70),
            ("dry steam", 1.28, 9.0, 0.75),
            ("fuel gas", 1.27, 10.0, 0.68),
            ("methane", 1.31, 12.0, 0.75),
            ("hydrocarbon vapour", 1.18, 5.5, 0.65),
            ("dry steam", 1.26, 14.0, 0.70),
        )
    ),
    key=lambda n: n.p1 * (1 - n.gamma / 1.4 * n.xt),
    unit="bar",
    mistakes=(
        Mistake(
            "drop",
            lambda n: n.p1 * n.gamma / 1.4 * n.xt,
            "That is the drop at which it chokes. Take it from the inlet pressure.",
        ),
        Mistake(
            "as_air",
            lambda n: n.p1 * (1 - n.xt),
            "That would be air. Multiply xT by the ratio of specific heats over 1.4 first.",
        ),
    ),
    working=("choking_drop [bar] = p1 * gamma / 1.4 * xt", "p1 - choking_drop"),
    idea="A gas chokes when the drop, as a share of the inlet pressure, reaches xT × (ratio of specific heats ÷ 1.4).",
    step="Work out {gamma} ÷ 1.4 × {xt}. That share of {p1} is the drop; take it from {p1}.",
    why="Below that outlet pressure only the inlet pressure still has a say.",
    plausible=(0.1, 20.0),
    source="IEC 60534-2-1, equations 9 and 10: x_choked = (γ/1.4)·xT, line-size pipe",
)

QUESTIONS = (PREDICT, FLOW, NEED, CHOKED, LIMIT, PREDICT_JET, POINTS, HAPPENS, SIGNS, GAS)
