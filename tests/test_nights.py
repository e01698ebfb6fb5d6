"""A few of the invented nights of `tests/nights`, which tells the figures of a hundred."""

import hundred_nights
import numpy as np
import pytest


@pytest.mark.slow
def test_on_a_dozen_nights_the_forecast_holds_and_the_liar_alone_is_named():
    judged = [hundred_nights.judge(seed) for seed in range(12)]
    assert sum(one.held for one in judged) >= 9
    assert sum(one.named for one in judged) >= 9
    assert sum(one.accused for one in judged) <= 2


def test_a_night_is_the_same_each_time_it_is_drawn_and_its_liar_lies():
    firing = hundred_nights.plan(0)
    one, again = hundred_nights.night(3, firing), hundred_nights.night(3, firing)
    assert one.finish == again.finish
    assert one.log.times[-1] > one.finish - 3600.0
    assert one.until(0.5).times[-1] <= 0.5 * one.finish
    spoilt, place = hundred_nights.spoil(one.log, 3)
    before, after = one.log.temperatures, spoilt.temperatures
    assert [name for name in before if not np.array_equal(before[name], after[name], equal_nan=True)] == [place]
