import re

import pytest

from limekit.course.ladder import ladder
from limekit.course.project import checklist
from limekit.course.recorded import KEYS
from limekit.records.examples import example_path
from limekit.records.kiln_keys import QUANTITIES
from limekit.records.kiln_record import Record

SHEETS = example_path("trial_example.csv"), example_path("slaking_log_example.csv")

DECIDED = {slug: lesson.decides for slug, lesson in ladder().items() if lesson.decides}


@pytest.fixture
def record(tmp_path):
    return Record.load(tmp_path / "my_kiln.toml")


def test_every_figure_a_design_rests_on_is_decided_in_one_lesson_that_is_there():
    asked = set(KEYS)
    told = [key for keys in DECIDED.values() for key in keys]
    assert len(told) == len(set(told))
    from_the_trial = {f"trial.{name}" for name in QUANTITIES["trial"]}
    assert asked - set(told) - {"kiln.efficiency"} <= from_the_trial


def test_with_no_record_all_is_the_example_s_and_the_first_lesson_is_next(record):
    found = checklist(record, *SHEETS)
    assert not any(step.yours for step in found.steps)
    assert found.words.startswith("0 of the ")
    assert f"next is lesson {ladder()[next(iter(DECIDED))].name}" in found.words


def test_a_figure_kept_moves_over_with_its_value(record):
    found = checklist(record.keep("kiln", largest_stone="90 mm"), *SHEETS)
    step = next(step for step in found.steps if step.lesson.slug == "draught")
    assert step.yours == ("largest stone 90 mm",)
    assert any(words.startswith("smallest stone") for words in step.invented)
    assert found.words.startswith("1 of the ")


def test_a_sheet_of_ones_own_counts_and_a_shipped_one_does_not(record, tmp_path):
    own = tmp_path / "my_trial.csv"
    own.write_text(SHEETS[0].read_text(encoding="utf-8"), encoding="utf-8")
    found = {step.lesson.slug: step for step in checklist(record, own, SHEETS[1]).steps}
    assert found["your_trial_burn"].yours == ("my_trial.csv",)
    assert found["slake"].invented == ("no my_slaking_log.csv yet",)


def test_when_all_is_ones_own_nothing_is_left(record, tmp_path):
    for keys in DECIDED.values():
        for section, _, name in (key.partition(".") for key in keys if not key.endswith("csv")):
            record.keep(section, **{name: record[section][name]})
    sheets = [tmp_path / "my_trial.csv", tmp_path / "my_slaking_log.csv"]
    for sheet in sheets:
        sheet.touch()
    found = checklist(record, *sheets)
    assert not any(step.invented for step in found.steps)
    assert "your own stone in your own kiln" in found.words
    assert "☐" not in found._repr_html_()


def test_the_page_links_each_lesson_and_escapes_what_a_person_wrote(record):
    page = checklist(record.keep("fuel", name="oak <b>wet</b>"), *SHEETS)._repr_html_()
    assert re.findall(r'href="(\w+\.ipynb)"', page) == [ladder()[slug].file for slug in DECIDED]
    assert "<b>wet" not in page
    assert page.count("☐") + page.count("☑") == len(DECIDED)
