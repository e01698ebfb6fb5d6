"""What is printed cannot mislead into harm: no hot lime is drawn by a sheet."""

import re
from html import unescape

import pytest

from limekit import assess_trial, fact, read_slaking_log, stoking_schedule
from limekit.course import project
from limekit.course.lessons import the_whole_design
from limekit.course.recorded import trial_of
from limekit.pictures.design_sheet import design_sheet
from limekit.pictures.stokers_sheet import stokers_sheet
from limekit.records.examples import example_path
from limekit.records.forms import sheet, sheet_names
from limekit.records.kiln_record import Record
from limekit.units import ZERO_CELSIUS

TIME = re.compile(r"\d\s*(h|hours?|days?)\b")
LEVEL = re.compile(r"(\d+)\s*°C")
WAITS = re.compile(r"\b(cool\w*|draw cold|drawn|reach(es)? in)\b", re.IGNORECASE)
BLOCK = re.compile(r"</?(?:tr|li|p|h\d|dt|dd)\b[^>]*>")


@pytest.fixture(scope="module")
def record(tmp_path_factory):
    record = Record.load(tmp_path_factory.mktemp("record") / "my_kiln.toml")
    return record.keep("kiln", stone="250 kg", largest_stone="80 mm", smallest_stone="60 mm", chimney_height="4 m")


@pytest.fixture(scope="module")
def assessment(record):
    return assess_trial.plain(trial_of(record, example_path("trial_example.csv")))


@pytest.fixture(scope="module")
def whole(record, assessment):
    with pytest.MonkeyPatch.context() as few:
        few.setattr(the_whole_design, "MEMBERS", 5)
        return the_whole_design.whole(record, assessment, read_slaking_log(example_path("slaking_log_example.csv")))


@pytest.fixture(scope="module")
def pages(whole):
    own = project.Checklist(())
    return {
        "design": design_sheet(whole.design),
        "whole design": the_whole_design.sheet(whole, own).html,
        "stokers": stokers_sheet(stoking_schedule.plain(whole.firing), "oak"),
    } | {name: sheet(name) for name in sheet_names()}


def statements(page):
    """Return each row, item or paragraph of a page as plain words."""
    body = page[page.index("<body>") :]
    return [" ".join(unescape(re.sub(r"<[^>]+>", " ", part)).split()) for part in BLOCK.split(body)]


def test_no_sheet_gives_a_drawing_time_with_a_temperature_above_the_safe_one(pages):
    safe = fact("lime_draw_temperature") - ZERO_CELSIUS
    waits = [
        (name, said)
        for name, page in pages.items()
        for said in statements(page)
        if all(sought.search(said) for sought in (WAITS, TIME, LEVEL))
    ]
    assert any(name == "whole design" and said.startswith("cooling, closed") for name, said in waits)
    for name, said in waits:
        assert all(float(level) <= safe for level in LEVEL.findall(said)), (name, said)
