"""What a scientist's own script finds open: tables in memory, the registry, pickles, packages, the version."""

import pickle
import subprocess
import sys
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


def test_a_forecast_takes_several_stones_and_several_fires_at_once():
    found = limekit.assess_trial(limekit.read_trial(TRIAL))
    both = found.forecast(["60 mm", "80 mm"], "1000 degC")
    for place, size in enumerate(("60 mm", "80 mm")):
        one = found.forecast(size, "1000 degC")
        assert (both.median[place], both.low[place], both.high[place]) == (one.median, one.low, one.high)
    crossed = limekit.burning_time_range(pd.Series(["60 mm", "80 mm"]), ["1000 degC", "1050 degC"])
    assert crossed.median.units == both.median.units
    assert str(crossed).count(",") == 3


def test_the_example_script_reproduces_a_trial_burn_from_a_table():
    done = subprocess.run([sys.executable, str(SCRIPT)], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    hours = limekit.assess_trial(limekit.read_trial(TRIAL)).forecast("80 mm", "1000 degC")
    assert done.stdout.splitlines()[-1] == f"80 mm at 1000 degC: {hours}"
