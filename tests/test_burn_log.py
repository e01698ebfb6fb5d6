"""A burn's log as people write it: clocks, gaps, faults told all at once, and what no log is."""

import numpy as np
import pytest

from limekit import read_burn_log
from limekit.errors import RecordError
from limekit.records.burn_log import COLUMNS
from limekit.records.examples import example_path
from limekit.records.sheets import write_blank_csv

HEADER = "clock,fuel_fed [kg],hearth_temperature [degC],upper_temperature [degC],sinking [mm],test_piece,flame,note"


def written(tmp_path, *lines, header=HEADER):
    path = tmp_path / "log.csv"
    path.write_text("\n".join([header, *lines]), encoding="utf-8")
    return path


def faults(tmp_path, *lines, header=HEADER):
    with pytest.raises(RecordError) as caught:
        read_burn_log(written(tmp_path, *lines, header=header))
    return caught.value.faults


def test_the_shipped_example_has_noise_gaps_and_all_places():
    log = read_burn_log(example_path("burn_log_example.csv"))
    assert len(log) > 30
    assert set(log.temperatures) == {"hearth", "lower", "middle", "upper", "flue"}
    assert np.isnan(log.temperatures["upper"]).any()
    assert np.diff(log.times).max() >= 2.5 * 3600
    assert log.times[-1] > 20 * 3600
    assert log.last("test_piece") == "partly"
    assert log.last("flame") == "clear"
    assert example_path("burn_log_example.csv").read_text(encoding="utf-8").startswith("# invented example")


def test_clock_runs_over_midnight_and_fuel_becomes_a_pace(tmp_path):
    log = read_burn_log(
        written(tmp_path, "22:00,4,20,,,,,lit", "23:30,6,900,500,,,,", "00:30,,950,600,20,,,", "01:00,5,,,,,,")
    )
    assert log.times.tolist() == [0.0, 5400.0, 9000.0, 10800.0]
    times, rates = log.stoking()
    assert times == (0.0, 5400.0, 9000.0)
    assert rates == pytest.approx((10 / 5400, 0.0, 5 / 1800))
    assert log.temperatures["hearth"][1] == pytest.approx(1173.15)
    assert log.sinking[2] == pytest.approx(0.02)
    assert log.notes[0] == "lit"


def test_a_place_never_read_is_left_out_and_a_gap_is_no_number(tmp_path):
    log = read_burn_log(written(tmp_path, "10:00,4,20,,,,,", "11:00,6,,,,,,", "12:00,6,800,,,,,"))
    assert set(log.temperatures) == {"hearth"}
    assert np.isnan(log.temperatures["hearth"][1])
    assert log.last("sinking") is None
    assert log.last("flame") is None


def test_the_first_lines_are_the_log_as_it_stood(tmp_path):
    log = read_burn_log(written(tmp_path, "10:00,4,20,,,,smoky,", "11:00,6,700,,,,,", "12:00,6,800,,30,through,clear,"))
    early = log.first(2)
    assert len(early) == len(early.flame) == len(early.temperatures["hearth"]) == 2
    assert early.last("flame") == "smoky"
    assert early.last("sinking") is None
    assert log.last("test_piece") == "through"


def test_semicolons_and_decimal_commas_are_understood(tmp_path):
    header = HEADER.replace(",", ";")
    log = read_burn_log(written(tmp_path, "10.00;4,5;20;;;;;", "10h30;6,5;700;;;;;", header=header))
    assert log.fuel_fed.tolist() == [4.5, 6.5]
    assert log.remarks


def test_every_fault_is_named_at_once(tmp_path):
    told = faults(
        tmp_path,
        "10:00,4,20,,,,,",
        "noon,5,9000,,,,,",
        "10:00,6,700,,,half,,",
        "09:50,six,800,,,,,",
        ",5,800,,,,,",
    )
    text = "\n".join(told)
    for words in (
        'row 3, column clock: got "noon"',
        "row 3, column hearth_temperature",
        "row 4, column clock: 10:00 is the same",
        'row 4, column test_piece: got "half"',
        "row 5, column clock: 09:50 is 23.8 h after",
        "row 5, column fuel_fed",
        "row 6, column clock: it is empty",
    ):
        assert words in text, words


@pytest.mark.parametrize(
    ("lines", "header", "words"),
    [
        (["10:00,4,20,,,,,"], HEADER, "at least are wanted"),
        (["10:00,,20,,,,,", "11:00,,700,,,,,"], HEADER, "no fuel in any row"),
        (["10:00,4", "11:00,5"], "time,fuel_fed [kg]", "column clock: it is missing"),
        (["10:00,4,5", "11:00,5,5"], "clock,fuel_fed [kg],flue_temprature [degC]", "no such column"),
        (["10:00,4", "11:00,5"], "clock,fuel_fed", "it names no unit"),
        (["10:00,4", "11:00,-5"], "clock,fuel_fed [kg]", "row 3, column fuel_fed"),
        (["24:30,4", "11:61,5"], "clock,fuel_fed [kg]", 'got "24:30"'),
        ([], "clock,fuel_fed [kg]", "no rows"),
    ],
)
def test_what_is_no_log_is_refused_with_what_is_wanted(tmp_path, lines, header, words):
    assert words in "\n".join(faults(tmp_path, *lines, header=header))


@pytest.mark.parametrize(
    "hostile", [b"", b"\x00\x01", b"PK\x03\x04zip", b"clock\n" + b"10:00\n" * 3000, b'clock,note\n"10:00,open']
)
def test_hostile_files_are_refused_in_words(tmp_path, hostile):
    path = tmp_path / "log.csv"
    path.write_bytes(hostile)
    with pytest.raises(RecordError):
        read_burn_log(path)


def test_a_blank_log_can_be_filled_in_and_read_back(tmp_path):
    path = write_blank_csv(tmp_path / "blank.csv", COLUMNS)
    blanks = "," * (len(COLUMNS) - 2)
    with path.open("a", encoding="utf-8") as file:
        file.write(f"06:00,5{blanks}\n07:00,6{blanks}\n")
    assert len(read_burn_log(path)) == 2
