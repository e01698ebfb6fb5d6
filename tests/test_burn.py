"""A lit kiln of three levels and two rings: what it is at first, what it tells, and how it goes on."""

from types import SimpleNamespace

import numpy as np
import pytest

from limekit import fact
from limekit.chemistry import CARBON_DIOXIDE
from limekit.fire.air_way import AirWay
from limekit.kiln.column.burn import Burn, Lid
from limekit.kiln.column.charge import make_charge
from limekit.kiln.column.column import Column
from limekit.kiln.column.gas import AIR_SHARES
from limekit.kiln.column.rings import Rings
from limekit.kiln.column.run import Moments
from limekit.kiln.column.stoking import BurntFuel, Stoker
from limekit.kiln.wall.in_time import Wall
from limekit.limestone import Stone

AIR, PRESSURE, LEVELS, MINUTE = 285.0, 101_325.0, 3, 60.0
WAY = AirWay.plain(0.9, 0.7, 0.06, 0.06, 0.05, hearth_height=0.4)
OAK = BurntFuel.of("oak", 0.2, AIR)
LAYERS = [("firebrick", 0.114), ("dry_sand", 0.1), ("common_brick", 0.215)]
STONE = {"stone_moisture": 0.02, "calcium_carbonate": 0.8, "magnesium_carbonate": 0.1}


def column(rings=2, start=AIR, coefficient=None, **made_of):
    made_of = STONE | made_of
    charge = make_charge(300.0, {0.04: 0.5, 0.08: 0.5}, LEVELS, stone=Stone.plain(**made_of), rings=rings)
    faces = np.full((LEVELS + 1) * charge.columns, 0.3)
    told = {} if coefficient is None else {"coefficient": coefficient}
    return Column(charge, Wall(LAYERS, faces, 0.7, AIR, start), AIR, start, PRESSURE, **told)


def lit(rings=2, mouth=0.01, cover=2.0, rate=0.003, start=AIR, **more):
    kiln = column(rings, start)
    cut = Rings.of(rings, 0.7, 0.9, 0.06, LEVELS, 0.3)
    return Burn(kiln, WAY, Stoker(OAK, 0.6, 0.05, (0.0,), (rate,)), cut, mouth, cover, **more)


# the column


def test_stone_wall_and_gas_begin_alike():
    kiln = column(start=400.0)
    assert kiln.gas_temperature.shape == (LEVELS + 1, 2)
    assert (kiln.gas_temperature == 400.0).all()
    assert (kiln.flue_temperature == 400.0).all()
    assert kiln.now.takes == pytest.approx(kiln.kiln.faces[1:].T)
    kiln.now.up.between[:, -1] = 350.0, 360.0
    assert kiln.flue_temperature.tolist() == [350.0, 360.0]
    assert kiln.stones.core_temperature == pytest.approx(400.0)
    assert kiln.stones_heat > column(start=300.0).stones_heat
    calcium, magnesium = kiln.burnt
    assert calcium.tolist() == [0.0]
    assert magnesium == pytest.approx([0.0])


def test_gas_meets_the_faces_of_its_stones_and_of_its_wall():
    made = column(coefficient=50.0)
    charge, fixed = made.charge, made.kiln
    assert fixed.faces[0] == pytest.approx(0.3 * 50.0), "no stones in the hearth"
    # a ball has 6/d of face for its volume; half the stone of 98 kg a level is of each size, and half in each ring
    face = sum(24.5 / charge.piece.density * 6.0 / size for size in charge.sizes)
    assert fixed.faces[1:] == pytest.approx(0.3 * 50.0 + face * float(fact("heat_transfer_coefficient")))
    assert fixed.wall_area == pytest.approx(0.3)
    assert column().coefficient == fact("heat_transfer_coefficient")


def test_rings_share_stone_and_gaps():
    for rings in (1, 2, 3):
        fixed = column(rings).kiln
        assert rings * fixed.mass.sum() == pytest.approx(294.0)
        charge = column(rings).charge
        # of a volume of charge the gaps are so great a share
        solid = 98.0 / charge.piece.density
        assert rings * fixed.gaps == pytest.approx(solid / (1.0 - charge.porosity) - solid)


def test_what_a_kilogram_takes_is_the_heat_of_its_carbonates_and_its_water():
    # at 25 °C: of all the calcium carbonate, of all the magnesium carbonate, and of the water
    fixed = column().kiln
    dry = STONE["stone_moisture"] / 0.98 * fact("drying_heat")
    calcium = 0.8 / 0.100087 * fact("dissociation_heat_at_25")
    assert fixed.by_burnt.ravel() == pytest.approx(fixed.by_burnt.flat[0])
    without = column(stone_moisture=0.0, magnesium_carbonate=0.0).kiln.by_burnt.flat[0]
    assert without == pytest.approx(calcium, rel=1e-4)
    damp = column(magnesium_carbonate=0.0).kiln.by_burnt.flat[0]
    assert damp - without == pytest.approx(dry, rel=1e-4)
    assert fixed.by_burnt.flat[0] > damp
    assert fixed.by_water == pytest.approx(fact("drying_heat") - fact("water_vaporisation_heat"))
    assert sum(fixed.air) == pytest.approx(1.0)
    assert fixed.air == tuple(AIR_SHARES)


def test_of_the_gas_that_left_what_is_not_calcium_s_is_magnesium_s():
    kiln = column()
    whole = kiln.charge.like + 1.0
    gas = (0.5 * 0.8 / 0.100087 + 0.25 * 0.1 / 0.084314) * CARBON_DIOXIDE
    burnt = {"conversion": 0.5 * whole, "gone": (0.02 * whole, gas * whole), "heat_held": 1000.0 * whole}
    kiln.stones = SimpleNamespace(**burnt, make=kiln.stones.make)
    calcium, magnesium = kiln.burnt
    assert calcium == pytest.approx([0.5])
    assert magnesium == pytest.approx([0.25], rel=1e-3)
    kiln.stones.gone = 0.02 * whole, 2.0 * gas * whole
    assert kiln.burnt[1] == pytest.approx([1.0]), "never more than there is"
    fixed = kiln.kiln
    held = 1000.0 + 0.5 * fixed.by_burnt.flat[0] - 0.02 * fixed.by_water
    assert kiln.stones_heat == pytest.approx([294.0 * held])


# the fire


def test_a_kiln_just_lit_has_burnt_nothing_and_draws_by_the_usual_heat_of_its_hearth():
    burn = lit()
    assert (burn.clock, burn.pace_of_burning, burn.burnt.tolist()) == (0.0, 0.0, [0.0])
    assert (burn.damper, burn.pace, burn.lid) == (1.0, 1.0, None)
    assert len(burn.moments.time) == 0
    usual = WAY.breathe(
        np.full((LEVELS, 1), AIR), np.array([AIR]), AIR, 1.0, 1.0, np.array([fact("flare_gas_temperature")])
    )
    assert burn.breathe().mass_flux == pytest.approx(usual.mass_flux)
    assert lit(damper=0.3).breathe().mass_flux < burn.breathe().mass_flux


def test_flows_of_a_kiln_are_those_of_its_rings_together_and_the_rest_is_their_mean():
    burn = lit()
    burn.run(30 * MINUTE)
    told, rings = burn.moments, burn.by_column
    flows = {"fed", "air", "fire", "unburnt", "stones", "wall", "flue", "leaks", "gas_in", "gas_out"}
    for name in Moments._fields[1:]:
        by_ring = getattr(rings, name)
        whole = by_ring.sum(axis=-1) if name in flows else by_ring.mean(axis=-1)
        assert getattr(told, name)[..., 0] == pytest.approx(whole), name
    assert told.time.tolist() == rings.time.tolist()
    assert told.time[-1] == pytest.approx(30 * MINUTE) == burn.clock
    assert np.diff(told.time, prepend=0.0) @ told.fed[:, 0] == pytest.approx(0.003 * 30 * MINUTE)
    assert burn.moments is told, "worked out once for as many moments"
    burn.run(35 * MINUTE)
    assert burn.moments.time[-1] == pytest.approx(35 * MINUTE)
    single = lit(rings=1)
    single.run(5 * MINUTE)
    assert single.moments.fed[-1] == pytest.approx([0.003])


def test_room_is_made_for_as_many_moments_as_there_are_and_who_asks_is_told_every_few():
    burn, heard = lit(pace=0.01), []
    burn.run(90 * MINUTE, after=lambda: heard.append(len(burn.by_column.time)))
    assert len(burn.moments.time) > 256
    assert np.all(np.diff(burn.moments.time) > 0.0)
    assert np.diff(heard, prepend=0).max() <= 8
    assert heard[-1] == len(burn.moments.time)


def test_a_run_ends_at_once_where_all_is_burnt_or_the_time_is_there():
    burn = lit()
    burn.run(0.0)
    burn.run(MINUTE, conversion=0.0)
    assert burn.clock == 0.0


def test_a_branch_goes_on_by_itself_and_its_moments_begin_anew():
    burn = lit()
    burn.run(10 * MINUTE)
    told, held = burn.moments, burn.column.stones_heat.copy()
    other = burn.branch()
    assert other.clock == burn.clock
    assert len(other.moments.time) == 0
    other.run(20 * MINUTE)
    assert other.moments.time[0] > 10 * MINUTE
    assert burn.clock == pytest.approx(10 * MINUTE)
    assert burn.moments is told
    assert burn.column.stones_heat == pytest.approx(held)
    burn.run(20 * MINUTE)
    assert burn.column.stones_heat == pytest.approx(other.column.stones_heat)


@pytest.mark.parametrize(("laid_at", "laid"), [(AIR - 50.0, True), (2500.0, False)])
def test_a_lid_is_laid_on_once_the_topmost_gas_is_as_hot(laid_at, laid):
    under = WAY.but(eye_area=0.02)
    burn = lit(lid=Lid(laid_at, under, 1.0))
    burn.run(10 * MINUTE)
    assert (burn.lid is None) is laid
    assert burn.way is (under if laid else WAY)
    assert burn.cover == (1.0 if laid else 2.0)
