"""A kiln that learns from its own burns: what is kept, what is weighed, and what becomes of the plan."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limekit import InputError, Plan, Record, RecordError, fact
from limekit.estimate import shown
from limekit.kiln.learning import learn
from limekit.kiln.real_firings import known, plain_line

BETWEEN_KILNS, BETWEEN_BURNS = 1.8, 1.4


def width(span):
    return span.high / span.low


@pytest.fixture
def record(tmp_path):
    return Record.load(tmp_path / "my_kiln.toml").keep("kiln", stone="800 kg")


def burnt(record, hours, count=1, **told):
    for day in range(1, count + 1):
        record.keep_burn(date=f"2028-05-{day:02}", firing_time=f"{hours} h", **told)
    return Plan.of(record)


def test_no_burn_leaves_the_spread_between_kilns():
    assert learn([], BETWEEN_KILNS, BETWEEN_BURNS) == (1.0, BETWEEN_KILNS)


def test_endlessly_many_burns_leave_the_kiln_s_own_middle_and_the_spread_of_its_burns():
    learnt = learn([1.5] * 10_000, BETWEEN_KILNS, BETWEEN_BURNS)
    assert learnt.factor == pytest.approx(1.5, rel=1e-3)
    assert learnt.spread == pytest.approx(BETWEEN_BURNS, rel=1e-3)


def test_one_burn_is_weighed_by_its_share_of_the_variance():
    """The normal law with known variances: the mean after one reading is τ²/(τ² + β²) of it."""
    whole, own = math.log(BETWEEN_KILNS) ** 2, math.log(BETWEEN_BURNS) ** 2
    learnt = learn([2.0], BETWEEN_KILNS, BETWEEN_BURNS)
    assert math.log(learnt.factor) == pytest.approx(math.log(2.0) * (whole - own) / whole)


@given(st.lists(st.floats(0.3, 3.0), min_size=1, max_size=8))
def test_the_factor_lies_between_the_model_and_the_burns_and_every_burn_narrows(ratios):
    learnt, middle = learn(ratios, BETWEEN_KILNS, BETWEEN_BURNS), math.exp(np.mean(np.log(ratios)))
    assert min(1.0, middle) - 1e-9 <= learnt.factor <= max(1.0, middle) + 1e-9
    assert learn(ratios + ratios[:1], BETWEEN_KILNS, BETWEEN_BURNS).spread < learnt.spread < BETWEEN_KILNS


def test_over_drawn_kilns_the_stated_range_holds_nine_in_ten():
    """Kilns and burns drawn by the law itself: the 90 % range of the third burn holds 90 %."""
    dice, inside = np.random.default_rng(7), 0
    own = math.log(BETWEEN_BURNS)
    between = math.sqrt(math.log(BETWEEN_KILNS) ** 2 - own**2)
    for _ in range(2000):
        kiln = dice.normal(0.0, between)
        first, second, third = np.exp(kiln + dice.normal(0.0, own, 3))
        factor, spread = learn([first, second], BETWEEN_KILNS, BETWEEN_BURNS)
        inside += abs(math.log(third / factor)) < 1.6449 * math.log(spread)
    assert 0.88 < inside / 2000 < 0.92


def test_the_spread_of_one_kiln_s_burns_is_that_of_kilns_fired_more_than_once():
    line = plain_line(known("hours"), "hours")
    kilns = {}
    for one in known("hours"):
        kilns.setdefault(one.kiln, []).append(math.log(one.hours.middle / line.at(one.stone.middle).middle))
    twice = [np.array(logs) for logs in kilns.values() if len(logs) > 1]
    freedom = sum(len(logs) - 1 for logs in twice)
    spread = math.exp(math.sqrt(sum(((logs - logs.mean()) ** 2).sum() for logs in twice) / freedom))
    assert spread == pytest.approx(fact("hours_between_burns"), rel=0.1)


def test_one_burn_narrows_the_hours_and_three_more_so_and_they_draw_the_middle(record):
    before = Plan.of(record)
    longer = 1.4 * before.plain.firing.finish / 3600
    one = burnt(record, longer)
    three = burnt(record, longer, count=2)
    assert width(before.forecast.hours) > width(one.forecast.hours) > width(three.forecast.hours)
    assert (
        before.forecast.hours.middle
        < one.forecast.hours.middle
        < three.forecast.hours.middle
        < 1.4 * before.forecast.hours.middle
    )
    assert three.plain.firing.finish == pytest.approx(before.plain.firing.finish)


def test_turns_people_calendar_and_sheet_follow_what_was_learnt(record):
    plan = burnt(record, 45, count=4, fuel_mass="900 kg")
    hours, fuel = plan.plain.forecast.hours.middle, plan.plain.forecast.fuel.middle
    turns = plan.plain.schedule.turns
    assert turns[-1].end == pytest.approx(hours, rel=1e-3)
    assert sum(turn.fuel for turn in turns) == pytest.approx(fuel, rel=1e-3)
    assert len(turns) == plan.people.turns
    assert plan.plain.own_steps["burn"] == plan.plain.forecast.hours
    sheet = plan.sheet().html
    assert plan.figures["hours"].words in sheet
    assert f"stack {plan.plain.forecast.fuel.high:.0f} kg" in sheet
    assert f"fire of up to {shown(plan.plain.forecast.hours.high / 3600, 2)} h" in sheet
    untold = plan.plain.but(own_burns=())
    assert plan.plain.ledger.biogenic / untold.ledger.biogenic == pytest.approx(plan.plain.learnt_fuel.factor)


def test_a_move_of_a_slider_leaves_what_was_learnt(record):
    plan = burnt(record, 45, count=2).plain
    assert plan.but(largest_stone=0.1).learnt_hours == plan.learnt_hours


def test_a_burn_that_went_wrong_is_kept_and_said_and_does_not_count(record):
    before = Plan.of(record).forecast.hours
    record.keep_burn(date="2028-05-01", firing_time="6 h", went_wrong="<b>rain</b> put the fire out")
    plan = Plan.of(record)
    assert plan.forecast.hours == before
    assert any("rain" in remark for remark in plan.remarks)
    assert "<b>rain" not in plan.sheet().html


def test_burns_are_read_back_as_they_were_kept_with_what_stood_there(record, tmp_path):
    path = tmp_path / "my_kiln.toml"
    path.write_text('# mine\n[kiln]\nstone = "700 kg"  # weighed\n')
    record = Record.load(path)
    record.keep_burn(date="2028-05-01", firing_time="27 h", fuel_mass="680 kg", excess_air=0.9, note="windy").save()
    again = Record.load(path)
    assert again.burns == record.burns
    assert (again.burns[0].firing_time, again.burns[0].excess_air) == (27 * 3600, 0.9)
    assert path.read_text().startswith('# mine\n[kiln]\nstone = "700 kg"  # weighed\n')
    again.keep_burn(date="2028-06-01", firing_time="25 h").save()
    assert [burn.date for burn in Record.load(path).burns] == ["2028-05-01", "2028-06-01"]
    assert again.keep("fuel", fuel_moisture=0.25).save()
    assert len(Record.load(path).burns) == 2


@pytest.mark.parametrize(
    ("burn", "said"),
    [
        ({"firing_time": "27 h"}, "no date"),
        ({"date": "yesterday"}, "date"),
        ({"date": "2028-05-01", "firing_time": 27}, "firing_time"),
        ({"date": "2028-05-01", "hours": "27 h"}, "hours"),
        ({"date": "2028-05-01", "fuel_mass": "-3 kg"}, "fuel_mass"),
        ({"date": "2028-05-01", "note": "two\nlines"}, "note"),
    ],
)
def test_what_is_no_burn_is_refused_and_nothing_is_kept(record, burn, said):
    with pytest.raises(InputError, match=said):
        record.keep_burn(**burn)
    assert record.burns == ()


@pytest.mark.parametrize("text", ["burns = 3\n", '[burns]\ndate = "2028-05-01"\n', "[[burns]]\nnote = 3\n"])
def test_a_file_with_burns_that_cannot_be_read_is_told_where(tmp_path, text):
    path = tmp_path / "my_kiln.toml"
    path.write_text(text)
    with pytest.raises(RecordError, match="burns"):
        Record.load(path)
