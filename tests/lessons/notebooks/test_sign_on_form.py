"""The form of lesson 00, where a busy kernel hears of a click before it hears of what was typed."""

from __future__ import annotations

from pathlib import Path

import ipywidgets as widgets

from lessons.notebook.sign_on_form import sign_on_form
from lessons.questions import progress


def form(folder: Path, told: list[tuple[str, str]]) -> list[widgets.Widget]:
    def signed_on() -> None:
        now = progress.load(folder)
        told.append((now.badge, now.units))

    return list(sign_on_form(folder, signed_on).children)


def test_no_half_of_a_badge_is_sent_while_it_is_typed(tmp_path: Path) -> None:
    badge, *_ = form(tmp_path, [])
    assert badge.continuous_update is False


def test_what_was_typed_before_the_click_counts_though_it_comes_after_it(tmp_path: Path) -> None:
    told = list[tuple[str, str]]()
    badge, units, button, reply = form(tmp_path, told)
    badge.value = "4"
    button.click()
    badge.value = "4711"
    units.value = "us"
    assert told == [("4", "si"), ("4711", "si"), ("4711", "us")]
    assert "Signed on with badge 4711" in reply.value


def test_nothing_is_written_before_the_click(tmp_path: Path) -> None:
    told = list[tuple[str, str]]()
    badge, units, *_ = form(tmp_path, told)
    badge.value, units.value = "4711", "us"
    assert told == []
    assert progress.load(tmp_path).badge == progress.ALONE


def test_after_a_click_a_badge_that_cannot_be_one_is_refused_and_the_last_one_stays(tmp_path: Path) -> None:
    badge, _, button, reply = form(tmp_path, [])
    badge.value = "4711"
    button.click()
    badge.value = "47 11"
    assert progress.load(tmp_path).badge == "4711"
    assert "Signed on" not in reply.value
