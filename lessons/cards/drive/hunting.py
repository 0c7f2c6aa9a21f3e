"""Job card: Why does it hunt."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np

from lessons.card_page.card import Card, CardAnswer, Field
from lessons.card_page.card_charts import chart, curve
from lessons.pictures.verdicts import BAD, SHORT, reaches
from lessons.safety import HANDS, PACKING
from lessons.units.readout import to_digits
from valvecalc.loop import gain_margin, limit_cycle, simulate_loop

SLIP = 1 / 3  # of the dead band is jumped when the stem breaks loose: own choice, no source
LAG, FILL = 4.0, 2.0  # in dead times: a flow loop that settles in a few seconds; own choice, no source
SAMPLES = 800
WANTED = 2.0  # times the gain may grow before it hunts, which is 6 dB: from memory of control textbooks
FEW = 2.0  # times the swing of this dead band may be seen before something else must be at work: own choice, no source
SEEN = 0.004  # of full scale: a swing that shows on a chart
STEP = np.where(np.arange(SAMPLES) < 16, 0.45, 0.50)
MANUAL = {"steady": "it stands still", "swings": "it swings on"}
FIELDS = (
    Field("manual", "with the loop in manual", default="steady", choices=MANUAL),
    Field("band", "dead band of the valve, of span", "%", 0.03, high=0.2),
    Field("gain", "controller gain", "", 0.8, low=0.01, high=50.0),
    Field("reset", "reset (integral) time", "s", 3.0, low=0.05, high=3600.0),
    Field("process", "flow change over travel change, both in %", "", 1.2, low=0.05, high=10.0),
    Field("dead", "dead time of the loop", "s", 0.5, low=0.05, high=120.0),
    Field("seen", "how far the flow swings on the chart, lowest to highest", "%", 0.02, high=1.0, above=True),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return gain margin, the loop in time and what it does."""
    margin = float(gain_margin(n.process, n.gain, n.reset, LAG * n.dead, n.dead, FILL * n.dead))
    run = _run(n, n.band)
    cycle = limit_cycle(run.time, run.flow)
    return SimpleNamespace(
        margin=margin,
        run=run,
        cycling=bool(cycle.cycling),
        period=float(cycle.period),
        swing=round(_swing(run), 6),
        cause=_cause(n, margin, run),
    )


def _run(n: SimpleNamespace, band: float) -> Any:
    """Return the loop in time with a valve of this dead band."""
    travel = np.linspace(0, 1, 41)
    return simulate_loop(
        np.arange(SAMPLES) * n.dead / 2,
        STEP,
        travel,
        np.clip(0.5 + n.process * (travel - 0.5), 0, 1),
        proportional_gain=n.gain,
        reset_time=n.reset,
        lag=LAG * n.dead,
        dead_time=n.dead,
        fill_time=FILL * n.dead,
        stick_band=band,
        slip_jump=SLIP * band,
    )


def _swing(run: Any) -> float:
    """Return how far the flow goes to and fro in the later half; the period of a slow cycle cannot be measured."""
    return float(np.ptp(run.flow[SAMPLES // 2 :]))


def _to_and_fro(run: Any) -> bool:
    """Tell a swing about the set point from a flow that only creeps towards it."""
    return len(np.flatnonzero(np.diff(np.sign(run.flow[SAMPLES // 2 :] - STEP[-1])))) > 1


def _beside(run: Any) -> bool:
    return abs(float(run.flow[-1]) - float(STEP[-1])) > SEEN


def _cause(n: SimpleNamespace, margin: float, run: Any) -> str:
    """Say what makes it hunt; what the loop does with a valve that does not stick is not the valve's doing."""
    if n.manual == "swings":
        return "outside"
    free = _run(n, 0.0)
    if margin < 1 or (_swing(free) > SEEN and _to_and_fro(free)):
        return "tuning"
    if _swing(free) > SEEN or _beside(free):
        return "slow"
    if _swing(run) > SEEN or _beside(run):
        creeps = _swing(run) <= SEEN  # too slow to show a swing while one looks
        return "valve" if creeps or reaches(FEW * _swing(run), n.seen) else "small"
    return "none" if reaches(margin, WANTED) else "close"


# Never good: lag and filling time are guessed from the dead time, so what is found here can point, not clear.
VERDICTS = {SHORT: "Not certain", BAD: "Cause found"}
SAYS = {
    "outside": "it comes from outside this loop",
    "tuning": "the tuning, the gain is too high",
    "valve": "the valve sticks, friction makes it hunt",
    "slow": "the tuning, the flow stays beside its set point for long",
    "small": "this dead band makes a small swing only, not the one you see",
    "close": "little margin in the gain, close to hunting",
    "none": "neither tuning nor this dead band explains it",
}
NEXT = {
    "outside": (
        "look upstream and downstream: pump, another loop on the same line, level or pressure that swings with it"
    ),
    "tuning": "lower the controller gain first, then look again",
    "valve": (
        "free the stem, with the valve out of service: packing too tight, bent stem, loose linkage; or have a "
        "positioner fitted. Tuning only changes its period"
    ),
    "slow": "a shorter reset time; step the signal by hand in manual too, and see whether the stem follows",
    "small": (
        "measure the dead band anew, by small steps with the positioner at work; then look for what swings with it: "
        "pump, another loop, a valve near its seat"
    ),
    "close": "lower the gain, and find where the valve opens steeply",
    "none": "look at the measurement, at interacting loops, and at the valve near its seat",
}


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say the likely cause and what to do next."""
    how_often = f"once in {to_digits(r.period, 's')}" if r.cycling else "too slowly to time it here"
    comes = "it creeps, and is not yet at its set point" if r.cause == "slow" else "it comes to rest"
    swings = r.cause != "slow" and (r.cycling or r.swing > SEEN)
    swing = f"±{to_digits(r.swing / 2, '%')}, {how_often}" if swings else comes
    rows = (
        ("next", NEXT[r.cause]),
        (
            "gain may grow before the loop hunts without friction",
            f"by a factor of {to_digits(r.margin)}; {to_digits(WANTED)} wanted",
        ),
        ("with this dead band the flow swings", swing),
        ("lowest to highest: worked out / seen", f"{to_digits(r.swing, '%')} / {to_digits(n.seen, '%')}"),
        ("highest gain for that margin", to_digits(n.gain * r.margin / WANTED)),
    )
    dead = to_digits(n.dead, "s")
    formula = (
        f"loop = {to_digits(n.process)} · {to_digits(n.gain)} · (1 + 1 / ({to_digits(n.reset)} s)) · dead time {dead} "
        f"· lag {to_digits(LAG * n.dead, 's')} "
        f"· filling {to_digits(FILL * n.dead, 's')}; its size where it lags half a turn: {to_digits(1 / r.margin)}",
        f"margin = 1 / {to_digits(1 / r.margin)} = {to_digits(r.margin)}",
    )
    tone = SHORT if r.cause in ("small", "close", "none") else BAD
    return CardAnswer(f"{VERDICTS[tone]}: {SAYS[r.cause]}", tone, rows, formula)


def _picture() -> tuple[Any, Any]:
    """Draw flow, signal and travel in time after a small step of the set point."""
    figure, place = chart(
        ("time", "s"),
        ("share of full scale", "%"),
        {"flow": "flow", "signal": "controller signal", "travel": "travel", "limit_set": "set point"},
    )

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        time, run = r.run.time, r.run
        shown = np.concatenate([run.flow, run.output, run.travel])
        reach = max(0.06, 1.05 * float(np.abs(shown - 0.475).max()))
        # Every fourth sample: more is hardly seen, and all of it goes to the page at each step of a slider.
        lines = {"flow": run.flow, "signal": run.output, "travel": run.travel}
        paths = {name: curve(time[::4], values[::4]) for name, values in lines.items()}
        paths["limit_set"] = curve(time[[0, 16, 16, -1]], [STEP[0], STEP[0], STEP[-1], STEP[-1]])
        moved: dict[str, Any] = place(((0.0, float(time[-1])), (0.475 - reach, 0.475 + reach)), units, paths, {})
        return moved

    return figure, move


CARD = Card(
    name="hunting",
    title="Why does it hunt?",
    group="It sticks, jumps or hunts",
    symptom="The loop keeps swinging. Is it the tuning, the valve, or something outside?",
    words=(
        "hunt hunting cycle cycling oscillate swing limit cycle stiction tuning gain reset positioner friction "
        "unstable sticky wobble chatter chattering flutter hunts surging jumps jerky cycles swings"
    ),
    start="the desalter's wash water loop of FV-1204, rounded",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt=(
        "Flow, controller signal and travel over time after a small step of the set point, as simulated "
        "from these numbers."
    ),
    source=(
        "Gain margin: Nyquist criterion, from memory. Swing: PI loop with the two-parameter stiction "
        "model (from memory), simulated. Lag four and filling two dead times, jump a third of the dead "
        "band, and a swing of up to twice the one worked out as the valve's own: own choice, no source."
    ),
    changes=(
        "Lag and filling time of your loop, which this card guesses from the dead time.",
        "The flow change over travel change: it differs along the travel; take it where the loop works.",
        "A positioner cuts the dead band (measure it at the stem, with the positioner working).",
        "Derivative action, a filter in the transmitter, a slow sampling controller.",
    ),
    cautions=(
        "Operations decide on a change to manual or of the tuning. Agree on it first.",
        PACKING,
        HANDS,
    ),
    lesson="09_packing_friction_hunting",
    verdicts=VERDICTS,
)
