"""A kiln that learns from its own burns: what is kept, what is weighed, and what becomes of the plan."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limekit import InputError, Plan, Record, RecordError, example_path, fact, read_burn_log, replay_burn
from limekit.course.lessons import the_whole_design
from limekit.course.lessons.burn_after_burn import against_plan
from limekit.estimate import Span, shown
from limekit.kiln.learning import learn
from limekit.kiln.real_firings import known, plain_line

BETWEEN_KILNS, BETWEEN_BURNS = 1.8, 1.4


def width(span):
    return span.high / span.low


@pytest.fixture
def record(tmp_path):
    return Record.load(tmp_path / "my_kiln.toml").keep("kiln", stone="800 kg")


def burnt(record, hours, count=1, **told):
    first = len(record.burns) + 1
    for day in range(first, first + count):
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
    assert "by your own burns and real kilns of the size" in sheet
    assert str(the_whole_design.table(plan)).count("by your own burns and the kilns of others") == 2
    assert f"fire of up to {shown(plan.plain.forecast.hours.high / 3600, 2)} h" in sheet
    untold = plan.plain.but(own_burns=())
    assert untold.own_and == ""
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
    assert (again.burns[0].firing_time, again.burns[0].excess_air) == (27 * 3600, Span(0.9, 0.9, 0.9))
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
        ({"date": "2028-05-01", "laid": "thrown"}, "laid"),
        ({"date": "2028-05-01", "excess_air": "0.5 (0.6 to 0.9)"}, "within its range"),
        ({"date": "2028-05-01", "excess_air": "0.5 (0.4 to 90)"}, "excess_air"),
        ({"date": "2028-05-01", "burn_log": "my_burn_log.csv"}, "burn_log"),
        ({"date": "2028-05-01", "replay": "my_burn_log.csv"}, "replay"),
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


def test_log_and_replay_tell_the_burn_by_one_call_and_are_read_back(record):
    log = read_burn_log(example_path("burn_log_example.csv"))
    found = replay_burn(log, Plan.of(record).firing, lines=4)
    record.keep_burn(log, found, date="2028-05-01", fuel_mass="500 kg").save()
    (burn,) = Record.load(record.path).burns
    assert burn.firing_time == pytest.approx(log.times[-1])
    assert burn.fuel_mass == 500.0, "what a person says comes before what the log says"
    for name in ("excess_air", "loss_factor", "fuel_quality", "reaction_coefficient"):
        kept, told = getattr(burn, name), getattr(found, name)
        ends = [getattr(one, "magnitude", one) for one in (told.median, told.low, told.high)]
        assert [kept.middle, kept.low, kept.high] == pytest.approx(ends, rel=0.005), name


def test_hours_end_with_the_last_fuel_not_with_what_was_read_of_a_kiln_that_cools(record):
    table = example_path("burn_log_example.csv").read_text(encoding="utf-8")
    cooling = "06:30,,900\n17:30,,500\n"
    (record.path.parent / "log.csv").write_text(table + cooling, encoding="utf-8")
    log = read_burn_log(record.path.parent / "log.csv")
    record.keep_burn(log, date="2028-05-01")
    assert record.burns[0].firing_time == pytest.approx(24 * 3600)
    assert log.times[-1] == pytest.approx(36 * 3600)


def test_what_is_told_later_of_a_burn_joins_it_and_what_stands_around_it_stays(record):
    record.keep_burn(date="2028-05-01", firing_time="27 h").save()
    text = record.path.read_text() + "# the second\n\n[people]\nhelpers = 3\n"
    record.path.write_text(text)
    again = Record.load(record.path)
    again.keep_burn(date="2028-05-01", drawn="410 kg", firing_time="28 h").save()
    (burn,) = Record.load(record.path).burns
    assert (burn.firing_time, burn.drawn) == (28 * 3600, 410.0)
    assert Record.load(record.path)["people"]["helpers"] == 3
    assert "# the second" in record.path.read_text()
    assert record.path.with_name("my_kiln.toml.1").read_text() == text


def test_air_that_a_refit_found_does_not_keep_a_plan_from_learning(record):
    """A kiln that ever burns with less air than is planned, and so in half the hours, is forecast at that."""
    hours = 0.5 * Plan.of(record).plain.firing.finish / 3600
    plan = burnt(record, hours, count=30, excess_air="0.3 (0.2 to 0.4)")
    assert plan.plain.forecast.hours.middle == pytest.approx(hours * 3600, rel=0.05)


def test_a_burn_counts_beside_the_model_of_its_own_stone_as_it_was_laid(record):
    plan = Plan.of(record)
    poured = plan.with_(laid="poured", stone="700 kg").plain.firing
    record.keep_burn(date="2028-05-01", stone="700 kg", laid="poured", firing_time=f"{poured.finish} s")
    assert Plan.of(record).plain.learnt_hours.factor == pytest.approx(1.0)


class TestAgainstThePlan:
    def test_each_burn_stands_beside_what_those_before_it_let_expect_and_the_next_is_the_plans(self, record):
        hours = 1.4 * Plan.of(record).plain.firing.finish / 3600
        before = Plan.of(record).plain.forecast
        after_one = burnt(record, hours, fuel_mass="800 kg").plain.forecast
        plan = burnt(record, hours, count=2, fuel_mass="800 kg")
        burns = against_plan(plan).result.burns
        assert [one.burn.date for one in burns] == ["2028-05-01", "2028-05-02", "2028-05-03"]
        assert burns[0].hours == before.hours
        assert burns[0].fuel == before.fuel
        assert burns[1].hours == after_one.hours
        assert width(burns[0].hours) > width(burns[1].hours) > width(burns[2].hours)
        assert width(burns[0].fuel) > width(burns[1].fuel) > width(burns[2].fuel)
        explorer = against_plan(plan)
        assert explorer.result.next.hours == plan.plain.forecast.hours
        assert explorer.result.next.fuel == plan.plain.forecast.fuel
        assert "Your kiln: burns kept, 3; gone well, 3." in explorer.sentence
        assert f"it took {hours:.0f} h and 800 kg" in explorer.sentence
        assert "invented" not in explorer.sentence

    def test_a_guess_at_the_next_burn_draws_and_narrows_the_one_after_and_that_alone(self, record):
        explorer = against_plan(burnt(record, 30, fuel_mass="700 kg"))
        known, slid = explorer.result, explorer.controls
        slid["firing_time"].value, slid["fuel_mass"].value = slid["firing_time"].max, slid["fuel_mass"].max
        assert explorer.result.after.hours.middle > known.after.hours.middle
        assert explorer.result.after.fuel.middle > known.after.fuel.middle
        assert width(known.after.hours) < width(known.next.hours)
        assert explorer.result.next.hours == known.next.hours

    def test_a_burn_that_went_wrong_is_shown_and_said_and_moves_no_forecast(self, record):
        plan = burnt(record, 30, fuel_mass="700 kg")
        known = against_plan(plan)
        record.keep_burn(date="2028-04-01", firing_time="6 h", fuel_mass="90 kg", went_wrong="rain <put> it out")
        explorer = against_plan(Plan.of(record))
        assert explorer.result.next.hours == known.result.next.hours
        assert [one.burn.date for one in explorer.result.burns] == ["2028-04-01", "2028-05-01"]
        assert "2028-04-01 went wrong (rain <put> it out)" in explorer.sentence
        shown_wrong = [trace for trace in explorer.figure.data if trace.name.startswith("went wrong")]
        assert [tuple(trace.x) for trace in shown_wrong] == [("2028-04-01",)] * 2
        assert [trace.y[0] for trace in shown_wrong] == pytest.approx([6.0, 90.0])
        assert "rain" in explorer.table(explorer.result).to_string()

    def test_where_no_burn_is_kept_an_invented_kiln_stands_in_and_says_so(self, record):
        explorer = against_plan(Plan.of(record))
        assert explorer.sentence.startswith("An invented kiln")
        assert sum(bool(one.burn.went_wrong) for one in explorer.result.burns) == 1
        assert len(explorer.result.burns) == 3
        assert example_path("own_burns_example.toml").read_text(encoding="utf-8").startswith("# invented example")

    def test_a_plan_that_never_has_its_charge_done_is_shown_with_no_hours(self, record):
        record.keep("fuel", stoking_rate="2 kg/h")
        explorer = against_plan(burnt(record, 40, fuel_mass="700 kg"))
        assert explorer.result.next.hours is None
        assert "no end of the fire" in explorer.sentence
        assert "–" in explorer.table(explorer.result)["hours forecast"].tolist()
