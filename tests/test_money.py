import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import limekit
from limekit import break_even, cost_line, cost_sheet, kiln_line, work_line
from limekit.errors import InputError
from limekit.estimate import Span
from limekit.ledger.bought import oxide_in
from limekit.ledger.money import HOURS, YIELD
from limekit.ledger.ranges import carried, one_at_a_time, span

money = st.floats(0, 1e5)
LIME, PUTTY = 532.0, 1.112


def sheet_of(*lines, **also):
    return cost_sheet.plain(lines, LIME, PUTTY, **also)


def test_a_sheet_worked_by_hand():
    # 120 wood + 60 sand + 36 h at 15 + 800 over 20 burns = 760; 532 kg and 1112 L of it
    lines = (cost_line("wood", 120), cost_line("sand", 60), work_line("36 h", wage=15), kiln_line(800, burns=20))
    sheet = cost_sheet(lines, quicklime="532 kg", putty_volume="1112 L", currency="EUR")
    assert [line.amount.middle for line in sheet.lines] == [120, 60, 540, 40]
    assert sheet.total == Span(760, 760, 760)
    assert sheet.per_kilogram.middle == pytest.approx(760 / 532)
    assert sheet.per_litre.middle == pytest.approx(760 / 1112)
    assert sheet.work.middle.to("h").magnitude == pytest.approx(36)
    assert sheet.bars == ()
    assert str(sheet) == "760 (760 to 760) EUR a burn, 0.683 (0.683 to 0.683) EUR a litre of putty"


def test_hours_count_even_when_nobody_is_paid():
    sheet = sheet_of(work_line.plain(36 * 3600), cost_line.plain("wood", 100.0))
    assert sheet.total.middle == 100
    assert sheet.work.middle == 36 * 3600


@given(st.lists(money, min_size=1, max_size=6), st.randoms(use_true_random=False))
def test_lines_add_up_in_any_order(amounts, shuffle):
    lines = [cost_line.plain(f"line {n}", amount) for n, amount in enumerate(amounts)]
    total = sheet_of(*lines).total.middle
    shuffle.shuffle(lines)
    assert sheet_of(*lines).total.middle == total == pytest.approx(sum(amounts), rel=1e-12)


def test_a_range_on_a_sum_is_the_root_sum_of_squares():
    lines = (cost_line.plain("wood", 100.0, 70.0, 140.0), cost_line.plain("sand", 50.0, 10.0, 80.0))
    total = sheet_of(*lines).total
    assert (total.low, total.high) == pytest.approx((150 - 50, 150 + 50))  # 30, 40 down; 40, 30 up


def test_the_range_of_a_litre_agrees_with_drawing_every_input_at_random():
    # each input triangular-ish normal with its half range as two standard deviations, so the 95 % ends are compared
    lines = (cost_line.plain("wood", 120.0, 96.0, 144.0), kiln_line.plain(800.0, 20.0, 17.0, 24.0))
    made = sheet_of(*lines, yield_spread=0.1).per_litre
    rng = np.random.default_rng(7)
    wood = rng.normal(120, 12, 40_000)
    burns = rng.normal(20, 1.75, 40_000)
    litres = 1112 * rng.normal(1, 0.05, 40_000)
    low, high = np.quantile((wood + 800 / burns) / litres, [0.025, 0.975])
    assert (made.low, made.high) == pytest.approx((low, high), rel=0.03)


def test_the_bar_that_matters_most_comes_first():
    lines = (
        cost_line.plain("wood", 100.0, 90.0, 115.0),
        kiln_line.plain(800.0, 20.0, 4.0, 40.0),
        cost_line.plain("water", 5.0),
    )
    bars = sheet_of(*lines, yield_spread=0.05).bars
    assert [bar.name for bar in bars] == ["kiln materials", "wood", "lime and putty out of the kiln"]
    kiln = bars[0]
    assert (kiln.at_low, kiln.at_high) == pytest.approx((125 / 1112, 305 / 1112))
    assert [bar.swing for bar in bars] == sorted((bar.swing for bar in bars), reverse=True)


def test_bars_are_the_models_own_answers_with_the_rest_in_the_middle():
    inputs = {"a": Span(2.0, 1.0, 4.0), "b": Span(3.0, 3.0, 3.0), "c": Span(5.0, 4.0, 5.0)}
    bars = one_at_a_time(lambda v: v["a"] ** 2 * v["b"] - v["c"], inputs)
    assert [(bar.name, bar.at_low, bar.at_high) for bar in bars] == [("a", -2.0, 43.0), ("c", 8.0, 7.0)]
    whole = carried(lambda v: v["a"] ** 2 * v["b"] - v["c"], inputs)
    assert (whole.middle, whole.low, whole.high) == (7.0, -2.0, 7 + math.hypot(36, 1))


@given(st.floats(1, 1e4), st.floats(1, 500), st.floats(0, 1e3), st.floats(0.05, 5))
def test_at_the_break_even_number_of_burns_own_lime_costs_what_bought_lime_does(outlay, burns, running, price):
    beside = break_even.plain(sheet_of(cost_line.plain("wood", running), kiln_line.plain(outlay, burns)), price)
    if math.isinf(beside.burns.middle):
        assert beside.bought <= running
        return
    again = sheet_of(cost_line.plain("wood", running), kiln_line.plain(outlay, beside.burns.middle))
    assert again.total.middle == pytest.approx(beside.bought, rel=1e-9)


@given(st.floats(1, 1e4), st.floats(1, 1e3), st.floats(3600, 1e6), st.sampled_from(["quicklime", "hydrate", "putty"]))
def test_the_break_even_price_and_hour_leave_nothing_over(outlay, running, seconds, bought_as):
    lines = (cost_line.plain("wood", running), kiln_line.plain(outlay, 20.0), work_line.plain(seconds, 10.0))
    sheet = sheet_of(*lines)
    fair = break_even.plain(sheet, 1.0, 25.0, bought_as).price
    beside = break_even.plain(sheet, fair, 25.0, bought_as)
    assert beside.saved.middle == pytest.approx(0.0, abs=1e-6 * sheet.total.middle)
    assert beside.hourly.middle == pytest.approx(10.0, rel=1e-6)


@pytest.mark.parametrize(("price", "per"), [(0.42, "1 kg"), (10.5, "25 kg"), (420, "1 tonne"), (420, "1000 kg")])
def test_a_price_is_the_same_by_kilogram_bag_or_tonne(price, per):
    sheet = cost_sheet((cost_line("wood", 120),), quicklime="532 kg", putty_volume="1112 L")
    assert break_even(sheet, price=price, per=per).bought == pytest.approx(0.42 * 532 / 0.95)


def test_a_ton_is_refused_beside_a_price():
    sheet = cost_sheet((cost_line("wood", 120),), quicklime="532 kg", putty_volume="1112 L")
    with pytest.raises(InputError, match="short_ton"):
        break_even(sheet, price=420, per="1 ton")


def test_hydrate_holds_less_lime_than_quicklime_and_putty_less_still():
    # 0.95 CaO takes up 0.3052 kg water a kilogram of quicklime: 0.95 / 1.3052; a 1.35 kg/L putty is 46.8 % of that
    assert oxide_in("quicklime") == 0.95
    assert oxide_in("hydrate") == pytest.approx(0.7279, abs=1e-4)
    assert oxide_in("putty") == pytest.approx(0.7279 * 0.4683, abs=1e-4)


def test_cheap_lime_never_pays_a_kiln_back():
    beside = break_even.plain(sheet_of(cost_line.plain("wood", 300.0), kiln_line.plain(800.0, 20.0)), 0.1)
    assert beside.burns == Span(math.inf, math.inf, math.inf)
    assert beside.saved.middle < 0
    assert beside.hourly is None


def test_ranges_widen_the_burns_that_pay_back_and_may_leave_them_open():
    lines = (cost_line.plain("wood", 200.0, 150.0, 290.0), kiln_line.plain(800.0, 20.0))
    burns = break_even.plain(sheet_of(*lines), 0.5).burns
    assert burns.low == pytest.approx(800 / 130)
    assert burns.middle == pytest.approx(800 / 80)
    assert burns.high == math.inf


def test_the_sheet_may_go_back_in_as_it_came_out():
    lines = (cost_line("wood", 120), work_line("40 h", work_low="30 h", work_high="60 h"), kiln_line(800, 20))
    sheet = cost_sheet(lines, quicklime="532 kg", putty_volume="1112 L")
    plain = sheet_of(
        cost_line.plain("wood", 120.0),
        work_line.plain(144_000.0, 0.0, 108_000.0, 216_000.0),
        kiln_line.plain(800.0, 20.0),
    )
    beside, again = break_even(sheet, 14, "25 kg", "hydrate"), break_even.plain(plain, 14.0, 25.0, "hydrate")
    assert beside.burns.middle == pytest.approx(again.burns.middle)
    assert (beside.hourly.low, beside.hourly.high) == pytest.approx((again.hourly.low, again.hourly.high))
    assert beside.hourly.low < beside.hourly.middle < beside.hourly.high


@pytest.mark.parametrize("given_amount", ["120 EUR", "12,50", "lots", -1, math.nan, math.inf, True, None, [1, 2]])
def test_money_that_is_no_plain_number_is_refused(given_amount):
    with pytest.raises(InputError, match="amount"):
        cost_line("wood", given_amount)


def test_any_text_is_a_currency_and_a_number_may_come_as_text():
    sheet = cost_sheet((cost_line("wood", "120.50"),), quicklime="532 kg", putty_volume="1112 L", currency="Kč")
    assert "Kč a burn" in str(sheet)
    assert sheet.total.middle == 120.5


def test_two_lines_of_one_name_are_refused():
    lines = (cost_line("wood", 1), cost_line("wood", 2))
    with pytest.raises(InputError, match='"wood" twice'):
        cost_sheet(lines, quicklime="532 kg", putty_volume="1112 L")


@pytest.mark.parametrize("name", [YIELD, HOURS])
def test_a_name_the_sheet_uses_itself_is_refused_and_not_left_out(name):
    with pytest.raises(InputError, match=f'"{name}" twice'):
        cost_sheet((cost_line(name, 100),), quicklime="532 kg", putty_volume="1112 L")


def test_no_lime_is_refused():
    with pytest.raises(InputError, match="no lime"):
        cost_sheet((cost_line("wood", 1),), quicklime="0 kg", putty_volume="0 L")


def test_a_range_that_misses_its_figure_is_refused():
    with pytest.raises(InputError, match="range of wood"):
        cost_line("wood", 100, 110, 120)
    with pytest.raises(InputError, match="range of x"):
        span("x", 1.0, math.nan, None)


@settings(max_examples=20)
@given(st.floats(1, 100), st.floats(1, 4))
def test_more_burns_never_make_a_burn_dearer(burns, more):
    few, many = (kiln_line.plain(800.0, count).amount.middle for count in (burns, burns * more))
    assert many <= few


def test_names_are_public():
    assert {"cost_line", "work_line", "kiln_line", "cost_sheet", "break_even"} <= set(limekit.__all__)
