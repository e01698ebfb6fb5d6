import csv
import typing

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limekit import InputError, air_demand, fact, higher_heating_value, lower_heating_value, wet_basis
from limekit.fire.fuel import FuelName, fuels, load

NAMES = typing.get_args(FuelName)
WOODS = ("oak", "fir", "poplar", "pine")
HEADER = "fuel,label,moisture,carbon,hydrogen,oxygen,nitrogen,sulphur,ash,tag,source,place,note"


def test_every_name_has_a_row_and_every_row_a_name():
    assert set(fuels()) == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_analyses_lie_where_the_correlation_was_fitted(name):
    # Channiwala & Parikh 2002, abstract: C to 92.25, H 0.43 to 25.15, O to 50, N to 5.60, S to 94.08, ash to 71.4 %
    made_of = fuels()[name]
    assert made_of.carbon <= 0.9225
    assert 0.0043 <= made_of.hydrogen <= 0.2515
    assert made_of.oxygen <= 0.50
    assert made_of.nitrogen <= 0.056
    assert sum(getattr(made_of, part) for part in ("carbon", "hydrogen", "oxygen", "nitrogen", "sulphur", "ash")) == (
        pytest.approx(1.0, abs=0.002)
    )


@pytest.mark.parametrize(
    ("row", "fault"),
    [
        ("turf,turf,20,50,6,44,0,0,0,read,,,", "source"),
        ("turf,turf,20,50,6,44,0,0,0,heard,somebody,,", "tag"),
        ("turf,turf,20,50,6,44,0,0,0,read,somebody,,", "no place"),
        ("turf,turf,20,50,6,34,0,0,0,practice,somebody,,", "90.0 %"),
    ],
)
def test_a_fuel_without_source_tag_or_whole_analysis_does_not_load(row, fault):
    with pytest.raises(InputError, match=fault):
        load(csv.DictReader([HEADER, row]))


@pytest.mark.parametrize("name", NAMES)
def test_heat_falls_with_moisture_and_condensed_water_is_worth_more(name):
    heats = [lower_heating_value.plain(name, moisture) for moisture in (0.0, 0.2, 0.4, 0.6)]
    assert heats == sorted(heats, reverse=True)
    assert higher_heating_value.plain(name) > heats[0]


@given(st.sampled_from(NAMES), st.floats(0, 0.65))
def test_drying_the_fuel_first_costs_just_the_water(name, moisture):
    dry_part = (1 - moisture) * lower_heating_value.plain(name, 0.0)
    steam = moisture * fact("water_vaporisation_heat")
    assert lower_heating_value.plain(name, moisture) == pytest.approx(dry_part - steam)


@pytest.mark.parametrize("name", NAMES)
def test_without_moisture_a_fuel_is_as_moist_as_it_usually_lies(name):
    usual = fuels()[name].moisture
    assert lower_heating_value.plain(name) == lower_heating_value.plain(name, usual)
    if name in WOODS:
        assert usual == fact("fuel_moisture")
    else:
        assert usual >= 0.15 if name == "peat" else usual <= 0.06


def test_fuel_that_keeps_no_fire_is_refused_and_the_limit_named():
    with pytest.raises(InputError, match="65 %") as caught:
        lower_heating_value("oak", moisture=0.68)
    assert "wet_basis" in str(caught.value)


def test_a_misspelt_fuel_is_answered_with_the_near_one():
    with pytest.raises(InputError) as caught:
        lower_heating_value("charcol")
    assert caught.value.example == 'fuel="charcoal"'


@given(st.floats(0, 2.3))
def test_wet_and_dry_basis_hold_the_same_water(dry_basis):
    wet = wet_basis.plain(dry_basis)
    assert wet / (1 - wet) == pytest.approx(dry_basis)
    assert wet <= dry_basis


def test_air_for_pure_carbon_is_one_mole_of_oxygen_a_mole():
    pure = load(csv.DictReader([HEADER, "soot,soot,0,100,0,0,0,0,0,computed,nobody,,"]))["soot"]
    assert pure.oxygen_need == pytest.approx(1 / 0.012011)


def test_air_goes_with_the_dry_part_of_the_fuel():
    assert air_demand("fir", moisture=0.25) == pytest.approx(0.75 * air_demand("fir"))


@pytest.mark.parametrize("name", NAMES)
def test_all_fuels_give_nearly_the_same_heat_a_kilogram_of_air(name):
    # the rule that oxygen sets the heat: about 3 MJ a kg of air for solid fuels (Huggett 1980, from memory)
    assert lower_heating_value.plain(name, 0.0) / air_demand.plain(name) == pytest.approx(3.0e6, rel=0.1)
