import re

import pytest

from limekit import Plan
from limekit.course.ladder import ladder
from limekit.course.project import checklist, whose
from limekit.plan.decisions import SECTIONS
from limekit.plan.worked import RESTS_ON
from limekit.records.kiln_record import Record

DECIDED = {slug: lesson.decides for slug, lesson in ladder().items() if lesson.decides}


@pytest.fixture
def record(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("LIMEKIT_RECORD", raising=False)
    return Record.load(tmp_path / "my_kiln.toml")


def listed(record):
    return checklist(Plan.of(record))


def test_all_that_a_plan_takes_from_the_example_is_decided_in_one_lesson_that_is_there(record):
    plan, told = Plan.of(record), [key for keys in DECIDED.values() for key in keys]
    assert len(told) == len(set(told))
    asked = {name for part in ("firing", "lime", "people") for name in RESTS_ON[part] if name in SECTIONS}
    invented = {f"{SECTIONS[name]}.{name}" for name in asked if plan.whose(name) == "the example's"}
    assert "people.helpers" in invented
    assert invented <= set(told)


def test_with_no_record_all_is_the_example_s_and_the_first_lesson_is_next(record):
    found = listed(record)
    assert not any(step.yours for step in found.steps)
    assert found.words.startswith("0 of the ")
    assert f"next is lesson {ladder()[next(iter(DECIDED))].name}" in found.words


def test_a_figure_kept_moves_over_with_its_value(record):
    found = listed(record.keep("kiln", largest_stone="90 mm"))
    step = next(step for step in found.steps if step.lesson.slug == "draught")
    assert step.yours == ("largest stone 90 mm",)
    assert any(words.startswith("height of the chimney") for words in step.invented)
    assert found.words.startswith("1 of the ")


def test_of_two_answers_to_one_question_either_settles_it(record):
    found = {step.lesson.slug: step for step in listed(record.keep("lime", putty_volume="1500 L")).steps}
    assert found["first_kiln"].yours == ("putty 1500 L",)
    found = {step.lesson.slug: step for step in listed(record.keep("burn", fire_temperature="1050 degC")).steps}
    assert "temperature of the fire's gas 1050 °C" in found["fuel_and_air"].yours


def test_a_sheet_of_ones_own_counts_and_a_shipped_one_does_not(record, tmp_path):
    (tmp_path / "my_trial.csv").touch()
    found = {step.lesson.slug: step for step in listed(record).steps}
    assert found["your_trial_burn"].yours == ("my_trial.csv",)
    assert found["slake"].invented == ("no my_slaking_log.csv yet",)


def test_when_all_is_ones_own_nothing_is_left(record, tmp_path):
    for keys in DECIDED.values():
        for section, _, name in (key.partition(".") for key in keys if not key.endswith("csv")):
            record.keep(section, **{name: record[section][name]})
    for sheet in ("my_trial.csv", "my_slaking_log.csv"):
        (tmp_path / sheet).touch()
    found = listed(record)
    assert not any(step.invented for step in found.steps)
    assert "your own stone in your own kiln" in found.words
    assert "☐" not in found._repr_html_()
    assert "invented" not in whose(Plan.of(record), "people")


def test_it_is_said_what_is_still_invented(record):
    assert "none is yours" in whose(Plan.of(record))
    said = whose(Plan.of(record.keep("lime", putty_volume="900 L")))
    assert said.startswith("Yours: putty. Still the invented example's: ")
    assert "stone charged" not in said, "the putty wanted decides it"


def test_a_fuel_without_an_analysis_is_said_to_be_counted_as_another(record):
    assert 'no analysis of "cherry" and counts it as' in whose(Plan.of(record.keep("fuel", name="cherry")))
    assert "analysis" not in whose(Plan.of(record.keep("fuel", name="oak, split")))


def test_the_page_links_each_lesson_and_escapes_what_a_person_wrote(record):
    page = listed(record.keep("fuel", name="oak <b>wet</b>"))._repr_html_()
    assert re.findall(r'href="(\w+\.ipynb)"', page) == [ladder()[slug].file for slug in DECIDED]
    assert "<b>wet" not in page
    assert page.count("☐") + page.count("☑") == len(DECIDED)
