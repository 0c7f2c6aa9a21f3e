"""Match questions on the cut-aways: only the parts that are asked carry a number, and no name is written.

The drawings load matplotlib, so they are imported when a picture or a key is wanted, not with the questions.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

from lessons.pictures.cutaways.words import WORDS
from lessons.questions.question import Option

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from lessons.pictures.cutaways.sheet import Drawing


def variant(picture: str, asked: str, spare: str, travel: float = 0.5, words: bool = False) -> dict[str, Any]:
    """Return one variant: a picture, the parts asked and those offered besides, by name between commas.

    With `words` the options say what each part does, not what it is called.
    """
    said = {name: WORDS[name] if words else name for name in split(f"{asked}, {spare}")}
    offered = {f"part{k}": said[name] for k, name in enumerate(split(asked), start=1)}
    offered |= {f"spare{k}": said[name] for k, name in enumerate(split(spare), start=1)}
    return {"picture": picture, "asked": asked, "travel": travel, **offered}


def split(names: str) -> list[str]:
    """Return the names in a text with commas between them.

    >>> split("plug, seat ring")
    ['plug', 'seat ring']
    """
    return [name.strip() for name in names.split(",") if name.strip()]


def part_numbers(count: int) -> tuple[Option, ...]:
    """Return the numbers in the drawing."""
    return tuple(Option(str(number), "") for number in range(1, count + 1))


def part_options(asked: int, spare: int) -> tuple[Option, ...]:
    """Return what is offered: the parts asked and a few more."""
    names = [*(f"part{k}" for k in range(1, asked + 1)), *(f"spare{k}" for k in range(1, spare + 1))]
    return tuple(Option(name, f"{{{name}}}") for name in names)


def key(n: SimpleNamespace) -> Mapping[str, str]:
    """Return which part stands at each number of the drawing."""
    from lessons.pictures.cutaways import sheet

    option = {name: f"part{k}" for k, name in enumerate(split(n.asked), start=1)}
    return {str(call.number): option[call.part.name] for call in sheet.callouts(_drawing(n))}


def figure(n: SimpleNamespace, _units: str) -> Figure:
    """Draw the picture with numbers at the parts asked."""
    from lessons.pictures.cutaways import paper

    return paper.draw(_drawing(n), n.travel, names=False)


def _drawing(n: SimpleNamespace) -> Drawing:
    from lessons.pictures.cutaways.catalogue import PICTURES

    whole, names = PICTURES[n.picture].drawing, split(n.asked)
    return whole._replace(parts=tuple(part for part in whole.parts if part.name in names))


def combinations_of(lists: Sequence[str], spare: str) -> list[tuple[str, str]]:
    """Pair each list of parts with the first of the spare ones that it does not hold itself.

    >>> combinations_of(["plug, stem", "stem, yoke"], "stem, yoke, body")
    [('plug, stem', 'yoke, body'), ('stem, yoke', 'body')]
    """
    return [(asked, ", ".join([s for s in split(spare) if s not in split(asked)][:2])) for asked in lists]
