"""Live picture: the forces on the stem of an air-to-close valve, and whether its supply shuts it."""

from __future__ import annotations

from typing import Any

from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.live.drive import force_chain
from lessons.pictures.live.drive.bench_set_ends import drop_when_open
from lessons.pictures.live.drive.stem_force_chain import WANTED
from lessons.refinery import drive_of
from lessons.units.quantities import to_base
from valvecalc.actuator import actuator_from_bench_set
from valvecalc.force_balance import stem_forces, travel_at
from valvecalc.plug_forces import circle_area, seat_force

TAG = "FV-2107"
REACH = (-17500.0, 7000.0)  # N, beyond what the sliders can make
ALT = (
    f"Sketch of {TAG}, an air-to-close valve with full air supply, and beside it the forces on its stem as"
    " arrows, each starting where the last one ended: air shuts; spring, line pressure and friction hold "
    "it open. The end of the chain shows whether the plug stays off its seat, rests on it too lightly, or"
    " is pressed hard enough."
)


def air_to_close(units: str = "si") -> MovingPicture:
    """Return the second live picture of lesson 08; sliders for line pressure, air supply and friction."""
    drive = drive_of(TAG)
    bench = (to_base(drive.area), to_base(drive.bench_low), to_base(drive.bench_high), to_base(drive.travel))
    actuator, port = actuator_from_bench_set("direct", *bench), to_base(drive.port)
    wanted = float(seat_force(port, to_base(WANTED)))
    figure, force_axis = force_chain.draw_chain(("air", "spring", "fluid", "friction"), REACH, wanted, "direct")

    def move(dp: float, supply: float, friction: float, units: str) -> dict[str, Any]:
        fluid = dp * float(circle_area(port))
        now = stem_forces(actuator, 0.0, supply, fluid, friction, "closing")
        hangs = float(travel_at(actuator, supply, fluid, fluid * drop_when_open(TAG), friction, "closing"))
        chain = {name: float(getattr(now, name)) for name in ("air", "spring", "fluid", "friction")}
        rim = wanted / to_base(WANTED)
        return {
            **force_axis(units),
            **force_chain.chain(chain, REACH, units),
            **force_chain.sketch(hangs, dp, "direct"),
            "verdict": force_chain.verdict(float(now.total), wanted, rim, hangs, units),
        }

    sliders = (
        Slider("dp", "pressure under the shut plug, less that above", 0.0, 10e5, 0.5e5, 6.5e5, "bar"),
        Slider("supply", "air supply", 1.0e5, 2.4e5, 0.05e5, 1.4e5, "bar"),
        Slider("friction", "packing friction", 0.0, 600.0, 25.0, 300.0, "N"),
    )
    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)
