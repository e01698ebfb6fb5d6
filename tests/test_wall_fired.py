from types import SimpleNamespace

import numpy as np
import pytest

import limekit
from limekit.errors import InputError
from limekit.facts import fact
from limekit.kiln.wall.fired import STEPS, fire, fire_wall, refuse_no_fire
from limekit.kiln.wall.steady import steady_wall

HOUR = 3600.0
LAYERS = [("firebrick", 0.114), ("wood_ash", 0.100), ("rubble", 0.300)]
KILN = (0.8, 1.2, 18 * HOUR, 1273.15)


@pytest.fixture(scope="module")
def fired():
    return fire_wall.plain(LAYERS, *KILN)


def test_what_the_wall_took_is_in_it_or_gone_at_every_moment(fired):
    then = fired.history
    assert then.taken == pytest.approx(then.stored + then.lost, abs=1.0)
    assert np.all(np.diff(then.lost) >= -1e-6)
    assert np.ptp(then.taken[STEPS:]) == 0.0


def test_figures_at_closing_are_those_of_the_moment(fired):
    then = fired.history
    assert then.times[STEPS] == pytest.approx(18 * HOUR)
    assert then.times[-1] == pytest.approx(18 * HOUR + fact("cooling_time"))
    assert (fired.heat_taken.middle, fired.heat_stored) == (then.taken[STEPS], then.stored[STEPS])
    assert fired.face_temperature == then.temperatures[STEPS, -1]


def test_the_outside_is_hottest_when_the_fire_has_long_been_out(fired):
    outside = fired.history.temperatures[:, -1]
    assert fired.history.times[outside.argmax()] > 24 * HOUR
    assert fired.face_hottest > fired.face_temperature + 2.0


def test_temperature_falls_outward_all_through_the_fire(fired):
    assert np.all(np.diff(fired.history.temperatures[1 : STEPS + 1], axis=1) < 1e-6)
    assert fired.history.depths[-1] == pytest.approx(0.514)


def test_a_wall_fired_for_a_month_settles_as_the_steady_wall():
    outside = fact("outside_coefficient")
    month = fire_wall.plain(LAYERS, 0.8, 1.2, 720 * HOUR, 1273.15, heat_up_time=0.0, cooling_time=0.0)
    steady = steady_wall.plain(LAYERS, 1273.15, 0.8, outside_coefficient=float(outside))
    assert month.history.temperatures.shape[0] == STEPS + 1
    assert month.history.temperatures[-1, 0] == pytest.approx(steady.interface_temperatures[0], abs=2.0)
    assert month.face_temperature == pytest.approx(steady.face_temperature, abs=0.5)


def test_a_layer_past_its_limit_is_named_even_when_it_gets_there_late():
    wool = [("firebrick", 0.114), ("mineral_wool", 0.100), ("rubble", 0.300)]
    assert "mineral wool" in fire_wall.plain(wool, *KILN).over_limit[0]
    assert not fire_wall.plain(wool, 0.8, 1.2, 6 * HOUR, 1273.15, cooling_time=0.0).over_limit
    assert "mineral wool" in fire_wall.plain(wool, 0.8, 1.2, 6 * HOUR, 1273.15).over_limit[0]


def test_profile_meets_the_layers_faces(fired):
    then = fired.history
    inner = np.searchsorted(then.depths, np.cumsum([0.0, 0.114, 0.100]) - 1e-9)
    assert then.temperatures[:, inner].max(axis=0) == pytest.approx(then.hottest)


def test_materials_that_conduct_more_take_more(fired):
    taken = fired.heat_taken
    assert 0.8 * taken.middle < taken.low < taken.middle < taken.high < 1.2 * taken.middle


def test_text_in_and_units_out():
    shown = limekit.fire_wall([("common_brick", "215 mm")], "1 m", "1.5 m", "12 h", "900 degC")
    assert shown.heat_taken.middle.check("[energy]")
    assert shown.face_hottest.units == "degree_Celsius"
    assert shown.basis[0].name == "common clay brick"


@pytest.mark.parametrize(("hours", "gas"), [("0 h", "900 degC"), ("10 h", "100 degC")])
def test_no_fire_is_refused(hours, gas):
    with pytest.raises(InputError, match="hotter than the air"):
        limekit.fire_wall([("common_brick", "215 mm")], "1 m", "1.5 m", hours, gas, air_temperature="150 degC")


def test_moments_are_even_through_the_fire_and_even_after_it(fired):
    times = fired.history.times
    assert times[0] == 0.0
    assert np.diff(times[: STEPS + 1]) == pytest.approx(18 * HOUR / STEPS)
    after = np.diff(times[STEPS:])
    assert after == pytest.approx(after[0])


def test_a_fire_that_climbs_at_once_gives_the_wall_more_than_one_that_climbs_all_day():
    at_once, all_day = (fire_wall.plain(LAYERS, *KILN, heat_up_time=hours * HOUR) for hours in (0.0, 18.0))
    usual = fire_wall.plain(LAYERS, *KILN)
    half = fire_wall.plain(LAYERS, *KILN, heat_up_time=fact("heating_up_share") * 18 * HOUR)
    assert at_once.heat_taken.middle > usual.heat_taken.middle > all_day.heat_taken.middle
    assert half.heat_taken.middle == usual.heat_taken.middle
    first = at_once.history.temperatures[1, 0] - 293.15
    assert first > 5.0 * (all_day.history.temperatures[1, 0] - 293.15)


def test_no_firing_is_told_in_hours_and_degrees():
    with pytest.raises(InputError) as told:
        fire_wall.plain(LAYERS, 0.8, 1.2, 2 * HOUR, 373.15, air_temperature=423.15)
    assert told.value.got == "2 h of gas at 100 °C in air at 150 °C"


@pytest.mark.parametrize(
    ("heat_up_time", "shares"),
    [(None, (0.25, 0.75, 1.0, 1.0)), (0.0, (0.5, 1.0, 1.0, 1.0)), (4 * HOUR, (0.125, 0.375, 0.625, 0.875))],
    ids=["half the firing", "at once", "to the end"],
)
def test_the_gas_climbs_evenly_from_the_air_to_full_fire(heat_up_time, shares):
    assert fact("heating_up_share") == 0.5
    met = []
    wall = SimpleNamespace(air_temperature=300.0, step=lambda *told: met.append(told))
    assert list(fire(wall, 4 * HOUR, heat_up_time, 1300.0, steps=4)) == [HOUR, 2 * HOUR, 3 * HOUR, 4 * HOUR]
    assert [gas for gas, *_ in met] == pytest.approx([300.0 + 1000.0 * share for share in shares])
    assert {(coefficient, seconds) for _, coefficient, seconds in met} == {(fact("heat_transfer_coefficient"), HOUR)}


def test_any_time_of_any_warmer_gas_is_a_firing():
    refuse_no_fire(1.0, 300.1, 300.0)
    for firing in ((0.0, 1300.0, 300.0), (HOUR, 300.0, 300.0)):
        with pytest.raises(InputError):
            refuse_no_fire(*firing)
