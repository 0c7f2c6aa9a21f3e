"""How a verdict looks and reads, on cards and in pictures alike: by its sign and its words, never by colour alone."""

from __future__ import annotations

GOOD, SHORT, BAD, PLAIN = "good", "short", "bad", "plain"  # plain is no verdict
SIGNS = {GOOD: "✓", SHORT: "△", BAD: "✗", PLAIN: "="}
WORDS = {GOOD: "Enough", SHORT: "Short of the wanted margin", BAD: "Does not do it"}


def tone_of(does: bool, enough: bool) -> str:
    """Return the tone of a verdict: good only where the job is done with all that was asked for."""
    return GOOD if does and enough else SHORT if does else BAD


def reaches(value: float, wanted: float) -> bool:
    """Tell whether a value is the one wanted or more, but for the last digits of a computer's numbers."""
    return value >= wanted - 1e-9 * abs(wanted)
