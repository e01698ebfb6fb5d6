"""Burning time and burnt stone as a person calls them."""

import dataclasses
import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import limekit
from limekit import Stone, glossary
from limekit.facts import fact
from limekit.stone.burning import BurntStone

MODELS = ("resolved", "reduced", "quasi_steady")
time_of = limekit.burning_time.plain
SIZES, GASES, FRACTIONS = st.floats(0.005, 0.3), st.floats(1190.0, 1500.0), st.floats(0.0, 0.3)


def test_text_in_hours_out():
    time = limekit.burning_time(diameter="50 mm", gas_temperature="1000 degC", co2_fraction=0.25, conversion=0.99)
    assert f"{time:.1f~P}" == "3.4 h"


@pytest.mark.parametrize(
    ("alone", "hours", "level"),
    [
        ({"heat_transfer_coefficient": "100 W/m^2/K"}, 0.999, "896.425 degC"),
        ({"lime_conductivity": "0.6 W/m/K"}, 2.081, "896.425 degC"),
        ({"reaction_coefficient": "0.006 m/s"}, 3.313, "900 degC"),
        ({"co2_diffusivity": "6e-5 m^2/s"}, 1.381, "900 degC"),
    ],
)
def test_what_is_left_out_resists_no_longer(alone, hours, level):
    ways = "heat_transfer_coefficient lime_conductivity co2_diffusivity reaction_coefficient gas_film_coefficient"
    off = dict.fromkeys(ways.split(), "left out")
    stone = {"diameter": "50 mm", "density": "2650 kg/m^3", "calcium_carbonate": 0.97, "co2_fraction": 0.2}
    no_heat = {"stone_heat_capacity": "left out", "lime_heat_capacity": "left out"}
    for model in MODELS:
        time = limekit.burning_time(
            gas_temperature=level, conversion=1.0, model=model, **stone, **{**off, **alone}, **no_heat
        )
        assert time.to("h").magnitude == pytest.approx(hours, rel=0.005), model


@settings(max_examples=15, deadline=None)
@given(diameter=SIZES, gas=GASES, fraction=FRACTIONS, model=st.sampled_from(MODELS))
def test_larger_cooler_and_more_carbon_dioxide_take_longer(diameter, gas, fraction, model):
    base = time_of(diameter, gas, fraction, model=model)
    assert time_of(1.05 * diameter, gas, fraction, model=model) > base
    assert time_of(diameter, gas + 15.0, fraction, model=model) < base
    assert time_of(diameter, gas, fraction + 0.03, model=model) > base
    assert time_of(diameter, gas, fraction, conversion=0.9, model=model) < base


@settings(max_examples=15, deadline=None)
@given(diameter=SIZES, gas=GASES, fraction=FRACTIONS)
def test_stone_burnt_for_its_burning_time_is_burnt_so_far(diameter, gas, fraction):
    for share in (0.6, 0.97):
        burnt = limekit.burn_stone.plain(diameter, gas, time_of(diameter, gas, fraction, conversion=share), fraction)
        assert burnt.conversion == pytest.approx(share, abs=0.002)


def test_film_moisture_magnesia_and_cold_stone_take_longer():
    base = time_of(0.05, 1273.15)
    assert base < time_of(0.05, 1273.15, gas_film_coefficient=fact("gas_film_coefficient")) < 1.02 * base
    for model in ("resolved", "reduced"):
        base = time_of(0.05, 1273.15, model=model)
        assert time_of(0.05, 1273.15, stone=Stone.plain(stone_moisture=0.1), model=model) > base
        assert time_of(0.05, 1273.15, start_temperature=900.0, model=model) < base
    dolomitic = time_of(0.05, 1273.15, stone=Stone.plain(calcium_carbonate=0.67, magnesium_carbonate=0.3))
    assert dolomitic < time_of(0.05, 1273.15), "less calcium carbonate to burn"
    assert dolomitic > time_of(0.05, 1273.15, stone=Stone.plain(calcium_carbonate=0.67))


def test_slab_takes_longest_and_sphere_least():
    times = [time_of(0.05, 1273.15, shape=shape) for shape in ("sphere", "cylinder", "slab")]
    assert times == sorted(times)


def test_models_that_take_arrays_give_their_members():
    sizes = np.array([0.02, 0.05, 0.2])
    for model in ("reduced", "quasi_steady"):
        together = time_of(sizes, 1273.15, model=model)
        assert together == pytest.approx([time_of(size, 1273.15, model=model) for size in sizes], rel=1e-3)
    with pytest.raises(limekit.InputError, match="one stone at a time"):
        time_of(sizes, 1273.15)


def test_no_share_needs_no_time():
    for model in MODELS:
        assert time_of(0.05, 1273.15, conversion=0.0, model=model) == 0.0


@pytest.mark.parametrize("model", MODELS)
def test_cold_gas_is_refused_and_told_by_how_much(model):
    with pytest.raises(limekit.InputError, match=r"700 °C, 109\.\d K below .* 25 %") as fault:
        limekit.burning_time("50 mm", "700 degC", co2_fraction=0.25, model=model)
    assert "809 °C" in fault.value.wanted
    assert "less carbon dioxide" in fault.value.wanted
    again = fault.value.example.partition("=")[2].strip('"')
    assert limekit.burning_time("50 mm", again, co2_fraction=0.25, model=model).magnitude > 0.0


def test_gas_a_hair_above_the_threshold_ends():
    level = limekit.dissociation_temperature.plain(0.25 * 101325.0)
    with pytest.raises(limekit.InputError, match="never burns"):
        time_of(0.05, level)
    for model in MODELS:
        assert time_of(0.05, level + 0.01, model=model) > 1e6


def test_hostile_input_is_refused_by_name():
    cases = [
        ({"diameter": "0 mm"}, "diameter"),
        ({"diameter": "-5 mm"}, "diameter"),
        ({"diameter": "50"}, "diameter"),
        ({"diameter": float("nan")}, "diameter"),
        ({"gas_temperature": "1000 C"}, "gas_temperature"),
        ({"co2_fraction": 1.5}, "co2_fraction"),
        ({"conversion": 1.2}, "conversion"),
        ({"shape": "cube"}, "shape"),
        ({"model": "best"}, "model"),
        ({"stone_moisture": -0.1}, "stone_moisture"),
        ({"magnesium_carbonate": 0.98}, "magnesium_carbonate"),
        ({"lime_conductivity": "0 W/m/K"}, "lime_conductivity"),
        ({"colour": "red"}, "colour"),
        ({"model": "quasi_steady", "stone_moisture": 0.1}, "moisture"),
    ]
    for wrong, named in cases:
        with pytest.raises(limekit.InputError, match=named):
            limekit.burning_time(**{"diameter": "50 mm", "gas_temperature": "1000 degC", **wrong})


def test_burnt_stone_carries_quantities_basis_and_history():
    burnt = limekit.burn_stone(diameter="50 mm", gas_temperature="1000 degC", time="2 h")
    assert burnt.core_diameter.units == "millimeter"
    assert burnt.core_temperature < burnt.surface_temperature
    kinds = {ground.name: ground.kind for ground in burnt.basis}
    assert kinds["diameter"] == "given"
    assert kinds["reaction_coefficient"] == "from memory"
    history = burnt.history
    assert history.temperatures.shape == (len(history.times), len(history.radii))
    assert history.conversion[-1] == burnt.conversion.magnitude
    assert (np.diff(history.times) > 0.0).all()
    assert (np.diff(history.conversion) >= -1e-12).all()
    assert history.times[-1] == 7200.0
    assert history.radii[-1] == pytest.approx(0.025)
    core = burnt.core_diameter.to("m").magnitude / 0.05
    assert 1.0 - core**3 == pytest.approx(burnt.conversion.magnitude)
    late = history.temperatures[-1]
    assert (np.diff(late) > -0.5).all(), "hotter outward while the gas is steady"
    assert max(abs(history.heat_gap), abs(history.mass_gap)) < 1e-6


def test_cold_gas_leaves_the_stone_as_it_was():
    burnt = limekit.burn_stone("50 mm", "700 degC", "10 h")
    assert burnt.conversion.magnitude == 0.0
    assert burnt.core_diameter.to("mm").magnitude == 50.0
    assert burnt.core_temperature.to("degC").magnitude == pytest.approx(700.0, abs=0.1)


def test_no_time_leaves_the_stone_as_it_was():
    burnt = limekit.burn_stone("50 mm", "1000 degC", "0 h")
    assert burnt.conversion.magnitude == 0.0
    assert burnt.surface_temperature.to("degC").magnitude == pytest.approx(20.0)


def test_burnt_through_is_told_as_burnt_through():
    burnt = limekit.burn_stone("20 mm", "1100 degC", "10 h")
    assert burnt.conversion.magnitude == 1.0
    assert burnt.core_diameter.magnitude == 0.0
    assert burnt.core_temperature.to("degC").magnitude == pytest.approx(1100.0, abs=0.1)


def test_fire_may_be_steady_rising_or_read_from_a_table():
    rising = limekit.burn_stone("50 mm", "950 degC", "6 h", gas_rise_time="4 h")
    table = limekit.FireHistory.table([("0 h", "20 degC"), ("4 h", "950 degC"), ("6 h", "950 degC")])
    ramp = limekit.FireHistory.ramp("950 degC", "4 h")
    read = limekit.burn_stone("50 mm", fire_history=table)
    assert read.conversion.magnitude == pytest.approx(rising.conversion.magnitude, abs=1e-6)
    assert limekit.burn_stone("50 mm", fire_history=ramp, time="6 h").conversion == rising.conversion
    steady = limekit.burn_stone("50 mm", fire_history=limekit.FireHistory.steady("950 degC"), time="6 h")
    assert steady.conversion > rising.conversion


def test_fire_is_told_once_and_whole():
    steady = limekit.FireHistory.steady("950 degC")
    for wrong in (
        {},
        {"gas_temperature": "950 degC", "fire_history": steady},
        {"fire_history": steady},
        {"gas_temperature": "950 degC"},
    ):
        with pytest.raises(limekit.InputError):
            limekit.burn_stone("50 mm", **wrong)
    for rows in ([], [("1 h", "900 degC")], [("0 h", "20 degC"), ("0 h", "30 degC")], [("0 h",)], [("0 h", "hot")]):
        with pytest.raises(limekit.InputError):
            limekit.FireHistory.table(rows)


def test_warming_time_grows_with_size_and_needs_hot_gas():
    times = [limekit.warming_time.plain(size, 1323.15) for size in (0.01, 0.03, 0.1, 0.3)]
    assert all(later > 2.0 * earlier for earlier, later in itertools.pairwise(times))
    with pytest.raises(limekit.InputError, match="never burns"):
        limekit.warming_time("50 mm", "700 degC")


def test_every_field_of_a_burnt_stone_is_in_the_glossary():
    for field in dataclasses.fields(BurntStone):
        if field.name not in ("history", "basis"):
            assert glossary.entry(field.name).label


def test_through_a_heating_stone_it_is_hotter_outward_and_the_front_has_its_own_temperature():
    history = limekit.burn_stone.plain(0.06, 1323.15, 2.0 * 3600.0).history
    half_burnt = [n for n, burnt in enumerate(history.conversion) if 0.2 < burnt < 0.9]
    assert half_burnt
    for number in half_burnt:
        levels = history.temperatures[number]
        assert np.all(np.diff(levels) > -0.5)
        at_front = np.interp(history.core_radius[number], history.radii, levels)
        assert at_front == pytest.approx(history.front_temperature[number], abs=12.0)
        shell = levels[history.radii > history.core_radius[number]]
        assert np.ptp(shell) > 20.0
        assert np.abs(np.diff(shell)).max() < 0.6 * np.ptp(shell), "no leap across the shell"
