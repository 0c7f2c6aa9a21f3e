"""Live picture: forces on the stem of an air-to-open valve without air, and whether its spring shuts it."""

from __future__ import annotations

from typing import Any

from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.live.drive import force_chain
from lessons.pictures.live.drive.bench_set_ends import drop_when_open
from lessons.refinery import drive_of
from lessons.units.quantities import Q, to_base
from valvecalc.actuator import actuator_from_bench_set
from valvecalc.force_balance import stem_forces, travel_at
from valvecalc.plug_forces import circle_area, seat_force

TAG = "FV-6204"
WANTED = Q(7, "N/mm")  # of rim; from memory, common practice, no source: no open standard fixes it
REACH = (-4900.0, 3300.0)  # N, beyond what the sliders can make
ALT = (
    f"Sketch of {TAG}, an air-to-open valve without air, and beside it the forces on its stem as arrows, "
    "each starting where the last one ended: the spring shuts, line pressure under the plug and packing "
    "friction hold it open. The end of the chain shows whether the plug stays off its seat, rests on it "
    "too lightly, or is pressed hard enough."
)


def stem_force_chain(units: str = "si") -> MovingPicture:
    """Return the live picture of lesson 08; sliders for line pressure, bench start and friction."""
    drive = drive_of(TAG)
    area, stroke, port = to_base(drive.area), to_base(drive.travel), to_base(drive.port)
    span = to_base(drive.bench_high) - to_base(drive.bench_low)
    wanted = float(seat_force(port, to_base(WANTED)))
    figure, force_axis = force_chain.draw_chain(("spring", "fluid", "friction"), REACH, wanted, "reverse")

    def move(dp: float, start: float, friction: float, units: str) -> dict[str, Any]:
        actuator = actuator_from_bench_set("reverse", area, start, start + span, stroke)
        fluid = dp * float(circle_area(port))
        now = stem_forces(actuator, 0.0, 0.0, fluid, friction, "closing")
        hangs = float(travel_at(actuator, 0.0, fluid, fluid * drop_when_open(TAG), friction, "closing"))
        chain = {name: float(getattr(now, name)) for name in ("spring", "fluid", "friction")}
        rim = wanted / to_base(WANTED)
        return {
            **force_axis(units),
            **force_chain.chain(chain, REACH, units),
            **force_chain.sketch(hangs, dp, "reverse"),
            "verdict": force_chain.verdict(float(now.total), wanted, rim, hangs, units),
        }

    sliders = (
        Slider("dp", "pressure under the shut plug, less that above", -5e5, 15e5, 0.5e5, 0.0, "bar"),
        Slider("start", "bench start", 0.0, 0.8e5, 0.02e5, 0.2e5, "bar"),
        Slider("friction", "packing friction", 0.0, 600.0, 25.0, 200.0, "N"),
    )
    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)
