import datetime
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import limekit
from limekit.errors import InputError

MILD = [4, 5, 7, 9, 12, 15, 17, 17, 14, 11, 7, 5]  # invented weather


@given(st.floats(1, 3e7), st.floats(0.05, 0.95), st.floats(279, 310), st.floats(0, 0.9))
def test_time_and_depth_are_each_others_inverse(time, humidity, kelvin, wet):
    depth = limekit.carbonation_depth.plain(time, humidity, kelvin, wet).carbonated_depth
    assert limekit.time_to_depth.plain(depth, humidity, kelvin, wet) == pytest.approx(time, rel=1e-9)


@given(st.floats(86400, 3e7), st.floats(0, 1), st.floats(260, 310), st.floats(0, 1))
def test_four_times_the_time_is_twice_the_depth(time, humidity, kelvin, wet):
    one = limekit.carbonation_depth.plain(time, humidity, kelvin, wet)
    four = limekit.carbonation_depth.plain(4 * time, humidity, kelvin, wet)
    assert four.carbonated_depth == pytest.approx(2 * one.carbonated_depth, rel=1e-9)
    assert one.depth_low <= one.carbonated_depth <= one.depth_high


@given(st.floats(0, 1), st.floats(250, 320), st.floats(0, 1))
def test_no_weather_beats_half_humidity_warm_and_dry(humidity, kelvin, wet):
    assert 0 <= limekit.weather_factor.plain(humidity, kelvin, wet) <= limekit.weather_factor.plain(0.5, 293.15) + 1e-12
    assert limekit.weather_factor.plain(0.5, 293.15) == pytest.approx(1)


def test_bone_dry_soaked_and_cold_weather_sets_nothing():
    for weather in ((0.0, 293.15, 0.0), (1.0, 293.15, 0.0), (0.5, 278.0, 0.0), (0.5, 293.15, 1.0)):
        assert limekit.carbonation_depth.plain(3e7, *weather).carbonated_depth == 0
        with pytest.raises(InputError, match="does not set"):
            limekit.time_to_depth.plain(0.01, *weather)


def test_an_even_year_agrees_with_the_closed_formula():
    through = limekit.curing_calendar("2026-05-01", "3 mm", [20] * 12, [0.5] * 12)
    exact = limekit.time_to_depth("3 mm").to("day").magnitude
    assert (through.through_on - datetime.date(2026, 5, 1)).days == math.ceil(exact)
    assert through.frost_on is None
    assert not through.protect
    assert through.damp_until == datetime.date(2026, 5, 6)


def test_autumn_work_meets_the_cold_and_spring_work_has_time():
    weather = (MILD, [0.8] * 12)
    autumn, spring = (limekit.curing_calendar(day, "8 mm", *weather) for day in ("2026-12-10", "2026-04-01"))
    assert autumn.frost_on == datetime.date(2027, 1, 1)
    assert autumn.protect
    assert "wait for spring" in autumn.words
    assert spring.frost_on == datetime.date(2027, 1, 1)
    assert not spring.protect
    assert spring.depth_at_frost > autumn.depth_at_frost


def test_work_in_the_cold_has_set_nothing_when_it_comes():
    winter = limekit.curing_calendar("2026-01-10", "8 mm", MILD, [0.8] * 12)
    assert winter.frost_on == datetime.date(2026, 1, 10)
    assert winter.depth_at_frost.magnitude == 0
    assert winter.protect


def test_a_place_always_cold_never_sets_through():
    assert limekit.curing_calendar("2026-05-01", "8 mm", [2] * 12, [0.8] * 12).through_on is None


@pytest.mark.parametrize(
    ("temperatures", "humidities"),
    [([10] * 11, [0.8] * 12), ([10] * 12, [0.8]), ([10] * 12, [80] * 12), ([10] * 11 + [float("nan")], [0.8] * 12)],
)
def test_a_year_that_is_not_twelve_months_is_refused(temperatures, humidities):
    with pytest.raises(InputError):
        limekit.curing_calendar("2026-05-01", "8 mm", temperatures, humidities)


def test_the_calendar_takes_arrays():
    even = limekit.curing_calendar(datetime.date(2026, 5, 1), "2 mm", np.full(12, 20.0), np.full(12, 0.5))
    assert even.through_on is not None


def test_the_words_give_the_day_it_has_set_through_with_its_range():
    coat = limekit.curing_calendar("2026-05-01", "3 mm", [15] * 12, [0.7] * 12)
    ends = [(day - datetime.date(2026, 5, 1)).days for day in (coat.through_early, coat.through_on, coat.through_late)]
    rule = limekit.fact("carbonation_rate")
    assert ends[0] == pytest.approx(ends[1] * (rule / rule.high) ** 2, abs=1)
    assert ends[2] == pytest.approx(ends[1] * (rule / rule.low) ** 2, abs=4)
    assert f"from {coat.through_early:%B %Y} to {coat.through_late:%B %Y}" in coat.words
    thick = limekit.curing_calendar("2026-05-01", "12 mm", [15] * 12, [0.7] * 12)
    assert "to twenty years and more" in thick.words
