"""Block diagram of solenoids that vote: which of them have to vent so that the valve shuts. Not a piping drawing."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import Points, circle, rect
from lessons.pictures.cutaways.sheet import Drawing, Shape

WIDE, HIGH = 12.0, 9.0  # [mm] one block
GAP = 18.0  # [mm] from block to block, along the way
LEVELS = {"one": (34.0, 0.0), "any of two": (98.0, 0.0), "both of two": (34.0, -48.0), "two of three": (98.0, -48.0)}
# Each arrangement: the ways from left to right, one below another, and the blocks on each way.
WAYS = {"one": ("A",), "any of two": ("A", "B"), "both of two": ("AB",), "two of three": ("AB", "AC", "BC")}
NUMBER = {"one": 1, "both of two": 2, "any of two": 3, "two of three": 4}  # as the callouts are numbered
HALF = 22.0  # [mm] half the width of an arrangement
SHARE = 14.0  # [mm] from way to way


def _blocks(name: str) -> list[tuple[str, float, float]]:
    """Return letter and middle of each block of an arrangement [mm]."""
    x0, y0 = LEVELS[name]
    ways = WAYS[name]
    found = []
    for row, letters in enumerate(ways):
        y = y0 + SHARE * ((len(ways) - 1) / 2 - row)
        found += [(c, x0 + GAP * (k - (len(letters) - 1) / 2), y) for k, c in enumerate(letters)]
    return found


def _lines(name: str) -> list[Points]:
    """Return the lines through the blocks and the two that join the ways [mm]."""
    x0, y0 = LEVELS[name]
    levels = [y0 + SHARE * ((len(WAYS[name]) - 1) / 2 - row) for row in range(len(WAYS[name]))]
    left, right = x0 - HALF + 4, x0 + HALF - 4
    lines = [np.array([(left, y), (right, y)]) for y in levels]
    lines += [np.array([(x, levels[0]), (x, levels[-1])]) for x in (left, right) if len(levels) > 1]
    lines += [np.array([(x0 - HALF, y0), (left, y0)]), np.array([(right, y0), (x0 + HALF, y0)])]
    return lines


def _fixed() -> list[Shape]:
    shapes: list[Shape] = []
    for name, (x0, y0) in LEVELS.items():
        shapes += [Shape(line, "outline", 2) for line in _lines(name)]
        shapes += [
            Shape(rect(x - WIDE / 2, y - HIGH / 2, x + WIDE / 2, y + HIGH / 2), "plate", 3) for _, x, y in _blocks(name)
        ]
        shapes += [Shape(circle(x0 + side * HALF, y0, 1.3), "dark", 3) for side in (-1, 1)]
    return shapes


def _vented(travel: float) -> str:
    """Return the letters that have vented at a place of the slider."""
    return "ABC"[: min(3, int(4 * travel))]


def _moving(travel: float) -> list[Shape]:
    """Return a tint over each block, out of sight until its solenoid has vented."""
    shapes = []
    for name in LEVELS:
        for k, (letter, x, y) in enumerate(_blocks(name)):
            box = rect(x - WIDE / 2 + 0.6, y - HIGH / 2 + 0.6, x + WIDE / 2 - 0.6, y + HIGH / 2 - 0.6)
            hidden = letter not in _vented(travel)
            shapes.append(Shape(np.full_like(box, np.nan) if hidden else box, "air", 3.5, f"vented-{name}-{k}"))
    return shapes


def shut_by(letters: str) -> list[str]:
    """Return the arrangements that shut the valve when these solenoids have vented.

    >>> shut_by("A"), shut_by("AB")
    (['one', 'any of two'], ['one', 'any of two', 'both of two', 'two of three'])
    """
    return [name for name, ways in WAYS.items() if any(set(way) <= set(letters) for way in ways)]


def _says(travel: float) -> str:
    letters = _vented(travel)
    numbers = sorted(str(NUMBER[name]) for name in shut_by(letters))
    who = " and ".join([", ".join(letters[:-1])] * (len(letters) > 1) + [letters[-1:]]) or "none"
    return f"vented: {who}. Shut: {', '.join(numbers) or 'none'}"


def _notes() -> tuple[tuple[float, float, str], ...]:
    letters = [(x, y, letter) for name in LEVELS for letter, x, y in _blocks(name)]
    return (*letters, (66.0, -77.0, "The valve shuts if one whole way from left to right has vented."))


SOLENOID_VOTING = Drawing(
    _fixed,
    _moving,
    (
        NamedPart("one out of one", (LEVELS["one"][0] - HALF, LEVELS["one"][1]), "left"),
        NamedPart("one out of two", (LEVELS["any of two"][0] + HALF, LEVELS["any of two"][1]), "right"),
        NamedPart("two out of two", (LEVELS["both of two"][0] - HALF, LEVELS["both of two"][1]), "left"),
        NamedPart("two out of three", (LEVELS["two of three"][0] + HALF, LEVELS["two of three"][1]), "right"),
    ),
    (8.0, -86.0, 124.0, 16.0),
    2.3,
    says=_says,
    bar=0.0,
    notes=_notes(),
)
