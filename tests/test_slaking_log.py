import pytest

import limekit
from limekit.errors import RecordError
from limekit.records.examples import example_path
from limekit.records.sheets import write_blank_csv
from limekit.records.slaking_log import COLUMNS

HEADER = "time_in_water [min],mix_temperature [degC],note"


@pytest.fixture
def log(tmp_path):
    def write(*rows, header=HEADER):
        path = tmp_path / "my_slaking_log.csv"
        path.write_text("\n".join([header, *rows]), encoding="utf-8")
        return path

    return write


def test_the_invented_example_reads_to_the_end_of_slaking():
    path = example_path("slaking_log_example.csv")
    assert "invented" in path.read_text(encoding="utf-8").splitlines()[0]
    found = limekit.read_slaking_log(path)
    read = limekit.read_reactivity(found.log_times, found.log_temperatures)
    assert read.en_class == "medium-burnt"
    assert read.complete_time is not None
    assert "does not compare" not in read.words


def test_units_of_the_header_and_of_a_cell_count(log):
    path = log("0,68,", "150,104,", "4 min,140,", header="time_in_water [s],mix_temperature [degF],note")
    found = limekit.read_slaking_log(path)
    assert found.log_times.to("min").magnitude == pytest.approx([0, 2.5, 4])
    assert found.log_temperatures.to("degC").magnitude == pytest.approx([20, 40, 60])


def test_a_decimal_comma_is_understood_and_said(log):
    found = limekit.read_slaking_log(log("0;20;", "0,5;31,2;", header=HEADER.replace(",", ";")))
    assert found.log_temperatures.magnitude[1] == pytest.approx(31.2)
    assert found.remarks == ("Commas inside numbers were read as decimal commas.",)


def test_every_fault_is_named_at_once_by_row_and_column(log):
    path = log("0,20,", "1,140,", "1,40,", "two,50,", "3,,", "2.5,60,")
    with pytest.raises(RecordError) as caught:
        limekit.read_slaking_log(path)
    said = "\n".join(caught.value.faults)
    for place in (
        "row 3, column mix_temperature",
        "row 4, column time_in_water: not later than in row 3",
        "row 5, column time_in_water",
        "row 6, column mix_temperature: it is empty",
        "row 7, column time_in_water: not later than in row 6",
    ):
        assert place in said
    assert len(caught.value.faults) == 5


@pytest.mark.parametrize(
    ("rows", "said"), [(["0,20,"], "the only reading"), ([], "no rows"), (["# nothing yet"], "no rows")]
)
def test_too_few_readings_are_refused(log, rows, said):
    with pytest.raises(RecordError, match=said):
        limekit.read_slaking_log(log(*rows))


def test_a_blank_log_can_be_filled_in(tmp_path):
    path = write_blank_csv(tmp_path / "my_slaking_log.csv", COLUMNS)
    path.write_text(path.read_text(encoding="utf-8") + "0,20,\n1,35,\n", encoding="utf-8")
    assert limekit.read_slaking_log(path).log_times.to("min").magnitude.tolist() == [0, 1]
