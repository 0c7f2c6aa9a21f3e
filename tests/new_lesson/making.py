"""Writes the five files of a new lesson, and names it where lessons and live pictures are listed."""

from __future__ import annotations

import builtins
import re
from keyword import iskeyword
from pathlib import Path
from string import Template

import nbformat
from nbformat import NotebookNode

from lessons.notebook import bank
from lessons.notebook.figures import LIVE
from lessons.pictures.cutaways.catalogue import PICTURES
from tests.tidy import stored

PARTS = Path(__file__).parent / "parts"
ROOMS = ("valve", "flow", "drive", "work")
CODE = re.compile(r"(from|ask|live)\b")
LAST_PICTURE = re.compile(r"(^LIVE = \{\n.*?)(?=^\})", re.MULTILINE | re.DOTALL)
LAST_ROW = re.compile(r"(?:^\| \d\d \|.*\n)+", re.MULTILINE)


class RefusedError(ValueError):
    """A lesson that cannot be made; its text says why, and what to do."""


def make(root: Path, topic: str, number: str, room: str, title: str) -> list[Path]:
    """Write a new lesson into a checkout; return the files that were written or changed.

    Raises
    ------
    RefusedError
        If a name cannot be used or is taken; nothing is written then.
    """
    _refuse(topic, number, room, title)
    names = {"topic": topic, "number": number, "room": room, "title": title, "term": f"TODO {topic}"}
    names["notebook"] = f"{number}_{_file_name(title)}"
    texts = {
        root / "lessons" / f"{names['notebook']}.ipynb": stored(_notebook(_filled("notebook.md", names))),
        root / "lessons" / "practice" / room / f"{topic}.py": _filled("practice.py.txt", names),
        root / "grading" / "workorders" / room / f"{topic}.py": _filled("workorders.py.txt", names),
        root / "lessons" / "pictures" / "live" / room / f"{topic}.py": _filled("picture.py.txt", names),
        root / "tests" / "by_hand" / f"{topic}.py": _filled("by_hand.py.txt", names),
    }
    if there := [path for path in texts if path.exists()]:
        raise RefusedError(f"{there[0].relative_to(root)} is there already. Choose another topic or title.")
    texts |= {path: _named(path, names) for path in (root / "lessons/notebook/figures.py", root / "README.md")}
    for path, text in texts.items():
        path.write_text(text, encoding="utf-8")
    return list(texts)


def _refuse(topic: str, number: str, room: str, title: str) -> None:
    """Raise where one of the four words cannot be used."""
    taken = {lesson.notebook[:2]: lesson.topic for lesson in bank.lessons()}
    if not re.fullmatch(r"[a-z][a-z_]+[a-z]", topic) or iskeyword(topic) or hasattr(builtins, topic):
        raise RefusedError(
            f"The topic is a word of small letters that Python does not use, such as “inherent”, but is “{topic}”."
        )
    if topic in {*taken.values(), *LIVE, *PICTURES}:
        raise RefusedError(f"There is a lesson or a picture named “{topic}” already. Choose another topic.")
    if not re.fullmatch(r"\d\d", number) or number in taken:
        free = int(max(taken)) + 1
        raise RefusedError(f"The number has two digits and is not in use, such as {free:02}, but is “{number}”.")
    if room not in ROOMS:
        raise RefusedError(f"The room is one of {', '.join(ROOMS)}, but is “{room}”.")
    if not re.fullmatch(r"[^\W\d_][\w ,:;.()’–-]{2,59}", title) or not _file_name(title):
        raise RefusedError(f"The title has 3 to 60 letters, digits and , : ; . ( ) ’ –, but is “{title}”.")


def _file_name(title: str) -> str:
    """Return a title as a file is named.

    >>> _file_name("Split range: two valves, one signal")
    'split_range_two_valves_one_signal'
    """
    return "_".join(re.findall(r"[a-z0-9]+", title.lower()))


def _filled(part: str, names: dict[str, str]) -> str:
    return Template((PARTS / part).read_text(encoding="utf-8")).substitute(names)


def _notebook(text: str) -> NotebookNode:
    """Read cells parted by lines of dashes; each question gets the box it is answered in."""
    notebook = nbformat.v4.new_notebook()
    for source in text.split("----\n"):
        new_cell = nbformat.v4.new_code_cell if CODE.match(source) else nbformat.v4.new_markdown_cell
        notebook.cells.append(new_cell(source))
        if asked := re.match(r'ask\("(.+)"\)', source):
            notebook.cells.append(nbformat.v4.new_code_cell(f"%%answer {asked[1]}\n"))
    return notebook


def _named(path: Path, names: dict[str, str]) -> str:
    """Return a file in which the new lesson is listed last."""
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".py":
        return LAST_PICTURE.sub(
            lambda found: f'{found[0]}    "{names["topic"]}": "{names["room"]}.{names["topic"]}",\n', text, count=1
        )
    row = f"| {names['number']} | {names['title']} | TODO: what you can do after it |\n"
    return LAST_ROW.sub(lambda found: "".join(sorted([*found[0].splitlines(keepends=True), row])), text, count=1)
