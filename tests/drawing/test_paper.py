from math import sqrt

import pytest

from platewright.drawing.paper import A0, A1, A2, A3, A4, METRIC, READABLE, trials


@pytest.mark.parametrize("paper", [A0, A1, A2, A3, A4])
def test_a_sizes_have_the_ratio_of_iso_216(paper):
    assert paper.width / paper.height == pytest.approx(sqrt(2), abs=0.008)


def test_each_size_is_half_of_the_one_above():
    for large, small in ((A0, A1), (A1, A2), (A2, A3), (A3, A4)):
        assert large.width * large.height == pytest.approx(
            2 * small.width * small.height, rel=0.005
        )


def test_small_paper_comes_first_while_it_is_readable():
    order = list(trials(METRIC))
    assert order[0] == (A3, 1)
    readable = [scale <= READABLE for _, scale in order]
    assert readable == sorted(readable, reverse=True)
    assert order.index((A2, 5)) < order.index((A3, 10))
