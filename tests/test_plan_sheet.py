"""The plan on paper: one value for each figure, words kept words, nothing fetched."""

import itertools
import re

import pytest

from limekit import Plan, example_path
from limekit.plan.paper import MOVED, fire_by, hangs_on, turn_by_turn


@pytest.fixture(scope="module")
def plan():
    return Plan.of(None, example_path("trial_example.csv"))


@pytest.fixture(scope="module")
def words(plan):
    return re.sub(r"<[^>]+>", " ", plan.sheet().html)


def test_every_figure_stands_on_the_sheet_once_with_the_one_value_it_has(plan, words):
    told = {row[0]: row[1:3] for row in fire_by(plan.plain).rows}
    for figure in plan.figures.values():
        assert told[figure.label.capitalize()] == (figure.words, figure.ends)
        assert plan.sheet().html.count(f'<th scope="row">{figure.label.capitalize()}</th>') == 1


def test_the_fuel_of_the_turns_comes_to_what_the_plan_burns(plan):
    rows = turn_by_turn(plan.plain).rows
    assert sum(float(row[2].split()[0]) for row in rows) == pytest.approx(plan.plain.firing.fuel_used, abs=len(rows))
    assert rows[-1][3] == f"{plan.plain.firing.fuel_used:.0f} kg"
    assert len(rows) == plan.people.turns


def test_two_keep_every_turn_and_none_keeps_two_on_end(plan):
    kept = [set(row[-1].split(" and ")) for row in turn_by_turn(plan.plain).rows]
    assert all(len(two) == 2 for two in kept)
    assert all(not one & other for one, other in itertools.pairwise(kept))


def test_too_few_people_are_told_so_on_every_turn(plan):
    alone = plan.with_(helpers=0)
    assert {row[-1] for row in turn_by_turn(alone.plain).rows} == {"more people are wanted"}
    assert "want" in {row[0]: row[3] for row in fire_by(alone.plain).rows}["Turns at the fire"]


def test_what_the_answer_hangs_on_is_what_firing_it_again_says(plan):
    rows = {row[0]: row for row in hangs_on(plan.plain).rows}
    moved = dict(MOVED)
    for words, (_, hours, fuel) in ((words, row) for words, row in rows.items()):
        after = plan.plain.but(**moved[words](plan.plain)).firing
        assert float(hours.split()[0]) == pytest.approx(
            (after.firing_time - plan.plain.firing.firing_time) / 3600, abs=0.6
        )
        assert float(fuel.split()[0]) == pytest.approx(after.fuel_used - plan.plain.firing.fuel_used, abs=0.6)


def test_a_charge_never_done_has_a_sheet_that_says_so(plan):
    never = plan.with_(excess_air=2.2)
    assert never.firing.finish is None
    assert "none" in {row[0]: row[1] for row in fire_by(never.plain).rows}["Firing in all"]
    assert never.sheet().html


def test_words_of_a_record_stay_words(tmp_path):
    path = tmp_path / "my_kiln.toml"
    path.write_text('[fuel]\nname = "<script>alert(1)</script>"\n[kiln]\n"<b>hight" = 3\n')
    page = Plan.of(path).sheet().html
    assert "<script" not in page
    assert "<b>hight" not in page
    assert "&lt;script&gt;" in page


def test_the_sheet_fetches_nothing(plan):
    assert not re.search(r"https?:(?!//www.w3.org/2000/svg)|<script|<link|src=", plan.sheet().html)
