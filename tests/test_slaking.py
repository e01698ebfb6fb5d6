import cantera
import pytest
from hypothesis import given
from hypothesis import strategies as st

import limekit
from limekit.errors import InputError
from limekit.facts import fact
from limekit.lime.contents import Contents, steam_enthalpy

CAUTION = "never water onto lime"


@pytest.fixture(scope="module")
def nasa():
    """NASA polynomials of solids, water and steam, through cantera's own data files."""
    files = ("nasa_condensed.yaml", "nasa_gas.yaml")
    return {one.name: one.thermo for file in files for one in cantera.Species.list_from_file(file)}


def test_heat_and_heat_capacities_stand_beside_nasa_polynomials(nasa):
    heat = nasa["CaO(s)"].h(298.15) + nasa["H2O(L)"].h(298.15) - nasa["CaO2H2(s)"].h(298.15)
    assert fact("hydration_heat_calcium") == pytest.approx(heat / 1000, rel=1e-3)
    for kept, species, molar in (
        (fact("water_heat_capacity"), "H2O(L)", 18.015),
        (fact("hydrate_heat_capacity"), "CaO2H2(s)", 74.093),
        (fact("lime_heat_capacity", "at_25"), "CaO(s)", 56.077),
        (fact("stone_heat_capacity", "at_25"), "CaCO3(caL)", 100.087),
    ):
        assert kept == pytest.approx(nasa[species].cp(298.15) / molar, rel=1e-3), species


@pytest.mark.parametrize("ratio", [3.5, 4.0, 5.0])
def test_the_rise_stands_beside_nasa_enthalpies(nasa, ratio):
    lime, water = 1 / 56.077, ratio / 18.015  # kmol for 1 kg of CaO

    def excess(kelvin):
        before = lime * nasa["CaO(s)"].h(293.15) + water * nasa["H2O(L)"].h(293.15)
        return lime * nasa["CaO2H2(s)"].h(kelvin) + (water - lime) * nasa["H2O(L)"].h(kelvin) - before

    low, high = 293.15, 373.2
    while high - low > 1e-3:
        middle = (low + high) / 2
        low, high = (middle, high) if excess(middle) < 0 else (low, middle)
    assert limekit.slaking_rise.plain(ratio, available_lime=1.0, water_temperature=293.15) == pytest.approx(
        low - 293.15, abs=0.7
    )  # heat capacities held constant


@pytest.mark.parametrize("ratio", [1.5, 2.5])
def test_the_steam_stands_beside_nasa_enthalpies(nasa, ratio):
    lime, water, boiling = 1 / 56.077, ratio / 18.015, 373.15
    before = lime * nasa["CaO(s)"].h(293.15) + water * nasa["H2O(L)"].h(293.15)
    after = lime * nasa["CaO2H2(s)"].h(boiling) + (water - lime) * nasa["H2O(L)"].h(boiling)
    steam = (before - after) / (nasa["H2O"].h(boiling) - nasa["H2O(L)"].h(boiling)) * 18.015
    ours = limekit.slake.plain(1.0, ratio, 293.15, 1.0).steam
    assert ours == pytest.approx(steam, abs=0.005)  # kg for 1 kg of lime


@given(st.floats(0.1, 1e4), st.floats(0.6, 12), st.floats(0.0, 1), st.floats(274, 350), st.floats(353, 373.15))
def test_heat_and_mass_close_and_nothing_boils_unsaid(lime, ratio, available, start, boiling):
    try:
        s = limekit.slake.plain(lime, ratio * lime, start, available, boiling_temperature=boiling)
    except InputError as refused:
        assert "burns in its own heat" in str(refused)  # noqa: PT017
        assert ratio < fact("water_for_hydrate")
        return
    assert s.hydrate + s.free_water + s.steam + s.residue == pytest.approx(lime + s.water, rel=1e-9)
    before = Contents(s.water, s.quicklime, 0.0, s.residue).enthalpy(start)
    after = Contents(s.free_water, 0.0, s.hydrate, s.residue).enthalpy(s.end_temperature)
    assert after + s.steam * steam_enthalpy(boiling) == pytest.approx(before, rel=1e-9, abs=1e-3)
    assert min(s.free_water, s.steam) >= 0
    if not s.boils:
        assert s.end_temperature <= boiling
        assert s.end_temperature - start == pytest.approx(s.slaking_rise, rel=1e-9, abs=1e-9)
    elif not s.boils_dry:
        assert s.end_temperature == boiling
    else:
        assert s.free_water == 0
    assert s.boils == (s.water < s.water_not_to_boil * (1 - 1e-9)) or s.water == pytest.approx(s.water_not_to_boil)


@given(st.floats(0.05, 1), st.floats(275, 360), st.floats(361, 374))
def test_at_the_boil_limit_the_mix_just_reaches_boiling(available, start, boiling):
    ratio = limekit.boil_limit.plain(start, available, boiling)
    end = start + limekit.slaking_rise.plain(ratio, available, start)
    assert end == pytest.approx(boiling, rel=1e-9) or (
        end < boiling and ratio == pytest.approx(0.32126 * available, rel=1e-3)
    )


@given(st.floats(0.5, 10), st.floats(0.01, 5), st.floats(0.1, 0.9))
def test_more_water_is_cooler_and_livelier_lime_hotter(ratio, more, available):
    rise = limekit.slaking_rise.plain
    assert rise(ratio + more, available) < rise(ratio, available) < rise(ratio, available + 0.05)


def test_water_and_putty_come_out_right():
    # 1 kg CaO makes 1.3213 kg hydrate, and putty at 1.35 kg/L holds 46.8 % of it: 1.5003 kg of water
    thick = limekit.slake("1 kg", "1.2 kg", available_lime=1)
    assert thick.water_to_add.to("kg").magnitude == pytest.approx(1.5003 - thick.free_water.magnitude, abs=2e-3)
    thin = limekit.slake("1 kg", "4 kg", available_lime=1)
    assert thin.water_over.to("kg").magnitude == pytest.approx(4 - 0.3213 - 1.5003, abs=2e-3)
    assert [limekit.slake("1 kg", w).product for w in ("0.7 kg", "0.9 kg", "2.5 kg")] == [
        "dry hydrate",
        "damp hydrate",
        "putty",
    ]


def test_the_usual_water_makes_what_it_is_for():
    for product in ("putty", "dry hydrate"):
        water = limekit.water_to_slake.plain(10.0, product)
        assert limekit.slake.plain(10.0, water, available_lime=0.97).product == product


def test_one_limit_says_what_is_too_hot_and_when_to_sieve():
    said = [limekit.slake("1 kg", water, water_temperature="15 degC").words for water in ("2.5 kg", "3 kg", "4.5 kg")]
    assert "It boils" in said[0]
    assert "too near boiling" in said[1]
    assert "stays quiet" in said[2]
    assert ["sieve it warm" in words for words in said] == [False, False, True]
    enough = float(said[0].split("steam. ")[1].split(" kg")[0]) + 0.06  # it is said to a tenth
    assert limekit.slake.plain(1.0, enough, 288.15).end_temperature < fact("slaking_temperature_most")


def test_less_water_than_dry_hydrate_is_given_is_refused():
    least = limekit.water_to_slake.plain(1.0, "dry hydrate")
    assert limekit.slake.plain(1.0, least).product == "dry hydrate"
    with pytest.raises(InputError, match="burns in its own heat"):
        limekit.slake.plain(1.0, 0.95 * least)


def test_lime_of_unknown_age_is_tested_first():
    assert limekit.slake("1 kg", "4 kg", lime_age="unknown").words.startswith("Age unknown: test first")
    assert "test first" not in limekit.slake("1 kg", "4 kg").words


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"order": "water onto lime"}, "lime into water"),
        ({"vessel_kind": "sealed drum"}, "steam bursts it"),
        ({"vessel_kind": "thin plastic bucket"}, "softens and splits"),
        ({"vessel_kind": "aluminium pan"}, "hydrogen"),
        ({"vessel_kind": "thick plastic tub"}, "80 °C at most"),
        ({"vessel_volume": "40 L"}, "too big a charge"),
        ({"water": "2 kg"}, "which the lime binds"),
        ({"water": "4 kg"}, "burns in its own heat"),
        ({"water_temperature": "95 degC", "boiling_temperature": "92 degC"}, "where water boils at 92 °C"),
    ],
)
def test_what_hurts_is_refused_with_its_caution(asked, said):
    with pytest.raises(InputError, match=said) as caught:
        limekit.slake(**{"lime_charge": "10 kg", "water": "25 kg", **asked})
    assert CAUTION in str(caught.value)


def test_the_offered_vessel_is_big_enough():
    with pytest.raises(InputError) as caught:
        limekit.slake("10 kg", "25 kg", vessel_volume="40 L")
    offered = caught.value.example.split('"')[1]
    assert limekit.slake("10 kg", "25 kg", vessel_volume=offered).product == "putty"


@pytest.mark.parametrize("kind", ["steal drum", "", None, 3])
def test_an_unknown_vessel_is_answered_with_those_there_are(kind):
    with pytest.raises(InputError, match="open steel drum"):
        limekit.slaking_vessel(kind)


def test_a_galvanised_tub_is_taken_with_its_note():
    assert "hydrogen" in limekit.slaking_vessel("galvanised tub").note


@pytest.mark.parametrize(
    "asked",
    [
        {"water": "30"},
        {"water_temperature": "120 degC"},
        {"water_temperature": "97 degC", "boiling_temperature": "95 degC"},
        {"available_lime": 93},
        {"lime_age": "old"},
        {"order": "together"},
    ],
)
def test_bad_input_is_refused(asked):
    with pytest.raises(InputError):
        limekit.slake(**{"lime_charge": "10 kg", "water": "40 kg", **asked})


def test_residue_stands_against_astm_c5():
    # ASTM C5-03: residue 15 % at most
    assert limekit.sieve_residue("10 kg", "1.4 kg").within
    assert not limekit.sieve_residue("10 kg", "1.6 kg").within
    with pytest.raises(InputError):
        limekit.sieve_residue("1 kg", "1.1 kg")


def test_the_test_named_is_that_of_the_standard():
    # EN 459-2: 150 g of quicklime into 600 g of water at 20 °C
    assert "150 g in 600 g of water at 20 °C" in limekit.slake("10 kg", "30 kg", lime_age="unknown").words
