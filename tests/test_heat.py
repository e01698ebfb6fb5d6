import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limekit import InputError, fact, fuel_demand, fuel_mass, kiln_efficiency, mass_balance, rivals, stone_heat
from limekit.chemistry import CALCIUM_CARBONATE, CALCIUM_OXIDE
from limekit.fire.gases import molar_heat

shares = st.floats(0, 1)


@settings(max_examples=50)
@given(st.floats(1, 1e5), shares, shares, shares, st.floats(0, 0.3))
def test_the_heat_need_is_the_sum_of_its_parts(stone, calcium, conversion, magnesium, stone_moisture):
    calcium, magnesium = calcium * 0.9, magnesium * 0.1
    need = stone_heat.plain(stone, calcium, conversion, magnesium, stone_moisture=stone_moisture)
    parts = (need.dissociation_heat, need.solid_heat, need.gas_heat, need.drying_heat)
    assert min(parts) >= 0
    assert need.heat_need == pytest.approx(sum(parts))
    double = stone_heat.plain(2 * stone, calcium, conversion, magnesium, stone_moisture=stone_moisture)
    assert double.heat_need == pytest.approx(2 * need.heat_need)


def test_the_two_heats_of_dissociation_and_the_heat_contents_close_a_circle():
    # burn cold and heat lime and gas, or heat the stone and burn it hot: the same heat (167.5 kJ/mol at 900 °C)
    lime = fact("sensible_heat_lime") * CALCIUM_OXIDE
    limestone = fact("sensible_heat_limestone") * CALCIUM_CARBONATE
    hot = fact("dissociation_heat_at_25") + lime + molar_heat("co2", 1173.15) - limestone
    front = fact("dissociation_heat_at_front")
    assert front.low <= hot <= front.high
    assert hot == pytest.approx(167.5e3, rel=2e-3)


def test_unburnt_wet_stone_takes_only_warming_and_drying():
    need = stone_heat(stone="100 kg", calcium_carbonate=1.0, conversion=0.0, stone_moisture=0.1)
    assert need.dissociation_heat.magnitude == need.gas_heat.magnitude == 0
    assert need.drying_heat.to("MJ").magnitude == pytest.approx(10 * 2.443)
    assert need.solid_heat.to("MJ").magnitude == pytest.approx(90 * 0.983)


def test_dolomite_needs_less_heat_of_dissociation_a_mole():
    pure = stone_heat.plain(100.087, 1.0, 1.0).dissociation_heat
    magnesite = stone_heat.plain(84.314, 0.0, 1.0, magnesium_carbonate=1.0).dissociation_heat
    assert magnesite / pure == pytest.approx(117 / 178.3, rel=1e-3)


@given(st.floats(1, 1e4), st.floats(8e6, 3.3e7), st.floats(0.05, 0.9), st.floats(0, 500))
def test_efficiency_and_fuel_are_each_other_s_reverse(quicklime, heating_value, efficiency, magnesia):
    fuel = fuel_mass.plain(quicklime, heating_value, efficiency, magnesia)
    assert kiln_efficiency.plain(quicklime, fuel, heating_value, magnesia) == pytest.approx(efficiency)


def test_hotter_charge_takes_more():
    cool, hot = (
        stone_heat("1 tonne", 1.0, 0.95, charge_temperature=level).heat_need for level in ("900 degC", "1050 degC")
    )
    assert hot > cool


def test_the_wood_for_a_tonne_of_stone_and_its_range():
    demand = fuel_demand("1000 kg", calcium_carbonate=1.0, conversion=0.95, heating_value="15.6 MJ/kg")
    assert demand.fuel_mass.middle.to("kg").magnitude == pytest.approx(723, abs=1)
    assert demand.fuel_mass.low < demand.fuel_mass.middle < demand.fuel_mass.high
    assert demand.fuel_per_quicklime.middle.magnitude == pytest.approx(1.36, abs=0.005)


def test_fuel_times_heat_times_efficiency_is_the_heat_of_dissociation():
    demand = fuel_demand.plain(800.0, 0.9, 0.9, "fir", 0.25, magnesium_carbonate=0.05, stone_moisture=0.02)
    for mass, share in (("middle", "middle"), ("low", "high"), ("high", "low")):
        heat = getattr(demand.fuel_mass, mass) * demand.lower_heating_value * getattr(demand.efficiency, share)
        assert heat == pytest.approx(demand.dissociation_heat)


def test_the_published_efficiencies_lie_in_the_range_offered():
    usual, *seen = rivals("flare_efficiency")
    assert all(usual.low <= one <= usual.high for one in seen if "oil" not in one.variant)


def test_an_efficiency_of_one_s_own_widens_the_range_and_never_leaves_it():
    assert fuel_demand.plain(500.0, 1.0, 0.9, efficiency=0.08).efficiency.low == 0.08
    assert fuel_demand.plain(500.0, 1.0, 0.9, efficiency=0.35).efficiency.high == 0.35


def test_wetter_wood_and_poorer_kilns_take_more_of_it_and_shafts_less():
    dry = fuel_demand.plain(500.0, 1.0, 0.95, fuel_moisture=0.15).fuel_mass.middle
    assert fuel_demand.plain(500.0, 1.0, 0.95, fuel_moisture=0.4).fuel_mass.middle > 1.3 * dry
    assert fuel_demand.plain(500.0, 1.0, 0.95, fuel_moisture=0.15, kind="shaft").fuel_mass.middle < dry


def test_kilograms_a_kilogram_of_quicklime():
    demand, balance = fuel_demand.plain(500.0, 0.95, 0.9), mass_balance.plain(500.0, 0.95, 0.9)
    assert demand.fuel_per_quicklime.high * balance.quicklime == pytest.approx(demand.fuel_mass.high)


def test_a_charge_that_gives_no_lime_is_refused():
    with pytest.raises(InputError, match="no quicklime"):
        fuel_demand("500 kg", calcium_carbonate=0.9, conversion=0.0)


def test_what_is_not_said_is_pure_dry_and_burnt_whole():
    plain = stone_heat.plain(100.0, 1.0, 1.0)
    assert plain.drying_heat == 0.0
    assert plain.dissociation_heat == pytest.approx(100.0 / 0.100087 * 178.3e3, rel=1e-3)
    whole = stone_heat.plain(100.0, 0.6, 0.0, magnesium_carbonate=0.4)
    assert whole.dissociation_heat == pytest.approx(40.0 / 0.084314 * 117e3, rel=1e-3)
    assert fuel_mass.plain(50.0, 15e6, 0.3) == fuel_mass.plain(50.0, 15e6, 0.3, 0.0)
    assert kiln_efficiency.plain(50.0, 100.0, 15e6) == kiln_efficiency.plain(50.0, 100.0, 15e6, 0.0)
    demand = fuel_demand.plain(100.0, 1.0, 1.0, heating_value=15e6)
    assert demand.dissociation_heat == pytest.approx(plain.dissociation_heat)


def test_magnesia_made_takes_its_own_heat_of_the_fuel():
    # 40.304 g of MgO take 117 kJ, 56.077 g of CaO 178.3
    both = fuel_mass.plain(56.077, 1e6, 0.5, 40.304) - fuel_mass.plain(56.077, 1e6, 0.5)
    assert both / fuel_mass.plain(56.077, 1e6, 0.5) == pytest.approx(117 / 178.3, rel=1e-3)
