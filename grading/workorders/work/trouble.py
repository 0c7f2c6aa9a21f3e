"""Graded questions of lesson 13: troubleshooting on work orders with as-found data."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from lessons import safety
from lessons.practice.charts_asked import chart_of
from lessons.practice.work.trouble import (
    AIR_ALT,
    TAGS,
    air_at_half,
    traced,
)
from lessons.practice.work.trouble import DIAGNOSE as PRACTICE_DIAGNOSE
from lessons.practice.work.trouble import FRICTION as PRACTICE_FRICTION
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q

SIZES: dict[str, tuple[float, ...]] = {
    "leak": (0.25, 0.18),
    "seat": (0.10, 0.13),
    "play": (0.12, 0.09),
    "friction": (270.0, 210.0),
    "zero": (0.09, -0.08),
    "bench": (0.12e5, 0.15e5),
}

DIAGNOSE = replace(
    PRACTICE_DIAGNOSE,
    id="trouble.w1",
    text="Work order: “FV-1204 is not where the board says.” No positioner. As found, slowly up and down; "
    "dotted, as left last time. What is wrong?",
    variants=traced(SIZES, 500),
    idea="First chart B: is it on its dotted line?",
    step="On its line: look before the air or after the stem. Off it: actuator, packing or seat.",
    example="A loop in A and none in B: play between the two stems.",
    why="The charts told you which half is at fault before anything was opened.",
    points=2.0,
)

FRICTION = replace(
    PRACTICE_FRICTION,
    id="trouble.w2",
    text="Chart B of a valve; effective area {area}. How large is the friction?",
    variants=tuple(
        {
            "fault": "friction",
            "size": float(size),
            "seed": 600 + i,
            "area": Q(area, "cm²"),
            "low": Q(0.2, "bar"),
            "high": Q(1.0, "bar"),
        }
        for i, (size, area) in enumerate(
            (
                (225, 320),
                (375, 480),
                (160, 200),
                (285, 320),
                (420, 480),
                (200, 200),
                (255, 320),
                (345, 480),
                (145, 200),
                (315, 320),
                (470, 480),
                (185, 200),
            )
        )
    ),
    mistakes=(
        Mistake(
            "whole_width",
            lambda n: 2 * n.size,
            "The whole width of the loop was taken; it holds the friction twice.",
            credit=0.5,
        ),
        Mistake("halved_twice", lambda n: n.size / 2, "Half of the loop was halved again.", credit=0.25),
    ),
    idea="Friction is half the width of the loop, times the area.",
    step="Read both sides at 50 % travel, halve the difference, times {area}.",
    why="Write it on the work order, beside the force the actuator has.",
    points=2.0,
)

SHIFT = Question(
    id="trouble.w3",
    kind="number",
    text="Nameplate of FV-1204: bench set {low} to {high}. This is chart B, as found. How far has the start of "
    "the bench set moved from the nameplate, friction left out?",
    variants=tuple(
        {
            "fault": "bench",
            "size": shift * 1e5,
            "rubbing": float(rubbing),
            "seed": 700 + i,
            "area": 0.032,
            "low": Q(0.2, "bar"),
            "high": Q(1.0, "bar"),
        }
        for i, (shift, rubbing) in enumerate(
            (
                (0.10, 100),
                (0.12, 120),
                (0.14, 140),
                (0.16, 155),
                (0.18, 175),
                (0.20, 195),  # so far apart that no one
                (0.22, 215),
                (0.24, 235),
                (0.26, 250),
                (0.28, 270),
                (0.30, 290),
                (0.32, 310),  # answer is right for many
            )
        )
    ),
    key=lambda n: n.size,
    unit="bar",
    tolerance=0.1,
    mistakes=(
        Mistake(
            "going_up",
            lambda n: n.size + n.rubbing / n.area,
            "That was read on the way up; friction is in it.",
            credit=0.25,
        ),
        Mistake(
            "coming_down",
            lambda n: n.size - n.rubbing / n.area,
            "That was read on the way down; friction is in it.",
            credit=0.25,
        ),
        Mistake(
            "not_the_move",
            lambda n: n.low + n.size,
            "That is where it starts now, not how far it has moved.",
            credit=0.25,
        ),
    ),
    working=("mean [bar] = (going_up + coming_down) / 2", "mean - dotted"),
    given=air_at_half,
    idea="The middle of the loop against the dotted line, along the air.",
    step="At 50 % travel read both sides, take the middle, take off where the dotted line is.",
    why=safety.ADJUSTER + " Then it is stroked again.",
    plausible=(0.0, 5.0),
    points=2.0,
    source="computed here: a stroke with a shifted bench set and Coulomb friction",
    figure=chart_of("fault_charts.air_figure"),
    alt=AIR_ALT,
)


def _readings(right: str, size: float) -> dict[str, Any]:
    """Return what stands on the sheet: travel up and down, and air in the actuator, at three signals."""
    low, span = 0.2, 0.8
    loop = size if right == "friction" else 0.04
    shown: dict[str, Any] = {"right": right}
    shown |= {"low": Q(low, "bar"), "high": Q(low + span, "bar")}
    for name, signal in (("a", 0.25), ("b", 0.50), ("c", 0.75)):
        air = low + span * (signal + (size if right == "zero" else 0.0))
        air = air / (1 + size) if right == "leak" else air
        free = (air - low - (size if right == "bench" else 0.0)) / span
        for way, shift in (("up", -loop / 2), ("down", loop / 2)):
            shown[f"{way}_{name}"] = f"{100 * max(free + shift, 0):.0f}"
        shown[f"air_{name}"] = Q(round(air, 2), "bar")
    return shown


TABLE = Question(
    id="trouble.w4",
    kind="choice",
    text="The as-found sheet of FV-1204, no positioner, bench set {low} to {high}. What is wrong?",
    variants=tuple(
        _readings(right, size)
        for right, size in (
            ("zero", -0.08),
            ("friction", 0.16),
            ("leak", 0.15),
            ("bench", 0.08),
            ("friction", 0.22),
            ("bench", 0.12),
            ("zero", 0.07),
            ("leak", 0.22),
            ("bench", 0.10),
            ("leak", 0.18),
            ("friction", 0.28),
            ("zero", 0.09),
        )
    ),
    key=lambda n: n.right,
    options=(
        Option(
            "zero", "The converter's zero has shifted", "Then the air would be off by the same amount at every signal."
        ),
        Option("leak", "Air is lost on the way", "Then the air would be too low, and by more the higher the signal."),
        Option(
            "friction", "Too much friction", "Then up and down would lie far apart, with the middle where it should be."
        ),
        Option("bench", "The bench set is wrong", "Then the air would be right, and the travel not."),
    ),
    idea="Work out what air each signal should give, and what travel that air should give. Which of the two is off?",
    step="At 50 % the air should be half-way between {low} and {high}, and the middle of up and down should be 50 %.",
    example="Air right at all three signals, travel 12 % low at all three: the bench set.",
    why="You can read both charts from a sheet of numbers.",
    points=2.0,
    source="worked by hand: travel = (air − low) ÷ (high − low), each with one fault put in",
    figure=chart_of("fault_charts.sheet_figure"),
    alt="A table: at 25, 50 and 75 % signal the travel up, the travel down and the air in the actuator.",
)

REMEDIES = (
    Option("repack", "Valve out of service, isolated, locked, depressurised and proved: reset the packing or repack"),
    Option("calibrate", "Calibrate the converter with a reference"),
    Option("fittings", "Air shut and vented first: make tubing and fittings tight"),
    Option(
        "adjuster",
        "Isolated and locked, air vented, proved: set the spring adjuster to the nameplate, only as its maker says",
    ),
    Option("clean", "Isolated, locked, drained and proved: take down, clean and look at plug and seat"),
    Option("tighten", "Isolated, locked, vented and proved, spring load off it: align and tighten the stem connector"),
)

MEND = Question(
    id="trouble.w5",
    kind="match",
    text="Found on {tag} and four others, {when}. What mends each? One remedy is left over.",
    variants=tuple({"tag": tag, "when": when} for tag in TAGS for when in ("this week", "last month")),
    key=lambda _: {
        "rubs": "repack",
        "drifted": "calibrate",
        "hisses": "fittings",
        "loose": "tighten",
        "scale": "clean",
    },
    places=(
        Option("rubs", "Friction four times that of the last as left"),
        Option("drifted", "Converter sends 7 % too much at every signal"),
        Option("hisses", "Converter right, actuator gauge too low"),
        Option("loose", "Actuator stem moves before valve stem"),
        Option("scale", "Both charts level at 12 % travel, sound above"),
    ),
    options=REMEDIES,
    idea="Mend the cause that was measured, and nothing else.",
    step="Only one of the five means opening the body.",
    example="A loose connector is tightened; no converter setting makes up for it.",
    why="One cause, one remedy, then stroke again: that proves it. " + safety.PACKING,
    points=2.0,
    source="common practice, no source, and the maker's instruction decides",
)

QUESTIONS = (DIAGNOSE, FRICTION, SHIFT, TABLE, MEND)
