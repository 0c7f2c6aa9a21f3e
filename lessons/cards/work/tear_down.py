"""Tear-down order with cautions."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from lessons import safety
from lessons.card_page.actuator_fields import area_field, bench_set_field, travel_field
from lessons.card_page.card import BadInputError, Card, CardAnswer, Field
from lessons.card_page.card_charts import bar_chart
from lessons.pictures.verdicts import PLAIN
from lessons.refinery import VALVES, drive_of
from lessons.units.quantities import to_base
from lessons.units.readout import to_digits
from valvecalc.actuator import ATMOSPHERE, actuator_from_bench_set, spring_energy, trapped_air_energy

VALVE = VALVES["FV-6204"]
DRIVE = drive_of(VALVE.tag)
SERVICES = {
    "water": "cold, harmless",
    "hot": "hot liquid or steam",
    "toxic": "toxic or corrosive",
    "flammable": "flammable",
    "gas": "gas under pressure",
    "clean": "oxygen or other cleaned service",
}
FIELDS = (
    Field("service", "what is in the body", default="hot", choices=SERVICES),
    area_field(DRIVE),
    bench_set_field(DRIVE),
    travel_field(DRIVE),
    Field("air", "air pressure that can be trapped", "bar", to_base(DRIVE.supply), high=15e5, pressure="gauge"),
    Field("volume", "volume it fills: actuator, tank, tubing", "L", 0.004, high=10.0, above=True),
)
EXTRA = {
    "water": "Drain the piece between the blocks; expect liquid held in body and bonnet.",
    "hot": ("Let it cool, and prove it cold. Hot condensate held in the body flashes and scalds as the bonnet opens."),
    "toxic": ("Purge and neutralise, test, and dress for it: liquid stays in body cavity, bellows and under the seat."),
    "flammable": "Purge with inert gas and test the atmosphere; earth, no sparks, gas monitor running.",
    "gas": "Vent slowly to a safe place; test the atmosphere before and while you open it.",
    "clean": "Cleaned parts and tools only, no oil or grease; keep every opening covered.",
}


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the energies held in the spring and in trapped air."""
    low, high = n.bench
    if low >= high:
        raise BadInputError("bench", "The bench set has to end above its start.")
    actuator = actuator_from_bench_set("reverse", n.area, low, high, n.travel)
    rate, preload = float(actuator.spring_rate), float(actuator.preload)
    rest = preload / rate
    return SimpleNamespace(
        rate=rate,
        preload=preload,
        rest=float(spring_energy(rate, rest)),
        full=float(spring_energy(rate, rest + n.travel)),
        air=float(trapped_air_energy(n.air, n.volume)),
        compressed=rest,
        longest=rest + n.travel,
    )


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say what is stored, and the order of work."""
    rows = (
        (
            "spring at rest, without air",
            f"{to_digits(r.rest, 'J', units)}, pushing with {to_digits(r.preload, 'N', units)}",
        ),
        ("spring with the valve stroked", to_digits(r.full, "J", units)),
        ("spring is still compressed without air by", to_digits(r.compressed, "mm", units)),
        ("for comparison: 10 kg falling 1 m", to_digits(98.1, "J", units)),
    )
    formula = (
        f"spring rate = area · span / travel = {to_digits(n.area, 'cm²', units)} · "
        f"{to_digits(n.bench[1] - n.bench[0], 'bar', units)} / "
        f"{to_digits(n.travel, 'mm', units)} = {to_digits(r.rate, 'N/mm', units)}",
        f"spring = ½ · rate · compression² = ½ · {to_digits(r.rate, 'N/mm', units)} · "
        f"({to_digits(r.longest, 'mm', units)})² = {to_digits(r.full, 'J', units)}",
        f"air = V · (P · ln(P / P_atm) − (P − P_atm)), P absolute {to_digits(n.air + ATMOSPHERE, 'bar', units)}, V "
        f"{to_digits(n.volume, 'L', units)}: {to_digits(r.air, 'J', units)}",
    )
    headline = f"Stored: spring up to {to_digits(r.full, 'J', units)}, air {to_digits(r.air, 'J', units)}"
    return CardAnswer(headline, PLAIN, rows, formula, _steps(n))


def _steps(n: SimpleNamespace) -> tuple[str, ...]:
    prepare, shut_down, isolate, lock, release, prove = (f"{step.text}." for step in safety.ISOLATION)
    return (
        prepare,
        f"{shut_down} Record the as-found stroke.",
        isolate,
        lock,
        release,
        EXTRA[n.service],
        prove,
        "Mark coupling, yoke and body; measure the stem connection; disconnect the tubing.",
        *safety.UNCOUPLE,
        f"Sling the actuator, then lift it off by its lifting points. Open it only if you must. {safety.ADJUSTER} "
        f"Prove it dead again. {safety.CASING}",
        "Bonnet: loosen nuts stepwise, far side first, still on the studs, until it is surely loose; then lift.",
        "Lift plug and stem straight, faces protected; seat ring or cage with the right tool; lay parts out in order.",
        "Packing: follower, rings (count them), lantern; do not scratch the box. Look at all parts and note as found.",
        "Back: new gaskets and packing, bolts crosswise in steps to the torque given, couple at the marked travel.",
        "Guards on, all clear and told; locks off by those who fitted them; leak and stroke test, as left; hand back.",
    )


def _picture() -> tuple[Any, Any]:
    """Draw the energies beside a fall everybody can picture."""
    figure, place = bar_chart(4, "energy", "J")

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        energies = (
            ("spring at rest", r.rest),
            ("spring, stroked", r.full),
            ("trapped air", r.air),
            ("10 kg falling 1 m", 98.1),
        )
        moved: dict[str, Any] = place(units, [(name, e, to_digits(e, "J", units)) for name, e in energies])
        return moved

    return figure, move


CARD = Card(
    name="tear_down",
    title="Tear-down order with cautions",
    group="Before you choose or open one",
    symptom="It has to come apart. What energy is stored in it, and in which order is it opened?",
    words=(
        "tear down dismantle strip open bonnet lockout tagout isolate spring energy trapped air permit repair "
        "overhaul order handwheel jack take apart remove up lock off LOTO depressurise drain"
    ),
    start=f"FV-6204, {VALVE.service}; volume invented",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt="Bars of the energy in the spring at rest and stroked, in the trapped air, and of 10 kg falling 1 m.",
    source=(
        f"Order of isolation: {safety.SOURCE}; test air: 29 CFR 1910.147(f)(1); further steps: common practice, no "
        "source. Energies, "
        "worked by hand: spring, and isothermal work of an ideal gas less its work on the atmosphere, the most the air "
        "can give."
    ),
    changes=(
        "A valve with volume tank, booster or lock-up relay holds more air, and holds it after the supply is shut.",
        "Springs in a double-spring or long-bolt actuator, a piston with air on both sides: the maker's manual "
        "has the order.",
        "The bench set as found: a screwed-in adjuster stores more.",
        "The service: what stays in body and bonnet when the line is drained.",
    ),
    cautions=(
        "Read this before the permit, not instead of it: the maker's manual and the site's procedure come first.",
        "Stand aside of the stem, the adjuster and the bonnet nuts while anything is loosened.",
        safety.TRAPPED,
        safety.HANDS,
    ),
    lesson="12_take_down_and_put_back",
)
