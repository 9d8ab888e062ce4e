import pytest

from platewright.drawing.numbers import fixed, short


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [
        (1.0, 3, "1.000"),
        (-0.0001, 3, "0.000"),
        (-0.0, 2, "0.00"),
        (-1.25, 1, "-1.2"),
        (-0.4, 0, "0"),
    ],
)
def test_fixed_decimals_without_minus_nought(value, decimals, text):
    assert fixed(value, decimals) == text


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [(382.5, 1, "382.5"), (600.0, 1, "600"), (0.04, 1, "0"), (-0.04, 1, "0"), (100.0, 0, "100")],
)
def test_short_drops_trailing_noughts_only_behind_the_point(value, decimals, text):
    assert short(value, decimals) == text


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_what_is_not_finite_is_refused(value):
    with pytest.raises(ValueError, match="cannot be drawn"):
        fixed(value)
