"""A logger's file as loggers write them, what is set aside of it, and how it joins a log kept by hand."""

import numpy as np
import pandas as pd
import pytest

from limekit import InputError, RecordError, example_path, fact, read_burn_log, read_logger
from limekit.records.readings import doubted

PLACES = {"T1": "flue", "T2": "hearth"}
KELVIN = 273.15
STARTS = pd.Timestamp("2028-06-03 22:00:00")


def written(tmp_path, text, coding="utf-8"):
    path = tmp_path / "logger.txt"
    path.write_bytes(text.encode(coding))
    return path


def rows(form, count=180, step="60s"):
    """Write rows by a form of the stamp `at`, the number of the row, and two thermometers."""
    return [
        form.format(at=at, n=number, flue=200 + number, hearth=900 + 0.5 * number)
        for number, at in enumerate(pd.date_range(STARTS, periods=count, freq=step))
    ]


WAYS = {
    "stamps": ("time,T1 [degC],T2 [degC]", "{at:%Y-%m-%dT%H:%M:%S},{flue},{hearth}"),
    "stamps with a zone": ("time,T1 (°C),T2 (°C)", "{at:%Y-%m-%dT%H:%M:%S}.000+02:00,{flue},{hearth}"),
    "a preamble and quotes": (
        'Logger 7\n"kiln, north"\n"time","T1 °C","T2 °C"',
        '"{at:%Y-%m-%d %H:%M:%S}","{flue}","{hearth}"',
    ),
    "day first, decimal commas": ("Zeit;T1 [°C];T2 [°C];", "{at:%d.%m.%Y %H:%M:%S};{flue},00;{hearth:.2f};"),
    "month first": ("time\tT1\tT2", "{at:%m/%d/%Y %I:%M:%S %p}\t{flue}\t{hearth}"),
    "two columns and units under them": ("Date;Time;T1;T2\n;;°C;°C", "{at:%d/%m/%Y};{at:%H:%M:%S};{flue};{hearth}"),
    "spaces": ("time  T1  T2", "{at:%Y-%m-%d %H:%M:%S}   {flue} {hearth}"),
    "a clock alone": ("no,clock,T1,T2", "{n},{at:%H:%M},{flue},{hearth}"),
}


@pytest.mark.parametrize("way", WAYS)
def test_a_table_is_read_however_it_is_written(tmp_path, way):
    heading, form = WAYS[way]
    table = "\n".join([heading, *rows(form)])
    if "commas" in way:
        table = table.replace(".00;", ",00;").replace(".50;", ",50;")
    for ends in ("\n", "\r\n", "\r"):
        read = read_logger(written(tmp_path, f"{table}\n".replace("\n", ends)), PLACES)
        assert read.times == pytest.approx(60.0 * np.arange(180))
        assert read.clock == 22 * 3600.0
        assert read.temperatures["flue"] == pytest.approx(200 + KELVIN + np.arange(180))
        assert read.temperatures["hearth"] == pytest.approx(900 + KELVIN + 0.5 * np.arange(180))
    assert any("no unit" in line for line in read.remarks) == ("°" not in heading and "deg" not in heading)


@pytest.mark.parametrize(
    ("heading", "scale"),
    [("seconds", 1.0), ("t [s]", 1.0), ("Time (min)", 60.0), ("elapsed h", 3600.0), ("ms", 1e-3), ("n", 1.0)],
)
def test_time_counted_from_the_start_is_read_in_its_headings_unit(tmp_path, heading, scale):
    table = "\n".join([f"{heading},T1,T2", *rows("{n},{flue},{hearth}")])
    read = read_logger(written(tmp_path, f"{table}\n"), PLACES)
    assert read.times == pytest.approx(scale * np.arange(180))
    assert read.clock is None
    assert any("seconds" in line for line in read.remarks) == (heading == "n")


@pytest.mark.parametrize(
    ("unit", "told"), [("degC", 100.0), ("°F", 212.0), ("K", 373.15), ("deg C", 100.0), ("Celsius", 100.0)]
)
def test_a_thermometers_unit_stands_in_its_heading(tmp_path, unit, told):
    read = read_logger(written(tmp_path, f"s,T1 [{unit}]\n0,{told}\n1,{told}\n"), {"T1": "flue"})
    assert read.temperatures["flue"] == pytest.approx(373.15)


@pytest.mark.parametrize(
    ("cells", "read"),
    [
        (["85,5", "86", "1012,25"], [85.5, 86.0, 1012.25]),
        (["985", "1,012", "1,100"], [985.0, 1012.0, 1100.0]),
        (["1.012,5", "985,0", "990,5"], [1012.5, 985.0, 990.5]),
        (["1,012.5", "985.0", "990.5"], [1012.5, 985.0, 990.5]),
    ],
)
def test_commas_are_decimal_or_part_thousands_as_the_column_tells(tmp_path, cells, read):
    table = "\n".join(["s;T1", *(f"{number};{cell}" for number, cell in enumerate(cells))])
    assert read_logger(written(tmp_path, f"{table}\n"), {"T1": "flue"}).temperatures["flue"] - KELVIN == pytest.approx(
        read
    )


def test_a_data_frame_is_read_as_a_file_is(tmp_path):
    at = pd.date_range(STARTS, periods=50, freq="10s")
    table = pd.DataFrame({"time": at, "T1": np.arange(50) + 200.0, "T2": np.where(np.arange(50) % 9, 900.0, np.nan)})
    table.to_csv(tmp_path / "same.csv", index=False)
    one, other, third = (read_logger(of, PLACES) for of in (table, tmp_path / "same.csv", table.set_index("time")))
    assert one.clock == other.clock == third.clock == 22 * 3600.0
    for place in PLACES.values():
        assert np.array_equal(one.temperatures[place], other.temperatures[place], equal_nan=True)
        assert np.array_equal(one.temperatures[place], third.temperatures[place], equal_nan=True)


def test_a_last_line_that_is_still_being_written_is_left_for_the_next_time(tmp_path):
    table = "\n".join(["s,T1,T2", *rows("{n},{flue},{hearth}", 20)])
    assert len(read_logger(written(tmp_path, f"{table}\n20,85"), PLACES).times) == 20
    assert len(read_logger(written(tmp_path, f"{table}\n20,850,90"), PLACES).times) == 20


def test_a_clock_that_starts_over_is_counted_on(tmp_path):
    counted = [*range(0, 1000, 10), *range(0, 500, 10)]
    table = "\n".join(["seconds,T1", *(f"{one},300" for one in counted)])
    read = read_logger(written(tmp_path, f"{table}\n"), {"T1": "flue"})
    assert read.times == pytest.approx(10.0 * np.arange(150))
    assert "started over 1 times, first after 100 readings" in "\n".join(read.remarks)
    at = [*pd.date_range(STARTS, periods=90, freq="60s"), *pd.date_range("2000-01-01", periods=30, freq="60s")]
    read = read_logger(pd.DataFrame({"time": at, "T1": 300.0}), {"T1": "flue"})
    assert read.times == pytest.approx(60.0 * np.arange(120))
    assert read.clock == 22 * 3600.0


def test_a_gap_is_kept_and_said(tmp_path):
    at = [*pd.date_range(STARTS, periods=60, freq="60s"), *pd.date_range("2028-06-04 02:00", periods=60, freq="60s")]
    read = read_logger(pd.DataFrame({"time": at, "T1": 300.0}), {"T1": "flue"})
    assert read.times[-1] == pytest.approx(5 * 3600.0 - 60.0)
    assert "1 gaps in it, the longest of 181 min" in "\n".join(read.remarks)


def fire(count=720, step=10.0):
    """A thermometer in a fire: a slow rise with a little noise."""
    times = step * np.arange(count)
    return times, 400.0 + times / 60.0 + np.random.default_rng(4).normal(0.0, 3.0, count)


def test_a_thermometer_in_a_fire_is_believed():
    times, read = fire()
    assert doubted(times, read)[1] == []
    cold = np.full(720, 12.0)  # where the fire has not come yet
    assert doubted(times, cold)[1] == []
    assert np.array_equal(doubted(times, np.round(read, 0))[0], np.round(read, 0))
    each_quarter, steep = 900.0 * np.arange(40), 20.0 + 30.0 * np.arange(40)
    assert doubted(each_quarter, steep)[1] == []


@pytest.mark.parametrize(
    ("word", "spoil", "count"),
    [
        ("none", lambda read: np.where(np.arange(720) % 8 == 0, np.nan, read), 90),
        ("off the scale", lambda read: np.where(np.arange(720) >= 600, 1372.0, read), 120),
        ("off the scale", lambda read: np.where(np.arange(720) < 100, -200.0, read), 100),
        ("stuck", lambda read: np.where(np.arange(720) >= 360, 512.3, read), 360),
        ("jumping", lambda read: np.where(np.arange(720) == 300, read + 400.0, read), 1),
    ],
)
def test_what_no_fire_reads_is_set_aside_and_said(word, spoil, count):
    times, read = fire()
    kept, said = doubted(times, spoil(read))
    assert np.isnan(kept).sum() == count
    assert f"{count} {word}" in said[0]
    fine = np.isfinite(kept)
    assert kept[fine] == pytest.approx(read[fine])


def test_where_a_wire_touches_now_and_then_nothing_about_it_is_trusted():
    times, read = fire()
    loose = (np.arange(720) >= 200) & (np.arange(720) < 320)
    kept, said = doubted(times, np.where(loose & (np.arange(720) % 5 < 2), 20.0, read))
    assert np.isnan(kept[220:300]).all()
    assert np.isfinite(kept[:150]).all()
    assert np.isfinite(kept[370:]).all()
    assert "jumping" in said[0]


def test_the_end_of_the_scale_is_a_thermocouples():
    """IEC 60584-1: the table of type K ends at 1372 °C."""
    assert fact("logger_hottest") - KELVIN == pytest.approx(1372.0)


def shipped():
    return read_burn_log(example_path("burn_log_example.csv"))


def logger_of(log, lit="2028-06-03 05:30:00", before=1800.0, after=1800.0, step=20.0):
    """Let a logger read what a log says, by straight lines, from before it to after it."""
    clock = np.arange(-before, log.times[-1] + after, step)
    told = {}
    for name, place in PLACES.items():
        seen = np.isfinite(log.temperatures[place])
        noise = np.random.default_rng(7).normal(0.0, 2.0, len(clock))
        told[name] = np.interp(clock, log.times[seen], log.temperatures[place][seen]) - KELVIN + noise
    return pd.DataFrame({"time": pd.Timestamp(lit) + pd.to_timedelta(clock, unit="s"), **told})


def test_a_logger_joins_a_log_by_the_clock(tmp_path):
    log = shipped()
    joined = log.joined(read_logger(logger_of(log), PLACES))
    assert len(joined) > 2 * len(log)
    assert np.diff(joined.times).max() <= 1.5 * fact("logger_line_every")
    assert joined.times[-1] == log.times[-1]
    assert joined.fuel_fed.sum() == pytest.approx(log.fuel_fed.sum())
    assert np.interp(log.times, joined.times, np.cumsum(joined.fuel_fed)) == pytest.approx(np.cumsum(log.fuel_fed))
    for place in PLACES.values():
        seen = np.isfinite(log.temperatures[place])
        at = np.searchsorted(joined.times, log.times[seen])
        apart = joined.temperatures[place][at] - log.temperatures[place][seen]
        assert np.median(np.abs(apart)) < 8.0
        assert np.isfinite(joined.temperatures[place]).all()
    by_hand = np.searchsorted(joined.times, log.times)
    assert [joined.flame[line] for line in by_hand] == list(log.flame)
    assert joined.last("sinking") == log.last("sinking")
    for name in ("upper", "middle"):
        assert np.array_equal(joined.temperatures[name][by_hand], log.temperatures[name], equal_nan=True)
    said = "\n".join(joined.remarks)
    assert "0.5 h before lighting" in said
    assert "the last 0.5 h waits for a line of the log" in said


def test_a_clock_that_goes_ahead_and_a_count_that_has_no_clock(tmp_path):
    log = shipped()
    straight = log.joined(read_logger(logger_of(log), PLACES))
    ahead = log.joined(read_logger(logger_of(log, lit="2028-06-03 06:30:00"), PLACES), clock_ahead=3600.0)
    assert np.array_equal(ahead.temperatures["flue"], straight.temperatures["flue"])
    counted = logger_of(log, before=0.0)
    counted["time"] = (counted["time"] - counted["time"][0]).dt.total_seconds()
    counted = log.joined(read_logger(counted, PLACES))
    assert counted.temperatures["flue"][1:] == pytest.approx(straight.temperatures["flue"][1:], abs=6.0)
    assert "at lighting" in "\n".join(counted.remarks)


def test_a_logger_begun_the_evening_before_is_laid_beside_the_right_day():
    log = shipped()
    early = logger_of(log, before=20 * 3600.0, step=60.0)
    straight = log.joined(read_logger(logger_of(log, step=60.0), PLACES))
    assert log.joined(read_logger(early, PLACES)).temperatures["flue"][1:] == pytest.approx(
        straight.temperatures["flue"][1:], abs=6.0
    )


def test_a_logger_of_another_time_is_refused():
    log, logger = (
        shipped(),
        read_logger(pd.DataFrame({"seconds": [0.0, 1800.0, 3600.0], "T1": [20.0, 21.0, 22.0]}), {"T1": "flue"}),
    )
    with pytest.raises(InputError, match=r"readings from -2\.0 to -1\.0 h after lighting[^#]*within the log"):
        log.joined(logger, clock_ahead=7200.0)
    with pytest.raises(InputError, match="read_logger returns"):
        log.joined("logger.csv")


@pytest.mark.parametrize(
    ("text", "places", "words"),
    [
        ("s,T1\n0,5\n1,5\n", {"T9": "flue"}, 'no heading "T9"'),
        ("s,T1\n0,5\n1,5\n", {"T9": "flue"}, "s, T1"),
        ("T1,T2\n5,5\n5,5\n", {"T1": "flue", "T2": "hearth"}, "no column of times"),
        ("s,T1\n", {"T1": "flue"}, "no rows"),
        ("time,T1\n31.31.2028 10:00,5\n31.31.2028 10:01,5\n", {"T1": "flue"}, "is no stamp"),
    ],
)
def test_what_is_no_loggers_table_is_refused_with_what_is_wanted(tmp_path, text, places, words):
    with pytest.raises(RecordError) as caught:
        read_logger(written(tmp_path, text), places)
    assert words in str(caught.value)


@pytest.mark.parametrize("places", [{}, None, "T1", {"T1": "chimney"}, {"T1": "flue", "T2": "flue"}, {1: "flue"}])
def test_places_are_those_of_the_log(tmp_path, places):
    with pytest.raises(InputError):
        read_logger(written(tmp_path, "s,T1,T2\n0,5,5\n"), places)
