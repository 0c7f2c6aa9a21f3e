"""What each valve of Ostrel Point is made of: what its data sheet and its plate say besides size, trim and spring.

`tests/plant/test_refinery_build.py` holds class and material against the pressure and temperature of the line.
"""

from __future__ import annotations

from dataclasses import dataclass

from lessons.units.quantities import Q


@dataclass(frozen=True)
class Build:
    """Body metal and class, the most its line can bring, ends, packing, bonnet, and the leakage class it is bought to.

    `material` and `pressure_class` are those of `valvecalc.rating`; `design` is the highest pressure (gauge) and the
    highest temperature of the line, as the sheet states them.
    """

    material: str
    pressure_class: str
    design: tuple[Q, Q]
    ends: str
    packing: str
    bonnet: str
    leakage_class: str


def _build(
    pressure_class: str,
    bar: float,
    celsius: float,
    packing: str = "PTFE",
    *,
    material: str = "carbon steel",
    ends: str = "flanged, raised face",
    bonnet: str = "standard",
    leakage_class: str = "IV",
) -> Build:
    return Build(material, pressure_class, (Q(bar, "bar"), Q(celsius, "°C")), ends, packing, bonnet, leakage_class)


BUILDS = {
    "FV-2107": _build("150", 12, 80),
    "LV-2112": _build("150", 9, 120),
    "TV-3301": _build("150", 8, 60, ends="between pipe flanges", leakage_class="II"),
    "TV-3318": _build("150", 8, 120, leakage_class="II"),
    "LV-3340": _build("150", 9, 50),
    "PV-4015": _build("150", 12, 80),
    "FV-1204": _build("300", 16, 150, material="316 stainless steel"),
    "PV-5102": _build("150", 6, 80),
    "XV-5104": _build("150", 6, 80),
    "PV-7110": _build("150", 10, 200, "graphite"),
    "FV-6204": _build("300", 28, 90),
    "LV-6120": _build("150", 10, 180),
    "FV-2135": _build("300", 12, 320, bonnet="extended"),
}

# How fluid and heat get to the packing of FV-2135: an extended bonnet of the usual size for its kind. The heat it gives
# to still air, by touch and by radiation together, and the lengths are own choices.
NECK_LENGTH, NECK_DIAMETER, NECK_METAL = Q(250, "mm"), Q(60, "mm"), Q(2500, "mm²")
CONDUCTIVITY, HEAT_TO_AIR, SHADE = 45.0, 12.0, Q(30, "°C")  # W/(m·K) carbon steel, W/(m²·K)
PTFE_LIMIT = Q(232, "°C")  # TM 5-810-15, table 8-3: 450 °F
