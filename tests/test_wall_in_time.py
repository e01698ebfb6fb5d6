import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.special import erfc

from limekit.kiln.wall.in_time import Wall, cell_faces
from limekit.kiln.wall.layers import material, read_layers
from limekit.kiln.wall.steady import steady_wall

LAYERS = [("firebrick", 0.230), ("wood_ash", 0.100), ("rubble", 0.450)]
HOUR = 3600.0
PERFECT = 1e9


def _thick(**known):
    return Wall([("firebrick", 3.0)], 1.0, air_temperature=290.0, **known)


def _effusivity():
    brick = material("firebrick")
    return math.sqrt(brick.conductivity * brick.density * brick.heat_capacity), brick


@pytest.mark.parametrize("seconds", [10.0, 60.0, 600.0])
def test_a_thick_wall_with_a_held_face_follows_the_error_function(seconds):
    # Carslaw & Jaeger: T = Ta + dT erfc(x / 2 sqrt(a t)), heat 2 e dT sqrt(t/pi)
    wall, held = _thick(first_cell=0.0005), 10 * HOUR
    effusivity, brick = _effusivity()
    for _ in range(round(held / seconds)):
        wall.step(1290.0, PERFECT, seconds)
    diffusivity = brick.conductivity / (brick.density * brick.heat_capacity)
    exact = 290.0 + 1000.0 * erfc(wall.depths / (2 * math.sqrt(diffusivity * held)))
    assert np.abs(wall.temperatures[0] - exact).max() < 4.0
    assert wall.heat_taken[0] == pytest.approx(2 * effusivity * 1000.0 * math.sqrt(held / math.pi), rel=0.005)


def test_a_thick_wall_behind_a_film_follows_its_exact_solution():
    # Carslaw & Jaeger: surface temperature of a half-space heated through a film
    wall, held, film = _thick(), 12 * HOUR, 40.0
    effusivity, _ = _effusivity()
    for _ in range(720):
        wall.step(1290.0, film, 60.0)
    reach = film * math.sqrt(held) / effusivity
    exact = 290.0 + 1000.0 * (1.0 - math.exp(reach**2) * math.erfc(reach))
    assert wall.face_temperature[0] == pytest.approx(exact, abs=1.5)


def test_a_thick_wall_takes_a_steady_heat_as_it_should():
    # Carslaw & Jaeger: surface rises by 2 q sqrt(t/pi) / e under a constant flux
    wall, effusivity = _thick(), _effusivity()[0]
    for _ in range(60):
        wall.absorb(np.array([2000.0 * 600.0]), 600.0)
    assert wall.face_temperature[0] - 290.0 == pytest.approx(
        2 * 2000.0 * math.sqrt(36000.0 / math.pi) / effusivity, rel=0.005
    )


@pytest.mark.parametrize("diameter", [None, 1.5])
def test_a_wall_left_long_enough_settles(diameter):
    wall = Wall(LAYERS, 3.0, diameter, 290.0, outside_coefficient=15.0)
    for _ in range(400):
        wall.step(1250.0, 90.0, 100 * HOUR)
    still = steady_wall.plain(LAYERS, 1250.0, diameter, 290.0, 3.0, 90.0, 15.0)
    lost = wall.heat_lost.copy()
    taken = wall.step(1250.0, 90.0, HOUR)
    assert taken[0] / HOUR == pytest.approx(still.wall_loss.middle, rel=1e-3)
    assert (wall.heat_lost - lost)[0] == pytest.approx(taken[0], rel=1e-9)
    assert wall.hot_sides[0] == pytest.approx(still.interface_temperatures[:-1], abs=0.5)


def test_layers_of_a_round_wall_warm_as_a_general_solver_on_a_fine_grid_says():
    layers, radius, gas, film, air, out = read_layers(LAYERS), 0.9, 1300.0, 80.0, 285.0, 14.0
    edges = cell_faces(layers, first_cell=0.002, growth=0.03)
    middles = (edges[:-1] + edges[1:]) / 2
    depths = np.cumsum([layer.thickness for layer in layers])
    owners = [layers[int(np.searchsorted(depths, middle))].material for middle in middles]
    rings = (radius + edges) ** 2
    capacity = np.array([o.density * o.heat_capacity for o in owners]) * np.diff(rings) / (2 * radius)
    lambdas = np.array([o.conductivity for o in owners])
    inner = radius * np.log((radius + middles) / (radius + edges[:-1])) / lambdas
    outer = radius * np.log((radius + edges[1:]) / (radius + middles)) / lambdas

    def warming(_, state):
        cells = state[:-1]
        flows = np.empty(cells.size + 1)
        flows[0] = (gas - cells[0]) / (1 / film + inner[0])
        flows[1:-1] = (cells[:-1] - cells[1:]) / (outer[:-1] + inner[1:])
        flows[-1] = (cells[-1] - air) / (outer[-1] + radius / (out * (radius + edges[-1])))
        return np.append(-np.diff(flows) / capacity, flows[0])

    start = np.append(np.full(middles.size, air), 0.0)
    exact = solve_ivp(warming, (0, 30 * HOUR), start, "BDF", rtol=1e-7, atol=1e-5).y[:, -1]
    wall = Wall(LAYERS, 1.0, 2 * radius, air, outside_coefficient=out)
    for _ in range(1800):
        wall.step(gas, film, 60.0)
    assert wall.heat_taken[0] == pytest.approx(exact[-1], rel=2e-3)
    assert wall.temperatures[0] == pytest.approx(np.interp(wall.depths, middles, exact[:-1]), abs=6.0)


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.tuples(st.floats(250, 1600), st.floats(1, 500), st.floats(1, 20_000)), min_size=1, max_size=15),
    st.floats(250, 700),
    st.sampled_from([None, 0.8, 3.0]),
)
def test_energy_closes_at_every_step_whatever_the_fire_does(steps, start, diameter):
    wall = Wall(LAYERS, np.array([0.5, 2.0]), diameter, 290.0, start)
    scale = np.abs(wall.heat_stored) + 1.0
    for gas, film, seconds in steps:
        before, lost = wall.heat_stored, wall.heat_lost.copy()
        taken = wall.step(gas, film, seconds)
        scale = np.maximum(scale, np.abs(wall.heat_stored))
        gap = wall.heat_stored - before - taken + (wall.heat_lost - lost)
        assert np.all(np.abs(gap) <= 1e-9 * (scale + np.abs(taken)))


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.tuples(st.floats(250, 1600), st.floats(1, 150), st.floats(1, 600)), min_size=1, max_size=15),
    st.floats(250, 700),
)
def test_no_cell_grows_hotter_than_the_fire_or_colder_than_the_weather(steps, start):
    wall = Wall(LAYERS, 1.0, 2.0, 290.0, start)
    for step in steps:
        wall.step(*step)
    seen = [start, 290.0, *(gas for gas, _, _ in steps)]
    assert min(seen) - 1e-5 <= wall.temperatures.min()
    assert wall.temperatures.max() <= max(seen) + 1e-5


def test_heat_stored_is_the_cells_own():
    wall = Wall([("rubble", 0.5)], 2.0, None, 290.0, 400.0)
    rubble = material("rubble")
    assert wall.heat_stored[0] == pytest.approx(2.0 * 0.5 * rubble.density * rubble.heat_capacity * 110.0)


def test_the_offer_is_what_the_wall_then_takes():
    wall = Wall(LAYERS, np.full(4, 0.7), 2.0)
    gas = np.array([1300.0, 1100.0, 900.0, 700.0])
    for _ in range(5):
        conductance, temperature = wall.offer(100.0, 60.0)
        expected = 60.0 * conductance * (gas - temperature)
        assert wall.step(gas, 100.0, 60.0) == pytest.approx(expected, rel=1e-12)
    assert np.all(np.diff(wall.heat_taken) < 0.0)


def test_levels_stand_alone_and_scale_with_their_area():
    both, one = Wall(LAYERS, np.array([1.0, 2.5]), 2.0), Wall(LAYERS, 1.0, 2.0)
    for gas in (1000.0, 1300.0, 600.0):
        both.step(np.array([gas, gas]), 100.0, 900.0)
        one.step(gas, 100.0, 900.0)
    assert both.heat_taken == pytest.approx(np.array([1.0, 2.5]) * one.heat_taken[0])


def test_long_steps_give_the_heat_of_short_ones():
    # exact for a steady inflow, so even hours lose little
    totals = []
    for seconds in (60.0, 1800.0, HOUR):
        wall = Wall(LAYERS, 1.0, 2.0)
        for _ in range(round(48 * HOUR / seconds)):
            wall.step(1273.0, 100.0, seconds)
        totals.append(wall.heat_taken[0])
    assert totals[1:] == pytest.approx([totals[0]] * 2, rel=1e-4)


def test_steps_of_many_lengths_are_forgotten_and_found_again():
    wall, other = Wall(LAYERS, 1.0), Wall(LAYERS, 1.0)
    for seconds in np.linspace(1.0, 90.0, 90):
        wall.step(1000.0, 100.0, float(seconds))
    assert wall.step(1000.0, 100.0, 1.0)[0] > 0.0
    assert other.step(1000.0, 100.0, 1.0)[0] > wall.step(1000.0, 100.0, 1.0)[0]


def test_cells_keep_to_their_layers_and_widen_inward_to_outward():
    edges = cell_faces(read_layers(LAYERS))
    for depth in (0.0, 0.230, 0.330, 0.780):
        assert np.min(np.abs(edges - depth)) < 1e-12
    widths = np.diff(edges)
    assert np.all(widths > 0.0)
    assert widths[0] < 0.006 < widths[-1]
    inside = [width for width, edge in zip(widths, edges[:-1], strict=True) if edge < 0.229]
    assert all(narrow < wide for narrow, wide in pairwise(inside))


def test_a_layer_too_hot_is_named_and_only_then():
    wall = Wall([("firebrick", 0.060), ("wood_ash", 0.200), ("rubble", 0.450)], np.array([1.0, 1.0]), 2.0)
    gas = np.array([1400.0, 600.0])
    wall.step(gas, 100.0, HOUR)
    assert wall.over_limit() == ()
    for _ in range(60):
        wall.step(gas, 100.0, HOUR)
    assert wall.over_limit()[0].startswith("dry sifted wood ash reaches")
    assert wall.hot_sides.shape == (2, 3)
