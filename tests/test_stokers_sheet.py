import re

import pytest

from limekit.kiln.schedule import StokingSchedule, Turn
from limekit.pictures.sheets import HEADINGS, stokers_sheet

HOUR = 3600.0
SCHEDULE = StokingSchedule(
    (
        Turn(0.0, 4 * HOUR, 40.0, 700.0, 300.0, 0.0),
        Turn(4 * HOUR, 6 * HOUR, 30.0, 1300.0, 900.0, 0.5),
    ),
    70.0,
    6 * HOUR,
)


@pytest.fixture
def page():
    return stokers_sheet(SCHEDULE, "oak & <ash>", "Five people <here>.")


def test_each_turn_has_its_hours_fuel_and_sum(page):
    rows = [re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row) for row in re.findall(r"<tr>(.*?)</tr>", page)]
    assert rows[0] == list(HEADINGS)
    assert rows[1][:5] == ["1", "0 to 4", "10 kg", "40 kg", "40 kg"]
    assert rows[2][:5] == ["2", "4 to 6", "15 kg", "30 kg", "70 kg"]
    assert all(len(row) == len(HEADINGS) for row in rows)
    assert rows[1][-3:] == ["", "", ""]


def test_glow_is_named_where_there_is_any(page):
    assert "430 °C<" in page
    assert "1030 °C, bright cherry" in page


def test_the_page_fetches_nothing_and_words_stay_words(page):
    assert "Oak &amp; &lt;ash&gt;" in page
    assert not re.search(r"https?:|<script|<link|src=", page)
    assert "Five people &lt;here&gt;." in page
    assert "Carbon monoxide" in page
