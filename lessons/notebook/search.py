"""Finding a card: by what is in front of you, or by a word, which finds glossary and lessons too. Offline."""

from __future__ import annotations

import functools
import json
import re
from dataclasses import dataclass
from pathlib import Path

import ipywidgets as widgets

from lessons.cards import NAMES, card_named
from lessons.notebook import bank

LESSONS = Path(__file__).parents[1]
MOST = 8  # of a kind shown


@dataclass(frozen=True)
class Page:
    """Something to be found: its kind, title, a line about it, where it is, and the words in it."""

    kind: str
    title: str
    line: str
    path: str  # from the folder of the cards
    title_words: str
    words: str


def index() -> str:
    """Return the cards in Markdown, by what is in front of the reader."""
    groups: dict[str, list[str]] = {}
    for name in NAMES:
        each = card_named(name)
        groups.setdefault(each.group, []).append(f"- [**{each.title}**]({name}.ipynb)  \n  {each.symptom}")
    return "\n\n".join(f"### {group}\n\n" + "\n".join(lines) for group, lines in groups.items())


def found(text: str, *, lab: bool = True) -> str:
    """Return in Markdown what a word finds; links to lessons only where lessons can be opened."""
    if not text.strip():
        return ""
    pages = search(text)
    if not pages:
        return f"Nothing was found for “{_safe(text.strip())}”. Try one plain word, such as leak, stem or noise."
    parts = [
        f"**In {kind}**\n\n" + "\n".join(_line(page, lab) for page in group) for kind, group in _grouped(pages).items()
    ]
    return "\n\n".join(parts)


def by_kind(text: str) -> dict[str, list[Page]]:
    """Return the best pages for a word by their kind; no kind where nothing is found."""
    return _grouped(search(text)) if text.strip() else {}


def _grouped(pages: list[Page]) -> dict[str, list[Page]]:
    kinds = ("job cards", "words explained", "lessons")
    groups = {kind: [page for page in pages if page.kind == kind][:MOST] for kind in kinds}
    return {kind: group for kind, group in groups.items() if group}


def search_box(*, lab: bool = True) -> widgets.VBox:
    """Return a box to type a word in, and what it finds."""
    box = widgets.Text(
        placeholder="leak, stem, noise, dead band …",
        description="Find by word",
        style={"description_width": "initial"},
        layout={"width": "min(100%, 30em)"},
    )
    shown = widgets.Output()

    def look(change: dict[str, str]) -> None:
        words = found(change["new"], lab=lab)
        data = {"text/markdown": words, "text/plain": words}
        shown.outputs = ({"output_type": "display_data", "data": data, "metadata": {}},) if words else ()

    box.observe(look, "value")
    return widgets.VBox([box, shown])


def search(text: str) -> list[Page]:
    """Return the pages that hold every word, or its beginning; those that have it in the title first."""
    wanted = [_fold(word) for word in re.findall(r"\w+", text)]
    scored = []
    for number, page in enumerate(_pages()):
        scores = [_score(word, page) for word in wanted]
        if wanted and all(scores):
            scored.append((-sum(scores), number, page))
    return [page for _, _, page in sorted(scored, key=lambda each: each[:2])]


def _score(word: str, page: Page) -> int:
    return 5 * (f" {word}" in page.title_words) + min(page.words.count(f" {word}"), 4)


@functools.cache
def _pages() -> tuple[Page, ...]:
    return (*_cards(), *_terms(), *_lessons())


def _cards() -> list[Page]:
    found = []
    for each in map(card_named, NAMES):
        text = " ".join(
            (
                each.symptom,
                each.words,
                each.group,
                *each.changes,
                *each.cautions,
                *(f.label for f in each.fields),
            )
        )
        found.append(_page("job cards", each.title, each.symptom, f"{each.name}.ipynb", text))
    return found


def _terms() -> list[Page]:
    return [
        _page("words explained", term, said, f"../{lesson.notebook}.ipynb", said)
        for lesson in bank.lessons()
        for term, said in lesson.terms.items()
    ]


def _lessons() -> list[Page]:
    found = []
    for path in sorted(LESSONS.glob("[0-9]*.ipynb")):
        texts = [
            "".join(cell["source"])
            for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]
            if cell["cell_type"] == "markdown"
        ]
        title = texts[0].splitlines()[0].lstrip("# ") if texts else path.stem
        found.append(_page("lessons", title, "", f"../{path.name}", " ".join(texts)))
    return found


def _page(kind: str, title: str, line: str, path: str, text: str) -> Page:
    return Page(kind, title, line, path, _spaced(title), _spaced(f"{title} {text}"))


def _line(page: Page, lab: bool) -> str:
    name = f"[{page.title}]({page.path})" if lab or page.kind == "job cards" else f"**{page.title}**"
    return f"- {name}{': ' + page.line if page.line else ''}"


def _spaced(text: str) -> str:
    """Return the words with one space before each, so that a search can ask for the beginning of a word."""
    return " " + " ".join(_fold(word) for word in re.findall(r"\w+", text))


def _fold(word: str) -> str:
    """Take case and a plural away.

    >>> _fold("Valves"), _fold("class")
    ('valve', 'class')
    """
    word = word.casefold()
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


def _safe(text: str) -> str:
    """Keep typed text from being read as Markdown or HTML."""
    return re.sub(r"[^\w\s.,-]", " ", text)[:60]
