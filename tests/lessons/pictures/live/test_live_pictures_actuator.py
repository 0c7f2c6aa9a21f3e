"""Live pictures of lessons 07 and 08: everything stays on its axes, and forces worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from lessons.notebook.figures import moving_picture
from lessons.pictures.live.drive.bench_set_ends import drop_when_open
from tests.lessons.pictures.live.test_live_pictures import corners

NAMES = ("bench_set", "stem_forces", "air_to_close")


@pytest.mark.parametrize("name", NAMES)
def test_all_that_is_seen_stays_on_its_axes(name: str) -> None:
    live = moving_picture(name, "si")
    for values in corners(live):
        moved = live._move(**values, units="si")
        points = [np.asarray(p, float) for k, p in moved.items() if k.endswith(("_arrow", "_line"))]
        axes = live.figure("si", **values).axes
        low, high = next(a.get_ylim() for a in axes if a.get_ylabel().strip())
        heights = np.concatenate([p[:, 1] for p in points])
        assert np.isfinite(heights).any()
        assert low <= np.nanmin(heights)
        assert np.nanmax(heights) <= high


def test_bench_line_by_hand() -> None:
    """FV-1204: 0.2 bar on 320 cm² preloads 640 N; 128 N/mm over 20 mm adds 2560 N, which is 0.8 bar."""
    moved = moving_picture("bench_set", "si")._move(start=0.2e5, spring_rate=128e3, load=0.0, units="si")
    assert moved["bench_line"][[0, -1], 1] == pytest.approx([0.2e5, 1.0e5])
    assert moved["bench_line"][20, 1] == pytest.approx(0.6e5)
    assert moved["spring_says"] == "preload 640 N"
    # Packing friction 250 N on 320 cm² is 0.078125 bar either way.
    assert moved["opening_line"][[0, -1], 1] == pytest.approx([0.278125e5, 1.078125e5], rel=1e-4)
    assert moved["closing_line"][[0, -1], 1] == pytest.approx([0.121875e5, 0.921875e5], rel=1e-4)


def test_a_load_moves_the_shut_end_most_by_hand() -> None:
    """640 N that hold the plug down are 0.2 bar when shut; the line's drops are 5.5 bar shut and 1.0 bar open."""
    moved = moving_picture("bench_set", "si")._move(start=0.2e5, spring_rate=128e3, load=640.0, units="si")
    assert drop_when_open("FV-1204") == pytest.approx(1.0 / 5.5)
    assert moved["opening_line"][0, 1] == pytest.approx(0.2e5 + 0.2e5 + 0.078125e5, rel=1e-4)
    assert moved["opening_line"][-1, 1] == pytest.approx(1.0e5 + 0.2e5 / 5.5 + 0.078125e5, rel=1e-4)


# FV-1204: 320 cm², 250 N of friction, supply 1.4 bar. Spring alone: start · 0.032 m² + load − 250 N are left for the seat.
# Full open takes the bench end and 250 N of friction (0.07813 bar) less the 18.2 % of the load that are left there.
@pytest.mark.parametrize(
    ("values", "seat", "verdict"),
    [
        ({"start": 0.2e5, "load": 0.0}, "air lost: 390 N for the seat", "✓ enough to open it fully"),  # 1.0781 bar
        ({"start": 0.52e5, "load": 0.0}, "air lost: 1414 N for the seat", "✓ enough to open it fully"),  # 1.3981
        ({"start": 0.54e5, "load": 0.0}, "air lost: 1478 N for the seat", "△ short: opens it to 97 %"),  # 0.7819 / 0.8
        ({"start": 0.6e5, "load": 0.0}, "air lost: 1670 N for the seat", "△ short: opens it to 90 %"),  # 0.7219 / 0.8
        ({"start": 0.62e5, "load": 0.0}, "air lost: 1734 N for the seat", "✗ opens it to 87 % only"),  # bench end 1.42
        ({"start": 0.06e5, "load": 0.0}, "✗ air lost: does not shut!", "✓ enough to open it fully"),  # 192 N
        ({"start": 0.2e5, "load": -390.0}, "✗ air lost: does not shut!", "✓ enough to open it fully"),  # 0 N
    ],
)
def test_bench_verdicts_by_hand(values: dict[str, float], seat: str, verdict: str) -> None:
    moved = moving_picture("bench_set", "si")._move(**values, spring_rate=128e3, units="si")
    assert (moved["seat_says"], moved["verdict"]) == (seat, verdict)


# 46 mm port: 1661.90 mm²; wanted 7 N/mm over 144.513 mm is 1011.6 N. Area 480 cm².
@pytest.mark.parametrize(
    ("values", "left", "says"),
    [
        # 10 bar: 1661.9 N up; 0.2 bar: 960 N down; 200 N friction up: 901.9 N up. It rises until the spring has
        # grown by 3840 N a stroke and the fluid has lost 60 % of 1661.9 N: h = 901.9/(3840 + 997.1) = 0.1865.
        ({"dp": 10e5, "start": 0.2e5, "friction": 200.0}, 901.9, "✗ It does not shut: it hangs 19 % open."),
        # No line pressure: 960 − 200 = 760 N down on 144.513 mm: 5.3 N/mm.
        (
            {"dp": 0.0, "start": 0.2e5, "friction": 200.0},
            -760.0,
            "△ Short of the seat load wanted: 5.3 N/mm of rim, 7.0 N/mm wanted.",
        ),
        # 0.68 bar: 3264 N down; less 1661.9 and 200: 1402.1 N, 9.7 N/mm.
        (
            {"dp": 10e5, "start": 0.68e5, "friction": 200.0},
            -1402.1,
            "✓ Enough: 9.7 N/mm of rim, 7.0 N/mm wanted.",
        ),
        # Flow to close: 5 bar above the plug, 830.95 N down: 960 + 830.95 − 250 = 1540.95 N, 10.7 N/mm.
        (
            {"dp": -5e5, "start": 0.2e5, "friction": 250.0},
            -1540.95,
            "✓ Enough: 10.7 N/mm of rim, 7.0 N/mm wanted.",
        ),
    ],
)
def test_spring_to_close_by_hand(values: dict[str, float], left: float, says: str) -> None:
    assert drop_when_open("FV-6204") == pytest.approx(4 / 10)  # (20 − 12 − 4) over (22 − 12) bar
    moved = moving_picture("stem_forces", "si")._move(**values, units="si")
    assert moved["total_arrow"][3][1] == pytest.approx(left, rel=1e-3)
    assert moved["verdict"] == says


@pytest.mark.parametrize(
    ("values", "left", "says"),
    [
        # 70 mm port: 3848.5 mm², rim 219.911 mm, wanted 1539.4 N. Area 640 cm²: air 8960 N down, spring 6400 N up,
        # 6.5 bar 2501.5 N up, friction 300 N up: 241.5 N up. h = 241.5/(5120 + 2501.5·(1 − 1.5/6.5)) = 0.034.
        ({"dp": 6.5e5, "supply": 1.4e5, "friction": 300.0}, 241.5, "✗ It does not shut: it hangs 3 % open."),
        # 1.7 bar: 10880 N down, less 6400, 2501.5 and 300: 1678.5 N, 7.6 N/mm.
        (
            {"dp": 6.5e5, "supply": 1.7e5, "friction": 300.0},
            -1678.5,
            "✓ Enough: 7.6 N/mm of rim, 7.0 N/mm wanted.",
        ),
    ],
)
def test_air_to_close_by_hand(values: dict[str, float], left: float, says: str) -> None:
    moved = moving_picture("air_to_close", "si")._move(**values, units="si")
    assert moved["total_arrow"][3][1] == pytest.approx(left, rel=1e-3)
    assert moved["verdict"] == says


def test_each_arrow_starts_where_the_last_one_ended() -> None:
    moved = moving_picture("air_to_close", "si")._move(dp=4e5, supply=1.6e5, friction=200.0, units="si")
    arrows = [moved[f"{name}_arrow"] for name in ("air", "spring", "fluid", "friction", "total")]
    tips = [arrow[3][1] for arrow in arrows]
    assert [arrow[0][1] for arrow in arrows] == pytest.approx([0.0, *tips[:3], 0.0])
    assert tips[4] == pytest.approx(tips[3])
