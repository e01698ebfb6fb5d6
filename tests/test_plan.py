"""One plan: every part moves with the decisions it claims to rest on and with no other, and says one thing."""

import dataclasses
import tomllib

import numpy as np
import pytest

from limekit import InputError, Plan, Record, example_path, read_slaking_log
from limekit.edge import plain
from limekit.facts import fact
from limekit.kiln.kiln import Kiln
from limekit.plan.decisions import FUEL, OWN_BURNS, SECTIONS
from limekit.plan.figures import TOLD
from limekit.plan.plan import EXAMPLES, KITS, YOURS
from limekit.plan.worked import RESTS_ON
from limekit.records.kiln_keys import EITHER

TRIAL, LOG = example_path("trial_example.csv"), example_path("slaking_log_example.csv")
OWN = {
    "stone": "300 kg",
    "chimney_height": "3 m",
    "calcium_carbonate": 0.9,
    "magnesium_carbonate": 0.015,
    "clay": 0.02,
}
PUTTY = {"stone": None, "putty_volume": "300 L"}
STANDS = {"stone": None, "kiln_diameter": "0.7 m", "kiln_height": "0.9 m"}
UNTRIED = {"trial": None}
MOVES = {  # by key: what it is changed to, and what the plan starts from besides, in one case or in two
    "calcium_carbonate": (0.93, {}),
    "magnesium_carbonate": (0.03, {}),
    "clay": (0.07, {}, PUTTY),
    "stone_moisture": (0.03, {}),
    "loss_on_ignition": (0.38, {}),
    "density": ("2400 kg/m^3", {}),
    "reaction_coefficient": ("0.003 m/s", UNTRIED),
    "lime_conductivity": ("0.5 W/m/K", UNTRIED),
    "fire_temperature": ("1000 degC", {}),
    "gas_temperature": ("1050 degC", {}),
    "co2_fraction": (0.2, {}),
    "conversion": (0.9, {}, PUTTY),
    "air_temperature": ("0 degC", {}),
    "stone": ("200 kg", {}),
    "kiln_diameter": ("0.8 m", STANDS),
    "kiln_height": ("1 m", STANDS),
    "height_to_diameter": (1.2, {}),
    "largest_stone": ("70 mm", {}),
    "smallest_stone": ("60 mm", {}),
    "chimney_height": ("1 m", {}),
    "altitude": ("1500 m", {}),
    "laid": ("with flues", {}),
    "wall_kind": ("rubble", {}),
    "cover": ("slabs", {}),
    "fuel_moisture": (0.3, {}),
    "excess_air": (0.8, {}),
    "stoking_rate": ("8 kg/h", {}),
    "available_lime": (0.8, {}),
    "putty_volume": ("200 L", {}),
    "putty_density": ("1.3 kg/L", {}, PUTTY),
    "putty_in_tank": ("100 L", {}),
    "wanted_on": ("2029-06-03", {}),
    "fuel_mass": ("900 kg", {}),
    "helpers": (1, {}),
    FUEL: ("pine", {}),
}
SELDOM = {"magnesium_carbonate": {"putty", "mortar"}}  # only where it decides how the lime is kept
COARSE = {"people", "calendar", "kiln", "verdict"}  # counted in turns, days or words, so that little moves nothing
FIGURES = {"kiln": ["kiln_diameter", "kiln_height", "hearth_height", "bed_height"]}


def plan(tmp_path, besides=None, **changed):
    """Make the plan of a record in which all that is told is a person's own."""
    told = {"trial": TRIAL, **OWN, **(besides or {}), **changed}
    trial, record = told.pop("trial"), Record.load(tmp_path / "none.toml")
    for name, value in told.items():
        if value is not None:
            where = {"name": value} if name == FUEL else {name: value}
            record.keep(SECTIONS.get(name, FUEL), **where)
    return Plan.of(record, trial, LOG)


NOT_FIGURES = ("basis", "source", "burn")  # the last is a firing's whole workshop, with room it has not used


def same(one, other) -> bool:
    """Whether two parts say the same to twelve digits."""
    if dataclasses.is_dataclass(one):
        fields = [field.name for field in dataclasses.fields(one) if field.name not in NOT_FIGURES]
        return type(one) is type(other) and all(same(getattr(one, name), getattr(other, name)) for name in fields)
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list | tuple):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, np.ndarray):
        return one.shape == np.shape(other) and np.allclose(one, other, rtol=1e-12, equal_nan=True)
    if isinstance(one, float) and isinstance(other, float):
        return one == pytest.approx(other, rel=1e-12, nan_ok=True)
    if hasattr(one, "__dict__") and type(one).__eq__ is object.__eq__:
        return type(one) is type(other) and (callable(one) or same(vars(one), vars(other)))
    return one == other


def test_every_key_of_the_record_is_tried():
    assert set(MOVES) == {*SECTIONS, FUEL}
    assert {name for keys in RESTS_ON.values() for name in keys} <= {
        *MOVES,
        OWN_BURNS,
    }  # burns: tests/test_own_burns.py


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    known = {}

    def make(besides, **changed):
        key = repr((besides, changed))
        if key not in known:
            known[key] = plan(tmp_path_factory.mktemp("record"), besides, **changed)
        return known[key]

    return make


@pytest.mark.parametrize("name", MOVES)
def test_what_claims_to_rest_on_a_decision_moves_with_it_and_nothing_else_does(name, made):
    (value, *cases), moved = MOVES[name], set()
    for besides in cases:
        before, after = made(besides).plain, made(besides, **{name: value}).plain
        moved |= {part for part in RESTS_ON if not same(getattr(before, part), getattr(after, part))}
    claims = {part for part, keys in RESTS_ON.items() if name in keys}
    assert moved <= claims
    assert claims - COARSE - SELDOM.get(name, set()) <= moved


@pytest.mark.parametrize("name", MOVES)
def test_changing_a_plan_is_keeping_the_change(name, made):
    value, *_, besides = MOVES[name]
    changed, kept = made(besides).with_(**{name: value}), made(besides, **{name: value})
    assert all(same(getattr(changed.plain, part), getattr(kept.plain, part)) for part in RESTS_ON)
    assert changed.figures == kept.figures
    assert changed.whose(name) == YOURS


def test_what_is_kept_gives_the_same_figures_when_it_is_opened_again(tmp_path):
    own = plan(tmp_path, FUEL_AND_ALL)
    own.record.save(tmp_path / "my_kiln.toml")
    again = Plan.of(tmp_path / "my_kiln.toml", TRIAL, LOG)
    assert again.figures == own.figures
    assert again.rests_on("calendar") == own.rests_on("calendar")


FUEL_AND_ALL = {FUEL: "beech, split", "helpers": 2, "altitude": "900 m", "putty_volume": "400 L", "stone": None}
RESULTS = """
[kiln]
stone = "300 kg"
efficiency = 0.31
[burn]
burning_time = "2 h"
[fuel]
fuel_mass = "90 kg"
[trial]
gas_temperature = "1190 degC"
"""


def test_an_older_record_s_results_change_nothing_and_are_told_beside_todays(tmp_path):
    path = tmp_path / "my_kiln.toml"
    path.write_text(RESULTS)
    old, today = Plan.of(path, TRIAL), Plan.of(Record.load(tmp_path / "new.toml").keep("kiln", stone="300 kg"), TRIAL)
    assert old.figures == today.figures
    for words in ("0.31", "2 h", "90 kg", "1190 degC"):
        assert any(words in remark for remark in old.remarks)
    old.record.keep("kiln", altitude="0 m").save()
    assert tomllib.loads(path.read_text()) == {
        "kiln": {"stone": "300 kg", "altitude": "0 m"},
        "burn": {},
        "fuel": {},
        "trial": {},
    }


TWICE = {
    "putty_volume": '"300 L"',
    "stone": '"400 kg"',
    "fire_temperature": '"1020 degC"',
    "excess_air": "0.9",
    "height_to_diameter": "1.3",
    "kiln_height": '"1.3 m"',
    "kiln_diameter": '"0.9 m"',
}


@pytest.mark.parametrize("pair", EITHER)
def test_two_answers_to_one_question_are_said_and_one_is_heeded(pair, tmp_path):
    path = tmp_path / "my_kiln.toml"

    def written(*names):
        by = {section: [name for name in names if SECTIONS[name] == section] for section in map(SECTIONS.get, names)}
        lines = (line for section, own in by.items() for line in (f"[{section}]", *(f"{n} = {TWICE[n]}" for n in own)))
        path.write_text("\n".join(lines))
        return Plan.of(path)

    heeded = ("kiln_height", "kiln_diameter") if pair[1] in ("kiln_height", "kiln_diameter") else pair[1:]
    both, one = written(pair[0], *heeded), written(*heeded)
    assert both.figures == one.figures
    assert not one.remarks
    assert "decide one thing" in " ".join(both.remarks)


def test_a_loss_that_does_not_fit_the_carbonates_is_said(tmp_path):
    told = "does not fit the carbonates"
    assert told in " ".join(plan(tmp_path, loss_on_ignition=0.36).remarks)
    assert told not in " ".join(plan(tmp_path, loss_on_ignition=0.404).remarks)


def test_comparing_says_what_changed_and_by_how_much(made):
    one = made({})
    other = one.with_(largest_stone="110 mm", helpers=1)
    found = one.against(other)
    assert any("largest stone 80 mm → 110 mm" in said for said in found.decided)
    rows = {what: (before, after, by) for what, before, after, by in found.rows}
    hours, after = one.figures["hours"], other.figures["hours"]
    assert rows[hours.label][:2] == (hours.words, after.words)
    assert float(rows[hours.label][2].split()[0]) == pytest.approx(after.middle - hours.middle, rel=0.01)
    assert rows[hours.label][2].startswith("+")
    assert TOLD["quicklime"].label not in rows, "the same charge gives the same lime"
    assert str(one.against(one)) == "nothing changed"


def test_a_figure_knows_whose_it_is(tmp_path):
    own = plan(tmp_path)
    assert (own.whose("clay"), own.whose("fuel_moisture"), own.whose("wall_kind")) == (YOURS, EXAMPLES, KITS)
    assert {YOURS, EXAMPLES, KITS} == {whose for *_, whose in own.rests_on("firing")}


def test_the_fuel_is_the_one_the_words_name(tmp_path):
    for words, fuel in (("red oak, split", "oak"), ("Scots PINE slabs", "pine"), ("hazel and thorn", "hardwood")):
        own = plan(tmp_path, **{FUEL: words})
        assert own.fuel.kind == fuel
        assert any("no analysis of" in said for said in own.remarks) == (fuel == "hardwood")


def test_pieces_of_a_trial_are_read_as_dry_whatever_the_quarry_holds(tmp_path):
    own = plan(tmp_path, stone_moisture=0.2).plain
    assert (own.tried.stone.calcium_carbonate, own.tried.stone.magnesium_carbonate) == (0.9, 0.015)
    assert own.tried.stone.stone_moisture == fact("stone_moisture")
    assert own.stone.stone_moisture == 0.2


def test_the_largest_stone_s_hours_are_the_trial_s_and_without_one_the_published(tmp_path):
    for trial in (TRIAL, None):
        own = plan(tmp_path, trial=trial).plain
        gas = own.decided.get("gas_temperature"), own.decided.get("co2_fraction"), own.fire.conversion
        hours = own.heard.forecast.plain(own.heard, own.kiln.largest_stone, *gas)
        told = own.design.burning_time
        assert (told.middle, told.low, told.high) == pytest.approx((hours.median, hours.low, hours.high))
        assert (own.heard is own.assessment) == (trial is not None)


def test_a_fire_too_cold_for_its_gas_is_refused(tmp_path):
    cold = plan(tmp_path, gas_temperature="850 degC", co2_fraction=0.8)
    with pytest.raises(InputError, match="never burns"):
        repr(cold.design)


def test_a_kiln_that_stands_has_its_own_proportions_and_is_filled(tmp_path):
    own = plan(tmp_path, STANDS).plain
    assert own.kiln.height_to_diameter == pytest.approx(0.9 / 0.7)
    room = np.pi / 4 * 0.7**2 * 0.9
    assert own.stone.mass == pytest.approx(fact("flare_charge_density") * room)
    assert isinstance(own.kiln, Kiln)


@pytest.mark.parametrize("wrong", [{"altitud": "5 m"}, {"helpers": 2.5}, {"wanted_on": "soon"}, {"laid": "thrown"}])
def test_a_change_that_cannot_be_read_is_refused_by_name(made, wrong):
    with pytest.raises(InputError, match=next(iter(wrong))):
        made({}).with_(**wrong)


def test_a_slaking_log_is_read_or_taken_as_it_was_read():
    log = read_slaking_log(LOG)
    by_path, by_log = Plan.of(slaking_log=LOG), Plan.of(slaking_log=log)
    assert plain(by_path.lime.reactivity).time_to_60 == plain(by_log.lime.reactivity).time_to_60
    assert Plan.of().lime.reactivity is None
