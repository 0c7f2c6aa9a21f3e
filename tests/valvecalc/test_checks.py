"""The sentences by which inputs are refused: what was wrong, the limits with unit, what came."""

import numpy as np
import pytest

from valvecalc.checks import in_range, numbers, one_of, positive

INF = np.inf

REFUSED = [
    # call, the sentence word for word
    (
        lambda: in_range("travel", 50, 0, 1, "-"),
        "travel must be from 0 to 1 (a fraction or ratio), but got 50.",
    ),
    (
        lambda: in_range("rangeability", 1, 1, INF, "-", above=True),
        "rangeability must be above 1 (a fraction or ratio), but got 1.",
    ),
    (
        lambda: in_range("fl", [0.9, 0.0], 0, 1, "-", above=True),
        "fl must be above 0 and at most 1 (a fraction or ratio), but got 0.",
    ),
    (
        lambda: in_range("toe", 1, 0, 1, "-", below=True),
        "toe must be at least 0 and below 1 (a fraction or ratio), but got 1.",
    ),
    (lambda: in_range("left", 3.5, -INF, 0, "Pa"), "left must be at most 0 Pa, but got 3.5."),
    (lambda: positive("density", -2, "kg/m³"), "density must be above 0 kg/m³, but got -2."),
    (lambda: numbers("flow", "much"), "flow must be a number or an array of numbers, but got 'much'."),
    (lambda: numbers("flow", [1, np.nan]), "flow must be finite, but got nan; leave such points out."),
    (lambda: numbers("flow", INF), "flow must be finite, but got inf; leave such points out."),
    (lambda: one_of("flow", "up", ("open", "close")), "flow must be one of open, close, but got 'up'."),
]


@pytest.mark.parametrize(("call", "sentence"), REFUSED)
def test_refusal_says_what_was_wrong(call, sentence):
    with pytest.raises(ValueError, match="must be") as refusal:
        call()
    assert str(refusal.value) == sentence


@pytest.mark.parametrize("value", [0, 1, 0.5, [0, 1], [[0.1], [0.9]], np.zeros((2, 3)), []])
def test_what_is_allowed_comes_back_as_floats_of_the_same_shape(value):
    array = in_range("travel", value, 0, 1, "-")
    assert array.dtype == np.float64
    assert array.shape == np.shape(value)
    np.testing.assert_array_equal(array, value)


def test_the_callers_array_is_not_changed():
    given = np.array([0.2, 0.4])
    in_range("travel", given, 0, 1, "-")
    np.testing.assert_array_equal(given, [0.2, 0.4])


def test_the_first_bad_value_is_the_one_named():
    with pytest.raises(ValueError, match="but got 3"):
        in_range("travel", [[0.1, 3], [7, 0.2]], 0, 1, "-")
