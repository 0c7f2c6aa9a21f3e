"""`python -m tests.new_lesson TOPIC NN ROOM "Title"`: makes a new lesson, and says what to do next."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from tests.new_lesson.making import ROOMS, RefusedError, make

ROOT = Path(__file__).parents[2]
NEXT = """Now write it, as DEVELOPERS.md says under “How to write a lesson”:
    python -m tests.edit              opens the notebooks in JupyterLab
    python -m tests.tidy --check      names what is still to be written"""


def main(arguments: list[str] | None = None, root: Path = ROOT) -> int:
    """Make a new lesson; return an exit code."""
    parser = argparse.ArgumentParser(prog="python -m tests.new_lesson", description="Make a new lesson.")
    parser.add_argument("topic", metavar="TOPIC", help="one word that ties its files together, such as inherent")
    parser.add_argument("number", metavar="NN", help="its number, two digits")
    parser.add_argument("room", metavar="ROOM", help=f"one of {', '.join(ROOMS)}")
    parser.add_argument("title", metavar="TITLE", help="what stands above it, in quotation marks")
    options = parser.parse_args(arguments)
    try:
        written = make(root, options.topic, options.number, options.room, options.title)
    except RefusedError as refused:
        print(f"{refused} Nothing was written.")
        return 1
    print("\n".join(f"wrote {path.relative_to(root)}" for path in written))
    print(NEXT)
    return 0


if __name__ == "__main__":
    sys.exit(main())
