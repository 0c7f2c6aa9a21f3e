"""Lists the ideas that the course asks for too seldom, or that somebody has tried too seldom.

`python -m tests.opportunities` counts the questions of the course; `python -m tests.opportunities FOLDER` counts the tries
that are written down in a working copy.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path

from lessons.notebook.opportunities import ENOUGH, opportunities, tried
from lessons.questions import progress


def listed(counts: Mapping[str, int]) -> list[str]:
    """Return a line for each idea with fewer than enough, the rarest first, and how many have enough."""
    few = sorted((count, idea) for idea, count in counts.items() if count < ENOUGH)
    return [
        *(f"{count}  {idea}" for count, idea in few),
        f"{len(counts) - len(few)} of {len(counts)} ideas have {ENOUGH} opportunities or more.",
    ]


if __name__ == "__main__":
    folder = sys.argv[1:2]
    print("\n".join(listed(tried(progress.load(Path(folder[0]))) if folder else opportunities())))
