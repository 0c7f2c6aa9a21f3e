"""Packing rings and gland load."""

from __future__ import annotations

import re
from types import SimpleNamespace
from typing import Any

import numpy as np

from lessons.card_page.actuator_fields import area_field
from lessons.card_page.card import BadInputError, Card, CardAnswer, Field
from lessons.card_page.card_charts import chart, curve, upto
from lessons.pictures.verdicts import PLAIN
from lessons.questions import read_number
from lessons.questions.read_number import Unreadable
from lessons.refinery import VALVES, drive_of
from lessons.safety import HANDS, PACKING, TEST_AIR
from lessons.units.quantities import plain_number, rounded_to, to_base
from lessons.units.readout import counted, to_digits
from valvecalc.bolting import bolt_load, bolt_torque
from valvecalc.packing import dead_band_pressure, packing_friction
from valvecalc.plug_forces import circle_area
from valvecalc.units import INCH

VALVE = VALVES["FV-1204"]
DRIVE = drive_of(VALVE.tag)
FRICTION = {"ptfe": 0.05, "graphite": 0.10}  # of PTFE and graphite on polished steel, from memory
LIMITS = {"ptfe": "about 232 °C (450 °F)", "graphite": "about 538 °C (1000 °F), higher only without air"}
MATERIALS = {"ptfe": "PTFE rings", "graphite": "graphite rings"}  # cut or die-formed; V-rings work otherwise
# Plain steel, dry: NASA RP-1228, from memory, not read. Lubricant and wear change it by a third and more.
K_FACTOR = 0.2
SCATTER = 0.3  # of the load a torque gives, either way: from memory
STUD_FORM = re.compile(
    r"\s*(?P<count>\d{1,2})\s*+(?:studs?|bolts?|nuts?)?\s*+(?:[x×*]|of|,|;|(?=m))\s*+(?P<metric>m)?\s*+(?P<size>\S.*)",
    re.I,
)


def read_studs(text: str, _units: str) -> tuple[int, float] | Unreadable:
    """Read how many studs there are and how thick: 2 × M10, or 4 x 3/8 in; M stands for mm.

    >>> read_studs("2 x M10", "si"), read_studs("4 × 1/2 in", "us")
    ((2, 0.01), (4, 0.0127))
    """
    found = STUD_FORM.fullmatch(text)
    if not found:
        return Unreadable("Type how many studs and their size, such as 2 × M10 or 2 × 3/8 in.")
    unit = "mm" if found["metric"] else "in" if re.search(r'["”″/]', found["size"]) else "mm"
    size = read_number.number(found["size"], unit)
    if isinstance(size, Unreadable):
        return Unreadable(size.reason.replace("his question", "his field"))
    count, diameter = int(found["count"]), round(to_base(size), 9)
    if not (1 <= count <= 16 and 0.004 <= diameter <= 0.06):
        return Unreadable("This card takes 1 to 16 studs of 4 to 60 mm (5/32 to 2 3/8 in).")
    return count, diameter


def write_studs(studs: tuple[int, float], units: str) -> str:
    """Write the studs as they are read."""
    return (
        f"{studs[0]} × {plain_number(rounded_to(studs[1] * 1000, 4))} mm"
        if units == "si"
        else (f"{studs[0]} × {plain_number(rounded_to(studs[1] / INCH, 4))} in")
    )


def _ring_area(stem: float, height: float) -> float:
    """Return the face of a ring that is as wide as high."""
    return float(circle_area(stem + 2 * height) - circle_area(stem))


def _from_torque(torque: float, before: SimpleNamespace) -> float:
    """Return the gland stress that a torque on each nut gives."""
    if not all(hasattr(before, name) for name in ("stem", "height", "studs")):
        raise BadInputError("stress", "Correct stem, rings and studs first; the torque is counted with them.")
    count, diameter = before.studs
    return float(count * bolt_load(torque, diameter, K_FACTOR) / _ring_area(before.stem, before.height))


FIELDS = (
    Field("material", "packing", default="ptfe", choices=MATERIALS),
    Field("stem", "stem diameter", "mm", 0.012, high=0.15, above=True),
    Field("rings", "number of rings", "", 5.0, low=1.0, high=20.0, step=1.0),
    Field("height", "height of one ring", "mm", 0.006, high=0.05, above=True),
    Field("studs", "packing studs", default=(2, 0.010), read=read_studs, write=write_studs),
    Field(
        "stress",
        "gland stress, or the torque on each nut (type its unit: N·m, ft·lbf)",
        "MPa",
        10e6,
        high=200e6,
        above=True,
        also=dict.fromkeys(("N·m", "ft·lbf"), _from_torque),
    ),
    area_field(DRIVE),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return friction, dead band, the load of the gland and the torque that gives it."""
    friction = float(packing_friction(n.stem, n.rings, n.height, n.stress, FRICTION[n.material]))
    ring_area = _ring_area(n.stem, n.height)
    count, diameter = n.studs
    stud = n.stress * ring_area / count
    return SimpleNamespace(
        friction=friction,
        band=float(dead_band_pressure(friction, n.area)),
        bore=n.stem + 2 * n.height,
        ring_area=ring_area,
        gland=n.stress * ring_area,
        stud=stud,
        torque=float(bolt_torque(stud, diameter, K_FACTOR)),
    )


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say the load on the gland and the friction it costs."""
    count, diameter = n.studs
    rows = (
        (
            f"torque on each nut, {counted(count, 'stud')}, plain and dry (K = {K_FACTOR:g})",
            to_digits(r.torque, "N·m", units),
        ),
        ("gland stress; a torque gives it", f"{to_digits(n.stress, 'MPa', units)}; ±{to_digits(SCATTER, '%')}"),
        ("load on each stud", to_digits(r.stud, "N", units)),
        ("packing friction on the stem", to_digits(r.friction, "N", units)),
        ("dead band it makes, as air pressure", to_digits(r.band, "bar", units)),
        ("rings to measure: as wide as high, box bore", to_digits(r.bore, "mm", units)),
        (f"{MATERIALS[n.material]} stand up to", LIMITS[n.material]),
    )
    height, stress = to_digits(n.rings * n.height, "mm", units), to_digits(n.stress, "MPa", units)
    formula = (
        f"gland load = stress · π/4 · (bore² − stem²) = {stress} · {to_digits(r.ring_area, 'mm²', units)} = "
        f"{to_digits(r.gland, 'N', units)}",
        f"friction = π · stem · height of all rings · stress · μ · 0.5 = π · "
        f"{to_digits(n.stem, 'mm', units)} · {height} · {stress} · "
        f"{FRICTION[n.material]:g} · 0.5 = {to_digits(r.friction, 'N', units)}",
        f"torque = K · load / studs · diameter = {K_FACTOR:g} · {to_digits(r.gland, 'N', units)} / {count} · "
        f"{to_digits(diameter, 'mm', units)} = {to_digits(r.torque, 'N·m', units)}",
        f"dead band = 2 · friction / area = {to_digits(r.band, 'bar', units)}",
    )
    return CardAnswer(
        f"Gland load {to_digits(r.gland, 'N', units)}, about {to_digits(r.torque, 'N·m', units, 2)} a nut, "
        f"friction {to_digits(r.friction, 'N', units)}",
        PLAIN,
        rows,
        formula,
    )


def _picture() -> tuple[Any, Any]:
    """Draw the friction over the gland stress for both materials."""
    figure, place = chart(("gland stress in the packing", "MPa"), ("packing friction", "N"), MATERIALS, marks=("now",))

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        spans = upto(1.6 * n.stress), upto(1.6 * r.friction)
        x = np.array([0.0, spans[0][1]])
        # Friction goes straight up with stress, so two points make each line.
        paths = {
            name: curve(x, x / n.stress * r.friction * FRICTION[name] / FRICTION[n.material]) for name in MATERIALS
        }
        moved: dict[str, Any] = place(spans, units, paths, {"now": (n.stress, r.friction)})
        return moved

    return figure, move


CARD = Card(
    name="packing",
    title="Packing rings and gland load",
    group="It sticks, jumps or hunts",
    symptom=(
        "The stem leaks or sticks after packing: how many rings, how hard to pull the gland, what "
        "friction does it cost?"
    ),
    words=(
        "packing ring gland follower stem leak weeps tight friction PTFE graphite stud nut torque fugitive "
        "emission V-ring chevron die-formed live loading disc spring reload repack cord sticky stuck drips "
        "drip weeping stuffing box seized frozen nuts bolts rings pack box stiff"
    ),
    start=f"FV-1204, {VALVE.service}; rings invented",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt="Packing friction over gland stress for PTFE and graphite rings, with the present stress marked.",
    source=(
        "Friction: F = π d H σ μ Y with Y = 0.5, ASME/NRC pump and valve symposium paper PVS2017-3518 "
        "(abstract). Coefficients 0.05 and 0.10: from memory. Temperatures: US Army TM 5-810-15, "
        "table 8-3. Torque: T = K F d, NASA RP-1228, from memory, not read; its scatter: from memory."
    ),
    changes=(
        "The right stress: it is the packing maker's, and no standard gives it.",
        "The friction coefficient: dry, worn or cold packing can be twice as bad, and break-out is higher.",
        "V-rings: a spring and the fluid press them, not the nuts; this formula is not for them. The nuts only bring "
        "the follower down on its stop.",
        "Live loading: disc springs hold the load. Set them to the height on the maker's sheet: to reload is to bring "
        "them back to it, to repack is a whole new set.",
        "A lantern ring or a bushing instead of rings: count the rings that press on the stem.",
        "Rings wider than high: measure stem and bore.",
        "Torque is not load: grease can halve the K of 0.2, and the same torque then gives twice the load.",
    ),
    cautions=(
        PACKING,
        "Pull the nuts evenly, a flat at a time, and see that the follower stays level.",
        f"To stroke it in between takes air. {TEST_AIR}",
        HANDS,
        "Old packing can contain asbestos: ask before you dig it out.",
    ),
    lesson="09_packing_friction_hunting",
)
