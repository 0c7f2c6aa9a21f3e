"""Lesson 02, the drawings: which body is which, and what its parts are called."""

from __future__ import annotations

from lessons.practice import drawn_parts
from lessons.questions.question import Option, Question

PREDICT = Question(
    id="bodies.predict",
    kind="predict",
    text="The valve from the first crate has two plugs on one stem, and two seat rings. What is the second "
    "one good for?",
    variants=({},),
    options=(
        Option("tight", "It shuts twice as tight"),
        Option("balance", "The fluid pushes one plug up and the other down, so the stem has less to carry"),
        Option("spare", "It is a spare: if one wears out, the other still works"),
    ),
    why="Now open the valve and see from which side the fluid meets each plug.",
)

DOUBLE = Question(
    id="bodies.double",
    kind="match",
    text="A double-seated valve. What are the numbered parts called?",
    variants=tuple(
        drawn_parts.variant("globe_double", asked, spare, travel)
        for (asked, spare), travel in zip(
            drawn_parts.combinations_of(
                (
                    "upper plug, lower plug, upper seat ring, lower seat ring, bonnet",
                    "upper plug, lower seat ring, guide bushing, bottom flange, stem",
                    "lower plug, upper seat ring, lower guide bushing, bonnet, yoke",
                    "packing rings, upper plug, lower plug, lower guide bushing, body",
                    "guide bushing, lower guide bushing, upper seat ring, lower plug, stem",
                    "bottom flange, body, upper plug, lower seat ring, bonnet",
                    "gasket, upper seat ring, lower seat ring, lower guide bushing, stem",
                    "packing rings, guide bushing, lower plug, bottom flange, body",
                    "upper plug, upper seat ring, bottom flange, body studs, stem",
                    "lower plug, lower seat ring, guide bushing, packing rings, yoke",
                    "upper plug, lower plug, guide bushing, bottom flange, gasket",
                    "upper seat ring, lower guide bushing, bonnet, stem, lower plug",
                ),
                "guide bushing, upper plug, bottom flange, lower seat ring, packing rings, bonnet",
            ),
            (0.5, 0.3, 0.8) * 4,
            strict=True,
        )
    ),
    key=drawn_parts.key,
    places=drawn_parts.part_numbers(5),
    options=drawn_parts.part_options(5, 2),
    figure=drawn_parts.figure,
    alt="Cut through a double-seated globe valve with five numbers.",
    idea="Upper and lower of each: plug, seat ring, bushing. The plugs move, the rings and bushings stand still.",
    step="Compare with the named drawing: rings stand in the body's walls, bushings above and below the plugs.",
    example="The cover at the bottom, held by studs, is the bottom flange; the bushing in it is the lower "
    "guide bushing.",
    why="Two of everything: that is how you know this body.",
    source="names of parts: common practice, no source",
)

MIXING = ("three_way_mixing", "inlet A, inlet B, outlet AB", "outlet A, outlet B")
DIVERTING = ("three_way_diverting", "inlet AB, outlet A, outlet B", "inlet A, inlet B")
PORTS = Question(
    id="bodies.ports",
    kind="match",
    text="A three-way valve. Does it mix or does it divert? Name its three ends, and the fourth number.",
    variants=tuple(
        drawn_parts.variant(picture, f"{ends}, {fourth}", spare, travel)
        for (picture, ends, spare), fourths in (
            (MIXING, ("upper seat ring", "lower seat ring", "plug", "guide bushing", "bonnet", "stem")),
            (DIVERTING, ("upper seat ring", "lower seat ring", "upper plug", "lower plug", "guide bushing", "stem")),
        )
        for fourth, travel in zip(fourths, (0.5, 0.4, 0.6) * 2, strict=True)
    ),
    key=drawn_parts.key,
    places=drawn_parts.part_numbers(4),
    options=drawn_parts.part_options(4, 2),
    figure=drawn_parts.figure,
    alt="Cut through a three-way valve with arrows for its streams and four numbers.",
    idea="Follow the arrows. Two in, one out: it mixes. One in, two out: it diverts.",
    step="The end that carries the whole stream has two letters, AB. A passes the upper seat ring, B the lower one.",
    example="In a mixing body A and B are inlets and AB is the outlet.",
    why="Fitted the wrong way round, a three-way valve may slam near its seats. The arrows on the body count.",
    source="names of ports A, B, AB: common practice, no source",
)

STYLES_ASKED = (
    "single-seated globe, double-seated globe, angle body, segmented ball, butterfly",
    "cage-guided globe, three-way body, weir diaphragm body, eccentric plug, butterfly",
    "double-seated globe, cage-guided globe, angle body, weir diaphragm body, segmented ball",
    "single-seated globe, angle body, three-way body, eccentric plug, butterfly",
    "double-seated globe, three-way body, weir diaphragm body, segmented ball, eccentric plug",
    "single-seated globe, cage-guided globe, weir diaphragm body, segmented ball, butterfly",
    "single-seated globe, double-seated globe, three-way body, segmented ball, eccentric plug",
    "cage-guided globe, angle body, segmented ball, eccentric plug, butterfly",
    "double-seated globe, angle body, three-way body, weir diaphragm body, butterfly",
    "single-seated globe, cage-guided globe, angle body, weir diaphragm body, eccentric plug",
    "double-seated globe, cage-guided globe, three-way body, segmented ball, butterfly",
    "single-seated globe, double-seated globe, weir diaphragm body, eccentric plug, segmented ball",
)
STYLES_SPARE = (
    "cage-guided globe, three-way body, butterfly, angle body, eccentric plug, segmented ball, weir diaphragm body"
)
STYLES = Question(
    id="bodies.styles",
    kind="match",
    text="Sort the crates: which body stands at which number?",
    variants=tuple(
        drawn_parts.variant("body_styles", asked, spare)
        for asked, spare in drawn_parts.combinations_of(STYLES_ASKED, STYLES_SPARE)
    ),
    key=drawn_parts.key,
    places=drawn_parts.part_numbers(5),
    options=drawn_parts.part_options(5, 2),
    figure=drawn_parts.figure,
    alt="Eleven valve bodies of one line size, drawn to one scale; five of them have a number.",
    idea="Count the pipe ends and the seats, then look at what closes: plug, disc, piece of a ball, or rubber sheet.",
    step="Three ends: three-way. Two plugs: double-seated. A sleeve round the plug: cage. A sill with rubber: weir.",
    example="Two ends at a right angle: angle body. A disc in a short ring: butterfly.",
    why="All eleven are for the same pipe. See how little room the rotary ones need.",
    source="names of bodies: common practice, no source",
)

ROTARY = Question(
    id="bodies.rotary",
    kind="match",
    text="A rotary valve. What are the numbered parts called?",
    variants=tuple(
        drawn_parts.variant(picture, asked, spare, travel)
        for picture, lists, spare in (
            (
                "butterfly",
                (
                    "disc, liner, shaft, shaft bearing",
                    "hub, liner, packing rings, flange stud",
                    "disc, hub, mounting flange, shaft",
                    "liner, shaft bearing, packing follower, body",
                ),
                "ball segment, plug arm",
            ),
            (
                "segmented_ball",
                (
                    "V-notch, ball segment, seat ring, shaft",
                    "ball segment, seat retainer, shaft bearing, body",
                    "V-notch, seat ring, packing rings, mounting flange",
                    "shaft, seat retainer, V-notch, flange",
                ),
                "disc, liner",
            ),
            (
                "eccentric_plug",
                (
                    "plug, plug arm, seat ring, shaft",
                    "plug arm, seat retainer, packing rings, body",
                    "plug, shaft bearing, seat ring, mounting flange",
                    "shaft, plug arm, seat retainer, flange",
                ),
                "disc, liner",
            ),
        )
        for asked, travel in zip(lists, (0.5, 0.3, 0.7, 0.4), strict=True)
    ),
    key=drawn_parts.key,
    places=drawn_parts.part_numbers(4),
    options=drawn_parts.part_options(4, 2),
    figure=drawn_parts.figure,
    alt="A rotary valve, seen along the pipe and cut along it, with four numbers.",
    idea="What turns is fixed to the shaft; what it closes on stands still in the body.",
    step="See first which valve it is: a disc in rubber, a piece of a ball with a notch, or a plug on an arm.",
    example="In the butterfly the rubber sleeve is the liner and the thick middle of the disc the hub.",
    why="Three closing parts, one shaft: that is the family of rotary valves.",
    source="names of parts: common practice, no source",
)
