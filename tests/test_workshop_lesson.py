import math

import pytest

import limekit
from limekit import burn_checks
from limekit.course.checks import check
from limekit.course.lessons import the_workshop as lesson
from limekit.course.lessons import who_stays_awake
from limekit.errors import InputError
from limekit.units import DAY

SATURDAY, WEDNESDAY = "2028-06-03", "2028-06-07"


@pytest.fixture
def plan(tmp_path):
    def made(**kept):
        record = limekit.Record.load(tmp_path / "my_kiln.toml")
        for section, values in kept.items():
            record.keep(section, **values)
        return limekit.Plan.of(record)

    return made


@pytest.mark.parametrize("weekend", [SATURDAY, WEDNESDAY, "2028-03-04", "2027-01-02"])
def test_every_date_follows_the_day_the_putty_is_wanted(weekend, plan):
    own = plan(lime={"wanted_on": weekend})
    today, burn_day = lesson.weeks_before(own.calendar.weekend, 30), lesson.burn_before(own)
    assert burn_day.weekday() == 5
    assert today < burn_day
    said = lesson.dates(weekend, today, burn_day)
    assert "not ahead of you" not in said
    assert ("no Saturday" in said) == (weekend == WEDNESDAY)


def test_a_weekend_or_a_burn_that_is_past_is_said_to_be(plan):
    burn_day = lesson.burn_before(plan())
    assert "that weekend is not ahead" in lesson.dates(SATURDAY, "2028-11-06", burn_day)
    assert "that burn is not ahead" in lesson.dates(SATURDAY, burn_day, burn_day)
    with pytest.raises(InputError, match="today"):
        lesson.dates(SATURDAY, "soon", burn_day)


@pytest.mark.parametrize(("today", "past", "mark"), [("2028-02-01", 2, "ask now"), ("2029-02-01", 99, "(past)")])
def test_a_date_to_ask_on_that_is_past_is_marked(today, past, mark):
    burn_day = "2028-02-26"
    rows = lesson.to_ask(burn_day, today).rows
    assert sum("past" in when for when, *_ in rows) == min(past, len(burn_checks(burn_day)))
    assert mark in rows[0][0]
    assert not any("past" in when for when, *_ in lesson.to_ask(burn_day).rows)


def test_the_roster_begins_with_the_plans_people_and_the_longest_its_fire_may_burn(plan):
    own = plan(people={"helpers": 6})
    explorer = who_stays_awake.watch_explorer(own, "2028-02-26 06:00")
    assert explorer.values["firing_time"] == pytest.approx(own.plain.forecast.hours.high)
    assert explorer.values["people"] == 7
    assert "7 people stand" in explorer.sentence
    explorer.controls["people"].value = 3
    assert "no rest of 8 hours on end" in explorer.error
    cooled = own.plain.cooling.cooling_time / 3600
    assert f"to {max(72, cooled):.0f} hours" in who_stays_awake.cooling_watch(own)


def test_too_few_people_are_said_to_be_and_as_many_as_do_are_slid_from(plan):
    own = plan(people={"helpers": 1})
    assert "here are 2" in who_stays_awake.people_there(own)
    assert who_stays_awake.watch_explorer(own, "2028-02-26 06:00").values["people"] > 2


def test_a_large_kiln_takes_as_long_as_large_kilns_do(plan):
    small, large = plan(), plan(kiln={"stone": "8000 kg"})
    assert (small.plain.kind, large.plain.kind) == ("small flare", "large flare")
    assert lesson.burn_before(large) < lesson.burn_before(small)
    burn = next(step for step in lesson.calendar_of(large).steps if step.name == "burn")
    assert burn.days.middle == math.ceil(large.plain.forecast.hours.middle / DAY)


def test_a_plan_for_plaster_a_week_ahead_warns_though_no_step_is_late(plan):
    explorer = lesson.plan_explorer(plan())
    explorer.controls["done"].label = "lime already burnt"
    explorer.controls["time_ahead"].value = 1
    assert "too late" not in explorer.sentence
    assert "for plaster the rule is 90" in explorer.sentence


def test_what_each_person_has_is_counted_for_who_teaches_too():
    bring = {name: (amount, whose) for name, amount, whose, _ in lesson.to_bring(8).rows}
    assert bring["goggles"] == ("9", "each person and you")


def test_the_power_is_answered_in_plain_watts():
    assert "4900 W" in check(lesson.power_for_a_mixer, "4.9 kW").text
