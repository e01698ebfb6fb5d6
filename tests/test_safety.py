"""What is shown and printed cannot mislead into harm: when lime is drawn, what is warned of, where, and in what words."""

import ast
import json
import re
from html import unescape
from pathlib import Path

import pytest

from limekit import InputError, Plan, fact, people_to_watch, tables, watches
from limekit.course.ladder import lesson
from limekit.course.lessons import the_firing
from limekit.kiln.replay import WAYS
from limekit.pictures.sheets import design_sheet
from limekit.records.examples import example_path
from limekit.records.forms import FORMS, poster_words, sheet, sheet_names
from limekit.records.kiln_record import Record
from limekit.records.sheets import CAUTION
from limekit.safety import caution_table
from limekit.units import HOUR, ZERO_CELSIUS

NOTEBOOKS = Path(__file__).resolve().parents[1] / "notebooks"

TIME = re.compile(r"\d\s*(h|hours?|days?)\b")
LEVEL = re.compile(r"(\d+)\s*°C")
WAITS = re.compile(r"\b(cool\w*|draw cold|drawn|reach(es)? in)\b", re.IGNORECASE)
BLOCK = re.compile(r"</?(?:tr|li|p|h\d|dt|dd)\b[^>]*>")


@pytest.fixture(scope="module")
def plan(tmp_path_factory):
    record = Record.load(tmp_path_factory.mktemp("record") / "my_kiln.toml")
    record.keep("kiln", stone="250 kg", largest_stone="80 mm", smallest_stone="60 mm", chimney_height="4 m")
    return Plan.of(record, example_path("trial_example.csv"))


@pytest.fixture(scope="module")
def pages(plan):
    return {
        "design": design_sheet(plan.plain.design),
        "plan": plan.sheet().html,
        "stokers": the_firing.watches(plan).html,
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
    assert any(name == "plan" and said.startswith("Cooling, closed") for name, said in waits)
    for name, said in waits:
        assert all(float(level) <= safe for level in LEVEL.findall(said)), (name, said)


def text(key):
    return caution_table()[key].text


def notebook(slug):
    return (NOTEBOOKS / lesson(slug).file).read_text(encoding="utf-8")


def test_no_caution_brings_water_to_quicklime():
    dust = text("lime_dust")
    assert "no dry sweeping, and no water near the lime" in dust
    assert "FFP3" in dust
    for one in caution_table().values():
        assert "amp the floor" not in one.text, one.key
    assert "Sand, not water" in text("fire")
    assert "no water" in text("storing_lime")


def test_a_trial_piece_is_slaked_in_plenty_of_water_wherever_it_is_said():
    assert "into plenty of water" in notebook("your_trial_burn")
    assert "powder in plenty of water" in sheet("trial")
    assert "little water" not in sheet("trial")


def test_a_fire_is_outdoors_or_in_a_stove_with_flue_and_alarm():
    for said in (CAUTION, text("carbon_monoxide")):
        assert re.search(r"outdoors, or (in )?a stove with a sound flue and (an|a carbon monoxide) alarm", said, re.I)
    assert "strong draught" not in CAUTION


def test_the_mouth_closes_before_the_eyes_everywhere():
    assert text("closing").index("close the mouth first") < text("closing").index("then the eyes")
    assert re.search(r"flames die.*close the mouth and then the eyes", WAYS["stop"])
    steps = {"draught": "mouth closes first", "the_firing": "close the mouth first", "burn_day": "close the mouth"}
    for slug, words in steps.items():
        said = " ".join("".join(cell["source"]) for cell in json.loads(notebook(slug))["cells"])
        assert words in said
        assert "shut mouth and eyes" not in said


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("carrying_lime", "closed, dry tins"),
        ("storing_lime", "nothing that burns beside them"),
        ("children", "fence it and cover it"),
        ("gas_signs", "Headache, dizziness, sickness"),
        ("gas_signs", "fresh air at once"),
        ("carbon_monoxide", "does not see the other"),
        ("quicklime_skin", "whatever is soaked"),
        ("quicklime_skin", "goes to a doctor"),
        ("electrics", "exhaust is carbon monoxide"),
        ("electrics", "dry hands only"),
        ("aluminium", "hydrogen"),
        ("drums", "oil or fuel"),
        ("collapse", "Nobody stands on or in a charge"),
        ("collapse", "firm ground"),
    ],
)
def test_what_hurts_is_warned_of(key, words):
    assert words in text(key)


STEPS = {
    "your_trial_burn": "gas_signs",
    "first_kiln": "long_fire",
    "draught": "closing",
    "the_firing": "gas_signs long_fire closing collapse",
    "burn_day": "gas_signs long_fire closing",
    "draw_and_sort": "storing_lime carrying_lime children",
    "slake": "children aluminium drums",
    "putty_and_mortar": "children",
    "the_whole_design": "long_fire",
    "the_workshop": "carrying_lime electrics long_fire",
}


@pytest.mark.parametrize("slug", STEPS)
def test_each_caution_stands_at_its_step(slug):
    shown = set()
    for cell in json.loads(notebook(slug))["cells"]:
        if cell["cell_type"] == "code":
            for node in ast.walk(ast.parse("".join(cell["source"]))):
                if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "cautions":
                    shown |= {word.value for word in node.args}
    assert set(STEPS[slug].split()) <= shown


def test_the_blank_logs_warn_of_their_work():
    assert {"carbon_monoxide", "gas_signs", "closing", "long_fire", "collapse", "fire"} <= set(
        FORMS["burn log"].cautions
    )
    assert {"boil_over", "quicklime_eyes", "lime_dust"} <= set(FORMS["slaking charges"].cautions)
    assert all(form.cautions for form in FORMS.values())


def test_a_long_fire_takes_more_than_two_and_it_is_said_where_turns_are_planned(pages):
    said = text("long_fire")
    most, rest, turn = (fact(key) / HOUR for key in ("watch_stretch_most", "watch_rest_least", "watch_time"))
    for words in (f"more than {most:.0f} hours", f"{rest:.0f} hours of rest", f"turns of {turn:.0f} hours"):
        assert words in said
    for hours in (25, 35, 46):
        assert f"{people_to_watch.plain(hours * HOUR)} people at the least" in said
        with pytest.raises(InputError, match="people"):
            watches("2028-03-04 06:00", f"{hours} h", ["Ash", "Fern"])
        enough = [f"person {number}" for number in range(people_to_watch.plain(hours * HOUR))]
        assert watches.plain("2028-03-04 06:00", hours * HOUR, enough).turns
    assert "so that everybody sleeps" in pages["plan"]
    assert "Two people cannot watch a fire of up to" in pages["design"]


def test_turns_longer_than_anybody_may_stay_are_refused():
    with pytest.raises(InputError, match="watch_time"):
        people_to_watch("25 h", watch_time="13 h")


def test_a_poster_says_cautions_that_are_known():
    for row in tables.rows("poster"):
        assert row["caution"] in caution_table(), row["what"]
    assert "20 minutes" in caution_table()["quicklime_eyes"].text
    assert "20 minutes" in poster_words()["Eye"]
