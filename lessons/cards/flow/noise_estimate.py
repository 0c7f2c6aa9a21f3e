"""How loud a gas or steam valve is beside its pipe, as far as the open method goes, and what it leaves out."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, NamedTuple

from lessons.card_page.card import BadInputError, Card, CardAnswer, Field
from lessons.card_page.card_charts import bar_chart
from lessons.cards.flow.gas_sizing import BY_VOLUME, GASES, inlet_density
from lessons.pictures.verdicts import BAD, SHORT
from lessons.refinery import VALVES
from lessons.safety import LOUD, STEAM
from lessons.units.quantities import to_base
from lessons.units.readout import to_decimals, to_digits
from valvecalc.actuator import ATMOSPHERE
from valvecalc.body_styles import BODY_STYLES
from valvecalc.gas import gas_kv, gas_velocity, sound_speed
from valvecalc.noise import MOST_MACH, Noise, gas_noise

PIPE = to_base(VALVES["PV-7110"].pipe)


class Trim(NamedTuple):
    """A trim as a source of sound: its row of typical factors, power of ten of its efficiency, Strouhal number."""

    words: str
    style: str
    efficiency: float
    strouhal: float


# Efficiency and Strouhal number: IEC 60534-8-3:2010, table 4, second-hand.
TRIMS = {
    "plug": Trim("contoured plug", "globe, contoured plug, flow to open", -4.2, 0.19),
    "cage": Trim("cage with four windows", "globe, four-port cage, flow outward", -3.8, 0.2),
}
ERROR = 5.0  # dB: how far the method may be off, IEC 60534-8-3, from memory
FIELDS = (
    Field("gas", "gas", default="steam", choices={name: words for name, (words, *_) in GASES.items()}),
    Field("flow", "flow", "kg/h", 5500 / 3600, high=1e4, above=True, also=BY_VOLUME),
    Field(
        "p",
        "pressure",
        "bar",
        (8e5, 3.5e5),
        low=-ATMOSPHERE,
        high=100e5,
        boxes=("before the valve", "after it"),
        pressure="gauge",
    ),
    Field("t", "temperature before it (steam: not asked)", "°C", 293.15, low=200.0, high=700.0),
    Field("trim", "trim", default="cage", choices={name: trim.words for name, trim in TRIMS.items()}),
    Field(
        "pipe",
        "inside diameter and wall",
        "mm",
        (to_base(VALVES["PV-7110"].size), PIPE, 0.008),
        high=2.0,
        above=True,
        boxes=("valve outlet", "pipe behind it", "wall of that pipe"),
    ),
    Field("limit", "most allowed, 1 m from the pipe", "dB(A)", 85.0, low=40.0, high=140.0),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the level with each trim, and how fast the gas leaves the valve."""
    _refuse(n)
    p1, p2 = (each + ATMOSPHERE for each in n.p)
    _, molar, gamma = GASES[n.gas]
    rho = inlet_density(n.gas, p1, n.t, molar, "p")
    outlet, pipe, wall = n.pipe
    mach = float(gas_velocity(n.flow, p1, p2, rho, outlet) / sound_speed(p1, rho, gamma))
    if mach > MOST_MACH:
        raise BadInputError(
            "pipe",
            f"The gas leaves the valve at Mach {mach:.2g}. Above {MOST_MACH:g} the outlet makes noise of its own, "
            "which this estimate leaves out: it would be too low. Take a larger outlet, or ask the maker.",
        )
    state = SimpleNamespace(p1=p1, p2=p2, rho=rho, gamma=gamma, outlet=outlet, pipe=pipe, wall=wall)
    noises = {name: _noise(n.flow, state, trim) for name, trim in TRIMS.items()}
    level = float(noises[n.trim][1].level)
    return SimpleNamespace(
        mach=mach,
        kv=noises[n.trim][0],
        levels={name: float(noise.level) for name, (_, noise) in noises.items()},
        level=level,
        noise=noises[n.trim][1],
        tone=BAD if level - ERROR > n.limit else SHORT,
    )


def _refuse(n: SimpleNamespace) -> None:
    before, after = n.p
    if after <= -ATMOSPHERE or after + ATMOSPHERE >= before + ATMOSPHERE:
        raise BadInputError("p", "The pressure after the valve has to be below that before it, and above a vacuum.")
    outlet, pipe, wall = n.pipe
    if pipe < outlet:
        raise BadInputError("pipe", "The pipe behind the valve is at least as wide as the valve's outlet.")
    if not 0.01 * pipe <= wall <= 0.25 * pipe:
        raise BadInputError("pipe", "The wall of a pipe is between a hundredth and a quarter of its diameter.")


def _noise(flow: float, state: SimpleNamespace, trim: Trim) -> tuple[float, Noise]:
    """Return the coefficient it works at, and its noise."""
    style = BODY_STYLES[trim.style]
    kv = float(gas_kv(flow, state.p1, state.p2, rho=state.rho, gamma=state.gamma, xt=style.xt))
    noise = gas_noise(
        flow,
        state.p1,
        state.p2,
        rho=state.rho,
        gamma=state.gamma,
        kv=kv,
        fl=style.fl,
        fd=style.fd,
        efficiency=trim.efficiency,
        strouhal=trim.strouhal,
        d=state.outlet,
        d2=state.pipe,
        wall=state.wall,
    )
    return kv, noise


# Never good: what is left out of the method makes it louder, never quieter.
VERDICTS = {SHORT: "Not certain", BAD: "Too loud"}
LEFT_OUT = "pipe fittings, supports, loose trim, a second valve, several stages, the outlet above Mach 0.3"


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say about how loud it is, and what is left out."""
    jet = r.noise.jet
    rows = (
        ("level / most allowed", f"{_db(r.level)} ± {ERROR:.0f} dB / {_db(n.limit)}"),
        ("left out of it", LEFT_OUT),
        ("coefficient it works at", to_digits(r.kv, "Kv", units)),
        ("gas at the valve's outlet", f"Mach {to_digits(r.mach, digits=2)}; {MOST_MACH:g} at most here"),
        ("loudest sound of the jet", to_digits(jet.frequency, "Hz", digits=2)),
        ("next", NEXT[r.tone]),
    )
    formula = (
        f"jet {to_digits(float(jet.stream_power) / 1000)} kW; of it sound {to_digits(jet.sound_power)} W; "
        f"its regime {int(jet.regime)} of 5",
        f"inside the pipe, through a wall of {to_digits(n.pipe[2], 'mm', units)} and over 1 m, heard by the ear: "
        f"{_db(r.level)}",
        f"for sure too loud: {_db(r.level)} − {ERROR:.0f} dB over {_db(n.limit)}",
    )
    return CardAnswer(f"{VERDICTS[r.tone]}: about {_db(r.level)}, {_db(n.limit)} allowed", r.tone, rows, formula)


NEXT = {
    SHORT: "measure it, or let the maker work it out with the real trim; hearing protection until then",
    BAD: "hearing protection; less drop in one step, another trim or insulation: with the maker's numbers",
}


def _db(level: float) -> str:
    return to_decimals(level, "dB(A)")


def _picture() -> tuple[Any, Any]:
    """Draw the level with each trim, and the most allowed."""
    figure, place = bar_chart(len(TRIMS), "level 1 m from the pipe", "dB(A)", limit=True)

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        rows = [(trim.words, r.levels[name], _db(r.levels[name])) for name, trim in TRIMS.items()]
        moved: dict[str, Any] = place(units, rows, n.limit, f"allowed {_db(n.limit)}")
        return moved

    return figure, move


CARD = Card(
    name="noise_estimate",
    title="How loud is this gas or steam valve?",
    group="It is loud or wears fast",
    symptom="A gas or steam valve screams. About how many dB(A) is that beside the pipe, and which trim is quieter?",
    words=(
        "noise noisy loud scream screams howl howling whistle dB decibel dBA hearing ear protection sound level gas "
        "steam let down vent trim drilled cage quiet silencer vibration"
    ),
    start="PV-7110, steam let down to the low pressure header; wall invented",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt="Bars of the noise level with a contoured plug and with a cage, and the level allowed across them.",
    source=(
        "IEC 60534-8-3:2010, clause 5, second-hand, with its table 4. Its ±5 dB: from memory. FL, xT, Fd: typical, "
        "IEC 60534-2-1:2011, table D.2."
    ),
    changes=(
        "Left out: the valve's outlet as a second source, several stages, and whatever pipe and supports add.",
        "A drilled cage or plates: many small jets are quieter, but their numbers are the maker's.",
        "FL, xT and Fd at this travel: the typical ones are for the open valve.",
        "Insulation, a thicker wall, a wider pipe; a room that throws the sound back.",
        "Liquids: their noise comes from cavitation, which this method is not for.",
    ),
    cautions=(
        LOUD,
        STEAM,
        "No estimate clears anybody to go without protection: the site's noise signs and a meter decide.",
    ),
    lesson="19_gas_steam_noise",
    verdicts=VERDICTS,
)
