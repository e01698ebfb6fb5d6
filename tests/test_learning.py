"""What a kiln's own burns tell of its next: the normal law's sums, worked by hand."""

import math

import pytest

from limekit.kiln.learning import Learnt, learn


def test_a_forecast_holds_nine_in_ten_of_a_log_normal_law():
    span = Learnt(1.5, 2.0).forecast(10.0)
    assert span.middle == pytest.approx(15.0)
    assert math.log2(span.high / 15.0) == pytest.approx(1.645, abs=1e-3)
    assert span.low * span.high == pytest.approx(15.0**2)


def test_two_burns_by_hand():
    """Of variances 2 and 1 a kiln's own is 1: two burns of mean 1 leave 2/3, and the next burn's variance is 1 + 1/3."""
    learnt = learn([math.exp(0.5), math.exp(1.5)], math.exp(math.sqrt(2.0)), math.e)
    assert math.log(learnt.factor) == pytest.approx(2.0 / 3.0)
    assert math.log(learnt.spread) ** 2 == pytest.approx(4.0 / 3.0)


@pytest.mark.parametrize("between_kilns", [1.4, 1.3])
def test_where_burns_differ_as_much_as_kilns_do_nothing_is_learnt(between_kilns):
    assert learn([2.0, 2.0], between_kilns, 1.4) == (1.0, between_kilns)
