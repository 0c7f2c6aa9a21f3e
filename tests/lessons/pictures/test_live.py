"""Live pictures without a browser: coordinates against matplotlib's own drawing, messages, sweeps, exported pages."""

from __future__ import annotations

import base64
import json
import re
import xml.etree.ElementTree as ET
import zlib

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch, Polygon, Rectangle
from matplotlib.path import Path

from lessons.live.axis_units import unit_axis
from lessons.live.engine import LivePicture, on_page
from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.live.svg_parts import MovingSvg
from lessons.units.readout import in_trade_unit, to_decimals

SVG = "{http://www.w3.org/2000/svg}"
X = np.linspace(0, 1, 11)
TRAVEL = Slider("travel", "travel", 0, 1, 0.01, 0.5, "%")
PRESSURE = Slider("p1", "inlet pressure", 1e5, 1e6, 1e4, 6e5, "bar")


def draw() -> Figure:
    """One of each kind of part, on linear, logarithmic and second axes."""
    figure = Figure(figsize=(7, 5), layout="constrained")
    left, right = figure.subplots(1, 2)
    left.set(xlim=(0, 1), ylim=(0, 1), xlabel="travel")
    right.set(xlim=(1, 100), ylim=(1, 100), xscale="log", yscale="log")
    left.plot(X, X, gid="line")
    left.plot(X, X, "s", gid="markers")
    left.add_patch(Polygon([[0, 0], [1, 0], [1, 1]], gid="polygon"))
    left.add_patch(PathPatch(Path([[0, 0], [0, 1], [1, 1], [1, 0], [0, 0]], [1, 4, 4, 4, 79]), gid="curved"))
    left.fill_between(X, X, gid="fill")
    left.text(0.5, 0.5, "start", ha="center", gid="words")
    left.text(0.5, 0.5, "", ha="right", gid="placed")
    right.plot(X + 1, X + 1, gid="logline")
    right.plot([1, 1], [0, 1], transform=right.get_xaxis_transform(), gid="blended")
    return figure


def move(travel: float, p1: float = 6e5, *, units: str = "si") -> dict[str, object]:
    y = travel * X
    return {
        "line": np.column_stack([X, np.where(np.abs(X - 0.5) < 0.01, np.nan, y)]),
        "markers": np.column_stack([X, y])[2:5],
        "polygon": [[0.1, 0.1], [0.9, 0.1], [0.9, travel]],
        "curved": [[0, 0], [0, travel], [1, travel], [1, 0], [0, 0]],
        "fill": np.column_stack([X, y]),
        "words": to_decimals(p1, "bar", units, 1),
        "placed": (f"{travel:.2f}", (travel, 0.5)),
        "logline": np.column_stack([1 + 50 * X, 1 + 50 * y]),
        "blended": [[1 + 50 * travel, 0], [1 + 50 * travel, 1]],
    }


def moving() -> MovingPicture:
    return MovingPicture(draw, move, [TRAVEL, PRESSURE], alt="A test picture", units="si")


def live(**options: object) -> LivePicture:
    return on_page(moving(), **options)  # type: ignore[arg-type]


def split_frame(frame: np.ndarray, names: list[str]) -> dict[str, np.ndarray]:
    parts, at = {}, 0
    for name in names:
        end = at + 1 + 2 * int(frame[at])
        parts[name] = frame[at + 1 : end].reshape(-1, 2)
        at = end
    assert at == len(frame)
    return parts


def drawn_points(svg: str, name: str) -> np.ndarray:
    """What matplotlib drew for a part: vertices of its path, or places of its markers or text."""
    group = ET.fromstring(svg)  # noqa: S314  our own drawing
    group = group.find(f".//{SVG}g[@id='{name}']")
    uses = group.findall(f".//{SVG}use")
    if uses:
        return np.array([[float(use.get("x")), float(use.get("y"))] for use in uses])
    text = group.find(f".//{SVG}text")
    if text is not None:
        return np.array([[float(text.get("x")), float(text.get("y"))]])
    numbers = re.findall(r"-?\d+\.?\d*(?:e-?\d+)?", group.find(f".//{SVG}path").get("d"))
    return np.array(numbers, dtype=float).reshape(-1, 2)


# Oracle: matplotlib's own SVG of the same figure with its artists moved by their own setters.
@pytest.mark.parametrize("name", ["line", "markers", "polygon", "curved", "logline", "blended"])
@pytest.mark.parametrize("travel", [0.2, 1.0])
def test_coordinates_are_where_matplotlib_draws(name: str, travel: float) -> None:
    picture = MovingSvg(draw(), move(0.5), "alt")
    points = split_frame(picture.frame(move(travel))[0], [p.name for p in picture.parts if p.points])[name]
    seen = drawn_points(picture.draw(move(travel)), name)
    points = points[~np.isnan(points).any(axis=1)]
    # A closed outline: matplotlib leaves the closing point out ("z"), and so does the page.
    assert np.allclose(points[: len(seen)], seen, atol=2e-4)
    assert len(points) - len(seen) == (1 if name == "curved" else 0)


def test_fill_covers_what_matplotlib_fills() -> None:
    picture = MovingSvg(draw(), move(0.5), "alt")
    points = split_frame(picture.frame(move(0.8))[0], [p.name for p in picture.parts if p.points])["fill"]
    assert np.allclose(drawn_points(picture.draw(move(0.8)), "fill")[: len(points)], points, atol=2e-4)


def test_text_moves_as_far_as_matplotlib_moves_it() -> None:
    picture = MovingSvg(draw(), move(0.5), "alt")
    spec = next(s for s in picture.specs if s["name"] == "placed")
    names = [p.name for p in picture.parts if p.points]
    shift = split_frame(picture.frame(move(0.9))[0], names)["placed"][0] - spec["drawn"]
    seen = drawn_points(picture.draw(move(0.9)), "placed") - drawn_points(picture.svg, "placed")
    assert np.allclose(shift, seen[0], atol=2e-3)


def test_coordinates_by_hand() -> None:
    figure = Figure(figsize=(10, 5))  # 720 by 360 points
    figure.add_axes((0, 0, 1, 1), xlim=(0, 1), ylim=(0, 1)).plot([0, 0], [0, 0], gid="dot", marker="o", ls="")
    frame, _ = MovingSvg(figure, {"dot": (0.0, 0.0)}, "alt").frame({"dot": (0.5, 0.25)})
    assert frame.tolist() == [1, 360, 270]  # x 0.5 · 720; y, downwards, (1 − 0.25) · 360


def test_an_empty_text_is_there_to_be_filled() -> None:
    figure = Figure()
    figure.text(0, 0, "", gid="words")
    assert 'id="words"' in MovingSvg(figure, {"words": ""}, "alt").svg


def test_a_picture_drawn_elsewhere_in_between_still_moves_right() -> None:
    """A text's place as drawn must be that of the drawing the page gets, not of the last one asked for."""
    picture = live()
    picture._moving.figure(travel=1.0)
    page, _ = page_data(picture._repr_mimebundle_()[0]["text/html"])
    spec = next(s for s in page["parts"] if s["name"] == "placed")
    assert np.allclose(spec["drawn"], next(s for s in picture._page["parts"] if s["name"] == "placed")["drawn"])


def test_longer_words_do_not_shift_the_axes() -> None:
    picture = MovingSvg(draw(), move(0.5), "alt")
    before = drawn_points(picture.svg, "line")
    picture.figure.axes[0].set_ylabel("a label that was not there\nwhen the picture was laid out")
    assert np.allclose(drawn_points(picture.draw(move(0.5)), "line"), before)


def test_svg_has_name_and_role_and_is_well_formed() -> None:
    svg = ET.fromstring(MovingSvg(draw(), move(0.5), 'Flow < "rated" & rising').svg)  # noqa: S314
    assert svg.get("role") == "img"
    assert svg.get("aria-label") == 'Flow < "rated" & rising'


@pytest.mark.parametrize(
    ("artist", "place", "said"),
    [
        (None, [[0, 0]], "no artist of the drawing has that gid"),
        (Rectangle((0, 0), 1, 1), [[0, 0]], "is a Rectangle, which cannot be moved"),
        (Polygon([[0, 0], [1, 1]]), "words", "is not a text"),
        (Polygon([[0, 0], [1, 1]], visible=False), [[0, 0]], "is invisible"),
    ],
)
def test_a_part_that_cannot_move_is_refused(artist: Polygon | None, place: object, said: str) -> None:
    figure = Figure()
    if artist is not None:
        artist.set_gid("part")
        figure.subplots().add_patch(artist)
    with pytest.raises(ValueError, match=said):
        MovingSvg(figure, {"part": place}, "alt")  # type: ignore[dict-item]


def test_a_name_used_twice_is_refused() -> None:
    figure = Figure()
    figure.text(0, 0, "a", gid="part")
    figure.text(0, 1, "b", gid="part")
    with pytest.raises(ValueError, match="one part 'part'"):
        MovingSvg(figure, {"part": "words"}, "alt")


def test_parts_can_be_hidden_from_the_start() -> None:
    hidden = {
        **move(0.5),
        **{name: [[np.nan, np.nan]] * 4 for name in ("line", "markers", "polygon", "fill", "logline")},
    }
    picture = MovingSvg(draw(), {**hidden, "placed": ("gone", (np.nan, 0.5))}, "alt")
    assert "gone" not in picture.svg
    shown = split_frame(picture.frame(move(0.5))[0], [p.name for p in picture.parts if p.points])
    expected = MovingSvg(draw(), move(0.5), "alt")
    wanted = split_frame(expected.frame(move(0.5))[0], list(shown))
    assert all(np.array_equal(shown[name], wanted[name], equal_nan=True) for name in shown)


@pytest.mark.parametrize(
    ("options", "words", "said"),
    [({"rotation": 90}, "a", "rotation_mode"), ({}, "two\nlines", "one line")],
)
def test_words_that_would_shift_are_refused(options: dict[str, float], words: str, said: str) -> None:
    figure = Figure()
    figure.text(0, 0, "a", gid="part", **options)
    with pytest.raises(ValueError, match=said):
        MovingSvg(figure, {"part": words}, "alt")


def test_move_must_keep_its_parts() -> None:
    picture = MovingSvg(draw(), move(0.5), "alt")
    with pytest.raises(ValueError, match="line came only now or only at first"):
        picture.frame({k: v for k, v in move(0.5).items() if k != "line"})


@pytest.mark.parametrize(("sliders", "alt"), [([], "x"), ([TRAVEL] * 4, "x"), ([TRAVEL], " ")])
def test_too_few_or_many_sliders_or_no_alt(sliders: list[Slider], alt: str) -> None:
    with pytest.raises(ValueError, match=r"slider|alternative text"):
        MovingPicture(draw, move, sliders, alt=alt, units="si")


# ---- messages between page and kernel -----------------------------------------------------------------------------


def asked(seq: int, positions: list[int], units: str = "si") -> dict[str, object]:
    return {"kind": "ask", "from": "page", "seq": seq, "positions": positions, "units": units}


def test_a_move_is_answered_with_frame_words_and_values() -> None:
    picture = live()
    picture._heard(None, asked(3, [80, 0], "us"), None)
    frame, words = picture._moving._picture.frame(move(0.8, 1e5, units="us"))
    assert picture._frame == frame.tobytes()
    assert picture._shown["words"] == words == ["14.5 psi", "0.80"]  # 1 bar = 14.5038 psi
    assert (picture._shown["from"], picture._shown["seq"]) == ("page", 3)
    assert picture.values == {"travel": 0.8, "p1": 1e5}
    assert picture.units == "us"


def test_one_message_for_a_move() -> None:
    picture, sent = live(), []
    picture._send = lambda message, buffers=None: sent.append((message, buffers))  # type: ignore[method-assign]
    picture._heard(None, asked(1, [80, 0]), None)
    shown = {"kind": "shown", "shown": picture._shown}
    assert sent == [({"method": "custom", "content": shown}, [picture._frame])]


def test_the_state_a_reopened_page_gets_is_what_is_shown() -> None:
    picture = live()
    picture._heard(None, asked(1, [80, 0]), None)
    state = picture.get_state()
    assert (state["_shown"]["positions"], bytes(state["_frame"])) == ([80, 0], picture._frame)


def test_the_same_place_again_is_still_answered() -> None:
    picture = live()
    picture._heard(None, asked(1, [80, 0]), None)
    before = picture._shown["count"]
    picture._heard(None, asked(2, [80, 0]), None)
    assert picture._shown["count"] == before + 1


def test_a_value_the_numbers_refuse_gives_a_sentence_and_keeps_the_picture() -> None:
    def fussy(travel: float) -> dict[str, object]:
        if travel > 0.9:
            raise ValueError("the valve chokes here.")
        return {"line": [[0, travel], [1, 1]]}

    picture = on_page(MovingPicture(draw, fussy, [TRAVEL], alt="alt", units="si"))
    before = picture._frame
    picture._heard(None, asked(1, [95]), None)
    assert picture._shown["problem"] == "The picture cannot be drawn at this value: the valve chokes here."
    assert picture._frame == before
    page, _ = page_data(picture._repr_mimebundle_()[0]["text/html"])  # shown anew now: the last place it could go to
    assert "50 %" in page["sliders"][0]["readouts"]["si"]
    picture._heard(None, asked(2, [50]), None)
    assert picture._shown["problem"] == ""


def test_units_from_python_change_the_words() -> None:
    picture = live()
    picture.units = "us"
    assert picture._shown["words"][0] == "87.0 psi"  # 6 bar = 87.0226 psi
    assert picture._shown["units"] == "us"


def test_a_sweep_holds_the_frame_of_every_position(monkeypatch: pytest.MonkeyPatch) -> None:
    picture, frames = live(), {}

    def send(content: dict[str, object], buffers: list[bytes]) -> None:
        data, at = np.frombuffer(buffers[0], np.float32), 0
        assert content["key"] == "k"
        for position, size, words in zip(content["at"], content["sizes"], content["words"], strict=True):
            frames[position] = data[at : at + size], words
            at += size

    monkeypatch.setattr(picture, "send", send)
    picture._heard(None, {"kind": "sweep", "slider": 0, "key": "k", "positions": [50, 10], "units": "us"}, None)
    assert next(iter(frames)) == 50  # nearest first
    assert sorted(frames) == list(range(101))
    for position, (frame, words) in frames.items():
        expected, said = picture._moving._picture.frame(move(TRAVEL.value(position), PRESSURE.value(10), units="us"))
        assert np.array_equal(frame, expected, equal_nan=True)
        assert words == said


def test_a_sweep_too_big_is_not_sent(monkeypatch: pytest.MonkeyPatch) -> None:
    picture = live()
    monkeypatch.setattr("lessons.live.engine._MOST_SWEEP_FLOATS", 100)
    monkeypatch.setattr(picture, "send", lambda *_: pytest.fail("sent"))
    picture._heard(None, {"kind": "sweep", "slider": 0, "key": "k", "positions": [50, 10], "units": "si"}, None)


def test_figure_at_other_values() -> None:
    line = next(line for line in moving().figure(travel=1.0).axes[0].lines if line.get_gid() == "line")
    assert line.get_ydata()[-1] == 1.0


# ---- pages without a kernel ---------------------------------------------------------------------------------------


def test_the_bundle_has_widget_page_still_picture_and_words() -> None:
    data, _ = live()._repr_mimebundle_()
    assert data["text/plain"] == "A test picture"
    assert "application/vnd.jupyter.widget-view+json" in data
    assert 'aria-label="A test picture"' in data["image/svg+xml"]
    assert "inlet pressure" in data["text/html"]
    assert "6.0 bar" in data["text/html"] or "6 bar" in data["text/html"]


def page_data(html: str) -> tuple[dict[str, object], dict[str, object]]:
    found = re.search(r'still\(document\.getElementById\("[^"]+"\), (\{.*\})\);</script>$', html, re.DOTALL)
    page, end = json.JSONDecoder().raw_decode(found[1])
    return page, json.JSONDecoder().raw_decode(found[1][end + 2 :])[0]


def test_the_page_holds_the_frames_of_each_sweep() -> None:
    picture = live()
    page, packed = page_data(picture._repr_mimebundle_()[0]["text/html"])
    all_frames = np.frombuffer(zlib.decompress(base64.b64decode(packed["data"])), np.float32)
    ends = np.cumsum(packed["sizes"])
    for k, slider in enumerate((TRAVEL, PRESSURE)):
        readouts = page["sliders"][k]["readouts"]["us"]
        assert readouts[packed["start"][k]] == slider.readouts("us")[slider.position(slider.start)]
        for readout, number in zip(readouts, packed["frames"]["us"][k], strict=True):
            position = slider.readouts("us").index(readout)
            values = {"travel": 0.5, "p1": 6e5, slider.name: slider.value(position)}
            expected, words = picture._moving._picture.frame(move(**values, units="us"))
            frame = all_frames[ends[number] - packed["sizes"][number] : ends[number]]
            assert np.allclose(frame, expected, atol=1 / 32, equal_nan=True)
            assert packed["words"][number] == words


def test_the_page_leaves_out_what_the_numbers_refuse() -> None:
    def fussy(travel: float) -> dict[str, object]:
        if travel > 0.7:
            raise ValueError("the valve chokes here.")
        return {"line": [[0, travel], [1, 1]]}

    page, packed = page_data(
        on_page(MovingPicture(draw, fussy, [TRAVEL], alt="alt", units="si"))._repr_mimebundle_()[0]["text/html"]
    )
    assert page["sliders"][0]["readouts"]["si"][-1] == "67 %"
    assert page["sliders"][0]["count"] == len(packed["frames"]["si"][0]) == len(packed["frames"]["us"][0])


def test_the_page_stays_small(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("lessons.live.export._MOST_BYTES", 3000)
    page, packed = page_data(live()._repr_mimebundle_()[0]["text/html"])
    assert page["sliders"][0]["count"] <= 14
    assert len(packed["data"]) < 6000


# ---- axes that follow the units -----------------------------------------------------------------------------------


def test_ticks_are_round_in_either_unit_set() -> None:
    axes = Figure().subplots()
    axes.set_ylim(0, 1e6)
    moved = unit_axis(axes, "y", "pressure", "bar")
    for units, unit, said in (("si", "bar", ["0", "2", "4", "6", "8", "10"]), ("us", "psi", ["0", "25", "50"])):
        parts = moved(units)
        assert parts["y_label"] == f"pressure [{unit}]"
        words = [place[0] for name, place in parts.items() if name.startswith("y_tick_") and place[0]]
        assert words[: len(said)] == said
        at = [place[1][1] for name, place in parts.items() if name.startswith("y_tick_") and place[0]]
        assert np.allclose(in_trade_unit(at, unit), [float(w) for w in words])
