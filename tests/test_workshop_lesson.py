import pytest

from limekit import burn_checks
from limekit.course.checks import check
from limekit.course.lessons import the_workshop as lesson
from limekit.errors import InputError
from limekit.facts import fact

SATURDAY, WEDNESDAY = "2028-06-03", "2028-06-07"


@pytest.mark.parametrize("weekend", [SATURDAY, WEDNESDAY, "2028-03-04", "2027-01-02"])
def test_every_date_follows_the_weekend_alone(weekend):
    today, burn_day = lesson.weeks_before(weekend, 30), lesson.burn_before(weekend)
    assert burn_day.weekday() == 5
    assert today < burn_day
    said = lesson.dates(weekend, today, burn_day)
    assert "not ahead of you" not in said
    assert ("no Saturday" in said) == (weekend == WEDNESDAY)


def test_a_weekend_or_a_burn_that_is_past_is_said_to_be():
    burn_day = lesson.burn_before(SATURDAY)
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


def test_the_roster_begins_at_a_small_kilns_longest_burn():
    explorer = lesson.watch_explorer("2028-02-26 06:00")
    hours = fact("firing_time", "small_flare").high / 3600
    assert explorer.controls["firing_time"].value == hours
    assert "closed on Sunday 27 February 2028 at 06:00" in explorer.sentence
    explorer.controls["people"].value = 3
    assert "no rest of 8 hours on end" in explorer.error
    assert "24 to 72 hours" in lesson.cooling_watch()


def test_a_plan_for_plaster_a_week_ahead_warns_though_no_step_is_late():
    explorer = lesson.plan_explorer(SATURDAY)
    explorer.controls["done"].label = "lime already burnt"
    explorer.controls["time_ahead"].value = 1
    assert "too late" not in explorer.sentence
    assert "for plaster the rule is 90" in explorer.sentence


def test_what_each_person_has_is_counted_for_who_teaches_too():
    bring = {name: (amount, whose) for name, amount, whose, _ in lesson.to_bring(8).rows}
    assert bring["goggles"] == ("9", "each person and you")


def test_the_power_is_answered_in_plain_watts():
    assert "4900 W" in check(lesson.power_for_a_mixer, "4.9 kW").text
