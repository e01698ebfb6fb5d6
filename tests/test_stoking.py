"""What is burnt and fed: a fuel's gas and air by its own analysis, and a stoker's plan hour by hour."""

import numpy as np
import pytest

from limekit import fact
from limekit.fire.fuel import air_demand, fuels, lower_heating_value
from limekit.kiln.column.gas import MASSES, SPECIES
from limekit.kiln.column.stoking import AIR_MOLES, BurntFuel, Stoker

HOUR = 3600.0
OAK = BurntFuel.of("oak", 0.2, 293.15)


@pytest.mark.parametrize(("fuel", "moisture"), [("oak", 0.2), ("anthracite", 0.04)])
def test_no_gram_is_lost_as_fuel_and_air_become_gas(fuel, moisture):
    burnt = BurntFuel.of(fuel, moisture, 293.15)
    ash = fuels()[fuel].ash * (1.0 - moisture)
    # sulphur dioxide counts as so many moles of nitrogen, and argon does too
    assert burnt.gas @ MASSES == pytest.approx(1.0 - ash + burnt.air, rel=5e-3)
    assert burnt.gas[SPECIES.index("o2")] == pytest.approx(0.0, abs=1e-9)
    assert burnt.air == air_demand.plain(fuel, moisture)
    assert burnt.heat == lower_heating_value.plain(fuel, moisture)


def test_a_kilogram_of_air_is_a_kilogram_and_brings_its_warmth_over_25_degrees():
    assert (AIR_MOLES * MASSES).sum() == pytest.approx(1.0, rel=5e-3)
    for air, warmth in ((298.15, 0.0), (318.15, 20 * 1006.0), (278.15, -20 * 1006.0)):
        # the heat capacity of air, 1006 J/kg K, is from memory
        assert BurntFuel.of("oak", 0.2, air).air_heat == pytest.approx(warmth, abs=150.0)


def test_sulphur_s_gas_is_counted():
    coal = BurntFuel.of("anthracite", 0.0, 293.15)
    # of a kilogram of air's nitrogen, and the fuel's own
    carried = coal.air * AIR_MOLES[SPECIES.index("n2")]
    own = coal.gas[SPECIES.index("n2")] - carried
    sulphur, nitrogen = fuels()["anthracite"].sulphur, fuels()["anthracite"].nitrogen
    assert own == pytest.approx(sulphur / 0.03206 + nitrogen / 0.028014, rel=0.02)


def test_more_air_makes_cooler_gas_and_no_air_to_spare_makes_gas_too_hot_for_the_fuel():
    assert OAK.temperature(0.3) > OAK.temperature(0.6) > OAK.temperature(3.0)
    for excess in (0.0, 0.6, 3.0):
        assert OAK.excess_air(OAK.temperature(excess)) == pytest.approx(excess, abs=1e-3)
    assert OAK.excess_air(3000.0) < 0.0


def test_the_rate_is_that_of_the_last_moment_passed_and_none_before_the_first():
    stoker = Stoker(OAK, 0.6, 0.0, (HOUR, 3 * HOUR), (0.001, 0.002))
    times = np.array([0.0, 0.9, 1.0, 2.9, 3.0, 99.0]) * HOUR
    assert stoker.wanted(times).tolist() == [0.0, 0.0, 0.001, 0.001, 0.002, 0.002]
    assert stoker.last_fed == np.inf
    assert Stoker(OAK, 0.6, 0.0, (0.0, HOUR, 3 * HOUR), (0.001, 0.002, 0.0)).last_fed == 3 * HOUR
    free = Stoker(OAK, 0.6, 0.0)
    assert np.isinf(free.wanted(times)).all()
    assert np.isinf(free.wanted(0.0))
    assert np.isinf([free.last_fed, free.most]).all()


def test_an_open_door_lets_a_fire_go_on_the_least_air_that_burns_well():
    minded, open_door = Stoker(OAK, 0.6, 0.1), Stoker(OAK, None, 0.1)
    assert minded.least_air == 0.6
    assert open_door.least_air == fact("excess_air").low
    told = [stoker.feeding(2) for stoker in (minded, open_door)]
    assert [one.open_door for one in told] == [False, True]
    assert told[0].excess_air.tolist() == [0.6, 0.6]
    assert told[1].excess_air == pytest.approx([open_door.least_air] * 2)


def test_what_the_loop_is_told_is_what_the_stoker_is():
    stoker = Stoker(OAK, np.array([0.5, 0.7]), 0.1, (0.0,), (0.002,), 0.003, HOUR, np.array([0.9, 1.1]), True, 0.2)
    told = stoker.feeding(2)
    assert (told.times.tolist(), told.rates.tolist()) == ([0.0], [0.002])
    assert (told.most, told.heat_up_time, told.unburnt, told.surplus) == (0.003, HOUR, 0.1, 0.2)
    assert (told.heat, told.air, told.air_heat) == (OAK.heat, OAK.air, OAK.air_heat)
    assert (told.gas, told.air_moles) == (tuple(OAK.gas), tuple(AIR_MOLES))
    assert told.kindling_share == fact("kindling_share")
    assert told.excess_air.tolist() == [0.5, 0.7]
    assert told.quality.tolist() == [0.9, 1.1]
    assert told.ample
    usual = Stoker(OAK, 0.6, 0.1).feeding(3)
    assert usual.quality.tolist() == [1.0] * 3
    assert (usual.heat_up_time, usual.surplus, usual.ample) == (0.0, 0.0, False)
