"""Lesson 19: gas, steam, noise."""

from __future__ import annotations

from types import SimpleNamespace

from lessons.practice import drawn_parts
from lessons.questions.question import Mistake, Option, Question, by_family
from lessons.units.quantities import Q
from valvecalc.gas import choked_ratio, expansion_factor, gas_velocity, mass_flow_from_standard
from valvecalc.steam import saturation_temperature
from valvecalc.units import BAR

LESSON = "19_gas_steam_noise"
TERMS: dict[str, str] = {
    "normal cubic metre": "The gas that fills one cubic metre at 0 °C and 1.013 bar. It is an amount, whatever the pressure is now.",
    "Mach number": "Speed divided by the speed of sound in the same gas.",
    "saturation temperature": "The temperature at which water boils, and steam condenses, at a pressure.",
    "superheated steam": "Steam hotter than the saturation temperature at its pressure. It is dry.",
    "wet steam": "Steam at its saturation temperature, with drops of water in it.",
    "dB(A)": "Level of a sound, weighted as the ear hears it. Ten more is ten times the power.",
    "low-noise trim": "A trim of many small holes, or of several steps, that makes less noise beside the pipe.",
    "multi-stage trim": "A trim that takes the drop in several steps, one after another.",
}

IDEAS = {
    "A gas grows thinner on its way. Once it chokes, only the pressure before the valve counts.": "predict y mass flow lower w1 "
    "capacity.gas",
    "Behind a valve gas and steam take up more room, so they go faster. Steam may bring water.": "predict lower speed steam w2",
    "A drop taken in small jets or in small steps does less harm.": "noise holes cage step w3 w4 capacity.w4",
}
WATER = {"water": Q(1000, "kg/m³")}  # the liquid a flow coefficient is told with; 999.1, rounded for the head
GASES = {"air": (1.40, 28.97), "nitrogen": (1.40, 28.01), "fuel gas": (1.28, 20.0), "methane": (1.32, 16.04)}

PREDICT = Question(
    id="gas.predict",
    kind="predict",
    text="PV-7110 stays at one opening, and the pressure before it is held. The pressure behind it is lowered further and further. What "
    "does the steam do?",
    variants=({},),
    options=(
        Option("both", "More and more flows, and it leaves faster and faster"),
        Option("neither", "Below some pressure neither the flow nor the speed rises any more"),
        Option("speed", "Below some pressure the flow rises no more, but it leaves faster and faster"),
    ),
    why="Now lower the pressure behind the valve in the picture. Watch the flow above and the speed below.",
)

EXPANSION = Question(
    id="gas.y",
    kind="number",
    text="{what} (ratio of specific heats {gamma}) goes through a valve from {p1} to {p2}, both absolute. Its xT is {xt}; it "
    "does not choke. What is the expansion factor Y?",
    variants=tuple(
        {"what": what.capitalize(), "gamma": GASES[what][0], "p1": Q(p1, "bar"), "p2": Q(p2, "bar"), "xt": xt}
        for what, p1, p2, xt in (
            ("air", 8.0, 5.0, 0.72),
            ("nitrogen", 6.0, 4.2, 0.68),
            ("fuel gas", 9.0, 4.5, 0.75),
            ("methane", 12.0, 8.0, 0.65),
            ("air", 5.0, 3.0, 0.75),
            ("fuel gas", 7.0, 4.0, 0.70),
            ("nitrogen", 10.0, 5.5, 0.72),
            ("methane", 4.0, 2.4, 0.72),
            ("air", 11.0, 7.0, 0.60),
            ("fuel gas", 5.0, 3.4, 0.60),
            ("nitrogen", 7.0, 4.0, 0.75),
            ("methane", 8.0, 4.8, 0.70),
        )
    ),
    key=lambda n: float(expansion_factor(n.p1, n.p2, n.gamma, n.xt)),
    tolerance=0.01,
    working=("x [] = (p1 - p2) / p1", "chokes [] = gamma / 1.4 * xt", "1 - x / (3 * chokes)"),
    names={"x": "drop as a share", "chokes": "share at which it chokes"},
    mistakes=(
        Mistake(
            "no_three",
            lambda n: 1 - (n.p1 - n.p2) / n.p1 / (n.gamma / 1.4 * n.xt),
            "You left out the 3. On the way to choking Y falls by only one third, from 1 to 2/3.",
        ),
        Mistake(
            "over_outlet",
            lambda n: 1 - (n.p1 - n.p2) / n.p2 / (3 * n.gamma / 1.4 * n.xt),
            "You divided the drop by the outlet pressure. x is the drop divided by the inlet pressure.",
        ),
    ),
    idea="Y = 1 − x ÷ (3 × x at which it chokes); x is the drop as a share of the absolute inlet pressure.",
    step="The share x is ({p1} − {p2}) ÷ {p1}. It chokes at {gamma} ÷ 1.4 × {xt}.",
    why="Y says how much less flows than would flow of a liquid with the same density.",
    plausible=(0.5, 1.0),
    source="IEC 60534-2-1, equations 8 to 12, line-size pipe",
)

NORMAL = Question(
    id="gas.mass",
    kind="number",
    text="The board shows {q} normal cubic metres an hour of {what}. One kilomole of it has {mass} kg and fills 22.4 normal "
    "cubic metres. How many kilograms an hour is that?",
    variants=tuple(
        {"what": what, "q": q, "mass": GASES[what][1]}
        for what, q in (
            ("fuel gas", 2500),
            ("nitrogen", 800),
            ("methane", 6000),
            ("air", 1500),
            ("fuel gas", 4200),
            ("nitrogen", 350),
            ("methane", 2200),
            ("air", 640),
            ("fuel gas", 900),
            ("nitrogen", 2600),
            ("methane", 950),
            ("air", 3800),
        )
    ),
    key=lambda n: float(mass_flow_from_standard(n.q / 3600, n.mass / 1000)) * 3600,
    working=("amount [] = q / filled", "amount * mass"),
    given=lambda n: {"filled": 22.4},  # noqa: ARG005 - the same for all
    names={
        "q": "normal cubic metres",
        "filled": "those of a kilomole",
        "amount": "kilomoles",
        "mass": "kg of a kilomole",
    },
    mistakes=(
        Mistake(
            "no_filled",
            lambda n: n.q * n.mass / 1000,
            "You took a normal cubic metre as a thousandth of a kilomole. A kilomole fills 22.4 of them.",
        ),
    ),
    idea="Normal cubic metres are an amount. A kilomole of any gas fills 22.4 of them.",
    step="{q} ÷ 22.4 gives the kilomoles. Each has {mass} kg.",
    why="The pressure in the pipe does not come into it.",
    plausible=(10.0, 20000.0),
    source="gas law, worked by hand: 22.414 m³ at 0 °C and 101325 Pa, the state of IEC 60534-2-1",
)

FLOW = Question(
    id="gas.flow",
    kind="number",
    text="The steam before a valve has {rho}. At this opening the flow coefficient is {kv}; the drop is {dp} and Y is {y}. "
    "How much steam passes?",
    variants=tuple(
        {"kv": Q(kv, "Kv"), "rho": Q(rho, "kg/m³"), "dp": Q(dp, "bar"), "y": y}
        for kv, rho, dp, y in (
            (50, 4.5, 4.5, 0.76),
            (32, 4.0, 3.0, 0.82),
            (80, 3.6, 2.0, 0.87),
            (20, 4.2, 4.0, 0.77),
            (63, 3.2, 2.5, 0.82),
            (40, 2.8, 1.5, 0.87),
            (25, 4.6, 5.0, 0.74),
            (100, 2.4, 1.2, 0.88),
            (16, 3.8, 3.5, 0.79),
            (70, 4.4, 1.8, 0.90),
            (36, 3.0, 2.8, 0.78),
            (55, 2.6, 2.2, 0.80),
        )
    ),
    key=lambda n: n.y * n.kv / 3600 * (n.dp / BAR * n.rho * 1000) ** 0.5,
    unit="kg/h",
    working=("kv * y * sqrt(water * dp * rho)",),
    given=lambda n: WATER,  # noqa: ARG005 - the same for all
    names={"y": "Y", "rho": "density of the steam", "water": "density of water"},
    mistakes=(
        Mistake(
            "no_y",
            lambda n: n.kv / 3600 * (n.dp / BAR * n.rho * 1000) ** 0.5,
            "You left out Y. Steam grows thinner on the way through, so less of it passes.",
        ),
        Mistake("no_root", by_family, "You left out the root. Four times the drop gives only twice the flow."),
    ),
    idea="Mass flow = flow coefficient × Y × √(1000 × drop × density before the valve), in kg/h, bar and kg/m³.",
    step="Multiply 1000 × {dp} × {rho}, take the root, and multiply by {kv} and {y}. With psi, lb/ft³ and Cv the 1000 becomes 63.3².",
    why="With Y = 1 and the density of water it is the equation of liquids.",
    plausible=(50.0, 50000.0),
    source="IEC 60534-2-1, equation 8 solved for the flow, line-size pipe",
)


def more(n: SimpleNamespace) -> str:
    """Return whether letting the outlet down from p2 to p3 brings more flow: all the way, a part of it, or none."""
    limit = n.p1 * (1 - float(choked_ratio(n.gamma, n.xt)))
    return "none" if n.p2 <= limit else "part" if n.to < limit else "all"


LOWER = Question(
    id="gas.lower",
    kind="choice",
    text="{what} (ratio of specific heats {gamma}) goes through a valve with xT {xt}, from {p1} to {p2}, both absolute. The "
    "board lets the pressure behind it down to {to} (absolute). What does the flow do?",
    variants=tuple(
        {
            "what": what.capitalize(),
            "gamma": GASES[what][0],
            "xt": xt,
            "p1": Q(p1, "bar"),
            "p2": Q(p2, "bar"),
            "to": Q(to, "bar"),
        }
        for what, xt, p1, p2, to in (
            ("air", 0.72, 10.0, 6.0, 4.0),
            ("fuel gas", 0.75, 8.0, 4.0, 1.5),
            ("methane", 0.65, 9.0, 3.0, 2.0),
            ("nitrogen", 0.68, 6.0, 1.5, 1.1),
            ("air", 0.35, 8.0, 7.0, 3.0),
            ("fuel gas", 0.70, 5.0, 1.4, 1.1),
            ("methane", 0.72, 12.0, 8.0, 5.0),
            ("nitrogen", 0.60, 7.0, 4.0, 2.0),
            ("air", 0.75, 4.0, 2.6, 1.6),
            ("fuel gas", 0.40, 6.0, 3.0, 2.0),
            ("methane", 0.70, 5.0, 3.0, 1.2),
            ("nitrogen", 0.72, 9.0, 5.0, 3.4),
        )
    ),
    key=more,
    options=(
        Option(
            "all",
            "It rises all the way",
            "Work out where the gas chokes: {p1} × (1 − {gamma} ÷ 1.4 × {xt}). Is {to} still above that?",
        ),
        Option(
            "part",
            "It rises at first, then stays",
            "For that it must begin to choke between {p2} and {to}. Work out where: {p1} × (1 − {gamma} ÷ 1.4 × {xt}).",
        ),
        Option(
            "none",
            "It stays where it is",
            "For that it must have choked at {p2} already. Work out where it chokes: {p1} × "
            "(1 − {gamma} ÷ 1.4 × {xt}).",
        ),
    ),
    idea="Once the gas chokes, only the inlet pressure and the opening still count.",
    step="It chokes at {p1} × (1 − {gamma} ÷ 1.4 × {xt}). Is that below {to}, between the two, or above {p2}?",
    example="Air from 8 bar, xT 0.70: it chokes at 8 × 0.3 = 2.4 bar. From 5 to 3 bar the flow rises all the way.",
    why="To get more through a choked valve, open it further or raise the pressure before it.",
    source="IEC 60534-2-1, equations 9 and 10, line-size pipe",
)

SPEED = Question(
    id="gas.speed",
    kind="number",
    text="{flow} of steam go through a valve from {p1} to {p2}, both absolute. The steam has {rho} before the valve. Behind it, the steam is "
    "nearly as warm. The outlet has an inside diameter of {bore}. How fast does the steam leave?",
    variants=tuple(
        {"flow": Q(flow, "kg/h"), "p1": Q(p1, "bar"), "p2": Q(p2, "bar"), "rho": Q(rho, "kg/m³"), "bore": Q(bore, "mm")}
        for flow, p1, p2, rho, bore in (
            (5500, 9.0, 4.5, 4.5, 100),
            (3200, 8.0, 3.0, 4.0, 80),
            (8000, 9.5, 5.0, 4.7, 150),
            (1500, 7.0, 2.5, 3.5, 50),
            (2400, 6.0, 3.5, 3.0, 80),
            (6000, 8.5, 2.8, 4.2, 150),
            (900, 5.0, 1.5, 2.5, 50),
            (4000, 9.0, 3.6, 4.5, 100),
            (7000, 7.5, 4.0, 3.7, 150),
            (2000, 9.8, 6.0, 4.8, 50),
            (3000, 6.5, 2.0, 3.2, 100),
            (1200, 8.0, 5.0, 4.0, 50),
        )
    ),
    key=lambda n: float(gas_velocity(n.flow, n.p1, n.p2, n.rho, n.bore)),
    unit="m/s",
    working=("behind [kg/m³] = rho * p2 / p1", "flow / (behind * circle(bore))"),
    names={"behind": "density behind the valve", "rho": "density before the valve", "bore": "inside diameter"},
    mistakes=(
        Mistake(
            "inlet_density",
            lambda n: float(gas_velocity(n.flow, n.p1, n.p2, n.rho, n.bore)) * n.p2 / n.p1,
            "You used the density before the valve. Behind it the steam is thinner, as its pressure is lower.",
        ),
    ),
    idea="Behind the valve the steam is thinner in step with its pressure: half the pressure, half the density. Speed = mass flow ÷ (density × area).",
    step="The density behind the valve is {rho} × {p2} ÷ {p1}. The area is that of a circle of {bore}.",
    why="The flow may be choked, but the speed at the outlet still rises as the pressure there falls.",
    plausible=(5.0, 600.0),
    source="continuity, worked by hand; the density behind as in IEC 60534-8-3, second-hand",
)


def _steam(gauge: float, above: float) -> dict[str, Q | str]:
    """Return a reading of pressure and temperature, with two lines of a steam table: at it as gauge, and as absolute."""
    low, high = gauge, gauge + 1.0
    cold, hot = (round(float(saturation_temperature(p * BAR)) - 273.15) for p in (low, high))
    right = "wet" if above == 0 else "superheated" if above > 0 else "water"
    return {
        "p": Q(gauge, "bar"),
        "low": Q(low, "bar"),
        "high": Q(high, "bar"),
        "boils_low": Q(cold, "°C"),
        "boils_high": Q(hot, "°C"),
        "reads": Q(hot + above, "°C"),
        "right": right,
    }


STEAM = Question(
    id="gas.steam",
    kind="choice",
    text="Before a valve a gauge shows {p} and a thermometer {reads}. By the steam table, water boils at {boils_low} at {low} absolute, and at "
    "{boils_high} at {high} absolute. The atmosphere has 1 bar (14.5 psi). What reaches the valve?",
    variants=tuple(
        _steam(gauge, above)
        for gauge, above in (
            (8.0, 20),
            (3.5, 0),
            (7.0, -12),
            (2.5, 15),
            (5.0, 0),
            (8.0, -9),
            (6.0, 25),
            (1.5, 0),
            (4.0, -14),
            (3.0, 30),
            (7.5, 0),
            (2.0, -16),
        )
    ),
    key=lambda n: n.right,
    options=(
        Option(
            "superheated",
            "Superheated steam, dry",
            "For that {reads} must be above the saturation temperature of the "
            "absolute pressure. Add the atmosphere to {p} first.",
        ),
        Option(
            "wet",
            "Steam at its saturation temperature: it may carry water",
            "For that {reads} must be the saturation "
            "temperature of the absolute pressure. Add the atmosphere to {p} first.",
        ),
        Option(
            "water",
            "Water that has not boiled",
            "For that {reads} must be below the saturation temperature of the "
            "absolute pressure. Add the atmosphere to {p} first.",
        ),
    ),
    idea="The steam table counts pressure from vacuum, a gauge from the atmosphere. Bring the two together, then compare temperatures.",
    step="Add {p} on the gauge and the atmosphere. Which line of the table is that? Compare its temperature with {reads}.",
    example="A gauge at 8 bar means 9 bar absolute. There water boils at 175 °C (348 °F), so steam of 190 °C (374 °F) is superheated.",
    why="Water that steam drives along hits like a hammer and cuts trim.",
    source="IAPWS-95 by IAPWS SR1-86(1992), computed here",
)

PREDICT_JETS = Question(
    id="gas.noise",
    kind="predict",
    text="The cage of PV-7110 has four windows. Somebody offers a cage with hundreds of small holes instead: the same open area, "
    "the same flow, the same drop. What will be heard beside the pipe?",
    variants=({},),
    options=(
        Option("same", "As much noise as before: the same energy is lost"),
        Option("less", "Less noise"),
        Option("more", "More noise: many jets are louder than four"),
    ),
    why="Now add rows of holes in the picture. Watch the curve inside the pipe and the one beside it.",
)

JETS = Question(
    id="gas.holes",
    kind="number",
    text="A cage has {count} round windows of {big}. Instead it is to have {holes} equal drilled holes with the same open area "
    "in all. What is the diameter of a hole?",
    variants=tuple(
        {"count": count, "big": Q(big, "mm"), "holes": holes}
        for count, big, holes in (
            (4, 24, 144),
            (4, 30, 400),
            (6, 20, 150),
            (4, 36, 324),
            (8, 18, 200),
            (6, 25, 384),
            (4, 28, 196),
            (8, 22, 288),
            (6, 32, 600),
            (4, 40, 256),
            (8, 15, 128),
            (6, 18, 216),
        )
    ),
    key=lambda n: n.big * (n.count / n.holes) ** 0.5,
    unit="mm",
    working=("big * sqrt(count / holes)",),
    names={"big": "diameter of a window", "count": "number of windows", "holes": "number of holes"},
    mistakes=(
        Mistake(
            "no_root",
            by_family,
            "You left out the root. The area goes with the square of the diameter, so four times as many "
            "holes have half the diameter.",
        ),
    ),
    idea="The area of a hole goes with the square of its diameter.",
    step="Take the root of {count} ÷ {holes}, and multiply it by {big}.",
    why="A jet half as wide is loudest at twice the frequency.",
    plausible=(0.5, 30.0),
    source="geometry, worked by hand",
)

CAGE = Question(
    id="gas.cage",
    kind="match",
    text="Here is a valve for steam, with a cage. What is at each number?",
    variants=tuple(
        drawn_parts.variant("low_noise_cage", asked, spare, travel)
        for travel in (1.0, 0.6)
        for asked, spare in drawn_parts.combinations_of(
            (
                "drilled cage, drilled hole, plug seal, balance hole, seat ring",
                "drilled cage, plug, balance hole, gasket, stem bushing",
                "drilled hole, plug, plug seal, packing rings, seat ring",
                "drilled cage, balance hole, plug seal, stem bushing, body studs",
                "drilled hole, balance hole, plug, seat ring, gasket",
                "drilled cage, drilled hole, plug, plug seal, stem",
            ),
            "web, cage window, body studs, packing follower",
        )
    ),
    key=drawn_parts.key,
    places=drawn_parts.part_numbers(5),
    options=drawn_parts.part_options(5, 2),
    figure=drawn_parts.figure,
    alt="Cut through a globe body with a plug that slides in a cage full of small holes. Five parts have numbers.",
    idea="Find the plug first. The cage stands round it, the seat ring below it.",
    step="The drilled cage is the wall with the holes; a balance hole goes through the plug; the plug seal is at its top.",
    example="In the drawing of lesson 03 a cage with windows is in the same place.",
    why="As the plug rises, it frees row after row of holes.",
    source="own choice, no source",
)

STAGES = Question(
    id="gas.step",
    kind="number",
    text="A valve takes water from {p1} to {p2}, both absolute; its vapour pressure is {pv}. Somebody offers a trim that takes the drop in "
    "{n} equal steps. What is xF in its last step?",
    variants=tuple(
        {"p1": Q(p1, "bar"), "p2": Q(p2, "bar"), "pv": Q(0.07, "bar"), "n": n}
        for p1, p2, n in (
            (11.0, 3.0, 3),
            (24.0, 4.0, 4),
            (16.0, 2.0, 3),
            (40.0, 6.0, 5),
            (9.0, 3.0, 2),
            (30.0, 3.0, 4),
            (13.0, 4.0, 3),
            (50.0, 8.0, 5),
            (18.0, 6.0, 2),
            (22.0, 2.0, 5),
            (35.0, 5.0, 4),
            (12.0, 2.0, 2),
        )
    ),
    key=lambda n: (n.p1 - n.p2) / n.n / (n.p2 + (n.p1 - n.p2) / n.n - n.pv),
    working=("step [bar] = (p1 - p2) / n", "before_last [bar] = p2 + step", "step / (before_last - pv)"),
    names={"n": "number of steps", "step": "drop of a step", "before_last": "pressure before the last step"},
    mistakes=(
        Mistake(
            "one_step",
            lambda n: (n.p1 - n.p2) / (n.p1 - n.pv),
            "That is the xF of a trim with one step. Here the last step begins "
            "at a much lower pressure, but its drop is smaller too.",
        ),
        Mistake(
            "whole_inlet",
            lambda n: (n.p1 - n.p2) / n.n / (n.p1 - n.pv),
            "You took the pressure before the valve. The last step begins at the outlet pressure plus one step.",
        ),
    ),
    idea="Each step has an xF of its own: its drop ÷ (pressure before it − vapour pressure).",
    step="One step is ({p1} − {p2}) ÷ {n}. The pressure before the last step is {p2} plus one step.",
    why="The last step has the least pressure to spare, so it is the first to cavitate.",
    plausible=(0.05, 1.0),
    source="xF: IEC 60534-8-4, from memory; equal steps: own choice, no source",
)

QUESTIONS = (PREDICT, EXPANSION, NORMAL, FLOW, LOWER, SPEED, STEAM, PREDICT_JETS, JETS, CAGE, STAGES)
