"""Graded questions of lesson 12: taking a control valve down and putting it back."""

from __future__ import annotations

from types import SimpleNamespace

from lessons import safety
from lessons.practice.charts_asked import chart_of
from lessons.practice.work.repair import CAUSES, PLUG_ALT, SEAT_ALT, TAGS
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.actuator import actuator_from_bench_set

OPENING = (
    Option("bleed", "Look at the open bleed once more: nothing comes, and it is not plugged"),
    Option("far", "Slacken all nuts a little, one on the far side first"),
    Option("wait", "Ease the joint, stand clear and wait: does anything come?"),
    Option("more", "Nothing came: slacken them further, crosswise, still on their threads"),
    Option("off", "The bonnet lies loose: take the nuts off"),
    Option("lift", "Lift the bonnet straight up, with the sling"),
)
_OPENING = tuple(step.name for step in OPENING)

FIRST_NUT = Question(
    id="repair.w1",
    kind="order",
    text="{tag}, {fluid}, is " + safety.DONE + "; its actuator is off. You open the bonnet. Put the work in order.",
    variants=tuple({"tag": tag, "fluid": fluid} for tag in TAGS for fluid in ("last in water", "last in hot oil")),
    key=lambda _: _OPENING,
    options=OPENING,
    mistakes=(
        Mistake(
            "off_at_once",
            lambda _: ("bleed", "far", "off", "wait", "more", "lift"),
            "The nuts came off before the joint had been eased: whatever was trapped could have thrown the bonnet.",
        ),
        Mistake("no_proof", lambda _: ("far", "bleed", *_OPENING[2:]), "The bleed is looked at before the first nut."),
    ),
    idea="As if pressure were still there: a little, wait, then more, and the nuts stay on until the joint is loose.",
    step="Bleed, far side first, wait.",
    example="A flange of a line: bleed, slack far bolts, wait, slack on, out.",
    why="Nuts still on their threads hold the bonnet if something was trapped after all.",
    points=2.0,
    source="common practice, no source, and the site's procedure decides",
)


def held_force(n: SimpleNamespace) -> float:
    """Return the force of the spring with the air off [N]."""
    return float(actuator_from_bench_set("reverse", n.area, n.low, n.high, 0.03).preload)


BOLTS = Question(
    id="repair.w2",
    kind="number",
    text="An actuator: effective area {area}, bench set {low} to {high}. The air is off and vented, "
    "the long bolts hold the casing, the short ones are out. What force do the long bolts hold between them?",
    variants=tuple(
        {"area": Q(area, "cm²"), "low": Q(low, "bar"), "high": Q(high, "bar")}
        for area, low, high in (
            (320, 0.2, 1.0),
            (640, 0.2, 1.0),
            (480, 0.4, 2.0),
            (200, 0.8, 2.4),
            (480, 0.2, 1.0),
            (1000, 0.4, 1.2),
            (640, 0.4, 2.0),
            (320, 0.6, 1.4),
            (1000, 0.2, 1.0),
            (640, 0.8, 2.4),
            (200, 0.4, 1.2),
            (480, 0.6, 2.0),
        )
    ),
    key=held_force,
    unit="N",
    mistakes=(
        Mistake(
            "full_air", lambda n: n.area * n.high, "That is the spring at full travel; the air is off.", credit=0.25
        ),
        Mistake(
            "span", lambda n: n.area * (n.high - n.low), "That is what the stroke adds; the preload is what is left."
        ),
    ),
    working=("area * low",),
    idea="With the air off the spring pushes as hard as the air that would just start to lift it.",
    step="Multiply the effective area, {area}, by the low end, {low}.",
    why="That force is there with every gauge at zero. " + safety.CASING,
    plausible=(0.0, 100000.0),
    points=1.0,
    source="worked by hand: preload = area × lower end of the bench set",
)

WHY_DAMAGED = Question(
    id="repair.w3",
    kind="choice",
    text="The plug of {tag} after {years} years. What has it suffered?",
    variants=tuple(
        {"tag": TAGS[i % 6], "years": 2 + i % 5, "right": right, "size": size, "seed": seed}
        for i, (right, size, seed) in enumerate(
            (right, size, seed)
            for seed, size in ((13, 0.4), (21, 0.8), (34, 0.6))
            for right in ("wash", "pit", "gall", "wire")
        )
    ),
    key=lambda n: {"wire": "leak", "gall": "rub", "pit": "bubbles", "wash": "blast"}[n.right],
    options=tuple(
        Option(cause.name, cause.text, "Look at the place and at the surface again: straight, torn, rough or smooth.")
        for cause in CAUSES
    ),
    idea="A leak cuts, rubbing tears, bubbles pit, a broad stream polishes.",
    step="Where is it: seating face, guide or contour?",
    example="Torn streaks on the guide post: metal slid on metal.",
    why="Write the cause into the report. Otherwise the next plug ends the same way.",
    points=1.0,
    source="common practice, no source, in schematic drawings",
    figure=chart_of("bench.damage_figure"),
    alt=PLUG_ALT,
)

NEXT = Question(
    id="repair.w4",
    kind="choice",
    text="The seat ring of {tag} after lapping and a blue check. What do you do next?",
    variants=tuple(
        {"tag": TAGS[i % 6], "right": right, "at": at, "gap": gap}
        for i, (right, at, gap) in enumerate(
            (
                ("wide", 3, 0),
                ("cut", 75, 0),
                ("good", 3, 0),
                ("gap", 20, 55),
                ("good", 4, 0),
                ("cut", 190, 0),
                ("gap", 150, 30),
                ("wide", 4, 0),
                ("gap", 260, 85),
                ("good", 5, 0),
                ("wide", 5, 0),
                ("cut", 290, 0),
            )
        )
    ),
    key=lambda n: n.right,
    options=(
        Option(
            "good",
            "Stop lapping: clean every trace of paste off and build it in",
            "It may only be built in when the band is whole, narrow and not crossed.",
        ),
        Option(
            "gap",
            "Lap on a little with fine paste, clean, and check again",
            "Lapping on helps where the band is narrow but broken. Here it is not that.",
        ),
        Option(
            "wide",
            "Stop: the face must be machined back, or the ring renewed, because it is too wide",
            "The band here is narrow enough.",
        ),
        Option(
            "cut",
            "Have the cut machined out, or renew the ring: lapping it out would take too much",
            "There is no cut across this face.",
        ),
    ),
    idea="Whole and narrow is finished; broken is lapped on; too wide or cut goes to the machine shop.",
    step="Follow the blue once round, then look at its width.",
    example="A band with a gap of a finger's width: a little more lapping, fine paste.",
    why="Lapping takes metal away, and nothing puts it back.",
    points=1.0,
    source="NAVFAC MO-209: continuous contact, remove little, machine out cuts; over-lapping: common practice, no source",
    figure=chart_of("bench.blue_figure"),
    alt=SEAT_ALT,
)

RECORD = Question(
    id="repair.w5",
    kind="several",
    text="{tag} is back in the line after {what}. What must be on the as-left record before it is handed back?",
    variants=tuple({"tag": tag, "what": what} for tag in TAGS for what in ("a new plug", "a lapped seat")),
    key=lambda _: {"stroke", "leak", "parts", "locks"},
    options=(
        Option("stroke", "Travel against signal at five points, up and down, beside the as-found figures"),
        Option(
            "leak", "Seat leak test: medium, pressure, what was measured, what is allowed; joints and packing tight"
        ),
        Option("parts", "What was found, what was renewed, and with which part numbers"),
        Option("locks", "That own locks and tags are off and who took the valve back"),
        Option(
            "promise",
            "That the valve will run for three years",
            "Nobody can sign for that. A record says what was measured.",
        ),
        Option(
            "tune",
            "New controller settings, so that it runs better than before",
            "Tuning is the operator's and the engineer's; it is no part of a repair.",
        ),
    ),
    idea="A record tells what was found, what was done, what was measured after, and who has the valve now.",
    step="Four of the six are facts of this job.",
    example="“Stroke 0 to 100 % within 1 %, class IV test passed, new plug, handed to the board at 14:10.”",
    why="The next technician starts from your figures.",
    points=2.0,
    source="common practice, no source, and the site's form decides",
)

QUESTIONS = (FIRST_NUT, BOLTS, WHY_DAMAGED, NEXT, RECORD)
