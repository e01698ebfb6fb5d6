"""The front's heat balance, and the geometry round it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limekit import chemistry
from limekit.facts import fact
from limekit.stone.front import CURVED_SIDES, LAWS, Piece, front_balance, gas_pressure, threshold

SHAPES = tuple(CURVED_SIDES)


def test_threshold_is_the_dissociation_temperature():
    for fraction in (0.01, 0.25, 1.0):
        pressure = gas_pressure(fraction)
        assert threshold(pressure) == pytest.approx(chemistry.dissociation_temperature.plain(pressure))
    assert 0.0 < threshold(0.0) < threshold(1.0)


@given(
    idle=st.floats(700.0, 1900.0),
    supply=st.floats(1.0, 1e8),
    fraction=st.floats(0.0, 1.0),
    resistance=st.floats(1e-7, 1e5),
    guess=st.floats(300.0, 2000.0),
)
def test_heat_that_comes_is_heat_that_burns(idle, supply, fraction, resistance, guess):
    pressure = gas_pressure(fraction)
    level, burning = front_balance(idle, supply, pressure, resistance, guess, LAWS.heat)
    if idle <= threshold(pressure):
        assert (level, burning) == (idle, 0.0)
        return
    assert threshold(pressure) <= level <= idle

    def by_gas(at):
        drive = chemistry.dissociation_pressure.plain(float(at)) - pressure
        return drive / (fact("gas_constant") * at * resistance)

    def by_heat(at):
        return supply * (idle - at) / LAWS.heat

    below, above, slack = level - 1e-5, level + 1e-5, 1.0 + 1e-9
    assert by_gas(below) <= burning * slack
    assert by_gas(above) * slack >= burning
    assert by_heat(above) <= burning * slack
    assert by_heat(below) * slack >= burning


@pytest.mark.parametrize("shape", SHAPES)
def test_resistances_follow_from_the_areas(shape):
    piece = Piece(0.08, shape=shape)
    core = 0.35
    places = np.linspace(core, 1.0, 20001)
    middles = 0.5 * (places[1:] + places[:-1])
    path = np.sum(middles**-piece.curved) * (places[1] - places[0])
    assert piece.shell_path(core) == pytest.approx(path, rel=1e-6)
    heat = 1.0 / piece.heat_transfer_coefficient + piece.radius * path / piece.lime_conductivity
    assert piece.heat_resistance(core) == pytest.approx(heat, rel=1e-6)
    gas = core**-piece.curved / piece.reaction_coefficient + piece.radius * path / piece.co2_diffusivity
    assert piece.gas_resistance(core) == pytest.approx(gas, rel=1e-6)
    assert Piece(0.08, shape=shape, gas_film_coefficient=0.07).gas_resistance(core) == pytest.approx(gas + 1 / 0.07)


@pytest.mark.parametrize("shape", SHAPES)
@given(conversion=st.floats(0.0, 1.0))
def test_core_left_is_the_root_of_the_volume_left(shape, conversion):
    piece = Piece(0.05, shape=shape)
    assert 1.0 - piece.core_left(conversion) ** (piece.curved + 1) == pytest.approx(conversion)


def test_magnesium_carbonate_is_part_of_the_carbonates():
    assert Piece(0.05, magnesium_carbonate=0.17, carbonate_fraction=0.97).carbonate == pytest.approx(
        fact("stone_density") * 0.8 / chemistry.CALCIUM_CARBONATE
    )


def test_burnt_lime_weighs_what_burning_leaves():
    piece = Piece(0.05, carbonate_fraction=0.97, magnesium_carbonate=0.1)
    loss = chemistry.loss_on_ignition.plain(0.87, 0.1)
    assert piece.lime_density == pytest.approx(piece.density * (1.0 - loss))


def test_gas_film_is_the_packed_bed_correlation_at_the_flow_it_states():
    import cantera
    from ht import Nu_Wakao_Kagei

    gas = cantera.Solution("gri30.yaml", transport_model="multicomponent")
    gas.TPX = 1273.15, 101325.0, "N2:0.68, CO2:0.25, H2O:0.05, O2:0.02"
    diffusivity = gas.binary_diff_coeffs[gas.species_index("CO2"), gas.species_index("N2")]
    film = {}
    for flow in (0.02, 0.1, 0.3):
        reynolds = flow * 0.05 / gas.viscosity
        sherwood = Nu_Wakao_Kagei(reynolds, gas.viscosity / gas.density / diffusivity)
        film[flow] = sherwood * diffusivity / 0.05
    known = fact("gas_film_coefficient")
    assert film == pytest.approx({0.02: known.low, 0.1: known, 0.3: known.high}, rel=0.1)
