"""A matplotlib figure as SVG with named parts, and the coordinates on the page of the parts that move.

matplotlib draws once. Afterwards a part is moved by its artist's own transform, so what is sent to the page is what
matplotlib would have drawn: points of 1/72 inch, y down.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from typing import Any, TypeAlias

import numpy as np
from matplotlib.artist import Artist
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import PathPatch, Polygon
from matplotlib.path import Path
from matplotlib.text import Text
from matplotlib.transforms import Affine2D
from numpy.typing import ArrayLike, NDArray

from lessons.live.svg_text import svg_text

Place: TypeAlias = ArrayLike | str | tuple[str, ArrayLike]
Moved: TypeAlias = Mapping[str, Place]
Points: TypeAlias = NDArray[np.float64]
Floats32: TypeAlias = NDArray[np.float32]
PageMap: TypeAlias = Callable[[Points], Points]

_BLANK = "\u00a0"  # matplotlib leaves an empty text out of the SVG; the page could not fill it later
_KINDS = "a line or markers (Line2D), Polygon, PathPatch, fill_between or a text"


@dataclass(frozen=True)
class MovingPart:
    """One part that moves: its artist, and what `move` gives for it."""

    name: str
    artist: Any  # each kind of artist has its own way to be moved
    words: bool
    points: bool

    def spec(self) -> dict[str, Any]:
        """Return what the page has to know to move it."""
        artist = self.artist
        line = isinstance(artist, Line2D) and artist.get_linestyle() not in ("None", "none", " ", "")
        marker = isinstance(artist, Line2D) and artist.get_marker() not in ("None", "none", None, " ", "")
        kind = "text" if isinstance(artist, Text) else "line" if isinstance(artist, Line2D) else "shape"
        return {
            "name": self.name,
            "kind": kind,
            "words": self.words,
            "points": self.points,
            "outline": line or kind == "shape",
            "marker": marker,
            "closed": isinstance(artist, PolyCollection) or (isinstance(artist, Polygon) and artist.get_closed()),
            "codes": _codes(artist.get_path()) if isinstance(artist, PathPatch) else "",
        }


class MovingSvg:
    """A drawn figure and its moving parts; the first `moved` fixes which parts move and how."""

    def __init__(self, figure: Figure, moved: Moved, alt: str) -> None:
        self.figure, self.alt = figure, alt
        figure.set_dpi(72)  # the SVG backend's: display coordinates are then points
        named = {a.get_gid(): a for a in figure.findobj(lambda a: a.get_gid() is not None)}
        self.parts = [_part(name, named.get(name), place) for name, place in moved.items()]
        self.svg = self.draw(moved)
        for part in self.parts:
            if self.svg.count(f' id="{escape(part.name)}"') != 1:
                raise ValueError(f"the drawing must have one part {part.name!r}: is the name used twice, or cut off?")
        self._maps = _page_maps([part.artist for part in self.parts if part.points], figure.bbox.height)
        self.specs = self.specs_as_drawn()

    def place(self, moved: Moved) -> None:
        """Set the artists themselves, for a still picture by matplotlib."""
        for part, place in zip(self.parts, self._in_order(moved), strict=True):
            words, points = _split(place)
            at = None if points is None else np.asarray(points, dtype=float).reshape(-1, 2)
            if isinstance(part.artist, Text) and at is not None and not np.isfinite(at).all():
                words, at = "", None  # matplotlib leaves such a text out
            if words is not None:
                part.artist.set_text(words or _BLANK)
            if at is not None:
                _set_points(part.artist, at)

    def frame(self, moved: Moved) -> tuple[Floats32, list[str]]:
        """Coordinates on the page of all parts, each led by its number of points; and the words of the texts."""
        points: list[Points] = []
        words: list[str] = []
        for part, place in zip(self.parts, self._in_order(moved), strict=True):
            said, at = _split(place)
            if part.words:
                words.append(said or "")
            if part.points:
                points.append(np.asarray(at, dtype=float).reshape(-1, 2))
        counts = np.array([len(each) for each in points], dtype=int)
        on_page = self._on_page(np.concatenate([*points, np.zeros((0, 2))]), counts)
        heads = np.cumsum(1 + 2 * counts) - (1 + 2 * counts)
        frame = np.empty(len(counts) + on_page.size, np.float32)
        is_head = np.zeros(len(frame), bool)
        is_head[heads] = True
        frame[is_head], frame[~is_head] = counts, on_page.ravel()
        return frame, words

    def _on_page(self, points: Points, counts: NDArray[np.int_]) -> Points:
        """Take the points of all parts to the page, one call for all parts that share a transform."""
        if len(self._maps) == 1:
            return next(iter(self._maps.values()))[0](points)
        on_page = np.empty_like(points)
        for to_page, parts in self._maps.values():
            rows = np.repeat(parts, counts)
            on_page[rows] = to_page(points[rows])
        return on_page

    def specs_as_drawn(self) -> list[dict[str, Any]]:
        """Return what the page has to know of all parts; of a text also where it was drawn last."""
        specs = [part.spec() for part in self.parts]
        for spec, part in zip(specs, self.parts, strict=True):
            if isinstance(part.artist, Text):
                to_page = _page_map(part.artist, self.figure.bbox.height)
                spec["drawn"] = to_page(np.array([part.artist.get_unitless_position()], dtype=float))[0].tolist()
        return specs

    def _in_order(self, moved: Moved) -> list[Place]:
        names = [part.name for part in self.parts]
        if moved.keys() != set(names):
            odd = ", ".join(sorted(moved.keys() ^ set(names)))
            raise ValueError(f"move must return the same parts each time, but {odd} came only now or only at first.")
        return [moved[name] for name in names]

    def draw(self, moved: Moved) -> str:
        """Draw the picture as SVG, with its parts as given."""
        self.place(moved)
        svg = svg_text(self.figure, self.alt, simplify=False)
        self.figure.set_layout_engine("none")  # longer words must not shift the axes under the parts that are placed
        return svg


def _part(name: str, artist: Artist | None, place: Place) -> MovingPart:
    if artist is None:
        raise ValueError(f"move returned {name!r}, but no artist of the drawing has that gid: set_gid({name!r}).")
    words, points = _split(place)
    if not isinstance(artist, (Line2D, Polygon, PathPatch, PolyCollection, Text)):
        raise ValueError(f"{name!r} is a {type(artist).__name__}, which cannot be moved: use {_KINDS}.")
    if not artist.get_visible():
        raise ValueError(f"{name!r} is invisible and would be missing on the page: give it nan coordinates or ''.")
    if isinstance(artist, Text):
        _check_text(name, artist, words)
    elif words is not None:
        raise ValueError(f"{name!r} is not a text, but move returned words for it: {words!r}.")
    return MovingPart(name, artist, words is not None, points is not None)


def _check_text(name: str, text: Text, words: str | None) -> None:
    if words is None:
        text.set_text(text.get_text() or _BLANK)
        return
    if text.get_rotation() and text.get_rotation_mode() != "anchor":
        raise ValueError(f"the words of {name!r} are turned: give it rotation_mode='anchor', else they shift.")
    if text.get_path_effects():
        raise ValueError(f"{name!r} has path effects, so matplotlib draws it as an outline: its words cannot change.")
    text.set_parse_math(False)


def _split(place: Place) -> tuple[str | None, ArrayLike | None]:
    if isinstance(place, str):
        return _one_line(place), None
    if isinstance(place, tuple) and len(place) == 2 and isinstance(place[0], str):
        return _one_line(place[0]), place[1]
    return None, place


def _one_line(words: str) -> str:
    if "\n" in words:
        raise ValueError(f"words that change must be one line, but got {words!r}: use two texts.")
    return words


def _set_points(artist: Any, points: NDArray[np.float64]) -> None:
    if isinstance(artist, Line2D):
        artist.set_data(*(points if len(points) else np.full((1, 2), np.nan)).T)
    elif isinstance(artist, Text):
        artist.set_position(points[0])
    elif isinstance(artist, PolyCollection):
        artist.set_verts([points])
    elif isinstance(artist, PathPatch):
        old = artist.get_path()
        same = old.codes is not None and len(np.asarray(old.codes)) == len(points)
        artist.set_path(Path(points, old.codes) if same else Path(points))
    else:
        artist.set_xy(points)


def _page_maps(artists: Sequence[Artist], height: float) -> dict[object, tuple[PageMap, NDArray[np.bool_]]]:
    """Sort the artists by their transform: each with its map to the page, and which of the artists have it."""
    maps = [_page_map(artist, height) for artist in artists]
    probe = np.array([[0.1, 0.1], [0.7, 0.2], [0.3, 0.9], [0.5, 0.6]])
    keys = [to_page(probe).round(9).tobytes() for to_page in maps]
    return {key: (maps[keys.index(key)], np.array([each == key for each in keys])) for key in keys}


def _page_map(artist: Any, height: float) -> PageMap:
    """Transform from the artist's own coordinates to the page: those of matplotlib, y turned down."""
    to_display = artist.get_data_transform() if isinstance(artist, (Polygon, PathPatch)) else artist.get_transform()
    to_page: Any = (to_display + Affine2D().scale(1, -1).translate(0, height)).frozen()
    if not to_page.is_affine:
        curved: PageMap = to_page.transform
        return curved
    matrix = to_page.get_matrix()
    turn, shift = matrix[:2, :2].T.copy(), matrix[:2, 2].copy()
    return lambda points: points @ turn + shift


def _codes(path: Path) -> str:
    """One letter a vertex; "-" continues a curve."""
    if path.codes is None:
        return ""
    letters, left = [], 0
    for code in np.asarray(path.codes).tolist():
        letters.append("-" if left else {0: "Z", 1: "M", 2: "L", 3: "Q", 4: "C", 79: "Z"}[code])
        left = left - 1 if left else {3: 1, 4: 2}.get(code, 0)
    return "".join(letters)
