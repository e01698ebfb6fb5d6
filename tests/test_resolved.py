"""The resolved stone: exact limits, convergence, heat and mass that close, the reduced stone beside it."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limekit.chemistry import MAGNESIUM_CARBONATE
from limekit.errors import InputError
from limekit.facts import fact
from limekit.stone import quasi_steady, resolved
from limekit.stone.front import Piece, gas_pressure, threshold
from limekit.stone.history import FireHistory
from limekit.stone.march import time_to

LARGE = 1e9
ALONE = {
    "heat_transfer_coefficient": LARGE,
    "lime_conductivity": LARGE,
    "co2_diffusivity": LARGE,
    "reaction_coefficient": LARGE,
}
COLD = 293.15
SWING = 0.03  # of the jump to the gas's temperature, by which cells may pass it where a front outruns the heat
UP_DOWN_UP = FireHistory(
    (0.0, 7200.0, 14400.0, 18000.0, 28800.0, 43200.0),
    (400.0, 1300.0, 1300.0, 900.0, 1350.0, 1350.0),
    (0.1, 0.2, 0.2, 0.2, 0.25, 0.25),
)


def steady(temperature, fraction=0.2):
    return FireHistory.steady.plain(temperature, fraction)


def conversion(burnt):
    return 1.0 - burnt.states.core[-1] / burnt.states.core[0]


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
def test_one_resistance_alone_and_no_heat_held_is_exact(shape, name, value):
    piece = Piece(0.05, **{**ALONE, name: value}, shape=shape, stone_heat_capacity=0.1, lime_heat_capacity=0.1)
    for share in (0.5, 0.9, 1.0):
        time = resolved.burn(piece, steady(1180.0), 1180.0, conversion=share).time
        assert time == pytest.approx(quasi_steady.time_to(piece, 1180.0, gas_pressure(0.2), share), rel=0.005)


def test_stone_that_only_warms_follows_the_series_for_a_sphere():
    piece = Piece(0.08)
    seconds, gas = 900.0, 950.0
    burnt = resolved.burn(piece, steady(gas), COLD, until=seconds, core_cells=20, fineness=4.0)
    biot = piece.heat_transfer_coefficient * piece.radius / piece.stone_conductivity
    spread = piece.stone_conductivity / (piece.density * piece.stone_heat_capacity)
    total = 0.0
    for n in range(1, 40):
        low, high = (n - 1) * math.pi + 1e-9, n * math.pi - 1e-9
        for _ in range(80):
            root = 0.5 * (low + high)
            low, high = (root, high) if 1.0 - root / math.tan(root) < biot else (low, root)
        weight = 4.0 * (math.sin(root) - root * math.cos(root)) / (2.0 * root - math.sin(2.0 * root))
        total += weight * math.exp(-(root**2) * spread * seconds / piece.radius**2) * math.sin(root) / root
    series_face = gas + (COLD - gas) * total
    assert burnt.states.front[-1] + 298.15 == pytest.approx(series_face, abs=2.0)
    assert conversion(burnt) == pytest.approx(0.0, abs=1e-8)


@pytest.mark.parametrize(
    ("diameter", "temperature", "shape"), [(0.05, 1273.15, "sphere"), (0.2, 1523.15, "sphere"), (0.1, 1373.15, "slab")]
)
def test_grid_and_steps_have_converged(diameter, temperature, shape):
    piece = Piece(diameter, shape=shape)
    for share in (0.9, 0.99):
        usual = resolved.burn(piece, steady(temperature), COLD, conversion=share).time
        cells = resolved.burn(piece, steady(temperature), COLD, conversion=share, core_cells=30, shell_cells=30).time
        fine = resolved.burn(
            piece, steady(temperature), COLD, conversion=share, core_cells=30, shell_cells=30, fineness=10.0
        ).time
        assert usual == pytest.approx(cells, rel=0.002)
        assert usual == pytest.approx(fine, rel=0.004)


FURNACES = [
    (diameter, celsius, fraction)
    for diameter in (0.02, 0.06, 0.2)
    for celsius in (900, 1000, 1250)
    for fraction in (0.0, 0.15, 0.3)
    if celsius + 273.15 > threshold(gas_pressure(fraction)) + 40.0
]


def test_reduced_stone_agrees_within_5_per_cent():
    for diameter, celsius, fraction in FURNACES:
        piece, gas = Piece(diameter), celsius + 273.15
        time = time_to(piece, gas, gas_pressure(fraction), COLD, 0.9)
        reference = resolved.burn(piece, steady(gas, fraction), COLD, conversion=0.9).time
        assert time == pytest.approx(reference, rel=0.02), (diameter, celsius, fraction)
    assert len(FURNACES) > 20


@pytest.mark.parametrize("shape", ["sphere", "cylinder", "slab"])
@pytest.mark.parametrize("extra", [{}, {"moisture": 0.1, "magnesium_carbonate": 0.2}])
def test_heat_and_mass_close_in_a_fire_that_falls_and_rises(shape, extra):
    for diameter in (0.03, 0.3):
        burnt = resolved.burn(Piece(diameter, shape=shape, **extra), UP_DOWN_UP, COLD, until=72000.0)
        assert abs(burnt.heat_gap) < 1e-6
        assert abs(burnt.mass_gap) < 1e-6
        assert burnt.states.time[-1] == 72000.0


def test_front_stands_while_the_gas_is_cold():
    burnt = resolved.burn(Piece(0.1), UP_DOWN_UP, COLD, until=43200.0)
    cores = dict(zip(burnt.states.time.tolist(), burnt.states.core.tolist(), strict=True))
    cold = [core for time, core in cores.items() if 18000.0 <= time < 19000.0]
    assert len(cold) > 2
    assert max(cold) - min(cold) < 1e-6 * max(cold)
    assert min(cores.values()) < 0.8 * cold[0]


def test_gas_below_the_threshold_only_warms():
    burnt = resolved.burn(Piece(0.05), steady(1050.0), COLD, until=36000.0)
    assert conversion(burnt) == 0.0
    assert burnt.states.front[-1] + 298.15 == pytest.approx(1050.0, abs=0.1)


def test_moisture_and_magnesia_take_their_heat():
    dry = resolved.burn(Piece(0.05), steady(1000.0, 0.5), COLD, until=36000.0)
    wet = resolved.burn(Piece(0.05, moisture=0.1), steady(1000.0, 0.5), COLD, until=36000.0)
    dolomitic = resolved.burn(Piece(0.05, magnesium_carbonate=0.3), steady(1070.0, 0.5), COLD, until=72000.0)
    volume, density = dry.cells.volume, fact("stone_density")
    water = density * 0.1 / 0.9 * volume
    assert wet.states.taken[-1] - dry.states.taken[-1] == pytest.approx(water * fact("drying_heat"), rel=1e-3)
    level = dolomitic.states.front[-1] + 298.15
    sensible = density * fact("stone_heat_capacity") * volume * (level - COLD)
    bound = 0.3 * density / MAGNESIUM_CARBONATE * volume * fact("magnesium_dissociation_heat_at_25")
    assert dolomitic.states.taken[-1] == pytest.approx(sensible + bound, rel=1e-3)


def test_what_dried_does_not_dry_again():
    piece = Piece(0.04, moisture=0.1)
    twice = FireHistory((0.0, 7200.0, 7300.0, 20000.0, 20100.0), (800.0, 800.0, 300.0, 300.0, 800.0), (0.5,) * 5)
    burnt = resolved.burn(piece, twice, COLD, until=36000.0)
    once = resolved.burn(piece, steady(800.0, 0.5), COLD, until=36000.0)
    assert burnt.states.taken[-1] == pytest.approx(once.states.taken[-1], rel=1e-6)


@settings(max_examples=25, deadline=None)
@given(
    diameter=st.floats(0.002, 0.6),
    gas=st.floats(400.0, 1850.0),
    fraction=st.floats(0.0, 1.0),
    pace=st.sampled_from([1e-4, 0.006, 1e9]),
    film=st.sampled_from([1.0, 100.0, 1e9]),
    shape=st.sampled_from(["sphere", "cylinder", "slab"]),
)
def test_any_stone_in_any_fire_ends_closes_and_stays_within_its_gas(diameter, gas, fraction, pace, film, shape):
    piece = Piece(diameter, reaction_coefficient=pace, heat_transfer_coefficient=film, shape=shape)
    burnt = resolved.burn(piece, steady(gas, fraction), COLD, until=7200.0)
    assert len(burnt.states.time) < 1000
    assert abs(burnt.heat_gap) < 1e-5
    assert abs(burnt.mass_gap) < 1e-6
    warmths = np.column_stack([burnt.states.core_warmth, burnt.states.front, burnt.states.shell_warmth])
    low, high, swing = min(COLD, gas) - 298.15, max(COLD, gas) - 298.15, SWING * abs(gas - COLD)
    assert low - swing < warmths.min()
    assert warmths.max() < high + swing
    cores = burnt.states.core
    assert (np.diff(cores) <= 1e-12 * cores[0]).all()


def test_fire_too_cold_for_the_share_asked_is_said_so():
    with pytest.raises(InputError, match="does not reach"):
        resolved.burn(Piece(0.05), steady(900.0), COLD, conversion=0.9)
