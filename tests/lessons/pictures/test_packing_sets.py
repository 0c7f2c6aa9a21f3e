"""Packing is more than cut cord: V-rings and live-loaded graphite are drawn, told, asked and looked up.

What they are and what they need is common practice, no source; the drawings are held to their own geometry.
"""

import itertools

import numpy as np
import pytest

from lessons.cards.drive.packing import CARD
from lessons.notebook import bank
from lessons.pictures.cutaways.catalogue import PICTURES
from lessons.pictures.cutaways.trim import packing_sets
from lessons.pictures.cutaways.trim.bonnet import BORE, HIGH, LOW, STEM
from tests.plant.reader_text import reader_text

BOXES = ("packing_box", "v_ring_packing", "graphite_packing")


def drawn(name, look):
    return [shape.xy for shape in PICTURES[name].drawing.fixed() if shape.look == look]


@pytest.mark.parametrize("name", BOXES)
def test_rings_lie_in_the_box_and_do_not_cut_into_each_other(name):
    rings = drawn(name, "packing")
    assert len(rings) >= 6
    for xy in rings:
        radius = np.abs(xy[:, 0])
        assert (radius.min(), radius.max()) == pytest.approx((STEM, BORE))
        assert xy[:, 1].min() >= LOW and xy[:, 1].max() <= HIGH
    right = sorted((xy for xy in rings if xy[0, 0] > 0), key=lambda xy: xy[:, 1].min())
    for below, above in itertools.pairwise(right):
        at_stem = [xy[np.isclose(xy[:, 0], STEM)][:, 1] for xy in (below, above)]
        assert at_stem[1].min() >= at_stem[0].max() - 1e-9


def test_the_mouths_of_v_rings_look_down_to_the_fluid():
    """The lower edge of each ring is lowest at stem and bore, its lips, and highest half way between, its ridge."""
    for xy in drawn("v_ring_packing", "packing"):
        lower = np.array([xy[np.isclose(np.abs(xy[:, 0]), r)][:, 1].min() for r in (STEM, packing_sets.MIDDLE, BORE)])
        assert lower[0] == lower[2] < lower[1]


@pytest.mark.parametrize(("name", "on_its_stop"), [("v_ring_packing", True), ("graphite_packing", False)])
def test_the_shoulder_of_the_follower(name, on_its_stop):
    """V-rings want the follower on its stop; where rings settle under disc springs it has way left."""
    follower = max(drawn(name, "ring"), key=lambda xy: xy[:, 1].max())
    shoulder = follower[np.abs(follower[:, 0]) > BORE + 1][:, 1].min()
    assert shoulder == pytest.approx(HIGH) if on_its_stop else shoulder > HIGH + 2


def test_disc_springs_stand_between_flange_and_nut():
    cups = [xy for xy in drawn("graphite_packing", "steel") if len(xy) == 4]
    nuts = [xy for xy in drawn("graphite_packing", "bolt") if len(xy) > 4]
    assert len(cups) == 2 * packing_sets.DISCS
    assert min(xy[:, 1].min() for xy in cups) == pytest.approx(packing_sets.GLAND)
    assert max(xy[:, 1].max() for xy in cups) == pytest.approx(min(xy[:, 1].min() for xy in nuts))


def test_lesson_09_shows_and_tells_them():
    words = "\n".join(said for where, said in reader_text() if where.startswith("lessons/09_"))
    for wanted in ('live("v_ring_packing")', 'live("graphite_packing")', "**cut rings**", "**V-rings**", "**die-formed rings**",
                   "**live loading**", "**reload**", "**repack**", "mouths towards the fluid"):  # fmt: skip
        assert wanted in words, wanted


def test_questions_ask_all_three():
    parts, weeps = (bank.practice_questions()[name] for name in ("friction.parts", "friction.weeps"))
    assert {variant["picture"] for variant in parts.variants} == set(BOXES)
    assert {variant["right"] for variant in weeps.variants} == {option.name for option in weeps.options}
    assert len({variant["packing"] for variant in weeps.variants}) == 3


@pytest.mark.parametrize("term", ["cut rings", "V-rings", "die-formed rings", "live loading", "reload", "repack"])
def test_the_glossary_has_them(term):
    assert any(term in lesson.terms for lesson in bank.lessons() if lesson.topic == "friction")


@pytest.mark.parametrize("word", ["V-ring", "die-formed", "live loading", "reload", "repack"])
def test_the_card_is_found_by_them(word):
    assert word in CARD.words


def test_the_card_says_what_its_formula_is_not_for():
    assert any("V-rings" in each and "not for them" in each for each in CARD.changes)
    assert any("disc springs" in each and "maker" in each for each in CARD.changes)
