import typing

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limekit import InputError, fuel_mass_in, fuel_volume
from limekit.facts import rivals
from limekit.fire.fuel import fuel_names, fuels
from limekit.fire.stacks import LAYS as COMES
from limekit.fire.stacks import FuelLay

NAMES = fuel_names()
LAYS = typing.get_args(FuelLay)
LUMPS = [name for name in NAMES if fuels()[name].comes_as == "lumps"]
SOLD = [(fuel, lay) for fuel in NAMES for lay in LAYS if lay in COMES[fuels()[fuel].comes_as]]


def test_every_lay_has_a_solid_share():
    shares = {"logs_stacked", *(f"{shape}_{lay}" for shape in ("logs", "lumps") for lay in ("loose", "bagged"))}
    assert {one.variant for one in rivals("solid_fraction")} == shares
    assert all(0.3 < one.low < one.high < 0.8 for one in rivals("solid_fraction"))


@given(st.sampled_from(SOLD), st.floats(0.01, 100.0), st.floats(0.0, 0.6))
def test_volume_and_mass_undo_each_other_and_their_ranges_cross(sold, volume, fuel_moisture):
    fuel, lay = sold
    held = fuel_mass_in.plain(volume, fuel, lay, fuel_moisture)
    assert held.low < held.middle < held.high
    assert fuel_volume.plain(held.middle, fuel, lay, fuel_moisture).middle == pytest.approx(volume)
    assert fuel_volume.plain(held.low, fuel, lay, fuel_moisture).high == pytest.approx(volume)
    assert fuel_volume.plain(held.high, fuel, lay, fuel_moisture).low == pytest.approx(volume)


def test_a_solid_block_weighs_its_own_density_and_its_water():
    block = fuel_mass_in.plain(1.0, "oak", fuel_moisture=0.0, solid_fraction=1.0)
    oak = fuels()["oak"].density
    assert (block.middle, block.low, block.high) == (oak, oak.low, oak.high)
    half_water = fuel_mass_in.plain(1.0, "oak", fuel_moisture=0.5, solid_fraction=1.0)
    assert half_water.middle == pytest.approx(2 * oak)


def test_a_heap_holds_less_than_a_stack_and_oak_more_than_poplar():
    stacked, bagged, loose = (fuel_mass_in.plain(1.0, "oak", lay).middle for lay in ("stacked", "bagged", "loose"))
    assert stacked > bagged > loose
    assert fuel_mass_in.plain(1.0, "poplar").middle < 0.7 * stacked


@pytest.mark.parametrize("fuel", LUMPS)
def test_lumps_are_not_stacked(fuel):
    with pytest.raises(InputError, match="lumps") as caught:
        fuel_volume("100 kg", fuel, lay="stacked")
    assert caught.value.example == 'lay="loose"'


def test_a_mass_needs_its_unit():
    with pytest.raises(InputError):
        fuel_volume(600, "oak")
