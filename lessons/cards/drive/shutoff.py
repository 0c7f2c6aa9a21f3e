"""Job card: Will it close against this pressure, and where does it fail."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from lessons.card_page.actuator_fields import area_field, friction_field
from lessons.card_page.card import Card, CardAnswer, Field
from lessons.card_page.card_charts import bar_chart
from lessons.pictures.verdicts import BAD, GOOD, SHORT, WORDS, reaches, tone_of
from lessons.refinery import VALVES, drive_of, line_of
from lessons.safety import ADJUSTER, HANDS
from lessons.units.quantities import to_base
from lessons.units.readout import to_digits
from valvecalc.force_balance import fail_position, largest_shutoff_dp
from valvecalc.plug_forces import circle_area, seat_force, unbalanced_force

VALVE = VALVES["FV-6204"]
DRIVE, LINE = drive_of(VALVE.tag), line_of(VALVE.tag)
ACTIONS = {"reverse": "the spring shuts it (air opens)", "direct": "the air shuts it (spring opens)"}
FIELDS = (
    Field("action", "what shuts it", default="reverse", choices=ACTIONS),
    area_field(DRIVE),
    Field(
        "closing",
        "start of the bench set; if air shuts it: supply less end of bench set",
        "bar",
        to_base(DRIVE.bench_low),
        high=10e5,
    ),
    Field("dp", "pressure drop to shut against", "bar", to_base(LINE.pump_shutoff) - to_base(LINE.static), high=400e5),
    Field("port", "seat (port) diameter", "mm", to_base(DRIVE.port), high=1.0, above=True),
    friction_field(DRIVE),
    # 7 N/mm, about 40 lbf/in: asked for class IV in many plants, from memory.
    Field("wanted", "seat load wanted, from the valve's data", "N/mm", to_base(DRIVE.seat_load), high=5e5, above=True),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the forces at the shut end and what is left for the seat."""
    closing = n.area * n.closing
    port = float(circle_area(n.port))
    fluid = float(unbalanced_force(n.dp, 0.0, port, flow_to="open"))
    rim = float(seat_force(n.port, 1.0))  # N for each N/m of seat load: the length of the seat
    left = closing - fluid - n.friction
    wanted = n.wanted * rim
    held = min(n.friction, closing)
    return SimpleNamespace(
        closing=closing,
        fluid=fluid,
        left=left,
        load=left / rim,
        fails=str(fail_position(n.action)),
        largest=float(largest_shutoff_dp(closing, port, held, min(wanted, closing - held))),
        wanted=wanted,
        tone=tone_of(left > 0, reaches(left, wanted)),
    )


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say whether it closes, with how much on the seat, and where it goes without air."""
    load, wanted = to_digits(r.load, "N/mm", units), to_digits(n.wanted, "N/mm", units)
    said = {
        GOOD: f"it closes, with {load} on the seat; {wanted} wanted",
        SHORT: f"it closes, but with {load} on the seat; {wanted} wanted",
        BAD: f"it stays off its seat, {to_digits(-r.left, 'N', units)} short",
    }
    without = {"closed": "shuts (fails closed)", "open": "opens (fails open)"}[r.fails]
    caveat = {GOOD: "", SHORT: ", too lightly against this drop", BAD: " – but not against this drop"}[r.tone]
    rows = [
        ("when its air is lost the spring", without + (caveat if r.fails == "closed" else "")),
        (f"largest drop for {wanted} on the seat", _largest(n, r, units)),
        ("force that shuts it", to_digits(r.closing, "N", units)),
        ("force of the fluid, flow under the plug", to_digits(r.fluid, "N", units)),
    ]
    if r.tone != GOOD:
        rows.insert(0, ("force missing for the seat load wanted", to_digits(r.wanted - r.left, "N", units)))
    return CardAnswer(f"{WORDS[r.tone]}: {said[r.tone]}", r.tone, tuple(rows), _formula(n, r, units))


def _largest(n: SimpleNamespace, r: SimpleNamespace, units: str) -> str:
    enough = r.closing - n.friction > r.wanted
    return to_digits(r.largest, "bar", units) if enough else "none: not even without pressure"


def _formula(n: SimpleNamespace, r: SimpleNamespace, units: str) -> tuple[str, ...]:
    return (
        f"closing force = pressure · area = {to_digits(n.closing, 'bar', units)} · "
        f"{to_digits(n.area, 'cm²', units, 4)} = {to_digits(r.closing, 'N', units, 4)}",
        f"fluid = Δp · π/4 · D² = {to_digits(n.dp, 'bar', units)} · π/4 · ({to_digits(n.port, 'mm', units)})² = "
        f"{to_digits(r.fluid, 'N', units, 4)}",
        f"left for the seat = {to_digits(r.closing, 'N', units, 4)} − {to_digits(r.fluid, 'N', units, 4)} − "
        f"{to_digits(n.friction, 'N', units, 4)} = {to_digits(r.left, 'N', units, 4)}",
        f"seat load = left / (π · D) = {to_digits(r.load, 'N/mm', units)}; wanted {to_digits(n.wanted, 'N/mm', units)}",
    )


def _picture() -> tuple[Any, Any]:
    """Draw the force that shuts, those that hold open, and what is left."""
    figure, place = bar_chart(4, "force", "N")

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        pushes = "spring shuts it with" if n.action == "reverse" else "air shuts it with"
        forces = (
            (pushes, r.closing),
            ("fluid lifts the plug with", r.fluid),
            ("packing holds with", n.friction),
        )
        left = ("left for the seat", r.left) if r.left > 0 else ("missing", -r.left)
        moved: dict[str, Any] = place(
            units, [(name, force, to_digits(force, "N", units)) for name, force in (*forces, left)]
        )
        return moved

    return figure, move


CARD = Card(
    name="shutoff",
    title="Will it close against this pressure, and where does it fail?",
    group="It leaks through",
    symptom="It does not shut tight under pressure, or you must know where it goes without air.",
    words=(
        "shut close shutoff seat load fail safe failsafe fails open closed air lost spring thrust unbalance flow to "
        "open wont off does not stay leaks by blow handwheel jack solenoid trip position"
    ),
    start=f"FV-6204, {VALVE.service}",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt=(
        "Bars of the force that shuts the valve, of fluid and packing that hold it open, and what is left for the seat."
    ),
    source=(
        "Worked by hand: statics of an unbalanced single-seated plug, fluid under it, no pressure behind it. The 7 "
        "N/mm (40 lbf/in) to start with: from memory, no open standard fixes it, so take it from the valve's data."
    ),
    changes=(
        "Flow over the plug (flow to close): the fluid then helps it shut, and can slam it.",
        "A balanced plug: only the area between seal and seat counts.",
        "Pressure behind the valve makes the drop smaller; take the worst case, often nothing behind it.",
        "A bench set that was changed, or packing pulled tighter since.",
    ),
    cautions=(
        "Know what the process does before you cut the air: the valve moves to its fail position.",
        HANDS,
        f"A change of bench set or spring is approved before it is made. {ADJUSTER}",
    ),
    lesson="08_force_balance",
)
