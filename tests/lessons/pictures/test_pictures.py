"""Every picture, closed, half and open: letters to be read, numbers that match, closing parts that really close.

The expected values are invariants of a drawing; no picture is compared with an earlier output of our own.
"""

import itertools
import re
from functools import cache
from types import SimpleNamespace
from typing import NamedTuple

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.path import Path
from matplotlib.text import Text

from lessons.live import svg_parts
from lessons.pictures import gallery
from lessons.pictures.cutaways import paper
from lessons.pictures.cutaways.catalogue import PICTURES
from lessons.pictures.cutaways.labels import cross
from lessons.pictures.cutaways.words import WORDS
from lessons.pictures.style import LOOKS

TRAVELS = (0.0, 0.5, 1.0)
TOUCHING = [(n, *pair, 1) for n, p in PICTURES.items() for pair in p.meets]
TOUCHING += [(n, *pair, -1) for n, p in PICTURES.items() for pair in p.meets_open]
VIEWS = [*itertools.product(PICTURES, TRAVELS, [True]), *((name, 0.5, False) for name in PICTURES)]
drawn = pytest.mark.parametrize("name", PICTURES)


class Shown(NamedTuple):
    name: str
    travel: float
    names: bool
    figure: Figure


@pytest.fixture(scope="module", params=VIEWS, ids=str)
def shown(request):
    """Every picture closed, half and open, and once with numbers only; drawn once for all that looks at it."""
    name, travel, names = request.param
    return Shown(name, travel, names, PICTURES[name].draw(travel=travel, names=names))


def texts(figure):
    return [t for t in figure.findobj(Text) if t.get_visible() and t.get_text().strip()]


def shapes(figure):
    return [*figure.axes[0].lines, *figure.axes[0].patches]


def outline(artist):
    return artist.get_xydata() if isinstance(artist, Line2D) else artist.get_xy()


def extent(text, renderer):
    box = text.get_bbox_patch()
    text.update_bbox_position_size(renderer)  # else the circle round a number finds its place only when drawn
    return (box or text).get_window_extent(renderer)


def test_letters_can_be_read(shown):
    renderer, page = shown.figure.canvas.get_renderer(), shown.figure.bbox
    boxes = [(t.get_text(), extent(t, renderer)) for t in texts(shown.figure)]
    for text, box in boxes:
        inside = page.x0 <= box.x0 and box.x1 <= page.x1 and page.y0 <= box.y0 and box.y1 <= page.y1
        assert inside, f"clipped: {text}"
    for (one, a), (other, b) in itertools.combinations(boxes, 2):
        assert not a.overlaps(b), f"{one!r} lies on {other!r}"
    # 525 pt are 700 px, so a picture no wider than that is shown at its own size and 8 pt stay 8 pt.
    assert shown.figure.get_figwidth() * 72 <= 525.5
    assert min(t.get_fontsize() for t in texts(shown.figure)) >= 8


def test_nothing_is_cut_off_by_the_edge(shown):
    for artist in shapes(shown.figure):
        points = artist.get_transform().transform_path(artist.get_path()).vertices
        points = points[np.isfinite(points).all(axis=1)]
        inside = (points >= 0).all() and (points <= shown.figure.bbox.max).all()
        assert inside, f"{artist.get_gid() or artist} reaches over the edge"


def test_numbers_and_names_match_the_part_list(shown):
    parts = PICTURES[shown.name].parts()
    said = [t.get_text().replace("\n", " ") for t in texts(shown.figure)]
    numbers = sorted(int(s) for s in said if s.isdigit())
    assert numbers == list(range(1, len(parts) + 1)) == [number for number, _, _ in parts]
    named = [part for _, part, _ in parts if part in said]
    assert named == ([part for _, part, _ in parts] if shown.names else [])


def test_leaders_do_not_cross(shown):
    leaders = {a.get_gid(): outline(a) for a in shapes(shown.figure) if str(a.get_gid()).startswith("leader-")}
    led = [part for part in PICTURES[shown.name].drawing.parts if part.side != "here"]
    assert len(leaders) == len(led)
    for one, other in itertools.combinations(leaders, 2):
        assert not cross(*leaders[one], *leaders[other]), f"{one} crosses {other}"


def test_it_moves_as_it_is_drawn(shown):
    """The places a live picture is given are those of a picture drawn at that travel."""
    places = PICTURES[shown.name].move(shown.travel)
    assert places.pop("readout") in [t.get_text() for t in texts(shown.figure)]
    named = {a.get_gid(): outline(a) for a in shapes(shown.figure) if a.get_gid()}
    assert places
    for gid, points in places.items():
        np.testing.assert_allclose(named[gid][: len(points)], points)


@drawn
def test_a_live_picture_takes_it(name):
    picture = PICTURES[name]
    live = svg_parts.MovingSvg(picture.draw(), picture.move(0.5), picture.alt)
    sizes = {live.frame(picture.move(k / 10))[0].size for k in range(11)}
    assert len(sizes) == 1 and sizes.pop() > 0  # the same parts with as many points at every travel


def test_a_slider_moves_it():
    live = PICTURES["globe_single"].live()
    plug = {a.get_gid(): a for a in shapes(live.figure(travel=1.0))}["plug"]
    np.testing.assert_allclose(outline(plug)[:-1], PICTURES["globe_single"].move(1.0)["plug"])


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


@cache
def fixed(name):
    """Every part of a drawn picture that has a name of its own, by that name."""
    return {a.get_gid(): outline(a) for a in shapes(PICTURES[name].draw(names=False)) if a.get_gid()}


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
        closing, ring = PICTURES[name].move(travel)[plug], fixed(name)[seat]
        assert depth(closing, ring) < 0.05, f"{plug} cuts into {seat} at {travel:.0%}"
        return gap(closing, ring)

    gaps = [gap_at(k / 10) for k in range(11)][::sense]
    assert gaps[0] == pytest.approx(0, abs=0.02)  # [mm] metal on metal; the pictures are drawn in millimetres
    # A far gap may stop at the plug's post, or shrink again as the back of a disc comes round.
    growing = np.diff(gaps)[np.asarray(gaps[:-1]) < 12]
    assert gaps[1] > 0.02 and growing.size and np.all(growing > -1e-9), gaps


@drawn
def test_an_impossible_travel_is_refused_in_a_sentence(name):
    with pytest.raises(ValueError, match=r"travel must be from 0 to 1 .* but got 50"):
        PICTURES[name].move(50)
    with pytest.raises(ValueError, match=r"travel must be from 0 to 1 .* but got -1"):
        PICTURES[name].draw(travel=-1)


def test_the_key_can_be_read_and_tells_every_hatch():
    figure = paper.how_to_read()
    renderer = figure.canvas.get_renderer()
    boxes = [t.get_window_extent(renderer) for t in texts(figure)]
    assert not any(a.overlaps(b) for a, b in itertools.combinations(boxes, 2))
    assert all(figure.bbox.x0 <= b.x0 and b.x1 <= figure.bbox.x1 and b.y0 >= 0 for b in boxes)
    assert {p.get_hatch() for p in shapes(figure) if p in figure.axes[0].patches and p.get_hatch()} == {
        look.hatch for look in LOOKS.values() if look.hatch
    }


def test_no_two_materials_look_alike():
    """Filled looks differ in colour or hatch; the two castings that meet are hatched in opposite directions."""
    filled = [(n, look) for n, look in LOOKS.items() if look.fill and look.says]
    for (one, a), (other, b) in itertools.combinations(filled, 2):
        assert (a.fill, a.hatch) != (b.fill, b.hatch), f"{one} looks like {other}"
    assert LOOKS["body"].hatch.replace("/", "\\") == LOOKS["bonnet"].hatch


def test_the_gallery_shows_its_pictures(tmp_path, monkeypatch):
    some = {name: PICTURES[name] for name in ("globe_single", "butterfly")}  # all of them take ten seconds
    monkeypatch.setattr(gallery, "PICTURES", some)
    one = SimpleNamespace(name="lessons.pictures.live.flow.inherent_curves", ispkg=False)
    monkeypatch.setattr(gallery.pkgutil, "walk_packages", lambda *_: [one])
    page = gallery.write(tmp_path).read_text(encoding="utf-8")
    files = re.findall(r'src="([^"]+)"', page)
    assert len(files) == 1 + 4 * len(some) + 1  # the key, the cut-aways, the live picture
    assert all((tmp_path / f).stat().st_size > 1000 for f in files)


def test_a_full_bore_ball_stays_shut_for_its_lap_and_is_as_wide_as_the_pipe_when_open():
    """By hand: the hole, 25 mm in a ball of 40, ends asin(25/40) = 38.68° from its axis; so does each seat.

    Shut, 90° lie between the axes, so the edges pass after 90 − 2·38.68 = 12.64°.
    """
    ball = PICTURES["full_bore_ball"]
    contact = np.array([-np.sqrt(40**2 - 25**2), -25.0])

    def edge_above_contact(degrees):
        """How far along the ball its edge has gone past the lower lip of the first seat [degrees]."""
        places = ball.move(degrees / 90)["ball-left"]
        edge = np.degrees(np.arctan2(*places[-1][::-1])) % 360
        return np.degrees(np.arctan2(*contact[::-1])) % 360 - edge

    assert edge_above_contact(12.5) < 0 < edge_above_contact(12.8)
    assert np.isnan(ball.move(10 / 90)["flow-near"]).all() and np.isfinite(ball.move(20 / 90)["flow-near"]).all()
    open_ = ball.move(1.0)
    assert open_["ball-left"][[0, -1], 1] == pytest.approx([25, 25])
    assert open_["ball-right"][[0, -1], 1] == pytest.approx([-25, -25])


def test_a_double_offset_disc_leaves_its_seat_at_both_sides_alike():
    """Two offsets: at a hundredth of its way the disc is off the seat above and below; a centred one still rubs."""
    for seat in ("seat-top", "seat-bottom"):
        assert (
            gap(PICTURES["double_offset_butterfly"].move(0.03)["disc"], fixed("double_offset_butterfly")[seat]) > 0.02
        )
        assert gap(PICTURES["butterfly"].move(0.03)["disc"], fixed("butterfly")[seat]) < 0.05
