"""A burn's log in plain arrays: cut, asked for what was last noted, and joined with what a logger wrote."""

from dataclasses import replace

import numpy as np
import pytest

from limekit.errors import InputError
from limekit.kiln.logged import HEIGHTS, BurnLog, Logged, _medians, _since_lighting

HOUR, QUARTER = 3600.0, 900.0
LOG = BurnLog(
    times=np.array([0.0, 1.0, 3.0]) * HOUR,
    fuel_fed=np.array([5.0, 10.0, 30.0]),
    temperatures={"hearth": np.array([300.0, 900.0, np.nan])},
    sinking=np.array([np.nan, 0.1, np.nan]),
    glow=(None, "dark red", "cherry"),
    flame=("smoky", "yellow", None),
    test_piece=(None,) * 3,
    damper=np.array([1.0, np.nan, 0.5]),
    weather=("dry", "", "rain"),
    notes=("lit", "", "tired"),
    remarks=("as read",),
    lit_at=6.0 * HOUR,
)


def logger(hours, read, clock=None, place="hearth"):
    return Logged(np.array(hours) * HOUR, clock, {place: np.array(read, dtype=float)}, ("a logger",))


def test_thermometers_hang_in_the_middle_of_each_third():
    assert [6.0 * HEIGHTS[third] for third in ("lower", "middle", "upper")] == pytest.approx([1.0, 3.0, 5.0])


def test_a_log_cut_short_keeps_what_was_written_until_then():
    cut = LOG.first(2)
    assert (len(LOG), len(cut)) == (3, 2)
    assert cut.temperatures["hearth"].tolist() == [300.0, 900.0]
    assert (cut.glow, cut.notes, cut.remarks, cut.lit_at) == ((None, "dark red"), ("lit", ""), ("as read",), 6 * HOUR)


def test_what_lay_ready_is_burnt_with_what_was_fed_first():
    times, rates = LOG.stoking()
    assert times == (0.0, HOUR)
    assert rates == pytest.approx((15.0 / HOUR, 15.0 / HOUR))
    assert LOG.fuel_fed.tolist() == [5.0, 10.0, 30.0]


def test_what_was_last_noted_may_stand_lines_before_the_end():
    assert (LOG.last("sinking"), LOG.last("flame"), LOG.last("glow")) == (0.1, "yellow", "cherry")
    assert LOG.last("test_piece") is None


def test_lines_are_set_between_where_none_is_near_and_fuel_is_parted_evenly():
    log = LOG.joined(logger([0.5, 2.0], [700.0, 1000.0]))
    assert log.times / QUARTER == pytest.approx(np.arange(13.0))
    assert log.fuel_fed == pytest.approx([5.0] + [2.5] * 4 + [3.75] * 8)
    near = replace(LOG, times=np.array([0.0, HOUR + 0.4 * QUARTER, 3.0 * HOUR])).joined(logger([0.5], [700.0]))
    assert 1.0 not in near.times / HOUR
    far = replace(LOG, times=np.array([0.0, HOUR + 0.5 * QUARTER, 3.0 * HOUR])).joined(logger([0.5], [700.0]))
    assert {1.0, 1.25} < set(far.times / HOUR)


def test_what_was_written_by_hand_stays_on_its_lines_and_a_logger_reads_over_it():
    log = LOG.joined(logger([1.0, 2.0], [950.0, 1000.0]))
    lines = log.times / HOUR
    assert (log.glow[4], log.glow[12], log.glow[3]) == ("dark red", "cherry", None)
    assert (log.notes[0], log.notes[1], log.weather[12]) == ("lit", "", "rain")
    assert (log.sinking[4], log.damper[12], log.lit_at) == (0.1, 0.5, 6 * HOUR)
    read = {hour: value for hour, value in zip(lines, log.temperatures["hearth"], strict=True) if np.isfinite(value)}
    assert read == {0.0: 300.0, 1.0: 950.0, 2.0: 1000.0}
    flue = LOG.joined(logger([1.0], [500.0], place="flue")).temperatures
    assert list(flue) == ["hearth", "flue"]
    assert np.isfinite(flue["flue"]).sum() == 1
    assert np.nanmax(flue["hearth"]) == 900.0


def test_a_reading_counts_on_the_line_that_it_lies_half_the_way_to():
    minutes = np.array([53.0, 58.0, 60.0, 67.0, 68.0])
    log = LOG.joined(logger(minutes / 60.0, [1.0, 2.0, 3.0, 10.0, 99.0]))
    assert log.temperatures["hearth"][4:6].tolist() == [2.5, 99.0]
    read = np.array([1.0, np.nan, 5.0, 9.0])
    found = _medians(read, np.array([0, 1, 1, 4]), np.array([3, 2, 4, 4]))
    assert found == pytest.approx([3.0, np.nan, 7.0, np.nan], nan_ok=True)


def test_a_logger_without_a_clock_began_at_lighting_less_what_its_clock_was_ahead():
    assert LOG._start_of(logger([0.0, 1.0], [1, 1]), 0.0) == 0.0
    assert LOG._start_of(logger([0.0, 1.0], [1, 1]), 60.0) == -60.0
    assert replace(LOG, lit_at=None)._start_of(logger([0.0], [1], clock=5.0), 0.0) == 0.0


@pytest.mark.parametrize(
    ("clock", "reads", "ahead", "start"),
    [
        (7.0, 1.0, 0.0, 1.0),
        (5.0, 4.0, 0.0, -1.0),
        (6.5, 1.0, 0.25, 0.25),
        (23.0, 30.0, 0.0, -7.0),  # of yesterday, since it reads on into the burn
        (6.0, 40.0, 0.0, 0.0),  # the whole burn lies in what it read of today and of yesterday: the nearer day
        (6.0, 1.0, 0.5, -0.5),
    ],
)
def test_of_the_days_that_a_clock_may_mean_it_is_the_one_that_shares_most_of_the_burn(clock, reads, ahead, start):
    began = LOG._start_of(logger([0.0, reads], [1, 1], clock * HOUR), ahead * HOUR)
    assert began / HOUR == pytest.approx(start)


def test_in_a_burn_of_days_a_clock_may_mean_any_of_them():
    long = replace(LOG, times=np.array([0.0, 1.0, 60.0]) * HOUR)
    assert long._start_of(logger([0.0, 30.0], [1, 1], 4.0 * HOUR), 0.0) / HOUR == pytest.approx(22.0)


@pytest.mark.parametrize(
    ("hours", "said"),
    [(0.0, "at lighting"), (0.04, "at lighting"), (1.5, "1.5 h after lighting"), (-2.0, "2.0 h before lighting")],
)
def test_when_a_logger_began_is_said(hours, said):
    assert _since_lighting(hours * HOUR) == said


def test_what_was_understood_is_said_and_what_waits_for_a_line():
    assert LOG.joined(logger([0.5], [700.0])).remarks == (
        "as read",
        "a logger",
        "The logger's first reading was taken at lighting.",
    )
    late = LOG.joined(logger([0.0, 3.3], [700.0, 900.0])).remarks[-1]
    assert late == "What the logger read in the last 0.3 h waits for a line of the log."
    assert "waits" not in LOG.joined(logger([0.0, 3.2], [700.0, 900.0])).remarks[-1]


def test_what_is_no_logger_or_read_nothing_beside_the_log_is_refused():
    with pytest.raises(InputError, match="what read_logger returns"):
        LOG.joined({"hearth": [1.0]})
    with pytest.raises(InputError) as caught:
        LOG.joined(logger([0.0, 1.0], [700.0, 800.0]), clock_ahead=-5.0 * HOUR)
    assert "readings from 5.0 to 6.0 h after lighting" in str(caught.value)
    assert "some within the log's 3.0 h" in str(caught.value)
