"""The plan that limits allow: what is found keeps to them, and what is not says why."""

import pytest

from limekit import InputError, Record, find_plan
from limekit.edge import plain
from limekit.plan.parts import people_for
from limekit.units import DAY, HOUR


@pytest.fixture(scope="module")
def found():
    return find_plan(putty_volume="800 L", helpers=4, highest_chimney="2 m", largest_stone="100 mm", altitude="900 m")


def test_a_plan_keeps_to_every_limit_it_was_given(found):
    plan = found.plan.plain
    assert plan.putty.putty_volume.middle == pytest.approx(0.8)
    assert plan.firing.finish is not None
    assert plan.people.needed <= 5
    assert plan.kiln.chimney_height <= 2.0
    assert plan.kiln.largest_stone <= 0.1
    assert plan.kiln.altitude == 900.0


def test_no_rival_that_keeps_to_the_limits_burns_less(found):
    assert len(found.rivals) == 3
    assert all(rival.plain.firing.fuel_used >= found.plan.plain.firing.fuel_used for rival in found.rivals)


def test_every_limit_says_what_it_costs(found):
    assert {cost.limit for cost in found.limits} == {"helpers", "chimney_height", "largest_stone"}
    assert all(cost.words == "nothing gained" or "of fuel" in cost.words for cost in found.limits)


def test_the_same_question_has_the_same_answer(found):
    again = find_plan(putty_volume="800 L", helpers=4, highest_chimney="2 m", largest_stone="100 mm", altitude="900 m")
    assert str(again) == str(found)


def test_what_is_not_possible_says_so_and_names_the_burn_that_is():
    none = find_plan(putty_volume="1500 L", helpers=1, highest_chimney="0 m", wood="500 kg", altitude="900 m")
    assert none.plan is None
    assert none.verdict.startswith("Not with these limits")
    assert "more helper" in none.verdict
    assert none.change
    smaller = none.smaller.plain
    assert smaller.people.needed <= 2
    assert smaller.firing.fuel_used <= 500.0
    assert smaller.stone.mass < none.rivals[0].plain.stone.mass


def test_one_thing_that_is_wanting_is_named_with_how_much_of_it_would_do():
    none = find_plan(putty_volume="800 L", helpers=6, highest_chimney="2 m", wood="300 kg")
    assert none.plan is None
    assert "kg more of fuel" in none.change or "more of chimney" in none.change
    more = float(none.change.split("with ")[1].split()[0]) + 300.0
    assert find_plan(putty_volume="800 L", helpers=6, highest_chimney="2 m", wood=f"{more + 1} kg").plan is not None


def test_time_and_money_are_limits_too():
    none = find_plan(putty_volume="800 L", helpers=6, time_at_hand="1 day", money=1, fuel_price=110)
    assert none.plan is None
    assert "days more" in none.verdict
    assert "of money" in none.verdict
    easy = find_plan(putty_volume="800 L", helpers=6, time_at_hand="30 day", money=1000, fuel_price=110)
    plan = easy.plan.plain
    assert plan.firing.firing_time + plan.cooling.cooling_time <= 30 * DAY
    assert {"time_at_hand", "money"} <= {cost.limit for cost in easy.limits}


def test_a_stone_that_is_no_putty_is_not_asked_for_putty(tmp_path):
    path = tmp_path / "my_kiln.toml"
    path.write_text("[stone]\ncalcium_carbonate = 0.7\nmagnesium_carbonate = 0.01\nclay = 0.25\n")
    with pytest.raises(InputError, match="putty_volume"):
        find_plan(path, putty_volume="800 L")
    assert find_plan(Record.load(path), helpers=6).plan.plain.putty.kept is None


@pytest.mark.parametrize(("hours", "helpers", "enough"), [(10, 1, True), (20, 1, False), (20, 3, True), (60, 3, True)])
def test_people_are_enough_where_nobody_is_alone_and_everybody_sleeps(hours, helpers, enough):
    kept = people_for(hours * HOUR, helpers)
    assert kept.enough is enough
    assert (kept.needed <= 1 + helpers) is enough
    assert kept.turns * kept.watch_time >= hours * HOUR > (kept.turns - 1) * kept.watch_time


def test_shorter_turns_want_no_fewer_people():
    at_most = [people_for(40 * HOUR, 1, longest * HOUR).needed for longest in (3, 6, 12)]
    assert at_most == sorted(at_most, reverse=True)


def test_a_limit_without_its_unit_is_refused():
    with pytest.raises(InputError, match="highest_chimney"):
        find_plan(highest_chimney=3)


def test_what_is_asked_is_read_with_units(found):
    assert plain(found.plan.kiln.altitude) == 900.0


def test_money_without_a_price_is_refused():
    with pytest.raises(InputError, match="fuel_price"):
        find_plan(money=150)


def test_a_kiln_s_own_burns_are_heeded(tmp_path):
    record = Record.load(tmp_path / "my_kiln.toml").keep("kiln", stone="800 kg")
    quick = find_plan(record, helpers=2)
    for day in (1, 2, 3):
        record.keep_burn(date=f"2028-05-0{day}", firing_time="60 h")
    slow = find_plan(record, helpers=2)
    assert quick.plan is not None
    assert slow.plan is None
    assert "more helper" in slow.verdict
