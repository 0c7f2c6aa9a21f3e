"""The pictures of this room by name, as the catalogue takes them."""

from __future__ import annotations

from lessons.pictures.cutaways.air import air_set, block_diagram, converter, quick_exhaust, solenoid
from lessons.pictures.cutaways.picture import Cutaway

AIR_PICTURES: dict[str, Cutaway] = {
    "air_set": Cutaway(
        "Air set: filter and regulator in one",
        "Cut through a filter-regulator. Air from the air inlet goes down into the bowl and inwards through the filter "
        "element, then up past the supply valve to the air outlet. A setting spring above the regulator diaphragm "
        "pushes the supply valve open, the air that leaves pushes it shut.",
        air_set.AIR_SET,
        slides="air taken",
    ),
    "solenoid": Cutaway(
        "Three-way solenoid valve",
        "Cut through a three-way solenoid valve. Without current the return spring holds the plunger on the supply "
        "seat and the actuator is open to the exhaust port at the top. With current the solenoid coil lifts the "
        "plunger: the exhaust is shut and air goes through to the actuator.",
        solenoid.SOLENOID,
        slides="plunger lifted by the current",
        starts=0.0,
    ),
    "quick_exhaust": Cutaway(
        "Quick exhaust",
        "Cut through a quick exhaust. While air comes from above, the rubber disc lies on the exhaust seat and the air "
        "goes past its rim to the actuator. When the air stops, the disc lifts on to the inlet seat and the actuator "
        "empties by the wide exhaust below.",
        quick_exhaust.QUICK_EXHAUST,
        slides="disc pressed down by the air",
        starts=1.0,
    ),
    "converter": Cutaway(
        "Current-to-pressure converter",
        "An opened current-to-pressure converter. A signal coil in a magnet pulls one end of a flapper, whose other "
        "end comes nearer to a nozzle. Air reaches the nozzle through a fixed restriction, and the pilot relay passes "
        "the pressure behind the nozzle on to the output connection.",
        converter.CONVERTER,
        slides="signal",
    ),
    "block_diagram": Cutaway(
        "Blocks of a digital positioner",
        "Block diagram of a digital positioner. The signal goes from the loop terminals by the current meter to the "
        "processor, from there by a converter stage and the pilot relay as air to the actuator; a modem takes digital "
        "data off the same wires. The travel sensor and the pressure sensor report back to the processor.",
        block_diagram.BLOCK_DIAGRAM,
    ),
}
