"""One run of a short shaft, cheap to make, each figure of it reckoned again."""

import math

import numpy as np
import pytest

from limekit import Fuel, Kiln, Stone, fact, lower_heating_value, run_shaft, steady_wall
from limekit.fire.fuel import air_demand, fuels
from limekit.kiln.shaft.feed import feed_for, read_shaft

DAY = 1000.0 / 86400.0  # t/day in kg/s
RATIO, MOISTURE = 0.08, 0.04
CALCIUM, MAGNESIUM = 0.9, 0.05
ACROSS, HIGH = 2.0, 3.0


@pytest.fixture(scope="module")
def found():
    return run_shaft.plain(
        draw_rate=6.0 * DAY,
        fuel_ratio=RATIO,
        kiln_diameter=ACROSS,
        kiln_height=HIGH,
        stone_size=0.08,
        calcium_carbonate=CALCIUM,
        magnesium_carbonate=MAGNESIUM,
        stone_moisture=MOISTURE,
    )


def test_stone_fuel_and_air_go_by_the_lime_drawn(found):
    # drawn as if burnt through: 0.9 x 0.4397 and 0.05 x 0.5220 of the dry stone go up as gas
    dry = 6.0 * DAY / (1 - CALCIUM * 0.4397 - MAGNESIUM * 0.5220)
    assert found.stone_rate == pytest.approx(dry / (1 - MOISTURE), rel=1e-3)
    assert found.fuel_rate == pytest.approx(RATIO * found.stone_rate)
    air = air_demand.plain("coke", float(fuels()["coke"].fuel_moisture)) * (1 + fact("excess_air", "mixed_feed"))
    assert found.air_rate == pytest.approx(air * found.fuel_rate, rel=1e-6)


def test_the_time_in_the_shaft_is_what_it_holds_over_what_goes_in(found):
    held = math.pi / 4 * ACROSS**2 * HIGH * fact("shaft_charge_density")
    assert found.residence_time == pytest.approx(held / found.stone_rate)
    assert found.profile.time[-1] == pytest.approx(found.residence_time)
    assert found.profile.depth[-1] == pytest.approx(HIGH)


def test_shares_of_the_fuel_s_heat_come_to_one_where_the_shaft_stands_still(found):
    assert sum(found.heat_budget.values()) == pytest.approx(1.0, abs=0.02)
    assert found.efficiency == pytest.approx(found.heat_budget["dissociation"])
    drying = MOISTURE / (1 - MOISTURE) * fact("water_vaporisation_heat")
    fuel = RATIO / (1 - MOISTURE) * lower_heating_value.plain("coke", float(fuels()["coke"].fuel_moisture))
    assert found.heat_budget["drying"] == pytest.approx(drying / fuel, rel=1e-3)


def test_core_and_zones_are_those_of_the_profile(found):
    burnt = found.profile.conversion[-1, 0]
    assert found.conversion == pytest.approx(burnt)
    assert found.core_diameter == pytest.approx(0.08 * (1 - burnt) ** (1 / 3))
    assert found.zone_lengths.sum() == pytest.approx(HIGH)
    assert found.hottest_gas == found.profile.gas_temperature.max()
    assert found.top_gas_temperature == found.profile.gas_temperature[0]


def test_what_the_hot_shaft_draws_is_the_weight_its_gas_lacks(found):
    # g M/R P over each cell, the standard atmosphere outside
    lack = (1 / 293.15 - 1 / found.profile.gas_temperature).mean() * HIGH
    assert found.stack_pressure == pytest.approx(9.80665 * 0.0289647 / 8.314463 * 101_325 * lack, rel=2e-3)
    assert found.draught_wanted > 0.0


STONE = Stone.plain(calcium_carbonate=CALCIUM, magnesium_carbonate=MAGNESIUM, stone_moisture=MOISTURE)


def test_a_shaft_loses_through_its_wall_what_a_wall_so_hot_does():
    shaft = read_shaft(Kiln.plain(kiln_diameter=ACROSS, kiln_height=HIGH), 0.08)
    one = np.array([[1.0]])
    given = feed_for(shaft, one * DAY, one * RATIO, Fuel.plain("coke"), STONE, 0.05, 293.15)
    hot = float(fact("charge_temperature"))
    flux = steady_wall.plain(shaft.layers, hot, ACROSS, 293.15).heat_flux
    lost = flux * math.pi * ACROSS * HIGH
    through = float(given.stone_flux[0, 0]) * shaft.area * float(given.wall_loss[0, 0]) * (hot - 293.15)
    assert through == pytest.approx(lost)
    assert given.fuel_ratio[0, 0] == pytest.approx(RATIO / (1 - MOISTURE))
    assert given.piece.carbonate_fraction == pytest.approx(CALCIUM + MAGNESIUM)
    assert shaft.eye_area == pytest.approx(fact("mouth_share") * math.pi / 4 * ACROSS**2)
