import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import limekit
from limekit.errors import InputError

KELVIN = 273.15


def _log(rate, rise=65.0, minutes=30, step=0.5, start=20.0):
    times = np.arange(0, minutes + step / 2, step)
    return times * 60, KELVIN + start + rise * (1 - np.exp(-rate * times))


@given(st.floats(0.05, 2), st.floats(45, 75))
def test_times_stand_beside_the_exact_ones_of_a_smooth_rise(rate, rise):
    times, temperatures = _log(rate, rise, step=0.02)
    read = limekit.read_reactivity.plain(times, temperatures)
    exact = -np.log(1 - 40 / rise) / rate * 60
    if exact < times[-1]:
        assert read.time_to_60 == pytest.approx(exact, abs=0.5)
        assert read.rise_time == pytest.approx(read.time_to_60, rel=1e-9)  # from 20 °C both stand at 60 °C
    else:
        assert read.time_to_60 is None


@given(st.lists(st.floats(0.1, 30), min_size=2, max_size=20), st.data())
def test_between_readings_the_time_is_exact(gaps, data):
    times = np.cumsum([0, *gaps])
    slopes = data.draw(st.lists(st.floats(0.1, 5), min_size=len(gaps), max_size=len(gaps)))
    temperatures = 293.15 + np.cumsum([0, *(g * s for g, s in zip(gaps, slopes, strict=True))])
    found = limekit.read_reactivity.plain(times, temperatures).time_to_60
    if found is None:
        assert temperatures.max() < 333.15
    else:
        assert np.interp(found, times, temperatures) == pytest.approx(333.15, abs=1e-6)


@pytest.mark.parametrize(
    ("minutes", "en", "astm"),
    # in the test of EN 459-2 soft to 2, medium to 6, hard above (Hogewoning & Mehling); ASTM C110: 40 K in 3 / 6 min, from memory
    [
        (1.0, "soft-burnt", "high"),
        (2.5, "medium-burnt", "high"),
        (4.0, "medium-burnt", "medium"),
        (6.0, "medium-burnt", "medium"),
        (9.0, "hard-burnt", "low"),
    ],
)
def test_classes_follow_the_standards(minutes, en, astm):
    read = limekit.read_reactivity([0, minutes, minutes + 5], [20, 60, 62])
    assert read.time_to_60.to("min").magnitude == pytest.approx(minutes)
    assert (read.en_class, read.astm_class) == (en, astm)


def test_slaking_has_ended_when_three_readings_stand_still():
    # readings each 30 s: 2 K a step to 4 min, then 0.1 K a step; the first small step is seen at 4.5 min
    times = np.arange(0, 8.01, 0.5)
    temperatures = np.concatenate([20 + 6 * np.arange(9), 68 + 0.1 * np.arange(1, 9)])
    read = limekit.read_reactivity(times, temperatures)
    assert read.complete_time.to("min").magnitude == pytest.approx(4.5)
    assert read.complete_class == "high"


def test_two_small_steps_are_not_the_end():
    steps = [0, 6, 6, 6, 0.1, 0.1, 6, 6, 0.1, 0.1, 0.1]
    read = limekit.read_reactivity(0.5 * np.arange(len(steps)), 20 + np.cumsum(steps))
    assert read.complete_time.to("min").magnitude == pytest.approx(4.0)


def test_a_slow_start_is_not_taken_for_the_end():
    times = np.arange(0, 20.01, 0.5)
    late = limekit.read_reactivity(times, 20 + 60 / (1 + np.exp(-(times - 8))))
    assert late.complete_time.to("min").magnitude > 10


def test_a_log_that_stops_short_says_so():
    short = limekit.read_reactivity([0, 1, 2], [20, 35, 52])
    assert short.time_to_60 is None
    assert short.en_class == short.complete_class == "not reached"
    assert "stops at 52 °C" in short.words
    assert "read on until" in short.words


def test_a_warm_start_does_not_compare():
    assert "does not compare" in limekit.read_reactivity([0, 1, 5], [26, 40, 62]).words
    assert "does not compare" not in limekit.read_reactivity([0, 1, 5], [20.5, 40, 62]).words


@pytest.mark.parametrize(
    ("times", "temperatures", "said"),
    [
        ([0, 1, 1], [20, 30, 40], "reading 3"),
        ([0, 2, 1], [20, 30, 40], "reading 3"),
        ([0, 1], [20, 30, 40], "2 values of log_times, 3 values of log_temperatures"),
        ([0, 1], [20], "2 times and 1 temperatures"),
        ([0], [20], "two readings at least"),
        ([0, 1], [20, float("nan")], "log_temperatures"),
        ([0, 1], [20, 400], "log_temperatures"),
        ([[0, 1]], [[20, 30]], "two readings at least"),
    ],
)
def test_a_log_that_cannot_be_read_is_refused(times, temperatures, said):
    with pytest.raises(InputError, match=said):
        limekit.read_reactivity(times, temperatures)


@pytest.mark.parametrize(("minutes", "name"), [(1, "quick"), (5, "medium"), (30, "medium"), (31, "slow")])
def test_the_bucket_test_follows_the_astm_c5_appendix(minutes, name):
    assert limekit.bucket_test(slaking_starts=minutes).bucket_class == name
