"""How a burn log is weighed: where thermometers hang, and what a reading says of a kiln that may be."""

from types import SimpleNamespace

import numpy as np
import pytest

from limekit.kiln.followers import told_by_place
from limekit.kiln.refit import _reading_logs

PLACES = ("hearth", "lower", "middle", "upper", "flue")
HOUR = 3600.0


def burn(levels, bottom=1300.0, top=700.0):
    """Two members' gas that falls evenly over the charge, in one moment; the second member 100 K cooler."""
    middles = (np.arange(levels) + 0.5) / levels
    gas = np.append(1500.0, bottom + (top - bottom) * middles)[:, None] - np.array([0.0, 100.0])
    told = SimpleNamespace(gas_temperature=gas[None], flue_temperature=np.array([[650.0, 550.0]]))
    return SimpleNamespace(moments=told)


@pytest.mark.parametrize("levels", [3, 4, 5, 12])
def test_thermometers_hang_at_a_sixth_a_half_and_five_sixths_of_the_charge(levels):
    told = told_by_place(burn(levels), PLACES)
    assert told["hearth"].tolist() == [[1500.0, 1400.0]]
    assert told["flue"].tolist() == [[650.0, 550.0]]
    assert told["lower"][0] == pytest.approx([1200.0, 1100.0])
    assert told["middle"][0] == pytest.approx([1000.0, 900.0])
    assert told["upper"][0] == pytest.approx([800.0, 700.0])


def test_in_few_levels_every_thermometer_still_hangs_in_the_charge():
    one = told_by_place(burn(1), PLACES)
    assert [one[place][0, 0] for place in ("lower", "middle", "upper")] == pytest.approx([1000.0] * 3)
    two = told_by_place(burn(2), PLACES)
    assert [two[place][0, 0] for place in ("lower", "middle", "upper")] == pytest.approx([1150.0, 1000.0, 850.0])
    assert set(told_by_place(burn(3), ("hearth",))) == {"hearth"}


def readings(read, told=(1000.0, 1100.0), hours=None):
    times = np.arange(len(read)) * HOUR if hours is None else np.array(hours) * HOUR
    return _reading_logs(np.array(read, dtype=float), np.tile(told, (len(read), 1)), 20.0, times)


def test_a_reading_speaks_for_the_kiln_that_is_so_hot():
    (right, wrong), _ = readings([1000.0])
    assert right == 0.0
    assert wrong < -5.0
    (one, other), _ = readings([1050.0])
    assert one == pytest.approx(other)


def test_a_gap_says_nothing():
    assert readings([np.nan, np.nan])[0].tolist() == [0.0, 0.0]
    assert np.all(readings([np.nan, np.nan])[1] == -np.inf)
    assert readings([1000.0, np.nan], hours=[0, 1])[0] == pytest.approx(readings([1000.0], hours=[0])[0])


def test_many_readings_in_one_moment_are_one_error_seen_many_times():
    once, often = readings([1020.0])[0], readings([1020.0] * 10, hours=[1.0] * 10)[0]
    assert often == pytest.approx(once)
    assert readings([1020.0] * 10, hours=np.arange(10) * 24.0)[0] == pytest.approx(10 * once)


def test_a_thermometer_that_fits_is_believed_and_one_that_fits_no_kiln_is_better_held_for_a_liar():
    fits, lies = readings([1000.0] * 4, hours=np.arange(4) * 24.0)
    assert fits.max() > lies.max() + 3.0
    fits, lies = readings([400.0] * 4, hours=np.arange(4) * 24.0)
    assert lies.min() > fits.max() + 3.0


def test_a_thermometer_may_have_told_the_truth_before_it_lied_and_is_not_blamed_for_a_few_readings():
    fits, lies = readings([1000.0] * 8 + [400.0] * 4, hours=np.arange(12) * 24.0)
    assert lies[0] > lies[1] + 3.0
    assert lies[0] > fits.max() + 3.0
    assert np.all(readings([400.0] * 3, hours=np.arange(3) * 24.0)[1] == -np.inf)
