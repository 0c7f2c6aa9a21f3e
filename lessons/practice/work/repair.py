"""Lesson 12: taking a control valve down and putting it back."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

from lessons import safety
from lessons.practice.charts_asked import chart_of
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.actuator import actuator_from_bench_set

if TYPE_CHECKING:
    from matplotlib.figure import Figure

LESSON = "12_take_down_and_put_back"
TERMS: dict[str, str] = {
    "isolation": "Cutting a piece of plant off from every source of energy, and keeping it cut off.",
    "lockout": "Holding each isolating device in its safe place with a lock whose only key is with the person at work.",
    "block valve": "A valve that is there to be shut. A control valve is not one.",
    "bleed": "A small valve between two shut ones, opened to let pressure out and to prove that none comes back.",
    "positive isolation": "The line is parted or a solid plate is bolted in: nothing can come through.",
    "proved isolation": "Shut block valves with a bleed that shows that they hold.",
    "long bolts": "Casing bolts so long that the spring is free before their nuts come off. They let it down under control.",
    "match marks": "Marks made across a joint before it is opened, so that it goes together the same way.",
    "lapping": "Grinding plug and seat together with a fine paste until they touch all the way round.",
    "blue check": "A thin film of blue on the plug. Where it marks the seat, the two touch.",
    "crosswise": "From each nut to the opposite one and then a quarter further, not round the circle.",
}
TAGS = ("FV-1204", "FV-2107", "LV-2112", "PV-4015", "FV-6204", "LV-6120")

PREDICT = Question(
    id="repair.predict",
    kind="predict",
    text="Eight bonnet nuts, all snug. Somebody turns each of them once to the full load, one after the "
    "other round the circle, and never comes back to any. Which stud holds least in the end?",
    variants=({},),
    options=(
        Option("first", "The first one"),
        Option("last", "The last one"),
        Option("equal", "None: all were turned to the same load"),
    ),
    why="Now turn the nuts with the first slider. Then try crosswise, and more rounds.",
)

ISOLATE = Question(
    id="repair.isolate",
    kind="order",
    text="{tag} comes down for a new {part}. Put the isolation in order.",
    variants=tuple({"tag": tag, "part": part} for tag in TAGS for part in ("seat ring", "plug")),
    key=lambda _: safety.ORDER,
    options=safety.isolation_options(),
    mistakes=(
        Mistake(
            "locked_late",
            lambda _: safety.swapped("lock", "release"),
            "Locks go on before the energy "
            "is let out. Until then anybody may open the block valve behind which you work.",
        ),
        Mistake(
            "proved_early",
            lambda _: safety.swapped("release", "prove"),
            "Proof comes last: there is nothing to prove while pressure and spring are still there.",
        ),
        Mistake(
            "shut_first",
            lambda _: safety.swapped("prepare", "shut_down"),
            "Know before you touch: what to shut and what to fear is found out first.",
        ),
    ),
    idea="First the head, then the hands: " + safety.IN_SHORT + ".",
    step="Locks come as soon as everything is shut; then what is stored inside is let out.",
    example="For an electric motor: which supply, stop it, open the switch, lock it, discharge it, try to start it.",
    why="This is the order of the United States rule; elsewhere other rules say much the same. Yours decide.",
    source=safety.SOURCE,
)

_HOW = {
    "positive": (
        "a pipe spool is taken out on each side and the open ends are blanked",
        "a spade, a solid plate, is bolted in on each side",
        "the valve is out of the line, and both pipes have blind flanges",
    ),
    "proved": (
        "on each side two block valves are shut and locked, and the bleed between them is open and dry",
        "two locked block valves on each side, the bleed between them watched for ten minutes: nothing comes",
        "on each side a block valve with double seals is shut and locked, the bleed between the seals open and dry",
    ),
    "non_proved": (
        "one block valve on each side is shut and locked; there is no bleed anywhere",
        "two block valves on each side are shut and locked, with no bleed between them or behind",
        "the block valves are shut and locked; the bleed is plugged with scale and passes nothing either way",
    ),
    "none": (
        "the control valve itself is driven shut, and it is a class V valve",
        "the controller is in manual at 0 %, and the board operator has promised not to touch it",
        "the control valve is shut and its air is cut off",
    ),
}

CATEGORY = Question(
    id="repair.category",
    kind="choice",
    text="{tag} is to be worked on. This has been done: {how}. What kind of isolation is that?",
    variants=tuple(
        {"tag": TAGS[(i + 2 * k) % 6], "how": how, "right": right}
        for k, (right, ways) in enumerate(_HOW.items())
        for i, how in enumerate(ways)
    ),
    key=lambda n: n.right,
    options=(
        Option(
            "positive",
            "Positive isolation",
            "Positive means parted or plated off: nothing can come "
            "through, whatever a valve does. Here only valves hold it back.",
        ),
        Option(
            "proved",
            "Proved isolation",
            "Proved means that a bleed behind or between shut block valves "
            "shows that they hold, and that there is nothing firmer, such as a spade.",
        ),
        Option(
            "non_proved",
            "Isolation by valves, not proved",
            "Not proved means block valves without a "
            "bleed that works. Look for a bleed or a plate, and ask whether it is block valves at all.",
        ),
        Option(
            "none",
            "No isolation at all",
            "Block valves or plates do stand between you and the line "
            "here: that is some isolation. The question is how good.",
        ),
    ),
    idea="Is the line parted? If not: are there block valves, and is there a bleed that proves them?",
    step="Look for one of three things: a plate or a gap, a bleed that works, or only shut valves.",
    example="A shut block valve with an open, dry bleed behind it is proved; a shut control valve is no isolation.",
    why="How good it must be goes by the fluid, the pressure and the time: the site's procedure decides. "
    + safety.ENTRY,
    source="UK HSE, HSG253 (2006), kinds of isolation, second-hand; a control valve is no isolation: common "
    "practice, no source",
)


def held_in(n: Any) -> float:
    """Return how far the spring is still compressed with the air off [m]."""
    actuator = actuator_from_bench_set("reverse", 0.05, n.low, n.high, n.travel)  # the area drops out
    return float(actuator.preload / actuator.spring_rate)


SPRING = Question(
    id="repair.spring",
    kind="number",
    text="An actuator: bench set {low} to {high}, travel {travel}. Its air is off and vented. How "
    "far is the spring still compressed?",
    variants=tuple(
        {"low": Q(low, "bar"), "high": Q(high, "bar"), "travel": Q(travel, "mm")}
        for low, high, travel in (
            (0.2, 1.0, 20),
            (0.2, 1.0, 38),
            (0.4, 2.0, 30),
            (0.8, 2.4, 40),
            (0.4, 1.2, 20),
            (0.2, 1.0, 50),
            (0.6, 1.4, 28),
            (0.8, 2.4, 30),
            (0.4, 2.0, 60),
            (0.4, 1.2, 38),
            (0.6, 2.0, 35),
            (0.8, 2.0, 30),
        )
    ),
    key=held_in,
    unit="mm",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "full_open",
            lambda n: n.high * n.travel / (n.high - n.low),
            "That is with full air: the preload and the travel on top of it. The air is off.",
        ),
        Mistake(
            "travel_only",
            lambda n: n.travel,
            "That is the travel. With the air off the travel is given back; what is left is the preload.",
        ),
        Mistake(
            "of_the_top",
            lambda n: n.low / n.high * n.travel,
            "You took the bottom over the top of the bench set. The travel belongs to the difference between them.",
        ),
    ),
    working=("span [bar] = high - low", "low / span * travel"),
    idea="The air from bottom to top of the bench set presses the spring together by the travel. So each bar "
    "is worth how much?",
    step="{travel} divided by the difference of {high} and {low}, times {low}.",
    why="The casing may not be opened on bolts that run out of thread before the spring has run out of push. "
    + safety.CASING,
    plausible=(0.0, 500.0),
    source="worked by hand: Hooke's law, low ÷ (high − low) × travel",
)

CHAIN = ("stem connector", "yoke", "packing flange", "body studs", "bonnet", "plug", "seat ring")
LIFTED = {
    "stem connector": "Part the stem connector: marked and measured, spring load off it, plug lifted off its seat",
    "yoke": "Lift off the actuator with its yoke, slung before it is unbolted",
    "packing flange": "Take off the packing flange, so that the stem is free",
    "body studs": "Slacken the nuts of the body studs in steps, far side first, as if there were pressure",
    "bonnet": "Lift the bonnet straight up",
    "plug": "Draw plug and stem",
    "seat ring": "Unscrew the seat ring",
}
_DROPPED = (
    ("packing flange", "seat ring"),
    ("packing flange", "plug"),
    ("packing flange", "yoke"),
    ("body studs", "seat ring"),
    ("body studs", "plug"),
    ("body studs", "yoke"),
    ("packing flange", "stem connector"),
    ("body studs", "stem connector"),
    ("packing flange", "bonnet"),
    ("body studs", "bonnet"),
    ("packing flange", "body studs"),
    ("packing flange", "plug"),
)


def _apart(number: int, dropped: tuple[str, str]) -> dict[str, Any]:
    parts = [part for part in CHAIN if part not in dropped]
    steps = {f"s{k}": LIFTED[part] for k, part in enumerate(parts, start=1)}
    return {"tag": TAGS[number % 6], "parts": ", ".join(parts), "travel": 0.0, **steps}


def named_parts(n: SimpleNamespace, _units: str) -> Figure:
    """Draw the globe valve with the names of the parts in question."""
    from lessons.pictures.cutaways import paper
    from lessons.pictures.cutaways.bodies.globe import GLOBE_SINGLE

    asked = n.parts.split(", ")
    parts = tuple(part for part in GLOBE_SINGLE.parts if part.name in asked)
    return paper.draw(GLOBE_SINGLE._replace(parts=parts), n.travel)


APART = Question(
    id="repair.apart",
    kind="order",
    text="{tag} is " + safety.DONE + ". In which order does it come apart?",
    variants=tuple(_apart(number, dropped) for number, dropped in enumerate(_DROPPED)),
    key=lambda _: ("s1", "s2", "s3", "s4", "s5"),
    options=tuple(Option(f"s{k}", f"{{s{k}}}") for k in range(1, 6)),
    idea="From the top down, and nothing is lifted while something still holds it.",
    step="Ask what must come off first. Here that is: {s1}.",
    example="A jam jar: lid, paper, jam. Nobody starts with the jam.",
    why="Every step downwards opens something that the step before has freed. " + safety.UNCOUPLE[0] + " Never "
    "turn a seated plug.",
    source="common practice, no source, and the maker's instruction decides",
    figure=named_parts,
    alt="Cut through a single-seated globe valve with five of its parts named.",
)

_SEEDS = tuple(
    (right, size, seed) for seed, size in ((3, 0.3), (8, 0.6), (5, 0.9)) for right in ("wire", "gall", "pit", "wash")
)


PLUG_ALT = (
    "A plug from the side: guide post on top, then the seating face, below it the contour; its surface is damaged."
)
SEAT_ALT = "A seat ring from above: round the bore the seating face, with blue on it where the plug has touched."

DAMAGE = Question(
    id="repair.damage",
    kind="choice",
    text="The plug of {tag} on the bench. What is this?",
    variants=tuple(
        {"tag": TAGS[i % 6], "right": right, "size": size, "seed": seed} for i, (right, size, seed) in enumerate(_SEEDS)
    ),
    key=lambda n: n.right,
    options=(
        Option(
            "wire",
            "Wire drawing",
            "Wire drawing is fine and straight and lies across the seating face, where a leak went.",
        ),
        Option(
            "gall",
            "Galling",
            "Galling is torn and smeared, with lumps, and lies where metal slides on metal: on the guide.",
        ),
        Option("pit", "Cavitation pitting", "Pitting by cavitation is rough, hole beside hole, like cinder."),
        Option("wash", "Wash-out", "A wash-out is smooth and shiny, and the part has lost its shape."),
    ),
    idea="Ask two things: where is it, and is it straight, torn, rough or smooth?",
    step="Compare with the four lines of the lesson: place first, then surface.",
    example="Rough like cinder on the contour: pitting. Smooth, with the shape gone: wash-out.",
    why="The kind of damage names what the valve has suffered; a new plug alone will suffer it again.",
    source="how they look: common practice, no source, in schematic drawings",
    figure=chart_of("bench.damage_figure"),
    alt=PLUG_ALT,
)

CAUSES = (
    Option("leak", "A thin, fast stream over the seat: a leak, or throttling nearly shut, for long"),
    Option("rub", "Metal sliding on metal: a soft pair, dirt in the guide, side load"),
    Option("bubbles", "Bubbles that collapse on the metal: cavitation"),
    Option("blast", "A fast stream of steam and drops, or of grit: flashing or erosion"),
    Option("cold", "A night of frost on a drained valve"),
)

MATCH = Question(
    id="repair.causes",
    kind="match",
    text="Four plugs from {where}, {count} years in service. Which damage had which cause? One cause is left over.",
    variants=tuple(
        {"where": where, "count": count}
        for where in ("the hydrotreater", "the crude unit", "the boiler house", "the tank farm")
        for count in (3, 4, 6)
    ),
    key=lambda _: {"cuts": "leak", "torn": "rub", "cinder": "bubbles", "smooth": "blast"},
    places=(
        Option("cuts", "Fine straight cuts across the seating face"),
        Option("torn", "Torn streaks and lumps along the guide post"),
        Option("cinder", "Rough holes like cinder on the contour"),
        Option("smooth", "Smooth, shiny, the contour gone"),
    ),
    options=CAUSES,
    idea="A leak cuts, rubbing tears, bubbles pit, a broad stream polishes.",
    step="Begin with the guide post: no fluid flows fast there, but something slides.",
    example="Sand in a garden hose leaves a smooth groove; two dry bolts screwed together tear each other.",
    why="Now you can ask the right question before the store is asked for the same plug again.",
    source="common practice, no source, for cavitation and flashing too",
)

_BLUES = tuple(
    {"tag": TAGS[i % 6], "right": right, "at": at, "gap": gap}
    for i, (right, at, gap) in enumerate(
        (
            ("good", 0, 0),
            ("gap", 200, 40),
            ("wide", 0, 0),
            ("cut", 130, 0),
            ("gap", 310, 70),
            ("good", 1, 0),
            ("cut", 250, 0),
            ("wide", 1, 0),
            ("cut", 330, 0),
            ("wide", 2, 0),
            ("gap", 100, 100),
            ("good", 2, 0),
        )
    )
)

BLUED = Question(
    id="repair.blue",
    kind="choice",
    text="The seat of {tag} after a blue check. What does it say?",
    variants=_BLUES,
    key=lambda n: n.right,
    options=(
        Option(
            "good",
            "It touches all the way round, on a narrow band",
            "All the way round means without a gap, and narrow means well inside the face. Follow the blue once round.",
        ),
        Option(
            "gap",
            "It does not touch everywhere",
            "A place where it does not touch is a part of the circle without blue. Follow the blue once round.",
        ),
        Option(
            "wide",
            "It has been lapped too far",
            "Lapped too far, the blue covers the whole width of the face. Look how wide the band is.",
        ),
        Option(
            "cut",
            "It touches, but a cut runs across",
            "A cut is a line across the band, from the bore "
            "outwards, with no blue in it. A missing piece of band is something else.",
        ),
    ),
    idea="Go once round: is the band whole? Then across: is it narrower than the face, and is it crossed?",
    step="Whole and narrow, broken, as wide as the face, or crossed by a line: which?",
    example="A ring that is whole, but as wide as the face: lapped too far.",
    why="The blue shows what the eye cannot: where metal meets metal.",
    source="a good, continuous contact: NAVFAC MO-209; how wide it may be: common practice, no source",
    figure=chart_of("bench.blue_figure"),
    alt=SEAT_ALT,
)

RINGS = Question(
    id="repair.rings",
    kind="number",
    text="Packing, cut from square cord: the stem is {stem} thick, the packing box {box} wide. How "
    "long must a ring be cut, measured along its middle?",
    variants=tuple(
        {"stem": Q(stem, "mm"), "box": Q(box, "mm")}
        for stem, box in (
            (10, 20),
            (12, 22),
            (12, 24),
            (14, 26),
            (16, 28),
            (16, 32),
            (18, 34),
            (20, 36),
            (20, 40),
            (25, 45),
            (28, 48),
            (32, 57),
        )
    ),
    key=lambda n: math.pi * (n.stem + n.box) / 2,
    unit="mm",
    mistakes=(
        Mistake(
            "round_the_stem",
            lambda n: math.pi * n.stem,
            "That is once round the stem. The middle of the cord runs on a larger circle; this ring would gape.",
        ),
        Mistake(
            "round_the_box",
            lambda n: math.pi * n.box,
            "That is once round the bore. Bent to a ring, the cord would not close flat.",
        ),
        Mistake(
            "no_pi",
            lambda n: (n.stem + n.box) / 2,
            "That is the diameter of the middle circle, not the distance round it.",
        ),
    ),
    working=("mean [mm] = (stem + box) / 2", "pi * mean"),
    idea="The middle of the cord runs on a circle half-way between stem and box.",
    step="Add {stem} and {box}, halve, and times π.",
    why="Cut the first one on a spare stem of the same size, and try it before you cut the rest.",
    plausible=(0.0, 2000.0),
    source="worked by hand: π × (stem + box) ÷ 2",
)


def _turned(first: int, steps: tuple[int, ...]) -> str:
    return "-".join(str((first - 1 + step) % len(steps) + 1) for step in steps)


_CROSS = {6: (0, 3, 2, 5, 4, 1), 8: (0, 4, 2, 6, 1, 5, 3, 7), 12: (0, 6, 3, 9, 1, 7, 4, 10, 2, 8, 5, 11)}


def _sequences(number: int, studs: int, first: int) -> dict[str, Any]:
    both = [0, *(each for k in range(1, studs // 2) for each in (k, studs - k)), studs // 2]
    ways = {
        "cross": _CROSS[studs],
        "circle": tuple(range(studs)),
        "both": tuple(both),
        "every_other": (*range(0, studs, 2), *range(1, studs, 2)),
    }
    turned = {name: _turned(first, steps) for name, steps in ways.items()}
    return {"tag": TAGS[number % 6], "studs": studs} | turned


CROSSWISE = Question(
    id="repair.crosswise",
    kind="choice",
    text="The bonnet of {tag} has {studs} nuts, numbered as drawn. Which order is crosswise?",
    variants=tuple(
        _sequences(number, studs, first)
        for number, (studs, first) in enumerate((s, f) for s in (6, 8, 12) for f in (1, 2, 4, 5))
    ),
    key=lambda _: "cross",
    options=(
        Option("cross", "{cross}"),
        Option("circle", "{circle}", "That goes round the circle: one side is pulled down before the other has begun."),
        Option(
            "both",
            "{both}",
            "That starts at one nut and creeps down both sides; the last nut is the one opposite the first.",
        ),
        Option("every_other", "{every_other}", "That leaves out every other nut, but still goes round the circle."),
    ),
    idea="The second nut lies opposite the first, the third far from both.",
    step="Put your finger on the first two numbers of each order: only one pair lies opposite.",
    example="With four nuts, numbered round the circle, crosswise is 1-3-2-4.",
    why="The cover comes down level, and the gasket is pressed evenly from the first turn.",
    source="ASME PCC-1, from memory",
    figure=chart_of("bench.studs_figure"),
    alt="A round flange from above; its nuts are numbered round the circle, 1 on top, clockwise.",
)

BACK = (
    Option("clean", "Clean all joint faces and look at them; lay out new gaskets and packing"),
    Option("trim", "Seat ring in; blue check; plug and stem in"),
    Option("bonnet", "New gasket on, bonnet down on its match marks"),
    Option("nuts", "Tighten the bonnet nuts crosswise in steps, then once round the circle"),
    Option("packing", "Put in the packing ring by ring, joints staggered"),
    Option("actuator", "Actuator on its marks; join the stem and set the travel"),
    Option("test", "Stroke it, test seat and joints for leaks, write down as left"),
)
_BACK = tuple(step.name for step in BACK)

ORDER = Question(
    id="repair.back",
    kind="order",
    text="Everything for {tag} lies {where}. Put it together.",
    variants=tuple({"tag": tag, "where": where} for tag in TAGS for where in ("on the bench", "clean on a cloth")),
    key=lambda _: _BACK,
    options=BACK,
    mistakes=(
        Mistake(
            "packed_first",
            lambda _: ("clean", "trim", "packing", "bonnet", "nuts", "actuator", "test"),
            "The "
            "packing box sits in the bonnet: bonnet on and tight first, then pack round a stem that "
            "stands in its place.",
        ),
        Mistake(
            "actuator_early",
            lambda _: ("clean", "trim", "bonnet", "nuts", "actuator", "packing", "test"),
            "Rings slide over the free stem; with the stem joined to the actuator they cannot.",
        ),
    ),
    idea="The way it came apart, backwards, with clean faces first and tests last.",
    step="Clean; trim; bonnet and its nuts. Only then the packing, and after it the actuator.",
    example="The steps after the bonnet are: nuts, packing, actuator, test.",
    why="No step closes off what the next one still needs.",
    source="common practice, no source, the maker's instruction decides; new packing and gaskets: NAVFAC MO-209",
)

QUESTIONS = (PREDICT, ISOLATE, CATEGORY, SPRING, APART, DAMAGE, MATCH, BLUED, RINGS, CROSSWISE, ORDER)
