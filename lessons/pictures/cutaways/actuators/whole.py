"""The whole control valve as it stands in the line: globe body, bonnet, yoke and actuator."""

from __future__ import annotations

from lessons.pictures.cutaways.actuators import actuators
from lessons.pictures.cutaways.bodies import globe
from lessons.pictures.cutaways.labels import NamedPart, lifted_parts
from lessons.pictures.cutaways.sheet import Drawing, Shape, lifted
from lessons.pictures.cutaways.trim import bonnet

FOOT = 312.0  # [mm] where the actuator stands, above the pipe's centre line


def _fixed() -> list[Shape]:
    return [
        *globe.lower_half(),
        *bonnet.topworks(globe.JOINT, FOOT - globe.JOINT + 8, broken=False),
        *lifted(actuators.reverse_fixed(), FOOT),
    ]


def _moving(travel: float) -> list[Shape]:
    below = [s for s in globe.globe_moving(travel) if s.gid != "actuator-stem"]
    return [*below, *lifted(actuators.reverse_moving(bonnet.TRAVEL * travel), FOOT)]


CONTROL_VALVE = Drawing(
    _fixed,
    _moving,
    (
        *lifted_parts(actuators.REVERSE_PARTS, FOOT),
        NamedPart("yoke", (-64, 250)),
        *lifted_parts(bonnet.OUTSIDE, globe.JOINT),
        NamedPart("bonnet", (30, 150)),
        NamedPart("plug", (-12, 22), rides=(0, 30)),
        NamedPart("seat ring", (33, 5)),
        NamedPart("body", (-100, -32)),
    ),
    (-138, -86, 138, 522),
    0.92,
)
