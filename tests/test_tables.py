from importlib import resources
from pathlib import Path

import pytest

from limekit import tables

DATA = Path(str(resources.files("limekit").joinpath("data")))
TABLES = [str(path.relative_to(DATA).with_suffix("")) for path in sorted(DATA.rglob("*.csv"))]
WITH_HEADER = [name for name in TABLES if not tables.lines(name)[0].startswith("#")]


@pytest.mark.parametrize("name", WITH_HEADER)
def test_every_row_has_a_cell_for_each_column_and_no_comma_cuts_one_in_two(name):
    rows = tables.rows(name)
    assert rows
    for number, row in enumerate(rows, start=2):
        assert None not in row, f"row {number} of {name}: {row[None]} stands under no column"
        assert None not in row.values(), f"row {number} of {name} is short"


def test_a_row_is_found_by_its_key():
    assert tables.by("vessel", "vessels")["brick pit"]["use"] == "yes"
    assert list(tables.by("place", "places")) == [row["place"] for row in tables.rows("places")]
