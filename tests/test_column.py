"""The column of a kiln: heat and mass closed at every step, and what it comes to at its limits."""

import numpy as np
import pytest
from by_loops import Steps
from scipy.optimize import brentq

from limekit.chemistry import CARBON_DIOXIDE, WATER
from limekit.errors import InputError
from limekit.facts import fact
from limekit.fire.flue import combustion
from limekit.fire.fuel import fuels
from limekit.fire.gases import molar_heat
from limekit.kiln.column.charge import STRAIGHT, Lays, make_charge, spread_by_level
from limekit.kiln.column.gas import AIR_SHARES, SPECIES, heat_and_capacity, temperature_of
from limekit.kiln.column.step import freshen, step_kiln
from limekit.kiln.column.stoking import AIR_MOLES, BurntFuel
from limekit.kiln.column.updraught import Updraught
from limekit.kiln.wall.in_time import Wall
from limekit.limestone import Stone

AIR_AT, PRESSURE = 293.15, 101325.0
LAYERS = [("firebrick", 0.114), ("dry_sand", 0.1), ("common_brick", 0.215)]
SIZES = {0.02: 0.3, 0.05: 0.4, 0.09: 0.3}
OAK = BurntFuel.of("oak", 0.2, AIR_AT)


def column(stone=300.0, levels=6, start=AIR_AT, wall_area=0.2, lays=STRAIGHT, **made_of):
    charge = make_charge(stone, SIZES, levels, stone=Stone.plain(**made_of), lays=lays)
    areas = np.full((levels + 1, charge.members), wall_area)
    return Steps(charge, Wall(LAYERS, areas.ravel(), 0.7, AIR_AT), AIR_AT, start, PRESSURE)


def burnt(fuel_rate, excess=0.6):
    """Gas (mol/s) and heat (W) of some oak an hour, for any number of members."""
    burning = np.atleast_1d(fuel_rate) / 3600.0
    gas = np.multiply.outer(OAK.gas, burning) + np.multiply.outer(AIR_MOLES, burning * OAK.air * excess)
    return gas, burning * (OAK.heat + OAK.air * (1.0 + excess) * OAK.air_heat)


def carried(gas, temperature):
    return sum(part * molar_heat(name, temperature) for name, part in zip(SPECIES, gas, strict=True))


def wall_heat(kiln):
    return (kiln.wall.heat_stored + kiln.wall.heat_lost).sum()


@pytest.mark.parametrize(
    "fuel_rate",
    [*(pytest.param(rate, marks=pytest.mark.slow) for rate in (0.0, 0.02)), 12.0, 60.0],
    ids=["out", "glimmer", "fire", "gale"],
)
def test_heat_and_mass_close_at_every_step(fuel_rate):
    kiln = column(stone_moisture=0.05, magnesium_carbonate=0.04, calcium_carbonate=0.9)
    if fuel_rate == 12.0:
        kiln.moved = step_kiln  # as plain Python
    gas, heat = burnt([fuel_rate])
    leak = np.zeros((7, 1))
    leak[0], leak[-1] = 2.0, 1.5
    random = np.random.default_rng(3)
    mass = kiln.charge.mass[..., None]
    seconds = 10.0
    for number in range(90):
        seconds = min(seconds * random.uniform(0.6, 1.8), 900.0)
        air = 0.0 if number < 60 else 2.0
        if number == 60:
            gas, heat, seconds = np.zeros((4, 1)), np.zeros(1), 20.0
        before = kiln.stones_heat, wall_heat(kiln), [(mass * gone).sum() for gone in kiln.stones.gone]
        flows = kiln.step(seconds, gas + air * AIR_SHARES[:, None], heat, leak)
        water, dioxide = ((mass * now).sum() - was for now, was in zip(kiln.stones.gone, before[2], strict=True))
        scale = max(float(flows.fire[0]) * seconds, abs(float(flows.stones[0])) * seconds, 1.0)
        assert (kiln.stones_heat - before[0])[0] == pytest.approx(flows.stones[0] * seconds, abs=1e-9 * scale)
        assert wall_heat(kiln) - before[1] == pytest.approx(flows.wall[0] * seconds, abs=1e-9 * scale)
        spent = flows.stones + flows.wall + flows.leaks.sum(axis=0) + flows.flue
        assert spent[0] == pytest.approx(flows.fire[0], abs=1e-9 * scale / seconds)
        given = (flows.gas_out - flows.gas_in)[:, 0] * seconds
        assert given == pytest.approx([dioxide / CARBON_DIOXIDE, water / WATER, 0.0, 0.0], abs=1e-9, rel=1e-9)
        if flows.gas_in.sum() > 0.1:
            true = temperature_of(flows.gas_out, flows.flue, kiln.flue_temperature)
            assert kiln.flue_temperature == pytest.approx(true, abs=1.0)
            assert AIR_AT - 1.0 < true < 1700.0


def test_the_gas_s_heat_is_that_of_the_published_polynomials():
    levels = np.linspace(260.0, 2400.0, 77)
    heats, capacities = heat_and_capacity(levels)
    for name, heat, capacity in zip(SPECIES, heats, capacities, strict=True):
        assert heat == pytest.approx(molar_heat(name, levels), abs=3.0)
        assert capacity == pytest.approx(
            (molar_heat(name, levels + 5.0) - molar_heat(name, levels - 5.0)) / 10, rel=0.01
        )
    gas = np.array([0.2, 0.1, 0.1, 0.8])[:, None]
    found = temperature_of(gas, carried(gas, 1300.0), np.array([400.0]))
    assert found == pytest.approx(1300.0, abs=0.1)


@pytest.mark.parametrize("fuel", ["oak", "pine", "charcoal", "coke", "anthracite"])
@pytest.mark.parametrize(("fuel_moisture", "excess"), [(0.0, 0.3), (0.2, 0.6), (0.45, 1.5)])
def test_the_fire_s_gas_is_that_of_the_fuel_s_own_balance(fuel, fuel_moisture, excess):
    burning = BurntFuel.of(fuel, fuel_moisture, AIR_AT)
    published = combustion.plain(fuel, fuel_moisture, excess, AIR_AT)
    assert burning.temperature(excess) == pytest.approx(published.gas_temperature, abs=1.0)
    assert burning.excess_air(burning.temperature(excess)) == pytest.approx(excess, abs=0.005)
    carbon = fuels()[fuel].carbon * (1.0 - fuel_moisture) / 0.012011
    assert burning.gas[0] == pytest.approx(carbon, rel=1e-3)


def test_cold_stones_and_cold_air_stay_cold():
    kiln = column()
    for seconds in (30.0, 600.0, 3600.0):
        kiln.step(
            seconds, AIR_SHARES[:, None] * 0.5, np.full(1, 0.5 * carried(AIR_SHARES, AIR_AT)), np.full((7, 1), 1.0)
        )
    assert kiln.gas_temperature == pytest.approx(AIR_AT, abs=0.05)
    assert kiln.stones.core_temperature == pytest.approx(AIR_AT, abs=0.05)
    assert kiln.stones.conversion.max() == 0.0


def test_hot_stones_without_a_fire_cool_to_the_air():
    kiln = column(start=1000.0)
    air, last = 0.3 * AIR_SHARES[:, None], np.inf
    for _ in range(600):
        kiln.step(900.0, air, carried(air, AIR_AT), np.full((7, 1), 1.0))
        hottest = kiln.stones.core_temperature.max()
        assert AIR_AT - 0.1 < hottest < last + 0.5
        last = hottest
    assert hottest == pytest.approx(AIR_AT, abs=10.0)


def test_stones_shut_in_without_gas_warm_the_wall_and_keep_the_heat():
    kiln = column(start=900.0)
    before = kiln.stones_heat[0] + wall_heat(kiln)
    for seconds in (15.0, 60.0, 600.0, *[1800.0] * 100):
        kiln.step(seconds, np.zeros((4, 1)), np.zeros(1), np.zeros((7, 1)))
    assert kiln.stones_heat[0] + wall_heat(kiln) == pytest.approx(before, rel=1e-4)
    assert (kiln.stones.core_temperature < 800.0).all()
    spread = np.ptp(kiln.stones.core_temperature, axis=(0, 1))
    assert spread < 5.0


def test_hot_small_stones_in_still_gas_burn_only_until_their_own_gas_stops_them():
    kiln = column(start=1250.0, wall_area=1e-9)
    for seconds in (15.0, 30.0, 60.0, *[120.0] * 200):
        kiln.step(seconds, np.zeros((4, 1)), np.zeros(1), np.zeros((7, 1)))
        assert (kiln.stones.conversion >= 0.0).all()
    level = kiln.stones.front_temperature[1:]
    assert level == pytest.approx(1168.9, abs=8.0)  # where the dissociation pressure is one atmosphere
    assert 0.0 < kiln.stones.conversion.mean() < 0.1


def test_without_stone_the_gas_loses_only_what_the_wall_takes():
    kiln = column(stone=1e-9)
    gas, heat = burnt([10.0])
    for _ in range(50):
        flows = kiln.step(300.0, gas, heat, np.zeros((7, 1)))
    assert flows.flue + flows.wall == pytest.approx(flows.fire)
    assert flows.wall > 0.05 * flows.fire
    assert np.all(np.diff(kiln.now.up.between[0]) < 0.0)


def test_without_wall_or_leak_all_heat_is_in_stone_and_flue():
    kiln = column(wall_area=1e-9)
    gas, heat = burnt([10.0])
    for _ in range(50):
        flows = kiln.step(300.0, gas, heat, np.zeros((7, 1)))
        assert flows.stones + flows.flue == pytest.approx(flows.fire, rel=1e-7)
    assert kiln.stones.conversion.max() > 0.1


def test_one_level_of_small_stones_is_a_well_mixed_balance():
    """Dry stones too cool to burn, one level, no wall: gas and stone find the temperature that their heats balance."""
    kiln = column(stone=50.0, levels=1, wall_area=1e-9)
    gas, heat = burnt([0.2])
    for _ in range(40):
        kiln.step(100.0, gas, heat, np.zeros((2, 1)))
    flue = 4000.0 * float(heat[0])
    piece = kiln.charge.piece

    def short(level):
        held = 50.0 * float(piece.stone_heat_capacity) * (level - AIR_AT)
        return flue - held

    even = brentq(short, AIR_AT, 900.0)
    mean = kiln.charge.mean(kiln.stones.core_temperature)[0]
    assert AIR_AT + 0.75 * (even - AIR_AT) < mean <= even


def test_members_side_by_side_are_as_alone():
    paces, leads = np.array([0.004, 0.009]), np.array([0.45, 0.8])
    both = column(reaction_coefficient=paces, lime_conductivity=leads)
    alone = [column(reaction_coefficient=p, lime_conductivity=c) for p, c in zip(paces, leads, strict=True)]
    gas, heat = burnt([14.0])
    for _ in range(80):
        both.step(300.0, np.repeat(gas, 2, axis=1), np.repeat(heat, 2), np.full((7, 2), 0.5))
        for one in alone:
            one.step(300.0, gas, heat, np.full((7, 1), 0.5))
    for number, one in enumerate(alone):
        assert both.stones.conversion[..., number] == pytest.approx(one.stones.conversion[..., 0], abs=2e-4)
    assert both.charge.mean(both.stones.conversion)[1] > both.charge.mean(both.stones.conversion)[0]


def test_pieces_that_lie_badly_burn_as_much_slower():
    lays = Lays(np.array([[0.7], [1.0], [1.3]]), np.array([0.25, 0.5, 0.25]))
    kiln = column(lays=lays)
    gas, heat = burnt([14.0])
    for _ in range(60):
        kiln.step(300.0, gas, heat, np.zeros((7, 1)))
    by_lay = kiln.stones.conversion[:, 6:9, 0].mean(axis=0)
    assert by_lay[0] < by_lay[1] < by_lay[2]
    assert kiln.charge.mass.sum() == pytest.approx(300.0)


@pytest.mark.parametrize("arrangement", ["mixed", "graded"])
@pytest.mark.parametrize("levels", [1, 7, 20])
def test_stone_is_laid_whole_and_every_level_holds_alike(arrangement, levels):
    shares = np.array([0.2, 0.5, 0.3])
    laid = spread_by_level(shares, levels, arrangement)
    assert laid.sum(axis=0) == pytest.approx(shares)
    assert laid.sum(axis=1) == pytest.approx(1.0 / levels)
    if arrangement == "graded" and levels > 1:
        middles = (laid * np.arange(levels)[:, None]).sum(axis=0) / shares
        assert np.all(np.diff(middles) < 0.0), "the largest lie lowest"


def test_gas_in_the_gaps_is_changed_as_fast_as_it_is_blown_through():
    kiln = column(start=800.0)
    fixed, now = kiln.kiln, kiln.now
    stone = kiln.charge.mass.sum() / kiln.charge.piece.density
    porosity = fact("bed_porosity")
    assert fixed.gaps.sum() == pytest.approx(stone * porosity / (1 - porosity))
    nothing = Updraught(now.up.between[0], *np.zeros((3, 6)))
    lying = PRESSURE * fixed.gaps[0] / (8.314463 * 800.0)
    blown = (0.02, 0.0, 0.0, 0.08)  # a fifth is carbon dioxide
    freshen(fixed, now, nothing, 0, blown, lying / 0.1)
    assert now.co2_pressure == pytest.approx(0.2 * PRESSURE * (1 - np.exp(-1)), rel=1e-6)
    freshen(fixed, now, nothing, 0, (1e-15,) * 4, 60.0)
    assert now.co2_pressure == pytest.approx(0.2 * PRESSURE * (1 - np.exp(-1)), rel=1e-6), "still gas stays"
    freshen(fixed, now, nothing, 0, blown, 1e6)
    assert now.co2_pressure == pytest.approx(0.2 * PRESSURE)


def test_the_share_of_magnesium_carbonate_burnt_is_read_off_the_gas_that_left():
    kiln = column(start=1000.0, magnesium_carbonate=0.1, calcium_carbonate=0.8)
    air = 0.05 * AIR_SHARES[:, None]
    for seconds in (10.0, 60.0, 300.0, 900.0, 900.0):
        kiln.step(seconds, air, carried(air, 1050.0), np.zeros((7, 1)))
    calcium, magnesium = kiln.burnt
    dioxide = kiln.charge.mean(kiln.stones.gone[1])[0]
    by_parts = calcium[0] * 0.8 / 0.100087 + magnesium[0] * 0.1 / 0.084314
    assert 0.1 < magnesium[0] <= 1.0
    assert dioxide == pytest.approx(by_parts * CARBON_DIOXIDE, rel=1e-3)
    assert column().burnt[1].tolist() == [1.0], "none of it, so none is left to burn"


def test_stone_that_is_carbonate_through_and_through_is_taken_and_no_more_than_that():
    assert make_charge(100.0, SIZES, 2, stone=Stone.plain(calcium_carbonate=1.0)).mass.sum() == pytest.approx(
        100.0 * (1 - fact("stone_moisture")), rel=0.05
    )
    assert make_charge(
        100.0, SIZES, 2, stone=Stone.plain(calcium_carbonate=0.75, magnesium_carbonate=0.25)
    ).piece.magnesium_carbonate
    with pytest.raises(InputError, match="of 1 at most"):
        make_charge(100.0, SIZES, 2, stone=Stone.plain(calcium_carbonate=0.75, magnesium_carbonate=0.26))
