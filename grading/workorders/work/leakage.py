"""Graded questions of lesson 11: seat leakage classes and shut-off."""

from __future__ import annotations

from types import SimpleNamespace

from lessons.practice.work.leakage import CLASSES, PER_MINUTE, SHARES, strictest
from lessons.questions.question import Mistake, Option, Question, by_family
from lessons.units.quantities import Q
from valvecalc.seat_leakage import BUBBLE, ML_PER_MIN, allowed_leakage, water_test_capacity


def _limit(n: SimpleNamespace) -> float:
    return float(allowed_leakage(n.form, capacity=water_test_capacity(n.kv, n.dp)))


SHEET = Question(
    id="leakage.w1",
    kind="number",
    text="Fill in the test sheet: {kv} wide open, class {form} ({share}), water at {dp}. Largest leak allowed in a "
    "minute?",
    variants=tuple(
        {"kv": Q(kv, "Kv"), "form": form, "share": Q(SHARES[form], "%"), "dp": Q(dp, "bar")}
        for kv, form, dp in zip(
            (25, 36, 40, 100, 20, 31.5, 50, 80, 16, 63, 125, 160),
            ("IV", "III", "IV", "II", "IV", "IV", "III", "IV", "III", "IV", "II", "IV"),
            (3.2, 3.6, 3.4, 3.8, 4.0, 2.4, 3.0, 3.5, 2.6, 2.8, 3.3, 3.7),
            strict=True,
        )
    ),
    key=_limit,
    unit="mL/min",
    mistakes=(
        Mistake("percent_as_number", lambda n: _limit(n) * 100, "Per cent was taken as a plain number.", credit=0.25),
        Mistake("one_zero_lost", lambda n: _limit(n) * 10, "Ten times too much: a zero is lost.", credit=0.25),
        Mistake("per_hour", lambda n: _limit(n) * 60, "That is for an hour.", credit=0.5),
        Mistake(
            "left_out_sqrt_dp",
            by_family,
            "The share was taken of the flow at a drop of 1, not at the test pressure.",
            credit=0.25,
        ),
        Mistake("no_root", by_family, "The root of the drop was left out.", credit=0.25),
    ),
    working=("capacity [m³/h] = kv * sqrt(dp)", "capacity * share"),
    idea="Rated capacity first: flow coefficient × √drop. Then the share of it, per minute.",
    step="{kv} times the root of {dp}; times {share} as a plain number; then into a minute: " + PER_MINUTE + ".",
    why="Take the capacity at the test drop, the share as a plain number, and one minute.",
    plausible=(0.01, 1e5),
    points=2.0,
    source="FCI 70-2 and GB/T 4213 (second-hand): II 0.5 %, III 0.1 %, IV 0.01 % of rated capacity",
)

FOUND = Question(
    id="leakage.w2",
    kind="choice",
    text="As left: {tag}, {kv} wide open, water at {dp}, a steady leak of {leak}. Which is the strictest class you may write "
    "on its sheet?",
    variants=tuple(
        {"tag": tag, "kv": Q(kv, "Kv"), "dp": Q(dp, "bar"), "leak": Q(leak, "mL/min")}
        for tag, kv, dp, leak in (
            ("FV-1204", 25, 3.5, 62),
            ("FV-1204", 25, 3.5, 300),
            ("FV-1204", 25, 3.2, 2600),
            ("FV-1204", 25, 3.4, 5200),
            ("LV-6120", 36, 3.6, 85),
            ("LV-6120", 36, 3.5, 640),
            ("LV-6120", 36, 3.3, 4100),
            ("LV-6120", 36, 3.4, 7600),
            ("LV-2112", 40, 3.0, 90),
            ("LV-2112", 40, 3.2, 820),
            ("LV-2112", 40, 3.8, 4700),
            ("LV-2112", 40, 3.6, 9500),
        )
    ),
    key=lambda n: strictest(n.leak, float(water_test_capacity(n.kv, n.dp))),
    options=CLASSES,
    idea="What would it pass wide open at that drop? The leak as a share of that.",
    step="{kv} times the root of {dp}; {leak} divided by that, in the same unit: " + PER_MINUTE + ".",
    example="A leak of 0.05 % meets class III (0.1 %), but not class IV (0.01 %).",
    why="Write the strictest class it meets, and never a better one.",
    points=1.0,
    source="FCI 70-2 and GB/T 4213 (second-hand): II 0.5 %, III 0.1 %, IV 0.01 % of rated capacity",
)

SHUT_OFF = Question(
    id="leakage.w3",
    kind="several",
    text="{tag} ({what}) has just passed its class {form} test on the bench. Which of these are true?",
    variants=tuple(
        {"tag": tag, "what": what, "form": form}
        for (tag, what) in (
            ("FV-1204", "wash water"),
            ("LV-6120", "hot condensate"),
            ("LV-2112", "column bottoms"),
            ("FV-2107", "reflux"),
        )
        for form in ("II", "III", "IV")
    ),
    key=lambda n: {"leaks", "isolate", "test_only", "worse"},  # noqa: ARG005 - the same for all
    options=(
        Option("leaks", "Shut, it may still let some fluid through"),
        Option("isolate", "Before its line is opened, the line must be isolated and proved by other means"),
        Option("test_only", "The class tells the leak in that test, not at other pressures or with other fluids"),
        Option("worse", "In service, dirt or a scratch on the seat can make it leak more"),
        Option(
            "trusted",
            "Shut and with its air cut off, it may serve as isolation for a short job",
            "A control valve is never an isolation valve, for no job and in no class.",
        ),
        Option(
            "six",
            "Had it passed class VI, it could be used for isolation",
            "Class VI is tight in its test. A signal, "
            "an air failure or a grain of dirt still opens it: it isolates nothing.",
        ),
        Option(
            "harder",
            "With more closing force than normal the test would be fairer",
            "The test takes the normal closing force and no more; else it flatters the valve.",
        ),
    ),
    idea="A class is the result of one test. Isolation protects people.",
    step="For each, ask whether it is about that test on the bench, or trusts the valve with somebody's life.",
    example="True are those that keep the class to its test, and people behind other valves, blinds and locks.",
    why="A class tells how well the valve shut that day. It never makes it an isolation valve.",
    points=1.0,
    source="FCI 70-2 (second-hand): classes do not predict service leakage; isolation: common practice, no source, and the site's "
    "procedure decides",
)

SOFT = Question(
    id="leakage.w4",
    kind="number",
    text="A soft-seated valve, class VI, air: {n} bubbles in {t} minutes, each about 0.15 mL (0.00915 in³). For its seat the "
    "limit is {lim}. How much of the limit does it use?",
    variants=tuple(
        {"n": n, "t": t, "lim": Q(lim, "mL/min")}
        for n, t, lim in zip(
            (4, 9, 20, 11, 6, 30, 8, 6, 64, 13, 8, 24),
            (3, 4, 5, 6, 4, 6, 3, 5, 8, 5, 3, 3),
            (0.30, 0.45, 0.90, 0.45, 0.30, 1.70, 0.60, 0.30, 1.70, 0.60, 0.90, 1.70),
            strict=True,
        )
    ),
    key=lambda n: BUBBLE * n.n / n.t / 60 / n.lim,
    unit="%",
    mistakes=(
        Mistake(
            "per_bubble",
            lambda n: ML_PER_MIN * n.n / n.t / n.lim,
            "Bubbles a minute were taken for a volume.",
            credit=0.25,
        ),
        Mistake("no_time", lambda n: BUBBLE * n.n / 60 / n.lim, "The time was left out.", credit=0.25),
        Mistake(
            "upside_down", lambda n: n.lim / (BUBBLE * n.n / n.t / 60), "Limit over leak: turn it over.", credit=0.5
        ),
    ),
    working=("gas [mL] = n * bubble", "leak [mL/min] = gas / time", "leak / lim"),
    given=lambda n: {"bubble": Q(0.15, "mL"), "time": Q(n.t, "min")},
    idea="Bubbles into volume, volume over minutes, then over the limit.",
    step="{n} × 0.15 mL (0.00915 in³), divided by {t}; that divided by {lim}.",
    why="Above 100 % of its limit the valve fails the test.",
    plausible=(0.0, 1000.0),
    points=1.0,
    source="class VI limits by seat, 0.15 mL a bubble: GB/T 4213-92 and FCI 70-2 (second-hand)",
)

QUESTIONS = (SHEET, FOUND, SHUT_OFF, SOFT)
