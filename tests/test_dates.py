import datetime

import pytest

from limekit.dates import read_date, read_time, shifted
from limekit.errors import InputError

LEAP = datetime.date(2028, 2, 29)


@pytest.mark.parametrize("given", [LEAP, "2028-02-29", datetime.datetime(2028, 2, 29, 23, 59)])
def test_a_day_may_come_as_date_clock_time_or_text(given):
    assert read_date(given, "slaked_on") == LEAP


@pytest.mark.parametrize("given", ["2027-02-29", "29.2.2028", "", None, 20280229])
def test_a_day_that_is_none_is_refused_by_its_name(given):
    with pytest.raises(InputError, match="slaked_on"):
        read_date(given, "slaked_on")


def test_a_clock_time_is_of_the_place():
    assert read_time(" 2028-03-04 09:00 ", "lit") == datetime.datetime(2028, 3, 4, 9)
    for given in ("2028-03-04 25:00", "2028-03-04 09:00+01:00", LEAP, None):
        with pytest.raises(InputError, match="lit"):
            read_time(given, "lit")


def test_dates_move_by_whole_days_and_clock_times_by_seconds():
    assert shifted(LEAP, 86400.0) == datetime.date(2028, 3, 1)
    assert shifted(datetime.datetime(2028, 2, 29, 12), -3600.0) == datetime.datetime(2028, 2, 29, 11)
    with pytest.raises(InputError, match="end of the calendar"):
        shifted(LEAP, 1e12)
