"""Lessons that size a kiln, fire it and lay it out whole speak of one kiln: each figure has one value and one wording."""

import re
import shutil
import tomllib

import pytest

from limekit import example_path
from limekit.course.cards import my_plan
from limekit.course.lessons import first_kiln, let_out, sizing, the_firing, the_whole_design
from limekit.records.kiln_keys import CHOSEN, QUANTITIES, RESULTS
from limekit.records.kiln_record import Record

SAID = {  # how lessons and sheets say each, with the figure as it stands
    "hours": r"([\d.]+ h)(?: \([\d.]+ to [\d.]+ h\))? (?:of fir|with |and [\d.]+ kg of fuel)",
    "fuel": r"([\d.]+ kg)\*{0,2} (?:of fuel|of wood|of beech)",
    "stone": r"([\d.]+ kg) of stone(?: in a kiln| up to| for)",
    "kiln_diameter": r"(?<!to )([\d.]+ m) across(?! outside| by the rules)",
    "putty_volume": r"([\d.]+ L) of putty",
    "quicklime": r"([\d.]+ kg) of quicklime",
    "turns": r"(\d+) turns",
}
KEEPING = (first_kiln.kiln_explorer, sizing.yard_explorer, the_firing.firing_explorer, let_out.left_explorer)


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("LIMEKIT_RECORD", raising=False)
    return tmp_path


@pytest.fixture
def own(folder):
    """A person's own record: their stone, trial, wood, hills, helpers and the putty they want."""
    shutil.copy(example_path("trial_example.csv"), folder / "my_trial.csv")
    record = Record.load(folder / "my_kiln.toml")
    record.keep("stone", calcium_carbonate=0.97, magnesium_carbonate=0.01, clay=0.01)
    record.keep("kiln", altitude="900 m", largest_stone="70 mm").keep("fuel", name="beech, split")
    record.keep("lime", putty_volume="1500 L").keep("people", helpers=4).save()
    return record


def pages(plan):
    """Return what each lesson and sheet says of a plan, in plain words."""
    return {
        "first kiln": first_kiln.kiln_explorer(plan).sentence,
        "drawing": repr(first_kiln.drawings(plan)),
        "yard": sizing.yard_explorer(plan).sentence,
        "pace": sizing.pace(plan),
        "firing": the_firing.firing_explorer(plan).sentence,
        "cut in half": the_firing.half_explorer(plan).sentence,
        "heat": the_firing.heat_explorer(plan).sentence,
        "raw": let_out.left_explorer(plan).sentence,
        "stokers": repr(the_firing.watches(plan)),
        "whole": the_whole_design.words(plan),
        "decisions": repr(the_whole_design.table(plan)),
        "paper": repr(plan.sheet()),
    }


def test_every_lesson_says_each_figure_of_a_persons_own_kiln_with_one_value(own, monkeypatch):
    monkeypatch.setattr(the_whole_design, "MEMBERS", 5)
    plan = my_plan()
    said = pages(plan)
    for name, sought in SAID.items():
        found = {page: set(re.findall(sought, words)) for page, words in said.items()}
        places = {page for page, values in found.items() if values}
        assert len(places) >= 2, (name, found)
        assert {value for values in found.values() for value in values} == {plan.figures[name].words}, (name, found)
    sheet = re.sub(r"<[^>]+>", " ", plan.sheet().html)
    assert all(figure.words in sheet for figure in plan.figures.values())


def test_what_is_kept_in_the_first_lesson_is_what_the_others_then_say(own, folder, monkeypatch):
    monkeypatch.setattr(the_whole_design, "MEMBERS", 5)
    explorer = first_kiln.kiln_explorer(my_plan())
    explorer.set(putty_volume="900 L", largest_stone="90 mm", chimney_height="3 m")
    explorer.keep()
    plan = my_plan()
    assert first_kiln.words(plan.plain) == explorer.sentence
    for page, words in pages(plan).items():
        for name, sought in SAID.items():
            assert set(re.findall(sought, words)) <= {plan.figures[name].words}, page
    assert plan.figures["putty_volume"].words == "900 L"


@pytest.mark.parametrize("made", KEEPING, ids=lambda made: made.__name__)
def test_decisions_are_kept_and_nothing_that_follows_from_them(made, own, folder):
    explorer, before = made(my_plan()), my_plan().figures
    explorer.keep()
    held = tomllib.loads((folder / "my_kiln.toml").read_text(encoding="utf-8"))
    kept = {(section, name) for section, values in held.items() for name in values}
    decided = {(section, name) for section, names in (*QUANTITIES.items(), *CHOSEN.items()) for name in names}
    assert kept - decided <= {("fuel", "name"), ("kiln", "kind")}
    followed = {("kiln", "kiln_diameter"), ("kiln", "kiln_height"), ("fuel", "stoking_rate"), ("kiln", "stone")}
    assert not kept & (followed | {(section, name) for section, names in RESULTS.items() for name in names})
    assert held["fuel"]["name"] == "beech, split"
    assert my_plan().figures == before, "keeping what nobody moved changes nothing"


def test_what_is_fed_counts_as_decided_once_it_is_moved_and_narrows_the_hours(own, folder):
    explorer = first_kiln.kiln_explorer(my_plan())
    usual = explorer.result.forecast.hours
    explorer.set(stoking_rate="20 kg/h")
    known = explorer.result.forecast.hours
    assert known.high / known.low < 0.8 * usual.high / usual.low
    explorer.keep()
    assert Record.load(folder / "my_kiln.toml")["fuel"]["stoking_rate"] == "20 kg/h"
    assert my_plan().plain.forecast.hours == known


def test_a_larger_kiln_is_fed_more_until_somebody_says_what_they_feed(folder):
    explorer = first_kiln.kiln_explorer(my_plan())
    at_first = explorer.controls["stoking_rate"].value
    explorer.set(putty_volume="3000 L")
    assert explorer.controls["stoking_rate"].value > 1.2 * at_first
    assert "stoking_rate" not in explorer.result.decided.own


def test_the_sliders_of_a_large_kiln_reach_it(folder):
    Record.load(folder / "my_kiln.toml").keep("kiln", stone="8175 kg", largest_stone="165 mm").save()
    explorer = sizing.yard_explorer(my_plan())
    assert explorer.controls["stone"].value == pytest.approx(8175)
    assert explorer.controls["largest_stone"].value == pytest.approx(165)
    assert "8180 kg of stone up to 165 mm" in explorer.sentence


def test_a_stone_nobody_has_tried_is_planned_by_published_stones_and_it_is_said(folder):
    Record.load(folder / "my_kiln.toml").keep("stone", calcium_carbonate=0.96).save()
    plan = my_plan()
    assert plan.assessment is None
    assert "yours has had no trial" in sizing.sure_explorer(plan).sentence
    rows = {row[0]: row[1] for row in the_whole_design.table(plan).rows}
    assert rows["3 Was the trial fully burnt?"] == "none was burnt"
    assert rows["4 Is the lime lively?"] == "none was slaked"


def test_the_tide_is_shown_half_way(folder):
    explorer = the_firing.firing_explorer(my_plan())
    assert explorer.controls["time"].value == pytest.approx(explorer.result.firing.firing_time / 7200, abs=1)
    assert explorer.sentence.startswith("At hour ")


def test_rain_adds_water_to_the_same_stone(folder):
    explorer = the_firing.heat_explorer(my_plan())
    dry = explorer.result.stone
    explorer.set(stone_moisture=0.05)
    wet = explorer.result.stone
    assert wet.mass * (1 - wet.stone_moisture) == pytest.approx(dry.mass * (1 - dry.stone_moisture))
    assert explorer.result.firing.quicklime == pytest.approx(my_plan().plain.firing.quicklime, rel=0.01)
