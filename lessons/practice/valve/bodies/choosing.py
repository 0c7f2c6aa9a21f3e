"""Lesson 02, the choice: what a body can do, what it cannot, and which for which service."""

from __future__ import annotations

from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q

BODIES = (
    Option(
        "single",
        "Single-seated globe",
        "It has one plug that moves up and down in one seat ring, and two pipe ends in line.",
    ),
    Option("double", "Double-seated globe", "It has two plugs on one stem that moves up and down, and two seat rings."),
    Option("angle", "Angle body", "One plug moves up and down in one seat ring; its two ends stand at a right angle."),
    Option("three", "Three-way body", "It has three pipe ends, two seat rings and a stem that moves up and down."),
    Option("butterfly", "Lined butterfly", "Its disc turns, and it closes on a rubber liner."),
    Option("ball", "Segmented ball", "Its piece of a ball turns, and it closes on one seat ring."),
    Option("eccentric", "Eccentric plug", "Its plug turns on an arm, and it closes on one seat ring."),
    Option("weir", "Weir diaphragm", "A rubber sheet is pressed on a sill by a stem that moves up and down."),
)

HAVE = {
    "turn a quarter turn or less": "butterfly ball eccentric",
    "have a stem that moves up and down": "single double angle three weir",
    "have two seat rings": "double three",
    "have exactly one seat ring": "single angle ball eccentric",
    "have no seat ring and close on rubber": "butterfly weir",
    "keep the fluid away from the stem with a rubber sheet": "weir",
    "have just two ends, and these at a right angle": "angle",
    "have three ends for pipes": "three",
    "have two ends in one straight line": "single double butterfly ball eccentric weir",
    "stay half open when a grain sticks on either of their two seats": "double",
    "make you ask about the rubber first when the fluid is hot": "butterfly weir",
    "have one plug or two that move up and down": "single double angle three",
}
WHICH = Question(
    id="bodies.which",
    kind="several",
    text="Which of these {have}?",
    variants=tuple({"have": have, "right": right} for have, right in HAVE.items()),
    key=lambda n: set(n.right.split()),
    options=BODIES,
    idea="Go through the drawings one by one and ask the same thing of each.",
    step="Look in each drawing for this: {have}.",
    example="“Have a shaft” would be: butterfly, segmented ball, eccentric plug.",
    why="You have looked at every body with one question in mind: so one finds the right one in a store.",
    source="own choice, no source: read off the drawings of this lesson",
)

FOR_SERVICE = {
    "single": "It is made for tight shut-off and fine control of a clean fluid in small and middle sizes.",
    "double": "It is made for larger flows at a high drop with a small actuator, where some leakage does no harm.",
    "angle": "It is made for jets that must leave straight down: grit, coking and flashing liquids.",
    "three": "It is made to mix two streams or to split one.",
    "butterfly": "It is made for large lines with a low drop and a fluid its liner can stand.",
    "ball": "It is made to cut through fibres and thick stock, and to control over a wide range.",
    "weir": "It is made for corrosive or dirty liquids at low pressure that are no hotter than its rubber can stand.",
}
SERVICE_OPTIONS = tuple(Option(o.name, o.text, FOR_SERVICE[o.name]) for o in BODIES if o.name in FOR_SERVICE)


def service_question(question_id: str, jobs: dict[str, str], points: float = 1.0) -> Question:
    """Return a question for the body that suits a job; `jobs` goes from the job to the body."""
    return Question(
        id=question_id,
        kind="choice",
        text="The job: {job}. Which body do you fetch?",
        variants=tuple({"job": job, "right": right} for job, right in jobs.items()),
        key=lambda n: n.right,
        options=SERVICE_OPTIONS,
        idea="Ask in turn: how many streams? how large a line? what is in the fluid? how hot? must it shut tight?",
        step="Read the job again: “{job}”. One of its words decides; look for it in the table.",
        example="Fibres point to a segmented ball, three pipes to a three-way body, a very large line to a butterfly.",
        why="The body first, then its size and its trim.",
        points=points,
        source="common practice, no source; butterfly and weir also DOE-HDBK-1018/2-93, module 4, p. 25 and 31",
    )


SERVICE = service_question(
    "bodies.service",
    {
        "cold cooling water in a very large line, little pressure to spend, and it must be light": "butterfly",
        "cool, dirty river water through the largest pipe of the plant, at a low drop": "butterfly",
        "weak acid that eats metal, cold, at low pressure": "weir",
        "lukewarm slurry at low pressure, and none of it may reach stem or packing": "weir",
        "pulp with long fibres that hang on every plug": "ball",
        "thick stock with fibres, to be controlled from very little flow to full": "ball",
        "gritty liquid that flashes; the jet must go straight down into a drum": "angle",
        "coking residue let down into the vessel just below": "angle",
        "hot and cold oil, to be mixed to one temperature": "three",
        "one stream, to be shared between a cooler and its bypass": "three",
        "clean feed in a small line, fine control, and tight when shut": "single",
        "clean fuel oil in a middle-sized line, high drop, small actuator, some leakage allowed": "double",
    },
)

MIX = Question(
    id="bodies.mix",
    kind="number",
    text="TV-3318 mixes hot kerosene of {hot} with cold kerosene of {cold}. The mixture has {t}. What share "
    "of it comes in at the hot end?",
    variants=tuple(
        {"hot": Q(hot, "°C"), "cold": Q(cold, "°C"), "t": Q(t, "°C")}
        for hot, cold, t in (
            (90, 20, 40),
            (80, 30, 65),
            (120, 40, 60),
            (100, 20, 80),
            (150, 50, 80),
            (85, 25, 40),
            (110, 30, 90),
            (140, 40, 70),
            (95, 35, 50),
            (130, 30, 110),
            (75, 15, 60),
            (160, 60, 90),
        )
    ),
    key=lambda n: (n.t - n.cold) / (n.hot - n.cold),
    unit="%",
    mistakes=(
        Mistake(
            "cold_share",
            lambda n: (n.hot - n.t) / (n.hot - n.cold),
            "That is the share of the cold stream. The nearer the mixture is to hot, the more of it is hot.",
        ),
        Mistake(
            "part_to_part",
            lambda n: (n.t - n.cold) / (n.hot - n.t),
            "You divided one part by the other. A share is a "
            "part of the whole: divide by the whole step from cold to hot.",
        ),
    ),
    working=("(t - cold) / (hot - cold)",),
    names={"t": "temperature of the mixture"},
    idea="How far has the mixture come from cold towards hot? That part of the way is the hot share.",
    step="From {cold} to {t} is the part, from {cold} to {hot} the whole way. Divide.",
    why="A mixing valve adds nothing: it only sets the shares.",
    plausible=(0.0, 100.0),
    source="worked by hand: heat balance of two streams of the same liquid, losses and change of heat capacity left out",
)

WARM_BELOW = 338.7  # K: 150 °F, see the source
WARM = Question(
    id="bodies.warm",
    kind="choice",
    text="A weir diaphragm valve with a rubber diaphragm is offered for {liquid} at {t}. What do you do?",
    variants=tuple(
        {"liquid": liquid, "t": Q(t, "°C")}
        for liquid, t in zip(
            ("wash water", "spent caustic", "weak acid", "brine") * 3,
            (30, 75, 100, 55, 70, 110, 40, 85, 120, 45, 105, 80),
            strict=True,
        )
    ),
    key=lambda n: "take" if n.t < WARM_BELOW else "ask",
    options=(
        Option(
            "take",
            "Take it: for rubber this is cool",
            "{t} is above the 65.6 °C (150 °F) up to which rubber works best.",
        ),
        Option(
            "ask",
            "Ask for the data of this very rubber, in this liquid, at this temperature",
            "{t} is below the 65.6 °C (150 °F) up to which rubber works best.",
        ),
        Option(
            "never",
            "Refuse it: rubber is for cold liquids only",
            "The handbook bars no temperature. It says that "
            "rubber works best below 65.6 °C (150 °F), and that some kinds stand more.",
        ),
    ),
    idea="The handbook says below which temperature rubber works best. Above it, only the data of that very rubber count.",
    step="Below 65.6 °C (150 °F): take it. Above: ask. Where does {t} lie?",
    example="At 20 °C (68 °F) you would take it, at 150 °C (302 °F) ask for the data, and perhaps take another body.",
    why="Even where the temperature is right, the liquid must suit the rubber.",
    source="DOE-HDBK-1018/2-93, module 4, p. 27: elastomer diaphragms work best below 150 °F, some higher",
)
