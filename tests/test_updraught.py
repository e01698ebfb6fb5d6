"""The gas on its way up, level by level: its heat is what it gave, at every grip from none to a gale."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limekit.fire.gases import molar_heat
from limekit.kiln.column.gas import AIR_SHARES, SPECIES, heat_and_capacity, table, within_table
from limekit.kiln.column.updraught import Updraught, joined, rise, settle


def updraught(levels, temperature):
    return Updraught(np.full(levels + 2, temperature), *np.zeros((3, levels)))


def risen(coming=1300.0, flow=0.5, takes=5.0, own=600.0, faces=20.0, levels=3, turns=8):
    """Gas past a hearth and some levels alike, found again until it stands."""
    up, gas_in = updraught(levels, 900.0), tuple(flow * AIR_SHARES)
    takes, own, faces, mean, capacity = (np.full(levels + 1, one) for one in (takes, own, faces, 0.0, 0.0))
    for _ in range(turns):
        rise(table(), up, coming, gas_in, takes, own, faces, mean, capacity)
    return up, mean, capacity, gas_in


@settings(max_examples=40)
@given(st.floats(0.05, 20.0), st.floats(0.1, 200.0), st.floats(1.0, 3.0), st.floats(400.0, 1200.0))
def test_what_the_gas_loses_is_what_the_level_takes(flow, takes, more, own):
    gas, mean, capacity, _ = risen(flow=flow, takes=takes, faces=more * takes, own=own)
    lost = capacity * (gas.between[:-1] - gas.between[1:])
    assert lost == pytest.approx(takes * (mean - own), rel=1e-6, abs=1e-6)
    assert np.all(np.diff(gas.between) <= 1e-6)
    assert np.all(mean <= gas.between[:-1] + 1e-6)
    assert np.all(mean >= np.minimum(gas.between[1:], own) - 1e-6)


def test_where_hardly_anything_takes_gas_passes_as_it_came():
    gas, mean, _, _ = risen(takes=1e-9)
    assert gas.between == pytest.approx(1300.0)
    assert mean == pytest.approx(1300.0)


def test_a_level_that_takes_as_its_faces_do_cools_gas_as_a_heat_exchanger_does():
    # of one temperature all along: exp(-units) of the difference is left, and the mean lies between as the logarithm says
    gas, mean, capacity, _ = risen(takes=10.0, faces=10.0)
    units = 10.0 / capacity[0]
    left = (gas.between[1] - 600.0) / (1300.0 - 600.0)
    assert left == pytest.approx(np.exp(-units), rel=1e-6)
    assert mean[0] - 600.0 == pytest.approx(700.0 * (1.0 - left) / units, rel=1e-6)


def test_capacity_is_that_of_the_published_polynomials_over_the_fall():
    gas, _, capacity, gas_in = risen(takes=10.0)
    hot, cool = gas.between[0], gas.between[1]
    heat = sum(
        part * (molar_heat(name, hot) - molar_heat(name, cool)) for name, part in zip(SPECIES, gas_in, strict=True)
    )
    assert capacity[0] == pytest.approx(heat / (hot - cool), rel=5e-3)


def test_what_stones_give_joins_the_gas_on_its_way():
    gas, gas_in = updraught(2, 900.0), tuple(AIR_SHARES)
    gas.co2[:] = [0.1, 0.3]
    _, _, out = settle(table(), gas, gas_in, 0.0, np.zeros(3))
    assert np.array(out) - gas_in == pytest.approx([0.4, 0.0, 0.0, 0.0])
    assert joined(gas_in, 0.1, 0.2) == pytest.approx([0.1, 0.2, *gas_in[2:]])


def test_cold_gas_given_off_cools_what_it_joins_and_gas_as_hot_leaves_it_alone():
    def top(level):
        gas = updraught(1, 1200.0)
        gas.co2[0] = 0.5
        gas.brought[0] = 0.5 * heat_and_capacity(np.array(level))[0][0]
        takes, own, mean, capacity = (np.full(2, one) for one in (1e-9, 900.0, 0.0, 0.0))
        for _ in range(12):
            rise(table(), gas, 1200.0, tuple(AIR_SHARES), takes, own, takes, mean, capacity)
        return gas

    assert top(1200.0).between[-1] == pytest.approx(1200.0, abs=0.5)
    cooled = top(700.0)
    mixed = cooled.between[-1]
    assert 900.0 < mixed < 1100.0
    held = sum(share * molar_heat(name, mixed) for name, share in zip(SPECIES, AIR_SHARES, strict=True))
    came = sum(share * molar_heat(name, 1200.0) for name, share in zip(SPECIES, AIR_SHARES, strict=True))
    brought = 0.5 * (molar_heat("co2", mixed) - molar_heat("co2", 700.0))
    assert came - held == pytest.approx(brought, rel=0.02)


def test_settling_brings_the_gas_to_the_heat_it_carries():
    gas, gas_in = updraught(2, 900.0), tuple(0.5 * AIR_SHARES)
    wanted = np.array([1250.0, 1100.0, 1000.0, 800.0])
    heats = 0.5 * AIR_SHARES @ heat_and_capacity(wanted)[0]
    lost = heats[:-1] - heats[1:]
    first, out, _ = settle(table(), gas, gas_in, heats[0], lost)
    assert out == pytest.approx(heats[-1])
    shifts = [settle(table(), gas, gas_in, heats[0], lost)[0] for _ in range(4)]
    assert first > 300.0
    assert shifts[-1] < 0.01
    assert gas.between == pytest.approx(wanted, abs=0.05)


def test_temperatures_stay_where_the_data_reach():
    cold, usual, hot = (within_table(level) for level in (-50.0, 800.0, 1e5))
    assert cold > 0.0
    assert usual == 800.0
    assert hot < 1e4
