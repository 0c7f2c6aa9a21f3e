"""Lesson 16: building a valve into its line, and bringing it into service."""

from __future__ import annotations

from lessons import safety
from lessons.practice import drawn_parts
from lessons.practice.cases import in_turn
from lessons.questions.question import Mistake, Option, Question
from lessons.refinery import VALVES, drive_of
from lessons.units.quantities import Q
from valvecalc.plug_forces import circle_area

LESSON = "16_installing_and_starting_up"
TERMS: dict[str, str] = {
    "flow arrow": "The arrow on the body. It shows which way the fluid has to flow for the valve to work as it should.",
    "strainer": "A basket in the line that catches dirt before it reaches the trim.",
    "reducer": "A cone between the pipe and a smaller valve.",
    "flushing": "Washing the dirt out of a new or opened line with fast clean water, before the trim goes in.",
    "spool": "A plain piece of pipe with flanges that takes the place of a valve.",
    "extended bonnet": "A bonnet with a long neck, which keeps the packing away from a hot or very cold body.",
    "handing over": "Giving the valve back to operations, with papers that say what was done and measured.",
}
IDEAS = {
    "What is around a valve is part of how it works.": "parts arrow support level w1 w3 w5",
    "Heat, dirt and weight reach a valve from its line.": "predict cover flush strained support level w2 w3",
    "First the dirt goes out, then the valve is stroked dry, then comes pressure, then heat.": "flush order handed w4 stroke.order",
}
TAGS = tuple(tag for tag in VALVES if tag[0] in "FLPT")
DRIVEN = tuple(tag for tag in TAGS if VALVES[tag].drive)

PREDICT = Question(
    id="installing.predict",
    kind="predict",
    text="FV-2135 passes hot oil at {t}. Its bonnet has a long neck, with PTFE packing at the top. Body and neck are wrapped in insulation right "
    "up to the packing. The packing gets …",
    variants=({"t": Q(280, "°C")},),
    options=(
        Option("cooler", "Cooler: insulation keeps the heat away from it"),
        Option("same", "As before: it is far from the fluid"),
        Option("hotter", "Hotter"),
    ),
    why="Now wrap the neck in the picture, from below, and watch its top end.",
)

# ---- what is around a valve -------------------------------------------------------------------------------------------

_LISTS = (
    "upstream block valve, strainer, reducer, drain valve, bypass valve",
    "bypass valve, flow arrow, pipe support, strainer, actuator",
    "downstream block valve, drain valve, strainer, actuator, reducer",
    "flow arrow, upstream block valve, bypass valve, reducer, pipe support",
    "strainer, drain valve, downstream block valve, upstream block valve, flow arrow",
    "pipe support, reducer, actuator, bypass valve, drain valve",
    "actuator, strainer, flow arrow, downstream block valve, bypass valve",
    "reducer, upstream block valve, drain valve, flow arrow, actuator",
    "downstream block valve, pipe support, strainer, reducer, flow arrow",
    "drain valve, bypass valve, upstream block valve, pipe support, downstream block valve",
    "upstream block valve, actuator, reducer, downstream block valve, strainer",
    "bypass valve, reducer, flow arrow, drain valve, pipe support",
)

PARTS = Question(
    id="installing.parts",
    kind="match",
    text="A valve in its line, seen from the side. What does each numbered part do?",
    variants=tuple(
        drawn_parts.variant("installation", asked, spare, words=True)
        for asked, spare in drawn_parts.combinations_of(_LISTS, "web, lantern ring")
    ),
    key=drawn_parts.key,
    options=drawn_parts.part_options(5, 2),
    places=drawn_parts.part_numbers(5),
    idea="Follow the flow from the left, part by part. The bypass runs above all of them.",
    step="Start with the part the fluid meets first.",
    example="The leg with a cap that hangs down before the valve is where the dirt stays.",
    why="Each part is there so that the valve can work, or can be worked on.",
    source="common practice, no source, in a schematic drawing",
    figure=drawn_parts.figure,
    alt="A control valve in its pipe, seen from the side, with valves before, behind, above and below it. The parts have numbers.",
)

_THINGS = {
    "cover": (
        "the body of FV-2135, below its bonnet joint",
        "the pipe before and behind it",
        "the reducers on both sides",
    ),
    "heat": (
        "the long neck of the bonnet of FV-2135",
        "the packing box of FV-2135",
        "the fins on the bonnet of a valve for very hot oil",
    ),
    "seen": ("the plate of the valve", "the travel scale and its pointer", "the gauges on the air set"),
    "moves": (
        "the vent of the spring side of the casing",
        "the stem between packing and yoke",
        "the feedback lever of the positioner",
    ),
}

COVER = Question(
    id="installing.cover",
    kind="choice",
    text="The insulators ask what they may cover: {thing}?",
    variants=in_turn("thing", _THINGS),
    key=lambda n: n.right,
    options=(
        Option(
            "cover",
            "Yes: it should keep its heat, and nothing on it has to be seen or reached",
            "This part has a job that insulation would spoil.",
        ),
        Option(
            "heat",
            "No: it has to give its heat to the air",
            "This part need not cool. Ask what else insulation would do to it.",
        ),
        Option(
            "seen", "No: it has to be read", "Nobody has to read this part. Ask what else insulation would do to it."
        ),
        Option(
            "moves",
            "No: it moves, or breathes",
            "This part neither moves nor breathes. Ask what else insulation would do to it.",
        ),
    ),
    idea="Insulation keeps heat in. Whatever has to lose heat, be read, move or breathe stays free.",
    step="What is {thing} for: to keep heat in, to lose it, to be read, to move?",
    example="With the nameplate under insulation, nobody can compare the valve with its sheet.",
    why="The maker's drawing says how far the insulation goes. Mark that line on the bonnet before the insulators come.",
    source="common practice, no source, and the maker's drawing decides; heat along the neck: computed here",
)

ARROW = Question(
    id="installing.arrow",
    kind="choice",
    text="{tag}, {service}, is built flow-to-{way}. It was put in with its arrow against the flow. What changes?",
    variants=tuple(
        {
            "tag": tag,
            "service": VALVES[tag].service,
            "way": drive_of(tag).flow_to,
            "right": {"open": "slams", "close": "lifts"}[drive_of(tag).flow_to],
        }
        for tag in DRIVEN
    )
    + tuple(
        {"tag": "A valve", "service": service, "way": way, "right": right}
        for service, way, right in (
            ("steam to a heater", "open", "slams"),
            ("water to a spray", "close", "lifts"),
            ("oil to a burner", "open", "slams"),
            ("brine to a cooler", "close", "lifts"),
        )
    ),
    key=lambda n: n.right,
    options=(
        Option(
            "slams",
            "The fluid now pushes the plug shut: near its seat it slams, and opening it takes more air",
            "Ask which way the fluid pushed before. Turned round, it pushes the other way.",
        ),
        Option(
            "lifts",
            "The fluid now pushes the plug open: it may not shut tight",
            "Ask which way the fluid pushed before. Turned round, it pushes the other way.",
        ),
        Option(
            "less",
            "Only the capacity: it passes less",
            "Capacity and recovery change too. But above all, the force on the plug turns round.",
        ),
        Option(
            "nothing",
            "Nothing: the seat is the same from both sides",
            "The seat is the same. The force on the plug is not.",
        ),
    ),
    idea="The fluid pushes on the plug (lesson 08). From the other side it pushes the other way.",
    step="It is flow-to-{way}. So which way does the fluid push its plug, and which way when the body is turned round?",
    example="Think of a door in the wind. From one side the wind opens it; from the other it slams it.",
    why="The force balance on the sheet was worked out for the arrow. FL changes too: 0.90 to open, 0.80 to close for a contoured plug.",
    source="worked by hand: the unbalance turns its sign; FL: IEC 60534-2-1:2011, table D.2",
)

# ---- loads and flows -------------------------------------------------------------------------------------------------

SUPPORT = Question(
    id="installing.support",
    kind="number",
    text="A valve with its actuator weighs {weight}. It hangs in the pipe between two supports, {a} from the left one and {b} from the right one. How "
    "much of it does the left support carry?",
    variants=tuple(
        {"weight": Q(weight, "N"), "a": Q(a, "mm"), "b": Q(b, "mm")}
        for weight, a, b in (
            (1200, 400, 800),
            (900, 500, 1000),
            (1500, 300, 700),
            (2000, 600, 900),
            (800, 350, 650),
            (1800, 400, 1000),
            (2500, 700, 1300),
            (1000, 250, 750),
            (1400, 500, 900),
            (3000, 800, 1200),
            (700, 300, 900),
            (2200, 550, 850),
        )
    ),
    key=lambda n: n.weight * n.b / (n.a + n.b),
    unit="N",
    mistakes=(
        Mistake(
            "other_side",
            lambda n: n.weight * n.a / (n.a + n.b),
            "That is the right one's share. The nearer support carries more.",
        ),
        Mistake(
            "half",
            lambda n: n.weight / 2,
            "You gave each of them half. That is right only if the valve hangs in the middle.",
        ),
    ),
    working=("both [mm] = a + b", "weight * b / both"),
    names={
        "weight": "weight",
        "a": "distance from the left support",
        "b": "distance from the right support",
        "both": "distance between the supports",
    },
    idea="Take moments about the right support: weight × its distance from there = left share × the whole distance.",
    step="Multiply {weight} by {b}, and divide by the sum of {a} and {b}.",
    why="Without a support near the valve, flanges and bonnet joint carry what the pipe cannot.",
    plausible=(0.0, 50000.0),
    source="worked by hand: moments about one support",
)

LEVEL = Question(
    id="installing.level",
    kind="number",
    text="A valve is installed with its stem level. The actuator weighs {weight}, and its middle is {arm} from the bonnet joint. With what moment does it "
    "bend that joint?",
    variants=tuple(
        {"weight": Q(weight, "N"), "arm": Q(arm, "mm")}
        for weight, arm in (
            (400, 500),
            (250, 450),
            (600, 600),
            (350, 550),
            (800, 700),
            (300, 400),
            (500, 650),
            (900, 750),
            (450, 480),
            (700, 620),
            (200, 420),
            (1000, 800),
        )
    ),
    key=lambda n: n.weight * n.arm,
    unit="N·m",
    mistakes=(Mistake("divided", lambda n: n.weight / n.arm, "You divided. A moment is force times arm."),),
    working=("weight * arm",),
    names={"weight": "weight of the actuator", "arm": "arm"},
    idea="Moment = weight × arm. With the stem upright the arm is zero.",
    step="Multiply {weight} by {arm}, in metres (or feet).",
    why="With the stem upright the weight goes straight down into the body. With the stem level the actuator needs a support of its own, as the maker says.",
    plausible=(0.0, 5000.0),
    source="worked by hand: statics",
)

FLUSH = Question(
    id="installing.flush",
    kind="number",
    text="By the site's procedure a line is flushed with water at {speed}. The pipe is {d} inside. What flow does the pump have to give?",
    variants=tuple(
        {"speed": Q(speed, "m/s"), "d": Q(d, "mm")}
        for speed, d in (
            (2, 80),
            (1.5, 100),
            (2.5, 50),
            (3, 65),
            (2, 150),
            (1.8, 125),
            (2.2, 80),
            (3, 40),
            (2.5, 100),
            (1.5, 200),
            (2, 50),
            (2.8, 80),
        )
    ),
    key=lambda n: n.speed * circle_area(n.d),
    unit="m³/h",
    mistakes=(Mistake("square", lambda n: n.speed * n.d**2, "You squared the diameter, but left out π/4."),),
    working=("speed * circle(d)",),
    names={"speed": "speed", "d": "inside diameter"},
    idea="Flow is speed times the area of the bore.",
    step="The area is π/4 times {d} squared. Multiply it by {speed}, and then turn it into the flow of an hour.",
    why="With the trim in, the water would have to squeeze through the seat, and the dirt would stay in it.",
    plausible=(0.1, 5000.0),
    source="worked by hand: flow = speed × area",
)

STRAINED = Question(
    id="installing.strained",
    kind="number",
    text="A strainer is half clogged: its flow coefficient is down to {kv}. It passes {flow} of water. How much pressure drop does it cause?",
    variants=tuple(
        {"kv": Q(kv, "Kv"), "flow": Q(flow, "m³/h")}
        for kv, flow in (
            (50, 45),
            (40, 50),
            (80, 60),
            (30, 36),
            (25, 18),
            (60, 75),
            (100, 120),
            (20, 24),
            (90, 63),
            (45, 54),
            (70, 56),
            (35, 49),
        )
    ),
    key=lambda n: (n.flow * 3600 / n.kv) ** 2 * 1e5,
    unit="bar",
    working=("(flow / kv)**2",),
    names={"kv": "flow coefficient of the strainer", "flow": "flow"},
    idea="Drop = (flow ÷ flow coefficient)², for water.",
    step="Divide {flow} by {kv}, and square the result.",
    why="The valve opens further to make up for it, until it is wide open and the flow falls. Then it looks as if the valve were too small.",
    plausible=(0.0, 50.0),
    source="IEC 60534-2-1, equation 1 solved for the drop, water in line-size pipe",
)

# ---- starting up -----------------------------------------------------------------------------------------------------

START_UP = (
    Option("flush", "Flush the line with a spool in place of the valve, or with the trim out"),
    Option("trim", "Valve in, arrow with the flow, new gaskets; trim in"),
    Option("air", "Air and signal on; stroke it in the line, dry, at five points"),
    Option("leak", "Let the pressure in slowly, through a block valve just cracked open; look at every joint"),
    Option("warm", "Bring it to its temperature; look at every joint again"),
    Option("over", "Hand over: block valves wide open, bypass shut, records signed, loop to the board"),
)
_KEY = tuple(step.name for step in START_UP)

ORDER = Question(
    id="installing.order",
    kind="order",
    text="{tag} is new in its line. In which order does it come into service?",
    variants=tuple({"tag": tag} for tag in TAGS),
    key=lambda _: _KEY,
    options=START_UP,
    mistakes=(
        Mistake(
            "flushed_late",
            lambda _: ("trim", "flush", "air", "leak", "warm", "over"),
            "You flushed with the trim in. Weld beads and scale are now in its seat.",
        ),
        Mistake(
            "stroked_late",
            lambda _: ("flush", "trim", "leak", "air", "warm", "over"),
            "You let the pressure in before the stem had moved once. "
            "If it sticks or goes the wrong way, the process will be the first to notice.",
        ),
    ),
    idea="First the dirt goes out and the valve goes in. Then it is stroked dry. Then come pressure, heat and the board.",
    step="Try first whatever can be tried without pressure.",
    example="You try the brakes of a new car in the yard before you take it on the road.",
    why="A fault found in one step costs little. The same fault found in the next step costs far more. "
    + safety.STROKE,
    source="common practice, no source, and the site's procedure decides",
)

HANDED = Question(
    id="installing.handed",
    kind="several",
    text="{tag} runs. What belongs in the papers that you hand over?",
    variants=tuple({"tag": tag} for tag in TAGS),
    key=lambda _: {"stroke", "joints", "changed", "positions"},
    options=(
        Option("stroke", "The first stroke in the line, signal against travel, up and down"),
        Option("joints", "Torque, lubricant and gasket of each joint; joints found dry, cold and hot"),
        Option("changed", "What differs from the sheet, and who agreed to it"),
        Option("positions", "How block valves, bypass and drains were left"),
        Option(
            "tuning",
            "New controller settings that the fitter liked better",
            "Tuning belongs to operations and their engineer.",
        ),
        Option("sure", "That it will not leak", "Nobody can sign for that. Say what was seen, and when."),
    ),
    idea="Say what was done, what was measured, how the valve was left, and what differs from the sheet.",
    step="Four of the six are facts that somebody saw.",
    example="“Bonnet: 8 studs, 120 N·m with the grease of the sheet; dry at 6 bar cold, dry at 280 °C. Bypass shut and its lock on.”",
    why="The next person at this valve starts from your figures.",
    source="common practice, no source, and the site's form decides",
)

QUESTIONS = (
    PREDICT,
    PARTS,
    COVER,
    ARROW,
    SUPPORT,
    LEVEL,
    FLUSH,
    STRAINED,
    ORDER,
    HANDED,
)
