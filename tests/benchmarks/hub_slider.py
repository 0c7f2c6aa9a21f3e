"""A slider moved as the page of a lesson moves it: what `live.js` and `requests.js` ask the kernel, and when.

A slider that is taken in hand asks for its whole range; frames that came are shown without the kernel, others are asked
for, at most four under way. After release the kernel is told once. A move counts from its place to the first picture
of that place or of a later one, as an apprentice sees it.
"""

from __future__ import annotations

import itertools
import json
import time
import uuid
from collections.abc import Iterator

from tests.benchmarks.hub_client import Client, Heard

HELD, MOVES, PER_SECOND, TOLD_AFTER, REST = 0.15, 40, 20, 0.12, 3.0  # s, -, 1/s, s, s
TURN = HELD + MOVES / PER_SECOND + TOLD_AFTER + REST  # s: one slider, and looking at what it did
MOST_FLYING = 4  # as in requests.js


class Slides:
    """The page's side of one live picture: the frames it has, what is under way, and the moves not shown yet."""

    def __init__(self, client: Client) -> None:
        shown = client.pictures[0]
        self.client, self.model, self.counts = client, shown.model, shown.counts
        self.positions = list(shown.positions)
        self.ways = [_to_and_fro(count, at) for count, at in zip(shown.counts, shown.positions, strict=True)]
        self.ahead: list[tuple[str, set[int]]] = [("", set()) for _ in shown.counts]
        self.me = uuid.uuid4().hex
        self.asked: dict[int, tuple[list[int], int]] = {}  # request -> the places, and the move it was asked for
        self.sent = self.done = self.outdated = self.moves = 0
        self.waiting = self.unsynced = False
        self.belongs: list[int] | None = list(self.positions)
        self.open: list[tuple[int, float]] = []  # moves whose picture is not there yet, and when they were
        self.took: list[float] = []

    def turn(self, k: int) -> list[float]:
        """Take a slider in hand, move it, let it go, look; return how long the picture of each move took [s]."""
        self.took = []
        self.hold(k)
        self.listen(HELD)
        begun = time.perf_counter()
        for n in range(MOVES):
            self.listen(begun + n / PER_SECOND - time.perf_counter())
            self.move(k)
        self.listen(TOLD_AFTER)
        if self.unsynced:
            self.ask()
        self.listen(REST)
        now = time.perf_counter()
        return self.took + [now - at for _, at in self.open]  # those never shown, as long as was waited for them

    def hold(self, k: int) -> None:
        key = json.dumps([k, "si", [None if i == k else p for i, p in enumerate(self.positions)]])
        if self.ahead[k][0] != key:
            self.ahead[k] = key, set()
            self.tell({"kind": "sweep", "slider": k, "positions": self.positions, "units": "si", "key": key})

    def move(self, k: int) -> None:
        self.positions[k] = next(self.ways[k])
        self.moves += 1
        self.open.append((self.moves, time.perf_counter()))
        key = json.dumps([k, "si", [None if i == k else p for i, p in enumerate(self.positions)]])
        if self.ahead[k][0] == key and self.positions[k] in self.ahead[k][1]:
            self.unsynced, self.outdated, self.belongs = True, self.sent, list(self.positions)
            self.shown(self.moves)
        else:
            self.ask()
            self.hold(k)

    def ask(self) -> None:
        self.unsynced, self.waiting = False, self.sent - self.done >= MOST_FLYING
        if not self.waiting:
            self.sent += 1
            self.asked[self.sent] = list(self.positions), self.moves
            self.tell({"kind": "ask", "from": self.me, "seq": self.sent, "positions": self.positions, "units": "si"})

    def tell(self, content: dict[str, object]) -> None:
        self.client.send("comm_msg", {"comm_id": self.model, "data": {"method": "custom", "content": content}})

    def listen(self, seconds: float) -> None:
        """Take in what comes for so long."""
        end = time.perf_counter() + seconds
        while (left := end - time.perf_counter()) > 0:
            if heard := self.client.hear(left):
                self.take(heard)

    def take(self, heard: Heard) -> None:
        if heard.kind != "comm_msg" or heard.content["comm_id"] != self.model:
            return
        told = heard.content["data"].get("content", {})
        if told.get("kind") == "sweep":
            for key, there in self.ahead:
                if key == told["key"]:
                    there.update(told["at"])
        elif told.get("kind") == "shown" and told["shown"]["from"] == self.me:
            self.replied(told["shown"]["seq"])

    def replied(self, seq: int) -> None:
        places, move = self.asked[seq]
        fits = places == self.positions
        if self.belongs != self.positions and (fits or seq > self.outdated):
            self.belongs = places if fits else None
            self.shown(move)
        self.done = max(self.done, seq)
        if self.waiting or (self.done == self.sent and self.belongs != self.positions):
            self.ask()

    def shown(self, move: int) -> None:
        now = time.perf_counter()
        self.took += [now - at for number, at in self.open if number <= move]
        self.open = [each for each in self.open if each[0] > move]


def _to_and_fro(count: int, start: int) -> Iterator[int]:
    """Give the next places of a slider that goes up from its start, down at the end, and so on."""
    around = [*range(start + 1, count), *range(count - 2, -1, -1), *range(1, start + 1)]
    return itertools.cycle(around)
