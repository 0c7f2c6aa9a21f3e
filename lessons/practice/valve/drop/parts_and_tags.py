"""Lesson 01, the names: parts of a control valve and what they do, tags, and the chain of a control loop."""

from __future__ import annotations

from typing import Any

from lessons.pictures.cutaways.words import WORDS
from lessons.practice import drawn_parts
from lessons.questions.question import Mistake, Option, Question

PARTS_ASKED = (
    "actuator stem, plug, yoke, seat ring, stem connector",
    "spring, diaphragm, stem, bonnet, body",
    "air connection, vent, yoke, plug, packing flange",
    "diaphragm, actuator stem, travel pointer, bonnet, seat ring",
    "spring, air connection, stem connector, packing flange, plug",
    "diaphragm, spring, yoke, body, travel scale",
    "vent, diaphragm plate, stem, bonnet, seat ring",
    "spring adjuster, diaphragm, stem connector, plug, body",
    "spring, actuator stem, packing flange, bonnet, seat ring",
    "air connection, diaphragm plate, yoke, stem, plug",
    "spring, diaphragm, travel pointer, packing flange, body",
    "vent, air connection, stem connector, bonnet, plug",
)

PARTS = Question(
    id="drop.parts",
    kind="match",
    text="What are the numbered parts called?",
    variants=tuple(
        drawn_parts.variant("control_valve", asked, spare, travel)
        for (asked, spare), travel in zip(
            drawn_parts.combinations_of(PARTS_ASKED, "packing flange, seat ring, yoke, stem, body"),
            (0.5, 0.2, 0.8) * 4,
            strict=True,
        )
    ),
    key=drawn_parts.key,
    places=drawn_parts.part_numbers(5),
    options=drawn_parts.part_options(5, 2),
    figure=drawn_parts.figure,
    alt="Cut through a whole control valve, body at the bottom and actuator on top, with five numbers.",
    idea="Go down from the top: air and spring, the stem that carries their force, and in the body plug and seat ring.",
    step="Look for the part of the same shape in the lesson's drawing and read its name there.",
    example="In the lesson's drawing the coil is the spring, the frame is the yoke, the cone at the bottom the plug.",
    why="From now on you can say what you mean on the radio.",
    source="names of parts: common practice, no source",
)

JOBS_ASKED = (
    "spring, stem, plug, yoke",
    "diaphragm, stem connector, seat ring, bonnet",
    "air connection, yoke, plug, body",
    "spring, diaphragm plate, bonnet, seat ring",
    "vent, actuator stem, stem, plug",
    "diaphragm, yoke, bonnet, plug",
    "spring adjuster, stem connector, stem, seat ring",
    "spring, travel scale, plug, body",
    "diaphragm, travel pointer, seat ring, yoke",
    "air connection, spring, stem connector, plug",
    "vent, diaphragm, stem, body",
    "spring, actuator stem, bonnet, plug",
)

JOBS = Question(
    id="drop.jobs",
    kind="match",
    text="What does each part do? Find it in the drawing first.",
    variants=tuple(
        {f"name{k}": name for k, name in enumerate(names, start=1)}
        | {f"does{k}": WORDS[name] for k, name in enumerate(names, start=1)}
        for asked, spare in drawn_parts.combinations_of(JOBS_ASKED, "seat ring, spring, body, yoke, plug")
        for names in [drawn_parts.split(f"{asked}, {spare}")]
    ),
    key=lambda _n: {f"{k}": f"does{k}" for k in range(1, 5)},
    places=tuple(Option(f"{k}", f"{{name{k}}}") for k in range(1, 5)),
    options=tuple(Option(f"does{k}", f"{{does{k}}}") for k in range(1, 7)),
    idea="Look at each part: does it make force, carry it, hold things together, or meet the flow?",
    step="Actuator parts make the force, stems carry it, yoke and bonnet hold, plug and seat ring meet the flow.",
    example="The spring pushes against the air; the yoke only holds the actuator up.",
    why="Who knows what a part is for can tell what goes wrong when it fails.",
    source="common practice, no source",
)

MEASURED = {"F": "flow", "L": "level", "P": "pressure", "T": "temperature"}
DOES = {
    "T": "measures the {what} and sends it on",
    "I": "only shows the {what}",
    "IC": "shows the {what} and controls it",
    "V": "is the valve that acts on the {what}",
}


def _says(tag: str) -> str:
    """Return what a tag's letters stand for.

    >>> _says("LIC-2112")
    'shows the level and controls it'
    """
    letters = tag.partition("-")[0]
    return DOES[letters[1:]].format(what=MEASURED[letters[0]])


def tag_variants(*lists: str) -> tuple[dict[str, Any], ...]:
    """Return variants of four tags to be read and two more meanings."""
    tags = [text.split() for text in lists]
    return tuple(
        {f"tag{k}": tag for k, tag in enumerate(row, start=1)}
        | {f"says{k}": _says(tag) for k, tag in enumerate(row, start=1)}
        for row in tags
    )


TAGS = Question(
    id="drop.tags",
    kind="match",
    text="Four tags on a drawing: {tag1}, {tag2}, {tag3} and {tag4}. Which does what?",
    variants=tag_variants(
        "FT-2107 FIC-2107 LV-2112 PI-4015 FV-2107 LT-2112",
        "LT-2112 LIC-2112 TV-3301 FI-1204 LV-2112 TI-3301",
        "PT-4015 PV-4015 FIC-6204 TI-3301 PIC-4015 FV-6204",
        "TT-3301 TIC-3301 FV-1204 LI-2112 TV-3301 FT-1204",
        "FT-1204 FV-1204 PIC-5102 TT-3301 TI-3301 PV-5102",
        "LIC-2112 FI-2107 PV-5102 TT-3301 FV-2107 PT-5102",
        "PIC-4015 LV-2112 FT-6204 TI-3301 FI-6204 LT-2112",
        "TV-3301 FIC-2107 LI-2112 PT-4015 PI-4015 LIC-2112",
        "FV-6204 FT-6204 PI-5102 LIC-2112 PT-5102 LV-2112",
        "LT-2112 TIC-3301 PV-4015 FI-1204 FT-1204 TV-3301",
        "PT-5102 PIC-5102 TV-3301 LI-2112 LV-2112 PI-5102",
        "TI-3301 FV-2107 LIC-2112 PT-4015 TT-3301 PV-4015",
    ),
    key=lambda _n: {f"{k}": f"says{k}" for k in range(1, 5)},
    places=tuple(Option(f"{k}", f"{{tag{k}}}") for k in range(1, 5)),
    options=tuple(Option(f"says{k}", f"{{says{k}}}") for k in range(1, 7)),
    idea="First letter: what is measured. The letters after it: what the instrument does.",
    step="F flow, L level, P pressure, T temperature. Then T transmitter, I indicator, C controller, V valve.",
    example="TIC: temperature, indicates, controls. TT: temperature, transmits.",
    why="All instruments of one loop share its number.",
    source="ISA-5.1, identification letters, from memory",
)

CHAIN_ORDER = ("drifts", "measures", "compares", "air", "stem", "area", "settles")
CHAIN = Question(
    id="drop.chain",
    kind="order",
    text="Loop {loop}, {hour}: something upsets the {what}. Put in order what happens, the first thing first.",
    variants=tuple(
        {
            "loop": loop,
            "hour": hour,
            "what": MEASURED[loop[0]],
            "t": f"{loop[0]}T-{loop[2:]}",
            "c": f"{loop[0]}IC-{loop[2:]}",
            "v": f"{loop[0]}V-{loop[2:]}",
        }
        for loop in ("F-2107", "L-2112", "T-3301", "P-4015", "F-1204", "F-6204")
        for hour in ("at six in the morning", "late at night")
    ),
    key=lambda _n: CHAIN_ORDER,
    options=(
        Option("drifts", "The {what} drifts away from its set point"),
        Option("measures", "{t} measures the change and sends it on"),
        Option("compares", "{c} compares it with the set point and changes its output"),
        Option("air", "The air pressure in the actuator of {v} changes"),
        Option("stem", "Air and spring move the stem, and the stem moves the plug"),
        Option("area", "The room between plug and seat ring changes, and with it the pressure drop"),
        Option("settles", "The flow changes and brings the {what} back"),
    ),
    mistakes=(
        Mistake(
            "valve_before_controller",
            lambda _n: ("drifts", "measures", "air", "compares", "stem", "area", "settles"),
            "The actuator gets its air because the controller has changed its output, not before it.",
        ),
        Mistake(
            "area_before_stem",
            lambda _n: ("drifts", "measures", "compares", "air", "area", "stem", "settles"),
            "The room in the seat ring changes because the plug moves; so the stem comes first.",
        ),
    ),
    idea="Somebody must notice first, then somebody decides, and only then something moves.",
    step="Transmitter {t}, controller {c}, actuator, stem, plug and seat ring, and last the flow.",
    example="A driver sees the speed fall, decides, presses the pedal; the engine answers last.",
    why="When a loop misbehaves, you walk down this chain.",
    source="order of cause and effect in a control loop: common practice, no source",
)
