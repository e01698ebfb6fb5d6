from types import SimpleNamespace

import numpy as np
import pytest

from limekit import fire_kiln, size_kiln, stoking_schedule
from limekit.kiln.schedule import StokingSchedule, Turn

HOUR = 3600.0
TURN = Turn(4 * HOUR, 6 * HOUR, 30.0, 1303.15, 899.15, 0.456)


@pytest.fixture(scope="module")
def firing():
    return fire_kiln.plain(
        size_kiln.plain(500.0, 0.1), chimney_height=1.5, hours=36000.0, stoking=[(0.0, "10 kg/h"), (14400.0, "15 kg/h")]
    )


def test_turns_follow_on_and_hold_all_the_fuel(firing):
    schedule = stoking_schedule.plain(firing, 3 * 3600.0)
    assert [turn.start for turn in schedule.turns] == [0.0, 10800.0, 21600.0, 32400.0]
    assert [turn.end for turn in schedule.turns] == [10800.0, 21600.0, 32400.0, 36000.0]
    assert sum(turn.fuel for turn in schedule.turns) == pytest.approx(firing.fuel_used, rel=1e-9)
    assert schedule.fuel_used == pytest.approx(firing.fuel_used, rel=1e-9)


def test_a_turn_feeds_what_was_ordered_for_it(firing):
    early, late = stoking_schedule.plain(firing, 4 * 3600.0).turns[:2]
    assert early.fuel == pytest.approx(40.0, rel=0.01)
    assert late.rate * 3600.0 == pytest.approx(15.0, rel=0.01)


def test_the_last_turn_ends_as_the_firing_did(firing):
    last = stoking_schedule.plain(firing).turns[-1]
    assert last.conversion == pytest.approx(firing.conversion)
    assert last.lowest_stone > last.highest_stone


def test_one_turn_holds_a_short_firing_and_the_table_has_a_row_a_turn(firing):
    assert len(stoking_schedule(firing, "24 h").turns) == 1
    assert len(stoking_schedule(firing, "5 h").table()) == 2


def test_what_came_out_adds_up_and_is_read_off_the_charge(firing):
    shares = firing.history.came_out()
    assert list(shares) == ["raw", "soft-burnt", "medium-burnt", "hard-burnt", "dead-burnt risk"]
    assert sum(shares.values()) == pytest.approx(1.0)
    assert shares["raw"] == pytest.approx(1.0 - firing.conversion)
    hot = fire_kiln.plain(size_kiln.plain(500.0, 0.1), chimney_height=2.0, fire_temperature=1650.0, conversion=1.0)
    hot = hot.history.came_out()
    assert hot["hard-burnt"] > shares["hard-burnt"]
    assert min(hot.values()) >= 0.0


def test_fuel_fed_grows_to_what_was_burnt(firing):
    fed = firing.history.fed_by([0.0, 3600.0, firing.firing_time])
    assert fed[0] == 0.0
    assert fed[1] == pytest.approx(10.0, rel=0.02)
    assert fed[2] == pytest.approx(firing.fuel_used)


def test_lowest_and_highest_stone_are_those_of_the_end_levels_at_the_end_of_the_turn(firing):
    last, told = stoking_schedule.plain(firing).turns[-1], firing.history
    levels = told.by_level(told.stone_temperature)[-1]
    assert last.lowest_stone == pytest.approx(levels[0])
    assert last.highest_stone == pytest.approx(levels[-1])
    assert levels[-1] != pytest.approx(levels[-2], abs=0.5)


def test_the_table_says_the_turns_in_kilograms_and_degrees():
    schedule = stoking_schedule.plain(fire_kiln.plain(size_kiln.plain(200.0, 0.06)))
    assert schedule.turns[-1].conversion > 0.94
    for turn, (_, row) in zip(schedule.turns, schedule.table().iterrows(), strict=True):
        assert float(row["burnt [%]"]) == pytest.approx(100 * turn.conversion, abs=0.5001)
        assert float(row["fuel of the turn [kg]"]) == pytest.approx(turn.fuel, abs=0.51)
        for place in ("lowest", "highest"):
            said = float(row[f"{place} stone [°C]"])
            assert said == pytest.approx(getattr(turn, f"{place}_stone") - 273.15, abs=5.01)


def cut(hours):
    """Cut ten kilograms an hour, stones warming by 50 K an hour below and 10 above, into turns of four hours."""
    history = SimpleNamespace(
        times=np.array([0.0, hours * HOUR]),
        stone_temperature=np.array([[300.0, 0.0, 290.0], [300.0 + 50.0 * hours, 0.0, 290.0 + 10.0 * hours]]),
        burnt=np.array([0.0, 0.1 * hours]),
        by_level=lambda values: values,
        fed_by=lambda times: 10.0 * times / HOUR,
    )
    return stoking_schedule.plain(SimpleNamespace(history=history), 4 * HOUR)


def test_the_last_turn_is_what_is_left_and_fuel_and_stones_are_those_of_its_hours():
    schedule = cut(10.0)
    assert [(turn.start / HOUR, turn.end / HOUR) for turn in schedule.turns] == [(0, 4), (4, 8), (8, 10)]
    assert [turn.fuel for turn in schedule.turns] == pytest.approx([40.0, 40.0, 20.0])
    assert [turn.rate * HOUR for turn in schedule.turns] == pytest.approx([10.0] * 3)
    assert [turn.lowest_stone for turn in schedule.turns] == pytest.approx([500.0, 700.0, 800.0])
    assert [turn.highest_stone for turn in schedule.turns] == pytest.approx([330.0, 370.0, 390.0])
    assert [turn.conversion for turn in schedule.turns] == pytest.approx([0.4, 0.8, 1.0])
    assert (schedule.fuel_used, schedule.firing_time) == pytest.approx((100.0, 10 * HOUR))


@pytest.mark.parametrize("hours", [8.0, 8.0 + 1e-10])
def test_a_firing_of_whole_turns_has_no_turn_of_nothing(hours):
    assert len(cut(hours).turns) == 2


def test_a_kiln_that_takes_longer_and_more_has_as_many_turns():
    longer = StokingSchedule((TURN,), 30.0, 6 * HOUR).stretched(1.5, 2.0)
    assert longer.turns == (TURN._replace(start=6 * HOUR, end=9 * HOUR, fuel=60.0),)
    assert (longer.fuel_used, longer.firing_time) == (60.0, 9 * HOUR)


def test_the_table_shows_each_turn_in_its_units():
    (row,) = StokingSchedule((TURN,), 30.0, 6 * HOUR).table().to_dict("records")
    assert list(row.values()) == ["4", "6", "15", "30", "1030", "630", "46"]
    assert [heading.partition("[")[2] for heading in row] == ["", "", "kg]", "kg]", "°C]", "°C]", "%]"]
