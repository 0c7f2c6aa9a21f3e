"""Torque for gland and bonnet bolts, in rounds."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from lessons.card_page.card import BadInputError, Card, CardAnswer, Field
from lessons.card_page.card_charts import bar_chart
from lessons.pictures.verdicts import BAD, GOOD, SHORT, reaches, tone_of
from lessons.safety import DONE, PACKING
from lessons.units.readout import to_digits
from valvecalc import bolting

ROUNDS = (0.3, 0.6, 1.0)  # of the torque, crosswise; then one round in a circle. Own choice, no source
FIELDS = (
    Field("load", "load wanted on all bolts together", "kN", 160e3, high=1e7, above=True),
    Field("count", "number of bolts", "", 8.0, low=2.0, high=32.0, step=1.0),
    Field("diameter", "bolt diameter", "mm", 0.016, low=0.004, high=0.1),
    Field("pitch", "pitch of the thread", "mm", 0.002, low=0.0005, high=0.012),
    Field("k", "nut factor K of the lubricant used", "", 0.16, low=0.05, high=0.5),
    Field("scatter", "how far the load can be off for a torque, ±", "%", 0.3, high=0.9),
    Field("stress", "largest stress the bolts may see", "MPa", 240e6, high=2e9, above=True),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the torque, and the stress for the load wanted and for the highest load it may give."""
    if 3 * n.pitch >= n.diameter:
        raise BadInputError("pitch", "The pitch has to be below a third of the bolt's diameter. Check both.")
    each = n.load / n.count
    stress = each / float(bolting.stress_area(n.diameter, n.pitch))
    highest = stress * (1 + n.scatter)
    return SimpleNamespace(
        each=each,
        torque=float(bolting.bolt_torque(each, n.diameter, n.k)),
        stress=stress,
        highest=highest,
        area=float(bolting.stress_area(n.diameter, n.pitch)),
        tone=tone_of(reaches(n.stress, stress), reaches(n.stress, highest)),
    )


VERDICTS = {GOOD: "The bolts can take it", SHORT: "Not certain", BAD: "Too much for the bolts"}


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say the torque and the rounds."""
    torque = to_digits(r.torque, "N·m", units)
    rows = (
        ("rounds, crosswise", ", ".join(to_digits(part * r.torque, "N·m", units) for part in ROUNDS)),
        ("then", "once round in a circle at the full torque, until no nut turns"),
        ("load of each bolt", to_digits(r.each, "kN", units)),
        ("stress at the load wanted / at its highest", f"{_mpa(r.stress, units)} / {_mpa(r.highest, units)}"),
        ("largest stress allowed", _mpa(n.stress, units)),
    )
    formula = (
        f"load of each = {to_digits(n.load, 'kN', units)} / {n.count:g} = {to_digits(r.each, 'kN', units)}",
        f"torque = K · diameter · load = {to_digits(n.k)} · {to_digits(n.diameter, 'mm', units)} · "
        f"{to_digits(r.each, 'kN', units)} = {torque}",
        f"stress = load / (π/4 · (D − 0.9382 P)²) = {to_digits(r.each, 'kN', units)} / "
        f"{to_digits(r.area, 'mm²', units)} = {_mpa(r.stress, units)}",
    )
    return CardAnswer(f"{VERDICTS[r.tone]}: {torque} on each nut", r.tone, rows, formula)


def _mpa(stress: float, units: str) -> str:
    return to_digits(stress, "MPa", units)


def _picture() -> tuple[Any, Any]:
    """Draw the stress at the load wanted and at its highest, with the limit across."""
    figure, place = bar_chart(2, "stress in the bolts", "MPa", limit=True)

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        rows = (("at the load wanted", r.stress), ("at its highest", r.highest))
        bars = [(words, value, _mpa(value, units)) for words, value in rows]
        moved: dict[str, Any] = place(units, bars, n.stress, f"allowed {_mpa(n.stress, units)}")
        return moved

    return figure, move


CARD = Card(
    name="bolt_torque",
    title="Torque for gland and bonnet bolts",
    group="Before you choose or open one",
    symptom="A bonnet or gland is to be closed: what torque on each nut, and in how many rounds?",
    words=(
        "torque bolt bolts nut nuts stud bonnet gland gasket "
        "wrench grease lubricant lubrication tighten rounds crosswise star"
    ),
    start="eight M16 of an invented bonnet",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt="Bars of the stress in the bolts at the load wanted and at its highest, with the stress allowed across.",
    source=(
        "T = K D F: NASA RP-1228, from memory, not read. Stress area: ISO 898-1, from memory. Scatter of about 30 %: "
        "from memory. Rounds of 30, 60 and 100 %: own choice, no source."
    ),
    changes=(
        "The lubricant: on dry threads K can be twice that on greased ones, and the load half.",
        "The load wanted: it comes from the gasket maker or the packing maker, for the pressure of this line.",
        "Heat: bolts and gasket relax. The maker and the site say whether and when they are tightened again.",
        "Damaged threads, missing washers, nuts that bind: they use up torque that never becomes load.",
    ),
    cautions=(
        f"Joints are opened and closed only on a valve that is {DONE}.",
        "The torque, the rounds and the lubricant of the maker or the site come before those of this card.",
        PACKING,
    ),
    lesson="15_body_rating_ends_gaskets",
    verdicts=VERDICTS,
)
