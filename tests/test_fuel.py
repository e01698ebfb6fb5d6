import pytest
from hypothesis import given
from hypothesis import strategies as st

import limekit
from limekit import InputError, Record, air_demand, fact, higher_heating_value, lower_heating_value, tables, wet_basis
from limekit.course.controls import fuel_choice
from limekit.fire.fuel import fuels, load
from limekit.units import quantity

NAMES = limekit.fuel_names()
TURF = {
    **{"fuel": "turf", "label": "turf", "kind": "fossil", "counts_as": "peat", "comes_as": "lumps"},
    **{"fuel_moisture": "20", "carbon": "50", "hydrogen": "6", "oxygen": "44", "nitrogen": "0", "sulphur": "0"},
    **{"ash": "0", "tag": "memory", "source": "somebody", "place": "", "note": ""},
    **{"density": "500", "density_low": "400", "density_high": "600", "density_tag": "memory"},
    **{"density_source": "somebody", "density_place": "", "density_note": ""},
}


@pytest.fixture
def turf(monkeypatch):
    """One more row in the table of fuels, and nothing else changed."""
    shipped = tables.rows
    monkeypatch.setattr(tables, "rows", lambda name: (*shipped(name), TURF) if name == "fuels" else shipped(name))
    fuels.cache_clear()
    yield "turf"
    monkeypatch.undo()
    fuels.cache_clear()


def test_a_fuel_is_a_row_and_one_more_row_is_one_more_fuel_everywhere(turf, tmp_path):
    assert turf in limekit.fuel_names()
    with pytest.raises(InputError, match="turf"):
        limekit.combustion("tuf")
    assert limekit.Fuel(turf).kind == turf
    assert limekit.combustion(turf).basis[0].value == "turf"
    size = limekit.size_kiln(stone="500 kg", largest_stone="80 mm")
    assert limekit.fire_kiln(size, fuel=turf, hours="1 h", levels=3).fuel_used > quantity("1 kg")
    assert limekit.design_kiln(stone="500 kg", fuel=turf).fuel == turf
    assert limekit.fuel_carbon(turf, "100 kg", "15 MJ/kg").fossil > quantity("100 kg")
    assert limekit.fuel_volume("100 kg", turf, "loose").middle > quantity("0.2 m^3")
    shaft = limekit.size_kiln(stone="30 tonne", largest_stone="80 mm", kind="shaft")
    assert limekit.run_shaft(shaft, draw_rate="10 tonne/day", fuel_ratio=0.15, fuel=turf).fuel_burnt > 0.5
    assert turf in fuel_choice().options.values()
    assert Record.load(tmp_path / "none.toml").keep("fuel", name="turf, three years old").fuel.kind == turf


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
        ({"source": ""}, "source"),
        ({"tag": "heard"}, "tag"),
        ({"density_source": ""}, "source"),
        ({"oxygen": "34"}, "90.0 %"),
        ({"kind": "mineral"}, "fossil"),
        ({"comes_as": "sods"}, "lumps"),
        ({"tag": "read"}, "no place"),
    ],
)
def test_a_fuel_without_source_tag_or_whole_analysis_does_not_load(row, fault):
    with pytest.raises(InputError, match=fault):
        load([TURF | row])


@pytest.mark.parametrize("name", NAMES)
def test_heat_falls_with_moisture_and_condensed_water_is_worth_more(name):
    heats = [lower_heating_value.plain(name, fuel_moisture) for fuel_moisture in (0.0, 0.2, 0.4, 0.6)]
    assert heats == sorted(heats, reverse=True)
    assert higher_heating_value.plain(name) > heats[0]


@given(st.sampled_from(NAMES), st.floats(0, 0.65))
def test_drying_the_fuel_first_costs_just_the_water(name, fuel_moisture):
    dry_part = (1 - fuel_moisture) * lower_heating_value.plain(name, 0.0)
    steam = fuel_moisture * fact("water_vaporisation_heat")
    assert lower_heating_value.plain(name, fuel_moisture) == pytest.approx(dry_part - steam)


@pytest.mark.parametrize("name", NAMES)
def test_without_moisture_a_fuel_is_as_moist_as_it_usually_lies(name):
    usual = fuels()[name].fuel_moisture
    assert lower_heating_value.plain(name) == lower_heating_value.plain(name, usual)
    if fuels()[name].kind == "wood":
        assert usual == fact("fuel_moisture")
    else:
        assert usual >= 0.15 if name == "peat" else usual <= 0.06


def test_fuel_that_keeps_no_fire_is_refused_and_the_limit_named():
    with pytest.raises(InputError, match="65 %") as caught:
        lower_heating_value("oak", fuel_moisture=0.68)
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
    pure = load([TURF | {"carbon": "100", "hydrogen": "0", "oxygen": "0"}])["turf"]
    assert pure.oxygen_need == pytest.approx(1 / 0.012011)


def test_air_goes_with_the_dry_part_of_the_fuel():
    assert air_demand("fir", fuel_moisture=0.25) == pytest.approx(0.75 * air_demand("fir"))


@pytest.mark.parametrize("name", NAMES)
def test_all_fuels_give_nearly_the_same_heat_a_kilogram_of_air(name):
    # the rule that oxygen sets the heat: about 3 MJ a kg of air for solid fuels (Huggett 1980, from memory)
    assert lower_heating_value.plain(name, 0.0) / air_demand.plain(name) == pytest.approx(3.0e6, rel=0.1)
