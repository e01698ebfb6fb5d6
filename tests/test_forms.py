import re
import shutil
import subprocess

import pytest

from limekit import sheet, sheet_names
from limekit.errors import InputError
from limekit.records import burn_log, slaking_log
from limekit.records.forms import FORMS
from limekit.safety import DEFER, caution_table

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)


@pytest.mark.parametrize("name", sheet_names())
def test_a_sheet_is_one_whole_page_that_fetches_nothing(name):
    page = sheet(name)
    assert page.startswith("<!DOCTYPE html>")
    assert page.rstrip().endswith("</html>")
    assert "size: A4" in page
    assert not re.search(r"<script|<img|https?:|url\(", page)


@pytest.mark.parametrize("name", FORMS)
def test_a_form_has_its_columns_with_unit_and_help_and_its_blank_rows(name):
    form, page = FORMS[name], sheet(name)
    assert page.count("<td></td>") == form.rows * len(form.columns)
    for column in form.columns:
        assert column.heading in page
        assert column.help, column.name
        assert f"<dd>{column.help}</dd>" in page.replace("&#x27;", "'")
    assert DEFER in page
    for key in form.cautions:
        assert caution_table()[key].title in page
        assert caution_table()[key].text in page.replace("&#x27;", "'"), key


def test_units_come_from_the_glossary():
    assert "fuel fed [kg]" in sheet("burn log")
    assert "putty density [kg/L]" in sheet("slaking charges")
    assert "coat thickness [mm]" in sheet("mix")


def test_the_logs_that_are_read_back_are_printed_with_the_columns_read():
    assert FORMS["slaking log"].columns is slaking_log.COLUMNS
    assert FORMS["burn log"].columns is burn_log.COLUMNS
    page = sheet("slaking log")
    assert "portrait" in page
    assert "landscape" not in page
    assert "time since the lime went in [min]" in page


def test_a_burn_log_has_a_line_for_each_half_hour_of_a_day():
    assert FORMS["burn log"].rows >= 2 * 24


def test_a_burn_log_has_room_to_write_and_its_second_sheet_the_same_lines():
    page = sheet("burn log")
    tables = page.split("<table")[1:]
    columns = [re.findall(r'<th scope="col">(.*?)</th>', table) for table in tables]
    assert all(len(found) <= 8 for found in columns)
    assert {one for found in columns for one in found} == {"line", *(one.heading for one in burn_log.COLUMNS)}
    lines = [re.findall(r'<th scope="row">(\d+)</th>', table) for table in tables]
    assert lines[::2] == lines[1::2]
    assert [one for page in lines[::2] for one in page] == [str(one + 1) for one in range(FORMS["burn log"].rows)]


def test_the_poster_says_what_the_cautions_say_and_has_a_line_for_whoever_is_rung():
    said = re.sub(r"<[^>]+>", " ", sheet("safety poster"))
    told = {key: one.text for key, one in caution_table().items()}
    assert "20 minutes" in said
    assert "20 minutes" in told["quicklime_eyes"]
    assert "never water onto lime" in said
    assert "never water onto lime" in told["boil_over"]
    assert all(call in said for call in ("Emergency", "Poisons line", "Eye hospital", "Driver", "We are at"))
    card = sheet("safety card")
    assert all(call in card for call in ("Poisons line", "Eye hospital", "Driver", "This place is"))


def test_an_incident_has_room_for_a_sentence():
    assert "height: 20mm" in sheet("incident")
    assert "height: 8mm" in sheet("slaking log")


def test_the_safety_card_has_every_caution_and_says_it_is_no_plan():
    card = sheet("safety card").replace("&#x27;", "'")
    for caution in caution_table().values():
        assert caution.title in card
        assert caution.text in card
    assert DEFER in card


@pytest.mark.parametrize(("name", "near"), [("burnlog", "burn log"), ("Mix", "mix"), ("", "trial"), (None, "trial")])
def test_a_sheet_that_is_not_there_is_answered_with_a_near_one(name, near):
    with pytest.raises(InputError, match="safety card") as caught:
        sheet(name)
    assert caught.value.example == f'sheet("{near}")'


@pytest.mark.browser
@pytest.mark.skipif(not CHROMIUM, reason="no Chromium on this machine")
@pytest.mark.parametrize("name", sheet_names())
def test_a_sheet_prints_on_one_page_a_days_log_on_seven_and_card_and_poster_on_two_sides(name, tmp_path):
    page, printed = tmp_path / "sheet.html", tmp_path / "sheet.pdf"
    page.write_text(sheet(name), encoding="utf-8")
    told = ["--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", f"--user-data-dir={tmp_path}/me"]
    subprocess.run([CHROMIUM, *told, f"--print-to-pdf={printed}", page.as_uri()], check=True, capture_output=True)
    pages = {"burn log": 7, "safety card": 2, "safety poster": 2}
    assert len(re.findall(rb"/Type /Page\b", printed.read_bytes())) == pages.get(name, 1)
