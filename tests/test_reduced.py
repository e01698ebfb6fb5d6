"""The reduced stone: exact limits, heat and mass that close, many stones at once."""

import copy
import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from march_by_arrays import march

from limekit.chemistry import CALCIUM_CARBONATE, CARBON_DIOXIDE, MAGNESIUM_CARBONATE
from limekit.errors import InputError
from limekit.stone import quasi_steady, reduced
from limekit.stone.front import Piece, gas_pressure
from limekit.stone.march import march as loop
from limekit.stone.march import time_to

LARGE = 1e9
ALONE = {
    "heat_transfer_coefficient": LARGE,
    "lime_conductivity": LARGE,
    "co2_diffusivity": LARGE,
    "reaction_coefficient": LARGE,
}


def steady(temperature, co2_fraction=0.2):
    return lambda time: (temperature, gas_pressure(co2_fraction))


@pytest.mark.parametrize("shape", ["sphere", "cylinder", "slab"])
@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("heat_transfer_coefficient", 100.0),
        ("lime_conductivity", 0.6),
        ("reaction_coefficient", 0.006),
        ("co2_diffusivity", 6e-5),
    ],
)
def test_without_stored_heat_it_is_the_quasi_steady_stone(shape, name, value):
    piece = Piece(0.05, **{**ALONE, name: value}, shape=shape, stone_heat_capacity=1e-3, lime_heat_capacity=1e-3)
    conversion = np.array([0.5, 0.9, 0.99, 1.0])
    time = time_to(piece, 1180.0, gas_pressure(0.2), 1180.0, conversion)
    assert time == pytest.approx(quasi_steady.time_to(piece, 1180.0, gas_pressure(0.2), conversion), rel=0.005)


@pytest.mark.parametrize("shape", ["sphere", "cylinder", "slab"])
def test_heat_and_mass_close_in_a_fire_that_rises_and_falls(shape):
    piece = Piece(np.array([0.02, 0.06, 0.3]), shape=shape, moisture=0.05, magnesium_carbonate=0.04)
    stones = reduced.Stones(piece, 290.0)
    held, water, carbon_dioxide = stones.heat_held, 0.0, 0.0
    into = out = 0.0
    for minute in range(0, 36 * 60, 5):
        temperature = 400.0 + 900.0 * np.sin(np.pi * minute / (36 * 60))
        taken = stones.step(300.0, temperature, gas_pressure(0.2))
        into = into + taken.heat
        out = out + taken.reaction + taken.carried
        water, carbon_dioxide = water + taken.water, carbon_dioxide + taken.carbon_dioxide
    assert into == pytest.approx(stones.heat_held - held + out, rel=1e-9)
    assert stones.conversion[0] == pytest.approx(1.0)
    assert 0.1 < stones.conversion[2] < stones.conversion[1]
    assert water == pytest.approx(0.05 / 0.95)
    calcium, magnesium = 0.93 / CALCIUM_CARBONATE * stones.conversion, 0.04 / MAGNESIUM_CARBONATE
    assert carbon_dioxide == pytest.approx(CARBON_DIOXIDE * (calcium + magnesium), rel=1e-6)


@pytest.mark.parametrize("shape", ["sphere", "cylinder", "slab"])
def test_the_response_is_the_slope_of_the_heat_taken_against_the_gas(shape):
    stones = reduced.Stones(Piece(np.array([0.02, 0.06, 0.3]), shape=shape), 290.0)
    for minute in range(0, 36 * 60, 5):
        temperature = 400.0 + 900.0 * np.sin(np.pi * minute / (36 * 60))
        colder, hotter, before = copy.copy(stones), copy.copy(stones), stones.conversion
        ends = [one.step(300.0, temperature + by, gas_pressure(0.2)) for one, by in ((colder, -0.5), (hotter, 0.5))]
        response = stones.step(300.0, temperature, gas_pressure(0.2)).response
        smooth = ((colder.burning > 0.0) == (hotter.burning > 0.0)) & ((hotter.conversion < 1.0) | (before == 1.0))
        assert (ends[1].heat - ends[0].heat)[smooth] == pytest.approx(response[smooth], rel=2e-3)
        assert (response > 0.0).all()
    assert stones.conversion.max() == 1.0


def test_stone_that_never_burns_is_said_so():
    gases = np.array([900.0, 1250.0])
    with pytest.raises(InputError, match="1 of 2 stones"):
        time_to(Piece(0.05), gases, gas_pressure(0.2), 290.0, 0.9)
    _, stones = march(Piece(0.05), steady(gases), 290.0, until=1e6)
    assert stones.conversion == pytest.approx([0.0, 1.0])
    assert stones.core_temperature == pytest.approx(gases, abs=0.1)


@pytest.mark.parametrize("shape", ["sphere", "cylinder", "slab"])
@pytest.mark.parametrize("of", [{}, {"moisture": 0.08}, {"moisture": 0.03, "magnesium_carbonate": 0.3}])
def test_the_loop_is_the_march_by_whole_arrays(shape, of):
    for diameter, gas, conversion in ((0.01, 1500.0, 0.3), (0.05, 1270.0, 0.95), (0.2, 1120.0, 1.0)):
        piece = Piece(diameter, shape=shape, **of)
        alone, _ = march(piece, steady(gas), 290.0, conversion=conversion)
        assert time_to(piece, gas, gas_pressure(0.2), 290.0, conversion) == pytest.approx(float(alone), rel=1e-9)


def test_times_of_many_stones_are_those_of_each_whatever_is_told_by_arrays():
    sizes, paces = np.array([0.02, 0.08])[:, None], np.array([0.003, 0.006, 0.012])
    piece = Piece(sizes, reaction_coefficient=paces, moisture=np.array([[0.0], [0.05]]))
    gas, starts, conversions = np.array([1200.0, 1300.0, 1400.0]), np.array([[290.0], [400.0]]), 0.9
    found = time_to(piece, gas, gas_pressure(0.2), starts, conversions)
    assert found.shape == (2, 3)
    for row, column in np.ndindex(2, 3):
        alone = Piece(
            float(sizes[row, 0]), reaction_coefficient=float(paces[column]), moisture=float(piece.moisture[row, 0])
        )
        time = time_to(alone, float(gas[column]), gas_pressure(0.2), float(starts[row, 0]), conversions)
        assert found[row, column] == time
        assert isinstance(time, float)


def test_plain_python_takes_the_same_time():
    piece, at = Piece(np.array([0.02, 0.05]), moisture=0.04), np.full(2, 1250.0)
    makes = reduced.Make.of(piece.with_each(lambda figure: np.zeros(2) + figure))
    asked = at, np.full(2, gas_pressure(0.2)), np.full(2, 290.0), np.array([0.5, 1.0])
    assert loop.py_func(makes, *asked) == pytest.approx(loop(makes, *asked), rel=1e-9)


def test_nothing_to_burn_takes_no_time():
    assert time_to(Piece(0.05), 1250.0, gas_pressure(0.2), 290.0, 0.0) == 0.0


def test_many_stones_are_the_same_as_one_by_one():
    sizes, gases = np.array([0.01, 0.05, 0.2])[:, None], np.array([1200.0, 1400.0])
    _, together = march(Piece(sizes), steady(gases), 290.0, until=5400.0)
    for row, size in enumerate(sizes[:, 0]):
        for column, gas in enumerate(gases):
            _, alone = march(Piece(size), steady(gas), 290.0, until=5400.0)
            assert together.conversion[row, column] == pytest.approx(float(alone.conversion), abs=1e-6)


@pytest.mark.parametrize("diameter", [0.005, 0.05, 0.3])
def test_steps_of_any_length_stay_within_the_gas(diameter):
    for seconds in (1.0, 60.0, 3600.0, 1e5):
        stones = reduced.Stones(Piece(diameter), 290.0)
        for _ in range(60):
            stones.step(seconds, 1350.0, gas_pressure(0.25))
            assert 289.0 < float(stones.core_temperature) < 1350.5
            assert 0.0 <= float(stones.conversion) <= 1.0


@settings(max_examples=60, deadline=None)
@given(
    diameter=st.floats(0.01, 0.3),
    moisture=st.floats(0.0, 0.15),
    magnesium=st.floats(0.0, 0.4),
    band=st.floats(340.0, 400.0),
    minutes=st.floats(1.0, 300.0),
    hot=st.floats(450.0, 1500.0),
    seconds=st.floats(1e3, 1e6),
)
def test_one_huge_step_across_the_drying_band_stays_within_the_gas(
    diameter, moisture, magnesium, band, minutes, hot, seconds
):
    stones = reduced.Stones(Piece(diameter, moisture=moisture, magnesium_carbonate=magnesium), 290.0)
    for _ in range(4):
        stones.step(15.0 * minutes, band, gas_pressure(0.25))
    held, core = stones.heat_held, float(stones.core_temperature)
    taken = stones.step(seconds, hot, gas_pressure(0.25))
    assert core - 1.0 < float(stones.core_temperature) < hot + reduced.OVERSHOOT + 0.5
    assert float(taken.heat) == pytest.approx(float(stones.heat_held - held + taken.reaction + taken.carried), rel=1e-9)
    warm = float(stones.core_temperature)
    stones.step(seconds, band, gas_pressure(0.25))
    assert float(stones.core_temperature) > min(band, warm) - reduced.OVERSHOOT - 0.5


def test_what_leaves_with_the_carbon_dioxide_is_its_own_heat():
    piece = Piece(0.05)
    stones, carried, moles = reduced.Stones(piece, 1100.0), 0.0, 0.0
    for _ in range(200):
        taken = stones.step(30.0, 1250.0, gas_pressure(0.2))
        carried, moles = carried + taken.carried, moles + taken.carbon_dioxide / CARBON_DIOXIDE
    each = piece.density * piece.stone_heat_capacity - piece.lime_density * piece.lime_heat_capacity
    assert carried / moles == pytest.approx(each / piece.carbonate * (stones.front_temperature - 298.15), rel=0.02)


@pytest.mark.parametrize("burn_all", [reduced.burn_all, reduced.burn_each, reduced.burn_together])
def test_a_piece_burnt_in_many_ways_at_once_is_each_way_burnt_alone(burn_all):
    piece, lengths = Piece(0.05, moisture=0.03), np.full(12, 300.0)
    ways = np.array([[0.003, 0.012], [0.4, 0.9], [60.0, 200.0], [5000.0, 20000.0], [1223.15, 1323.15]])
    paces, conductivities, transfers, pressures, levels = ways
    many = dataclasses.replace(
        piece, reaction_coefficient=paces, lime_conductivity=conductivities, heat_transfer_coefficient=transfers
    ).with_each(lambda figure: np.zeros(2) + figure)
    burnt = burn_all(reduced.Make.of(many), levels, pressures, 293.15, lengths)
    assert burnt[0] == pytest.approx(0.0)
    for way, (pace, conductivity, transfer, pressure, level) in enumerate(ways.T):
        alone = reduced.Stones(
            dataclasses.replace(
                piece,
                reaction_coefficient=pace,
                lime_conductivity=conductivity,
                heat_transfer_coefficient=transfer,
            ),
            293.15,
        )
        for turn, seconds in enumerate(lengths):
            alone.step(seconds, level, pressure)
            assert burnt[turn + 1, way] == pytest.approx(float(alone.conversion), abs=1e-6)
    assert 0.0 < burnt[-1, 0] < burnt[-1, 1]
