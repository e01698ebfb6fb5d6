"""What a shaft is and what is let down it: measures read, amounts by the kilogram of dry stone, the draught it wants."""

import math

import numpy as np
import pytest

from limekit import InputError, Kiln, Stone, fact, size_kiln
from limekit.fire.fuel import Fuel
from limekit.kiln.column.gas import MASSES
from limekit.kiln.column.stoking import BurntFuel
from limekit.kiln.shaft.feed import feed_for, read_shaft
from limekit.kiln.shaft.steady import _draught

HOUR, AIR = 3600.0, 293.15
SIZED = size_kiln.plain(30_000.0, 0.08, kind="shaft", smallest_stone=0.04)
STONE = Stone.plain(calcium_carbonate=0.9, magnesium_carbonate=0.05, stone_moisture=0.04)
BARE = Kiln.plain(kiln_diameter=2.0, kiln_height=8.0)
ONE = np.ones((1, 1))


def fed(shaft=None, rate=0.1, ratio=0.08, fuel="coke", excess_air=None, stone=STONE):
    return feed_for(shaft or read_shaft(BARE, 0.06), rate * ONE, ratio * ONE, Fuel.plain(fuel), stone, excess_air, AIR)


def test_a_sized_shaft_is_as_it_was_sized():
    shaft = read_shaft(SIZED.but(altitude=700.0), None)
    assert (shaft.diameter, shaft.height, shaft.altitude) == (SIZED.kiln_diameter, SIZED.kiln_height, 700.0)
    assert shaft.area == pytest.approx(math.pi / 4 * SIZED.kiln_diameter**2)
    assert shaft.density * SIZED.kiln_volume == pytest.approx(30_000.0)
    assert shaft.eye_area == SIZED.eye_area
    assert shaft.layers == SIZED.wall
    assert shaft.sizes == pytest.approx({0.04: 0.25, 0.06: 0.5, 0.08: 0.25})
    assert read_shaft(SIZED, 0.05).sizes == {0.05: 1.0}, "what is told goes before its own"


def test_a_bare_shaft_has_the_usual_weight_and_eyes():
    shaft = read_shaft(BARE, 0.06)
    assert shaft.density == fact("shaft_charge_density")
    assert shaft.eye_area == pytest.approx(fact("mouth_share") * math.pi)
    assert (shaft.sizes, shaft.layers, shaft.altitude) == ({0.06: 1.0}, BARE.wall, 0.0)


@pytest.mark.parametrize(
    ("kiln", "stone_size", "got"),
    [
        (size_kiln.plain(500.0, 0.1), None, "a flare kiln, which is emptied after each burn"),
        (None, 0.06, "none"),
        (BARE.but(kiln_height=None), 0.06, "none"),
        (BARE.but(kiln_diameter=None), 0.06, "none"),
        (BARE, None, "none"),
    ],
    ids=["flare", "nothing", "no height", "no width", "no stone"],
)
def test_what_is_no_shaft_or_too_little_of_one_is_refused(kiln, stone_size, got):
    with pytest.raises(InputError) as told:
        read_shaft(kiln, stone_size)
    assert told.value.got == got
    assert "run_shaft(" in told.value.example


def test_stone_goes_down_as_fast_as_lime_is_drawn_and_stays_until_the_shaft_has_been_drawn_through():
    feed = fed(rate=0.1)
    # losses of the carbonates on burning: 44.010 of 100.087 and of 84.314
    dry = 0.1 / (1 - 0.9 * 44.010 / 100.087 - 0.05 * 44.010 / 84.314)
    assert feed.stone_flux == pytest.approx(dry / math.pi, rel=1e-4)
    held = float(fact("shaft_charge_density")) * math.pi * 8.0 * 0.96
    assert feed.residence == pytest.approx(held / dry, rel=1e-4)
    assert fed(rate=0.2).residence == pytest.approx(feed.residence / 2)
    assert fed(rate=0.2).wall_loss == pytest.approx(feed.wall_loss / 2)
    assert feed.fuel_ratio == pytest.approx(0.08 / 0.96)
    assert (feed.height, feed.air_temperature) == (8.0, AIR)
    assert feed.shares.tolist() == [1.0]
    assert feed.piece.diameter.tolist() == [0.06]


@pytest.mark.parametrize(("fuel", "as_"), [("coke", "coke"), ("anthracite", "anthracite"), ("oak", "wood")])
def test_fuel_burns_at_the_pace_of_its_kind_in_the_air_of_mixed_feed(fuel, as_):
    feed = fed(fuel=fuel)
    assert feed.burns_from == fact("fuel_burns_from", as_)
    assert feed.burn_out == fact("fuel_burn_out", as_)
    assert feed.excess_air == fact("excess_air", "mixed_feed")
    assert fed(fuel=fuel, excess_air=0.0).excess_air == 0.0
    assert fed(fuel=fuel, excess_air=0.4).excess_air == 0.4


def test_a_kilogram_of_stone_has_its_fuel_s_air_gas_and_heat():
    feed = fed(excess_air=0.25)
    moisture = Fuel.plain("coke").moisture
    coke = BurntFuel.of("coke", moisture, AIR)
    mass = (feed.air[:, 0, 0] * MASSES).sum()
    assert mass == pytest.approx(0.08 / 0.96 * coke.air * 1.25, rel=5e-3), "argon counts as nitrogen"
    assert feed.heating == pytest.approx(0.08 / 0.96 * coke.heat)
    burnt = feed.fuel_gas[:, 0, 0]
    assert burnt[3] == pytest.approx(0.0, abs=2.0), "the air's nitrogen goes through"
    assert burnt[0] == pytest.approx(-burnt[2], rel=0.1), "coke is carbon: as much oxygen goes as dioxide comes"
    assert feed.dissociation == pytest.approx(0.9 / 0.100087 * fact("dissociation_heat_at_25"), rel=1e-4)


# the draught


def draught(top, rate):
    shaft = read_shaft(BARE, 0.06)
    return _draught(shaft, fed(shaft, rate=rate, excess_air=0.1), np.linspace(top, 320.0, 8), 1.0)


def test_a_slow_draw_wants_less_than_the_shaft_gives_and_nothing_is_said():
    wanted, given, caution = draught(600.0, 0.001)
    assert 0.0 < wanted < given
    assert caution == ""


def test_a_draw_too_fast_wants_a_chimney_or_a_fan_and_a_cold_top_bears_no_chimney():
    wanted, given, caution = draught(600.0, 0.8)
    assert wanted > given
    assert caution.startswith(f"The air wants {wanted:.0f} Pa and the shaft draws {given:.0f} Pa by itself")
    assert draught(AIR - 1.0, 0.8)[2].endswith("it needs a fan.")
    slow = next(told for rate in np.geomspace(0.01, 0.8, 60) if (told := draught(600.0, rate)[2]))
    assert slow.split("it needs ")[1].startswith("a chimney of ")


def test_the_shaft_draws_by_the_weight_its_gas_lacks():
    # g M/R P over each cell, the standard atmosphere outside
    level = np.linspace(600.0, 320.0, 8)
    lack = 8.0 * (1 / AIR - 1 / level).mean()
    assert draught(600.0, 0.1)[1] == pytest.approx(9.80665 * 0.0289647 / 8.314463 * 101_325 * lack, rel=2e-3)
