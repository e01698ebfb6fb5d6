"""What held a firing back, told from a firing written out by hand: who is named, and every figure."""

from types import SimpleNamespace

import numpy as np
import pytest

from limekit import dissociation_temperature, fact
from limekit.fire.air_way import PARTS, Breath
from limekit.kiln.column.limits import find_limits, throttle
from limekit.kiln.column.stoking import BurntFuel, Stoker

HOUR, DONE = 3600.0, 0.95
OAK = BurntFuel.of("oak", 0.2, 293.15)
BREATH = Breath(0.1, 20.0, {"opening": 3.0, "bed": 12.0, "eye": 5.0, "damper": 0.0, "chimney": 0.0}, 0.0)
HOT = [400.0, 1300.0, 1250.0]  # K: hearth, lowest stones, highest


def moment(hours, fed=0.0, gas=HOT, air=None, co2=0.25):
    """Told by its end in hours and kg/h of fuel, with the air that burns it where none is told."""
    if air is None:
        air = OAK.air * 1.6 * fed / HOUR or 0.01
    parts = np.array([co2, 0.1, 0.05, 0.9 - co2 - 0.05])[:, None]
    told = {"time": hours * HOUR, "fed": [fed / HOUR], "air": [air], "gas_in": parts}
    return SimpleNamespace(**told, gas_temperature=np.array(gas)[:, None])


def burn(moments=None, burnt=1.0, pace=1e-5, times=(), rates=(), excess_air=0.6, damper=1.0, unburnt=0.0, **fed):
    moments = moments or [moment(1.0), moment(4.0)]
    return SimpleNamespace(
        moments=SimpleNamespace(**{name: np.array([vars(one)[name] for one in moments]) for name in vars(moments[0])}),
        clock=moments[-1].time,
        burnt=np.array([burnt]),
        pace_of_burning=pace,
        damper=damper,
        stoker=Stoker(OAK, excess_air, unburnt, times, rates, **fed),
        column=SimpleNamespace(air_pressure=101_325.0),
        breathe=lambda: BREATH,
    )


def limit(name, *given, **more):
    found = [one for one in find_limits(*given, **more) if one.name == name]
    return found[0] if found else None


def test_the_part_that_takes_most_is_named_with_its_share():
    name, lift, share = throttle(BREATH)
    assert (name, lift) == PARTS["bed"]
    assert share == pytest.approx(0.6)


@pytest.mark.parametrize("weaker", [1e-3, 1e-6])
def test_a_share_of_the_draught_is_the_same_however_weak_that_is(weaker):
    losses = {part: weaker * loss for part, loss in BREATH.losses.items()}
    assert throttle(BREATH._replace(stack_pressure=weaker * BREATH.stack_pressure, losses=losses))[2] == pytest.approx(
        0.6
    )


@pytest.mark.parametrize(
    ("times", "rates", "over"),
    [((), (), np.inf), ((0.0, 5.0), (1.0, 0.0), 5.0), ((0.0, 5.0), (0.0, 1.0), np.inf), ((0.0,), (0.0,), 0.0)],
    ids=["as can be", "let out", "late lit", "never lit"],
)
def test_a_fire_is_over_when_its_last_rate_is_none(times, rates, over):
    stoker = Stoker(OAK, 0.6, 0.0, times, rates)
    assert stoker.last_fed == over
    assert np.isinf(over) or stoker.wanted(over) == 0.0


def test_hours_still_wanted_are_those_of_the_last_pace():
    told = limit("time", burn(burnt=0.5, pace=0.45 / (10 * HOUR)), DONE, None)
    assert told.hit == "After 4 h 50.0 % of the carbonate has burnt, not 95.0 %."
    assert "about 10 h more" in told.lift
    assert "about 12 h more" in limit("time", burn(burnt=0.5, pace=0.45 / (12.3 * HOUR)), DONE, None).lift
    assert limit("time", burn(burnt=0.96), DONE, None) is None
    assert limit("time", burn(burnt=DONE), DONE, None) is None


@pytest.mark.parametrize(("hours", "hopeless"), [(300.0, False), (500.0, True), (np.inf, True)])
def test_a_fire_that_would_take_weeks_more_is_told_to_burn_hardly_anything(hours, hopeless):
    told = limit("time", burn(burnt=0.5, pace=0.45 / (hours * HOUR)), DONE, None)
    assert ("Hardly anything burns" in told.hit) is hopeless
    assert ("larger fire" in told.lift) is hopeless


@pytest.mark.parametrize("each", [1.0, 1.0 / HOUR], ids=["hours", "seconds"])
def test_fuel_turned_away_is_counted_over_the_time_it_was(each):
    # 10 kg/h wanted for four such spells; 10 fed in the first and 5 in each of three more: 25 of 40
    moments = [moment(each, fed=10.0), moment(4.0 * each, fed=5.0)]
    told = limit("draught", burn(moments, times=(0.0,), rates=(10.0 / HOUR,)), DONE, None)
    assert told.hit.startswith("The draught could not burn 38 % of the fuel")
    assert "the charge of stone took 60 %" in told.hit
    assert told.lift.startswith("Larger stone")


def test_what_is_fed_and_finds_no_air_counts_as_turned_away():
    """The draught burns 6 of the 12 kg/h that are fed as asked for."""
    smoking = [moment(hours, fed=12.0, air=OAK.air * 1.6 * 6.0 / HOUR) for hours in (1.0, 4.0)]
    told = limit("draught", burn(smoking, times=(0.0,), rates=(12.0 / HOUR,)), DONE, None)
    assert "50 % of the fuel meant to be fed" in told.hit


def test_what_leaves_as_smoke_needs_no_air():
    """Air for 2.4 of 12 kg/h burnt whole is air for 3.2 of which a quarter smokes."""
    smoking = [moment(hours, fed=12.0, air=OAK.air * 1.6 * 2.4 / HOUR) for hours in (1.0, 4.0)]
    plan = {"times": (0.0,), "rates": (12.0 / HOUR,)}
    assert "not burn 80 % of the fuel" in limit("draught", burn(smoking, **plan), DONE, None).hit
    assert "not burn 73 % of the fuel" in limit("draught", burn(smoking, unburnt=0.25, **plan), DONE, None).hit


def test_fuel_all_burnt_or_a_trifle_less_is_no_limit_and_nor_is_no_plan():
    for fed in (10.0, 9.95):
        moments = [moment(1.0, fed=fed), moment(4.0, fed=fed)]
        assert limit("draught", burn(moments, times=(0.0,), rates=(10.0 / HOUR,)), DONE, None) is None
    free = limit("draught", burn(), DONE, None)
    assert free.hit == "Draught set the pace: the charge of stone took 60 % of it."
    assert free.lift.startswith("Larger stone")
    assert limit("draught", burn(times=(5 * HOUR,), rates=(0.003,)), DONE, None) is None, (
        "nothing is meant to be fed yet"
    )


@pytest.mark.parametrize(("heat_up_time", "slow"), [(2.5, True), (2.4, False)])
def test_the_start_sets_the_pace_where_the_fire_is_full_for_less_than_half_the_hours(heat_up_time, slow):
    moments = [moment(hours, fed=10.0) for hours in (1.0, 2.5, 4.0)]
    told = limit("slow start", burn(moments, heat_up_time=heat_up_time * HOUR), DONE, None)
    assert (told is not None) is slow
    assert told is None or "let grow for 2.5 h" in told.hit


@pytest.mark.parametrize(("fed", "name"), [(9.1, "arms"), (8.9, "draught")])
def test_arms_set_the_pace_where_they_feed_about_all_they_can(fed, name):
    told = burn([moment(1.0, fed=1.0), moment(4.0, fed=fed)], most=10.0 / HOUR, heat_up_time=HOUR)
    assert [one.name for one in find_limits(told, DONE, None)] == [name]
    assert name != "arms" or "9.1 kg an hour" in limit(name, told, DONE, None).hit


def test_what_arms_feed_is_the_mean_from_the_first_moment_on():
    # 10 kg/h for a second and 6 for three: 7
    told = burn([moment(1.0 / HOUR, fed=10.0), moment(4.0 / HOUR, fed=6.0)], most=7.0 / HOUR)
    assert "pace: 7 kg an hour" in limit("arms", told, DONE, None).hit


@pytest.mark.parametrize(("first", "then"), [(10.0, 2.0), (2.0, 10.0)])
def test_what_changes_during_the_firing_is_asked_step_by_step(first, then):
    # so much in the first hour and so much after it, all of it burnt
    moments = [moment(1.0, fed=first), moment(4.0, fed=then)]
    plan = {"times": (0.0, HOUR), "rates": (first / HOUR, then / HOUR)}
    assert limit("draught", burn(moments, **plan), DONE, None) is None


def test_gas_too_cold_is_told_by_the_lowest_stones_at_their_hottest_and_by_its_own_carbon_dioxide():
    moments = [moment(1.0, gas=[1500.0, 800.0, 700.0], co2=0.1), moment(4.0, gas=[1500.0, 900.0, 700.0])]
    told = limit("temperature", burn(moments, burnt=0.0), DONE, None)
    parts = moments[1].gas_in[:, 0]
    needed = dissociation_temperature.plain(101_325.0 * parts[0] / parts.sum()) - 273.15
    assert told.hit.startswith(f"The gas at the lowest stones never passed {900.0 - 273.15:.0f} °C")
    assert f"burns below {needed:.0f} °C" in told.hit
    for one in moments:
        one.gas_in = 5.0 * one.gas_in
    assert limit("temperature", burn(moments, burnt=0.0), DONE, None) == told, "however much gas there is"
    assert limit("temperature", burn(moments, burnt=0.2), DONE, None) is None, "something burnt all the same"
    assert limit("temperature", burn(burnt=0.0), DONE, None) is None


def test_dead_lime_is_told_with_the_share_the_heat_and_a_cooler_fire():
    moments = [moment(1.0, gas=[1800.0, 1673.15, 900.0]), moment(4.0)]
    told = limit("heat", burn(moments), DONE, None, 0.6)
    assert told.hit.startswith("The gas at the lowest stones came to 1400 °C, and 60 % of the charge")
    dead = fact("dead_burnt_from") - 273.15
    assert f'"{dead:.0f} degC"' in told.lift
    asked = limit("heat", burn(moments), DONE, 1373.15, 0.2)
    assert '"1050 degC"' in asked.lift, "cooler than was asked"
    assert f'"{dead:.0f} degC"' in limit("heat", burn(moments), DONE, 1673.15, 0.2).lift
    assert limit("heat", burn(moments), DONE, None, 0.005) is None


def test_a_fire_no_fuel_gives_is_told_with_what_it_does_give():
    most = OAK.temperature(0.6)
    told = limit("fire", burn(), DONE, most + 100.0)
    assert f"gas of {most + 100.0 - 273.15:.0f} °C" in told.hit
    assert f"{most - 273.15:.0f} °C." in told.hit
    assert limit("fire", burn(), DONE, most - 100.0) is None


def test_a_weak_fire_is_told_only_where_no_heat_was_asked():
    weak = burn(excess_air=3.0)
    flame = OAK.temperature(3.0)
    assert flame < fact("flare_gas_temperature") < OAK.temperature(0.6)
    told = limit("fire", weak, DONE, None).hit
    assert f"no hotter than {flame - 273.15:.0f} °C" in told
    assert f"{fact('flare_gas_temperature') - 273.15:.0f} °C and more are usual" in told
    assert limit("fire", weak, DONE, flame - 50.0) is None
    assert limit("fire", burn(), DONE, None) is None


def test_a_kiln_without_air_is_told_that_and_nothing_else():
    still = [moment(1.0, air=0.0), moment(4.0, air=0.0)]
    (shut,) = find_limits(burn(still, damper=0.0, burnt=0.0), DONE, None)
    (cold,) = find_limits(burn(still, burnt=0.0), DONE, None)
    assert shut.lift == "Open it."
    assert "does not draw" in cold.hit
    assert str(cold) == f"{cold.hit} {cold.lift}"
    once = [moment(1.0, air=0.0), moment(4.0, air=0.01)]
    assert not any("does not draw" in one.hit for one in find_limits(burn(once), DONE, None))


@pytest.mark.parametrize(("lit", "told"), [(0.0, True), (2.0, False)], ids=["fed from lighting", "lit later"])
def test_only_a_fire_that_is_fed_can_find_no_draught(lit, told):
    still = [moment(0.5, air=0.0), moment(1.0, air=0.0)]
    found = find_limits(burn(still, burnt=0.0, times=(lit * HOUR,), rates=(0.002,)), DONE, None)
    assert any("does not draw" in one.hit for one in found) is told
