import pytest

from limekit import fact
from limekit.errors import InputError
from limekit.stone.history import FireHistory


def test_a_rise_is_a_straight_line_and_then_holds():
    fire = FireHistory.ramp("900 degC", "100 min", co2_fraction=0.2, start_temperature="100 degC")
    heats = [fire.at(60.0 * minutes)[0] - 273.15 for minutes in (0, 25, 50, 100, 1000)]
    assert heats == pytest.approx([100.0, 300.0, 500.0, 900.0, 900.0])
    assert fire.at(1234.0)[1] == pytest.approx(0.2)


def test_a_rise_of_no_time_is_a_steady_fire_and_one_of_a_second_is_not():
    assert FireHistory.ramp("900 degC", "0 s") == FireHistory.steady("900 degC")
    assert FireHistory.ramp("900 degC", "1 s").at(0.0)[0] == pytest.approx(fact("start_temperature"))


def test_a_table_may_note_the_gas_and_both_change_evenly_between_its_rows():
    fire = FireHistory.table([("0 h", "20 degC", 0.05), ("1 h", "820 degC", 0.25), ("3 h", "920 degC", 0.15)])
    assert fire.at(1800.0) == pytest.approx((693.15, 0.15))
    assert fire.at(2 * 3600.0) == pytest.approx((1143.15, 0.20))
    assert fire.at(-60.0) == pytest.approx((293.15, 0.05))
    assert fire.at(86400.0) == pytest.approx((1193.15, 0.15))


def test_gas_not_noted_is_that_of_a_usual_kiln():
    fire = FireHistory.table([("0 h", "20 degC"), ("1 h", "820 degC", 0.1)])
    assert fire.at(0.0)[1] == fact("co2_fraction")
    assert fire.at(3600.0)[1] == pytest.approx(0.1)
    assert FireHistory.steady("900 degC").at(0.0)[1] == fact("co2_fraction")


@pytest.mark.parametrize("row", [("0 h",), ("0 h", "20 degC", 0.2, "calm")])
def test_a_row_too_short_or_too_long_is_refused(row):
    with pytest.raises(InputError, match=f"a row of {len(row)}"):
        FireHistory.table([row])


@pytest.mark.parametrize(
    "moments", [[], ["1 min"], ["0 min", "30 min", "30 min"], ["0 min", "30 min", "20 min"]], ids=str
)
def test_moments_that_do_not_rise_from_zero_are_refused(moments):
    with pytest.raises(InputError, match="start at zero and rise"):
        FireHistory.table([(moment, "900 degC") for moment in moments])
