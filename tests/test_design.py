import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limekit import InputError, Plan, burning_time, design_kiln, fact, fire_kiln, mass_balance, size_kiln
from limekit.course.lessons import first_kiln
from limekit.estimate import Span
from limekit.kiln.keeping import usual_stoking_rate
from limekit.units import HOUR

SPANS = (
    "stone", "kiln_diameter", "kiln_height", "heat_up_time", "burning_time", "soak_time", "firing_time",
    "cooling_time", "fuel_rate", "quicklime", "drawn", "putty_volume", "sinking",
)  # fmt: skip


@settings(max_examples=25, deadline=None)
@given(st.floats(220, 20_000), st.floats(0.03, 0.1), st.floats(0.6, 1.0), st.floats(0.5, 1.0))
def test_every_headline_lies_between_its_ends(stone, largest, calcium, conversion):
    design = design_kiln.plain(stone=stone, largest_stone=largest, calcium_carbonate=calcium, conversion=conversion)
    for name in SPANS:
        span = getattr(design, name)
        assert 0 < span.low <= span.middle <= span.high, name


@settings(max_examples=25, deadline=None)
@given(st.floats(0.25, 8), st.floats(0, 0.1))
def test_from_putty_to_stone_and_back(putty_volume, stone_moisture):
    design = design_kiln.plain(putty_volume=putty_volume, stone_moisture=stone_moisture)
    assert design.putty_volume.middle == pytest.approx(putty_volume)
    assert design.balance.putty_volume == pytest.approx(putty_volume)
    assert design.size.stone == pytest.approx(design.stone.middle)
    worst = mass_balance.plain(design.stone.high, 0.97, fact("flare_conversion").low, stone_moisture=stone_moisture)
    assert worst.putty_volume == pytest.approx(putty_volume)


def test_hours_by_rule_are_heating_burning_and_soak():
    design = design_kiln.plain(stone=500.0)
    parts = (design.heat_up_time, design.burning_time, design.soak_time)
    assert design.rule_time.middle == pytest.approx(sum(part.middle for part in parts))
    assert design.rule_time.low == pytest.approx(sum(part.low for part in parts))
    one = burning_time.plain(0.08, 1273.15, conversion=0.95)
    assert design.burning_time == Span(one, pytest.approx(0.65 * one), pytest.approx(1.35 * one))


def test_a_trial_narrows_the_hours():
    loose = design_kiln.plain(stone=2000.0, largest_stone=0.12, chimney_height=3.0)
    trial = {"burning_time": loose.burning_time.middle, "burning_time_low": 0.9 * loose.burning_time.middle}
    close = design_kiln.plain(stone=2000.0, largest_stone=0.12, chimney_height=3.0, burning_time_spread=0.1, **trial)
    assert close.burning_time.high - close.burning_time.low < loose.burning_time.high - loose.burning_time.low
    assert close.rule_time.middle == pytest.approx(loose.rule_time.middle)
    assert close.rule_time.high < loose.rule_time.high


def test_fuel_rate_times_hours_is_the_fuel():
    design = design_kiln.plain(stone=800.0)
    assert design.fuel_rate.middle * design.firing_time.middle == pytest.approx(design.fuel_mass.middle)


def test_a_design_and_the_firing_of_it_say_one_number():
    told = {"fuel_moisture": 0.25, "stoking_rate": 20.0 / 3600.0}
    design = design_kiln.plain(stone=800.0, laid="with flues", chimney_height=2.0, wall_kind="rubble", **told)
    firing = fire_kiln.plain(design, conversion=design.firing.plan.fire.conversion, **told)
    assert design.firing_time == firing.hours
    assert design.fuel_mass == firing.fuel
    assert design.firing.quicklime == pytest.approx(firing.quicklime)
    never = design_kiln.plain(stone=800.0, excess_air=6.0)
    assert never.firing.finish is None
    assert any("never done" in caution for caution in never.cautions)


def test_what_sets_the_pace_is_said_and_a_chimney_lifts_the_draught():
    short = design_kiln.plain(stone=500.0)
    assert "draught" in [limit.name for limit in short.firing.limits]
    tall = design_kiln.plain(stone=500.0, chimney_height=4.0)
    assert tall.firing_time.middle < short.firing_time.middle
    assert tall.fuel_rate.middle > short.fuel_rate.middle


def test_the_size_is_the_one_that_sizing_gives_and_its_ends_hold_other_builders():
    design = design_kiln.plain(stone=500.0, largest_stone=0.06)
    assert design.size.kiln_diameter == pytest.approx(design.kiln_diameter.middle)
    assert design.size.kiln_height == pytest.approx(design.kiln_height.middle)
    for density in (1300.0, 1500.0):
        for proportion in (1.2, 1.6):
            other = size_kiln.plain(500.0, 0.06, height_to_diameter=proportion, charge_density=density)
            assert design.kiln_diameter.low - 1e-9 <= other.kiln_diameter <= design.kiln_diameter.high + 1e-9
            assert design.kiln_height.low - 1e-9 <= other.kiln_height <= design.kiln_height.high + 1e-9


def test_larger_stone_takes_longer_and_hotter_gas_less():
    def hours(**changes):
        return design_kiln.plain(**{"stone": 2000.0, "largest_stone": 0.1} | changes).firing_time.middle

    assert hours(stone=4000.0) > hours()

    def rule(**changes):
        return design_kiln.plain(**{"stone": 2000.0, "largest_stone": 0.1} | changes).rule_time.middle

    assert rule(largest_stone=0.15) > rule() > rule(gas_temperature=1373.15)


def test_wetter_wood_and_better_kilns_change_only_the_fuel():
    usual, wet, better = (
        design_kiln.plain(stone=500.0, **change) for change in ({}, {"fuel_moisture": 0.4}, {"efficiency": 0.25})
    )
    assert better.demand.fuel_mass.middle < usual.demand.fuel_mass.middle < wet.demand.fuel_mass.middle
    assert wet.size == usual.size == better.size


def test_the_sheet_s_rows_read_the_same_from_floats_and_quantities():
    rows = design_kiln(stone="500 kg").rows()
    assert rows == design_kiln.plain(stone=500.0).rows()
    assert len({row.label for row in rows}) == len(rows)
    assert all(row.value and row.rests_on for row in rows)
    said = {row.label: row for row in rows}
    assert said["Stone to charge"].spread == "as given"
    assert said["Kiln, inside diameter"].value == "0.69 m"
    assert said["Fuel: oak wood"].spread.endswith("kg")


def test_a_design_says_what_it_rests_on():
    names = {ground.name: ground.kind for ground in design_kiln(stone="500 kg", largest_stone="80 mm").basis}
    assert names["stone"] == names["largest_stone"] == "given"
    assert names["flare charge density"] == "published"
    assert {"putty_density", "moisture of the fuel", "gas_temperature", "flare efficiency"} <= names.keys()


@pytest.mark.parametrize(
    ("given", "fault"),
    [
        ({}, "neither"),
        ({"stone": "500 kg", "putty_volume": "300 L"}, "both"),
        ({"stone": "500 kg", "gas_temperature": "800 degC"}, "never burns"),
        ({"stone": "500 kg", "gas_temperature": "500 degC", "burning_time": "5 h"}, "never burns"),
        (
            {"stone": "500 kg", "gas_temperature": "850 degC", "co2_fraction": 0.9, "burning_time": "5 h"},
            "never burns",
        ),
        ({"putty_volume": "30 L"}, "as wide as a firing mouth"),
        (
            {"stone": "500 kg", "burning_time": "9 h", "burning_time_low": "3 h", "burning_time_high": "6 h"},
            "9 h outside 3 to 6",
        ),
        ({"stone": "500 kg", "calcium_carbonate": 0.8, "magnesium_carbonate": 0.4}, "1.2 of the dry stone"),
        ({"stone": "500 kg", "fuel_moisture": 0.68}, "keeps no fire"),
    ],
)
def test_what_cannot_be_designed_is_refused(given, fault):
    with pytest.raises(InputError, match=fault):
        design_kiln(**given)


def test_the_sheet_tells_vault_mouths_and_wall_in_millimetres_and_metres():
    design = design_kiln(stone="2 tonne", largest_stone="100 mm")
    size, rows = design.size, {row.label: row.value for row in design.rows()}

    def figures(text):
        return [float(word.strip(",")) for word in text.split() if word.strip(",").replace(".", "").isdigit()]

    wide, high = figures(rows["Fire vault of stone"])
    assert wide == pytest.approx(size.vault_span.to("m").magnitude, rel=0.02)
    assert high == pytest.approx(size.vault_height.to("m").magnitude, rel=0.02)
    eyes, across, up = figures(rows["Draw eyes, each with a slab"])
    assert eyes == size.draw_eyes
    assert across == up


def test_lime_and_putty_say_how_far_the_stone_may_have_burnt():
    said = {row.label: row for row in design_kiln(stone="500 kg", largest_stone="80 mm").rows()}
    burnt = fact("flare_conversion")
    for label in ("Drawn from the kiln", "Quicklime in it", "Putty"):
        assert said[label].rests_on.startswith(f"{100 * burnt.low:.0f} to {100 * burnt.high:.0f} % burnt")


def test_a_first_kilns_hours_say_for_which_feeding_their_range_is_and_what_it_is_for_any_other():
    plan, usual = Plan.of().plain, usual_stoking_rate(800.0)
    told, untold = (first_kiln.words(one) for one in (plan.but(stoking_rate=usual), plan))
    others = re.search(r" h of firing \(([\d.]+ to \d+) h\)", untold)[1]
    assert f" if up to {usual * HOUR:.0f} kg/h are fed, else {others})" in told
    narrow = re.search(r" h of firing \(([\d.]+) to (\d+)", told)
    low, high = map(float, others.split(" to "))
    assert low < float(narrow[1]) < float(narrow[2]) < high
