import os
import shutil
import subprocess
import sys
from pathlib import Path

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from IPython.core.formatters import DisplayFormatter

from limekit.errors import InputError
from limekit.units import AMBIGUOUS, Kelvin, KelvinDifference, Metre, from_si, quantity, split_text, to_si

LEVEL, DIFFERENCE, LENGTH = (alias.__metadata__[0] for alias in (Kelvin, KelvinDifference, Metre))


def test_a_nought_is_shown_with_no_minus():
    assert f"{from_si(-0.0, LENGTH, 'mm')}" == "0 mm"


@pytest.mark.parametrize(
    "word", ["ton", "tons", "kilos", "cwt", "bushel", "bushels", "gallon", "gallons", "C", "F", "pint"]
)
def test_a_spelling_with_two_meanings_is_refused_and_the_explicit_ones_offered(word):
    with pytest.raises(InputError, match="more than one thing") as caught:
        quantity(f"2 {word}")
    offered = AMBIGUOUS.get(word) or AMBIGUOUS[word.removesuffix("s")]
    assert offered in str(caught.value)


@pytest.mark.parametrize("unit", ["ton/day", "kg/gallon", "W/m^2/C"])
def test_an_ambiguous_word_is_found_inside_a_compound(unit):
    with pytest.raises(InputError, match="more than one thing"):
        quantity(f"3 {unit}")


@pytest.mark.parametrize(
    ("text", "kilograms"),
    # NIST Handbook 44, appendix C: short ton 907.185, long ton 1016.047, hundredweights 45.359 and 50.802 kg
    [
        ("1 tonne", 1000),
        ("1 short_ton", 907.185),
        ("1 long_ton", 1016.047),
        ("1 US_hundredweight", 45.359),
        ("1 UK_hundredweight", 50.802),
    ],
)
def test_explicit_spellings_mean_what_the_handbook_says(text, kilograms):
    assert quantity(text).to("kg").magnitude == pytest.approx(kilograms, rel=1e-5)


@pytest.mark.parametrize(
    ("text", "litres"),
    # NIST Handbook 44, appendix C
    [("1 US_liquid_gallon", 3.785412), ("1 imperial_gallon", 4.54609), ("1 US_bushel", 35.23907)],
)
def test_explicit_volumes_mean_what_the_handbook_says(text, litres):
    assert quantity(text).to("L").magnitude == pytest.approx(litres, rel=1e-6)


@pytest.mark.parametrize("text", ["1,5 kg", "1,000 kg", "12,5"])
def test_a_comma_inside_a_number_is_refused(text):
    with pytest.raises(InputError, match="comma"):
        quantity(text)


@pytest.mark.parametrize(
    "unit",
    ["mm*9**9**9**9", "m/0", "m**1e400", "m^10", "(" * 5000 + "m" + ")" * 5000, "m*" * 5000 + "m", "m\x00", "[length]"],
)
def test_a_unit_that_is_a_sum_to_work_out_is_refused_unread(unit):
    with pytest.raises(InputError, match="not known"):
        quantity(f"60 {unit}")


@pytest.mark.parametrize("unit", ["kg/(m^2*s)", "W / m**2 / K", "g/cm³", "m ^ -2", "kg m", "m2", "mm."])
def test_units_are_spelled_in_many_ways(unit):
    assert quantity(f"60 {unit}").magnitude == 60


@pytest.mark.parametrize(
    "text", ["", "kg", "sixty mm", "6 0 mm", "60 mm 3", "1.2.3 kg", "--5 kg", "60 bananas", "5 kg)("]
)
def test_text_that_is_no_quantity_is_refused(text):
    with pytest.raises(InputError):
        quantity(text)


def test_a_power_may_be_written_plainly():
    assert quantity("100 W/m2/K") == quantity("100 W/m^2/K")
    assert quantity("2.6 t/m3") == quantity("2600 kg/m³")


def test_a_quantity_of_another_registry_is_taken():
    foreign = pint.UnitRegistry().Quantity(60, "mm")
    assert quantity(foreign).to("m").magnitude == pytest.approx(0.06)


@given(st.floats(-1e6, 1e6), st.sampled_from(["mm", "m", "inch", "foot"]))
def test_text_and_number_come_to_the_same(value, unit):
    written = f"{value!r} {unit}"
    assert split_text(written, "length")[0] == value
    assert quantity(written) == quantity(value, unit)


@given(st.floats(-200, 2000))
def test_a_level_in_fahrenheit_and_in_celsius_is_one_level(celsius):
    fahrenheit = celsius * 9 / 5 + 32
    one, other = (to_si(quantity(t, u), LEVEL, "t", "") for t, u in ((celsius, "degC"), (fahrenheit, "degF")))
    assert one == pytest.approx(other, abs=1e-6)


def test_a_difference_given_for_a_level_is_refused():
    with pytest.raises(InputError, match="temperature difference"):
        to_si(quantity("600 delta_degC"), LEVEL, "temperature", "")


@pytest.mark.parametrize("text", ["600 K", "600 degC", "600 degF"])
def test_a_level_given_for_a_difference_is_refused(text):
    with pytest.raises(InputError, match="temperature level"):
        to_si(quantity(text), DIFFERENCE, "difference", "")


def test_a_difference_in_fahrenheit_degrees_is_five_ninths():
    assert to_si(quantity("90 delta_degF"), DIFFERENCE, "difference", "") == pytest.approx(50)


def test_another_dimension_is_refused_with_its_name():
    with pytest.raises(InputError, match="kilogram"):
        to_si(quantity("60 kg"), LENGTH, "length", "")


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ("15 tonne", "15 t"),
        ("1082.3712 kg", "1082 kg"),
        ("12345.6 kg", "12350 kg"),
        ("652.842351 kg", "652.8 kg"),
        ("1234567 kg", "1235000 kg"),
        ("0.00123456 m", "0.001235 m"),
        ("1000 degC", "1000 °C"),
        ("0 kg", "0 kg"),
        ("1500 L", "1500 L"),
        ("3.2e-7 m", "3.2×10⁻⁷ m"),
    ],
)
def test_a_quantity_prints_with_the_figures_it_deserves_wherever_it_is_shown(given, told):
    one = quantity(given)
    assert str(one) == f"{one}" == told
    assert repr(one) == f"<{told}>"
    shown = DisplayFormatter().format(one)[0]
    assert shown["text/html"] == told
    assert "text/latex" not in shown


def test_a_form_that_is_asked_for_is_given_and_an_array_is_printed_as_before():
    assert f"{quantity('652.842351 kg'):.1f~P}" == "652.8 kg"
    assert str(quantity([1.23456, 22.222], "kg")) == "[1.235 22.22] kg"
    assert "nan" in str(quantity(float("nan"), "kg"))


def test_an_installation_that_is_gone_takes_no_other_with_it_and_nothing_need_be_kept(tmp_path):
    first, asks = tmp_path / "first", [sys.executable, "-c", "from limekit.units import registry; registry()"]
    shutil.copytree(Path(pint.__file__).parent, first / "pint")
    known = os.environ | {"XDG_CACHE_HOME": str(tmp_path / "cache")}
    subprocess.run(asks, env=known | {"PYTHONPATH": str(first)}, check=True)
    shutil.rmtree(first)
    subprocess.run(asks, env=known, check=True)
    (tmp_path / "a file").touch()
    subprocess.run(asks, env=known | {"XDG_CACHE_HOME": str(tmp_path / "a file")}, check=True)
