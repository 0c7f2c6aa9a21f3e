"""Lesson 15: what a body may hold, its ends, its gaskets, and the bolts that keep the joint tight."""

from __future__ import annotations

from lessons import safety
from lessons.practice import drawn_parts
from lessons.practice.cases import in_turn
from lessons.practice.charts_asked import chart_of
from lessons.questions.question import Mistake, Option, Question
from lessons.refinery.build import BUILDS
from lessons.units.quantities import Q
from valvecalc.rating import lightest_class

LESSON = "15_body_rating_ends_gaskets"
TERMS: dict[str, str] = {
    "rating": "The highest pressure a body may hold at a temperature; it falls as the temperature rises.",
    "class": "A family of ratings, such as 150, 300 or 600. It is not a pressure.",
    "raised face": "A flange face that stands a little proud inside the bolts, so that they press on a narrow ring of gasket.",
    "spiral-wound gasket": "A gasket of metal strip and soft filler wound together, between steel rings.",
    "ring joint": "A joint with a solid metal ring in grooves of both flanges, for high pressure.",
    "nut factor": "The K in torque = K × diameter × load. It stands for thread, friction and nut face in one number.",
    "shell test": "A test with water in the body at 1.5 times its cold rating, valve part open. It shows whether walls and joints hold.",
    "seat test": "A test with pressure behind the shut plug. It shows how much passes, and nothing about the walls.",
    "sour service": "Fluid with hydrogen sulphide; hard steel can crack in it without warning.",
}
IDEAS = {
    "A class is not a pressure. The hotter the body, the less it may hold.": "predict holds class shell w1 w2 w5",
    "Torque is mostly friction, so torque and lubricant belong together.": "grease torque load order w3 w4 repair.crosswise",
    "Ends and gasket go with the joint and its service.": "ends gaskets service order w4",
}
NUMBERS = {
    "t1": "lower temperature",
    "t2": "upper temperature",
    "t": "temperature",
    "cooler": "rating at the lower temperature",
    "hotter": "rating at the upper temperature",
    "loss": "what is lost up to that temperature",
    "part": "part of the way",
    "p": "highest pressure of the line",
}
BOLT = {
    "k": "nut factor",
    "load": "load wanted in each bolt",
    "size": "bolt diameter",
    "torque": "torque",
    "each": "load of each bolt",
    "all_bolts": "load of all bolts",
    "line": "push of the line pressure",
    "gasket": "diameter of the gasket",
    "count": "number of bolts",
    "k1": "nut factor of dry bolts",
    "k2": "nut factor of greased bolts",
}
TABLE_ALT = "A table: for nine temperatures, how much pressure a body of class 150, 300 and 600 may hold."

PREDICT = Question(
    id="rating.predict",
    kind="predict",
    text="The spare body for FV-2135 is made of carbon steel, class 150. Up to 38 °C (100 °F) it may hold {at}. Its line can reach "
    "{p} at {t}. Is the body good enough?",
    variants=({"at": Q(19.6, "bar"), "p": Q(12, "bar"), "t": Q(320, "°C")},),
    options=(
        Option("yes", "Yes, with room to spare"),
        Option("just", "Just so"),
        Option("no", "No"),
    ),
    why="Now take the temperature up in the picture, and the pressure to that of the line.",
)

# ---- ratings ---------------------------------------------------------------------------------------------------------


def between(n: object) -> float:
    """Return the rating on the straight line between two temperatures [Pa]."""
    t, t1, t2, cooler, hotter = (getattr(n, name) for name in ("t", "t1", "t2", "cooler", "hotter"))
    return float(cooler - (t - t1) / (t2 - t1) * (cooler - hotter))


def _holds(t1: float, t2: float, t: float, cooler: float, hotter: float) -> dict[str, Q]:
    warm = {"t1": Q(t1, "°C"), "t2": Q(t2, "°C"), "t": Q(t, "°C")}
    return warm | {"cooler": Q(cooler, "bar"), "hotter": Q(hotter, "bar")}


HOLDS = Question(
    id="rating.holds",
    kind="number",
    text="A body may hold {cooler} at {t1} and {hotter} at {t2}. Between two rows of the table the rating falls along a straight line. How "
    "much may it hold at {t}?",
    variants=(
        _holds(50, 100, 80, 49, 42),
        _holds(100, 150, 120, 17.7, 15.8),
        _holds(150, 200, 180, 15.8, 13.8),
        _holds(200, 250, 220, 13.8, 12.1),
        _holds(250, 300, 280, 12.1, 10.2),
        _holds(300, 350, 320, 10.2, 8.4),
        _holds(350, 400, 370, 8.4, 6.5),
        _holds(50, 100, 70, 48.1, 42.2),
        _holds(100, 150, 140, 42.2, 38.5),
        _holds(150, 200, 160, 38.5, 35.7),
        _holds(200, 250, 240, 71.3, 66.8),
        _holds(350, 400, 390, 75.1, 69.4),
    ),
    key=between,
    unit="bar",
    mistakes=(
        Mistake(
            "added", lambda n: 2 * n.cooler - between(n), "You went up. The hotter a body is, the less it may hold."
        ),
    ),
    working=("part [] = (t - t1) / (t2 - t1)", "loss [bar] = part * (cooler - hotter)", "cooler - loss"),
    names=NUMBERS,
    tolerance=0.01,
    idea="The rating falls along a straight line from one row of the table to the next.",
    step="How far is {t} on the way from {t1} to {t2}? Take that part of the difference between {cooler} and {hotter} away from {cooler}.",
    why="Never take the nearest cooler row. It gives more than the body may hold.",
    plausible=(1.0, 200.0),
    source="ASME B16.34, second-hand; the straight line: worked by hand",
)


def _needs(metal: str, bar: float, celsius: float) -> dict[str, object]:
    return {"metal": metal, "p": Q(bar, "bar"), "t": Q(celsius, "°C")}


CLASS_OPTIONS = (
    Option(
        "150", "Class 150", "Look along the row for that temperature, or for the next hotter one. Is it enough there?"
    ),
    Option("300", "Class 300", "Go along the row from the left. Which is the first column that is enough?"),
    Option("600", "Class 600", "Go along the row from the left. Which is the first column that is enough?"),
    Option("none", "None of the three", "One of the columns is enough at that temperature."),
)
STEEL, STAINLESS = "carbon steel", "316 stainless steel"

CLASS = Question(
    id="rating.class",
    kind="choice",
    text="A body is made of {metal}. Its line can reach {p} at {t}. Which is the lightest class that may hold this?",
    variants=(
        _needs(STEEL, 12, 320),
        _needs(STEEL, 16, 100),
        _needs(STEEL, 16, 200),
        _needs(STEEL, 40, 200),
        _needs(STEEL, 46, 250),
        _needs(STEEL, 92, 250),
        _needs(STEEL, 18, 20),
        _needs(STEEL, 60, 350),
        _needs(STAINLESS, 14, 100),
        _needs(STAINLESS, 40, 200),
        _needs(STAINLESS, 30, 250),
        _needs(STAINLESS, 17, 150),
        _needs(STAINLESS, 85, 150),
        _needs(STAINLESS, 12, 200),
    ),
    key=lambda n: lightest_class(n.metal, n.p, n.t) or "none",
    options=CLASS_OPTIONS,
    idea="A class is not a pressure. Take the row for the temperature, then the first column that is enough.",
    step="Find the row for {t} and go from the left to the first number that is not below {p}.",
    example="Carbon steel, 30 bar at 300 °C: class 150 holds 10.2 bar, class 300 holds 39.8 bar. So take class 300.",
    why="This looks at the metal only. Gasket, packing and seat may allow less, and the site's piping class may ask for more.",
    source="ASME B16.34, second-hand",
    figure=chart_of("rating_table.rating_figure"),
    alt=TABLE_ALT,
)

# ---- ends and gaskets ------------------------------------------------------------------------------------------------

_ENDS = {
    "flanged": (
        "DN 80 (3 in), naphtha, out for repair every second year",
        "DN 50 (2 in), wash water, spares lie in the store",
        "DN 100 (4 in), fuel gas, has to come out without a welder",
    ),
    "welded": (
        "DN 50 (2 in), steam at the highest pressure of the site, repaired in the line",
        "DN 80 (3 in), a poisonous gas, where no joint may ever weep",
        "DN 50 (2 in), hot hydrogen, trim taken out through the bonnet",
    ),
    "screwed": (
        "DN 15 (½ in), instrument air, a small regulator",
        "DN 20 (¾ in), cold water to a hose point",
        "DN 15 (½ in), nitrogen at low pressure to a purge meter",
    ),
    "wafer": (
        "DN 300 (12 in), cooling water, a butterfly with no flanges of its own",
        "DN 200 (8 in), raw water, a thin disc valve held by the bolts of the pipe",
        "DN 250 (10 in), air, a butterfly with long bolts past its body",
    ),
}

ENDS = Question(
    id="rating.ends",
    kind="choice",
    text="{case}. Which ends does this valve have?",
    variants=in_turn("case", _ENDS),
    key=lambda n: n.right,
    options=(
        Option("flanged", "Flanged", "Flanges are for a larger valve that has to come out with nothing but a spanner."),
        Option(
            "welded",
            "Welded into the pipe",
            "Welded ends leave no joint that could leak, but the body has to stay in the line.",
        ),
        Option(
            "screwed",
            "Screwed",
            "Threads are for small sizes and harmless fluids: a thread can leak, and it weakens the pipe.",
        ),
        Option(
            "wafer",
            "None: clamped between the pipe's flanges",
            "That is for a flat body with long bolts that run past it.",
        ),
    ),
    idea="Three questions decide: how often does it come out, what could leak, and how large is it?",
    step="Is it small and harmless? Is it flat? Does it never come out? If none of these, it has flanges.",
    example="DN 50, steam, out for repair each shutdown: flanged.",
    why="The ends are on the sheet. A joint that is bolted can be opened, and so it can leak.",
    source="common practice, no source, and the site's piping class decides",
)

_KINDS = "full-face gasket, ring gasket, spiral-wound gasket, ring joint gasket"

GASKETS = Question(
    id="rating.gaskets",
    kind="match",
    text="Four joints, each cut through one bolt, with the nuts tightened {drawn}. What seals each of them?",
    variants=tuple(
        drawn_parts.variant("gasket_kinds", _KINDS, "bonnet, packing rings", travel=k / 12, words=True)
        | {"drawn": f"{round(100 * k / 12)} %"}
        for k in range(12)
    ),
    key=drawn_parts.key,
    options=drawn_parts.part_options(4, 2),
    places=drawn_parts.part_numbers(4),
    idea="Look how far out it reaches. Then look what it is made of: a flat sheet, a winding or a solid ring.",
    step="First sort by shape: two are flat sheets, one has windings, one sits in grooves.",
    example="A sheet with holes for the bolts reaches to the edge of the flange. It is a full-face gasket.",
    why="In the wrong joint a gasket is not pressed at all, or is pressed out. The sheet of the joint names its kind, size and filler.",
    source="ASME B16.20, from memory; names: common practice, no source",
    figure=drawn_parts.figure,
    alt="Four flanged joints side by side, each cut through a bolt, each with a different gasket between its faces and with a number.",
)

# ---- bolts -----------------------------------------------------------------------------------------------------------

PREDICT_GREASE = Question(
    id="rating.grease",
    kind="predict",
    text="A sheet gives 160 N·m (118 lbf·ft) for dry bolts. Somebody greases threads and nuts first, and then tightens to the same "
    "torque. The load in the bolts is …",
    variants=({},),
    options=(
        Option("same", "The same: torque is torque"),
        Option("less", "Smaller: the nut slips"),
        Option("more", "Larger"),
    ),
    why="Now lower the friction in the picture, and leave the torque as it is.",
)

TORQUE = Question(
    id="rating.torque",
    kind="number",
    text="A joint needs {load} in each of its {size} bolts. Its sheet names a grease for which the nut factor K is {k}. What torque gives that load?",
    variants=tuple(
        {"load": Q(load, "kN"), "size": Q(size, "mm"), "k": k}
        for load, size, k in (
            (50, 16, 0.15),
            (30, 12, 0.16),
            (70, 20, 0.14),
            (90, 24, 0.15),
            (45, 16, 0.18),
            (25, 12, 0.14),
            (80, 20, 0.16),
            (110, 27, 0.15),
            (60, 16, 0.12),
            (100, 24, 0.17),
            (65, 20, 0.18),
            (35, 14, 0.15),
        )
    ),
    key=lambda n: n.k * n.size * n.load,
    unit="N·m",
    mistakes=(
        Mistake(
            "radius", lambda n: n.k * n.size / 2 * n.load, "You took half the diameter. K goes with the whole diameter."
        ),
    ),
    working=("k * size * load",),
    names=BOLT,
    idea="Torque = K × bolt diameter × load.",
    step="Multiply {k}, {size} and {load}. (1 kN times 1 mm is 1 N·m.)",
    why="K belongs to one grease. With another one the same torque gives another load.",
    plausible=(0.0, 5000.0),
    source="NASA RP-1228, from memory, not read: T = K·D·F",
)

LOAD = Question(
    id="rating.load",
    kind="number",
    text="The torque on the sheet is meant for dry bolts, K {k1}, and gives {load} in each. But the bolts were greased, K {k2}, and tightened to "
    "that torque. What load does each of them have?",
    variants=tuple(
        {"load": Q(load, "kN"), "k1": k1, "k2": k2}
        for load, k1, k2 in (
            (50, 0.20, 0.12),
            (40, 0.20, 0.15),
            (60, 0.21, 0.14),
            (30, 0.22, 0.13),
            (70, 0.20, 0.16),
            (45, 0.24, 0.15),
            (55, 0.20, 0.11),
            (35, 0.18, 0.12),
            (80, 0.22, 0.16),
            (65, 0.19, 0.13),
            (25, 0.25, 0.14),
            (90, 0.20, 0.14),
        )
    ),
    key=lambda n: n.load * n.k1 / n.k2,
    unit="kN",
    mistakes=(
        Mistake(
            "turned_round",
            lambda n: n.load * n.k2 / n.k1,
            "You made it smaller. Grease takes away friction, so more of the torque is left to stretch the bolt.",
        ),
    ),
    working=("load * k1 / k2",),
    names=BOLT,
    idea="With the same torque, K × load stays the same. So where K falls, the load rises.",
    step="Multiply {load} by {k1}, and divide by {k2}.",
    why="Bolts that have yielded and gaskets that are crushed flat do not show it at once. They leak after the first warm-up.",
    plausible=(0.0, 1000.0),
    source="NASA RP-1228, from memory, not read: T = K·D·F twice, with the same T",
)

_STEPS = (
    Option("clean", "Clean both faces and look for cuts across them; look at studs and nuts"),
    Option("new", "Lay in the new gasket dry and centred, of the kind on the sheet"),
    Option("grease", "Put the lubricant named on the sheet on threads and nut faces, and nothing else"),
    Option("hand", "Put all nuts on by hand; see that the gap is the same all round"),
    Option("rounds", "Tighten crosswise in three rounds: 30, 60 and 100 % of the torque"),
    Option("last", "Go once more round the circle at full torque, until no nut turns"),
    Option("write", "Write down torque, lubricant and wrench"),
)
_KEY = tuple(step.name for step in _STEPS)

BOLT_UP = Question(
    id="rating.order",
    kind="order",
    text="The bonnet of {tag} goes back on. In which order do you close the joint?",
    variants=tuple({"tag": tag} for tag in BUILDS if tag[0] != "X"),
    key=lambda _: _KEY,
    options=_STEPS,
    mistakes=(
        Mistake(
            "late_grease",
            lambda _: ("clean", "new", "hand", "grease", "rounds", "last", "write"),
            "You greased when the nuts were on. By then the grease does not reach the threads.",
        ),
        Mistake(
            "last_first",
            lambda _: ("clean", "new", "grease", "hand", "last", "rounds", "write"),
            "You went round the circle first. One "
            "side is pulled down before the other has begun, and the gasket is pinched.",
        ),
    ),
    idea="Clean faces, a new gasket, the right grease, nuts on by hand and even. Then crosswise, then round.",
    step="Touch no wrench before all nuts are on by hand and the gap is even.",
    example="It is like the wheel of a car: all nuts on by hand, then crosswise, then once more round.",
    why="Lesson 12 showed what each nut does to its neighbours. The maker and the site give the torque and the rounds.",
    source="ASME PCC-1, from memory; new gaskets: NAVFAC MO-209",
)

# ---- tests and services ----------------------------------------------------------------------------------------------

SHELL = Question(
    id="rating.shell",
    kind="number",
    text="A body such as that of {tag} may hold {at} when cold. Its wall was repaired by welding, and the shell is to be tested. At what pressure? Give it "
    "before it is rounded up.",
    variants=tuple(
        {
            "tag": tag,
            "at": Q(
                {"carbon steel": {"150": 19.6, "300": 51.1}, "316 stainless steel": {"300": 49.6}}[b.material][
                    b.pressure_class
                ],
                "bar",
            ),
        }
        for tag, b in BUILDS.items()
        if tag[0] != "X"
    ),
    key=lambda n: 1.5 * n.at,
    unit="bar",
    mistakes=(
        Mistake(
            "as_rated",
            lambda n: n.at,
            "That is what it may hold every day. The test goes higher, just once, with nobody near.",
        ),
    ),
    working=("half_more * at",),
    given=lambda _: {"half_more": 1.5},
    names={"half_more": "factor of the test", "at": "cold rating"},
    idea="The shell is tested with 1.5 times the cold rating, whatever the service.",
    step="Multiply the rating, {at}, by 1.5.",
    why="The body is full of water, with all air out, the valve part open and the ends closed. Water springs back very little if something gives way. "
    + safety.LEAK_TEST,
    plausible=(1.0, 500.0),
    source="ASME B16.34: 1.5 times the rating at 38 °C, second-hand",
)

_SERVICES = {
    "sour": (
        "gas with hydrogen sulphide to the amine unit",
        "sour water from the desalter",
        "overhead gas that smells of bad eggs at five parts in a million and is deadly at a thousand",
    ),
    "oxygen": ("oxygen to the sulphur plant", "oxygen from the bottle store", "air enriched with oxygen to the burner"),
    "cold": (
        "liquid nitrogen at −196 °C (−321 °F)",
        "liquid ethylene at −104 °C (−155 °F)",
        "propane that cools to −42 °C (−44 °F) when it expands",
    ),
    "hot": ("hot oil at 280 °C (536 °F)", "steam at 400 °C (752 °F)", "residue at 340 °C (644 °F)"),
}

SERVICE = Question(
    id="rating.service",
    kind="choice",
    text="A valve is for {service}. Besides its class, what has to be asked before it is built in?",
    variants=in_turn("service", _SERVICES),
    key=lambda n: n.right,
    options=(
        Option(
            "sour",
            "Are body, trim, bolts and welds soft enough, and do papers say so?",
            "That is asked where there is hydrogen sulphide: hard steel cracks in it.",
        ),
        Option(
            "oxygen",
            "Was every part cleaned of oil and grease, and kept clean since?",
            "That is asked for oxygen: oil burns in it like powder.",
        ),
        Option(
            "cold",
            "Is the metal still tough at that cold, and is the bonnet long enough to keep the packing from freezing?",
            "That is asked for very cold fluids: ordinary steel turns brittle.",
        ),
        Option(
            "hot",
            "What may the body hold at that temperature, and can the packing take it?",
            "That is asked for hot fluids: rating and packing are the first to fall short.",
        ),
    ),
    idea="Each of these services has a way of its own to break a good valve.",
    step="What would {service} do to steel, to grease, to packing?",
    example="Hard bolts in hydrogen sulphide can crack overnight, at a load they have carried for years.",
    why="The site and licensed people decide. NACE MR0175 (ISO 15156) is the standard for sour service, ASTM G93 for cleaning for oxygen.",
    source="NACE MR0175 and ASTM G93, from memory; the rest: common practice, no source",
)

QUESTIONS = (
    PREDICT,
    HOLDS,
    CLASS,
    ENDS,
    GASKETS,
    PREDICT_GREASE,
    TORQUE,
    LOAD,
    BOLT_UP,
    SHELL,
    SERVICE,
)
