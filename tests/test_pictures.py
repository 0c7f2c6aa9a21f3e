"""Every picture, closed, half and open: letters to be read, numbers that match, closing parts that really close.

The expected values are invariants of a drawing; no picture is compared with an earlier output of our own.
"""

import itertools
import re
from functools import cache

import numpy as np
import pytest
from matplotlib.lines import Line2D
from matplotlib.path import Path
from matplotlib.text import Text

from lessons import svg_parts
from lessons.pictures import gallery, style
from lessons.pictures.catalogue import PICTURES
from lessons.pictures.labels import cross
from lessons.pictures.words import WORDS

TRAVELS = (0.0, 0.5, 1.0)
TOUCHING = [(n, *pair, 1) for n, p in PICTURES.items() for pair in p.meets]
TOUCHING += [(n, *pair, -1) for n, p in PICTURES.items() for pair in p.meets_open]
drawn = pytest.mark.parametrize("name", PICTURES)
at_travels = pytest.mark.parametrize("travel", TRAVELS)
with_names = pytest.mark.parametrize("names", [True, False])


def texts(figure):
    return [t for t in figure.findobj(Text) if t.get_visible() and t.get_text().strip()]


def shapes(figure):
    return [*figure.axes[0].lines, *figure.axes[0].patches]


def extent(text, renderer):
    box = text.get_bbox_patch()
    text.update_bbox_position_size(renderer)  # else the circle round a number finds its place only when drawn
    return (box or text).get_window_extent(renderer)


@drawn
@at_travels
@with_names
def test_letters_can_be_read(name, travel, names):
    figure = PICTURES[name].draw(travel=travel, names=names)
    renderer, page = figure.canvas.get_renderer(), figure.bbox
    boxes = [(t.get_text(), extent(t, renderer)) for t in texts(figure)]
    for text, box in boxes:
        assert page.x0 <= box.x0 and box.x1 <= page.x1 and page.y0 <= box.y0 and box.y1 <= page.y1, f"clipped: {text}"
    for (one, a), (other, b) in itertools.combinations(boxes, 2):
        assert not a.overlaps(b), f"{one!r} lies on {other!r}"
    # 525 pt are 700 px, so a picture no wider than that is shown at its own size and 8 pt stay 8 pt.
    assert figure.get_figwidth() * 72 <= 525.5
    assert min(t.get_fontsize() for t in texts(figure)) >= style.SMALLEST


@drawn
@at_travels
def test_nothing_is_cut_off_by_the_edge(name, travel):
    figure = PICTURES[name].draw(travel=travel, names=False)
    for artist in shapes(figure):
        points = artist.get_transform().transform_path(artist.get_path()).vertices
        points = points[np.isfinite(points).all(axis=1)]
        inside = (points >= 0).all() and (points <= figure.bbox.max).all()
        assert inside, f"{artist.get_gid() or artist} reaches over the edge at {travel:.0%}"


@drawn
@with_names
def test_numbers_and_names_match_the_part_list(name, names):
    picture = PICTURES[name]
    said = [t.get_text().replace("\n", " ") for t in texts(picture.draw(names=names))]
    parts = picture.parts()
    numbers = sorted(int(s) for s in said if s.isdigit())
    assert numbers == list(range(1, len(parts) + 1)) == [number for number, _, _ in parts]
    shown = [part for _, part, _ in parts if part in said]
    assert shown == ([part for _, part, _ in parts] if names else [])


@drawn
def test_every_part_has_one_plain_sentence(name):
    parts = PICTURES[name].parts()
    assert len({part for _, part, _ in parts}) == len(parts)
    for _, part, does in parts:
        assert does == WORDS[part]
        assert re.fullmatch(r"[A-Z][^.]*\.", does), f"not one sentence: {does}"


@drawn
def test_alternative_text_tells_what_is_numbered(name):
    picture = PICTURES[name]
    sentences = re.findall(r"[^.]+\.(?= |$)", picture.alt)
    assert 1 <= len(sentences) <= 3 and "".join(sentences) == picture.alt
    if picture.parts():
        told = [part for _, part, _ in picture.parts() if part.lower() in picture.alt.lower()]
        assert len(told) >= 3, f"alt text names only {told}"


@drawn
@at_travels
def test_leaders_do_not_cross(name, travel):
    figure = PICTURES[name].draw(travel=travel)
    leaders = {a.get_gid(): a.get_xydata() for a in figure.findobj(lambda a: str(a.get_gid()).startswith("leader-"))}
    led = [part for part in PICTURES[name].drawing.parts if part.side != "here"]
    assert len(leaders) == len(led)
    for one, other in itertools.combinations(leaders, 2):
        assert not cross(*leaders[one], *leaders[other]), f"{one} crosses {other} in {name}"


@cache
def outlines(name, travel):
    """Every part of a drawn picture that has a name of its own, by that name."""
    figure = PICTURES[name].draw(travel=travel, names=False)
    named = {a.get_gid(): a for a in shapes(figure) if a.get_gid()}
    return {g: a.get_xydata() if isinstance(a, Line2D) else a.get_xy() for g, a in named.items()}


def to_edges(points, edges):
    """Distance of each point to an outline [mm]."""
    edges = np.vstack([edges, edges[:1]])
    start, along = edges[:-1], np.diff(edges, axis=0)
    square = np.maximum((along**2).sum(axis=1), 1e-12)
    share = np.clip(((points[:, None] - start) * along).sum(axis=2) / square, 0, 1)
    return np.hypot(*np.moveaxis(points[:, None] - start - share[..., None] * along, 2, 0)).min(axis=1)


def gap(a, b):
    """Least distance between two outlines [mm]."""
    return min(to_edges(a, b).min(), to_edges(b, a).min())


def depth(a, b):
    """How far the corners of one outline reach into another [mm]."""
    return max((to_edges(x, y)[Path(y).contains_points(x)].max(initial=0) for x, y in ((a, b), (b, a))))


@pytest.mark.parametrize(("name", "plug", "seat", "sense"), TOUCHING)
def test_it_really_closes_and_opens(name, plug, seat, sense):
    def gap_at(travel):
        closing, ring = outlines(name, travel)[plug], outlines(name, travel)[seat]
        assert depth(closing, ring) < 0.05, f"{plug} cuts into {seat} at {travel:.0%}"
        return gap(closing, ring)

    gaps = [gap_at(k / 10) for k in range(11)][::sense]
    assert gaps[0] == pytest.approx(0, abs=0.02)  # [mm] metal on metal; the pictures are drawn in millimetres
    assert gaps[1] > 0.02 and np.all(np.diff(gaps) > -1e-9), gaps  # a far gap may stop at the plug's post


@drawn
def test_it_moves_as_it_is_drawn(name):
    """The places a live picture is given are those of a picture drawn at that travel; the parts are always the same."""
    picture = PICTURES[name]
    moved = svg_parts.Picture(picture.draw(travel=0.5), picture.move(0.5), picture.alt)
    for travel in TRAVELS:
        places = picture.move(travel)
        frame, words = moved.frame(places)
        assert frame.size > 0 and words == [places.pop("readout")]
        for gid, points in places.items():
            np.testing.assert_allclose(outlines(name, travel)[gid][: len(points)], points)


@drawn
def test_an_impossible_travel_is_refused_in_a_sentence(name):
    with pytest.raises(ValueError, match=r"travel must be from 0 to 1"):
        PICTURES[name].draw(travel=50)


def test_the_gallery_shows_its_pictures(tmp_path, monkeypatch):
    some = {name: PICTURES[name] for name in ("globe_single", "butterfly")}  # all of them take ten seconds
    monkeypatch.setattr(gallery, "PICTURES", some)
    page = gallery.write(tmp_path).read_text(encoding="utf-8")
    files = re.findall(r'src="([^"]+)"', page)
    assert len(files) == 4 * len(some)
    assert all((tmp_path / f).stat().st_size > 1000 for f in files)
