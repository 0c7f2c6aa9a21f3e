"""Finding a card: by what is in front of you, or by a word, which finds glossary and lessons too. Offline."""

from __future__ import annotations

import difflib
import functools
import json
import re
from dataclasses import dataclass
from pathlib import Path

import ipywidgets as widgets

from lessons.card_page.card import Card
from lessons.cards import NAMES, card_named
from lessons.notebook import bank

LESSONS = Path(__file__).parents[1]
MOST = 8  # of a kind shown
_SHORTEST = 4  # letters of a word in which a typing error is looked for
_NEAR = 0.75  # alike to this share: one letter wrong in a word of four


@dataclass(frozen=True)
class Page:
    """Something to be found: its kind, title, a line about it, where it is, and the words in it."""

    kind: str
    title: str
    line: str
    path: str  # from the folder of the cards
    title_words: str
    words: str

    @property
    def card(self) -> str:
        """The card's name; empty for a lesson or a word."""
        return self.path.removesuffix(".ipynb") if self.kind == "job cards" else ""


def groups() -> list[tuple[str, list[Card]]]:
    """Return the cards by what is in front of the reader."""
    found: dict[str, list[Card]] = {}
    for each in map(card_named, NAMES):
        found.setdefault(each.group, []).append(each)
    return list(found.items())


def index() -> str:
    """Return the cards in Markdown, by what is in front of the reader."""
    parts = []
    for group, cards in groups():
        lines = "\n".join(f"- [**{each.title}**]({each.name}.ipynb)  \n  {each.symptom}" for each in cards)
        parts.append(f"### {group}\n\n{lines}")
    return "\n\n".join(parts)


def found(text: str) -> str:
    """Return in Markdown what a word finds."""
    if not text.strip():
        return ""
    kinds = by_kind(text)
    if not kinds:
        return f"Nothing was found for “{_safe(text.strip())}”. Try one plain word, such as leak, stem or noise."
    return "\n\n".join(f"**In {kind}**\n\n" + "\n".join(map(_line, pages)) for kind, pages in kinds.items())


def by_kind(text: str) -> dict[str, list[Page]]:
    """Return the best pages for a word by their kind; no kind where nothing is found."""
    kinds: dict[str, list[Page]] = {"job cards": [], "words explained": [], "lessons": []}
    for page in search(text) if text.strip() else ():
        kinds[page.kind].append(page)
    return {kind: pages[:MOST] for kind, pages in kinds.items() if pages}


def search_box() -> widgets.VBox:
    """Return a box to type a word in, and what it finds."""
    box = widgets.Text(
        placeholder="leak, stem, noise, dead band …",
        description="Find by word",
        style={"description_width": "initial"},
        layout={"width": "min(100%, 30em)"},
    )
    shown = widgets.Output()

    def look(change: dict[str, str]) -> None:
        words = found(change["new"])
        data = {"text/markdown": words, "text/plain": words}
        shown.outputs = ({"output_type": "display_data", "data": data, "metadata": {}},) if words else ()

    box.observe(look, "value")
    return widgets.VBox([box, shown])


def search(text: str) -> list[Page]:
    """Return the pages that hold every word, or its beginning; those that have it in the title first.

    A word that stands nowhere is taken for the nearest ones that do: one typing error is forgiven.
    """
    wanted = [_meant(_fold(word)) for word in _words(text)]
    scored = []
    for number, page in enumerate(_pages()):
        scores = [max((_score(word, page) for word in meant), default=0) for meant in wanted]
        if wanted and all(scores):
            scored.append((-sum(scores), number, page))
    return [page for _, _, page in sorted(scored, key=lambda each: each[:2])]


def _score(word: str, page: Page) -> int:
    return 5 * (f" {word}" in page.title_words) + min(page.words.count(f" {word}"), 4)


def _meant(word: str) -> list[str]:
    """Return the word, or the words that are likely meant where it stands nowhere."""
    if any(f" {word}" in page.words for page in _pages()):
        return [word]
    return difflib.get_close_matches(word, _known(), cutoff=_NEAR) if len(word) >= _SHORTEST else []


@functools.cache
def _known() -> list[str]:
    return sorted({word for page in _pages() for word in page.words.split() if len(word) >= _SHORTEST})


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
        found.append(_page("lessons", bank.title_of(path.stem), "", f"../{path.name}", " ".join(texts)))
    return found


def _page(kind: str, title: str, line: str, path: str, text: str) -> Page:
    return Page(kind, title, line, path, _spaced(title), _spaced(f"{title} {text}"))


def _line(page: Page) -> str:
    return f"- [{page.title}]({page.path}){': ' + page.line if page.line else ''}"


def _spaced(text: str) -> str:
    """Return the words with one space before each, so that a search can ask for the beginning of a word."""
    return " " + " ".join(_fold(word) for word in _words(text))


def _words(text: str) -> list[str]:
    """Split a text into words; won't is one word, typed with either apostrophe or with none.

    >>> _words("It won't close")
    ['It', 'wont', 'close']
    """
    return re.findall(r"\w+", re.sub(r"(?<=\w)['’](?=\w)", "", text))


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
