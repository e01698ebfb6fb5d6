"""What is read off a steady shaft, from one written out by hand: ten cells, two sizes, two cases."""

from types import SimpleNamespace

import numpy as np
import pytest

from limekit import fact
from limekit.kiln.shaft.state import LIMITS, Found, in_words, profile, zones
from limekit.stone.signs import unburnt_allowed

CELLS, HEIGHT, HOUR = 10, 5.0, 3600.0
RISING = np.array([0.0, 0.0, 0.2, 0.4, 0.6, 0.8, 1.0, 1.0, 1.0, 1.0])
SHARES = np.array([0.25, 0.75])


def shaft(burnt=1.0, fuel_left=0.0, lime=330.0, core=320.0, top=450.0, warming=0.0, lime_in_fire=1300.0):
    """The first case as asked; the second has no fuel and burns nothing."""
    conversion = np.zeros((2, CELLS, 2))
    conversion[0] = burnt * RISING[:, None]
    lime_levels = np.full((2, CELLS, 2), lime)
    lime_levels[0, 2:6] = lime_in_fire
    gas = np.zeros((4, 2, CELLS + 1))
    gas[:, :, :-1] = np.array([3.0, 1.0, 0.5, 5.5])[:, None, None]
    gas[:, :, 5] = np.array([2.0, 1.0, 2.0, 5.0])[:, None]
    temperatures = np.full((2, CELLS), 1000.0)
    temperatures[:, 0] = top
    return SimpleNamespace(
        cells=CELLS,
        feed=SimpleNamespace(
            shares=SHARES,
            fuel_ratio=np.array([[0.08], [0.0]]),
            heating=np.array([[2e6], [0.0]]),
            height=HEIGHT,
            residence=np.full((2, 1), 40 * HOUR),
            air_temperature=293.15,
            piece=SimpleNamespace(diameter=np.array([0.04, 0.08])),
        ),
        stones=SimpleNamespace(
            conversion=conversion, core_temperature=np.full((2, CELLS, 2), core), lime_temperature=lime_levels
        ),
        gas_temperature=temperatures,
        fuel_left=np.linspace(1.0, fuel_left, CELLS) * np.ones((2, 1)),
        warming=np.array([[warming], [0.0]]),
        gas=gas,
        ledger=lambda: {"dissociation": np.array([[1.5e6], [0.0]]), "wall": np.array([[0.5e6], [0.0]])},
    )


def limits(**state):
    return dict(Found(shaft(**state)).limits(0))


def test_a_good_shaft_hits_no_limit_and_its_efficiency_is_of_the_fuel_s_heat():
    found = Found(shaft())
    assert found.limits(0) == []
    assert found.efficiency == pytest.approx([0.75, 0.0])
    assert found.fuel_burnt == pytest.approx([1.0, 0.0])
    assert found.conversion == pytest.approx([1.0, 0.0])
    assert found.lime_temperature[0] == pytest.approx(330.0)
    assert found.top_gas_temperature == pytest.approx([450.0, 450.0])


def test_half_burnt_stone_is_as_warm_as_core_and_lime_together():
    found = Found(shaft(burnt=0.5, lime=400.0, core=600.0))
    assert found.lime_temperature[0] == pytest.approx(500.0)
    assert found.conversion[0] == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("state", "name", "figure"),
    [
        ({"fuel_left": 0.3}, "unburnt fuel", "30 % of it"),
        ({"burnt": 0.8}, "raw core", "20 % of the stone is left raw"),
        ({"lime_in_fire": 1700.0}, "overburnt", "dead-burnt risk"),
        ({"lime": 673.15}, "hot lime", "400 °C"),
        ({"top": 873.15}, "hot top", "its gas has 600 °C"),
        ({"warming": -0.05}, "unsettled", "not in balance after many turns"),
    ],
)
def test_each_limit_is_told_with_its_figure_and_alone(state, name, figure):
    assert limits(**state) == {name: figure}
    told = in_words(name, figure)
    assert told.startswith(LIMITS[name][0].capitalize()[:5])
    assert f"({figure})" in told
    assert told.endswith(f"{LIMITS[name][1]}.")


def test_a_little_short_of_each_limit_nothing_is_told():
    assert not limits(fuel_left=0.9 * fact("fuel_unburnt_most"))
    assert not limits(burnt=1.0 - 0.9 * unburnt_allowed())
    assert not limits(lime=float(fact("draw_temperature_most")) - 1.0)
    assert not limits(top=float(fact("top_gas_most")) - 1.0)
    assert not limits(warming=0.005)


def test_where_most_fuel_is_left_the_fire_is_out_and_nothing_else_is_told():
    assert limits(fuel_left=0.6, burnt=0.1, top=900.0) == {"out": "40 % of the fuel burns"}
    assert Found(shaft()).limits(1) == [("out", "0 % of the fuel burns")]


def test_zones_end_where_burning_begins_and_ends():
    # burning rises evenly from the foot of the second cell, 1 m down, to that of the seventh, 3.5 m down
    preheating, burning, cooling = zones(shaft())
    assert preheating == pytest.approx(1.0 + 0.01 * 2.5)
    assert preheating + burning == pytest.approx(1.0 + 0.99 * 2.5)
    assert preheating + burning + cooling == pytest.approx(HEIGHT)
    assert zones(shaft(burnt=0.5)) == pytest.approx([preheating, burning, cooling]), "of what burns in all"
    assert zones(shaft(burnt=0.005)).tolist() == [HEIGHT, 0.0, 0.0]


def test_the_profile_tells_depth_time_and_gas_at_the_foot_of_each_cell():
    told = profile(shaft())
    assert told.depth[[0, -1]] == pytest.approx([0.5, HEIGHT])
    assert told.time[[0, -1]] == pytest.approx([4 * HOUR, 40 * HOUR])
    assert told.co2_fraction[[0, 5]] == pytest.approx([0.3, 0.2])
    assert told.oxygen_fraction[[0, 5]] == pytest.approx([0.05, 0.2])
    assert told.gas_temperature[0] == 450.0
    assert told.conversion[-1].tolist() == [1.0, 1.0]
    assert told.sizes.tolist() == [0.04, 0.08]
