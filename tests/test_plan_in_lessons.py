"""Stone, trial, wood, draught, wall, draw, slaking, putty, money and workshop: their lessons speak of one plan."""

import re
import shutil

import pytest

from limekit import example_path
from limekit.course.cards import TELLING, my_plan
from limekit.course.lessons import (
    burn_day,
    draught,
    draw_and_sort,
    fuel_and_air,
    how_hot_how_long,
    know_your_stone,
    money_and_carbon,
    putty_and_mortar,
    slake,
    the_workshop,
    trial_burn,
    walls,
    who_stays_awake,
)
from limekit.estimate import shown
from limekit.records.kiln_record import Record
from limekit.units import HOUR


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("LIMEKIT_RECORD", raising=False)
    return tmp_path


def keep(folder):
    """Write down a person's own stone, wood, hills, helpers and the putty they want."""
    record = Record.load(folder / "my_kiln.toml")
    record.keep("stone", name="from the ridge", calcium_carbonate=0.97, magnesium_carbonate=0.01, clay=0.01)
    record.keep("burn", gas_temperature="940 degC", co2_fraction=0.32, air_temperature="5 degC")
    record.keep("kiln", altitude="900 m", largest_stone="70 mm").keep("fuel", name="beech, split", fuel_moisture=0.25)
    record.keep("lime", putty_volume="1500 L", available_lime=0.85, putty_density="1.4 kg/L", wanted_on="2028-08-12")
    record.keep("people", helpers=2).save()


@pytest.fixture(scope="module")
def plan(tmp_path_factory):
    folder = tmp_path_factory.mktemp("own")
    for name in TELLING:
        shutil.copy(example_path(name.replace("my_", "").replace(".", "_example.")), folder / name)
    keep(folder)
    with pytest.MonkeyPatch.context() as patched:
        patched.delenv("LIMEKIT_RECORD", raising=False)
        return my_plan(folder)


def test_the_hours_of_one_stone_are_the_plans_in_every_lesson_that_says_them(plan):
    burning = plan.plain.design.burning_time
    hours = f"{burning.middle / HOUR:.1f}"
    assert f"**{hours} h**" in how_hot_how_long.how_sure(plan)
    assert f"about {hours} hours" in how_hot_how_long.times_explorer(plan).sentence
    assert f"about {hours} hours in the heat" in trial_burn.trial_explorer(plan).sentence
    assert "940 °C" in how_hot_how_long.sizes(plan, 8)
    kept = how_hot_how_long.times_explorer(plan)
    assert kept.keeps(kept.result) == {
        "burn": {"gas_temperature": "940 degC", "co2_fraction": 0.32},
        "kiln": {"largest_stone": "70 mm"},
    }


def test_stone_wood_and_hours_are_the_plans_in_every_lesson_that_says_them(plan):
    told = plan.figures
    stone, fuel, hours = (told[name].words for name in ("stone", "fuel", "hours"))
    pile = fuel_and_air.pile_explorer(plan).sentence
    draws = draught.throttle_explorer(plan).sentence
    assert pile.startswith(f"For {plan.plain.stone.mass:.0f} kg of stone plan {fuel} of beech")
    assert f"in {shown(plan.plain.firing.firing_time / HOUR, 2)} h, of {fuel} fed" in draws
    assert f"{hours} of fire" in who_stays_awake.people_there(plan)
    assert f"After {plan.plain.firing.firing_time / HOUR:.0f} h" in walls.wall_explorer(plan).sentence
    drawn = draw_and_sort.drawn(plan, draw_and_sort.invented_heaps(plan), core_ratio=0.6)
    assert f"From {plan.plain.stone.mass:.0f} kg" in drawn
    assert shown(plan.plain.stone.mass, 3) == stone.removesuffix(" kg")
    assert told["putty_volume"].words == "1500 L"
    costed = money_and_carbon.cost_explorer(plan, [])
    assert costed.result.sheet.putty_volume == pytest.approx(1.5)
    assert costed.result.sheet.quicklime == pytest.approx(plan.plain.lime.quicklime.middle)


def test_stone_lime_and_putty_are_the_plans(plan):
    stone = know_your_stone.stone_explorer(plan)
    assert stone.values["calcium_carbonate"] == 0.97
    assert stone.result.verdict.keeping == plan.plain.verdict.keeping == plan.plain.putty.keeping
    assert slake.heat_explorer(plan).values["available_lime"] == 0.85
    assert putty_and_mortar.tank_explorer(plan, "2028-01-01").values["putty_density"] == pytest.approx(1400)
    assert fuel_and_air.fire_explorer(plan).values["fuel_moisture"] == 0.25
    assert fuel_and_air.fire_explorer(plan).values["excess_air"] == plan.plain.fire.excess_air


def test_the_workshop_keeps_the_plans_day_people_and_hours(plan):
    assert str(plan.calendar.weekend) == "2028-08-12"
    usual = {step.name: step.start for step in the_workshop.calendar_of(plan, "mortar").steps}
    assert usual == {step.name: step.start for step in plan.calendar.steps}
    said = who_stays_awake.people_there(plan)
    assert plan.people.words in said
    assert "3 people here" in said or "here are 3" in said
    high = plan.plain.forecast.hours.high
    assert f"it may burn {high / HOUR:.0f} h" in said
    assert who_stays_awake.watch_explorer(plan, "2028-08-12 06:00").values["firing_time"] == pytest.approx(high)


def test_a_stone_nobody_has_tried_is_looked_at_by_published_figures_and_by_no_other_stones_trial(folder, capsys):
    keep(folder)
    plan = my_plan()
    capsys.readouterr()
    said = how_hot_how_long.how_sure(plan)
    assert "published figures say" in said
    assert "trial makes" not in said
    burning = plan.plain.design.burning_time
    assert f"about {burning.middle / HOUR:.1f} hours" in how_hot_how_long.times_explorer(plan).sentence
    example = trial_burn.with_trial(plan)
    assert "invented example's trial" in capsys.readouterr().out
    assert example.record.is_example
    assert slake.log_of(plan).log_times[0].magnitude == 0
    assert "nothing of your lime" in capsys.readouterr().out
    untested = slake.vessel_explorer(plan).sentence
    shutil.copy(example_path("slaking_log_example.csv"), folder / "my_slaking_log.csv")
    assert slake.vessel_explorer(my_plan()).sentence != untested


def test_no_picture_s_table_and_no_sentence_says_a_bare_not_a_number(plan):
    for explorer in (how_hot_how_long.times_explorer, draught.throttle_explorer, walls.choice_explorer):
        one = explorer(plan)
        assert not re.search(r"\b(nan|inf|None)\b", one.sentence + one.table(one.result).to_string())


def test_a_log_is_held_beside_the_firing_of_its_own_kiln(folder):
    keep(folder)
    (folder / "my_burn_log.csv").write_text("")
    plan = my_plan()
    assert burn_day.planned(plan, "my_burn_log.csv") is plan.firing
    invented = burn_day.planned(plan, example_path(burn_day.INVENTED))
    assert invented.plan.kiln.stone.magnitude == pytest.approx(500.0)
