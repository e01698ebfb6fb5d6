"""A shaft of few cells let sink a little: what is kept in every step, and each term worked by hand."""

import numpy as np
import pytest

from limekit import fact
from limekit.chemistry import CARBON_DIOXIDE
from limekit.kiln.column.gas import MASSES
from limekit.kiln.column.stoking import BurntFuel
from limekit.kiln.shaft.counterflow import Feed, Sinking, _upward
from limekit.stone.front import Piece

HOUR, CELLS = 3600.0, 16
SHARES = np.array([0.3, 0.7])
COKE = BurntFuel.of("coke", 0.05, 293.15)


def feed(ratios=(0.08, 0.0), **changed):
    """Two cases 8 m high: a fire, and none."""
    cases = len(ratios)
    plain = {
        "piece": Piece(diameter=np.array([0.04, 0.07]), moisture=0.03, magnesium_carbonate=0.05),
        "shares": SHARES,
        "fuel": COKE,
        "fuel_ratio": np.array(ratios)[:, None],
        "excess_air": 0.1,
        "residence": np.full((cases, 1), 40 * HOUR),
        "stone_flux": np.full((cases, 1), 8 * 1300 / (40 * HOUR)),
        "height": 8.0,
        "wall_loss": np.full((cases, 1), 150.0),
        "air_temperature": 293.15,
        "burns_from": 923.15,
        "burn_out": 4 * HOUR,
    }
    return Feed(**(plain | changed))


@pytest.fixture(scope="module")
def sunk():
    sinking = Sinking(feed(), CELLS)
    sinking.run(5)
    return sinking


def test_the_fuel_s_heat_is_accounted_for_part_by_part(sunk):
    parts = sunk.ledger()
    together = sum(parts.values())
    assert together[0, 0] == pytest.approx(sunk.feed.heating[0, 0], rel=0.02)
    for part in ("dissociation", "drying", "lime", "top gas", "wall"):
        assert parts[part][0, 0] > 0.0, part
    assert parts["unburnt fuel"][0, 0] == pytest.approx(sunk.feed.heating[0, 0] * sunk.fuel_left[0, -1])


def test_heats_of_reaction_drying_and_wall_worked_by_hand(sunk):
    parts, stones = sunk.ledger(), sunk.stones
    calcium = float(stones.conversion[0, -1] @ SHARES)
    water, gas = (float(gone[0, -1] @ SHARES) for gone in stones.gone)
    moles = calcium * sunk.feed.piece.carbonate / sunk.feed.piece.density
    of_magnesium = gas / CARBON_DIOXIDE - moles
    assert of_magnesium == pytest.approx(0.05 / 0.084314, rel=1e-3), "all of it burns in a fire so hot"
    expected = moles * fact("dissociation_heat_at_25") + of_magnesium * fact("magnesium_dissociation_heat_at_25")
    assert parts["dissociation"][0, 0] == pytest.approx(expected)
    assert parts["drying"][0, 0] == pytest.approx(0.03 / 0.97 * fact("water_vaporisation_heat"), rel=1e-6)
    assert water == pytest.approx(0.03 / 0.97)
    over = sunk.gas_temperature[0] - 293.15
    assert parts["wall"][0, 0] == pytest.approx(150.0 * over.mean())


def test_gas_and_lime_hold_what_they_hold_over_25_degrees(sunk):
    parts = sunk.ledger()
    lime = float(sunk.stones.lime_temperature[0, -1] @ SHARES)
    burnt = 1.0 - float(sunk.stones.gone[1][0, -1] @ SHARES)
    capacity = parts["lime"][0, 0] / (burnt * (lime - 293.15)) if lime > 320.0 else 900.0
    assert 700.0 < capacity < 1200.0, "J/kg K, as lime and limestone hold"
    top, flow = sunk.gas_temperature[0, 0], sunk.gas[:, 0, 0]
    assert parts["top gas"][0, 0] / (float(flow @ MASSES) * (top - 293.15)) == pytest.approx(1060.0, rel=0.08)


def test_no_gram_is_lost_between_the_foot_and_the_top(sunk):
    met = sunk.exchange
    flue, air = (float(sunk.gas[:, 0, end] @ MASSES) for end in (0, -1))
    given = float((met.carbon_dioxide[0] * MASSES[0] + met.water[0] * MASSES[1]).sum())
    of_fuel = 0.08 * float(met.fuel[0].sum()) * float((sunk.feed.fuel_gas[:, 0, 0]) @ MASSES)
    assert flue == pytest.approx(air + given + of_fuel, rel=1e-9)
    assert np.all(np.diff(sunk.gas[2, 0]) >= -1e-12), "oxygen is used up on the way"
    assert air == pytest.approx(0.08 * COKE.air * 1.1, rel=5e-3)  # argon counts as nitrogen


def test_fuel_never_burns_without_oxygen_nor_where_it_is_cold(sunk):
    seconds = sunk.feed.residence / CELLS
    cold = sunk._burn(np.full_like(sunk.gas_temperature, 400.0), seconds)
    hot = sunk._burn(np.full_like(sunk.gas_temperature, 1500.0), seconds)
    assert cold.max() < 1e-3
    assert hot[0].max() > 0.05
    assert np.all(hot <= sunk.fuel_left + 1e-12)
    used = float((hot[0] * 0.08 * COKE.air).sum())
    assert used <= 0.08 * COKE.air * 1.1 * 1.0000001, "no more than the air there is"


def test_a_lump_in_pure_hot_air_burns_away_in_its_own_time():
    alone = Sinking(feed((0.08,), excess_air=1e6), CELLS)
    alone.fuel_left = np.ones((1, CELLS))
    alone._note_gas(np.repeat(alone.feed.air, CELLS + 1, axis=2))
    burnt = alone._burn(np.full((1, CELLS), 3000.0), np.full((1, 1), HOUR))
    # in a quarter of its time its cube root has fallen by a quarter
    assert burnt[0, -1] == pytest.approx(1.0 - 0.75**3, rel=0.02)
    half = alone._burn(np.full((1, CELLS), 923.15), np.full((1, 1), HOUR))
    assert half[0, -1] == pytest.approx(1.0 - 0.875**3, rel=0.02), (
        "half the pace where its own and oxygen's weigh alike"
    )


def test_without_fuel_all_is_as_cold_as_the_air(sunk):
    assert sunk.gas_temperature[1] == pytest.approx(293.15, abs=1.0)
    assert sunk.stones.conversion[1].max() == 0.0
    assert sunk.ledger()["unburnt fuel"][1, 0] == 0.0


def test_glow_between_lumps_is_that_of_the_formula(sunk):
    level = np.full_like(sunk.gas_temperature, 1300.0)
    hot = Sinking(sunk.feed, CELLS)
    hot.gas_temperature = level
    lump = float(SHARES @ np.array([0.04, 0.07]))
    shine = 4 * 5.670374e-8 * lump * 1300.0**3 / (2 / fact("stone_emissivity") - 1)
    per_kilogram = shine * CELLS / (8.0 * 8 * 1300 / (40 * HOUR))
    assert hot._glow(np.zeros((2, CELLS - 1))) == pytest.approx(per_kilogram, rel=1e-4)
    stirred = fact("shaft_mixing") * lump * CELLS / 8.0
    assert hot._glow(np.full((2, CELLS - 1), 1000.0)) == pytest.approx(
        max(per_kilogram + 500.0 * (stirred - 1.0), 0.0), rel=1e-4
    )


def test_what_joins_the_gas_is_all_in_it_at_the_top_and_none_at_the_foot():
    assert _upward(np.array([[1.0, 2.0, 4.0]])).tolist() == [[7.0, 6.0, 4.0, 0.0]]


def test_stones_sink_by_a_cell_and_fresh_ones_come_on_top(sunk):
    before = sunk.stones.conversion.copy()
    sunk._sink()
    assert sunk.stones.conversion[:, 0].max() == 0.0
    assert np.array_equal(sunk.stones.conversion[:, 1:], before[:, :-1])
