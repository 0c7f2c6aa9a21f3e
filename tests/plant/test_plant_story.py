"""What the lessons tell of the plant agrees with the refinery's data, and is safe and answerable as told."""

from __future__ import annotations

import json
import math
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from lessons.notebook import bank
from lessons.pictures.live.flow import pressure_drawing, pressure_profile
from lessons.questions.question import pose_variant
from lessons.refinery import VALVES
from lessons.refinery.kinds import Liquid
from lessons.units.quantities import from_base, to_base
from tests.plant.reader_text import reader_text
from valvecalc.cavitation import differential_pressure_ratio
from valvecalc.characteristic import equal_percentage
from valvecalc.line import line_flow
from valvecalc.liquid import choked_drop
from valvecalc.plug_forces import circle_area
from valvecalc.water import WATER_CRITICAL_PRESSURE

LESSONS = Path(__file__).parents[2] / "lessons"
QUESTIONS = {**bank.practice_questions(), **bank.graded_questions()}


def lesson(number: str) -> str:
    (path,) = LESSONS.glob(f"{number}_*.ipynb")
    return "\n".join("".join(cell["source"]) for cell in json.loads(path.read_text(encoding="utf-8"))["cells"])


# ---- numbers told of a valve --------------------------------------------------------------------------------------


@pytest.mark.parametrize("travel", [0.6, 0.4])
def test_lesson_01_tells_what_the_line_does(travel: float) -> None:
    """Drop and flow of FV-2107 in its line, in naphtha, in both unit sets."""
    valve = VALVES["FV-2107"]
    assert valve.line
    assert isinstance(valve.fluid, Liquid)
    full = to_base(valve.line.full_flow)
    curve = (to_base(valve.line.pump_at_full) - to_base(valve.line.pump_shutoff)) / full**2
    pump = np.array([to_base(valve.line.pump_shutoff), 0.0, curve])
    static, pipe = to_base(valve.line.static), to_base(valve.line.pipe_at_full) / full**2
    kv = to_base(valve.rated_kv) * equal_percentage(travel, valve.rangeability)
    flow = float(line_flow(kv, pump, static, pipe, to_base(valve.fluid.density)))
    drop = pump[0] - static + (curve - pipe) * flow**2
    told = lesson("01")
    assert f"{drop / 1e5:.1f} bar ({from_base(drop, 'psi').value:.0f} psi)" in told
    assert f"{flow * 3600:.0f} m³/h ({from_base(flow, 'gpm').value:.0f} gpm)" in told


def test_lesson_07_tells_the_push_of_the_line() -> None:
    """Shut, pump shut-off less static on the port; open, the drop of the full flow; both press the plug down."""
    valve = VALVES["FV-1204"]
    assert valve.line
    assert valve.drive
    assert valve.drive.flow_to == "close"
    port = float(circle_area(to_base(valve.drive.port)))
    shut = to_base(valve.line.pump_shutoff) - to_base(valve.line.static)
    wide = to_base(valve.line.pump_at_full) - to_base(valve.line.static) - to_base(valve.line.pipe_at_full)
    assert f"{shut * port:.0f} N shut, {wide * port:.0f} N open" in lesson("07")
    rub, area = to_base(valve.drive.friction), to_base(valve.drive.area)
    assert f"{(to_base(valve.drive.bench_high) + (wide * port + rub) / area) / 1e5:.2f} bar" in lesson("07")


def test_lesson_08_tells_of_fv_6204_as_found() -> None:
    valve = VALVES["FV-6204"]
    assert valve.line
    assert valve.found
    drop = to_base(valve.line.pump_shutoff) - to_base(valve.line.static)
    found = valve.found
    told = (
        f"{found.area}, bench start {found.bench_low}, port {found.port} with {drop / 1e5:.0f} bar under it, "
        f"friction {found.friction}, wanted {found.seat_load}"
    )
    assert told in lesson("08")
    assert f"{found.supply} of its supply" in lesson("08")
    need = drop * float(circle_area(to_base(found.port))) + to_base(found.friction)
    need += to_base(found.seat_load) * math.pi * to_base(found.port)
    assert f"a bench set from {need / to_base(found.area) / 1e5:.2f} bar" in lesson("08")
    assert valve.drive
    assert to_base(valve.drive.bench_low) > need / to_base(found.area), "as it should be, with something to spare"


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (
            "hydrotreater at",
            "FV-6204 works at 12 bar: a hydrotreater works at 40 to 60 bar (common practice, no source)",
        ),
        ("grains of coke", "nothing cokes at the bottom of a naphtha column, at 60 °C"),
        ("for coke grains", "the same"),
        ("to the hydrotreater", "as above"),
        ("passing oil to a hydrotreater", "as above"),
        ("liquid all the way", "nobody can tell this from FL: cavitation begins before choking"),
        ("Liquid all the way", "the same"),
        ("flare gas main", "a control valve that shuts there blocks relief"),
        ("must still find its way out", "that is the work of a relief valve, not of a control valve"),
        ("not a drop may pass", "every seat leaks something; a control valve isolates nothing"),
        ("no leak allowed", "the same"),
    ],
)
def test_not_told_any_more(words: str, why: str) -> None:
    assert [where for where, text in reader_text() if words in text] == [], why


# ---- relief -------------------------------------------------------------------------------------------------------

RELIEF = ("flare", "relief", "blowdown", "vent line", "depressur", "safety valve")


@pytest.mark.parametrize("name", [name for name in QUESTIONS if name.startswith(("bodies.", "trim."))])
def test_no_valve_is_chosen_for_a_relief_path(name: str) -> None:
    """ISO 23251 (API 521), from memory: nothing that can shut without control stands between relief and flare."""
    for variant in QUESTIONS[name].variants:
        assert not [word for word in RELIEF if word in str(variant.values())], variant


def test_the_valve_to_the_flare_only_spills() -> None:
    """PV-5102 lies before the flare header, opens without air, and is never told to protect anything."""
    valve = VALVES["PV-5102"]
    assert valve.service.startswith("spill from")
    assert valve.fails == "open"
    for where, words in reader_text():
        if "PV-5102" in words and "flare" in words:
            assert "spill" in words, (where, words)


# ---- onset of cavitation ------------------------------------------------------------------------------------------


def ratio(n: SimpleNamespace) -> float:
    p1, p2 = (n.g1 + n.air, n.g2 + n.air) if hasattr(n, "g1") else (n.p1, n.p2)
    return float(differential_pressure_ratio(p1, p2, n.pv))


@pytest.mark.parametrize("name", ["capacity.happens", "capacity.w2"])
def test_what_the_water_does_can_be_answered(name: str) -> None:
    """The onset is given, and no variant lies within 4 % of it or of the vapour pressure; it comes before choking."""
    question = QUESTIONS[name]
    assert question.key
    seen = set()
    for index in range(len(question.variants)):
        posed = pose_variant(question, index)
        n = posed.numbers
        assert f"xFz = {n.xfz}" in posed.sheet.text
        assert abs(ratio(n) / n.xfz - 1) > 0.04
        assert abs(ratio(n) - 1) > 0.04
        right = "flashing" if ratio(n) > 1 else "cavitation" if ratio(n) > n.xfz else "none"
        assert question.key(n) == right
        seen.add(right)
    assert seen == {"none", "cavitation", "flashing"}


def test_not_choked_is_never_called_quiet() -> None:
    """Some variant cavitates though it is not choked: what the old questions called liquid all the way."""
    question = QUESTIONS["capacity.happens"]
    found = 0
    for index, variant in enumerate(question.variants):
        n = pose_variant(question, index).numbers
        if ratio(n) < 1 and question.key and question.key(n) == "cavitation":
            found += n.p1 - n.p2 < float(choked_drop(n.p1, n.pv, WATER_CRITICAL_PRESSURE, VALVES[variant["tag"]].fl))
    assert found >= 2


@pytest.mark.parametrize("style", pressure_drawing.STYLES)
def test_picture_calls_nothing_free_of_bubbles_past_its_onset(style: str) -> None:
    _, fl, xfz = pressure_drawing.STYLES[style]
    assert xfz < fl**2
    for xf in (1.05 * xfz, (xfz + fl**2) / 2, 0.98 * fl**2):
        moved = pressure_profile.pressure_profile()._move(
            p1=10e5, p2=10e5 - xf * (10e5 - 3169.9), temperature=298.15, units="si"
        )
        assert moved[f"{style}_verdict"] == "cavitation, not choked"


# ---- cures --------------------------------------------------------------------------------------------------------


def test_cures_do_not_rest_on_an_fl_that_stays() -> None:
    """FL falls as a valve opens (IEC 60534-2-1, table D.2: butterfly 0.70 at 60°, 0.62 at 70°), so a larger valve, less
    open, may well help: it is no wrong answer, and not asked."""
    question = QUESTIONS["capacity.w4"]
    texts = " ".join(option.text + option.says for option in question.options).lower()
    assert not [words for words in ("larger valve", "smaller valve", "same fl", "throttled") if words in texts]
    assert question.key
    assert question.key(SimpleNamespace()) == {"back", "steps", "onset"}


def test_back_pressure_helps_and_less_of_it_does_not() -> None:
    """In every variant: the valve is past its xFz; xF falls with the pressure after it raised, and rises with it lowered."""
    question = QUESTIONS["capacity.w4"]
    for index, variant in enumerate(question.variants):
        n = pose_variant(question, index).numbers
        valve = VALVES[variant["tag"]]
        assert isinstance(valve.fluid, Liquid)
        pv = to_base(valve.fluid.vapour_pressure)
        now, more, less = (float(differential_pressure_ratio(n.p1, n.p2 + step, pv)) for step in (0.0, 0.2e5, -0.2e5))
        assert valve.xfz
        assert more < now < less
        assert now > valve.xfz
