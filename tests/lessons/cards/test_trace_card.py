"""The trace of the dead-band card is drawn as lesson 13 draws it: air across, travel up, one colour, two dashes."""

from types import SimpleNamespace

import pytest

from lessons.card_page.card import defaults
from lessons.cards.drive.dead_band import CARD, TRAVELS


def drawn() -> tuple[dict, dict, SimpleNamespace]:
    figure, move = CARD.picture()
    inputs = defaults(CARD)
    lines = {line.get_gid(): line for line in figure.axes[0].lines if line.get_gid()}
    return lines, move(inputs, CARD.compute(inputs), "si"), inputs


def test_air_lies_across_and_travel_up() -> None:
    _, moved, inputs = drawn()
    for name, air in (("line_up", inputs.up), ("line_back", inputs.down)):
        path = moved[name]
        assert path[:, 1] == pytest.approx(TRAVELS)
        assert (path[1:, 0] - path[0, 0]) / (path[-1, 0] - path[0, 0]) == pytest.approx(
            [(p - air[0]) / (air[-1] - air[0]) for p in air[1:]]
        )
    assert (moved["line_up"][:, 0] > moved["line_back"][:, 0]).all()  # opening takes more air, all the way


def test_one_colour_full_on_the_way_up_and_dashed_on_the_way_back() -> None:
    lines, _, _ = drawn()
    up, back = lines["line_up"], lines["line_back"]
    assert up.get_color() == back.get_color() != lines["line_limit_middle"].get_color()
    assert (up.get_linestyle(), back.get_linestyle()) == ("-", "--")


def test_the_card_is_found_by_plain_words_of_the_trade() -> None:
    assert "signature" not in f"{CARD.words} {CARD.title} {CARD.symptom}"
    assert {"dead", "band", "friction", "trace"} <= set(CARD.words.split())
