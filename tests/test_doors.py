"""What a scientist's own script finds open: tables in memory, the registry, pickles, packages, the version."""

import dataclasses
import pickle
import subprocess
import sys
import typing
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

import limekit
from limekit import units
from limekit.records.examples import example_path

TRIAL, LOG, SLAKING = (example_path(f"{name}_example.csv") for name in ("trial", "burn_log", "slaking_log"))
SCRIPT = Path(__file__).with_name("trial_from_a_table.py")


def test_a_table_in_memory_reads_as_its_file_does():
    assert limekit.read_trial(pd.read_csv(TRIAL, comment="#")).pieces == limekit.read_trial(TRIAL).pieces
    read, there = limekit.read_burn_log(pd.read_csv(LOG, comment="#")), limekit.read_burn_log(LOG)
    np.testing.assert_array_equal(read.times, there.times)
    np.testing.assert_array_equal(read.fuel_fed, there.fuel_fed)
    read = limekit.read_slaking_log(pd.read_csv(SLAKING, comment="#"))
    assert read.log_temperatures[0] == limekit.read_slaking_log(SLAKING).log_temperatures[0]


def test_a_fault_in_a_table_in_memory_is_named_by_row_and_column():
    table = pd.read_csv(TRIAL, comment="#")
    table.loc[1, "largest_size [mm]"] = 8000.0
    with pytest.raises(limekit.RecordError, match=r"the table given: .*\n.*row 3, column largest_size"):
        limekit.read_trial(table)


@pytest.mark.parametrize("made", ["60 mm", "1 US_bushel", "900 degC", "5 delta_degC"])
def test_a_quantity_comes_back_from_a_pickle_in_the_kits_registry(made):
    one = limekit.quantity(made)
    back = pickle.loads(pickle.dumps(one))
    assert back == one
    assert back._REGISTRY is units.registry()


def test_a_result_comes_back_from_a_pickle():
    balance = limekit.mass_balance("1000 kg", 0.95, 0.9)
    assert pickle.loads(pickle.dumps(balance)) == balance


def test_packages_and_version_are_there_after_a_light_import():
    asked = (
        "import limekit, sys; assert 'limekit.kiln' not in sys.modules; "
        "print(limekit.kiln.__name__, limekit.units.registry.__name__, limekit.__version__)"
    )
    said = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True).stdout.split()
    assert said == ["limekit.kiln", "registry", limekit.__version__]
    with pytest.raises(AttributeError, match="has no 'klin'"):
        limekit.klin  # noqa: B018


@pytest.mark.parametrize(("asked", "several"), [("forecast", ["60 mm", "80 mm"]), ("largest_stone", ["8 h", "12 h"])])
def test_an_assessment_is_asked_for_several_at_once(asked, several):
    ask = getattr(limekit.assess_trial(limekit.read_trial(TRIAL)), asked)
    both = ask(several, "1000 degC")
    for place, each in enumerate(several):
        one = ask(each, "1000 degC")
        assert (both.median[place], both.low[place], both.high[place]) == (one.median, one.low, one.high)


def test_a_burning_time_takes_several_stones_and_several_fires_at_once():
    crossed = limekit.burning_time_range(pd.Series(["60 mm", "80 mm"]), ["1000 degC", "1050 degC"])
    assert crossed.median.units == limekit.quantity("1 h").units
    assert str(crossed).count(",") == 3


def test_the_example_script_reproduces_a_trial_burn_from_a_table():
    done = subprocess.run([sys.executable, str(SCRIPT)], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    hours = limekit.assess_trial(limekit.read_trial(TRIAL)).forecast("80 mm", "1000 degC")
    assert done.stdout.splitlines()[-1] == f"80 mm at 1000 degC: {hours}"


def test_several_charges_are_those_of_each():
    charges = limekit.stone_for_putty(["100 L", "200 L"], 0.95, [0.9, 0.95])
    assert charges[1] == limekit.stone_for_putty("200 L", 0.95, 0.95)


def test_what_is_sized_one_at_a_time_says_how_to_size_several():
    with pytest.raises(limekit.InputError, match=r"\[size_kiln\(stone=one, \.\.\.\) for one in values\]"):
        limekit.size_kiln(["500 kg", "2 tonne"], "80 mm")


def test_estimates_of_several_are_compared_as_a_whole():
    both, one = (limekit.burning_time_range(sizes, "1000 degC") for sizes in (["60 mm", "80 mm"], "60 mm"))
    assert both == limekit.burning_time_range(["6 cm", "8 cm"], "1000 degC")
    assert both != limekit.burning_time_range(["60 mm", "81 mm"], "1000 degC")
    assert both != one
    assert one != one.median
    assert len({one, limekit.burning_time_range("60 mm", "1000 degC")}) == 1


def test_a_result_is_a_table_of_figures_with_their_ranges_and_units():
    design = limekit.design_kiln(stone="500 kg", largest_stone="80 mm")
    table = design.to_frame()
    row, fuel = table.loc["demand.fuel_mass"], design.demand.fuel_mass
    assert (row.value, row.low, row.high) == tuple(one.to("kg").m for one in (fuel.middle, fuel.low, fuel.high))
    assert row.unit == "kg"
    assert table.loc["putty_volume", "unit"] == "L"
    assert table.value.dtype == float
    assert not {"cautions", "basis", "fuel"} & set(table.index)


def test_several_values_are_rows_of_a_table():
    times = limekit.burning_time_range(["60 mm", "80 mm"], "1000 degC")
    table = times.to_frame()
    assert list(table.value) == list(times.median.m)
    assert list(table.inner_low) == list(times.inner_low.m)
    assert list(table.unit) == ["h", "h"]
    balance = limekit.mass_balance(["500 kg", "1 tonne"], 0.95, 0.9).to_frame()
    assert list(balance.loc["stone"].value) == [500.0, 1000.0]


def test_every_dataclass_a_public_function_gives_has_its_table():
    for name in limekit.__all__:
        made = getattr(limekit, name)
        kind = (
            typing.get_type_hints(made).get("return") if hasattr(made, "plain") and not isinstance(made, type) else None
        )
        assert not dataclasses.is_dataclass(kind) or hasattr(kind, "to_frame"), name
