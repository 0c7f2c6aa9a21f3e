"""The written question of lesson 13: the note for the next shift, which the instructor reads."""

from __future__ import annotations

from typing import Any

from lessons.questions.question import Question
from lessons.units.quantities import Q

# What was seen and done, what is still open, and a guess that has no place in the note.
_JOBS = {
    "leak": (
        "Soap water bubbles at the actuator's fitting. Air off and vented: quarter turn on it. Air on: no bubbles.",
        "Other fittings not soaped.",
        "The diaphragm goes next.",
    ),
    "friction": (
        "Isolated, locked, drained, proved. Gland nuts were hard down and uneven: set evenly. Line back: no drip.",
        "Gland not looked at with the line hot.",
        "Good for years now.",
    ),
    "bench": (
        "Isolated, locked, air vented, proved. Spring adjuster off its mark: set to the nameplate, the maker's way.",
        "Who turned it, and why: not known.",
        "It was the positioner.",
    ),
    "play": (
        "Actuator stem moves first. Isolated, locked, vented, proved; spring load off: connector aligned and tightened.",
        "Its thread is worn, a new one is ordered.",
        "The last crew never tightens anything.",
    ),
}


def _job(fault: str, size: float) -> dict[str, Any]:
    """Return the scribbles on one job: travel at 50 % signal, air at full signal, what was done."""
    done, still_open, guess = _JOBS[fault]
    loop = size if fault in ("friction", "play") else 0.02
    # Bench set 0.2 to 1.0 bar, so 0.6 bar at 50 % signal; a leak takes its share of that, a bench set moves it.
    middle = {"leak": 0.5 - 0.6 * size / 0.8, "bench": 0.5 - size / 0.8}.get(fault, 0.5)
    return {
        "done": done,
        "open": still_open,
        "guess": guess,
        "up": f"{100 * (middle - loop / 2):.0f}",
        "down": f"{100 * (middle + loop / 2):.0f}",
        "sent": Q(1.0, "bar"),
        "arrived": Q(1.0 - size if fault == "leak" else 1.0, "bar"),
    }


_SIZES = (
    ("leak", 0.20),
    ("friction", 0.24),
    ("bench", 0.08),
    ("play", 0.12),
    ("leak", 0.16),
    ("friction", 0.20),
    ("bench", 0.12),
    ("play", 0.10),
    ("leak", 0.24),
    ("friction", 0.28),
    ("bench", 0.16),
    ("play", 0.14),
)

NOTE = Question(
    id="trouble.w6",
    kind="written",
    text="FV-1204, no positioner: your scribbles, at the end of the shift.\n"
    "As found, 50 % signal: {up} % going up, {down} % coming down. Full signal: converter {sent}, actuator {arrived}.\n"
    "{done} {open} Maro says: “{guess}”\n"
    "As left, 50 % signal: 49 % going up, 51 % coming down. Full signal: {sent} at both. Loop still in manual, permit "
    "still with me.\n"
    "Write the note for the night shift, three to six sentences.",
    variants=tuple(_job(fault, size) for fault, size in _SIZES),
    idea="The night shift was not there: what was found, what was done, how it was left, what is still open?",
    why="Half a point each: tag, with symptom and cause apart; as found, in numbers with units; what was done, and "
    "nothing that was not; as left, measured the same way; what is still open; loop and permit. Half a point less for "
    "a guess told as fact.",
    points=3.0,
    source="worked by hand: travel = (air − 0.2 bar) ÷ 0.8 bar, each with one fault put in; what a note holds: common "
    "practice, no source",
)

QUESTIONS = (NOTE,)
