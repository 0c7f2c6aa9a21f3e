"""Job card: Is it choked, cavitating or flashing."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np

from lessons.card_page.card import BadInputError, Card, CardAnswer, Field, absolute_pressures
from lessons.card_page.card_charts import chart, curve, upto
from lessons.pictures.verdicts import BAD, GOOD, SHORT, reaches, tone_of
from lessons.refinery import VALVES, ends_of
from lessons.units.quantities import to_base
from lessons.units.readout import to_digits
from valvecalc.actuator import ATMOSPHERE
from valvecalc.cavitation import cavitation_index, differential_pressure_ratio, incipient_ratio, liquid_verdict
from valvecalc.liquid import choked_drop, critical_pressure_factor, liquid_flow
from valvecalc.units import WATER_DENSITY
from valvecalc.water import CRITICAL_TEMPERATURE, FREEZING, vapour_pressure

VALVE, ENDS = VALVES["LV-6120"], ends_of("LV-6120")
WATER_PC = 22064e3
FIELDS = (
    Field(
        "p1",
        "pressure before the valve",
        "bar",
        to_base(ENDS.before),
        high=400e5,
        pressure="gauge",
        above=True,
    ),
    Field(
        "p2",
        "pressure after the valve",
        "bar",
        to_base(ENDS.after),
        low=-ATMOSPHERE,
        high=400e5,
        pressure="gauge",
        above=True,
    ),
    Field(
        "t",
        "temperature, if it is water",
        "°C",
        to_base(VALVE.fluid.temperature),
        low=FREEZING,
        high=CRITICAL_TEMPERATURE,
    ),
    Field("fl", "recovery factor FL of the valve at this travel", "", VALVE.fl, low=0.2, high=1.0),
    Field(
        "other",
        "if it is not water",
        "bar",
        boxes=("vapour pressure", "critical pressure"),
        high=400e5,
        above=True,
        optional=True,
        pressure="absolute",
    ),
    Field("xfz", "where cavitation begins: xFz of the maker, at this travel", "", low=0.01, high=1.0, optional=True),
    Field("margin", "margin wanted below that", "%", 0.1, high=0.9),
)
# Of the choked drop: from here on cavitation is taken for sure, and as likely, where xFz is not known. It begins well
# before choking, which is where FL puts the end of it: own choice, no source.
SURE, LIKELY = 0.8, 0.5
SHARES = np.linspace(0, 1, 41)[1:]


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the choked drop, the indices and the verdict."""
    p1, p2 = absolute_pressures(n.p1, n.p2)
    pv, pc = n.other or (float(vapour_pressure(n.t)), WATER_PC)
    if pv >= pc and not n.other:
        raise BadInputError("t", "At its critical temperature and above water is no liquid any more.")
    if pv >= pc:
        raise BadInputError("other", "The vapour pressure has to be below the critical pressure.")
    if pv >= p1:
        where = "other" if n.other else "t"
        raise BadInputError(where, "At this vapour pressure it boils before it reaches the valve: vapour, not liquid.")
    choked = float(choked_drop(p1, pv, pc, n.fl))
    xf = float(differential_pressure_ratio(p1, p2, pv))
    # A valve that chokes has begun to cavitate before, whatever stands on a data sheet.
    begins = None if n.xfz is None else min(float(incipient_ratio(n.xfz, p1)), choked / (p1 - pv))
    wanted = None if begins is None else begins * (1 - n.margin)
    verdict = str(liquid_verdict(p1, p2, pv, pc, n.fl, xfz=begins))
    share = (p1 - p2) / choked
    unknown = verdict == "none" and begins is None
    says = "near" if unknown and reaches(share, SURE) else "likely" if unknown and reaches(share, LIKELY) else verdict
    return SimpleNamespace(
        p1=p1,
        p2=p2,
        pv=pv,
        pc=pc,
        dp=p1 - p2,
        choked=choked,
        share=share,
        ff=float(critical_pressure_factor(pv, pc)),
        sigma=float(cavitation_index(p1, p2, pv)),
        xf=xf,
        begins=begins,
        wanted=wanted,
        verdict=verdict,
        says=says,
        tone=tone_of(says in ("none", "likely"), wanted is not None and reaches(wanted, xf)),
    )


VERDICTS = {GOOD: "Clear of cavitation", SHORT: "Not certain", BAD: "In trouble"}
SAYS = {
    "none": "not choked, not flashing",
    "likely": "not choked, but likely to cavitate",
    "near": "nearly choked, so it cavitates",
    "cavitation": "cavitating, not yet choked",
    "choked": "choked, full cavitation",
    "flashing": "flashing, vapour stays downstream",
}
NEXT = {
    "none": "listen to it now and again, and look at plug and seat when it is open",
    "likely": "hardened or staged trim, or less drop in one valve, if it rattles",
    "near": "hardened or staged trim, or less drop in one valve",
    "cavitation": "hardened or staged trim, or less drop in one valve",
    "choked": ("more drop brings no more flow; staged trim, or a valve with a higher FL, or higher pressure after it"),
    "flashing": "no trim cures it: hard materials, angle body, large outlet, pipe for two-phase flow",
}
ASK = "ask the maker for xFz at this travel: cavitation begins well before choking, and only xFz tells where"


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say what the liquid does, and how far it is from cavitation."""
    rows = (
        ("next", ASK if r.tone == SHORT and n.xfz is None else NEXT[r.says]),
        ("xF = Δp/(P1 − Pv) now; σ = 1/xF", f"{to_digits(r.xf)}; {to_digits(r.sigma)}"),
        ("xF where the noise of cavitation begins / at most wanted", _onset(r)),
        (
            "drop now / drop that chokes",
            f"{_bar(r.dp, units)} / {_bar(r.choked, units)}: {to_digits(r.share, '%', digits=2)}",
        ),
        ("vapour pressure / pressure after, absolute", f"{_bar(r.pv, units)} / {_bar(r.p2, units)}"),
    )
    headline = f"{VERDICTS[r.tone]}: {SAYS[r.says]}{_how_near(r)}"
    return CardAnswer(headline, r.tone, rows, _formula(n, r, units))


def _onset(r: SimpleNamespace) -> str:
    return "not known" if r.begins is None else f"{to_digits(r.begins)} / {to_digits(r.wanted)}"


def _how_near(r: SimpleNamespace) -> str:
    if r.begins is None and r.verdict == "none":
        return f", {to_digits(r.share, '%', digits=2)} of the drop that chokes"
    if r.verdict != "none":
        return ""
    more = "more" if r.tone == SHORT else "no more"
    return f", and xF is {more} than the {to_digits(r.wanted)} wanted"


def _formula(n: SimpleNamespace, r: SimpleNamespace, units: str) -> tuple[str, ...]:
    above = "xFz, less of it at a P1 above 6 bar absolute,"
    kept = f"{to_digits(r.begins)} · (1 − {to_digits(n.margin, '%')})" if n.xfz else ""
    most = f"; at most {above} · (1 − margin) = {kept}" if n.xfz else ""
    return (
        f"FF = 0.96 − 0.28 · √(Pv/Pc) = 0.96 − 0.28 · √({_bar(r.pv, units)} / {_bar(r.pc, units)}) = {to_digits(r.ff)}",
        f"Δp choked = FL² · (P1 − FF · Pv) = {to_digits(n.fl)}² · ({_bar(r.p1, units)} − {to_digits(r.ff)} · "
        f"{_bar(r.pv, units)}) = {_bar(r.choked, units)}"
        "; pressures absolute",
        f"P2 = {_bar(r.p2, units)} is {'below' if r.p2 < r.pv else 'above'} Pv = {_bar(r.pv, units)}",
        f"xF = Δp / (P1 − Pv) = {_bar(r.dp, units)} / {_bar(r.p1 - r.pv, units)} = {to_digits(r.xf)}{most}",
    )


def _bar(pressure: float, units: str) -> str:
    return to_digits(pressure, "bar", units)


def _picture() -> tuple[Any, Any]:
    """Draw the flow over the drop, with the drop now and the drop from which the liquid flashes."""
    lines = {"flow": "flow", "flash": "flashes to the right of this"}
    figure, place = chart(("pressure drop", "bar"), ("flow, of the choked flow", "%"), lines, marks=("now",))

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        span = upto(r.dp, r.choked * 1.15)
        # Closer together near zero, where the curve is steep, and one at its knee.
        drops = np.sort(np.append(min(span[1], r.p1 * 0.999) * SHARES**2, r.choked))
        flow = liquid_flow(
            1.0, r.p1, r.p1 - np.append(drops, [r.dp, r.choked]), rho=WATER_DENSITY, pv=r.pv, pc=r.pc, fl=n.fl
        )
        flow = flow / flow[-1]
        flash = r.p1 - r.pv
        paths = {"flow": curve([0, *drops], [0, *flow[:-2]]), "flash": [(flash, 0), (flash, 1.15)]}
        moved: dict[str, Any] = place((span, (0, 1.15)), units, paths, {"now": (r.dp, float(flow[-2]))}, SAYS[r.says])
        return moved

    return figure, move


CARD = Card(
    name="cavitation",
    title="Is it choked, cavitating or flashing?",
    group="It is loud or wears fast",
    symptom="It rattles like gravel, hisses, or opening further brings no more flow.",
    words=(
        "cavitation choked choking flashing noise gravel vapour boiling erosion damage FL xFz sigma hot "
        "condensate liquid noisy rattle hammer vibration vibrates whistle hiss pitting worn wear wears plug bubbles "
        "collapse"
    ),
    start=f"LV-6120, {VALVE.service}",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt=(
        "Flow over pressure drop: it rises, then stays where it chokes; the drop now and the drop from "
        "which it flashes are marked."
    ),
    source=(
        "Choked drop and FF: IEC 60534-2-1:2011 (ISA-75.01.01-2012). Vapour pressure of water: IAPWS. σ and xF: "
        "ISA-RP75.23, second-hand. xFz, where the noise of cavitation begins, and its change with P1: IEC 60534-8-4, "
        "from memory. The margin of 10 % to start with, and the half and four "
        "fifths of the choked drop from which cavitation is likely or sure without xFz: own choice, no source."
    ),
    changes=(
        "FL falls as most valves open: take it at the travel you work at.",
        "Reducers beside the valve: the product FLP/FP takes the place of FL.",
        "Dissolved gas, a mixture or a hydrocarbon: fill in its own vapour and critical pressure.",
        "The gauge's place: pressures count right before and after the valve. Atmosphere taken as 1.013 "
        "bar (14.7 psi).",
    ),
    cautions=(
        "Hearing protection near a cavitating valve; keep clear of hot condensate that flashes as it leaves.",
        "A body that was cavitating can be thin: have its wall measured before you trust it.",
    ),
    lesson="06_capacity_and_choking",
    verdicts=VERDICTS,
)
