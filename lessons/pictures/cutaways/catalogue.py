"""Every cut-away by name: what the lessons show, and the part lists that matching questions are made of."""

from __future__ import annotations

from lessons.pictures.cutaways import family
from lessons.pictures.cutaways.actuators import actuators, piston, positioner, voting, whole
from lessons.pictures.cutaways.air.air_pictures import AIR_PICTURES
from lessons.pictures.cutaways.bodies import (
    angle,
    butterfly,
    cage,
    double_offset,
    double_seated,
    eccentric_plug,
    full_bore_ball,
    globe,
    low_noise_cage,
    segmented_ball,
    three_way,
    weir,
)
from lessons.pictures.cutaways.line.line_pictures import LINE_PICTURES
from lessons.pictures.cutaways.picture import Cutaway
from lessons.pictures.cutaways.trim.trim_pictures import TRIM_PICTURES

_PLUG = (("plug", "seat-left"), ("plug", "seat-right"))
_UPPER = (("plug", "seat-upper-left"), ("plug", "seat-upper-right"))
_LOWER = (("plug", "seat-lower-left"), ("plug", "seat-lower-right"))

PICTURES: dict[str, Cutaway] = {
    "control_valve": Cutaway(
        "A control valve from flange to air connection",
        "Cut through a whole control valve. Below, a globe body with plug and seat ring; in the middle "
        "the bonnet and the yoke with stem connector; on top an actuator whose diaphragm is pushed up by "
        "air against a spring.",
        whole.CONTROL_VALVE,
        _PLUG,
    ),
    "globe_single": Cutaway(
        "Globe valve, single-seated",
        "Cut through a single-seated globe body. The fluid comes in from the left, goes down below the "
        "web, up through the seat ring round the plug, and out to the right; the stem leaves the bonnet "
        "through packing rings.",
        globe.GLOBE_SINGLE,
        _PLUG,
    ),
    "globe_double": Cutaway(
        "Globe valve, double-seated",
        "Cut through a double-seated globe body. The fluid comes in between two webs and leaves through "
        "the upper seat ring and the lower seat ring at once; upper plug and lower plug are one piece, "
        "guided at the top and in the bottom flange.",
        double_seated.GLOBE_DOUBLE,
        (*_UPPER, *_LOWER),
    ),
    "cage_unbalanced": Cutaway(
        "Cage-guided globe valve, unbalanced",
        "Cut through a cage-guided globe body. A closed plug slides in a cage that stands on the seat "
        "ring; the fluid comes up through the seat ring and out through each cage window that the plug "
        "has uncovered.",
        cage.CAGE_UNBALANCED,
        _PLUG,
    ),
    "cage_balanced": Cutaway(
        "Cage-guided globe valve, balanced",
        "Cut through a cage-guided globe body with a balanced plug. Each balance hole leads the pressure "
        "from below the plug to the room above it, and a plug seal at the top keeps it from leaking past "
        "the cage.",
        cage.CAGE_BALANCED,
        _PLUG,
    ),
    "low_noise_cage": Cutaway(
        "Cage-guided globe valve with a drilled cage",
        "Cut through a cage-guided globe body with a balanced plug. In place of a few windows the drilled cage has "
        "many rows of small holes; out of each drilled hole that the plug has uncovered goes a small jet.",
        low_noise_cage.LOW_NOISE_CAGE,
        _PLUG,
    ),
    "angle": Cutaway(
        "Angle valve",
        "Cut through an angle body. The fluid comes in at the inlet flange on the left, turns, goes down "
        "round the plug through the seat ring and leaves by the outlet flange at the bottom.",
        angle.ANGLE,
        _PLUG,
    ),
    "three_way_mixing": Cutaway(
        "Three-way valve, mixing",
        "Cut through a three-way mixing body. One plug stands between an upper seat ring that throttles "
        "inlet A and a lower seat ring that throttles inlet B; both streams leave together by outlet AB "
        "on the right.",
        three_way.MIXING,
        _LOWER,
        _UPPER,
    ),
    "three_way_diverting": Cutaway(
        "Three-way valve, diverting",
        "Cut through a three-way diverting body. The stream comes in by inlet AB on the left between two "
        "seat rings; the upper plug throttles what goes to outlet A, the lower plug what goes to outlet "
        "B.",
        three_way.DIVERTING,
        _UPPER,
        _LOWER,
    ),
    "butterfly": Cutaway(
        "Butterfly valve",
        "A lined butterfly valve between pipe flanges, seen along the pipe and cut along it. The disc "
        "turns with its shaft in the liner: across the pipe it is closed, along the pipe it is open.",
        butterfly.BUTTERFLY,
        (("disc", "seat-top"), ("disc", "seat-bottom")),
    ),
    "double_offset_butterfly": Cutaway(
        "Butterfly valve, double-offset",
        "A double-offset butterfly valve between pipe flanges, seen along the pipe and cut along it. The shaft stands "
        "behind the seat ring and beside the pipe's axis. So the disc leaves the seat ring all round at once.",
        double_offset.DOUBLE_OFFSET,
        (("disc", "seat-top"), ("disc", "seat-bottom")),
    ),
    "full_bore_ball": Cutaway(
        "Full-bore ball valve",
        "A full-bore ball valve, seen along the pipe and cut along it. The ball turns between two seat rings; across "
        "the pipe its bore is shut off, and along the pipe it is as wide as the pipe itself.",
        full_bore_ball.FULL_BORE_BALL,
    ),
    "segmented_ball": Cutaway(
        "Segmented ball valve with V-notch",
        "A segmented ball valve, seen along the pipe and cut along it. The ball segment turns up past the "
        "seat ring, and its V-notch frees a small triangle first and then more and more of the bore.",
        segmented_ball.SEGMENTED_BALL,
        (("ball", "seat-bottom"),),
    ),
    "eccentric_plug": Cutaway(
        "Eccentric rotary plug valve",
        "An eccentric rotary plug valve, seen along the pipe and cut along it. The plug sits on a plug "
        "arm whose shaft lies beside the pipe's axis, so that it lifts off the seat ring at once and then "
        "swings out of the way.",
        eccentric_plug.ECCENTRIC_PLUG,
        (("plug", "seat-top"), ("plug", "seat-bottom")),
    ),
    "weir_diaphragm": Cutaway(
        "Weir diaphragm valve",
        "Cut through a diaphragm valve. The compressor on the stem presses a rubber valve diaphragm down "
        "on the weir, a sill across the body; lifted, the diaphragm forms a dome and the fluid passes "
        "over the weir.",
        weir.WEIR,
        (("diaphragm", "weir"),),
    ),
    "actuator_direct": Cutaway(
        "Spring-and-diaphragm actuator, direct: air pushes down",
        "Cut through a direct actuator. Air above the diaphragm pushes diaphragm plate and actuator stem "
        "down; the spring in the barrel below pushes them up again.",
        actuators.DIRECT,
    ),
    "actuator_reverse": Cutaway(
        "Spring-and-diaphragm actuator, reverse: air pushes up",
        "Cut through a reverse actuator. Air below the diaphragm pushes diaphragm plate and actuator stem "
        "up against a spring in the can on top; a stem seal keeps the air in.",
        actuators.REVERSE,
    ),
    "actuator_piston": Cutaway(
        "Piston actuator, double-acting",
        "Cut through a piston actuator. A piston with piston seal slides in a cylinder; air from the "
        "lower air connection pushes it up, air from the upper air connection pushes it down, and there "
        "is no spring.",
        piston.PISTON,
    ),
    "positioner": Cutaway(
        "Positioner with feedback linkage",
        "An opened pneumatic positioner beside a valve stem. The signal bellows pushes a beam down, the "
        "feedback spring pushes it up; a pin on the stem turns the feedback lever with the cam, whose cam "
        "follower presses the spring.",
        positioner.POSITIONER,
    ),
    "solenoid_voting": Cutaway(
        "Solenoids that vote, as blocks",
        "Block diagram of four arrangements: one out of one is a block A between two points; one out of two has A and "
        "B on ways side by side. Two out of two has A and B in a row on one way; two out of three has three ways, with "
        "A and B, A and C, B and C. Blocks that have vented are tinted.",
        voting.SOLENOID_VOTING,
        slides="solenoids vented, from none to all",
        starts=0.0,
    ),
    "body_styles": Cutaway(
        "Body styles of one line size, to the same scale",
        "Eleven bodies for a 2 in (DN 50) pipe drawn to one scale: single-seated globe, double-seated "
        "globe, cage-guided globe, angle body, three-way body, weir diaphragm body, full-bore ball, segmented ball, "
        "eccentric plug, butterfly and double-offset butterfly, the last five by far the smallest.",
        family.FAMILY,
    ),
    **AIR_PICTURES,
    **LINE_PICTURES,
    **TRIM_PICTURES,
}
