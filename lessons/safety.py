"""The one order of isolation, and the cautions that several places share.

Lessons, questions, cards and pictures take their words from here, so that all of them say the same.
"""

from __future__ import annotations

from dataclasses import dataclass

from lessons.questions.question import Option


@dataclass(frozen=True)
class Step:
    """One step of the isolation: its name in an order question, its paragraph of the rule, what it is and how."""

    name: str
    rule: str
    title: str
    how: str

    @property
    def text(self) -> str:
        """The step in one line."""
        return f"{self.title}: {self.how}"


SOURCE = "29 CFR 1910.147(d)(1) to (6), in own words"
ISOLATION = (
    Step(
        "prepare",
        "(d)(1)",
        "Prepare and tell",
        "permit in hand; know every energy, how much and how bad; tell the board and all concerned",
    ),
    Step(
        "shut_down",
        "(d)(2)",
        "Shut down in good order",
        "loop in manual, bypass set, fail position known",
    ),
    Step(
        "isolate",
        "(d)(3)",
        "Isolate every energy",
        "process on both sides, bypass, purge and tracing that reach it; air supply; signal",
    ),
    Step("lock", "(d)(4)", "Lock and tag all of it", "your own lock and tag on every one, the key with you"),
    Step(
        "release",
        "(d)(5)",
        "Let out what is stored",
        "drain and vent on both sides of the plug; vent actuator, tank, booster, lock-up relay; then the spring, let "
        "down or held as its maker says",
    ),
    Step(
        "prove",
        "(d)(6)",
        "Prove it dead",
        "nothing at a bleed that is not plugged, no air, no movement when tried; keep looking",
    ),
)
ORDER = tuple(step.name for step in ISOLATION)
IN_SHORT = (
    "prepare and tell, shut down, isolate every energy, lock and tag all of it, let out what is stored, prove it dead"
)
DONE = "isolated, locked and tagged, drained and vented, and proved dead"  # the same, of a job where it has been done

# ---- cautions, one sentence or two for each danger ------------------------------------------------------------------

DECIDE = "Local codes, the site's permit and isolation procedure, the maker's instruction and licensed practice decide."
RELEASES_NOTHING = f"{DECIDE} Nothing here releases a job."
NO_ISOLATION = "A control valve is never an isolation valve, whatever its leakage class."
HANDS = "Hands out of the yoke: the stem moves without warning when air, signal or line pressure changes."
STROKE = "Stroking moves the process: only when operations agree, loop in manual or valve bypassed, interlocks known."
TRAPPED = "Vented means proved vented: tank, booster and lock-up relay hold air after the supply is shut."
ADJUSTER = (
    "The air is vented first; then the spring is let down or set by its adjuster, only where and how the maker says."
)
CASING = "Casing bolts come out only in the order the maker gives, long bolts last and evenly."
PACKING = (
    "Packing is never touched with the valve in service: isolate, lock, depressurise and prove, then reset it or "
    "repack."
)
LEAK_TEST = (
    "A leak test puts pressure behind a shut plug. Use water where you can. Raise the pressure slowly, with nobody in "
    "line with joints or the open end. Let it off and prove it gone before anything is undone."
)
ENTRY = (
    "Nobody enters a vessel behind shut valves. Entry needs positive isolation of every line, a blind bolted in or a "
    "piece taken out and the open ends blanked (HSG253), and a permit of its own. A control valve is never that, nor "
    "is a vented piece of pipe between two valves."
)
# As for testing or positioning in 29 CFR 1910.147(f)(1): people clear, energy on, then back to no energy and proved.
TEST_AIR = (
    "Test air: only if the permit allows it, from a regulator of its own in the fitter's own hand, everybody clear; "
    "the locked supply stays locked. After use it is vented and taken off, and dead is proved again."
)
# Before a stem is uncoupled. The line is dead by then: a plug that is lifted joins both sides of the body.
UNCOUPLE = (
    "Take the spring load off the connection first, as the maker says: without air it is still there.",
    "Lift the plug a little off its seat. Without air a spring-to-open valve has it off; a spring-to-close valve needs "
    f"a little test air. {TEST_AIR}",
    "Part the connection; never turn a seated plug. Ease the air off, hands clear: the actuator stem comes down.",
)

LOUD = (
    "A gas or steam valve can be loud enough to harm your hearing: protection on before you come near; the site's "
    "noise signs and time limits count."
)
STEAM = (
    "Steam burns before it is seen. Drain the line before it is warmed up, open slowly, stand aside; water that steam "
    "drives along hits like a hammer."
)

# What is said below a live picture of something that can hurt.
BESIDE = {
    "bench_set": f"{HANDS} {ADJUSTER}",
    "actuator_reverse": f"{CASING} {ADJUSTER}",
    "actuator_piston": TRAPPED,
    "stem_forces": f"{HANDS} {NO_ISOLATION}",
    "air_to_close": f"{HANDS} The casing's nameplate says how much air it may hold.",
    "dead_band": PACKING,
    "hunting": PACKING,
    "stroke_points": f"{STROKE} {HANDS}",
    "signal_step": f"{STROKE} {HANDS}",
    "as_found": f"{STROKE} {HANDS}",
    "air_stroke": f"{STROKE} {HANDS} The casing's nameplate says how much air it may hold.",
    "auto_calibration": f"{STROKE} {HANDS}",
    "leakage": f"{LEAK_TEST} {NO_ISOLATION}",
    "bolting": f"Joints are opened and closed only on a valve that is {DONE}. "
    "The maker or the site gives torque and rounds.",
    "bolt_up": f"Only on a valve that is {DONE}. The maker or the site gives torque, rounds and lubricant.",
    "rating": "The plate, the site's piping class and the code decide what a body may hold, not this picture.",
    "insulation": "Hot metal burns, and hot oil burns by itself where it leaks. The maker says how far to insulate.",
    "choked": "Wear hearing protection near a valve that chokes or cavitates. What flashes scalds.",
    "gas_outlet": LOUD,
    "small_jets": LOUD,
    "ready_or_not": STROKE,
    "live_loading": PACKING,
    "profile": "Wear hearing protection near a valve that chokes or cavitates. What flashes scalds.",
}


def isolation_options() -> tuple[Option, ...]:
    """Return the steps of the isolation as options of an order question; their key is `ORDER`."""
    return tuple(Option(step.name, step.text) for step in ISOLATION)


def swapped(first: str, second: str, *after: str) -> tuple[str, ...]:
    """Return the order with two steps changed over, and what comes after it: a mistake to foresee.

    >>> swapped("prepare", "shut_down", "open")
    ('shut_down', 'prepare', 'isolate', 'lock', 'release', 'prove', 'open')
    """
    change = {first: second, second: first}
    return (*(change.get(name, name) for name in ORDER), *after)


def as_markdown() -> str:
    """Return the order of isolation as a numbered list, with its source and who decides."""
    steps = "\n".join(f"{k}. **{step.title}**: {step.how}." for k, step in enumerate(ISOLATION, start=1))
    return (
        f"**The one order of isolation**, in every lesson and on every card ({SOURCE}):\n\n{steps}\n\n"
        f"Only then the first nut. Some work needs a little air after that, to move the stem. {TEST_AIR} "
        f"{RELEASES_NOTHING}"
    )
