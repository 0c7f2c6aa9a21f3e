"""Numbered names beside a drawing, with leader lines that do not cross."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from lessons.pictures.cutaways.parts import turn

Point: TypeAlias = Sequence[float] | NDArray[np.float64]


class NamedPart(NamedTuple):
    """One part to be known by name (what it does: `words.py`), and where its leader ends [mm]."""

    name: str
    at: tuple[float, float]
    # "left", "right", "below" the drawing, "here" without a leader; empty: left or right, by the half it is in
    side: str = ""
    rides: tuple[float, float] = (0.0, 0.0)  # [mm] how far that point goes from closed to open
    swings: float = 0.0  # [degrees] how far it turns clockwise from closed to open
    about: tuple[float, float] = (0.0, 0.0)  # [mm] what it turns about


class Callout(NamedTuple):
    """One number: its part, the column it stands in, and where [mm]."""

    number: int
    part: NamedPart
    side: str
    place: tuple[float, float]


def wrapped(name: str, most: int = 17) -> str:
    """Return a name in lines of at most so many letters, broken at spaces."""
    lines = [""]
    for word in name.split(" "):
        if lines[-1] and len(lines[-1]) + 1 + len(word) > most:
            lines.append(word)
        else:
            lines[-1] = f"{lines[-1]} {word}".strip()
    return "\n".join(lines)


def lifted_parts(parts: Iterable[NamedPart], dy: float) -> tuple[NamedPart, ...]:
    """Return parts whose leaders end that much higher."""
    return tuple(p._replace(at=(p.at[0], p.at[1] + dy)) for p in parts)


def end_of(part: NamedPart, travel: float) -> tuple[float, float]:
    """Return where the leader of a part ends at a travel [mm]."""
    x, y = turn([part.at], -travel * part.swings, part.about)[0]
    return (float(x + travel * part.rides[0]), float(y + travel * part.rides[1]))


def placed_callouts(parts: tuple[NamedPart, ...], box: tuple[float, float, float, float], line: float) -> list[Callout]:
    """Place all parts beside or below the box, numbered down the left column, down the right one, then below.

    `line` is the height of a line of text [mm].
    """
    middle = (box[0] + box[2]) / 2
    placed: list[Callout] = []
    for side, x in (("left", box[0]), ("right", box[2])):
        members = [p for p in parts if (p.side or ("left" if p.at[0] < middle else "right")) == side]
        for part, y in column(members, x, (box[1], box[3]), line):
            placed.append(Callout(len(placed) + 1, part, side, (x, y)))
    for part in sorted((p for p in parts if p.side == "below"), key=lambda p: p.at[0]):
        placed.append(Callout(len(placed) + 1, part, "below", (part.at[0], box[1] - 0.8 * line)))
    for part in (p for p in parts if p.side == "here"):
        placed.append(Callout(len(placed) + 1, part, "here", part.at))
    return placed


def column(members: list[NamedPart], x: float, room: tuple[float, float], line: float) -> list[tuple[NamedPart, float]]:
    """Return one column from the top down, its order changed until no two leaders cross."""
    order = sorted(members, key=lambda p: -end_of(p, 0.5)[1])
    levels: list[float] = []
    for _ in range(len(order) ** 2 + 1):
        heights = [line * (wrapped(p.name).count("\n") + 1) + 0.75 * line for p in order]
        levels = spread([end_of(p, 0.5)[1] for p in order], heights, *room)
        crossing = _first_crossing([(p, (x, y)) for p, y in zip(order, levels, strict=True)])
        if crossing is None:
            break
        a, b = crossing
        order[a], order[b] = order[b], order[a]
    return list(zip(order, levels, strict=True))


def spread(wanted: list[float], heights: list[float], low: float, high: float) -> list[float]:
    """Return levels, highest first, as near to the wanted ones as labels of these heights allow."""
    if not wanted:
        return []
    down = np.cumsum(heights) - np.asarray(heights) / 2
    down = down - down[0]
    # Labels that touch move as one block to the mean of what they want (pool adjacent violators).
    blocks: list[list[float]] = []
    for value in np.asarray(wanted) + down:
        blocks.append([value])
        while len(blocks) > 1 and np.mean(blocks[-2]) < np.mean(blocks[-1]):
            blocks[-2:] = [blocks[-2] + blocks[-1]]
    level = np.concatenate([np.full(len(b), np.mean(b)) for b in blocks])
    top, bottom = high - heights[0] / 2, low + heights[-1] / 2 + down[-1]
    return list(np.minimum(np.maximum(level, bottom), top) - down)


def _first_crossing(leaders: list[tuple[NamedPart, tuple[float, float]]]) -> tuple[int, int] | None:
    """Return the first two leaders that cross at any travel."""
    for a, b in combinations(range(len(leaders)), 2):
        (one, start), (other, begin) = leaders[a], leaders[b]
        if any(cross(start, end_of(one, t), begin, end_of(other, t)) for t in (0.5, 0.0, 1.0)):
            return a, b
    return None


def cross(p: Point, q: Point, r: Point, s: Point) -> bool:
    """Return whether the straight lines p-q and r-s cross."""
    return _side(p, q, r) * _side(p, q, s) < 0 and _side(r, s, p) * _side(r, s, q) < 0


def _side(a: Point, b: Point, c: Point) -> float:
    """Return on which side of the line a-b the point c lies, by its sign."""
    (ax, ay), (bx, by), (cx, cy) = a, b, c
    return float((bx - ax) * (cy - ay) - (by - ay) * (cx - ax))
