"""What a slider moves of a plan is worked out anew, and what does not rest on it is not."""

import pytest

from limekit import Plan, example_path


@pytest.fixture(scope="module")
def plan():
    plan = Plan.of(trial=example_path("trial_example.csv")).plain
    assert plan.forecast.hours
    return plan


@pytest.mark.parametrize(
    ("moved", "becomes"),
    [
        ({"damper": 0.0}, lambda old, new: new.fuel_used == 0.0),
        ({"hours": 36000.0}, lambda old, new: new.firing_time == pytest.approx(36000.0)),
        ({"layers": (("firebrick", 0.114),)}, lambda old, new: new.fuel_used > 1.1 * old.fuel_used),
        ({"heat_up_time": 0.0}, lambda old, new: new.finish < old.finish),
        ({"charge_fines": 0.1}, lambda old, new: new.finish > 1.1 * old.finish),
        ({"arrangement": "graded"}, lambda old, new: new.places[0] != old.places[0]),
        ({"charge_fines": 0.1, "hours": 36000.0}, lambda old, new: new.firing_time == pytest.approx(36000.0)),
    ],
    ids=lambda one: " ".join(one) if isinstance(one, dict) else "",
)
def test_what_no_record_keeps_is_heeded_by_a_plan_already_worked_out(plan, moved, becomes):
    assert becomes(plan.firing, plan.but(**moved).firing)


def test_how_sizes_lie_asks_for_no_other_kiln(plan):
    moved = plan.but(arrangement="graded", charge_fines=0.05)
    assert moved.design is plan.design
    assert moved.but(largest_stone=0.06).design is not plan.design
    assert moved.firing.plan.arrangement == "graded"
